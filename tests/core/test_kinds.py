"""The kinds of cloth with their usual sides."""

from fractions import Fraction

import pytest

from matside import answer
from matside.errors import Refusal
from matside.fields import Fields
from matside.kinds import KINDS, read_cloth


def cloth(**fields):
    """The cloth that a request describes."""
    return read_cloth(Fields(fields, "cloth"), Fraction(4))


@pytest.mark.parametrize(
    "kind, length, width",
    [
        # Usable sides in inches, along the selvage first: common practice, no published source.
        ("fat_quarter", 18, 20),
        ("fat_eighth", 9, 20),
        ("ten_inch_square", 10, 10),
        ("five_inch_square", 5, 5),
        ("narrow_strip", Fraction(5, 2), 42),
        ("full_width_strip", 4, 42),
        ("yardage", 9, 42),
    ],
)
def test_usual_sides(kind, length, width):
    found = cloth(kind=kind)
    assert (found.length, found.width) == (length, width)


@pytest.mark.parametrize("kind, length_mm, width_mm", [("metre_length", 500, 1060), ("metric_fat_quarter", 500, 530)])
def test_metric_sides_are_exact(kind, length_mm, width_mm):
    # Sold by the half metre, and cut from it: common practice, no published source; 1 in = 25.4 mm by NIST Handbook 44,
    # Appendix C [2nd].
    found = cloth(kind=kind)
    assert (found.length * Fraction(254, 10), found.width * Fraction(254, 10)) == (length_mm, width_mm)


def test_a_fat_quarter_is_half_a_yard_by_half_the_width():
    # Common practice, no published source: a half yard is cut in two; selvage and cut take about an inch of the half.
    quarter = cloth(kind="fat_quarter")
    assert quarter.length == Fraction(36, 2)
    assert quarter.length * 2 == 36 and 42 / 2 - quarter.width <= 1
    assert cloth(kind="fat_eighth").length * 2 == quarter.length


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_sides_can_be_changed_for_every_kind(kind):
    found = cloth(kind=kind, length="19 in", width="52 cm")
    assert (found.length, found.width) == (19, Fraction(5200, 254))


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_cloth_of_every_kind_is_answered(kind):
    sides = {"length": 7, "width": 8} if kind == "scrap" else {}
    found = answer({"ask": "cloth", "piece": {"size": 2, "angle": 60}, "cloth": {"kind": kind, **sides}})
    assert found["ok"], found
    assert found["best"]["pieces"] > 0


def test_a_scrap_and_a_cloth_without_kind_need_both_sides():
    for fields, missing in (
        ({"kind": "scrap"}, "length"),
        ({"length": 4}, "width"),
        ({"kind": "scrap", "width": 4}, "length"),
    ):
        with pytest.raises(Refusal) as refused:
            cloth(**fields)
        assert (refused.value.field, refused.value.code) == (f"cloth.{missing}", "length_missing")


def test_a_full_width_strip_narrower_than_the_piece_gives_none_and_says_why():
    found = answer(
        {"ask": "cloth", "piece": {"size": 4, "angle": 60}, "cloth": {"kind": "full_width_strip", "length": 3}}
    )
    assert (found["along_width"]["pieces"], found["along_width"]["reason"]) == (0, "narrow")


def test_the_selvage_side_is_the_kinds_unless_it_is_given():
    # The selvage runs along the length that is cut off the bolt: common practice, no published source.
    assert cloth(kind="yardage").selvage == cloth(kind="fat_quarter").selvage == "length"
    assert cloth(kind="yardage", selvage="width").selvage == "width"
    assert cloth(kind="yardage", selvage="none").selvage is None
    assert cloth(kind="ten_inch_square").selvage is None


@pytest.mark.parametrize(
    "field, value, code",
    [
        ("kind", "bolt", "choice"),
        ("kind", 5, "choice"),
        ("selvage", "left", "choice"),
        ("width", 0, "length_not_positive"),
    ],
)
def test_what_is_no_cloth_is_refused_at_its_field(field, value, code):
    with pytest.raises(Refusal) as refused:
        cloth(**{"kind": "fat_quarter", field: value})
    assert (refused.value.field, refused.value.code) == (f"cloth.{field}", code)


def test_the_kinds_are_listed_with_what_to_ask_for():
    kinds = answer({"ask": "kinds"})["kinds"]
    assert [kind["code"] for kind in kinds] == list(KINDS)
    for kind in kinds:
        assert kind["selvage"] in ("length", "width", None)
        assert kind["unit"] in ("in", "yd", "cm", "m")
        missing = [side for side in ("length", "width") if kind[side] is None]
        # A full-width strip is as wide as its piece; any other side without a usual measure has to be asked for.
        assert set(missing) <= set(kind["asks"]) or kind["code"] == "full_width_strip"


def test_the_sides_listed_are_those_that_are_used():
    for kind in answer({"ask": "kinds"})["kinds"]:
        if kind["length"] and kind["width"]:
            found = answer({"ask": "cloth", "piece": {"size": 2, "angle": 60}, "cloth": {"kind": kind["code"]}})[
                "cloth"
            ]
            assert found == {**{side: kind[side] for side in ("length", "width", "selvage")}, "one_way": False}
