"""Pieces as a request describes them: every measure of a diamond means the same diamond."""

import math
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from matside import answer
from matside.errors import Refusal
from matside.fields import Fields
from matside.pieces import MEASURES, read_diamond, read_piece
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle

FIXED = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow], max_examples=150
)
SIZES = st.integers(2, 200).map(lambda eighths: Fraction(eighths, 8)) | st.integers(7, 500).map(
    lambda mm: Fraction(mm * 10, 254)
)
ANGLES = st.sampled_from((15, 30, 45, 60, 72, 90)).map(Fraction) | st.integers(60, 360).map(
    lambda quarters: Fraction(quarters, 4)
)


def piece(**measures) -> dict:
    """The answer to the ask `piece`."""
    found = answer({"ask": "piece", "piece": {"shape": "diamond", **measures}})
    assert found["ok"], found
    return found


def refused(**fields) -> tuple[str, str]:
    """Field and code of the refusal that a piece ends in."""
    with pytest.raises(Refusal) as refusal:
        read_piece(Fields(fields, "piece"))
    return refusal.value.field, refusal.value.code


@FIXED
@given(SIZES, ANGLES)
@example(Fraction(31, 8), Fraction(60))
@example(Fraction(1, 4), Fraction(30))
def test_a_diamond_is_the_same_by_each_of_its_measures(size, angle):
    # The measure goes out as a float and comes back; the size must be exactly the one it came from, as a size a hair
    # too large would not fit the strip it was cut from.
    first = piece(size=f"{size.numerator}/{size.denominator}", angle=float(angle))
    for measure in ("edge", "short_diagonal", "long_diagonal"):
        assert read_piece(Fields({measure: first[measure], "angle": float(angle)})).size == size
    for seam in ("1/4", "1/8 in", "0"):
        by_finished = {"finished_size": f"{size.numerator}/{size.denominator}", "angle": float(angle), "seam": seam}
        assert piece(**by_finished)["size"] == pytest.approx(float(size + 2 * Fraction(seam.split()[0])), rel=1e-15)


@FIXED
@given(st.integers(16, 200).map(lambda eighths: Fraction(eighths, 8)), ANGLES, st.sampled_from(MEASURES))
def test_the_measures_of_an_answer_follow_the_geometry(size, angle, measure):
    # s = h / sin θ; diagonals 2·s·sin θ/2 and 2·s·cos θ/2; finished = cut − 2 × seam; school geometry, from memory.
    given_measure = f"{size.numerator}/{size.denominator}"
    found = piece(**{measure: given_measure, "angle": float(angle)})
    half, edge = math.radians(float(angle)) / 2, found["edge"]
    assert found[measure] == pytest.approx(float(size), rel=1e-9)
    assert found["size"] == pytest.approx(edge * math.sin(2 * half), rel=1e-9)
    assert found["short_diagonal"] == pytest.approx(2 * edge * math.sin(half), rel=1e-9)
    assert found["long_diagonal"] == pytest.approx(2 * edge * math.cos(half), rel=1e-9)
    assert found["finished_size"] == pytest.approx(found["size"] - 0.5, abs=1e-9)
    assert found["area"] == pytest.approx(Polygon(found["outline"]).area, rel=1e-9)
    assert (found["angle"], found["seam"]) == (float(angle), 0.25)


@pytest.mark.parametrize("angle, factor", [(60, 1.1547), (45, 1.4142), (30, 2.0)])
def test_edge_of_a_diamond_from_its_strip(angle, factor):
    # Arithmetic that trade handbooks print to four decimals. From memory.
    assert piece(size=1, angle=angle)["edge"] == pytest.approx(factor, abs=5e-5)


def test_a_60_degree_diamond():
    # Short diagonal = edge, long diagonal = 2 × size: two equilateral triangles back to back. From memory.
    found = piece(size="4 1/2 in", angle="60°")
    assert found["short_diagonal"] == pytest.approx(found["edge"], rel=1e-12)
    assert found["long_diagonal"] == pytest.approx(9, rel=1e-12)
    assert found["finished_size"] == 4


def test_finished_size_takes_its_own_seam():
    assert read_piece(Fields({"finished_size": 4, "angle": 60})).size == Fraction(9, 2)
    assert read_piece(Fields({"finished_size": "10 cm", "angle": 60, "seam": "7.5 mm"})).size == Fraction(1150, 254)


def test_every_shape_takes_its_own_measures():
    assert read_piece(Fields({"size": 4, "angle": 60})) == Diamond(Fraction(4), Fraction(60))
    assert read_piece(Fields({"shape": "half-diamond", "size": 4, "angle": 60})) == HalfDiamond(
        Fraction(4), Fraction(60), "short"
    )
    assert read_piece(Fields({"shape": "half-diamond", "size": 4, "angle": 60, "cut": "long"})).base == pytest.approx(
        8 * math.sqrt(3)
    )
    assert read_piece(Fields({"shape": "parallelogram", "size": 2, "across": 3, "angle": 45})) == Parallelogram(
        Fraction(2), Fraction(3), Fraction(45)
    )
    assert read_piece(Fields({"shape": "rectangle", "size": "2 1/2", "length": "1 yd"})) == Rectangle(
        Fraction(5, 2), Fraction(36)
    )


@pytest.mark.parametrize(
    "fields, field, code",
    [
        ({"angle": 60}, "piece.size", "length_missing"),
        ({"size": 4}, "piece.angle", "angle_missing"),
        ({"size": 4, "edge": 4, "angle": 60}, "piece.edge", "measures_too_many"),
        ({"finished_size": 4, "long_diagonal": 4, "angle": 60}, "piece.long_diagonal", "measures_too_many"),
        ({"size": "1/8", "angle": 60}, "piece.size", "piece_too_small"),
        ({"edge": "1/4", "angle": 60}, "piece.edge", "piece_too_small"),
        ({"short_diagonal": "1/100", "angle": 60}, "piece.short_diagonal", "piece_too_small"),
        ({"finished_size": "1/8", "seam": "1/32", "angle": 60}, "piece.finished_size", "piece_too_small"),
        ({"finished_size": 39_999.75, "angle": 60}, "piece.finished_size", "length_too_large"),
        ({"finished_size": 4, "seam": "-1/4", "angle": 60}, "piece.seam", "length_negative"),
        ({"size": 4, "angle": 14.9}, "piece.angle", "angle_outside"),
        ({"size": 4, "angle": 91}, "piece.angle", "angle_outside"),
        ({"shape": "hexagon", "size": 4, "angle": 60}, "piece.shape", "choice"),
        ({"shape": ["diamond"], "size": 4, "angle": 60}, "piece.shape", "choice"),
        ({"shape": "half-diamond", "size": 4, "angle": 60, "cut": "askew"}, "piece.cut", "choice"),
        ({"shape": "half-diamond", "angle": 60}, "piece.size", "length_missing"),
        ({"shape": "parallelogram", "size": 4, "angle": 60}, "piece.across", "length_missing"),
        ({"shape": "parallelogram", "size": 4, "across": "0.1", "angle": 60}, "piece.across", "piece_too_small"),
        ({"shape": "rectangle", "size": 4}, "piece.length", "length_missing"),
        ({"shape": "rectangle", "size": 4, "length": "1/8"}, "piece.length", "piece_too_small"),
    ],
)
def test_what_describes_no_piece_is_refused_at_its_field(fields, field, code):
    assert refused(**fields) == (field, code)


def test_only_a_diamond_has_all_the_measures_of_a_diamond():
    with pytest.raises(Refusal) as refusal:
        read_diamond(Fields({"shape": "rectangle", "size": 4, "length": 4}, "piece"))
    assert (refusal.value.field, refusal.value.code) == ("piece.shape", "choice")
