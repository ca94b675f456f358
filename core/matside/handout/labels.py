"""Where the labels of a drawing on paper go: by their line or in their area, over no other label and little else."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from ..shapes import Point

Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom."""

#: Where along a line, and where across an area, a label may stand.
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
_ACROSS = (0.5, 0.3, 0.7, 0.15, 0.85)
#: What speaks against a place: another label there, a line through it, and how far it is from where it belongs; of an
#: area's label, how far it sticks out of it, and that it stands beside it.
_COVERED, _CROSSED, _AWAY, _OUT, _BESIDE = 60.0, 4.0, 1.0, 1.0, 1.5
#: Between a line and its label, as a share of the label's height.
_GAP = 0.2


@dataclass(frozen=True, slots=True)
class Label:
    """A label with its size, and the points of the line, or of the `area`, that it tells of."""

    points: tuple[Point, ...]
    area: bool
    width: float
    height: float


def places(labels: Sequence[Label], lines: Iterable[Sequence[Point]], view: Rectangle) -> list[Point]:
    """The middle of each label, in their order, wholly within `view`; `lines` are those that should stay free.

    >>> line = ((0.0, 1.0), (4.0, 1.0))
    >>> places([Label(line, False, 1.0, 0.5)], [line], (0.0, 0.0, 4.0, 4.0))
    [(2.0, 1.35)]
    """
    free, found = list(lines), dict.fromkeys(range(len(labels)))
    taken: list[Rectangle] = []
    for number in sorted(found, key=lambda number: labels[number].area):  # an area has more room to give way
        label = labels[number]
        options = [_pulled_in(at, away, label, view) for at, away in _candidates(label)]
        at, _ = min(options, key=lambda option: option[1] + _against(_box(option[0], label), taken, free))
        taken.append(_box(at, label))
        found[number] = at
    return list(found.values())


def _candidates(label: Label) -> Iterator[tuple[Point, float]]:
    """Places for a label, each with what speaks against it by itself."""
    return _in_area(label) if label.area else _beside_line(label)


def _beside_line(label: Label) -> Iterator[tuple[Point, float]]:
    (x, y), (u, v) = label.points[0], label.points[-1]
    long = hypot(u - x, v - y) or 1.0
    dx, dy = (u - x) / long, (v - y) / long
    off = abs(dy) * label.width / 2 + abs(dx) * label.height / 2 + _GAP * label.height
    for share in _ALONG:
        for side in (1, -1):
            at = (x + share * (u - x) - side * dy * off, y + share * (v - y) + side * dx * off)
            yield at, abs(share - 0.5) * _AWAY


def _in_area(label: Label) -> Iterator[tuple[Point, float]]:
    """In it, or beside one that is too small for it."""
    xs, ys = [x for x, _ in label.points], [y for _, y in label.points]
    left, top, wide, high = min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)
    out = _OUT * (max(0.0, label.width - wide) + max(0.0, label.height - high)) / label.height
    for across in _ACROSS:
        away = abs(across - 0.5) * _AWAY
        for down in _ACROSS:
            yield (left + across * wide, top + down * high), away + abs(down - 0.5) * _AWAY + out
        aside, above = label.width / 2 + _GAP * label.height, (0.5 + _GAP) * label.height
        yield from (((x, top + across * high), away + _BESIDE) for x in (left - aside, left + wide + aside))
        yield from (((left + across * wide, y), away + _BESIDE) for y in (top - above, top + high + above))


def _pulled_in(at: Point, away: float, label: Label, view: Rectangle) -> tuple[Point, float]:
    """A place so far from the view's edges that all of the label is seen, and what that adds."""
    left, top, right, bottom = view
    x = _within(at[0], left + label.width / 2, right - label.width / 2)
    y = _within(at[1], top + label.height / 2, bottom - label.height / 2)
    return (x, y), away + _AWAY * hypot(x - at[0], y - at[1]) / label.height


def _within(value: float, least: float, most: float) -> float:
    return max(least, min(most, value))


def _box(at: Point, label: Label) -> Rectangle:
    (x, y), wide, high = at, label.width / 2, label.height / 2
    return x - wide, y - high, x + wide, y + high


def _against(box: Rectangle, taken: list[Rectangle], lines: list[Sequence[Point]]) -> float:
    left, top, right, bottom = box
    covered = sum(_shared(box, other) for other in taken) / ((right - left) * (bottom - top))
    crossed = sum(_length_in(box, *ends) for line in lines for ends in zip(line, line[1:])) / (bottom - top)
    return covered * _COVERED + crossed * _CROSSED


def _shared(one: Rectangle, other: Rectangle) -> float:
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return max(0.0, wide) * max(0.0, high)


def _length_in(box: Rectangle, start: Point, end: Point) -> float:
    part = part_in(box, start, end)
    return hypot(part[1][0] - part[0][0], part[1][1] - part[0][1]) if part else 0.0


def part_in(box: Rectangle, start: Point, end: Point) -> tuple[Point, Point] | None:
    """The part of a segment that lies in a box; None where none does.

    By Y.-D. Liang and B. A. Barsky, ACM Transactions on Graphics 3, 1984.

    >>> part_in((0, 0, 2, 2), (-1, 1), (1, 1)), part_in((0, 0, 2, 2), (-1, 3), (1, 3))
    (((0.0, 1.0), (1.0, 1.0)), None)
    """
    left, top, right, bottom = box
    (x, y), dx, dy = start, end[0] - start[0], end[1] - start[1]
    first, last = 0.0, 1.0
    for toward, room in ((-dx, x - left), (dx, right - x), (-dy, y - top), (dy, bottom - y)):
        if toward == 0 and room < 0:
            return None
        if toward < 0:
            first = max(first, room / toward)
        elif toward > 0:
            last = min(last, room / toward)
    return ((x + first * dx, y + first * dy), (x + last * dx, y + last * dy)) if first < last else None
