"""All that is cut of every fabric, strip by strip, and strips dealt out to weeks or to people."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..buying.bolt import Bolt, cut_from
from ..buying.demands import Demand, Pieces, times
from ..buying.reading import Fabric


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of a fabric: its width, and the pieces that come of it by their ids; a
    `joined` strip gives none by itself.
    """

    fabric: str
    size: Fraction
    gives: tuple[tuple[str, int], ...]
    joined: bool = False


def strips_of(fabric: Fabric, count: int = 1) -> list[Strip]:
    """The strips for so many alike quilts together: those for pieces first, then those that are joined for longer ones.

    Each gives what is wanted of it and no more. Strips of a fabric that is sold as fat quarters are as long as these
    are wide. What needs whole widths of the cloth, such as a backing, has no strips.

    >>> from matside.shapes import Diamond
    >>> from matside.buying.fat_quarters import FatQuarter
    >>> wanted = (Pieces("d", Diamond(Fraction(27, 8), Fraction(52)), 19),)
    >>> rose = Fabric("rose", Bolt(Fraction(38)), "bolt", FatQuarter(Fraction(17), Fraction(21)), None, wanted)
    >>> [dict(strip.gives) for strip in strips_of(rose)]
    [{'d': 8}, {'d': 8}, {'d': 3}]
    """
    found: list[Strip] = []
    for strips in cut_from(_together(fabric.demands, count), _bolt(fabric)).strips:
        gives = () if strips.joined else strips.gives
        found += [Strip(fabric.id, strips.size, gives, strips.joined)] * strips.times
    return sorted(found, key=lambda strip: strip.joined)


def _together(demands: Iterable[Demand], count: int) -> list[Demand]:
    """Pieces are pooled; what goes round or under a quilt is cut for each by itself."""
    found: list[Demand] = []
    for demand in demands:
        found += [times(demand, count)] if isinstance(demand, Pieces) else [demand] * count
    return found


def _bolt(fabric: Fabric) -> Bolt:
    if fabric.sold == "bolt":
        return fabric.bolt
    return replace(fabric.bolt, usable_width=fabric.quarter.width, shrink=(Fraction(0), Fraction(0)))


def dealt(strips: Sequence[Strip], hands: int) -> list[list[Strip]]:
    """The strips in their order, dealt to so many hands: no hand has over one strip more than another.

    >>> [len(hand) for hand in dealt([Strip("a", Fraction(2), ())] * 7, 3)]
    [3, 2, 2]
    """
    least, more = divmod(len(strips), hands)
    found, at = [], 0
    for hand in range(hands):
        size = least + (hand < more)
        found.append(list(strips[at : at + size]))
        at += size
    return found


def piles(strips: Iterable[Strip]) -> list[dict]:
    """Strips of one fabric and one width told together: how many, and the pieces that come of them by id.

    >>> piles([Strip("a", Fraction(2), (("d", 8),)), Strip("a", Fraction(2), (("d", 3),))])
    [{'fabric': 'a', 'size': Fraction(2, 1), 'strips': 2, 'gives': {'d': 11}, 'joined': False}]
    """
    found: dict[tuple, dict] = {}
    for strip in strips:
        kinds = tuple(name for name, _ in strip.gives)
        pile = found.setdefault(
            (strip.fabric, strip.size, kinds, strip.joined),
            {"fabric": strip.fabric, "size": strip.size, "strips": 0, "gives": {}, "joined": strip.joined},
        )
        pile["strips"] += 1
        for name, count in strip.gives:
            pile["gives"][name] = pile["gives"].get(name, 0) + count
    return list(found.values())
