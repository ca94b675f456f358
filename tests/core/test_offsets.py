"""Seam allowances: outlines moved outward with mitred corners, against Shapely's mitred
buffer and the trade's constants.
"""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from matside.quilt.outlines.cuts import half, right_triangle, strip_cut
from matside.quilt.outlines.offsets import offset
from matside.quilt.outlines.polygons import area, rhombus
from matside.quilt.outlines.right_triangle import RightTriangle
from matside.shapes import HalfDiamond

QUARTER = Fraction(1, 4)
#: Mitres of corners down to 7.5° reach 15.3 distances out; Shapely cuts them off beyond its limit.
MITRE_LIMIT = 50
SEAMS = st.sampled_from(
    [Fraction(1, 4), Fraction(100, 254), Fraction(75, 254), Fraction(1, 2)]
)  # ¼ in, 1 cm, 7.5 mm, ½ in
ANGLES = st.integers(15, 90)


def buffered(outline, distance):
    return Polygon(outline).buffer(float(distance), join_style="mitre", mitre_limit=MITRE_LIMIT)


def assert_same(outline, polygon):
    assert Polygon(outline).symmetric_difference(polygon).area < 1e-9


@given(st.floats(0.5, 20), ANGLES, SEAMS)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_diamonds_grow_as_shapelys_mitred_buffer(size, angle, seam):
    edge, turn = size / math.sin(math.radians(angle)), math.radians(angle)
    outline = rhombus((edge, 0.0), (edge * math.cos(turn), edge * math.sin(turn)))
    assert_same(offset(outline, float(seam)), buffered(outline, seam))


@given(st.lists(st.tuples(st.floats(0, 20), st.floats(0, 20)), min_size=3, max_size=8), SEAMS)
@settings(max_examples=80, derandomize=True, deadline=None)
def test_any_convex_outline_grows_as_shapelys_mitred_buffer(points, seam):
    hull = Polygon(points).convex_hull if len(set(points)) > 2 else None
    if hull is None or hull.geom_type != "Polygon" or hull.area < 1:
        return
    outline = tuple(hull.exterior.coords)[:-1]
    outline = outline if area(outline) > 0 else outline[::-1]
    corners = [_corner(outline, k) for k in range(len(outline))]
    if min(corners) < 3 or max(corners) > 179.9:  # Shapely would cut off such a tip, or drop such a point
        return
    assert_same(offset(outline, float(seam)), buffered(outline, seam))


def _corner(outline, k):
    (a, b), (c, d), (e, f) = outline[k - 1], outline[k], outline[(k + 1) % len(outline)]
    return abs(math.degrees(math.remainder(math.atan2(f - d, e - c) - math.atan2(b - d, a - c), math.tau)))


@given(st.floats(0.5, 20), st.integers(15, 165), SEAMS)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_isosceles_triangles_are_cut_as_shapelys_mitred_buffer(height, tip, seam):
    base = 2 * height * math.tan(math.radians(tip) / 2)
    outline = ((-base / 2, 0.0), (base / 2, 0.0), (0.0, height))
    cut = half(height, Fraction(tip), seam)
    assert cut.tip_angle == tip
    # The cut height is rounded at the tenth decimal.
    assert cut.area == pytest.approx(buffered(outline, seam).area, rel=1e-8)


@given(st.floats(0.5, 20), st.floats(0.5, 20), SEAMS)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_right_angled_triangles_are_cut_as_shapelys_mitred_buffer(across, down, seam):
    finished = RightTriangle(across, down)
    low, high = sorted((across, down))
    if math.degrees(math.atan2(low, high)) < 3:
        return
    assert finished.with_seam(float(seam)).area == pytest.approx(buffered(finished.outline(), seam).area, rel=1e-9)


def test_an_equilateral_triangles_strip_is_its_finished_height_and_three_quarters():
    # FACTS, outside values, "arithmetic": finished height + ¾ in at ¼ in seams.
    assert half(3.5, Fraction(60), QUARTER) == HalfDiamond(Fraction(17, 4), Fraction(60), "short")


def test_the_base_of_the_30_30_120_half_grows_by_two_seams_times_the_cotangent_of_15():
    height = 2.0
    grown = half(height, Fraction(120), QUARTER).base - 2 * height * math.tan(math.radians(60))
    assert grown == pytest.approx(2 * 0.25 / math.tan(math.radians(15)), abs=1e-9)


def test_half_square_triangles_grow_by_0_8536():
    # FACTS, outside values, "arithmetic": exact 0.8536 in (custom ⅞).
    grown = right_triangle(((0, 0), (3, 0), (0, 3)), QUARTER)
    assert round(grown.across - 3, 4) == round(grown.down - 3, 4) == 0.8536


def test_quarter_square_triangles_grow_by_1_2071_along_their_long_edge():
    # FACTS, outside values, "arithmetic": exact 1.2071 in (custom 1¼).
    assert round(half(1.5, Fraction(90), QUARTER).base - 3, 4) == 1.2071


@given(st.floats(2, 30), st.floats(0.3, 1.5), st.integers(20, 90), st.integers(20, 90), SEAMS)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_strips_with_slanted_ends_are_as_long_as_shapelys_mitred_buffer(length, width, first, last, seam):
    inset = [width / math.tan(math.radians(angle)) for angle in (first, last)]
    outline = ((0.0, 0.0), (length + sum(inset), 0.0), (length + inset[0], width), (inset[0], width))
    cut, ends = strip_cut(outline, (1.0, 0.0), Fraction(width), seam)
    left, _, right, _ = buffered(outline, seam).bounds
    assert float(cut.length) == pytest.approx(right - left, abs=1e-8)
    assert sorted(ends.angles) == pytest.approx(sorted((first, last)), abs=1e-5)
    assert cut.size == Fraction(width) + 2 * seam
