"""A second way to see a ruler and a strip, for the tests: Shapely, complex numbers and the answer's own drawing.

Nothing here uses the code that finds the ways; only the shapes' outlines are the core's.
"""

import cmath
import math
from fractions import Fraction

from hypothesis import strategies as st
from shapely import LineString, box
from shapely.affinity import scale
from shapely.ops import unary_union

from matside import answer
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle

#: What floats of some tens of inches lose in a few multiplications; the way itself must be exact.
NOISE = 1e-9

QUARTERS = st.integers(4, 9 * 4).map(lambda n: n / 4)
ANGLES = st.sampled_from((15, 22.5, 30, 45, 60, 75, 90))


def request(piece: dict, rulers: list[dict], hand: str = "right", **more) -> dict:
    return {"ask": "rulers", "piece": piece, "strip_width": piece["size"], "rulers": rulers, "hand": hand, **more}


def asked(piece: dict, rulers: list[dict], hand: str = "right", **more) -> dict:
    found = answer(request(piece, rulers, hand, **more))
    assert found["ok"], found
    return found


def shape_of(piece: dict):
    size, angle = Fraction(piece["size"]), Fraction(piece.get("angle", 90))
    return {
        "diamond": lambda: Diamond(size, angle),
        "parallelogram": lambda: Parallelogram(size, Fraction(piece["across"]), angle),
        "half-diamond": lambda: HalfDiamond(size, angle, piece.get("cut", "short")),
        "rectangle": lambda: Rectangle(size, Fraction(piece["length"])),
    }[piece["shape"]]()


@st.composite
def pieces(draw) -> dict:
    shape = draw(st.sampled_from(("diamond", "diamond", "parallelogram", "half-diamond", "rectangle")))
    piece = {"shape": shape, "size": draw(QUARTERS)}
    if shape == "rectangle":
        return {**piece, "length": draw(QUARTERS)}
    piece["angle"] = draw(ANGLES)
    if shape == "parallelogram":
        piece["across"] = draw(QUARTERS)
    if shape == "half-diamond":
        piece["cut"] = draw(st.sampled_from(("short", "long")))
    return piece


def cut_angles(piece: dict) -> list[float]:
    """The angles that the piece's cuts make with the strip, by the piece's own geometry."""
    angle = piece.get("angle", 90)
    if piece["shape"] != "half-diamond":
        return [angle]
    return [90 - angle / 2] if piece["cut"] == "short" else [angle / 2]


@st.composite
def rulers(draw, name: str, piece: dict, leans=("left", "right", "both", None)) -> dict:
    width = draw(st.integers(8, 64)) / 4
    length = max(width, draw(st.integers(24, 120)) / 4)
    useful = {45, *(angle for wanted in cut_angles(piece) for angle in (wanted, 90 - wanted) if angle > 0)}
    lines = [draw(_line(sorted(useful), width, length, leans)) for _ in range(draw(st.integers(0, 4)))]
    ruler = {
        "name": name,
        "width": width,
        "length": length,
        "angles": lines,
        "tick": draw(st.sampled_from(("1/8", "1/16"))),
    }
    return {**ruler, "reads_through": draw(st.booleans())}


@st.composite
def _line(draw, useful, width: float, length: float, leans) -> dict:
    edge = draw(st.sampled_from(("long", "short")))
    line = {"degrees": draw(st.sampled_from(useful)), "from": edge, "hard_to_see": draw(st.booleans())}
    lean = draw(st.sampled_from(leans))
    if lean:
        line["lean"] = lean
    if draw(st.booleans()):
        line["at"] = draw(st.integers(0, int((length if edge == "long" else width) * 4))) / 4
    if draw(st.integers(0, 3)) == 0:
        line["line_length"] = draw(st.integers(1, 60)) / 4
    return line


@st.composite
def cases(draw, leans=("left", "right", "both", None)) -> tuple[dict, list[dict]]:
    piece = draw(pieces())
    return piece, [draw(rulers(f"r{i}", piece, leans)) for i in range(draw(st.integers(1, 3)))]


def strokes(ruler: dict) -> list[tuple[dict, LineString]]:
    """The ruler's lines in its own coordinates, drawn with the edge held at the bottom and clipped by Shapely."""
    long, wide = max(ruler["width"], ruler["length"]), min(ruler["width"], ruler["length"])
    return [
        (line, stroke)
        for line in ruler["angles"]
        for lean in (("left", "right") if line.get("lean", "both") == "both" else (line["lean"],))
        if (stroke := _stroke(line, lean, long, wide)) is not None
    ]


def _stroke(line: dict, lean: str, long: float, wide: float) -> LineString | None:
    edge, depth = (long, wide) if line["from"] == "long" else (wide, long)
    at = line.get("at", edge / 2)
    far = at + cmath.rect(line.get("line_length", 1000.0), math.radians(line["degrees"]))
    stroke = LineString([(at, 0), (far.real, far.imag)]).intersection(box(0, 0, edge, depth))
    if stroke.length == 0:
        return None
    ends = [complex(*end) for end in stroke.coords]
    if lean == "left":
        ends = [edge - end.conjugate() for end in ends]
    if line["from"] == "short":
        ends = [1j * wide + end * -1j for end in ends]
    return LineString([(end.real, end.imag) for end in ends])


def placed(stroke: LineString, ruler: dict, outline: list) -> LineString:
    """A line of the ruler where the ruler lies: its outline's first corner is the origin, the next two its axes."""
    long, wide = max(ruler["width"], ruler["length"]), min(ruler["width"], ruler["length"])
    origin, u, v = (complex(*outline[i]) for i in (0, 1, 3))
    along, across = (u - origin) / long, (v - origin) / wide
    ends = [origin + x * along + y * across for x, y in stroke.coords]
    return LineString([(end.real, end.imag) for end in ends])


def mirrored(shape):
    return scale(shape, xfact=-1, origin=(0, 0))


def union(polygons):
    return unary_union([polygon.buffer(NOISE, join_style="mitre") for polygon in polygons])
