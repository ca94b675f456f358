"""Where the head of a print comes to lie: each piece as it is cut from its strip, turned into its place in the quilt.

A print's head is the end of the lengthwise grain that is up. Its angle is told in degrees, clockwise from the quilt's
upper edge: 0 stands, 90 lies with its head to the right. A piece that may be turned by half, as diamonds may, is
turned so that its print stands; so is what may be turned by a quarter, as squares may."""

import math
from collections import Counter
from typing import NamedTuple

from ..shapes import Diamond, HalfDiamond, Outline, Parallelogram, Rectangle
from .cutting import CutPiece, Layer
from .outlines.polygons import bounds, sides
from .outlines.right_triangle import RightTriangle

#: How strips may run: of a print that runs one way along the selvage, of any other across the cloth, as it is sold.
RUNS = ("lengthwise", "crosswise")
#: Up to so many degrees to either side a print stands; else it lies. Common practice, no published source.
STANDS = 45.0
_SAME = 1e-3  # degrees, and inches


class Head(NamedTuple):
    """The angle of a print's head where its strip runs along the selvage, and where it runs across the cloth."""

    lengthwise: float
    crosswise: float


class Standing(NamedTuple):
    """How many pieces of a print stand and lie, and how many at least stand on their heads whatever one does."""

    stand: int
    lie: int
    head_down: int


def runs(one_way: bool) -> str:
    """How the strips of a fabric run.

    >>> runs(True), runs(False)
    ('lengthwise', 'crosswise')
    """
    return RUNS[0] if one_way else RUNS[1]


def head_of(outline: Outline, piece: CutPiece) -> Head:
    """The head of a piece by its finished outline in the quilt (y running down) and what it is cut as."""
    along, turns = strip_of(outline, piece)
    if piece.grain == "bias":
        return Head(*(_upright(along + 45.0, 180.0),) * 2)
    found = Head(_upright(90.0 - along, turns), _upright(-along, turns))
    if piece.grain in RUNS:
        return Head(*(getattr(found, piece.grain),) * 2)
    return found


def standing(layers: list[Layer], fabric: int) -> Standing:
    """How the pieces of a fabric that runs one way stand, its strips cut along the selvage."""
    found: Counter = Counter()
    by_turns: dict[tuple, Counter] = {}
    for layer in layers:
        shapes = Counter(patch.shape for patch, own in zip(layer.patchwork.patches, layer.fabrics) if own == fabric)
        for shape, count in shapes.items():
            outline, piece = layer.patchwork.shapes[shape], layer.cuts[shape]
            angle = head_of(outline, piece).lengthwise
            stands = abs(angle) <= STANDS + _SAME
            found["stand" if stands else "lie"] += count
            if stands and isinstance(piece.cut, HalfDiamond | RightTriangle):
                by_turns.setdefault((piece, angle), Counter())[_faces(outline, angle)] += count
    down = sum(abs(ways[True] - ways[False]) // 2 for ways in by_turns.values())
    return Standing(found["stand"] - down, found["lie"], down)


def _faces(outline: Outline, angle: float) -> bool:
    """To which side of its print a triangle points: a strip gives both, by turns or in pairs."""
    turn = math.radians(-angle)
    turned = tuple(
        (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in outline
    )
    left, top, right, bottom = bounds(turned)
    xs, ys = zip(*turned, strict=True)
    off = (sum(xs) / len(xs) - (left + right) / 2, sum(ys) / len(ys) - (top + bottom) / 2)
    return off[0] > _SAME or (abs(off[0]) <= _SAME and off[1] > 0)


def _upright(angle: float, turns: float) -> float:
    """Of the angles that are so many degrees apart the one that stands best, 90 rather than -90."""
    found = round(angle % turns, 4)
    return round(found - turns, 4) if found > turns / 2 + _SAME else found % turns


def strip_of(outline: Outline, piece: CutPiece) -> tuple[float, float]:
    """How the strip that a piece is cut from lies in the quilt, in degrees anticlockwise from its rows, and by how many
    degrees the piece may be turned."""
    cut = piece.cut
    if piece.kind in ("border_end", "border_side"):
        return (0.0 if piece.kind == "border_end" else 90.0), 180.0
    match cut:
        case Diamond() | Parallelogram():
            return _leaning(outline, piece)
        case HalfDiamond():
            # Its base is an edge of the strip, and lies along the quilt's edge.
            level = [side for side in sides(outline) if _bearing(side) % 90 < _SAME or _bearing(side) % 90 > 90 - _SAME]
            return _bearing(max(level, key=lambda side: math.dist(*side))), 180.0
        case RightTriangle():
            if abs(cut.across - cut.down) < _SAME:
                return 0.0, 90.0
            return (0.0 if cut.across > cut.down else 90.0), 180.0
        case Rectangle():
            square = cut.size == cut.length
            return _bearing(max(sides(outline), key=lambda side: math.dist(*side))), 90.0 if square else 180.0
    raise ValueError(f"no strip for {cut!r}")


def _leaning(outline: Outline, piece: CutPiece) -> tuple[float, float]:
    """Of a piece between two edges of its strip and two slanted cuts."""
    one, other = sides(outline)[:2]
    cut, bearings = piece.cut, (_bearing(one), _bearing(other))
    across = getattr(cut, "across", cut.size)
    if across != cut.size:
        longer = math.dist(*one) > math.dist(*other)
        return bearings[0 if longer == (across > cut.size) else 1], 180.0
    if cut.angle == 90:
        return bearings[0], 90.0
    # Right side up, the slanted cuts lean to the left of the strip by the sharp angle, seen from its edge.
    lean = -float(cut.angle) if piece.mirrored else float(cut.angle)
    off = (bearings[1] - bearings[0] - lean) % 180
    return bearings[0 if min(off, 180 - off) < _SAME else 1], 180.0


def _bearing(side) -> float:
    """The direction of a side as a line, in degrees anticlockwise as it is seen, below 180."""
    (x, y), (u, v) = side
    return round(math.degrees(math.atan2(y - v, u - x)) % 180, 6) % 180
