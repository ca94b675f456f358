"""What a strip gives: facts of the trade, and laws that hold for every strip."""

import math
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle
from matside.strips import needed_length, pieces_in, strip_yield

FIXED = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow], max_examples=150
)
SIZES = st.integers(2, 96).map(lambda eighths: Fraction(eighths, 8)) | st.integers(7, 300).map(
    lambda mm: Fraction(mm * 10, 254)
)
ANGLES = st.sampled_from((15, 30, 45, 60, 72, 90)).map(Fraction) | st.integers(60, 360).map(
    lambda quarters: Fraction(quarters, 4)
)
DIAMONDS = st.builds(Diamond, SIZES, ANGLES)
SHAPES = st.one_of(
    DIAMONDS,
    st.builds(Parallelogram, SIZES, SIZES, ANGLES),
    st.builds(HalfDiamond, SIZES, ANGLES, st.sampled_from(("short", "long"))),
    st.builds(Rectangle, SIZES, SIZES),
)
LENGTHS = st.integers(1, 16 * 200).map(lambda sixteenths: Fraction(sixteenths, 16))
# A hair: well above the noise of floats at these lengths and the 1e-9 in that counts as "the same length",
# and a thousandth of what a quilter could see.
HAIR = 1e-6


@pytest.mark.parametrize("size, pieces", [(4, 8), (8, 4)])
def test_60_degree_diamonds_from_a_full_width_strip(size, pieces):
    # About 42 in of usable width: common practice, no published source.
    assert strip_yield(Diamond(Fraction(size), Fraction(60)), Fraction(42)).pieces == pieces


def test_four_8_inch_diamonds_need_a_little_over_41_and_a_half():
    # Common practice, no published source: so a narrow cloth gives three, and the answer must say how near it was.
    diamond = Diamond(Fraction(8), Fraction(60))
    assert 41.5 < needed_length(diamond, 4) < 41.625
    narrow = strip_yield(diamond, Fraction(83, 2))
    assert narrow.pieces == 3
    assert 0 < narrow.short_by < 1 / 8
    assert strip_yield(diamond, Fraction(333, 8)).pieces == 4


@FIXED
@given(SHAPES, LENGTHS)
def test_short_by_gives_exactly_one_more_and_a_hair_less_does_not(shape, length):
    found = strip_yield(shape, length)
    assert found.short_by > 0
    assert strip_yield(shape, float(length) + found.short_by).pieces == found.pieces + 1
    assert strip_yield(shape, max(0.0, float(length) + found.short_by - HAIR)).pieces <= found.pieces


@FIXED
@given(SHAPES, LENGTHS)
def test_as_many_pieces_lie_in_the_strip_as_counted_and_the_next_one_does_not(shape, length):
    # Shapely looks at the outlines themselves; the buffer is the "same length" of 1e-9 in with room for float noise.
    strip = box(0, 0, float(length), float(shape.size)).buffer(1e-8, join_style="mitre")
    found = strip_yield(shape, length)
    lying = [strip.contains(Polygon(shape.outline(k))) for k in range(min(found.pieces, 3))]
    last_and_next = [strip.contains(Polygon(shape.outline(k))) for k in (found.pieces - 1, found.pieces) if k >= 0]
    assert all(lying)
    assert last_and_next == [True, False][-len(last_and_next) :]


@FIXED
@given(SHAPES, LENGTHS)
def test_the_strip_is_accounted_for(shape, length):
    found = strip_yield(shape, length)
    taken = found.starter_waste + found.pieces * found.advance
    if float(length) >= found.starter_waste:
        assert taken + found.left_over == pytest.approx(float(length), abs=1e-8)
        assert 0 <= found.left_over < found.advance
        assert found.left_over + found.short_by == pytest.approx(found.advance, abs=1e-8)
    else:
        assert (found.pieces, found.left_over) == (0, float(length))
        assert found.short_by == pytest.approx(found.starter_waste + found.advance - float(length), abs=1e-8)


@FIXED
@given(SHAPES, LENGTHS)
def test_never_more_pieces_than_the_area_allows(shape, length):
    triangle_of_waste = shape.starter_waste * float(shape.size) / 2
    pieces = strip_yield(shape, length).pieces
    assert pieces == 0 or pieces * shape.area + triangle_of_waste <= float(length * shape.size) * (1 + 1e-9)


@FIXED
@given(SHAPES, LENGTHS, LENGTHS)
def test_a_longer_strip_never_gives_fewer(shape, length, more):
    assert strip_yield(shape, length + more).pieces >= strip_yield(shape, length).pieces


@FIXED
@given(SHAPES, st.integers(1, 500))
@example(Diamond(Fraction(1, 4), Fraction(15)), 40_000)
def test_a_strip_of_exactly_the_needed_length_gives_its_pieces(shape, pieces):
    needed = needed_length(shape, pieces)
    assert strip_yield(shape, needed).pieces == pieces_in(shape, needed) == pieces
    assert strip_yield(shape, needed - HAIR).pieces == pieces - 1


@FIXED
@given(SIZES, SIZES, LENGTHS)
def test_square_cuts_are_counted_as_whole_numbers_divide(size, across, length):
    # Without a slant everything is rational: Python's own exact division is the reference.
    for shape in (Rectangle(size, across), Parallelogram(size, across, Fraction(90))):
        assert strip_yield(shape, length).pieces == length // across


@FIXED
@given(st.integers(2, 64), st.integers(1, 100))
def test_30_degree_edges_and_45_degree_waste_come_out_whole(eighths, pieces):
    # At 30° an edge is exactly twice the size; at 45° the starter waste is exactly the size: nothing is lost to noise.
    size = Fraction(eighths, 8)
    assert Diamond(size, Fraction(30)).edge == 2 * size
    assert Diamond(size, Fraction(45)).starter_waste == size


@FIXED
@given(SHAPES, LENGTHS)
def test_both_ways_of_counting_agree(shape, length):
    assert pieces_in(shape, length) == strip_yield(shape, length).pieces


@pytest.mark.parametrize("length", [0, 0.0, 1e-300])
def test_no_strip_gives_no_piece_and_says_what_is_missing(length):
    diamond = Diamond(Fraction(4), Fraction(60))
    found = strip_yield(diamond, length)
    assert (found.pieces, pieces_in(diamond, length), needed_length(diamond, 0)) == (0, 0, 0.0)
    assert found.short_by == pytest.approx(4 / math.tan(math.radians(60)) + 4 / math.sin(math.radians(60)), rel=1e-12)


@FIXED
@given(DIAMONDS, LENGTHS)
def test_yield_follows_the_formula(diamond, length):
    # pieces = ⌊(L − h·cot θ) / (h / sin θ)⌋, worked out with sines and cosines of radians; strips within a hair of a
    # whole number of pieces are left to the tests above.
    theta, h = math.radians(float(diamond.angle)), float(diamond.size)
    share = (float(length) - h * math.cos(theta) / math.sin(theta)) * math.sin(theta) / h
    assume(abs(share - round(share)) > 1e-9)
    assert strip_yield(diamond, length).pieces == max(0, math.floor(share))
