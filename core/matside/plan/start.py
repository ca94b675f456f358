"""Going on from a plan that is there already: its layouts as a cutting of the search, as far
as they can be cut still.
"""

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from ..units import SAME
from .basket import BasketCloth, Need
from .groups import Built
from .patterns import Pattern
from .places import Cutting
from .ways import Partition


@dataclass(frozen=True, slots=True)
class Started:
    """So many cloths cut alike: their sides, the side that is divided, and strips as (part, side along which
    they run, piece, size, pieces).
    """

    cloth: str
    length: Fraction
    width: Fraction
    times: int
    divided: str | None
    strips: tuple[tuple[int, str, str, Fraction, int], ...]


def started(found: list[Started], built: Built, needs: list[Need], cloths: list[BasketCloth]) -> Cutting:
    """The layouts that are of a group's cloths and pieces, and can be cut; others are left out, and so
    are cloths beyond their count.
    """
    kinds = {needs[n].id: (kind, needs[n].shape.size) for kind, n in enumerate(built.group.needs)}
    sorts = {cloths[c].id: (sort, cloths[c]) for sort, numbers in enumerate(built.members) for c in numbers}
    left = {cloth.id: cloth.count for _, cloth in sorts.values()}
    room = Counter({sort: item.count for sort, item in enumerate(built.problem.sorts)})
    cutting: Cutting = []
    for layout in found:
        sort, cloth = sorts.get(layout.cloth, (0, None))
        pattern = (
            cloth
            and (cloth.length, cloth.width) == (layout.length, layout.width)
            and _pattern(layout, built, sort, kinds)
        )
        times = min(layout.times, left.get(layout.cloth, 0), room[sort])
        if pattern and times:
            left[layout.cloth] -= times
            room[sort] -= times
            cutting.append((sort, pattern, times))
    return cutting


def _pattern(layout: Started, built: Built, sort: int, kinds: dict[str, tuple[int, Fraction]]) -> Pattern | None:
    """The layout as a pattern of its sort, None where it is none."""
    if any(kinds.get(piece, (0, None))[1] != size for _, _, piece, size, _ in layout.strips):
        return None
    wanted = [(part, along, kinds[piece][0], count) for part, along, piece, _, count in layout.strips]
    patterns, needs = built.problem.sorts[sort].patterns, built.problem.needs
    for number, way in enumerate(patterns.ways):
        if (way.division and way.division[0]) == layout.divided and _holds(way, wanted, patterns.sizes):
            strips = Counter((part, kind) for part, _, kind, _ in wanted)
            gives = [
                sum(way.parts[part].gives[k] * n for (part, k), n in strips.items() if k == kind)
                for kind in range(len(needs))
            ]
            return Pattern(tuple(map(min, gives, needs)), number, tuple((*key, n) for key, n in strips.items()))
    return None


def _holds(way: Partition, wanted: list[tuple[int, str, int, int]], sizes: list[float]) -> bool:
    """Whether all the strips lie in the parts of a way, each with its pieces."""
    wide = [0.0, 0.0]
    for part, along, kind, count in wanted:
        if part >= len(way.parts) or way.parts[part].along != along or way.parts[part].gives[kind] < count:
            return False
        wide[part] += sizes[kind]
    return all(taken <= part.breadth + SAME for taken, part in zip(wide, way.parts))
