"""The pieces: their measures against handbook arithmetic, and their outlines against Shapely."""

import dataclasses
import math
from fractions import Fraction

import numpy
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from matside import angles
from matside.errors import Refusal
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle, Trapezoid, half_hexagon

FIXED = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow], max_examples=100
)
SIZES = st.integers(2, 160).map(lambda eighths: Fraction(eighths, 8))
ANGLES = st.sampled_from((15, 30, 45, 60, 72, 90)).map(Fraction) | st.integers(60, 360).map(
    lambda quarters: Fraction(quarters, 4)
)
SHAPES = st.one_of(
    st.builds(Diamond, SIZES, ANGLES),
    st.builds(Parallelogram, SIZES, SIZES, ANGLES),
    st.builds(HalfDiamond, SIZES, ANGLES, st.sampled_from(("short", "long"))),
    st.builds(Rectangle, SIZES, SIZES),
    st.builds(
        lambda size, short, angle: Trapezoid(
            size, Fraction(float(short) + 2 * float(size) * angles.cot(angle) + 1e-6), angle
        ),
        SIZES,
        SIZES,
        ANGLES,
    ),
)
# Sizes here stay below about 160 in, where a float is good to about 3e-14 in; a few
# operations lose a digit or two more.
NEAR = 1e-9


@pytest.mark.parametrize("angle, factor", [(60, 1.1547), (45, 1.4142), (30, 2.0)])
def test_edge_of_a_diamond_from_its_strip(angle, factor):
    # Arithmetic that trade handbooks print to four decimals: edge = strip × 1.1547, 1.4142, 2. From memory.
    assert Diamond(Fraction(1), Fraction(angle)).edge == pytest.approx(factor, abs=5e-5)
    assert Diamond(Fraction(4), Fraction(angle)).advance == pytest.approx(4 * factor, abs=2e-4)


def test_a_60_degree_diamond_is_as_wide_across_as_its_edge_and_twice_its_size_long():
    diamond = Diamond(Fraction(13, 4), Fraction(60))
    assert diamond.short_diagonal == pytest.approx(diamond.edge, rel=1e-12)
    assert diamond.long_diagonal == pytest.approx(6.5, rel=1e-12)


@FIXED
@given(SIZES, ANGLES)
def test_diagonals_of_a_diamond(size, angle):
    # A parallelogram's squared diagonals add up to its squared edges, and a rhombus is half the product of its
    # diagonals: school geometry, from memory.
    diamond = Diamond(size, angle)
    short, long, edge = diamond.short_diagonal, diamond.long_diagonal, diamond.edge
    assert short**2 + long**2 == pytest.approx(4 * edge**2, rel=1e-12)
    assert short * long / 2 == pytest.approx(edge * float(size), rel=1e-12) == pytest.approx(diamond.area, rel=1e-12)
    assert math.degrees(2 * math.asin(short / (2 * edge))) == pytest.approx(float(angle), abs=1e-6)


@FIXED
@given(SIZES, SIZES, ANGLES)
def test_parallelograms_on_equal_bases_between_the_same_parallels_are_equal(height, base, angle):
    # Euclid, Elements I.35–36: whatever the slant, the area is that of the rectangle on the same base.
    across = base * Fraction(angles.sin(angle))
    if across >= Fraction(1, 4):
        slanted = Parallelogram(height, across, angle)
        rectangle = float(base * height)
        assert slanted.area == pytest.approx(rectangle, rel=1e-12)
        assert Polygon(slanted.outline()).area == pytest.approx(rectangle, rel=1e-9)


@FIXED
@given(SHAPES, st.integers(0, 40), st.floats(0, 40))
def test_outlines_have_the_area_stated_and_run_anticlockwise(shape, k, start):
    outline = shape.outline(k, start)
    polygon = Polygon(outline)
    assert polygon.is_valid and polygon.exterior.is_ccw
    assert polygon.area == pytest.approx(shape.area, rel=1e-9)
    assert polygon.bounds[1] == 0 and polygon.bounds[3] == float(shape.size)


@FIXED
@given(SHAPES, st.integers(0, 20))
def test_neighbours_touch_along_a_whole_edge_and_never_overlap(shape, k):
    mine, next_one = Polygon(shape.outline(k)), Polygon(shape.outline(k + 1))
    cut = mine.buffer(NEAR).intersection(next_one)
    slant = math.hypot(float(shape.size), shape.starter_waste)
    assert mine.intersection(next_one).area < NEAR
    assert cut.length / 2 == pytest.approx(slant, rel=1e-5)


@FIXED
@given(SHAPES)
def test_the_starter_cut_wastes_a_triangle_from_the_squared_end(shape):
    # Half the rectangle of starter waste by size is wasted before the first piece, and nothing reaches beyond the end.
    first = Polygon(shape.outline(0))
    assert first.bounds[0] == 0
    reach = box(0, 0, max(shape.starter_waste, NEAR), float(shape.size))
    assert reach.difference(first).area >= float(shape.size) * shape.starter_waste / 2 - NEAR


@FIXED
@given(SIZES, SIZES, ANGLES)
def test_a_parallelogram_is_right_between_its_edges_and_between_its_cuts(size, across, angle):
    a, b, c, d = Parallelogram(size, across, angle).outline()
    assert distance_between(a, b, c) == pytest.approx(float(size), rel=1e-9)
    assert distance_between(b, c, d) == pytest.approx(float(across), rel=1e-9)
    assert inner_angle(d, a, b) == pytest.approx(float(angle), abs=1e-6)


def distance_between(a, b, c) -> float:
    """From the point c to the line through a and b."""
    (ax, ay), (bx, by), (cx, cy) = a, b, c
    return abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / math.hypot(bx - ax, by - ay)


def inner_angle(before, corner, after) -> float:
    """Degrees at a corner."""
    u, v = numpy.subtract(before, corner), numpy.subtract(after, corner)
    return math.degrees(math.acos(numpy.dot(u, v) / math.hypot(*u) / math.hypot(*v)))


@FIXED
@given(SIZES, ANGLES)
def test_two_halves_make_a_diamond(size, angle):
    diamond = Diamond(size, angle)
    for cut, base, height in (
        ("short", diamond.short_diagonal, diamond.long_diagonal / 2),
        ("long", diamond.long_diagonal, diamond.short_diagonal / 2),
    ):
        if height >= 0.25:
            half = HalfDiamond(Fraction(height), angle, cut)
            assert half.base == pytest.approx(base, rel=1e-9)
            assert 2 * half.area == pytest.approx(diamond.area, rel=1e-9)
            assert math.dist(*half.outline(0)[:2]) == pytest.approx(diamond.edge, rel=1e-9)


def finished(shape, seam: float = 0.25) -> Polygon:
    """The piece's outline once the seam allowance is taken off all round."""
    return Polygon(shape.outline()).buffer(-seam, join_style="mitre", mitre_limit=100)


def test_an_equilateral_triangle_is_cut_three_seams_higher_than_it_finishes():
    # Trade arithmetic: an equilateral triangle's strip is the finished height + 3/4 in at 1/4 in seams. From memory.
    triangle = finished(HalfDiamond(Fraction(3) + Fraction(3, 4), Fraction(60), "short"))
    assert triangle.bounds[3] - triangle.bounds[1] == pytest.approx(3, abs=1e-9)
    assert triangle.area == pytest.approx(9 / math.sqrt(3), rel=1e-9)


def test_the_base_of_a_30_30_120_half_grows_by_two_seams_of_cot_15():
    half = HalfDiamond(Fraction(4), Fraction(60), "long")
    left, _, right, _ = finished(half).bounds
    assert half.base - (right - left) == pytest.approx(2 * 0.25 / math.tan(math.radians(15)), rel=1e-9)


@pytest.mark.parametrize("name, addition", [("half-square", 0.8536), ("quarter-square", 1.2071)])
def test_custom_additions_for_square_triangles(name, addition):
    # Trade arithmetic: what is added to the finished square's edge, exact where custom says 7/8
    # and 1 1/4 in. From memory.
    square = 3.0
    long_edge = (square + addition) * math.sqrt(2) if name == "half-square" else square + addition
    triangle = HalfDiamond(Fraction(long_edge / 2), Fraction(90), "short")
    left, _, right, _ = finished(triangle).bounds
    # The additions are printed to four decimals, so a little under 1e-4 once along the long edge.
    assert right - left == pytest.approx(square * math.sqrt(2) if name == "half-square" else square, abs=1e-4)


def test_the_trades_angles_have_exact_sines_and_cotangents():
    assert [angles.sin(30), angles.sin(90), angles.sin(150)] == [0.5, 1.0, 0.5]
    assert [angles.cot(45), angles.cot(90), angles.cot(135), angles.tan_half(90)] == [1.0, 0.0, -1.0, 1.0]


@FIXED
@given(st.floats(1, 179))
def test_sines_and_cotangents_agree_with_numpy(degrees):
    radians = numpy.deg2rad(degrees)
    assert angles.sin(degrees) == pytest.approx(numpy.sin(radians), rel=1e-12)
    assert angles.cot(degrees) == pytest.approx(numpy.cos(radians) / numpy.sin(radians), rel=1e-12, abs=1e-12)
    assert angles.tan_half(degrees) == pytest.approx(numpy.tan(radians / 2), rel=1e-12)


def test_a_finished_size_loses_the_seam_on_both_sides():
    assert Diamond(Fraction(4), Fraction(60)).finished_size(Fraction(1, 4)) == Fraction(7, 2)


GOOD, BAD_SIZES, BAD_ANGLES = (
    Fraction(4),
    (Fraction(249, 1000), 0, -4, math.nan, math.inf, 40_001),
    (14.9, 90.1, 0, -60, math.nan),
)


@pytest.mark.parametrize("make", [Diamond, HalfDiamond, lambda size, angle: Parallelogram(size, GOOD, angle)])
def test_slanted_pieces_refuse_nonsense_when_they_are_made(make):
    for size in BAD_SIZES:
        assert refused(make, size, Fraction(60)) == "size"
    for angle in BAD_ANGLES:
        assert refused(make, GOOD, angle) == "angle"


def test_other_measures_of_pieces_refuse_nonsense_as_well():
    for size in BAD_SIZES:
        assert refused(Parallelogram, GOOD, size, Fraction(60)) == "across"
        assert refused(Rectangle, size, GOOD) == "size"
        assert refused(Rectangle, GOOD, size) == "length"
    assert refused(HalfDiamond, GOOD, Fraction(60), "sideways") == "cut"


def refused(make, *measures) -> str:
    """The field that a shape refuses."""
    with pytest.raises(Refusal) as refusal:
        make(*measures)
    return refusal.value.field


def test_both_ends_of_sizes_and_angles_are_allowed():
    for size in (Fraction(1, 4), Fraction(40_000)):
        for angle in (Fraction(15), Fraction(90)):
            assert Diamond(size, angle).size == size


@pytest.mark.parametrize(
    "shape",
    [
        Diamond(GOOD, GOOD * 15),
        Parallelogram(GOOD, GOOD, GOOD * 15),
        HalfDiamond(GOOD, GOOD * 15),
        Rectangle(GOOD, GOOD),
    ],
)
def test_pieces_cannot_be_changed(shape):
    with pytest.raises(dataclasses.FrozenInstanceError):
        shape.size = Fraction(5)
    assert not hasattr(shape, "__dict__")


# --- The cycle of cuts against the outlines ---------------------------------------------------------------------------


@FIXED
@given(SHAPES, st.integers(0, 5))
def test_the_kth_cut_is_the_edge_between_the_kth_outline_and_the_next(shape, k):
    """Where its outlines lie, as polygons: each cut leans as said, ends where said, and lies
    as far from the last as said.
    """
    high = float(shape.size)
    cuts = [_shared_edge(shape.outline(k + i), shape.outline(k + 1 + i), high) for i in (0, 1)]
    (near, far), (next_near, next_far) = cuts
    told = shape.cut_for(k + 1)
    scale = max(1.0, next_near, next_far)
    assert next_near - near == pytest.approx(told.near, abs=NEAR * scale)
    assert next_far - far == pytest.approx(told.far, abs=NEAR * scale)
    assert math.degrees(math.atan2(high, next_far - next_near)) == pytest.approx(float(told.lean), abs=1e-6)
    if told.across is not None:
        assert (next_near - near) * math.sin(math.radians(told.lean)) == pytest.approx(
            float(told.across), abs=NEAR * scale
        )
        assert next_far - far == pytest.approx(next_near - near, abs=NEAR * scale)
    corners = {"near": next_near - near, "far": next_far - far}
    meets = [edge for edge, step in corners.items() if abs(step) < NEAR * scale]
    assert ([told.corner] if told.corner else []) == meets


def _shared_edge(one, other, high: float) -> tuple[float, float]:
    """Where the cut between two pieces meets the near and the far edge of the strip."""
    ends = []
    for edge in (0.0, high):
        right, left = max(x for x, y in one if y == edge), min(x for x, y in other if y == edge)
        assert right == pytest.approx(left, abs=NEAR * max(1.0, abs(right)))
        ends.append(right)
    return ends[0], ends[1]


@FIXED
@given(SHAPES)
def test_the_starter_is_the_first_outlines_left_edge(shape):
    high, outline = float(shape.size), shape.outline()
    ends = [min(x for x, y in outline if y == edge) for edge in (0.0, high)]
    assert ends == pytest.approx([shape.starter.near, shape.starter.far], abs=NEAR * max(1.0, *ends))
    assert shape.starter_waste == max(shape.starter.near, shape.starter.far)
    assert math.degrees(math.atan2(high, ends[1] - ends[0])) == pytest.approx(float(shape.starter.lean), abs=1e-6)


@FIXED
@given(SHAPES)
def test_a_shape_is_handed_where_no_turn_makes_its_mirror_image_of_it(shape):
    piece = Polygon(shape.outline())
    mirrored = Polygon([(-x, y) for x, y in shape.outline()])
    differs = not any(_turned_onto(mirrored, piece, k) for k in range(len(shape.outline())))
    assert shape.handed == differs
    assert shape.alternates == (not _turned_onto(Polygon(shape.outline(1)), piece, 0, turn=False))


def _turned_onto(one: Polygon, other: Polygon, k: int, turn: bool = True) -> bool:
    """Whether a polygon, turned so that its k-th edge lies along the other's first one (or
    just moved), covers the other.
    """
    (ax, ay), (bx, by) = other.exterior.coords[0], other.exterior.coords[1]
    points = list(one.exterior.coords)[:-1]
    points = points if one.exterior.is_ccw else points[::-1]
    (cx, cy), (dx, dy) = points[k], points[(k + 1) % len(points)]
    by_angle = math.atan2(by - ay, bx - ax) - math.atan2(dy - cy, dx - cx) if turn else 0.0
    cosine, sine = math.cos(by_angle), math.sin(by_angle)
    laid = Polygon(
        [(ax + (x - cx) * cosine - (y - cy) * sine, ay + (x - cx) * sine + (y - cy) * cosine) for x, y in points]
    )
    return laid.symmetric_difference(other).area < 1e-6 * max(1.0, other.area)


def test_trapezoids_laid_by_turns_as_the_sheet_metal_handbook_lays_them():
    # E. M. Longfield, Sheet Metal Drafting (1921, from memory; Wikisource), chapter 1, problems 4E-4G, p. 25: bases 4
    # 1/2 and 3 1/2 in, height 2 1/2 in: 7 from a width of 30 in, and one blank is 10 sq in (so seven take 28 1/2 in).
    angle = Fraction(math.degrees(math.atan2(2.5, 0.5)))
    blank = Trapezoid(Fraction(5, 2), Fraction(9, 2), angle)
    assert blank.short == pytest.approx(3.5, abs=1e-9)
    assert blank.area == pytest.approx(10, abs=1e-9)
    assert blank.starter_waste + 7 * blank.advance == pytest.approx(28.5, abs=1e-9)
    assert math.floor((30 - blank.starter_waste) / blank.advance) == 7


def test_a_half_hexagon_once_sewn_has_a_base_twice_its_short_edge():
    # Half of a regular hexagon, by Shapely: the finished outline is the cut one with the seam allowance off all round.
    piece = half_hexagon(Fraction(4), Fraction(1, 4))
    sewn = Polygon(piece.outline(1)).buffer(-0.25, join_style="mitre")
    xs = sorted(sewn.exterior.coords, key=lambda point: point[1])
    low, top = xs[0][1], xs[-1][1]
    widths = [
        max(x for x, y in xs if abs(y - edge) < 1e-9) - min(x for x, y in xs if abs(y - edge) < 1e-9)
        for edge in (low, top)
    ]
    assert widths[0] == pytest.approx(2 * widths[1], rel=1e-9)
    assert top - low == pytest.approx(3.5, abs=1e-9)


def test_a_trapezoid_that_leaves_no_shorter_edge_is_refused():
    with pytest.raises(Refusal) as refused:
        Trapezoid(Fraction(4), Fraction(4), Fraction(60))
    assert (refused.value.field, refused.value.code) == ("base", "base_too_short")
    Trapezoid(Fraction(4), Fraction(refused.value.values["least"]) + Fraction(1, 1000), Fraction(60))
