"""What a number rests on: margins by shrinking a side step by step, smaller cloths by brute
force, sure layouts by Shapely.
"""

import dataclasses
import math
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from amounts import examples
from matside import answer
from matside.cloth import Cloth, best_way, fits, most_pieces, one_way
from matside.margins import KEEPS, SMALLER, known_as, margin_at_best, margin_one_way, on_the_whole, sure_way
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle
from test_cloth import ANGLES, FIXED, NEAR, SHAPES, SIDES, SIZES, check_layout, most_by_brute_force, pieces

WAYS = ("along_length", "along_width", "best")
#: A hair of 1e-6 in: above the 1e-9 in that count as the same length, far below what can be cut.
HAIR = Fraction(1, 1_000_000)


def asked(piece: dict, **cloth) -> dict:
    found = answer({"ask": "cloth", "piece": {"shape": "diamond", "angle": 60, **piece}, "cloth": cloth})
    assert found["ok"], found
    return found


def ready_cut(shape, cloth: Cloth) -> bool:
    return shape.size in (cloth.length, cloth.width)


# --- By hand --------------------------------------------------------------------------------------------------------


def test_the_most_from_a_fat_quarter_takes_all_of_one_side_and_the_other_way_has_room():
    """Five strips of 4 in take all of 20 in; three diamonds take 3·4/sin 60° + 4·cot 60° of the 18;
    four strips leave 2 in of it.
    """
    found = asked({"size": 4}, kind="fat_quarter")
    needed = 3 * 4 / math.sin(math.radians(60)) + 4 / math.tan(math.radians(60))
    assert found["along_length"]["margin"] == {"length": pytest.approx(18 - needed), "width": 0}
    assert found["along_width"]["margin"] == {"length": 2, "width": pytest.approx(20 - needed)}
    assert found["along_length"]["if_smaller"] == [{"by": 0.25, "pieces": 12}, {"by": 0.5, "pieces": 12}]
    assert found["along_width"]["if_smaller"] == [{"by": 0.25, "pieces": 12}, {"by": 0.5, "pieces": 12}]


def test_the_mix_from_a_fat_quarter_has_next_to_nothing_to_spare():
    """44 of 2½ in: 0.01 in on one side, nothing on the other; seven strips the long way leave half
    an inch and more, and give 42.
    """
    found = asked({"size": "2 1/2"}, kind="fat_quarter")
    assert found["best"]["pieces"] == 44
    assert found["best"]["margin"] == {"length": pytest.approx(0.0096, abs=1e-4), "width": 0}
    assert (found["sure"]["pieces"], found["sure"]["way"], found["sure"]["keeps"]) == (42, "along_width", 0.5)


@pytest.mark.parametrize(("width", "tight"), [(21.2, ["piece"]), (21.29, []), (21.5, [])])
def test_with_less_than_half_an_inch_to_spare_it_is_tight(width, tight):
    """Four diamonds of 4 in take 4·4/sin 60° + 4·cot 60° = 20.785 in. Half an inch: common practice, no published source."""
    found = asked({"size": 4}, length=18, width=width)["along_width"]
    assert found["needed_length"] == pytest.approx(4 * 4 / math.sin(math.radians(60)) + 4 / math.tan(math.radians(60)))
    assert found["tight"] == tight


def test_a_ready_cut_strip_loses_only_of_its_run():
    for cloth in ({"kind": "full_width_strip"}, {"length": 4, "width": 42}, {"length": 42, "width": 4}):
        found = asked({"size": 4}, **cloth)
        assert [step["pieces"] for step in found["best"]["if_smaller"]] == [8, 8]
        assert found["sure"]["pieces"] == 8
        assert min(found["best"]["margin"].values()) == 0
    # Four of 8 in take 41.57 in of strip, which 42 in have and 41¾ in have too, but 41½ in do not.
    found = asked({"size": 8}, kind="full_width_strip")
    assert [step["pieces"] for step in found["along_width"]["if_smaller"]] == [4, 3]
    assert (found["best"]["pieces"], found["sure"]["pieces"]) == (4, 3)


def test_a_cloth_as_wide_as_the_piece_both_ways_is_a_strip_either_way():
    found = asked({"shape": "rectangle", "size": 5, "length": 3}, kind="five_inch_square")
    assert [found[way]["if_smaller"] for way in WAYS] == [[{"by": 0.25, "pieces": 1}, {"by": 0.5, "pieces": 1}]] * 3


def test_no_pieces_leave_the_whole_cloth_to_spare():
    found = asked({"size": 8}, length=3, width="0.4 in")
    for way in WAYS:
        assert found[way]["margin"] == {"length": 3, "width": 0.4}
        assert found[way]["if_smaller"] == [{"by": 0.25, "pieces": 0}, {"by": 0.5, "pieces": 0}]
    assert found["sure"]["pieces"] == 0 and found["sure"]["layout"] == {"drawn": True, "division": None, "strips": []}


def test_a_side_that_is_used_up_gives_none():
    found = asked({"shape": "rectangle", "size": 1, "length": "1/4"}, length=3, width="1/4")
    assert found["best"]["pieces"] == 3
    assert [step["pieces"] for step in found["best"]["if_smaller"]] == [0, 0] and found["sure"]["pieces"] == 0


# --- A side made smaller step by step -------------------------------------------------------------------------------


def with_side(cloth: Cloth, side: str, length: Fraction) -> Cloth:
    return dataclasses.replace(cloth, **{side: length})


STEP = Fraction(1, 16)


@settings(FIXED, max_examples=60)
@given(SHAPES, SIDES, SIDES, st.sampled_from(("length", "width")))
@example(Diamond(Fraction(5, 2), Fraction(60)), Fraction(18), Fraction(20), "length")
@example(Rectangle(Fraction(2), Fraction(3)), Fraction(5), Fraction(6), "width")
def test_a_side_may_be_smaller_by_just_its_margin_whichever_way_is_cut(shape, length, width, side):
    cloth = Cloth(length, width)
    most, steps = best_way(shape, cloth).pieces, 0
    margin = getattr(margin_at_best(shape, cloth, most), side)
    if not most:
        assert margin == float(cloth.side(side))
        return
    while (
        cloth.side(side) > (steps + 1) * STEP
        and best_way(shape, with_side(cloth, side, cloth.side(side) - (steps + 1) * STEP)).pieces == most
    ):
        steps += 1
    assert steps * STEP - NEAR <= margin < (steps + 1) * STEP + NEAR


@settings(FIXED, max_examples=300)
@given(SHAPES, SIDES, SIDES, st.sampled_from(("length", "width")))
def test_at_the_margin_there_are_as_many_and_a_hair_beyond_it_fewer(shape, length, width, side):
    cloth = Cloth(length, width)
    found = {"best": (best_way(shape, cloth).pieces, margin_at_best(shape, cloth, best_way(shape, cloth).pieces))}
    for along in ("length", "width"):
        way = one_way(shape, cloth, along)
        found[along] = way.pieces, margin_one_way(shape, cloth, way)

    def given_by(name: str, smaller: Cloth) -> int:
        return (best_way(shape, smaller) if name == "best" else one_way(shape, smaller, name)).pieces

    for name, (count, margin) in found.items():
        least = cloth.side(side) - Fraction(getattr(margin, side))
        assert getattr(margin, side) == 0 or getattr(margin, side) > 1e-9
        if count:
            assert given_by(name, with_side(cloth, side, least)) == count
            assert given_by(name, with_side(cloth, side, least - HAIR)) < count


@FIXED
@given(SHAPES, SIDES, SIDES)
def test_the_most_by_number_alone_is_the_best_ways(shape, length, width):
    assert most_pieces(shape, length, width) == best_way(shape, Cloth(length, width)).pieces
    assert most_pieces(shape, length, Fraction(0)) == most_pieces(shape, Fraction(-1), width) == 0


# --- Smaller cloths -------------------------------------------------------------------------------------------------


@settings(FIXED, max_examples=examples(20, 3))
@given(pieces(), SIDES, SIDES)
def test_a_smaller_cloth_gives_what_brute_force_finds_and_never_more(piece, length, width):
    found = asked(piece, length=str(length), width=str(width))
    size = Fraction(piece["size"])
    for step, by in enumerate(SMALLER):
        assert found["best"]["if_smaller"][step]["by"] == by
        shrunk = (
            [(length - by, width - by)]
            if size not in (length, width)
            else [(length, width - by)] * (size == length) + [(length - by, width)] * (size == width)
        )
        expected = [
            most_by_brute_force(shape_of(piece), *map(float, sides)) if min(sides) > 0 else 0 for sides in shrunk
        ]
        assert found["best"]["if_smaller"][step]["pieces"] == max(expected)
        for way in WAYS:
            steps = [found[way]["pieces"], *(each["pieces"] for each in found[way]["if_smaller"])]
            assert steps == sorted(steps, reverse=True)


def shape_of(piece: dict):
    size, angle = Fraction(piece["size"]), Fraction(piece.get("angle", 90))
    if piece["shape"] == "rectangle":
        return Rectangle(size, Fraction(piece["length"]))
    if piece["shape"] == "half-diamond":
        return HalfDiamond(size, angle, piece["cut"])
    return (
        Diamond(size, angle) if piece["shape"] == "diamond" else Parallelogram(size, Fraction(piece["across"]), angle)
    )


@FIXED
@given(st.builds(Diamond, SIZES, ANGLES), SIDES, SIDES, st.sampled_from(("length", "width")), st.sampled_from(SMALLER))
def test_a_smaller_cloth_cut_one_way_gives_its_strips_times_their_pieces(shape, length, width, along, by):
    cloth = Cloth(length, width)
    found = asked({"size": str(shape.size), "angle": float(shape.angle)}, length=str(length), width=str(width))[
        f"along_{along}"
    ]
    run, across = (length, width) if along == "length" else (width, length)
    across -= 0 if ready_cut(shape, cloth) and across == shape.size else by
    run -= 0 if ready_cut(shape, cloth) and run == shape.size and across != shape.size else by
    strips, per_strip = (
        max(0, math.floor(across / shape.size)),
        math.floor((float(run) - shape.starter_waste + 1e-9) / shape.advance),
    )
    assert next(step["pieces"] for step in found["if_smaller"] if step["by"] == by) == strips * max(0, per_strip)


# --- Sure -----------------------------------------------------------------------------------------------------------


@settings(FIXED, max_examples=60)
@given(pieces(), SIDES, SIDES)
def test_a_sure_layout_keeps_half_an_inch_each_way_and_none_that_does_gives_more(piece, length, width):
    found = asked(piece, length=str(length), width=str(width))
    sure, size = found["sure"], Fraction(piece["size"])
    assert sure["keeps"] == KEEPS == Fraction(1, 2)
    if size in (length, width):
        return
    sides = length - KEEPS, width - KEEPS
    assert sure["pieces"] == (most_by_brute_force(shape_of(piece), *map(float, sides)) if min(sides) > 0 else 0)
    check_layout(sure, piece, *map(float, sides))
    outlines = [Polygon(outline) for strip in sure["layout"]["strips"] for outline in strip["outlines"]]
    inside = box(0, 0, *map(float, sides)).buffer(NEAR, join_style="mitre") if min(sides) > 0 else Polygon()
    assert all(inside.covers(outline) for outline in outlines)
    assert sure["used_share"] == pytest.approx(sum(outline.area for outline in outlines) / float(length * width))
    assert sure["grain_mixed"] == (len({strip["along"] for strip in sure["layout"]["strips"]}) > 1)


@pytest.mark.every(5)
@pytest.mark.parametrize("size", ["1 1/2", "2", "2 1/2", "3", "3 1/2", "4", "5", "6", "8"])
@pytest.mark.parametrize(
    "kind", ["fat_quarter", "fat_eighth", "yardage", "ten_inch_square", "full_width_strip", "metric_fat_quarter"]
)
def test_the_guide_cuts_just_the_sure_way_under_the_name_that_the_answer_gives(kind, size):
    piece, cloth = {"shape": "diamond", "size": size, "angle": 60}, {"kind": kind}
    sure = asked(piece, **cloth)["sure"]
    if not sure["pieces"]:
        return
    script = answer({"ask": "guide", "piece": piece, "cloth": cloth, "way": sure["way"]})["script"]
    assert sorted(strip["planned"] for strip in script["strips"]) == sorted(
        strip["count"] for strip in sure["layout"]["strips"]
    )


def test_the_guide_cuts_as_many_cloths_as_are_asked_for_one_after_another():
    request = {"ask": "guide", "piece": {"shape": "diamond", "size": 4, "angle": 60}, "way": "along_length"}
    one, three = (
        answer({**request, "cloth": {"kind": "fat_quarter", **count}})["script"] for count in ({}, {"count": 3})
    )
    assert len(one["cloths"]) == 1 and three["cloths"] == one["cloths"] * 3
    assert [strip["cloth"] for strip in three["strips"]] == [0] * 5 + [1] * 5 + [2] * 5
    assert [strip["planned"] for strip in three["strips"]] == [3] * 15
    assert {cloth["id"] for cloth in three["cloths"]} == {"fat_quarter"}
    named = answer({**request, "cloth": {"kind": "fat_quarter", "id": "honey", "count": 2}})["script"]
    assert [step["values"]["name"] for step in named["steps"] if step["do"] == "swap"] == ["honey"]
    for count, field in (
        (0, "cloth.count"),
        (1001, "cloth.count"),
        (1000, "cloth"),
    ):  # 15,000 are more than a guide takes
        assert answer({**request, "cloth": {"kind": "fat_quarter", "count": count}})["error"]["field"] == field


@settings(FIXED, max_examples=150)
@given(SHAPES, SIDES, SIDES)
def test_a_sure_way_has_the_name_of_the_way_that_it_is(shape, length, width):
    cloth = Cloth(length, width)
    sure, ways = sure_way(shape, cloth), [one_way(shape, cloth, along) for along in ("length", "width")]
    whole, name = on_the_whole(sure, cloth), known_as(cloth, sure, [*ways, best_way(shape, cloth)])
    assert (whole.pieces, whole.strips) == (sure.pieces, sure.strips)
    for way in ways:
        same = not sure.division and {part.along for part in sure.parts} == {way.parts[0].along}
        same = same and (sure.pieces, sure.strips) == (way.pieces, way.strips) and way.pieces > 0
        assert (name == way.name) == same
    assert all(part.x + part.length <= length and part.y + part.width <= width for part in whole.parts)
    for part in whole.parts:
        assert part.strips <= fits(part.across, shape.size)
        assert part.x + part.length in (length, *(sure.division or ())[1:])
        assert part.y + part.width in (width, *(sure.division or ())[1:])


# --- Head down, one way, and what is left -----------------------------------------------------------------------------


def test_every_second_half_diamond_of_a_strip_lies_head_down():
    found = asked({"shape": "half-diamond", "size": 3}, kind="fat_quarter")
    for way in ("along_length", "along_width"):
        strips = found[way]["layout"]["strips"]
        assert (
            found[way]["head_down"]
            == sum(1 for strip in strips for outline in strip["outlines"] if not tip_like_the_first(strip, outline))
            > 0
        )
    assert found["best"]["head_down"] > 0 and found["sure"]["head_down"] > 0
    assert asked({"size": 3}, kind="fat_quarter")["best"]["head_down"] == 0


def tip_like_the_first(strip: dict, outline) -> bool:
    """Whether a triangle has as many corners on the strip's first edge as the first one has."""
    axis, base = (1, strip["y"]) if strip["along"] == "length" else (0, strip["x"])
    on_edge = [sum(abs(corner[axis] - base) < 1e-6 for corner in each) for each in (strip["outlines"][0], outline)]
    return on_edge[0] == on_edge[1]


def test_a_one_way_print_is_told_again():
    assert asked({"size": 4}, kind="fat_quarter")["cloth"]["one_way"] is False
    assert asked({"size": 4}, kind="fat_quarter", one_way=True)["cloth"]["one_way"] is True
    refused = answer(
        {
            "ask": "cloth",
            "piece": {"shape": "diamond", "size": 4, "angle": 60},
            "cloth": {"kind": "fat_quarter", "one_way": "yes"},
        }
    )
    assert refused["error"]["field"] == "cloth.one_way"


@FIXED
@given(pieces(), SIDES, SIDES)
def test_a_sliver_is_not_told_as_left_over(piece, length, width):
    found = asked(piece, length=str(length), width=str(width))
    for way in (*WAYS, "sure"):
        assert all(min(rest) >= 2 - NEAR for rest in found[way]["left_whole"])
    # Along the length, what is left lies beside the strips over the whole of it.
    beside = width - (
        found["along_length"]["strips"] * Fraction(piece["size"]) if found["along_length"]["pieces"] else 0
    )
    assert bool(found["along_length"]["left_whole"]) == (beside >= 2 and length >= 2)
