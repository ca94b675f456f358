"""The ask `quilt`: how many of what, how each is cut, and a drawing of it, for a whole quilt."""

from ..fields import Fields
from ..quilt.reading import read_quilt
from ..quilt.sizes import DEFAULT_DROP, SIZES
from ..quilt.whole import described


def answer(request: dict) -> dict:
    """Counts, finished size, cut sizes, counts per fabric, sewing facts and the drawing; see `quilt.whole`."""
    return described(read_quilt(Fields(request)))


def answer_sizes(request: dict) -> dict:
    """The ask `quilt_sizes`: usual sizes to start from, with their source, and the drop of a bed's quilt, all to be changed."""
    return {
        "drop": DEFAULT_DROP,
        "sizes": [
            {"code": size.code, "width": size.width, "height": size.height, "bed": size.bed, "source": size.source}
            for size in SIZES.values()
        ],
    }
