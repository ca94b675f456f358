"""What goes into one kit, by the way in which kits are made: whole cloth, strips, or pieces that are cut."""

from ..buying.bolt import bought, cut_from
from ..buying.demands import Pieces
from ..buying.fat_quarters import quarters_for
from ..buying.reading import Fabric
from .strips import piles, strips_of

MADE_AS = ("whole", "strips", "pieces")


def contents(fabric: Fabric, made_as: str) -> list[dict]:
    """The lines of a kit's label for one fabric; none where nothing is needed of it.

    A line is a `length` off the bolt as the shop measures it, `quarters` (fat quarters), `strips` of a `size` with what
    they give, a full-width length of an `id` (`panel`), or `pieces` of an `id`.

    >>> from fractions import Fraction
    >>> from matside.buying.bolt import Bolt
    >>> from matside.buying.fat_quarters import FatQuarter
    >>> from matside.shapes import Diamond
    >>> wanted = (Pieces("d", Diamond(Fraction(27, 8), Fraction(52)), 19),)
    >>> rose = Fabric("rose", Bolt(Fraction(38)), "bolt", FatQuarter(Fraction(17), Fraction(21)), None, wanted)
    >>> contents(rose, "whole"), contents(rose, "pieces")
    ([{'length': Fraction(27, 2)}], [{'pieces': 19, 'id': 'd'}])
    """
    if made_as == "whole":
        return _whole(fabric)
    panels = [{"panel": length, "id": name, "times": times} for name, length, times in _cut(fabric).lengths]
    if made_as == "strips":
        return [*piles(strips_of(fabric)), *panels]
    joined = [strip for strip in strips_of(fabric) if strip.joined]
    pieces = [
        {"pieces": demand.need, "id": demand.id}
        for demand in fabric.demands
        if isinstance(demand, Pieces) and demand.need and demand.id not in _joined_ids(fabric)
    ]
    return [*pieces, *piles(joined), *panels]


def _whole(fabric: Fabric) -> list[dict]:
    if fabric.sold == "fat_quarter":
        count = quarters_for(list(fabric.demands), fabric.quarter).count
        return [{"quarters": count}] if count else []
    _, length = bought(_cut(fabric), fabric.bolt)
    return [{"length": length}] if length else []


def _cut(fabric: Fabric):
    return cut_from(list(fabric.demands), fabric.bolt)


def _joined_ids(fabric: Fabric) -> set[str]:
    """Pieces that are longer than the cloth is wide come as strips, to be joined first."""
    return {name for strips in _cut(fabric).strips if strips.joined for name, _ in strips.gives}
