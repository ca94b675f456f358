"""What is to be cut, one entry for every kind, measure and fabric."""

import math
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from .. import angles
from ..shapes import Diamond, HalfDiamond, Outline, Parallelogram, Rectangle
from .around.borders import Border
from .geometry import Geometry
from .outlines.cuts import CutShape, Ends, diamond_half, exact, half, is_mirrored, right_triangle, strip_cut
from .outlines.right_triangle import RightTriangle
from .settings.patchwork import Patchwork
from .settings.sashing import rising

#: What quilters add to a square's finished side before they cut it once or twice from corner to corner, for triangles
#: at ¼ in seams, and how many it gives: common practice, no published source.
CUSTOM = {"half_square": (Fraction(7, 8), 2), "quarter_square": (Fraction(5, 4), 4)}
_CUSTOM_SEAM = Fraction(1, 4)


class CutPiece(NamedTuple):
    """A kind of piece as cut: whether it leans the other way, from strips laid wrong side
    up, a strip's slanted ends, how much longer than it finishes each end of it is cut, to be trimmed once sewn, and the
    grain that it is to run on.
    """

    kind: str
    cut: CutShape
    mirrored: bool = False
    ends: Ends | None = None
    extra: Fraction = Fraction(0)
    grain: str = "any"


@dataclass(frozen=True, slots=True)
class Layer:
    """Placed pieces with what each shape is cut as, and each patch's fabric."""

    patchwork: Patchwork
    cuts: dict[int, CutPiece]
    fabrics: list[int]


def piece_cuts(patchwork: Patchwork, geometry: Geometry) -> dict[int, CutPiece]:
    """How each shape of the patchwork is cut."""
    return {shape: _piece(kind, patchwork.shapes[shape], geometry) for shape, kind in _kinds(patchwork)}


def _kinds(patchwork: Patchwork) -> list[tuple[int, str]]:
    return sorted({(patch.shape, patch.kind) for patch in patchwork.patches})


def _piece(kind: str, outline: Outline, geometry: Geometry) -> CutPiece:
    piece, measures = geometry.piece, geometry.measures
    match kind:
        case "diamond":
            return CutPiece(kind, piece.diamond, _leans_back(outline, geometry))
        case "corner_quarter" | "row_end_fill":
            return CutPiece(kind, right_triangle(outline, piece.seam), _leans_left(outline))
        case "notch_fill":
            return CutPiece(kind, half(measures.slant, 2 * piece.angle, piece.seam))
        case "square":
            side = exact(measures.edge + 2 * float(piece.seam))
            return CutPiece(kind, Rectangle(side, side))
        case "side_triangle":
            return CutPiece(kind, half(measures.edge / math.sqrt(2), Fraction(90), piece.seam))
        case "side_half" | "end_half":
            return CutPiece(kind, diamond_half(outline, piece.diamond, kind == "side_half", piece.seam))
    raise ValueError(f"no cut for the kind {kind!r}")


def _leans_back(outline: Outline, geometry: Geometry) -> bool:
    """Whether a diamond leans the other way with its strip edges along the row.

    Zigzag rows alone ask for it. In every other setting the diamonds are each other's turned by some
    angle, and lie as they come."""
    along = (0.0, 1.0) if geometry.lying else (1.0, 0.0)
    return geometry.setting == "zigzag" and is_mirrored(outline, along)


def _leans_left(outline: Outline) -> bool:
    """Of a right-angled triangle with its legs along x and y: whether its long edge falls to the right."""
    long = max(zip(outline, outline[1:] + outline[:1], strict=True), key=lambda side: math.dist(*side))
    return (long[1][0] - long[0][0]) * (long[1][1] - long[0][1]) > 0


def sash_cuts(sashing: Patchwork, geometry: Geometry, sash: Fraction) -> dict[int, CutPiece]:
    """How each shape of the sashing is cut."""
    if geometry.setting != "grid":
        return {shape: _straight(kind, sashing.shapes[shape], sash, geometry) for shape, kind in _kinds(sashing)}
    return {shape: _slanted(kind, sashing.shapes[shape], sash, geometry) for shape, kind in _kinds(sashing)}


def _straight(kind: str, outline: Outline, sash: Fraction, geometry: Geometry) -> CutPiece:
    xs, ys = zip(*outline, strict=True)
    length = max(max(xs) - min(xs), max(ys) - min(ys)) + 2 * float(geometry.piece.seam)
    return CutPiece(kind, Rectangle(sash + 2 * geometry.piece.seam, exact(length)))


def _slanted(kind: str, outline: Outline, sash: Fraction, geometry: Geometry) -> CutPiece:
    piece = geometry.piece
    small = Diamond(sash + 2 * piece.seam, piece.angle)
    if kind == "cornerstone":
        return CutPiece(kind, small)
    if kind.startswith("cornerstone_"):
        return CutPiece(kind, diamond_half(outline, small, kind.endswith("side_half"), piece.seam))
    if kind == "sash":
        return CutPiece(kind, Parallelogram(small.size, piece.diamond.size, piece.angle), is_mirrored(outline))
    x, y = rising(float(piece.angle))
    direction = (y, x) if geometry.lying else (x, y)
    cut, ends = strip_cut(outline, direction, sash, piece.seam)
    if geometry.edge == "filled":
        return CutPiece(kind, cut, ends.mirrored, ends)
    # Left pointed or trimmed, a long strip ends along the diamonds' edges: the cuts are parallel.
    length = float(cut.length) - float(small.size) * angles.cot(piece.angle)
    across = exact(length * angles.sin(piece.angle))
    return CutPiece(kind, Parallelogram(small.size, across, piece.angle), geometry.lying and piece.angle < 90)


def border_cuts(ring: Patchwork, border: Border, seam: Fraction) -> dict[int, CutPiece]:
    """How the four strips of a border are cut: square, and where the corners are mitered longer at both ends."""
    found = {}
    for patch in ring.patches:
        direction = (1.0, 0.0) if patch.kind == "border_end" else (0.0, 1.0)
        cut, _ = strip_cut(ring.shapes[patch.shape], direction, border.width, seam)
        extra = Fraction(0) if border.corners == "butted" else border.extra
        found[patch.shape] = CutPiece(patch.kind, cut, extra=extra, grain=border.grain)
    return found


def cut_list(layers: list[Layer], names: tuple[str, ...], seam: Fraction) -> list[dict]:
    """One entry for every kind, measure and fabric, in the order in which they are first met."""
    counts: Counter = Counter()
    for layer in layers:
        shapes = [patch.shape for patch in layer.patchwork.patches]
        for (shape, fabric), count in Counter(zip(shapes, layer.fabrics, strict=True)).items():
            counts[layer.cuts[shape], fabric] += count
    seen: Counter = Counter()
    entries = []
    for (piece, fabric), count in _paired(counts).items():
        seen[piece.kind, fabric] += 1
        entries.append(_entry(piece, count, names[fabric], seen[piece.kind, fabric], seam))
    return entries


def _paired(counts: Counter) -> dict:
    """The counts, with right-angled triangles of both hands in one entry: how many of each."""
    found: dict = {}
    for (piece, fabric), count in counts.items():
        if isinstance(piece.cut, RightTriangle):
            both = found.setdefault((piece._replace(mirrored=False), fabric), [0, 0])
            both[piece.mirrored] += count
        else:
            found[piece, fabric] = count
    return found


def _entry(piece: CutPiece, count, fabric: str, number: int, seam: Fraction) -> dict:
    name = f"{piece.kind}/{fabric}" + (f"/{number}" if number > 1 else "")
    entry = {"id": name, "kind": piece.kind, "fabric": fabric, **_measured(piece.cut)}
    if isinstance(piece.cut, RightTriangle):
        return {**entry, **_pairs(piece.cut, count, seam)}
    entry |= {"need": count, "count": count}
    if isinstance(piece.cut, Parallelogram) or piece.ends or piece.mirrored:
        entry["mirrored"] = piece.mirrored
    if piece.grain != "any":
        entry["grain"] = piece.grain
    if piece.extra:
        entry |= {"length": piece.cut.length + 2 * piece.extra, "exact": piece.cut.length, "extra": piece.extra}
    if piece.ends:
        entry |= {"ends": piece.ends.angles, "parallel": piece.ends.parallel}
    if isinstance(piece.cut, HalfDiamond):
        squared = piece.cut.tip_angle == 90
        entry |= {"base": piece.cut.base, **_custom("quarter_square", squared, piece.cut.base, count, seam)}
    return entry


def _measured(cut: CutShape) -> dict:
    """The cut as a piece of a request; a right-angled triangle as the rectangle that gives two of them."""
    match cut:
        case Diamond():
            return {"shape": "diamond", "size": cut.size, "angle": cut.angle}
        case HalfDiamond():
            return {"shape": "half-diamond", "size": cut.size, "angle": cut.angle, "cut": cut.cut}
        case Parallelogram():
            return {"shape": "parallelogram", "size": cut.size, "across": cut.across, "angle": cut.angle}
        case Rectangle():
            return {"shape": "rectangle", "size": cut.size, "length": cut.length}
        case RightTriangle():
            short, long = sorted((cut.across, cut.down))
            return {"shape": "rectangle", "size": exact(short), "length": exact(long)}
    raise ValueError(f"no measures for {cut!r}")


def _pairs(triangle: RightTriangle, hands: list[int], seam: Fraction) -> dict:
    """Rectangles cut once from corner to corner: `each_way` along the diagonal that rises to the
    right, and along that which falls.

    So they are as the rectangle lies in its strip, right side up and its longer side from left to right: a triangle
    that is higher than it is wide lies there turned by a quarter."""
    each_way = [math.ceil(count / 2) for count in (hands if triangle.across >= triangle.down else reversed(hands))]
    return {
        "need": sum(each_way),
        "count": sum(hands),
        "each_way": each_way,
        "triangle": {"across": triangle.across, "down": triangle.down, "long_edge": triangle.long_edge},
        **_custom("half_square", abs(triangle.across - triangle.down) < 1e-9, triangle.across, sum(hands), seam),
    }


def _custom(method: str, applies: bool, cut: float, count: int, seam: Fraction) -> dict:
    """The customary way at ¼ in seams, where there is one, beside the exact one: squares cut from corner to corner.

    `adds` is what custom adds to the finished side, `exactly` what it takes, `cut` the square's side, `gives` how many
    triangles each of the `squares` gives."""
    if not applies or seam != _CUSTOM_SEAM:
        return {}
    adds, gives = CUSTOM[method]
    exactly = float(seam) * (2 + math.sqrt(2) if method == "half_square" else 2 + 2 * math.sqrt(2))
    found = {"method": method, "gives": gives, "squares": -(-count // gives)}
    return {"custom": {**found, "adds": float(adds), "exactly": exactly, "cut": cut - exactly + float(adds)}}
