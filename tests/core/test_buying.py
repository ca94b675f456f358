"""The buying list against arithmetic worked by hand, the trade's own figures, and brute force."""

import itertools
import math
import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import examples
from buying_exact import fewest_quarters
from matside import answer
from matside.buying.bolt import STEPS, Cloth, cut_from
from matside.buying.demands import Chain, Pieces
from matside.buying.fat_quarters import FatQuarter, quarters_for
from matside.buying.kits import Kits, kit_ways
from matside.buying.packing import Part, filled
from matside.buying.strips import strips_for
from matside.plan.planning import Planner
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle

DIAMOND = {"id": "d", "size": 4, "angle": 60}


def buying(**fields):
    found = answer({"ask": "buying", **fields})
    assert found["ok"], found["error"]
    return found


def line(**fields):
    return buying(**fields)["fabrics"][0]


def test_eleven_strips_of_8_inches_give_the_41_pieces_of_a_throw():
    # Common practice, no published source: eleven full-width 8-inch strips, four to a strip,
    # give the 41 pieces of a throw.
    found = line(quilt={"piece": {"size": 8, "angle": 60}, "columns": 5, "rows": 5, "edge": "pointed"})
    assert sum(strips["times"] for strips in found["strips"]) == 11
    assert found["strips"][0]["gives"] == {"diamond/patchwork": 4}
    assert found["cut_length"] == 88


def test_lengths_by_hand():
    # 17 four-inch diamonds of 60°: eight to a strip of 42 in, so three strips, 12 in; 1 in to straighten: 13 in. The
    # next eighths of a yard are 13½ in.
    found = line(pieces=[{**DIAMOND, "need": 17}])
    assert [(strips["size"], strips["times"], strips["gives"]) for strips in found["strips"]] == [
        (4, 2, {"d": 8}),
        (4, 1, {"d": 1}),
    ]
    assert (found["cut_length"], found["needed"], found["buy"], found["buy_yards"]) == (12, 13, 13.5, 0.375)


def test_shrinkage_by_hand():
    # ISO 5077: 100 · (after − before) / before. 3 % along: 13 in after washing are 13 / 0.97 = 13.402 in before. 5 %
    # across: 42 in become 39.9, which still hold eight (39.26 in).
    found = line(pieces=[{**DIAMOND, "need": 17}], shrink={"length": 3, "width": 5})
    assert found["width_after"] == 39.9
    assert found["needed"] == pytest.approx(13.402, abs=0.001) and found["buy"] == 13.5
    # 7 % across leaves 39.06 in and seven to a strip.
    assert line(pieces=[{**DIAMOND, "need": 17}], shrink={"width": 7})["strips"][0]["gives"] == {"d": 7}


def test_rounding_to_ten_centimetres():
    # 13 in are 33.02 cm: 40 cm are bought.
    found = line(pieces=[{**DIAMOND, "need": 17}], round_to="ten_cm")
    assert found["buy_metres"] == pytest.approx(0.4) and found["buy"] == pytest.approx(40 / 2.54)


def test_a_length_that_the_shop_measures_is_not_rounded_up():
    assert line(pieces=[{**DIAMOND, "need": 8}], straighten="1/2 in")["buy"] == 4.5


def test_spare_pieces_by_hand():
    # 41 and 5 % (2.05, so 3) and 2 more.
    found = line(
        pieces=[{**DIAMOND, "need": 41}, {**DIAMOND, "id": "none", "need": 0}], spare={"percent": 5, "pieces": 2}
    )
    assert found["wanted"] == {"d": 46, "none": 0}


def test_needing_nothing_buys_nothing_and_says_so():
    found = line(pieces=[{**DIAMOND, "need": 0}])
    assert (found["buy"], found["strips"], found["reason"]) == (0, [], "nothing_needed")


def test_what_the_cloth_cannot_give_is_named():
    # An 8-inch 60° diamond takes 4.62 + 9.24 = 13.86 in of strip.
    found = line(pieces=[{**DIAMOND, "size": 8, "need": 3}, {**DIAMOND, "id": "small", "need": 1}], usable_width=12)
    assert [(one["id"], one["reason"]) for one in found["cannot"]] == [("d", "too_long_for_width")]
    assert found["cannot"][0]["needs"] == pytest.approx(12 / math.sin(math.radians(60)))
    assert found["strips"][0]["gives"] == {"small": 1}


def test_an_inch_of_width_more_or_less():
    # Four 8-inch diamonds need 41.57 in of width: at 41 in there are three to a strip, fourteen strips, 112 + 1 in.
    found = line(pieces=[{**DIAMOND, "size": 8, "need": 41}])
    fewer, more = found["other_widths"]
    assert (fewer["usable_width"], fewer["buy"], fewer["changes_by"]) == (41, 117, 27)
    assert (more["usable_width"], more["buy"], more["changes_by"]) == (43, 90, 0)


@pytest.mark.parametrize(("by", "price"), [("yd", 2.5 * 12), ("m", 2.286 * 12), ("fat_quarter", 12 * 21)])
def test_prices_by_hand(by, price):
    # 41 eight-inch diamonds: 90 in = 2½ yd = 2.286 m; two to a fat quarter, so 21 of those.
    pieces = [{**DIAMOND, "size": 8, "need": 41, "fabric": "a"}]
    found = buying(pieces=pieces, fabrics=[{"id": "a", "price": 12, "price_by": by}])
    assert found["price"] == found["fabrics"][0]["price"] == pytest.approx(price)
    assert buying(pieces=pieces)["price"] is None and buying(pieces=pieces)["unpriced"] == 1


ROSE = [{**DIAMOND, "need": 30, "fabric": "rose"}]
BORDER = {"id": "border", "shape": "rectangle", "size": 4, "length": 30, "need": 2, "fabric": "rose"}


def priced(pieces, **rose):
    """What a buying list says of the price, of diamonds of rose and 17 of oat, which has no
    price and is sold off the bolt.
    """
    oat = {**DIAMOND, "id": "other", "need": 17, "fabric": "oat"}
    found = buying(pieces=[*pieces, oat], fabrics=[{"id": "rose", **rose}])
    return found["price"], found["unpriced"], found["totals"]


def test_what_has_no_price_is_told_apart_from_what_cannot_be_bought_so():
    # 30 four-inch diamonds are two fat quarters at 3 each; no border of 30 in comes from one. Oat has no price.
    price, unpriced, totals = priced([*ROSE, BORDER], sold="fat_quarter", price=3)
    assert (price, unpriced) == (6, 2)
    assert totals["fat_quarter"] == {
        "fabrics": 1,
        "price": 6,
        "unpriced": [],
        "cannot": [{"fabric": "rose", "pieces": ["border"]}],
    }
    assert totals["bolt"] == {"fabrics": 1, "price": None, "unpriced": ["oat"], "cannot": []}
    # Off the bolt all of it can be cut.
    price, unpriced, totals = priced([*ROSE, BORDER], sold="bolt", price=12)
    assert (price, unpriced) == (totals["bolt"]["price"], 1) and totals["bolt"]["unpriced"] == ["oat"]
    assert totals["fat_quarter"] == {"fabrics": 0, "price": None, "unpriced": [], "cannot": []}


def test_the_two_ways_of_buying_add_up():
    # Two fat quarters at 3; 13 in of oat, which are bought as 3/8 yd at 8.
    oat = {**DIAMOND, "id": "other", "need": 17, "fabric": "oat"}
    found = buying(
        pieces=[*ROSE, oat], fabrics=[{"id": "rose", "sold": "fat_quarter", "price": 3}, {"id": "oat", "price": 8}]
    )
    assert [found["totals"][way]["price"] for way in ("fat_quarter", "bolt")] == [6, 3]
    assert (found["price"], found["unpriced"]) == (9, 0)


def test_what_nothing_can_be_bought_of_has_no_price():
    # A border of 30 in by itself: no fat quarter gives it, so none is bought, and its price is not 0.
    price, unpriced, totals = priced([BORDER], sold="fat_quarter", price=3)
    assert (price, unpriced) == (None, 2)
    assert (totals["fat_quarter"]["unpriced"], totals["fat_quarter"]["cannot"]) == (
        [],
        [{"fabric": "rose", "pieces": ["border"]}],
    )
    # Off a bolt of 20 in no diamond of 20 in is cut either.
    wide = [{**DIAMOND, "id": "wide", "size": 20, "need": 1, "fabric": "rose"}, *ROSE]
    found = buying(pieces=wide, usable_width=20, fabrics=[{"id": "rose", "price": 12}])
    assert found["totals"]["bolt"]["cannot"] == [{"fabric": "rose", "pieces": ["wide"]}] and found["unpriced"] == 1
    assert found["price"] == pytest.approx(12 * found["fabrics"][0]["buy_yards"])


@pytest.mark.parametrize(
    ("sold", "by", "price"),
    [
        ({}, "fat_quarter", 24),
        ({"sold": "fat_quarter"}, None, 24),
        ({}, None, 12 * 0.5),
        ({"sold": "bolt"}, "fat_quarter", None),
        ({"sold": "fat_quarter"}, "yd", None),
    ],
)
def test_a_price_is_for_what_is_sold(sold, by, price):
    # 30 diamonds: two fat quarters; or four strips, 17 in, ½ yd. A price for something else than is bought is none.
    found = buying(pieces=ROSE, fabrics=[{"id": "rose", **sold, "price": 12, **({"price_by": by} if by else {})}])
    assert (found["price"], found["unpriced"]) == (price, 0 if price else 1)


def test_a_fabric_that_is_not_needed_lacks_no_price():
    found = buying(
        pieces=[*ROSE, {**DIAMOND, "id": "none", "need": 0, "fabric": "oat"}], fabrics=[{"id": "rose", "price": 12}]
    )
    assert found["unpriced"] == 0 and found["totals"]["bolt"]["fabrics"] == 1


def test_long_straight_pieces_are_joined():
    # Four borders of 70 in are 280 in; 42-inch strips joined lose ½ in each: seven make 291, six 249½.
    found = line(pieces=[{"id": "border", "shape": "rectangle", "size": 4.5, "length": 70, "need": 4}])
    assert [(strips["times"], strips["joined"]) for strips in found["strips"]] == [(7, True)]


def test_straight_pieces_share_strips():
    # 30 + 12, 30 + 12, 20 + 20: three strips, longest first.
    pieces = [
        {"id": f"r{length}", "shape": "rectangle", "size": 2, "length": length, "need": 2} for length in (30, 12, 20)
    ]
    found = line(pieces=pieces)
    assert sum(strips["times"] for strips in found["strips"]) == 3


def test_a_whole_quilt_is_bought_by_fabric():
    fabrics = {"fabrics": [{"id": "a"}, {"id": "b"}], "colouring": {"way": "rows"}}
    around = {"borders": [{"width": 4}], "binding": {}, "backing": {}, "batting": {}, "sashing": {"width": 1}}
    quilt = {"piece": {"size": 4, "angle": 60}, "columns": 5, "rows": 5, **fabrics, **around}
    found, plan = buying(quilt=quilt), answer({"ask": "quilt", **quilt})
    lines = {entry["id"]: entry for entry in found["fabrics"]}
    assert lines.keys() == {"a", "b", "sashing", "border_1", "binding", "backing"}
    for name in ("a", "b", "sashing", "border_1"):
        assert lines[name]["wanted"] == {entry["id"]: entry["need"] for entry in plan["cut"] if entry["fabric"] == name}
    assert (
        sum(strips["times"] for strips in lines["binding"]["strips"])
        == plan["binding"]["strips"]
        == plan["binding"]["piece"]["need"]
    )
    panels = [(cut["length"], cut["times"]) for cut in lines["backing"]["lengths"]]
    assert panels == [(plan["backing"]["panel_length"], plan["backing"]["panels"])]
    assert found["batting"] == {**plan["batting"], "price": None}


def test_a_wide_backing_is_bought_as_wide_as_the_quilt_says():
    # 40 × 50 in and 4 in all round: one panel of 48 in from cloth 108 in wide.
    quilt = {
        "piece": {"size": 4, "angle": 60},
        "edge": "trimmed",
        "width": 40,
        "height": 50,
        "backing": {"usable_width": 108},
    }
    backing = buying(quilt=quilt, usable_width=44)["fabrics"][1]
    assert (backing["usable_width"], backing["cut_length"]) == (108, 48)
    own = buying(quilt=quilt, fabrics=[{"id": "backing", "usable_width": 60}])["fabrics"][1]
    assert own["usable_width"] == 60


def test_bias_binding_is_bought_as_cloth():
    quilt = {"piece": {"size": 4, "angle": 60}, "columns": 5, "rows": 5, "binding": {"grain": "bias"}}
    found = buying(quilt=quilt)["fabrics"][1]
    assert found["lengths"][0]["length"] == pytest.approx(answer({"ask": "quilt", **quilt})["binding"]["cloth_length"])


# --- Strips ----------------------------------------------------------------------------------------------------------

SHAPES = st.one_of(
    st.builds(Diamond, st.sampled_from([Fraction(2), Fraction(4)]), st.sampled_from([Fraction(45), Fraction(60)])),
    st.builds(HalfDiamond, st.sampled_from([Fraction(2), Fraction(4)]), st.just(Fraction(60))),
    st.builds(
        Rectangle,
        st.sampled_from([Fraction(2), Fraction(4)]),
        st.sampled_from([Fraction(5), Fraction(11), Fraction(19)]),
    ),
    st.builds(Parallelogram, st.sampled_from([Fraction(2), Fraction(4)]), st.just(Fraction(3)), st.just(Fraction(60))),
)


@given(st.lists(st.tuples(SHAPES, st.integers(0, 40)), min_size=1, max_size=4), st.sampled_from([24.0, 30.0, 42.0]))
@settings(max_examples=examples(20), derandomize=True, deadline=None)
def test_strips_give_exactly_what_is_wanted_and_hold_it(wanted, run):
    demands = [Pieces(str(k), shape, need) for k, (shape, need) in enumerate(wanted)]
    strips, cannot = strips_for(demands, run)
    assert cannot == []
    shapes = {demand.id: demand.shape for demand in demands}
    given_out = dict.fromkeys(shapes, 0)
    for strip in strips:
        length = 0.0
        for name, count in strip.gives:
            assert shapes[name].size == strip.size
            # One kind after the other, each run with its own starter cut, by where its last piece ends.
            length += max(x for k in (count - 1, max(0, count - 2)) for x, _ in shapes[name].outline(k))
            given_out[name] += count * strip.times
        assert length == pytest.approx(strip.used, abs=1e-6) and length <= run + 1e-6
    assert given_out == {demand.id: demand.need for demand in demands}
    # No two strips of one width that are each at most half full.
    for size in {strip.size for strip in strips}:
        assert sum(strip.times for strip in strips if strip.size == size and strip.used <= run / 2) <= 1


@given(st.integers(0, 300), st.integers(0, 60), st.integers(30, 60))
@settings(max_examples=examples(10), derandomize=True, deadline=None)
def test_more_pieces_never_take_less_cloth_and_wider_cloth_never_more(need, more, width):
    diamond, half = Diamond(Fraction(4), Fraction(60)), HalfDiamond(Fraction(17, 4), Fraction(60))

    def length(count, usable):
        return cut_from([Pieces("d", diamond, count), Pieces("h", half, count // 3)], Cloth(Fraction(usable))).length

    assert length(need, width) <= length(need + more, width)
    assert length(need, width + 1) <= length(need, width)


@given(st.floats(50, 900), st.integers(20, 60), st.sampled_from([0.5, 2.5]))
@settings(max_examples=examples(15), derandomize=True, deadline=None)
def test_joined_strips_are_long_enough_and_one_fewer_would_not_be(length, run, takes):
    strips = cut_from([Chain("binding", Fraction(5, 2), length, takes)], Cloth(Fraction(run))).strips[0].times
    assert strips * run - (strips - 1) * takes >= length - 1e-6
    assert strips == 1 or (strips - 1) * run - (strips - 2) * takes < length


# --- Fat quarters ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "pieces"), [(8, 2), (6, 6), (5, 8), (4, 15)])
def test_fat_quarters_give_what_the_trade_says(size, pieces):
    # Common practice, no published source: from a fat quarter of 18 × 20 in usable, 8-inch diamonds of 60° 2;
    # 6-inch 6; 5-inch 8; 4-inch 15.
    def count(need):
        return quarters_for(
            [Pieces("d", Diamond(Fraction(size), Fraction(60)), need)], FatQuarter(Fraction(18), Fraction(20))
        ).count

    assert (count(pieces), count(pieces + 1)) == (1, 2)


def test_what_fat_quarters_cannot_give_is_named():
    found = line(
        pieces=[{"id": "border", "shape": "rectangle", "size": 4, "length": 30, "need": 1}, {**DIAMOND, "need": 15}]
    )
    assert (found["fat_quarters"]["count"], found["fat_quarters"]["cannot"]) == (1, ["border"])


def quarters(need=12, size=4.5, **fields):
    return line(pieces=[{**DIAMOND, "size": size, "need": need}], **fields)["fat_quarters"]


def test_squaring_is_taken_off_the_side_along_the_selvage():
    # Of 4½ in diamonds 18 in hold four strips along the 20 in, each of three (2.598 + 3 · 5.196 = 18.19 in):
    # twelve. With half an inch off, three such strips, nine; or one of them, three, and four strips of 13 in across
    # it, two each (12.99 in): eleven.
    assert quarters(square=0)["count"] == 1 and quarters()["count"] == 2 == quarters(square="1/2 in")["count"]
    assert quarters(11)["count"] == 1
    assert [quarters(square=square)["squared"] for square in (0, "1/2 in", "1 cm")] == [
        18,
        17.5,
        pytest.approx(18 - 1 / 2.54),
    ]
    # Squared after washing: 18 in that lose 10 % are 16.2 in, and 15.7 in once squared.
    assert quarters(shrink={"length": 10})["squared"] == pytest.approx(15.7)


def test_a_fabric_may_be_squared_otherwise_than_the_rest():
    pieces = [{**DIAMOND, "id": name, "size": 4.5, "need": 12, "fabric": name} for name in ("rose", "oat")]
    found = buying(pieces=pieces, square=0, fabrics=[{"id": "rose", "square": "1/2 in"}])["fabrics"]
    assert [(entry["id"], entry["fat_quarters"]["count"]) for entry in found] == [("rose", 2), ("oat", 1)]


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({"square": -0.5}, "square", "length_negative"),
        ({"square": 18}, "square", "square_takes_all"),
        ({"square": "17.9995 in"}, "square", "square_takes_all"),
        ({"square": "a bit"}, "square", "length_words"),
        ({"square": 41_000}, "square", "length_too_large"),
        ({"square": 10.8, "shrink": {"length": 40}}, "square", "square_takes_all"),
        ({"fabrics": [{"id": "cloth", "square": 18}]}, "fabrics[0].square", "square_takes_all"),
        ({"fat_quarter": {"length": "1/2 in"}}, "fat_quarter.length", "square_takes_all"),
    ],
)
def test_squaring_that_leaves_nothing_is_refused_at_its_field(fields, field, code):
    found = answer({"ask": "buying", "pieces": [{**DIAMOND, "need": 1}], **fields})
    assert (found["error"]["field"], found["error"]["code"]) == (field, code)


def test_the_plan_says_how_many_fat_quarters():
    # As many as the ask `plan` opens of twenty.
    pieces = [
        {**DIAMOND, "size": 5, "need": 29},
        {"id": "r", "shape": "rectangle", "size": 3.5, "length": 9, "need": 17},
    ]
    basket = [{"id": "quarter", "length": 17.5, "width": 20, "count": 20}]
    plan = answer({"ask": "plan", "cloths": basket, "pieces": pieces})
    found = line(pieces=pieces)["fat_quarters"]
    assert plan["proven"] and found["proven"] and found["count"] == plan["opened"]["quarter"]


def test_fat_quarters_are_enough_where_the_search_makes_less_than_all(monkeypatch):
    # 17 diamonds of 4 in by strips along the 17½ in, three each: six strips, five to a fat quarter.
    monkeypatch.setattr(Planner, "reached", lambda planner: (18.5, 350.0))
    found = quarters(17, 4)
    assert (found["count"], found["proven"]) == (2, False)


def test_what_is_not_needed_is_not_missed_in_fat_quarters():
    found = line(
        pieces=[{**DIAMOND, "need": 15}, {"id": "long", "shape": "rectangle", "size": 4, "length": 30, "need": 0}]
    )
    assert found["fat_quarters"]["cannot"] == []


def test_fat_quarters_shrink_both_ways():
    found = line(pieces=[{**DIAMOND, "need": 15}], shrink={"length": 10, "width": 10})["fat_quarters"]
    assert (found["length"], found["width"]) == (pytest.approx(16.2), 18)
    assert found["count"] == 2


PARTS = st.tuples(st.sampled_from([2.0, 3.0, 4.5, 7.0, 9.5]), st.integers(1, 3))


@given(st.lists(PARTS, min_size=1, max_size=3, unique_by=lambda part: part[0]))
@settings(max_examples=examples(15), derandomize=True, deadline=None)
def test_boxes_are_filled_as_longest_first_does(parts):
    room, boxes = 10.0, []
    for size in sorted((size for size, count in parts for _ in range(count)), reverse=True):
        place = next((k for k, used in enumerate(boxes) if used + size <= room), None)
        if place is None:
            boxes.append(size)
        else:
            boxes[place] += size
    assert filled([Part(size, count=count) for size, count in parts], room) == len(boxes)


@given(st.lists(st.integers(1, 10), min_size=1, max_size=5))
@settings(max_examples=examples(15), derandomize=True, deadline=None)
def test_boxes_are_few(sizes):
    parts = [Part(float(size), count=sizes.count(size)) for size in set(sizes)]
    # First-fit decreasing never takes more than 11/9 of the least and 6/9 (Dósa 2007, from memory).
    assert filled(parts, 10.0) <= 11 / 9 * fewest_boxes(sorted(sizes), 10) + 6 / 9


def fewest_boxes(sizes, room):
    """By trying every way of parting the sizes into groups."""
    for count in range(1, len(sizes) + 1):
        for places in itertools.product(range(count), repeat=len(sizes)):
            if all(
                sum(size for size, place in zip(sizes, places, strict=True) if place == box) <= room
                for box in range(count)
            ):
                return count
    return len(sizes)


# --- Kits ------------------------------------------------------------------------------------------------------------


def test_kits_by_hand():
    # A kit of 41 eight-inch diamonds: eleven strips, 88 in, and 1 in to straighten. Twenty people and two in reserve:
    # 22 lengths of 89 in, 90 as the shop measures, 1980 in; or 22 · 88 + 1 = 1937 in; or 902 pieces together, 226
    # strips, 1809 in.
    found = line(pieces=[{**DIAMOND, "size": 8, "need": 41}], kits={"people": 20, "leader": 2})["kits"]
    assert found["count"] == 22
    ways = {way["way"]: way for way in found["ways"]}
    assert ways["lengths"]["cuts"] == [{"cut": "kit", "length": 90, "times": 22}]
    assert [ways[name]["needed"] for name in ("lengths", "strips", "pieces")] == [1980, 1937, 1809]
    assert ways["strips"]["cuts"] == [{"cut": "strip", "length": 8, "times": 242}]
    assert ways["pieces"]["cuts"] == [{"cut": "strip", "length": 8, "times": 226}]
    assert all(way["buy"] >= way["needed"] > way["buy"] - 4.5 for way in ways.values())


def test_backings_and_bindings_are_cut_for_every_kit_by_itself():
    # Two panels of 48 in: 97 in with 1 in to straighten, sold as 99, 297 for three kits; or six panels and 1 in, 289.
    found = line(lengths=[{"id": "back", "length": 48, "need": 2}], kits={"people": 2, "leader": 1})["kits"]
    assert [(way["needed"], way["cuts"][-1]["times"]) for way in found["ways"]] == [(297, 3), (289, 6), (289, 6)]
    assert found["ways"][1]["cuts"] == [{"cut": "back", "length": 48, "times": 6}]
    # 190 in of binding take five strips; joined for each kit, fifteen and not fourteen.
    ways = kit_ways([([Chain("binding", Fraction(5, 2), 190.0, 2.5)], 3)], Cloth(Fraction(42)), Kits(2, 1))
    assert [way.cuts for way in ways[1:]] == [(("strip", 2.5, 15),)] * 2


def test_a_bolt_holds_whole_kits():
    # 15 yd are 540 in, less 1 in: six kits of 89 in and no seventh; four bolts for 22 kits. In strips, 67 of 8 in to a
    # bolt: 242 strips take four bolts too, 226 also.
    found = line(pieces=[{**DIAMOND, "size": 8, "need": 41}], kits={"people": 20, "leader": 2, "bolt_length": "15 yd"})[
        "kits"
    ]
    assert [way["bolts"] for way in found["ways"]] == [4, 4, 4]
    # 2 yd are 72 in, less 1 in: eight strips, and no kit. 21 kits are 231 strips, or 861 pieces in 216.
    short = line(pieces=[{**DIAMOND, "size": 8, "need": 41}], kits={"people": 20, "bolt_length": "2 yd"})["kits"]
    assert [way["bolts"] for way in short["ways"]] == [0, 29, 27]


@given(st.integers(1, 60), st.integers(1, 25), st.integers(0, 3))
@settings(max_examples=examples(15), derandomize=True, deadline=None)
def test_cutting_together_never_takes_more(need, people, leader):
    demands = [Pieces("d", Diamond(Fraction(4), Fraction(60)), need), Chain("binding", Fraction(5, 2), 200.0, 2.5)]
    lengths, strips, pieces = kit_ways([(demands, people + leader)], Cloth(Fraction(42)), Kits(people, leader))
    assert pieces.needed <= strips.needed <= lengths.needed


def test_kits_of_what_is_sold_as_fat_quarters_are_fat_quarters():
    # Fifteen 4 in diamonds from a fat quarter of 18 × 20 in: common practice, no published source. 41 take three, so
    # four kits take twelve; the 164 pieces together take eleven.
    rose = {"id": "rose", "sold": "fat_quarter", "price": 3}
    found = line(pieces=[{**DIAMOND, "need": 41, "fabric": "rose"}], fabrics=[rose], kits={"people": 3}, square=0)[
        "kits"
    ]
    each, shared = found["ways"]
    assert [(way["way"], way["quarters"], way["buy"]) for way in (each, shared)] == [
        ("quarters_each", 12, 0),
        ("quarters_shared", 11, 0),
    ]
    assert (each["price"], each["price_each"], shared["price"], shared["price_each"]) == (36, 9, 33, 33 / 4)


@pytest.mark.parametrize("seed", range(8))
def test_shared_fat_quarters_are_as_few_as_cp_sat_proves(seed):
    """What each kit takes by itself, times the kits, is the most; the fewest for all the pieces are what is shared."""
    rng = random.Random(seed)
    sizes = rng.sample([2.5, 3, 3.5, 4, 5], 2)
    pieces = [
        {"id": str(n), "shape": "diamond", "size": size, "angle": 60, "need": rng.randint(5, 40)}
        for n, size in enumerate(sizes)
    ]
    count = rng.randint(2, 6)
    rose = {"id": "rose", "sold": "fat_quarter"}
    asked = [{**piece, "fabric": "rose"} for piece in pieces]
    ways = line(pieces=asked, fabrics=[rose], kits={"people": count, "leader": 0})["kits"]["ways"]
    times = [{**piece, "need": piece["need"] * count} for piece in pieces]
    assert ways[0]["quarters"] == count * fewest_quarters(pieces, 17.5, 20)
    assert 0 <= ways[1]["quarters"] - fewest_quarters(times, 17.5, 20) <= 1
    assert ways[1]["quarters"] <= ways[0]["quarters"]


def test_what_a_kit_costs_is_summed_over_its_fabrics():
    # Rose: 30 diamonds of 4 in are two fat quarters at 3 a kit. Oat: three strips of 3 in and 1 in, 10 in, sold as 13 1/2
    # at 8 a yard: 3. Four kits of oat in strips: 37 in, sold as 40 1/2, 9 for all, 2 1/4 a kit. Blue has no price.
    oat = {"id": "o", "shape": "rectangle", "size": 3, "length": 20, "need": 6, "fabric": "oat"}
    found = buying(
        pieces=[{**DIAMOND, "need": 30, "fabric": "rose"}, oat, {**oat, "id": "b", "fabric": "blue"}],
        fabrics=[{"id": "rose", "sold": "fat_quarter", "price": 3}, {"id": "oat", "price": 8}, {"id": "blue"}],
        kits={"people": 3},
    )
    assert found["kits_price"] == {"apart": 9, "least": 6 + 2.25, "unpriced": ["blue"]}
    assert buying(pieces=[oat], kits={"people": 3})["kits_price"] == {"apart": None, "least": None, "unpriced": ["oat"]}
    assert buying(pieces=[oat])["kits_price"] is None


SIZED = {"piece": {"size": 4, "angle": 60}, "edge": "pointed", "drawing": False, "columns": 6, "rows": 6}


def test_a_class_in_several_sizes_is_bought_for_together():
    """Each way reckoned from how many diamonds either size takes: eight of 4 in come from a strip of 42 in, and 1 in of
    every length goes for straightening.
    """
    kits = {"people": 3, "sizes": [{"name": "small", "people": 3, "columns": 3, "rows": 4}]}
    first, other = ({**SIZED, **size} for size in ({"columns": 5, "rows": 7}, {"columns": 3, "rows": 4}))
    counts = [line(quilt=quilt)["wanted"]["diamond/patchwork"] for quilt in (first, other)]
    found = line(quilt=first, kits=kits, fabrics=[{"id": "patchwork", "price": 36}])["kits"]
    strips = [-(-count // 8) for count in counts]
    each = [math.ceil((4 * number + 1) / 4.5) * 4.5 for number in strips]
    assert [way["needed"] for way in found["ways"]] == [
        4 * each[0] + 3 * each[1],
        4 * (4 * strips[0] + 3 * strips[1]) + 1,
        4 * -(-(4 * counts[0] + 3 * counts[1]) // 8) + 1,
    ]
    assert found["count"] == 7 and found["sizes"] == [{"name": "small", "people": 3}]
    assert [cut["times"] for cut in found["ways"][0]["cuts"]] == [4, 3]
    # At 36 a yard an inch costs 1: seven kits of both sizes share the price.
    assert found["ways"][0]["price_each"] == pytest.approx(found["ways"][0]["needed"] / 7)


def test_one_size_more_than_none_is_as_it_was_and_never_takes_less():
    alone = line(quilt=SIZED, kits={"people": 5})["kits"]["ways"]
    assert line(quilt=SIZED, kits={"people": 5, "sizes": []})["kits"]["ways"] == alone
    more = line(quilt=SIZED, kits={"people": 5, "sizes": [{"people": 2, "columns": 2, "rows": 2}]})["kits"]["ways"]
    assert all(way["needed"] > before["needed"] for before, way in zip(alone, more, strict=True))
    # Two who make the same size are two kits more.
    same = line(quilt=SIZED, kits={"people": 5, "sizes": [{"people": 2, "columns": 6, "rows": 6}]})["kits"]["ways"]
    seven = line(quilt=SIZED, kits={"people": 7})["kits"]["ways"]
    assert [way["needed"] for way in same] == [way["needed"] for way in seven]


@pytest.mark.parametrize(
    ("size", "field"),
    [
        ({"columns": 0, "rows": 2}, "kits.sizes[0].columns"),
        ({"columns": 2, "rows": 2, "people": 0}, "kits.sizes[0].people"),
        ({"target": {"width": "wide", "height": 60}}, "kits.sizes[0].target.width"),
    ],
)
def test_a_size_that_cannot_be_is_refused_at_its_place(size, field):
    asked = {"ask": "buying", "quilt": SIZED, "kits": {"people": 5, "sizes": [{"people": 2, **size}]}}
    assert answer(asked)["error"]["field"] == field
    no_quilt = {"ask": "buying", "pieces": [DIAMOND | {"need": 4}], "kits": {"people": 5, "sizes": [{"people": 2}]}}
    assert answer(no_quilt)["error"]["code"] == "sizes_of_no_quilt"


def test_batting_with_a_price_is_in_the_sum():
    # One strip of 4 in and 1 in, sold as 9 in, at 8 a yard: 2. Batting without a price leaves the sum as it is.
    quilt = {"piece": {"size": 4, "angle": 60}, "columns": 1, "rows": 2, "edge": "pointed", "batting": {}}
    asked = {"quilt": quilt, "fabrics": [{"id": "patchwork", "price": 8}]}
    found = buying(**asked, batting_price=20)
    assert (buying(**asked)["price"], found["price"], found["batting"]["price"]) == (2, 22, 20)
    assert buying(quilt=quilt, batting_price="7.50")["price"] == 7.5
    refused = answer({"ask": "buying", **asked, "batting_price": "dear"})
    assert refused["error"]["field"] == "batting_price"
    # A quilt without batting pays for none.
    assert buying(**{**asked, "quilt": {**quilt, "batting": None}}, batting_price=20)["price"] == 2


def test_the_steps_of_shops_are_what_they_say():
    # NIST Handbook 44, Appendix C (seen in a secondary copy): 1 yd = 36 in, 1 in = 2.54 cm, both exact.
    assert {"eighth_yard": Fraction(36, 8), "ten_cm": 10 / Fraction("2.54")} == STEPS
