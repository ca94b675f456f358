"""Cut patterns as layouts: where every strip lies in its cloth, with just the pieces that are needed."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..cloth import PlacedStrip
from ..shapes import Shape
from ..strips import needed_length
from ..units import SAME
from .patterns import Pattern
from .ways import Part, Way


@dataclass(frozen=True, slots=True)
class Laid:
    """One strip in its cloth and the number of the kind of piece that it gives."""

    kind: int
    strip: PlacedStrip


@dataclass(frozen=True, slots=True)
class Layout:
    """One cloth cut: its strips, the division before they are cut, and the rectangles (length, width) that stay whole."""

    strips: tuple[Laid, ...]
    division: tuple[str, float] | None
    left_whole: tuple[tuple[float, float], ...]


def laid_out(pattern: Pattern, way: Way, shapes: list[Shape], left: list[int]) -> Layout:
    """A pattern's strips in their cloth; takes what they give off `left`, the pieces still needed of each kind.

    Big strips come first, so that the wide cuts are made while the cloth is whole. A strip none of whose pieces is
    needed any more is not cut, and the last strip of a kind ends where its last piece does.
    """
    strips, wholes = [], []
    for number, part in enumerate(way.parts):
        corner = _corner(way, number)
        chosen = sorted((kind, count) for at, kind, count in pattern.strips if at == number)
        ordered = sorted(chosen, key=lambda item: -shapes[item[0]].size)
        used = Fraction(0)
        for laid in _part_strips(part, corner, ordered, shapes, left):
            strips.append(laid)
            used += laid.strip.size
        wholes.append(_rest(part, used))
    return Layout(tuple(strips), way.division, tuple(rest for rest in wholes if min(rest) > SAME))


def simplest(pattern: Pattern, wanted: tuple[int, ...], ways: list[Way], sizes: list[float]) -> Pattern:
    """The pattern itself, or one of an undivided way that gives all that is wanted with no more strips.

    A person cuts an undivided cloth sooner, and the fewer strips the better.
    """
    found = [pattern]
    for number, way in enumerate(ways):
        strips = _undivided(way, wanted, sizes)
        if strips is not None:
            found.append(Pattern(wanted, number, strips))
    return min(found, key=lambda each: (_strip_count(each), ways[each.way].division is not None))


def _undivided(way: Way, wanted: tuple[int, ...], sizes: list[float]) -> tuple[tuple[int, int, int], ...] | None:
    if way.division is not None:
        return None
    part, strips, used = way.parts[0], [], 0.0
    for kind, (need, gives, size) in enumerate(zip(wanted, part.gives, sizes)):
        if need and not gives:
            return None
        if need:
            strips.append((0, kind, -(-need // gives)))
            used += strips[-1][2] * size
    return tuple(strips) if used <= part.breadth + SAME else None


def _strip_count(pattern: Pattern) -> int:
    return sum(count for _, _, count in pattern.strips)


def _part_strips(part: Part, corner, ordered, shapes: list[Shape], left: list[int]) -> Iterator[Laid]:
    offset = Fraction(0)
    for kind, count in ordered:
        shape = shapes[kind]
        for _ in range(count):
            pieces = min(left[kind], part.gives[kind])
            if pieces:
                left[kind] -= pieces
                run = part.run if pieces == part.gives[kind] else needed_length(shape, pieces)
                yield Laid(kind, _placed(part, corner, offset, run, shape, pieces))
                offset += shape.size


def _placed(part: Part, corner, offset: Fraction, run: float, shape: Shape, pieces: int) -> PlacedStrip:
    x, y = corner
    along_length = part.along == "length"
    place = (x, y + offset) if along_length else (x + offset, y)
    return PlacedStrip(*(Fraction(side) for side in place), part.along, Fraction(run), shape.size, pieces)


def _corner(way: Way, number: int) -> tuple[Fraction, Fraction]:
    if number == 0 or way.division is None:
        return Fraction(0), Fraction(0)
    side, at = way.division
    return (Fraction(at), Fraction(0)) if side == "length" else (Fraction(0), Fraction(at))


def _rest(part: Part, used: Fraction) -> tuple[float, float]:
    across = part.breadth - float(used)
    return (part.run, across) if part.along == "length" else (across, part.run)

