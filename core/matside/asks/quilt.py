"""The ask `quilt`: how many of what, how each is cut, and a drawing of it, for a whole quilt."""

from fractions import Fraction

from ..fields import Fields
from ..pieces import MEASURES
from ..quilt.around.binding import BINDING_FOLDS, BINDING_GRAINS, JOINS
from ..quilt.around.borders import BORDER_GRAINS, CORNERS
from ..quilt.fabrics.colours import WAYS
from ..quilt.fabrics.offered import OFFERED
from ..quilt.geometry import edges_of
from ..quilt.reading import ANGLES, ORIENTATIONS, SASHED, SETTINGS, read_quilt
from ..quilt.settings.sashing import STYLES
from ..quilt.settings.stars import JOINED_BY
from ..quilt.size.fitting import FITS
from ..quilt.size.sizes import DEFAULT_DROP, SIZES, UsualSize
from ..quilt.whole import described


def answer(request: dict) -> dict:
    """Counts, finished size, cut sizes, counts per fabric, sewing facts and the drawing; see `quilt.whole`."""
    return described(read_quilt(Fields(request)))


def answer_sizes(request: dict) -> dict:
    """The ask `quilt_sizes`: usual sizes to start from, with their source; `hung` is the
    quilt's with the `drop` over a bed.
    """
    drop = Fields(request).length_or_zero("drop", DEFAULT_DROP)
    return {"drop": drop, "sizes": [_size(size, drop) for size in SIZES.values()]}


def _size(size: UsualSize, drop: Fraction) -> dict:
    width, height = size.with_drop(drop)
    found = {"code": size.code, "width": size.width, "height": size.height, "bed": size.bed, "source": size.source}
    return {**found, "hung": {"width": width, "height": height}}


def answer_choices(request: dict) -> dict:
    """The ask `quilt_choices`: what can be chosen for a quilt.

    A setting lists the edges it can have, the one angle it is possible with (None: any), whether it can have sashing,
    what its units may be `joined_by`,
    the `colorings` that mean something in it, each with the code of its name and what its first fabrics are for, and
    the placing to `start` with: whether `rest` and `joining` are then of a fabric that the stars or rows have not."""
    return {
        "settings": [
            {
                "code": code,
                "angle": ANGLES.get(code),
                "edges": edges_of(code),
                "sashing": code in SASHED,
                "joined_by": JOINED_BY if code == "stars" else (),
                **OFFERED[code].told(),
            }
            for code in SETTINGS
        ],
        "measures": MEASURES,
        "orientations": ORIENTATIONS,
        "joined_by": JOINED_BY,
        "fits": FITS,
        "sash_styles": STYLES,
        "border_corners": CORNERS,
        "border_grains": BORDER_GRAINS,
        "binding": {"folds": tuple(BINDING_FOLDS), "grains": BINDING_GRAINS, "joins": JOINS},
        "colourings": WAYS,
    }
