"""The ask `largest`: the largest quilt of a basket, held against every size tried one by one on another road.

The other road is `all_patterns`: every pattern that a cloth can be cut to, and OR-Tools' CP-SAT. It knows nothing of
the order of sizes, of areas or of bounds: it looks at each size and at each amount to buy by itself."""

import itertools
import math
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from all_patterns import best_plan
from amounts import examples
from matside import door
from matside.asks.largest import _Looking
from matside.fields import Fields
from matside.largest.family import Family
from matside.largest.outdone import outdoes
from matside.largest.search import SizeSearch
from matside.plan.basket import BasketCloth, Need
from matside.quilt.reading import read_quilt
from matside.shapes import Diamond, Rectangle
from matside.units import SAME
from verify_layouts import faults

SETTINGS = [("grid", 60, "diamonds"), ("grid", 35, "diamonds"), ("zigzag", 45, "diamonds"), ("stars", 60, "diamonds"),
            ("stars", 60, "hexagons"), ("hexagons", 60, "diamonds"), ("eight_pointed", 45, "diamonds")]  # fmt: skip
QUARTER = {"length": 18, "width": 20}


def quilt(setting="grid", angle=60, joined="diamonds", edge="filled", columns=4, rows=4, size=4, **more) -> dict:
    """A quilt of one fabric, unless more is said."""
    given = {
        "setting": setting,
        "joined_by": joined,
        "edge": edge,
        "columns": columns,
        "rows": rows,
        "fabrics": [{"id": "red"}],
    }
    return {"piece": {"size": size, "angle": angle}, **given, **more}


def basket(*cloths: tuple, fabric="red", **more) -> list[dict]:
    """Cloths from (length, width, count)."""
    return [
        {"id": f"c{k}", "fabric": fabric, "length": a, "width": b, "count": n, **more}
        for k, (a, b, n) in enumerate(cloths)
    ]


def asked(**request) -> dict:
    """The answer, which must be one."""
    found = door.answer({"ask": "largest", **request})
    assert found["ok"], found
    return found


def refused(**request) -> tuple[str, str]:
    """The field and the code of a refusal."""
    error = door.answer({"ask": "largest", **request})["error"]
    return error["field"], error["code"]


# --- The sizes ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "columns, rows, orientation", [(1, 1, "standing"), (7, 4, "lying"), (1, 9, "standing"), (12, 3, "lying")]
)
@pytest.mark.every(2)
@pytest.mark.parametrize("setting, angle, joined", SETTINGS)
def test_among_as_many_columns_and_rows_none_keeps_the_proportion_better(
    setting, angle, joined, columns, rows, orientation
):
    read = read_quilt(Fields(quilt(setting, angle, joined, columns=columns, rows=rows, orientation=orientation)))
    family, built = Family(read), read.geometry.built()
    standing = (rows, columns) if orientation == "lying" else (columns, rows)
    wanted = math.log(built.finished("filled", *standing)[0] / built.finished("filled", *standing)[1])
    assert family.steps(family.at_hand) == (columns, rows)

    def off(pair: tuple[int, int]) -> float:
        width, height = built.finished("filled", *pair)
        return abs(math.log(width / height) - wanted)

    for number in range(25):
        found = family.steps(number)[::-1] if orientation == "lying" else family.steps(number)
        nearest = min(off((c, number + 2 - c)) for c in range(1, number + 2))
        assert sum(found) == number + 2 and off(found) <= nearest + 1e-9
        if number:
            before = family.steps(number - 1)
            assert sorted(family.steps(number)[k] - before[k] for k in (0, 1)) == [0, 1]


@pytest.mark.every(6)
@pytest.mark.parametrize(
    "edge, way", [("filled", "single"), ("filled", "rings"), ("pointed", "rows"), ("trimmed", "single")]
)
@pytest.mark.parametrize("setting, angle, joined", SETTINGS)
def test_each_size_takes_more_cloth_than_the_one_before(setting, angle, joined, edge, way):
    # What lets the search pass over every size beyond the first whose pieces have more area than all the cloth.
    if edge != "filled" and setting == "eight_pointed":
        return
    around = {} if edge == "pointed" else {"borders": [{"width": 3}], "binding": {}}
    fabrics = {"fabrics": [{"id": "a"}, {"id": "b"}, {"id": "c"}], "colouring": {"way": way}}
    looking = _Looking(Fields({"quilt": quilt(setting, angle, joined, edge, 5, 4, **around, **fabrics), "cloths": []}))
    areas = [sum(need.shape.area * need.need for need in looking._sized(number).needs) for number in range(9)]
    assert all(more > less for less, more in itertools.pairwise(areas))


def test_a_size_need_not_ask_for_more_of_every_kind():
    # A row more can do with fewer halves at the ends of its rows: so each size is held against the basket by itself.
    looking = _Looking(Fields({"quilt": quilt("hexagons", columns=5, rows=4), "cloths": []}))
    needs = [looking._sized(number).needs for number in range(10)]
    assert not all(outdoes(more, less) for less, more in itertools.pairwise(needs))
    looking = _Looking(Fields({"quilt": quilt("grid", columns=5, rows=4), "cloths": []}))
    needs = [looking._sized(number).needs for number in range(10)]
    assert all(outdoes(more, less) for less, more in itertools.pairwise(needs))


# --- The largest, by trying every size -----------------------------------------------------------------------------


def tried_one_by_one(request: dict, up_to: int) -> list[bool]:
    """For each size whether the basket gives it, by the other road."""
    looking = _Looking(Fields(request))
    cloths = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    found = []
    for number in range(up_to):
        needs = looking._sized(number).needs
        missing, _ = best_plan([need.shape for need in needs], [need.need for need in needs], cloths)
        found.append(missing < 1e-3)
    return found


SMALL = [
    (quilt(), basket((18, 20, 2))),
    (quilt(columns=3, rows=5), basket((18, 20, 1), (9, 42, 1))),
    (quilt("hexagons", columns=3, rows=3), basket((18, 20, 2))),
    (quilt("zigzag", 45, columns=3, rows=4, size=3), basket((10, 10, 5))),
    (quilt("stars", edge="pointed", columns=2, rows=2, size=3), basket((18, 20, 2))),
    (quilt(edge="trimmed", columns=3, rows=3), basket((9, 20, 3))),
    (quilt(columns=2, rows=6, orientation="lying"), basket((13, 17, 3))),
]


@pytest.mark.every(3)
@pytest.mark.parametrize("wanted, cloths", SMALL)
def test_the_largest_is_what_trying_every_size_finds(wanted, cloths):
    request = {"quilt": wanted, "cloths": cloths}
    found = asked(**request)
    family = Family(read_quilt(Fields(wanted)))
    area = sum(cloth["length"] * cloth["width"] * cloth["count"] for cloth in cloths)
    looking = _Looking(Fields(request))
    up_to = (
        next(
            n for n in itertools.count(1) if sum(need.shape.area * need.need for need in looking._sized(n).needs) > area
        )
        + 1
    )
    given = tried_one_by_one(request, up_to)
    largest = max(number for number, gives in enumerate(given) if gives)
    assert (found["sure"]["columns"], found["sure"]["rows"]) == family.steps(largest)
    assert found["larger_ruled_out"] and found["undecided"] == 0 and found["could_be"] is None
    assert (found["next"]["columns"], found["next"]["rows"]) == family.steps(largest + 1)


@pytest.mark.every(2)
@pytest.mark.parametrize("wanted, cloths", SMALL)
def test_the_plan_of_the_largest_gives_all_its_pieces(wanted, cloths):
    # Shapely and counting only: what is told as sure can be cut as it is told.
    found = asked(quilt=wanted, cloths=cloths)["sure"]
    looking = _Looking(
        Fields({"quilt": {**wanted, "columns": found["columns"], "rows": found["rows"]}, "cloths": cloths})
    )
    needs = looking._sized(found["columns"] + found["rows"] - 2).needs
    pieces = [{"id": need.id, "need": need.need, "size": float(need.shape.size)} for need in needs]
    assert (
        faults({"cloths": cloths, "pieces": pieces}, found["plan"], {need.id: need.shape.area for need in needs}) == []
    )
    assert set(found["plan"]["missing"].values()) == {0}


@settings(
    max_examples=examples(4, 3), derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
)
@given(st.lists(st.tuples(st.integers(6, 20), st.integers(6, 20), st.integers(1, 2)), min_size=1, max_size=2), st.integers(3, 5),
       st.sampled_from([(4, 4), (2, 5), (6, 3)]))  # fmt: skip
def test_the_largest_of_any_small_basket_is_what_trying_every_size_finds(cloths, size, steps):
    request = {"quilt": quilt(columns=steps[0], rows=steps[1], size=size), "cloths": basket(*cloths)}
    found = asked(**request)
    given = tried_one_by_one(request, 9)
    if not any(given):
        assert found["sure"] is None
    elif not all(given):
        largest = max(number for number, gives in enumerate(given) if gives)
        assert found["sure"]["columns"] + found["sure"]["rows"] == largest + 2 and found["larger_ruled_out"]


def pieces(need: int, fabric: str = "red", shape=Diamond(Fraction(4), Fraction(60))) -> Need:
    """So many pieces of a fabric."""
    return Need(f"{fabric} {shape}", shape, need, fabric)


def test_a_size_that_cannot_be_rules_out_those_alone_that_ask_for_all_that_it_does():
    sizes = [[pieces(2)], [pieces(3), pieces(1, "blue")], [pieces(5)], [pieces(6), pieces(2, "blue")], [pieces(40)]]

    def needs_at(number: int):
        yield
        return sizes[number] if number < len(sizes) else None

    search = SizeSearch(needs_at, [BasketCloth("q", Fraction(18), Fraction(20), 1, "red")], "any", 100_000)
    for _ in itertools.chain(search.run(), search.go_on()):
        pass
    assert (search.sure, search.undecided) == (2, [])


def test_what_asks_for_all_that_another_does_is_told_by_kind_fabric_and_length():
    long, short = Rectangle(Fraction(3), Fraction(30)), Rectangle(Fraction(3), Fraction(20))
    assert outdoes([pieces(5)], [pieces(5)]) and not outdoes([pieces(5)], [pieces(6)])
    assert not outdoes([pieces(5)], [pieces(5, "blue")])
    assert outdoes([pieces(2, shape=long)], [pieces(2, shape=short)]) and not outdoes(
        [pieces(2, shape=short)], [pieces(2, shape=long)]
    )
    assert not outdoes([pieces(2, shape=long)], [pieces(1, shape=long), pieces(1, shape=short)])
    assert outdoes([pieces(2, shape=long), pieces(2, shape=short)], [pieces(1, shape=long), pieces(2, shape=short)])
    assert not outdoes([pieces(2, shape=long), pieces(2, shape=short)], [pieces(3, shape=short)])


def test_each_fabric_counts_for_itself_with_colors_as_placed():
    wanted = quilt(columns=6, rows=6, fabrics=[{"id": "red"}, {"id": "blue"}], colouring={"way": "rows"})
    much = basket((18, 20, 9))
    found = asked(quilt=wanted, cloths=[*much, {"id": "b", "fabric": "blue", **QUARTER, "count": 1}])
    assert [line["fabric"] for line in found["next"]["buy"]] == ["blue"]
    assert found["sure"]["plan"]["opened"]["b"] == 1
    more = asked(quilt=wanted, cloths=[*much, {"id": "b", "fabric": "blue", **QUARTER, "count": 2}])
    assert more["sure"]["pieces"] > found["sure"]["pieces"]


def test_pieces_colored_one_by_one_are_so_in_the_size_at_hand_alone():
    tapped = quilt(
        columns=2,
        rows=2,
        fabrics=[{"id": "red"}, {"id": "blue"}],
        colouring={"way": "single", "fabrics": ["red"], "changes": [[0, "blue"]]},
    )
    assert asked(quilt=tapped, cloths=basket((18, 20, 3)))["recolored"]
    assert not asked(quilt={**tapped, "colouring": {"way": "single", "fabrics": ["red"]}}, cloths=basket((18, 20, 3)))[
        "recolored"
    ]


def test_what_is_left_out_is_not_asked_of_the_basket():
    wanted = quilt(columns=3, rows=3, borders=[{"width": 3, "fabric": "red"}], binding={"fabric": "red"})
    cloths = basket((18, 20, 3))
    all_of_it, without = (
        asked(quilt=wanted, cloths=cloths),
        asked(quilt=wanted, cloths=cloths, left_out=["border_side/red", "border_end/red", "binding"]),
    )
    assert without["sure"]["plan"]["made"].keys() < all_of_it["sure"]["plan"]["made"].keys()
    assert without["sure"]["pieces"] >= all_of_it["sure"]["pieces"]


def test_what_stays_over_is_told_cloth_by_cloth():
    found = asked(quilt=quilt(columns=2, rows=2), cloths=basket((18, 20, 1), (42, 4, 1)))["sure"]["plan"]
    area = {"c0": 360.0, "c1": 168.0}
    opened = sum(area[name] * times for name, times in found["opened"].items())
    assert opened == pytest.approx(found["area_opened"])
    assert all(rest["count"] > 0 for rest in found["left_whole"])


# --- The next size up ----------------------------------------------------------------------------------------------


def does(request: dict, number: int, bought: tuple) -> bool:
    """Whether the basket gives a size with what is bought beside it, by the other road."""
    needs = _Looking(Fields(request))._sized(number).needs
    cloths = [(cloth["length"], cloth["width"], cloth["count"]) for cloth in request["cloths"]]
    return best_plan([need.shape for need in needs], [need.need for need in needs], [*cloths, bought])[0] < 1e-3


BUYING = [
    (quilt(), basket((18, 20, 2)), {}),
    (
        quilt("hexagons", columns=3, rows=3),
        basket((18, 20, 2)),
        {"straighten": 0, "fat_quarter": {"length": 15, "width": 16}},
    ),
    (quilt(columns=3, rows=5, size=3), basket((10, 10, 4)), {"straighten": "1/2 in", "usable_width": 40}),
]


@pytest.mark.parametrize("wanted, cloths, shop", BUYING)
def test_what_is_to_be_bought_is_the_least_of_each_thing_that_is_sold(wanted, cloths, shop):
    request = {"quilt": wanted, "cloths": cloths, **shop}
    found = asked(**request)
    number = found["next"]["columns"] + found["next"]["rows"] - 2
    (line,) = found["next"]["buy"]
    offers = [line, *line["instead"]]
    assert line["least"] and line["area"] == min(offer["area"] for offer in offers)
    straighten = {0: 0.0, "1/2 in": 0.5}.get(shop.get("straighten"), 1.0)
    for offer in offers:
        if offer["sold"] == "length":
            steps = round(offer["length"] / 4.5)
            sides = [(4.5 * k - straighten, offer["width"], 1) for k in (steps - 1, steps)]
        else:
            square = (
                0.5 if offer["sold"] == "fat_quarter" else 0
            )  # what squares a fat quarter: common practice, no published source
            sides = [(offer["length"] - square, offer["width"], k) for k in (offer["count"] - 1, offer["count"])]
        less, enough = sides
        assert does(request, number, enough)
        assert min(less) <= 0 or not does(request, number, less)


def test_a_length_is_bought_in_the_steps_of_the_shop_and_shrinks_before_it_is_cut():
    common = {"quilt": quilt(columns=4, rows=4), "cloths": basket((18, 20, 2))}
    plain = asked(**common, round_to="ten_cm")["next"]["buy"][0]
    lengths = [offer["length"] for offer in [plain, *plain["instead"]] if offer["sold"] == "length"]
    assert lengths and all(abs(length * 2.54 / 10 - round(length * 2.54 / 10)) < SAME for length in lengths)
    shrunk = asked(**common, shrink={"length": 40, "width": 0})["next"]["buy"][0]
    lengths = {offer["sold"]: offer["length"] for offer in [shrunk, *shrunk["instead"]]}
    assert lengths["length"] > 4.5  # 4½ in would be 1.7 in after washing and straightening


# --- Needs that nothing can meet ------------------------------------------------------------------------------------


def test_every_kind_that_cannot_be_had_is_told_with_its_reason():
    fabrics = [{"id": name} for name in ("red", "blue", "green")]
    wanted = quilt(columns=3, rows=3, fabrics=fabrics, colouring={"way": "rows"})
    cloths = [
        {"id": "r", "fabric": "red", "length": 3, "width": 40, "count": 4},
        {"id": "b", "fabric": "blue", "length": 4, "width": 4, "count": 9},
    ]
    found = asked(quilt={**wanted, "colouring": {"way": "single", "fabrics": ["red"]}}, cloths=cloths)
    assert found["sure"] is None and {line["reason"] for line in found["unmet"]} == {"narrow"}
    assert {line["id"] for line in found["unmet"] if line["fabric"] == "red"} >= {"diamond/red"}
    short = asked(quilt={**wanted, "colouring": {"way": "single", "fabrics": ["blue"]}}, cloths=cloths)
    assert ("diamond/blue", "short") in {(line["id"], line["reason"]) for line in short["unmet"]}
    none = asked(quilt={**wanted, "colouring": {"way": "single", "fabrics": ["green"]}}, cloths=cloths)
    assert {line["reason"] for line in none["unmet"]} == {"no_cloth"}
    assert none["next"]["columns"] == none["next"]["rows"] == 1 and none["next"]["buy"][0]["fabric"] == "green"


def test_a_grain_that_no_cloth_allows_and_too_little_cloth_are_told_apart():
    lengthwise = basket((4, 40, 3), selvage="length")
    assert {
        line["reason"] for line in asked(quilt=quilt(edge="pointed"), cloths=lengthwise, grain="lengthwise")["unmet"]
    } == {"grain"}
    few = asked(quilt=quilt("stars", edge="pointed", size=4), cloths=basket((4, 30, 1)))["unmet"]
    assert [(line["reason"], line["most"] < line["need"]) for line in few] == [("too_few", True)]


def test_a_basket_without_cloth_is_told_what_to_buy():
    found = asked(quilt=quilt(), cloths=[])
    assert found["sure"] is None and found["larger_ruled_out"] and found["next"]["buy"]


# --- Giving way, and honesty -----------------------------------------------------------------------------------------


def test_it_goes_in_small_steps_and_shows_what_it_has():
    steps = door.start_search({"ask": "largest", "quilt": quilt(columns=8, rows=8), "cloths": basket((18, 20, 4))})
    shown, last = None, None
    last = next(steps)
    count = 0
    while "ok" not in last:
        count += 1
        last = steps.send("show" if shown is None and last["progress"]["best"]["columns"] else None)
        shown = shown or last.get("progress", {}).get("plan")
    assert count > 20
    assert shown["sure"]["pieces"] <= last["sure"]["pieces"] and shown["next"] is None


def test_a_basket_without_end_gives_the_last_size_that_is_looked_at():
    wanted = quilt(columns=3, rows=2, fabrics=[{"id": "red"}, {"id": "blue"}], borders=[{"width": 2, "fabric": "blue"}])
    only = [
        "diamond/red",
        "side_half/red",
        "end_half/red",
        "corner_quarter/red",
        *(f"{kind}/red/{k}" for kind in ("side_half", "end_half") for k in (2, 3)),
    ]
    found = asked(
        quilt=wanted | {"colouring": {"way": "single", "fabrics": ["red"]}},
        cloths=basket((36, 42, 900), fabric="blue"),
        left_out=only,
    )
    assert found["last"] and not found["larger_ruled_out"] and found["next"] is None
    assert 5_000 < found["sure"]["pieces"] <= 6_000 + 4
    assert not asked(quilt=quilt(), cloths=basket((18, 20, 1)))["last"]


@pytest.mark.long
def test_what_the_work_does_not_reach_is_told_as_undecided():
    around = {"borders": [{"width": 3, "fabric": "red"}], "binding": {"fabric": "red"}}
    request = {
        "quilt": quilt(columns=8, rows=9, size=3, **around),
        "cloths": basket((18, 20, 4), (13, 31, 2), (9, 22, 2)),
    }
    little, much = asked(**request, work=1), asked(**request)
    assert not little["larger_ruled_out"] and little["undecided"] > 0
    assert little["could_be"]["pieces"] >= much["sure"]["pieces"] >= little["sure"]["pieces"]


@pytest.mark.long
def test_no_slice_is_a_large_part_of_the_work():
    around = {"borders": [{"width": 3, "fabric": "red"}], "binding": {"fabric": "red"}}
    cloths = basket((18, 20, 4), (13, 31, 2), (9, 22, 2))
    looking = _Looking(Fields({"quilt": quilt(columns=8, rows=9, size=3, **around), "cloths": cloths}))
    slices, steps, most = 0, 0, 0
    for _ in looking.run():
        now = looking.progress()["steps"]
        slices, steps, most = slices + 1, now, max(most, now - steps)
    assert slices > 100 and most * 3 < steps


# --- Bad input -------------------------------------------------------------------------------------------------------

GOOD = {"quilt": quilt(), "cloths": basket((18, 20, 2))}


@pytest.mark.parametrize(
    "wrong, field, code",
    [
        ({"quilt": None}, "quilt", "object_missing"),
        ({"quilt": quilt(size="4 1/0")}, "quilt.piece.size", "length_over_zero"),
        ({"quilt": quilt("stars", 45)}, "quilt.piece.angle", "angle_for_setting"),
        ({"quilt": quilt(colouring={"way": "list", "list": [0]})}, "quilt.colouring.way", "largest_listed"),
        ({"cloths": None}, "cloths", "list_wanted"),
        ({"cloths": basket((0, 20, 2))}, "cloths[0].length", "length_not_positive"),
        ({"cloths": [*GOOD["cloths"], *GOOD["cloths"]]}, "cloths[1].id", "plan_id_taken"),
        ({"grain": "slanted"}, "grain", "choice"),
        ({"work": 0}, "work", "count_outside"),
        ({"left_out": "all"}, "left_out", "list_wanted"),
        ({"left_out": [7]}, "left_out[0].id", "text"),
        ({"left_out": ["diamond/red"], "quilt": quilt(edge="pointed")}, "left_out", "largest_nothing"),
        ({"usable_width": "wide"}, "usable_width", "length_words"),
        ({"round_to": "ell"}, "round_to", "choice"),
        ({"shrink": {"length": 90}}, "shrink.length", "number_outside"),
        ({"square": 18}, "square", "square_takes_all"),
        ({"fat_quarter": {"length": -1}}, "fat_quarter.length", "length_not_positive"),
    ],
)
def test_bad_input_is_refused_at_its_field(wrong, field, code):
    assert refused(**{**GOOD, **wrong}) == (field, code)
