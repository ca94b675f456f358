"""The drawings of a cloth on the mat: as it lies, what is measured of it, its edge made
straight, divided, cut into strips.
"""

from collections.abc import Iterable
from fractions import Fraction

from ..rulers import Way
from ..shapes import Point
from .drawn import Drawn, box, laid, moved, rectangle, scene, shape
from .job import Habits, StripWork
from .laying import Laying
from .places import Place
from .sheet import FOLD, SELVAGE, Sheet

#: How far a selvage reaches beyond the usable cloth in a drawing, in inches.
SELVAGE_WIDE = 0.5
#: Room round a cloth for the lengths of its sides, as a share of its longer side, and where they are written.
_ROOM = 0.16
_DIMENSION = 0.07
#: Between strips that lie side by side, as a share of the widest.
_GAP = 0.4


def cloth_lie(habits: Habits):
    """How a cloth lies: as the right hand has it, or as its mirror image.

    >>> cloth_lie(Habits("left"))([(1.0, 2.0)])
    [(-1.0, 2.0)]
    """
    side = -1 if habits.hand == "left" else 1
    return lambda points: [(side * x, y) for x, y in points]


class ClothScenes:
    """The scenes of cloths, made once each among those of the whole script."""

    def __init__(self, habits: Habits, drawn: Drawn):
        self.drawn = drawn
        self.lie = cloth_lie(habits)

    def sheet(self, sheet: Sheet, sides: bool = False, edge: Place | None = None) -> int:
        """What lies there, with the lengths of its `sides` and the straight `edge` at a place
        where they are spoken of.
        """
        more = [*(_sides(sheet) if sides else []), *([_edge(sheet, edge)] if edge else [])]
        return self._scene(("sheet", sheet, sides, edge), sheet, more)

    def measured(self, sheet: Sheet, at: Place | None, across, upright) -> int:
        """What must be there at least: from the edge at `at` to the other side, and upright."""
        more = [*([_edge(sheet, at, "from_here")] if at else []), *_least(sheet, at, across, upright)]
        return self._scene(("measured", sheet, at, across, upright), sheet, more)

    def trimming(self, sheet: Sheet, by: Fraction, laying: Laying) -> int:
        """The edge at the right, with the cut that makes it straight and the ruler on what is kept."""
        way = laying.strip_way(laying.piece.size, sheet.upright)
        place = float(sheet.across - by)
        ruler = [one for one in laying.shapes(way) if one["role"] in ("ruler", "ruler-slid")]
        cut = shape("cut", [(place, 0.0), (place, float(sheet.upright))])
        over = [*moved(ruler, place - float(laying.piece.size)), cut]
        waste = [shape("waste", rectangle(place, 0, sheet.across, sheet.upright))] if by else []
        return self._scene(("trimming", sheet, by, laying.piece), sheet, waste, over={"trim": laid(over, self.lie)})

    def dividing(self, sheet: Sheet, at: Fraction, laying: Laying, way: Way | None) -> int:
        """The cut in two, at a distance from the left edge."""
        over = {"strip": laid(_cutting(sheet, at, laying, way), self.lie)}
        part = [shape("part", rectangle(0, 0, at, sheet.upright)), *_sides(sheet, across=False)]
        return self._scene(("dividing", sheet, at), sheet, part, over=over)

    def cutting(self, sheet: Sheet, work: StripWork, laying: Laying, way: Way | None) -> int:
        """The cloth that strips of a width are cut off, from its left edge."""
        size, upright = float(work.size), float(sheet.upright)
        slices = [self.lie(rectangle(k * size, 0, (k + 1) * size, upright)) for k in range(work.strips)]
        over = {"strip": laid(_cutting(sheet, work.size, laying, way), self.lie)}
        moves = {"moves": "ruler", "advance": self.lie([(size, 0.0)])[0], "pieces": slices, "over": over}
        return self._scene(("cutting", sheet, work), sheet, _sides(sheet, across=False), **moves)

    def opened_strips(self, sizes: Iterable[tuple[Fraction, int]], run: Fraction) -> int:
        """Strips in one layer side by side."""
        strips, left = [], 0.0
        widest = max(float(size) for size, _ in sizes)
        for size, count in sizes:
            for _ in range(count):
                strips.append(rectangle(left, 0, left + float(size), run))
                left += float(size) + _GAP * widest
        size, low = float(sizes[0][0]), -_DIMENSION * float(run)
        lines = [shape("side", [(0.0, low), (size, low)], length=size)]
        still = [*(shape("strip", points) for points in strips), *lines]
        return self.drawn.number(
            ("opened", tuple(sizes), run), lambda: scene(self._view(left, float(run)), laid(still, self.lie))
        )

    def _scene(self, key, sheet: Sheet, more: list[dict], **moving) -> int:
        def made() -> dict:
            still = laid([*_cloth(sheet), *more], self.lie)
            return scene(self._view(float(sheet.across), float(sheet.upright)), still, turned=sheet.turns, **moving)

        return self.drawn.number(key, made)

    def _view(self, across: float, upright: float) -> list[float]:
        room = _ROOM * max(across, upright) + SELVAGE_WIDE
        return box(self.lie([(-room, -room), (across + room, upright + room)]))


def _cloth(sheet: Sheet) -> list[dict]:
    """The cloth with its selvages and its fold."""
    long, high = float(sheet.across), float(sheet.upright)
    found = [shape("cloth", rectangle(0, 0, long, high))]
    for place, what in sheet.edges:
        if what == SELVAGE:
            found.append(shape("selvage", beside(place, long, high), word="selvage"))
        if what == FOLD:
            found.append(shape("fold", _side(place, long, high), word="fold"))
    return found


def _side(place: Place, long: float, high: float) -> list[Point]:
    """The edge at a place, from the body away or from left to right."""
    corners = {
        Place.LEFT: [(0.0, 0.0), (0.0, high)],
        Place.RIGHT: [(long, 0.0), (long, high)],
        Place.BOTTOM: [(0.0, 0.0), (long, 0.0)],
        Place.TOP: [(0.0, high), (long, high)],
    }
    return corners[place]


def beside(place: Place, long: float, high: float) -> list[Point]:
    """The band of selvage outside the edge at a place."""
    bands = {
        Place.LEFT: (-SELVAGE_WIDE, 0, 0, high),
        Place.RIGHT: (long, 0, long + SELVAGE_WIDE, high),
        Place.BOTTOM: (0, -SELVAGE_WIDE, long, 0),
        Place.TOP: (0, high, long, high + SELVAGE_WIDE),
    }
    return rectangle(*bands[place])


def _edge(sheet: Sheet, place: Place, word: str = "squared_edge") -> dict:
    return shape("edge", _side(place, float(sheet.across), float(sheet.upright)), word=word)


def _sides(sheet: Sheet, across: bool = True) -> list[dict]:
    """The lengths of its sides: below it, and beside it where no selvage lies."""
    found = [_upright_length(sheet, float(sheet.upright))]
    return [_across_length(sheet, 0.0, float(sheet.across)), *found] if across else found


def _least(sheet: Sheet, at: Place | None, across, upright) -> list[dict]:
    """The lengths that must be there: `across` from the edge at a place, and `upright`."""
    found = [_upright_length(sheet, float(upright))]
    if across is not None:
        left = 0.0 if at == Place.LEFT else float(sheet.across) - float(across)
        found.append(_across_length(sheet, left, left + float(across)))
    return found


def _across_length(sheet: Sheet, left: float, right: float) -> dict:
    low = -_DIMENSION * float(max(sheet.across, sheet.upright)) - (
        SELVAGE_WIDE if sheet.edge(Place.BOTTOM) == SELVAGE else 0
    )
    return shape("side", [(left, low), (right, low)], length=right - left)


def _upright_length(sheet: Sheet, high: float) -> dict:
    """Beside the right edge, or the left one where the right has its selvage."""
    away = _DIMENSION * float(max(sheet.across, sheet.upright))
    x = -away if sheet.edge(Place.RIGHT) == SELVAGE else float(sheet.across) + away
    return shape("side", [(x, 0.0), (x, high)], length=high)


def _cutting(sheet: Sheet, size: Fraction, laying: Laying, way: Way | None) -> list[dict]:
    """What lies on a cloth for a cut at a distance from its left edge; without a way, just where to cut."""
    if way is not None:
        low = -_DIMENSION * float(max(sheet.across, sheet.upright))
        # Two rulers show the outer one's line: how wide the strip comes out is told beside them.
        wide = [shape("side", [(0.0, low), (float(size), low)], length=float(size))] if len(way.rulers) > 1 else []
        return [*laying.shapes(way), *wide]
    low, high, at = 0.0, float(sheet.upright), float(size)
    marks = [shape("mark", [(at - 0.35, y), (at + 0.35, y)]) for y in (low, high)]
    return [shape("measure-line", [(0.0, low), (at, low)], length=at), *marks, shape("cut", [(at, low), (at, high)])]
