"""Borders round the patchwork, from the inside out, in finished measures."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ...errors import Refusal
from ...shapes import Outline
from ...units import LONGEST
from ..outlines.polygons import box_outline
from ..settings.patchwork import Patch, Patchwork

CORNERS = ("butted", "mitered")
#: Which way of the cloth all strips of a border are cut; any mixes them where that saves cloth.
BORDER_GRAINS = ("any", "lengthwise", "crosswise")
#: How much longer each end of a mitered strip is cut, in inches. Common practice, no published source.
DEFAULT_EXTRA = Fraction(2)


@dataclass(frozen=True, slots=True)
class Border:
    """A border by its finished width in inches, the fabric's number, how its corners are sewn, and how much longer each
    end of a mitered strip is cut, to be trimmed when the corner is sewn; `grain` is that of all its strips."""

    width: Fraction
    fabric: int = 0
    corners: str = "butted"
    extra: Fraction = DEFAULT_EXTRA
    grain: str = "any"


def taken_by(borders: Sequence[Border]) -> Fraction:
    """What the borders take of the width, and as much of the height.

    >>> taken_by([Border(Fraction(1)), Border(Fraction(4))])
    Fraction(10, 1)
    """
    return 2 * sum((border.width for border in borders), Fraction(0))


def bordered_size(width: float, height: float, borders: Sequence[Border]) -> tuple[float, float]:
    """Finished width and height with the borders round it; refused above the largest length there is.

    >>> bordered_size(40, 50, [Border(Fraction(1)), Border(Fraction(4))])
    (50.0, 60.0)
    """
    taken = float(taken_by(borders))
    if max(width, height) + taken > LONGEST:
        raise Refusal("borders", "quilt_too_large", given=round(max(width, height) + taken), most=int(LONGEST))
    return width + taken, height + taken


def bordered(width: float, height: float, borders: Sequence[Border]) -> list[Patchwork]:
    """Each border as four patches in the coordinates of the finished quilt, whose top left corner is (0, 0).

    Butted: the sides first, as long as what they go round, then top and bottom over their ends.
    Mitered: all four end at 45°.

    >>> [sorted(ring.counts().items()) for ring in bordered(40, 50, [Border(Fraction(4))])]
    [[('border_end', 2), ('border_side', 2)]]
    """
    outer, rings = bordered_size(width, height, borders), []
    inset = float(taken_by(borders)) / 2
    for border in borders:
        inset -= float(border.width)
        box = (inset, inset, outer[0] - inset, outer[1] - inset)
        rings.append(_ring(outer, (_mitered if border.corners == "mitered" else _butted)(box, float(border.width))))
    return rings


def frame(width: float, height: float, beyond: float, wide: float) -> Patchwork:
    """Four mitered patches round the finished quilt, so far beyond its edge and so wide: how the binding shows."""
    box = (-beyond, -beyond, width + beyond, height + beyond)
    ring = _ring((width, height), _mitered(box, wide))
    return Patchwork(
        width, height, ring.shapes, ring.cells, tuple(patch._replace(kind="binding") for patch in ring.patches)
    )


def _ring(outer: tuple[float, float], outlines: list[tuple[str, Outline]]) -> Patchwork:
    shapes = tuple(outline for _, outline in outlines)
    patches = tuple(Patch(kind, number, 0.0, 0.0, 0, 0) for number, (kind, _) in enumerate(outlines))
    return Patchwork(*outer, shapes, shapes, patches)


def _butted(box: tuple[float, float, float, float], wide: float) -> list[tuple[str, Outline]]:
    left, top, right, bottom = box
    return [
        ("border_side", box_outline((left, top + wide, left + wide, bottom - wide))),
        ("border_side", box_outline((right - wide, top + wide, right, bottom - wide))),
        ("border_end", box_outline((left, top, right, top + wide))),
        ("border_end", box_outline((left, bottom - wide, right, bottom))),
    ]


def _mitered(box: tuple[float, float, float, float], wide: float) -> list[tuple[str, Outline]]:
    outer, inner = box_outline(box), box_outline((box[0] + wide, box[1] + wide, box[2] - wide, box[3] - wide))
    sides = [(outer[k], outer[(k + 1) % 4], inner[(k + 1) % 4], inner[k]) for k in range(4)]
    kinds = ("border_end", "border_side", "border_end", "border_side")
    return list(zip(kinds, sides, strict=True))
