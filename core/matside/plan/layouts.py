"""Cut patterns as layouts: where every strip lies in its cloth, with just the pieces that are needed."""

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction

from ..cloth import PlacedStrip, worth_keeping
from ..shapes import Shape
from ..strips import needed_length
from ..units import SAME, ruler_line
from .patterns import Pattern
from .ways import Partition, PartYield


@dataclass(frozen=True, slots=True)
class Laid:
    """One strip in its cloth and the number of the need that it serves."""

    need: int
    strip: PlacedStrip


@dataclass(frozen=True, slots=True)
class Layout:
    """One cloth cut: its strips, the division before they are cut, the rectangles (length, width) that stay whole, and
    the `reach` of its pieces, the farthest that any of them comes along length and width."""

    strips: tuple[Laid, ...]
    division: tuple[str, float] | None
    left_whole: tuple[tuple[float, float], ...]
    reach: tuple[float, float]


@dataclass(slots=True)
class Claims:
    """Pieces that are still needed of each kind, and strips of each kind that are still to come in cloths cut later."""

    left: list[int]
    to_come: list[int]

    def last(self, gives: list[int]) -> list[bool]:
        """Whether strips of a kind end with the cloths in hand, which give so many: all is made, or no others come."""
        return [rest <= give or not more for rest, give, more in zip(self.left, gives, self.to_come)]


class CommonCuts:
    """How many cloths of a sort have a cut in common, so that it comes first in all of them: they
    can lie one on another for it.

    Cuts are in common where the cloths are divided at the same place, and the strips run the
    same way at the same width."""

    def __init__(self, shapes: list[Shape]):
        self.shapes = shapes
        self._cloths: Counter = Counter()

    def add(self, sort: int, pattern: Pattern, way: Partition, times: int) -> None:
        """Counts cloths that are cut by a pattern."""
        for number in range(len(way.parts)):
            for strip in self._strips(sort, pattern, way, number):
                self._cloths[strip[0]] += times

    def order(self, sort: int, pattern: Pattern, way: Partition, number: int) -> list[int]:
        """The kinds of a part's strips in the order in which they are cut off: what most cloths
        have in common, then the widest.
        """
        strips = self._strips(sort, pattern, way, number)
        return [
            kind
            for _, kind in sorted(
                strips, key=lambda strip: (-self._cloths[strip[0]], -self.shapes[strip[1]].size, strip[1])
            )
        ]

    def _strips(self, sort: int, pattern: Pattern, way: Partition, number: int) -> list[tuple[tuple, int]]:
        """Each strip of a part: what it has in common with those of other cloths, and its kind."""
        seen: Counter = Counter()
        found = []
        for part, kind, count in sorted(pattern.strips, key=lambda strip: strip[1]):
            for _ in range(count if part == number else 0):
                size = self.shapes[kind].size
                found.append(((sort, way.division, number, way.parts[number].along, size, seen[size]), kind))
                seen[size] += 1
        return found


def laid_out(
    pattern: Pattern, way: Partition, numbers, shapes: list[Shape], claims: Claims, times: int, orders: list[list[int]]
):
    """A pattern's layouts in so many cloths, as (how many, layout); what they give is claimed.

    `orders` are the kinds of each part's strips as they are cut off (see `CommonCuts.order`). A strip none of whose
    pieces is needed any more is not cut, and the last strip of a kind ends where its last piece does; so the last
    cloths may be laid out otherwise than the first, and a cloth that nothing is needed from has no layout. `numbers`
    are those of the needs that the kinds stand for."""
    way = on_a_ruler_line(pattern, way, shapes)
    while times:
        gives = _given(pattern, way, len(claims.left))
        whole = min((rest // give for rest, give in zip(claims.left, gives) if give), default=0)
        number = min(times, max(1, whole))
        last = claims.last([number * give for give in gives]) if number == times or not whole else [False] * len(gives)
        layout, rest = _laid_out(orders, way, numbers, shapes, claims.left, last)
        if not layout.strips:
            return
        yield number, layout
        claims.left = [before - number * (before - after) for before, after in zip(claims.left, rest)]
        times -= number


def on_a_ruler_line(pattern: Pattern, way: Partition, shapes: list[Shape]) -> Partition:
    """The way with its division where a ruler has a line: the next one, where the second
    part can spare what that takes.

    What the first part gains is waste there, and the second keeps all its strips with all their pieces; so where it
    cannot spare that much, the division stays where it was.
    """
    if way.division is None:
        return way
    along, at = way.division
    first, second = way.parts
    moved, needed = ruler_line(at), _needed(pattern, second, along, shapes)
    if not needed or moved - at > _side(second, along) - needed + SAME:
        return way
    return replace(
        way, parts=(_longer(first, along, moved - at), _longer(second, along, at - moved)), division=(along, moved)
    )


def _side(part: PartYield, along: str) -> float:
    return part.run if part.along == along else part.breadth


def _longer(part: PartYield, along: str, by: float) -> PartYield:
    return replace(part, **{"run" if part.along == along else "breadth": _side(part, along) + by})


def _needed(pattern: Pattern, second: PartYield, along: str, shapes: list[Shape]) -> float:
    """How much of a side the second part of a pattern takes: its longest strip's pieces, or its strips side by side."""
    strips = [(shapes[kind], second.gives[kind], count) for part, kind, count in pattern.strips if part == 1]
    if second.along == along:
        return max((needed_length(shape, gives) for shape, gives, _ in strips), default=0.0)
    return float(sum(shape.size * count for shape, _, count in strips))


def _given(pattern: Pattern, way: Partition, kinds: int) -> list[int]:
    gives = [0] * kinds
    for part, kind, count in pattern.strips:
        gives[kind] += count * way.parts[part].gives[kind]
    return gives


def _laid_out(
    orders: list[list[int]], way: Partition, numbers, shapes, left: list[int], last: list[bool]
) -> tuple[Layout, list[int]]:
    left, strips, wholes = list(left), [], []
    ahead = [sum(order.count(k) for order in orders) for k in range(len(left))]
    for number, part in enumerate(way.parts):
        offset = Fraction(0)
        for kind in orders[number]:
            ahead[kind] -= 1
            pieces = min(left[kind], part.gives[kind])
            if pieces:
                left[kind] -= pieces
                ends = pieces < part.gives[kind] or last[kind] and not (left[kind] and ahead[kind])
                strip = _placed(part, _corner(way, number), offset, ends, shapes[kind], pieces)
                strips.append(Laid(numbers[kind], strip))
                offset += shapes[kind].size
                wholes.append(_turned(part, part.run - float(strip.run), float(strip.size)))
        wholes.append(_turned(part, part.run, part.breadth - float(offset)))
    rests = tuple(sorted(rest for rest in wholes if worth_keeping(*rest)))
    return Layout(tuple(strips), way.division, rests, _reach(strips, numbers, shapes)), left


def _reach(strips: list[Laid], numbers, shapes: list[Shape]) -> tuple[float, float]:
    """How far pieces come along length and width: a strip's do to the end of its last one, and over all its width."""
    ends = [_ends(laid.strip, shapes[numbers.index(laid.need)]) for laid in strips]
    return max((x for x, _ in ends), default=0.0), max((y for _, y in ends), default=0.0)


def _ends(strip: PlacedStrip, shape: Shape) -> tuple[float, float]:
    run, size = needed_length(shape, strip.count), float(strip.size)
    x, y = float(strip.x), float(strip.y)
    return (x + run, y + size) if strip.along == "length" else (x + size, y + run)


def _placed(part: PartYield, corner, offset: Fraction, ends: bool, shape: Shape, pieces: int) -> PlacedStrip:
    """A strip as long as its part, or one that ends where its last piece does."""
    x, y = corner
    run = min(part.run, needed_length(shape, pieces)) if ends else part.run
    place = (x, y + offset) if part.along == "length" else (x + offset, y)
    return PlacedStrip(*place, part.along, Fraction(run), shape.size, pieces)


def _corner(way: Partition, number: int) -> tuple[Fraction, Fraction]:
    if number == 0 or way.division is None:
        return Fraction(0), Fraction(0)
    side, at = way.division
    return (Fraction(at), Fraction(0)) if side == "length" else (Fraction(0), Fraction(at))


def _turned(part: PartYield, run: float, across: float) -> tuple[float, float]:
    """A rectangle of the part as (length, width) in the cloth."""
    return (run, across) if part.along == "length" else (across, run)
