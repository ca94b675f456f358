"""Cut patterns as layouts: where every strip lies in its cloth, with just the pieces that are needed."""

from dataclasses import dataclass
from fractions import Fraction

from ..cloth import PlacedStrip
from ..shapes import SMALLEST, Shape
from ..strips import needed_length
from .patterns import Pattern
from .ways import Part, Way


@dataclass(frozen=True, slots=True)
class Laid:
    """One strip in its cloth and the number of the need that it serves."""

    need: int
    strip: PlacedStrip


@dataclass(frozen=True, slots=True)
class Layout:
    """One cloth cut: its strips, the division before they are cut, and the rectangles (length, width) that stay whole."""

    strips: tuple[Laid, ...]
    division: tuple[str, float] | None
    left_whole: tuple[tuple[float, float], ...]


@dataclass(slots=True)
class Claims:
    """Pieces that are still needed of each kind, and strips of each kind that are still to come in cloths cut later."""

    left: list[int]
    to_come: list[int]

    def last(self, gives: list[int]) -> list[bool]:
        """Whether strips of a kind end with the cloths in hand, which give so many: all is made, or no others come."""
        return [rest <= give or not more for rest, give, more in zip(self.left, gives, self.to_come)]


def laid_out(pattern: Pattern, way: Way, numbers, shapes: list[Shape], claims: Claims, times: int):
    """A pattern's layouts in so many cloths, as (how many, layout); what they give is claimed.

    Big strips come first, so that the wide cuts are made while the cloth is whole. A strip none of whose pieces is
    needed any more is not cut, and the last strip of a kind ends where its last piece does; so the last cloths may
    be laid out otherwise than the first, and a cloth that nothing is needed from has no layout. `numbers` are those
    of the needs that the kinds stand for.
    """
    while times:
        gives = _given(pattern, way, len(claims.left))
        whole = min((rest // give for rest, give in zip(claims.left, gives) if give), default=0)
        number = min(times, max(1, whole))
        last = claims.last([number * give for give in gives]) if number == times or not whole else [False] * len(gives)
        layout, rest = _laid_out(pattern, way, numbers, shapes, claims.left, last)
        if not layout.strips:
            return
        yield number, layout
        claims.left = [before - number * (before - after) for before, after in zip(claims.left, rest)]
        times -= number


def _given(pattern: Pattern, way: Way, kinds: int) -> list[int]:
    gives = [0] * kinds
    for part, kind, count in pattern.strips:
        gives[kind] += count * way.parts[part].gives[kind]
    return gives


def _laid_out(pattern: Pattern, way: Way, numbers, shapes, left: list[int], last: list[bool]) -> tuple[Layout, list[int]]:
    left, strips, wholes = list(left), [], []
    ahead = [sum(count for _, kind, count in pattern.strips if kind == k) for k in range(len(left))]
    for number, part in enumerate(way.parts):
        chosen = sorted((-shapes[kind].size, kind, count) for at, kind, count in pattern.strips if at == number)
        offset = Fraction(0)
        for _, kind, count in chosen:
            for _ in range(count):
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
    rests = tuple(sorted(rest for rest in wholes if min(rest) >= SMALLEST))
    return Layout(tuple(strips), way.division, rests), left


def _placed(part: Part, corner, offset: Fraction, ends: bool, shape: Shape, pieces: int) -> PlacedStrip:
    """A strip as long as its part, or one that ends where its last piece does."""
    x, y = corner
    run = min(part.run, needed_length(shape, pieces)) if ends else part.run
    place = (x, y + offset) if part.along == "length" else (x + offset, y)
    return PlacedStrip(*place, part.along, Fraction(run), shape.size, pieces)


def _corner(way: Way, number: int) -> tuple[Fraction, Fraction]:
    if number == 0 or way.division is None:
        return Fraction(0), Fraction(0)
    side, at = way.division
    return (Fraction(at), Fraction(0)) if side == "length" else (Fraction(0), Fraction(at))


def _turned(part: Part, run: float, across: float) -> tuple[float, float]:
    """A rectangle of the part as (length, width) in the cloth."""
    return (run, across) if part.along == "length" else (across, run)
