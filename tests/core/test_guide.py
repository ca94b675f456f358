"""The guide: its table and the folding of logs, its script from the first step to the last, its words and its scenes.

Scenes are checked with Shapely, which shares no code with the guide.
"""

import copy
import json
import random
import re
from fractions import Fraction
from functools import cache
from math import radians, sin
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, unary_union
from shapely.geometry import LineString, Polygon

import matside
from amounts import examples
from folding import COUNTERS, Illegal, State, advance, fold_log
from matside.door import plain
from matside.fields import Fields
from matside.guide.job import ClothWork, Habits, Job, PartWork, PieceKind, StripWork
from matside.guide.laying import Laying
from matside.guide.reach import folds_needed
from matside.guide.script import write_script
from matside.guide.table import TABLE
from matside.rulers import GENERIC_RULERS, read_rulers
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle, Trapezoid
from matside.strips import strip_yield

FIXED = settings(derandomize=True, deadline=None, database=None, max_examples=examples(10, 6))
EVENTS = sorted({event for rules in TABLE["rules"].values() for event in rules})
CUT = {"event": "cut"}
UNDO = {"event": "undo"}

NARROW = {"name": "narrow", "width": 2, "length": 12, "angles": [{"degrees": 60, "from": "long"}]}
SQUARE = {"name": "square", "width": 15, "length": 15, "angles": [{"degrees": 45, "from": "long", "at": 0}]}
LONG = {
    "name": "long",
    "width": 8.5,
    "length": 24,
    "angles": [{"degrees": angle, "from": "long", "at": 6} for angle in (30, 45, 60)],
}
LINELESS = {"name": "plain", "width": 6, "length": 24}
RULERS = {
    "usual": None,
    "none": [],
    "narrow": [NARROW],
    "square": [SQUARE],
    "lineless": [LINELESS],
    "both": [NARROW, SQUARE],
    "long": [LONG],
}


def guide(**changes) -> dict:
    """The script that the door gives for diamonds of 4 in from a fat quarter, or for what differs from that."""
    request = {"piece": {"shape": "diamond", "size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}, **changes}
    found = asked({"ask": "guide", **{name: value for name, value in request.items() if value is not None}})
    assert found["ok"], found
    return found["script"]


def asked(request: dict) -> dict:
    """The door's answer; the same request is answered once."""
    return _asked(json.dumps(request))


@cache
def _asked(request: str) -> dict:
    return matside.answer(json.loads(request))


def planned(script: dict) -> int:
    """Pieces that all strips of a script are planned to give."""
    return sum(strip["planned"] for strip in script["strips"])


def to_the_end(script: dict, events: list[dict]) -> list[dict]:
    """The log with as many cuts added as lead to the last step."""
    log, state = list(events), fold_log([script], events)
    while script["steps"][state.step]["do"] != "done":
        log.append(CUT)
        state = advance([script], state, CUT)
    return log


def first(script: dict, do: str, nth: int = 0) -> list[dict]:
    """Cuts that lead to the nth step that does this."""
    return [CUT] * [i for i, step in enumerate(script["steps"]) if step["do"] == do][nth]


# --- The table and the folding --------------------------------------------------------------------------------------

ONE_LAYER, THREE_LAYERS = guide(), guide(layers=3)
MIXED = guide(piece={"size": 5, "angle": 60}, cloth={"length": 24, "width": 27}, way="mixed")


def legal(script: dict, state: State) -> list[dict]:
    """Every event that may come next, each with the least and the most of its number."""
    found = []
    for name in TABLE["rules"][script["steps"][state.step]["do"]]:
        for n in (None, *range(-3, 5)):
            event = {
                "event": name,
                **({} if n is None else {"n": n}),
                **({"script": 0, "step": 0} if name == "switch" else {}),
            }
            try:
                advance([script], state, event)
            except Illegal:
                continue
            found.append(event)
    return found


def walk(script: dict, seed: int, steps: int) -> list[dict]:
    """A log of legal events, drawn from a seed; mostly cuts, as at a mat, and now and then an undo."""
    draw, log = random.Random(seed), []
    for _ in range(steps):
        state = fold_log([script], log)
        choices = [event for event in legal(script, state) if event["event"] != "switch"]
        cuts = [event for event in choices if event["event"] == "cut"]
        pick = draw.choice(cuts if cuts and draw.random() < 0.6 else choices)
        log.append(UNDO if log and draw.random() < 0.1 and undoable(log) else pick)
    return log


def undoable(log: list[dict]) -> bool:
    """Whether an event stands that can be undone."""
    return sum(-1 if event["event"] == "undo" else 1 for event in log) > 0


WALKS = [(script, seed) for script in (ONE_LAYER, THREE_LAYERS, MIXED) for seed in range(12)]


@pytest.mark.parametrize("do", sorted(TABLE["rules"]))
@pytest.mark.parametrize("event", [*EVENTS, "no such event"])
def test_an_event_without_a_rule_raises_and_changes_nothing(do: str, event: str):
    script = {"steps": [{"do": do, "strip": 0, "gives": 2}] * 3}
    state = State(tallies={(0, 0): {"made": 2, "spoiled": 0, "lost": 0}})
    before = copy.deepcopy(state)
    if event in TABLE["rules"][do]:
        return
    with pytest.raises(Illegal):
        advance([script], state, {"event": event, "n": 1, "script": 0})
    assert state == before


@pytest.mark.parametrize("n", [None, 0, 4, 100, -1])
def test_a_number_outside_its_limits_raises_and_changes_nothing(n):
    log = first(THREE_LAYERS, "piece")
    event = {"event": "spoiled", **({} if n is None else {"n": n})}
    state = fold_log([THREE_LAYERS], log)
    before = copy.deepcopy(state)
    with pytest.raises(Illegal):
        advance([THREE_LAYERS], state, event)
    assert state == before
    with pytest.raises(Illegal):
        fold_log([THREE_LAYERS], [*log, event])


def test_a_limit_that_nobody_knows_raises():
    table = copy.deepcopy(TABLE)
    table["rules"]["piece"]["spoiled"]["n"] = [1, "a lot"]
    with pytest.raises(Illegal):
        fold_log([THREE_LAYERS], [*first(THREE_LAYERS, "piece"), {"event": "spoiled", "n": 1}], table)


def test_no_step_takes_an_event_back_before_the_first():
    with pytest.raises(Illegal):
        fold_log([ONE_LAYER], [UNDO])
    with pytest.raises(Illegal):
        fold_log([ONE_LAYER], [CUT, UNDO, UNDO])


@pytest.mark.parametrize(("script", "seed"), WALKS)
def test_undo_of_anything_gives_the_state_before(script: dict, seed: int):
    log = walk(script, seed, 25)
    state = fold_log([script], log)
    for event in legal(script, state):
        assert fold_log([script], [*log, event, UNDO]) == state, event


@pytest.mark.parametrize(("script", "seed"), WALKS)
def test_undoing_everything_leads_back_to_the_start(script: dict, seed: int):
    log = walk(script, seed, 25)
    while undoable(log):
        log.append(UNDO)
    assert fold_log([script], log) == State()


@pytest.mark.every(3)
@pytest.mark.parametrize(("script", "seed"), WALKS)
def test_no_piece_comes_from_nowhere_and_none_goes_missing(script: dict, seed: int):
    """Made, spoiled, lost and still to come are what was planned, as long as nobody counts anew."""
    log = [event for event in walk(script, seed, 60) if event["event"] not in ("recount", "extra", "undo")]
    for end in range(len(log) + 1):
        try:
            state = fold_log([script], log[:end])
        except Illegal:  # without the events left out, what was legal may be no more
            return
        ahead = sum(step["gives"] for step in script["steps"][state.step :] if step["do"] == "piece")
        assert sum(state.total(counter) for counter in COUNTERS) + ahead == planned(script)


@pytest.mark.every(3)
@pytest.mark.parametrize(("script", "seed"), WALKS)
def test_no_count_ever_falls_below_nothing(script: dict, seed: int):
    log = walk(script, seed, 60)
    for end in range(len(log) + 1):
        state = fold_log([script], log[:end])
        assert all(state.total(counter) >= 0 for counter in COUNTERS)


@pytest.mark.parametrize("layers", range(1, 13))
def test_a_cut_through_several_layers_counts_as_many(layers: int):
    script = guide(cloth={"kind": "yardage", "length": "1 1/2 yd"}, layers=layers, way="along_width")
    log = first(script, "piece")
    made = fold_log([script], [*log, CUT]).total("made")
    assert made == script["strips"][0]["layers"] == min(layers, 13)  # 54 in hold 13 strips of 4 in
    assert planned(script) == 13 * 8  # common practice, no published source: 8 from a strip of 42 in


@pytest.mark.parametrize(("n", "left"), [(1, 2), (2, 1), (3, 0)])
def test_a_strip_that_ends_early_loses_what_it_will_not_give(n: int, left: int):
    """Strips along the 18 give 3 pieces each, five strips: 15. Common practice, no published source."""
    script = guide(way="along_length")
    log = [*first(script, "piece"), {"event": "ends_early", "n": n}]
    state = fold_log([script], log)
    assert state.total("lost") == n
    assert sum(1 for step in script["steps"][state.step :] if step["do"] == "piece" and step["strip"] == 0) == left
    assert fold_log([script], to_the_end(script, log)).total("made") == 15 - n


def test_a_strip_that_ends_before_its_starter_is_cut_gives_nothing_more():
    script = guide(way="along_length")
    log = [*first(script, "lay"), {"event": "ends_early", "n": 3}]
    assert script["steps"][fold_log([script], log).step]["strip"] in (0, 1)
    assert fold_log([script], to_the_end(script, log)).total("made") == 12


def test_a_stack_that_ends_early_loses_a_piece_of_every_layer():
    script = guide(way="along_length", layers=3)
    log = [*first(script, "piece"), {"event": "ends_early", "n": 2}]
    assert fold_log([script], log).total("lost") == 6
    assert fold_log([script], to_the_end(script, log)).total("made") == 9


@pytest.mark.parametrize(("layers", "n", "made"), [(1, 1, 0), (3, 1, 2), (3, 2, 1), (3, 3, 0)])
def test_a_spoiled_piece_is_cut_and_not_counted(layers: int, n: int, made: int):
    script = guide(way="along_length", layers=layers)
    log = [*first(script, "piece"), {"event": "spoiled", "n": n}]
    state = fold_log([script], log)
    assert (state.total("made"), state.total("spoiled")) == (made, n)
    assert fold_log([script], to_the_end(script, log)).total("made") == 15 - n


def test_a_piece_found_spoiled_later_is_taken_from_the_count():
    script = guide(way="along_length")
    log = [*first(script, "piece", 2), {"event": "spoiled_before", "n": 1}]
    state = fold_log([script], log)
    assert (state.total("made"), state.total("spoiled")) == (1, 1)
    with pytest.raises(Illegal):
        fold_log([script], [*log, {"event": "spoiled_before", "n": 2}])


def test_one_more_than_planned_and_a_count_made_anew_are_counted():
    script = guide(way="along_length")
    log = [*first(script, "strip_done"), {"event": "extra"}]
    assert fold_log([script], log).total("made") == 4
    assert fold_log([script], [*log, {"event": "recount", "n": -4}]).total("made") == 0
    with pytest.raises(Illegal):
        fold_log([script], [*log, {"event": "recount", "n": -5}])


def test_stop_is_over_until_the_next_event():
    log = [*first(ONE_LAYER, "piece"), {"event": "stop"}]
    stopped, on = fold_log([ONE_LAYER], log), fold_log([ONE_LAYER], [*log, CUT])
    assert (stopped.stopped, on.stopped) == (True, False)
    assert (stopped.total("made"), on.total("made")) == (0, 1)


def test_another_script_keeps_what_was_counted_and_counts_on():
    log = [*first(ONE_LAYER, "piece", 2), {"event": "switch", "script": 1, "step": len(first(THREE_LAYERS, "piece"))}]
    state = fold_log([ONE_LAYER, THREE_LAYERS], log)
    assert state.total("made") == 2
    assert fold_log([ONE_LAYER, THREE_LAYERS], [*log, CUT]).total("made") == 5
    assert fold_log([ONE_LAYER, THREE_LAYERS], [*log, UNDO]) == fold_log([ONE_LAYER], log[:-1])


def test_the_table_is_plain_data():
    assert json.loads(json.dumps(TABLE)) == TABLE
    assert {"cut"} == {
        event for event in EVENTS if all(event in TABLE["rules"][do] for do in TABLE["rules"] if do != "done")
    } - {"stop", "switch", "recount"}


# --- The script -----------------------------------------------------------------------------------------------------

PIECES = [{"shape": "diamond", "size": size, "angle": angle} for size in (2.5, 8) for angle in (15, 30, 45, 60, 75, 90)]
CLOTHS = [{"kind": "yardage", "length": "1 yd"}, {"kind": "full_width_strip"}, {"length": 60, "width": 33}]


@pytest.mark.every(3)
@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("cloth", CLOTHS)
@pytest.mark.parametrize("way", ["along_length", "along_width", "mixed"])
def test_cuts_alone_lead_to_the_end_and_to_the_number_that_was_answered(piece, cloth, way):
    answer = asked({"ask": "cloth", "piece": piece, "cloth": cloth})
    promised = answer["best" if way == "mixed" else way]["pieces"]
    request = {"ask": "guide", "piece": piece, "cloth": cloth, "way": way, "layers": 2}
    if not promised:
        assert asked(request)["error"]["field"] == "cloth"
        return
    script = asked(request)["script"]
    end = fold_log([script], to_the_end(script, []))
    assert end.step == len(script["steps"]) - 1
    assert end.total("made") == planned(script) == promised


lengths = st.fractions(min_value=1, max_value=60, max_denominator=16).map(float)


@FIXED
@given(
    size=st.fractions(min_value=2, max_value=9, max_denominator=8).map(float),
    angle=st.one_of(st.sampled_from([15, 30, 45, 60, 90]), st.integers(150, 900).map(lambda tenths: tenths / 10)),
    sides=st.tuples(lengths, lengths),
    habits=st.fixed_dictionaries({
        "hand": st.sampled_from(["left", "right"]), "lay": st.sampled_from(["along", "away"]), "layers": st.integers(1, 12),
        "way": st.sampled_from(["along_length", "along_width", "mixed"]), "mat": st.sampled_from(["12 in", "24 in", "90 cm"]),
    }),
    rulers=st.sampled_from(sorted(RULERS)),
)  # fmt: skip
def test_any_script_runs_and_has_its_words_scenes_and_cautions(size, angle, sides, habits, rulers):
    request = {"ask": "guide", "piece": {"size": size, "angle": angle}, "cloth": dict(zip(("length", "width"), sides, strict=True)),
               **habits, **({} if RULERS[rulers] is None else {"rulers": RULERS[rulers]})}  # fmt: skip
    found = matside.answer(request)
    if not found["ok"]:
        assert found["error"]["code"] == "guide_pieces"
        return
    script = found["script"]
    assert fold_log([script], to_the_end(script, [])).total("made") == planned(script)
    check_words(script)
    check_steps(script)


def check_steps(script: dict) -> None:
    """What the page relies on in every step."""
    assert script["steps"][-1]["do"] == "done"
    for step in script["steps"]:
        assert step["do"] in TABLE["rules"]
        assert 0 <= step["strip"] < len(script["strips"])
        if step["do"] == "done":
            continue
        scene = script["scenes"][step["scene"]]
        assert step["next"] is None or 0 <= step["next"] < len(scene["pieces"])
        # Whatever the blade does is drawn, with the way it runs.
        assert not step["cut"] or [shape for shape in scene["over"][step["over"]] if shape["role"] == "cut"], step


def test_a_strip_is_laid_before_it_is_cut_and_the_strips_come_one_after_another():
    script = guide(cloth={"kind": "yardage", "length": "1/2 yd"}, layers=2)
    done = [
        (step["strip"], step["do"])
        for step in script["steps"]
        if step["do"] in ("lay", "starter", "piece", "strip_done")
    ]
    for strip, told in enumerate(script["strips"]):
        own = [do for at, do in done if at == strip]
        assert own[:2] == ["lay", "starter"]
        assert own[-1] == "strip_done"
        assert own[2:-1] == ["piece"] * (told["planned"] // told["layers"])
    assert [strip for strip, _ in done] == sorted(strip for strip, _ in done)


def test_a_cloth_longer_than_the_mat_is_folded_and_a_short_one_is_not():
    does = [step["do"] for step in guide(cloth={"kind": "yardage"}, way="along_width")["steps"]]
    assert (does.count("fold"), does.count("unfold")) == (1, 1)
    assert "fold" not in [step["do"] for step in guide(cloth={"length": 9, "width": 18}, way="along_width")["steps"]]


def test_the_angle_is_checked_after_the_first_piece_and_every_few():
    script = guide(cloth={"kind": "full_width_strip"}, piece={"size": 2.5, "angle": 60}, recheck_every=4)
    does = [step["do"] for step in script["steps"] if step["do"] in ("piece", "recheck")]
    assert does[:3] == ["piece", "recheck", "piece"]
    pieces_before = [does[:i].count("piece") for i, do in enumerate(does) if do == "recheck"]
    assert pieces_before == [1, 4, 8, 12]


def checks(**request) -> list[int]:
    """After how many pieces of its first strip the guide has one checked."""
    steps = guide(cloth={"kind": "full_width_strip"}, piece={"size": 2.5, "angle": 60}, **request)["steps"]
    does = [step["do"] for step in steps if step["do"] in ("piece", "recheck")]
    return [does[:i].count("piece") for i, do in enumerate(does) if do == "recheck"]


def test_when_nobody_says_how_near_lines_are_laid_it_is_as_most_do():
    # Common practice, no published source: to 1/32 in.
    bare = {"name": "bare", "width": 6, "length": 24, "angles": []}
    assert checks(rulers=[bare]) == checks(rulers=[bare], placing="1/32 in")
    assert (
        len(checks(rulers=[bare], placing="1/64 in"))
        < len(checks(rulers=[bare]))
        < len(checks(rulers=[bare], placing="1/16 in"))
    )
    assert matside.answer({"ask": "facts"})["drift"]["usual"]["placing"] == "usual"


def test_where_an_angle_line_is_laid_at_every_cut_nothing_adds_up_and_only_the_first_piece_is_checked():
    assert checks() == [1]
    # Whoever says how near lines are laid, or how long a row is, is taken at their word.
    for said in ({"placing": "1/32 in"}, {"across": 10}, {"tolerance": "1/4 in"}):
        assert checks(**said)[:3] == [1, 2, 4]


def test_only_the_first_strip_is_checked_after_its_first_piece():
    script = guide(recheck_every=2)
    checked_after: dict[int, list[int]] = {}
    for step in script["steps"]:
        after = checked_after.setdefault(step["strip"], [0])
        if step["do"] == "piece":
            after[-1] += 1
        elif step["do"] == "recheck":
            after.append(after[-1])
    assert [after[:-1] for strip, after in checked_after.items() if strip is not None] == [[1, 2], *[[2]] * 4]


@pytest.mark.parametrize(("shape", "rulers", "shown"), [
    ("diamond", [LONG], {"measure-line"}), ("diamond", [LINELESS], {"measure-line"}), ("diamond", [], {"measure-line", "last-cut"}),
    ("half-diamond", [LONG], {"last-cut"}), ("half-diamond", [LINELESS], {"measure-line"}), ("half-diamond", [], {"measure-line", "last-cut"}),
])  # fmt: skip
def test_the_last_cut_is_pointed_out_where_nothing_else_shows_it(shape, rulers, shown):
    # Where a line of the ruler lies on it, or marks are measured from it, it is plain to see.
    script = guide(piece={"shape": shape, "size": 4, "angle": 60}, rulers=rulers)
    for step in script["steps"]:
        if step["do"] == "piece":
            over = script["scenes"][step["scene"]]["over"][step["over"]]
            assert {one["role"] for one in over} & {"measure-line", "last-cut"} == shown, step["say"]


@pytest.mark.parametrize(("run", "mat", "rulers", "folds"), [
    (18, 24, [24], 0), (100, 24, [24], 2), (24, 36, [24], 1), (23, 36, [24], 0), (22.5, 36, [24], 0), (24, 24, [36], 0), (25, 24, [36], 1),
    (40, 24, [12, 36], 1), (42, 24, [], 1),
])  # fmt: skip
def test_a_cloth_is_folded_until_mat_and_longest_ruler_reach_across_it_twice_at_most(run, mat, rulers, folds):
    # A ruler passes the cloth by half an inch at either end. Common practice, no published source.
    assert folds_needed(Fraction(run), Fraction(mat), list(map(Fraction, rulers))) == folds


def test_the_ruler_lies_on_the_cloth_along_the_cut_that_makes_an_edge_straight():
    script = guide(cloth={"length": 22, "width": 22.5}, way="along_width")
    step = next(step for step in script["steps"] if step["do"] == "square")
    scene = script["scenes"][step["scene"]]
    over = {shape["role"]: shape["points"] for shape in scene["over"][step["over"]]}
    ruler, cut, cloth = Polygon(over["ruler"]), LineString(over["cut"]), Polygon(scene["still"][0]["points"])
    (waste,) = (Polygon(shape["points"]) for shape in scene["still"] if shape["role"] == "waste")
    assert ruler.boundary.intersection(cut).length == pytest.approx(cut.length) == 22.5
    assert ruler.intersection(waste).area == pytest.approx(0) and ruler.intersection(cloth).area > 100
    assert waste.intersection(cut).length == pytest.approx(22.5)


@pytest.mark.parametrize(("sides", "division", "strip"), [
    ({"length": 14, "width": 18}, {"along": "length", "at": 10}, {"x": 10, "y": 0, "run": 18, "count": 3}),
    ({"length": 4, "width": 18}, {"along": "width", "at": 8}, {"x": 0, "y": 8, "run": 10, "count": 1}),
])  # fmt: skip
def test_a_strip_that_is_the_rest_of_a_divided_cloth_is_divided_off_first(sides, division, strip):
    piece = {"id": "a", "size": 4, "angle": 60}
    strips = [{**strip, "along": "width", "size": 4, "piece": "a"}]
    layouts = [{"cloth": "cloth", "division": division, "strips": strips}]
    script = guide(piece=None, pieces=[piece], cloths=[{"id": "cloth", **sides}], layouts=layouts)
    does = [step["do"] for step in script["steps"]]
    assert does.index("divide") < does.index("take_part") < does.index("piece")
    assert does.count("piece") == strip["count"]


def test_the_edge_of_each_cloth_is_made_straight_with_a_ruler_for_its_own_strips():
    rulers = [{"name": "a", "width": 4.5, "length": 24}, {"name": "b", "width": 9, "length": 24}]
    pieces = [{"id": "four", "size": 4, "angle": 60}, {"id": "eight", "size": 8, "angle": 60}]
    cloths = [{"id": piece["id"], "length": 22, "width": 22.5} for piece in pieces]
    strip = {"x": 0, "y": 0, "along": "width", "run": 22.5, "count": 1}
    layouts = [
        {"cloth": piece["id"], "strips": [{**strip, "size": piece["size"], "piece": piece["id"]}]} for piece in pieces
    ]
    script = guide(piece=None, cloth=None, pieces=pieces, cloths=cloths, layouts=layouts, rulers=rulers)
    drawn = [script["scenes"][step["scene"]]["over"]["trim"][0] for step in script["steps"] if step["do"] == "square"]
    assert [one["role"] for one in drawn] == ["ruler", "ruler"]
    areas = [Polygon(one["points"]).area for one in drawn]
    assert areas == pytest.approx([4.5 * 24, 9 * 24])


def test_no_strip_is_cut_off_a_cloth_that_is_one():
    ready = guide(piece={"size": 4, "angle": 60}, cloth={"length": 4, "width": 18}, way="along_width")
    assert "strip" not in [step["do"] for step in ready["steps"]]


def test_strips_of_a_plan_are_cut_in_their_order_whatever_the_order_in_which_they_are_listed():
    pieces = [{"id": "a", "size": 4, "angle": 60}, {"id": "b", "size": 2.5, "angle": 60}]
    first = [(0, 4, "a", 3), (4, 4, "a", 3), (8, 2.5, "b", 5)]
    strips = [
        {"x": x, "y": 0, "along": "width", "run": 18, "size": size, "piece": piece, "count": count}
        for x, size, piece, count in first
    ]
    second = [(0, 4, "a", 2), (4, 2.5, "b", 4), (6.5, 2.5, "b", 4)]
    strips += [
        {"x": 12, "y": y, "along": "length", "run": 15, "size": size, "piece": piece, "count": count}
        for y, size, piece, count in second
    ]
    division = {"along": "length", "at": 12}

    def script(strips: list[dict]) -> dict:
        layouts = [{"cloth": "cloth", "division": division, "strips": strips}]
        return guide(piece=None, pieces=pieces, cloths=[{"id": "cloth", "length": 27, "width": 18}], layouts=layouts)

    told = script(strips)
    cut = [step["values"]["size"] for step in told["steps"] if step["do"] == "strip"]
    assert cut == [4, 4, 2.5, 4, 2.5, 2.5]
    for seed in range(4):
        assert script(random.Random(seed).sample(strips, len(strips))) == told


# --- Words ----------------------------------------------------------------------------------------------------------

CATALOGUE = Path(matside.__file__).parent / "words" / "en"
WORDS = json.loads((CATALOGUE / "guide.json").read_text("utf-8"))["guide"]
LIE = json.loads((CATALOGUE / "lie.json").read_text("utf-8"))["lie"]
COUNTED = {"made": 1, "of": 8, "strip": 1, "strips": 4, "total": 3, "all": 32, "spoiled": 0, "lost": 0}
NAMED = {"name": "Diamonds", "of_fabric": ""}  # what the page adds: the name of the piece in hand, and its fabric
PLACE = re.compile(r"(?<!\{)\{(\w+)(?::(\w+))?\}")


def check_words(script: dict) -> None:
    """Every step has its sentences, and gives every value that they name, of the sort that they name it as."""
    for step in script["steps"]:
        for depth in ("short", "long", "why"):
            check_sentence(WORDS[step["say"]][depth], {**COUNTED, **NAMED, **step["values"]}, (step["say"], depth))
        assert all(WORDS["caution"][code] for code in step.get("cautions", []))


def check_sentence(sentence, values: dict, place) -> None:
    for form in sentence.values() if isinstance(sentence, dict) else [sentence]:
        for name, kind in PLACE.findall(form):
            assert values.get(name) is not None, f"{place} wants {name}"
            if kind == "length":
                assert isinstance(values[name], (int, float, Fraction)) and values[name] > 0, (
                    f"{place}: {name} is {values[name]}"
                )
            elif kind:
                check_sentence(LIE[kind][values[name]], values, (*place, kind))
        assert not re.search(r"\{\w+:length\} (in|cm)\b", form), f"{place} says the unit of a length twice"


@pytest.mark.every(3)
@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("rulers", RULERS)
def test_every_step_has_its_words_with_all_their_values(piece, rulers):
    for habits in ({"hand": "right", "layers": 1}, {"hand": "left", "lay": "away", "layers": 12}):
        check_words(
            guide(piece=piece, cloth={"length": 17, "width": 62}, rulers=RULERS[rulers], way="along_width", **habits)
        )


def test_a_cloth_that_is_divided_first_says_where_with_all_its_values():
    assert any(step["do"] == "divide" for step in MIXED["steps"])
    check_words(MIXED)
    check_words(guide(piece={"size": 5, "angle": 60}, cloth={"length": 27, "width": 24}, way="mixed"))


@pytest.mark.every(2)
@pytest.mark.parametrize("rulers", RULERS)
def test_pieces_of_every_shape_have_their_words(rulers):
    for shape in SHAPES:
        check_words(scripted(shape, rulers=rulers))
        check_words(scripted(shape, Habits(hand="left", lay="away", layers=3), rulers))


def test_the_next_cloth_is_told_by_its_sides():
    script = scripted(SHAPES[0], cloths=2)
    assert [step["do"] for step in script["steps"]].count("swap") == 1
    check_words(script)


# --- What lies where -------------------------------------------------------------------------------------------------


def does(script: dict, cloth: int = 0) -> list[str]:
    """What the steps of a cloth do, before its first strip is laid."""
    done = [step["do"] for step in script["steps"] if step["cloth"] == cloth]
    return done[: done.index("lay")]


@pytest.mark.parametrize("request_", [
    {"way": "along_length"}, {"way": "along_width"}, {"way": "mixed", "piece": {"size": 2.5, "angle": 60}},
    {"cloth": {"kind": "yardage", "length": "1/2 yd"}, "way": "along_width"}, {"cloth": {"length": 30, "width": 9}}, {"cloth": {"kind": "full_width_strip"}},
], ids=str)  # fmt: skip
def test_what_must_be_there_is_measured_before_the_first_cut(request_):
    steps = guide(**request_)["steps"]
    measured = next(i for i, step in enumerate(steps) if step["do"] == "measure")
    assert not any(step["cut"] for step in steps[:measured])
    assert any(step["cut"] for step in steps[measured:])


def test_a_side_with_nothing_to_spare_is_not_trimmed():
    """Five strips of 4 in take all of the 20 in between the selvages: only the selvage comes off."""
    script = guide(way="along_length")
    assert "square" not in does(script) and does(script).count("selvage") == 1
    (measure,) = [step for step in script["steps"] if step["do"] == "measure"]
    assert measure["values"]["across"] == 20
    assert measure["values"]["run"] == pytest.approx(
        4 / 3**0.5 + 3 * 8 / 3**0.5
    )  # 2.309 of starter, three of 4.619: 60° by arithmetic


def test_a_side_with_something_to_spare_is_trimmed_by_a_sliver_that_was_measured_for():
    """Four strips of 4 in across 18 in leave 2 in: the end is squared, and what is measured allows for it."""
    script = guide(way="along_width")
    assert does(script) == ["press", "place", "measure", "square", "half_turn", "strip", "strip", "strip", "strip"]
    values = {step["do"]: step["values"] for step in script["steps"]}
    assert values["measure"]["across"] == 16 + values["square"]["most"]


def test_a_raw_edge_with_nothing_to_spare_is_only_looked_at():
    script = guide(piece={"size": 3, "angle": 60}, way="along_width")  # six strips of 3 in take the 18 in
    assert does(script)[:4] == ["press", "place", "measure", "check_edge"]
    assert "half_turn" not in does(script)


def test_the_second_part_is_turned_in_so_many_words_and_its_cut_edge_lies_where_they_say():
    script = guide(piece={"size": 2.5, "angle": 60}, way="mixed")
    parts = [step for step in script["steps"] if step["do"] == "take_part"]
    assert [step["say"] for step in parts] == ["take_part", "take_part_turned"]
    assert [step["values"]["from"] for step in parts] == ["left", "right"]
    scene = script["scenes"][parts[1]["scene"]]
    (edge,) = [shape["points"] for shape in scene["still"] if shape["role"] == "edge"]
    (cloth,) = [Polygon(shape["points"]) for shape in scene["still"] if shape["role"] == "cloth"]
    assert parts[1]["values"]["edge"] == "top"
    assert {y for _, y in edge} == {cloth.bounds[3]}


def test_the_picture_turns_only_where_a_sentence_says_so():
    turns = {"half_turn", "take_part", "place", "fold", "unfold", "swap"}
    for request in (
        {"way": "along_length"},
        {"way": "mixed", "piece": {"size": 2.5, "angle": 60}},
        {"cloth": {"kind": "yardage", "length": "1/2 yd"}, "way": "along_width", "hand": "left"},
    ):
        script = guide(**request)
        before = None
        for step in script["steps"]:
            if step["do"] == "lay":
                break
            turned = script["scenes"][step["scene"]]["turned"]
            assert before in (None, turned) or step["do"] in turns, step["do"]
            before = turned


def test_a_cloth_with_a_selvage_at_both_ends_is_folded_selvage_to_selvage_and_any_other_end_to_end():
    both = guide(cloth={"kind": "yardage"}, way="along_width")
    one = guide(cloth={"length": 18, "width": 30, "selvage": "length", "selvages": 1}, way="along_width")
    none = guide(cloth={"length": 9, "width": 42}, way="along_width")
    folds = [next(step for step in script["steps"] if step["do"] == "fold") for script in (both, one, none)]
    assert [step["say"] for step in folds] == ["fold_selvages", "fold_ends", "fold_ends"]
    assert [(step["values"]["before"], step["values"]["after"]) for step in folds] == [(42, 21), (30, 15), (42, 21)]


def test_selvages_at_the_ends_come_off_with_the_starter_cut_and_where_something_is_measured_from_the_end_before_it():
    by_line = guide(cloth={"kind": "yardage"}, way="along_width")
    by_marks = guide(cloth={"kind": "yardage"}, way="along_width", rulers=[LINELESS])
    assert "start_angle_line_selvage" in [step["say"] for step in by_line["steps"]]
    assert "end_selvage" in [step["say"] for step in by_marks["steps"]]
    assert "selvage" not in does(by_line)  # not along yards of cloth


@pytest.mark.parametrize(
    ("size", "width", "reads"), [(6, 6, "far_edge"), (4, 6, "line"), (3.6875, 6, "between"), (8, 6, "two_line")]
)
def test_the_distance_is_read_as_the_ruler_has_it(size, width, reads):
    rulers = [{"name": "one", "width": width, "length": 24}, {"name": "other", "width": 3, "length": 24}]
    script = guide(
        piece={"size": size, "angle": 60}, cloth={"length": 20, "width": 20}, rulers=rulers[: 2 if size > width else 1]
    )
    strip = next(step["values"] for step in script["steps"] if step["do"] == "strip")
    assert strip["reads"] == reads
    assert (strip["below"], strip["above"]) == ((3.625, 3.75) if reads == "between" else (strip["distance"],) * 2)


def test_without_a_ruler_the_distance_between_cuts_is_the_pieces_own():
    """Cuts 4 in apart, square across, lie 4 / sin 60° apart along the edge (arithmetic), whatever the strip's width."""
    script = guide(piece={"shape": "parallelogram", "size": 1.5, "across": 4, "angle": 60}, rulers=[])
    values = next(step["values"] for step in script["steps"] if step["do"] == "piece")
    assert values["measure"] == 4
    assert (
        values["near_step"] == values["far_step"] == pytest.approx(4 / sin(radians(60)), abs=1 / 32)
    )  # marked to half an eighth


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("lay", ["along", "away"])
@pytest.mark.parametrize("mirrored", [False, True])
def test_a_leaning_piece_comes_out_as_it_was_wanted_from_the_side_that_is_said(hand, lay, mirrored):
    """The drawing shows the side that lies up; seen from the right side of the cloth the piece
    must lean as its outline does.
    """
    piece = {"shape": "parallelogram", "size": 2, "across": 5, "angle": 45, "mirrored": mirrored}
    script = guide(piece=piece, cloth={"length": 30, "width": 8}, hand=hand, lay=lay)
    step, scene = steps_with_scenes(script, "piece")[0]
    seen = scene["pieces"][0]
    up = next(step["values"]["up"] for step in script["steps"] if step["do"] == "lay")
    right_side = [(-x, y) for x, y in seen] if up == "wrong" else seen
    assert leans_right(right_side) != mirrored


def leans_right(corners) -> bool:
    """Whether a parallelogram, its longer sides from left to right, leans like "/": a rotation cannot change it."""
    ring = Polygon(corners).exterior
    points = list(ring.coords)[:-1] if ring.is_ccw else list(ring.coords)[:-1][::-1]
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:] + points[:1], strict=True)]
    long = max(range(4), key=lambda k: sides[k][0] ** 2 + sides[k][1] ** 2)
    (x, y), (u, v) = sides[long], sides[(long + 1) % 4]
    return x * u + y * v > 0


@pytest.mark.parametrize("layers", [1, 2])
def test_rectangles_are_cut_corner_to_corner_so_many_each_way(layers):
    layout = {
        "cloth": "a",
        "strips": [
            {"x": 0, "y": 3 * k, "along": "length", "run": 20, "size": 3, "piece": "corners", "count": 2}
            for k in range(2)
        ],
    }
    pieces = [{"id": "corners", "shape": "rectangle", "size": 3, "length": 5, "halved": [1, 3]}]
    script = guide(
        piece=None,
        cloth=None,
        cloths=[{"id": "a", "length": 20, "width": 9}],
        pieces=pieces,
        layouts=[layout],
        layers=layers,
    )
    halves = [step for step in script["steps"] if step["say"] == "halve"]
    assert sum(step["values"]["n"] for step in halves if step["values"]["diagonal"] == "rising") == 1
    assert sum(step["values"]["n"] for step in halves if step["values"]["diagonal"] == "falling") == 3
    assert (
        sum(step["gives"] for step in halves)
        == 8
        == planned(script)
        == fold_log([script], to_the_end(script, [])).total("made")
    )
    for step in halves:
        (cut,) = lines(step, script["scenes"][step["scene"]], "cut")
        (rising,) = {(end[0] - start[0]) > 0 for start, end in [sorted(cut.coords, key=lambda point: point[1])]}
        assert rising == (step["values"]["diagonal"] == "rising")


def test_strips_that_are_joined_are_set_aside_and_become_pieces_at_the_end():
    layout = {
        "cloth": "a",
        "strips": [
            {"x": 0, "y": 2 * k, "along": "length", "run": 20, "size": 2, "piece": "sashes", "count": 1}
            for k in range(3)
        ],
    }
    joined = {"length": 22.75, "need": 2, "ends": [60, 60], "takes": 2}
    pieces = [{"id": "sashes", "shape": "rectangle", "size": 2, "length": 20, "joined": joined}]
    script = guide(
        piece=None, cloth=None, cloths=[{"id": "a", "length": 20, "width": 9}], pieces=pieces, layouts=[layout]
    )
    said = [step["say"] for step in script["steps"]]
    assert said.count("keep_whole") == 3 and "end_square" not in said and "cut_square" not in said
    assert said[-4:] == ["join", "finish_angled", "finish_angled", "done"]
    counted = {piece["id"]: piece["counted"] for piece in script["pieces"]}
    assert counted == {"sashes": False, "sashes/joined": True}
    assert [strip["planned"] for strip in script["strips"]] == [1, 1, 1, 2]
    check_words(script)


def test_a_print_with_an_up_and_a_down_says_that_every_second_piece_lies_head_down():
    for shape, told in (("half-diamond", True), ("trapezoid", True), ("diamond", False)):
        script = guide(piece={"shape": shape, "size": 3, "angle": 60}, cloth={"kind": "fat_quarter", "one_way": True})
        said = {step["say"] for step in script["steps"] if step["do"] == "strip_done"}
        assert said == ({"strip_done_head_down"} if told else {"strip_done"})


def test_pieces_on_either_grain_go_to_piles_of_their_own():
    mixed, plain = guide(piece={"size": 2.5, "angle": 60}, way="mixed"), guide(way="along_length")
    assert {strip["pile"] for strip in mixed["strips"]} == {"lengthwise", "crosswise"}
    assert {strip["pile"] for strip in plain["strips"]} == {None}


@pytest.mark.parametrize(
    "request_",
    [
        {"way": "along_length"},
        {"way": "mixed", "piece": {"size": 2.5, "angle": 60}},
        {"cloth": {"kind": "yardage"}, "way": "along_width", "rulers": []},
    ],
    ids=str,
)
def test_every_label_has_its_words_and_every_line_that_is_set_by_has_a_label(request_):
    for scene in guide(**request_)["scenes"]:
        shapes = [shape for part in (scene["still"], *scene["over"].values()) for shape in part]
        assert all(shape["label"]["word"] in LIE["label"] for shape in shapes if "word" in shape.get("label", {}))
        spoken = {"measure-line", "angle-line", "side", "edge", "fold", "selvage", "last-cut"}
        assert all("label" in shape for shape in shapes if shape["role"] in spoken)


# --- Cautions -------------------------------------------------------------------------------------------------------

BLADE = {"selvage", "divide", "square", "strip", "end", "starter", "piece"}


@pytest.mark.parametrize(
    "cloth",
    [{"kind": "fat_quarter"}, {"kind": "full_width_strip"}, {"length": 4, "width": 30}, {"length": 9, "width": 30}],
)
@pytest.mark.parametrize("layers", [1, 4])
def test_the_first_blade_step_of_a_sitting_carries_its_cautions(cloth, layers):
    """OSHA 3080: dull blades are more dangerous than sharp ones, and the cut goes away from
    the body; EN 388: gloves.
    """
    steps = guide(cloth=cloth, layers=layers)["steps"]
    at = next(i for i, step in enumerate(steps) if step["do"] in BLADE)
    assert any("children" in code for step in steps[: at + 1] for code in step["cautions"])
    assert "sharp_glove" in steps[at]["cautions"]
    blade_steps = [step for step in steps if step["do"] in BLADE]
    assert any("cut_away" in step["cautions"] for step in blade_steps[:2])


def test_cloth_is_starched_before_it_is_cut():
    """Bias edges stretch; starch holds them. Common practice, no published source."""
    first = guide()["steps"][0]
    assert first["do"] == "press" and "Starch" in WORDS[first["say"]]["long"]


def test_the_blade_is_closed_wherever_hands_move_cloth_after_a_cut():
    """Common practice, no published source."""
    handling = {"swap", "half_turn", "take_part", "unfold", "lay", "turn", "strip_done", "recheck"}
    for script in (ONE_LAYER, MIXED, guide(cloth={"kind": "yardage"}, way="along_width")):
        is_open = False
        for step in script["steps"]:
            if step["do"] in handling and is_open:
                assert "close_blade" in step["cautions"], step["do"]
                is_open = False
            is_open = is_open or step["cut"] > 0


def test_each_caution_comes_once_but_the_blade_is_closed_after_every_strip():
    steps = guide()["steps"]
    told = [code for step in steps for code in step.get("cautions", []) if code != "close_blade"]
    assert sorted(told) == sorted(set(told))
    assert all("close_blade" in step["cautions"] for step in steps if step["do"] == "strip_done")


# --- Scenes ---------------------------------------------------------------------------------------------------------

SHAPES = [
    Diamond(Fraction(4), Fraction(60)), Diamond(Fraction(5, 2), Fraction(45)), Diamond(Fraction(6), Fraction(30)),
    Diamond(Fraction(3), Fraction(90)), Diamond(Fraction(8), Fraction(157, 2)), HalfDiamond(Fraction(4), Fraction(60), "short"),
    HalfDiamond(Fraction(3), Fraction(60), "long"), HalfDiamond(Fraction(3), Fraction(90), "short"),
    Parallelogram(Fraction(2), Fraction(3), Fraction(60)), Parallelogram(Fraction(2), Fraction(5), Fraction(45), mirrored=True),
    Rectangle(Fraction(5, 2), Fraction(5)), Trapezoid(Fraction(2), Fraction(5), Fraction(60)),
]  # fmt: skip
HABITS = [Habits(hand, lay) for hand in ("right", "left") for lay in ("along", "away")]
RUN, LEAST = Fraction(36), 1e-9


@cache
def scripted(shape, habits: Habits = Habits(), rulers: str = "usual", cloths: int = 1) -> dict:
    """The script for strips of one shape, cut off a cloth of 36 in that gives three of them."""
    laying = Laying(shape, _rulers(rulers), habits, 3)
    work = StripWork(PieceKind("piece", shape), RUN, strip_yield(shape, RUN).pieces, 3, "length")
    part = PartWork("length", (work,))
    job = Job(tuple(ClothWork(f"cloth {i}", RUN, 4 * shape.size, "length", (part,), selvages=1) for i in range(cloths)))
    return plain(write_script(job, habits, {"piece": laying}))


def _rulers(name: str):
    return GENERIC_RULERS if RULERS[name] is None else read_rulers(Fields({"rulers": RULERS[name]}))


def steps_with_scenes(script: dict, do: str):
    return [(step, script["scenes"][step["scene"]]) for step in script["steps"] if step["do"] == do]


def lines(step: dict, scene: dict, role: str) -> list[LineString]:
    """Lines of a role that lie on top at a step, moved to where they lie when the step's `at` has come."""
    moved = _moved(scene, step["at"] if scene["moves"] == "ruler" else 0)
    return [
        LineString(moved(shape["points"])) for shape in scene["over"].get(step["over"], []) if shape["role"] == role
    ]


def piece_at(step: dict, scene: dict, k: int) -> Polygon:
    """Piece k where it lies at a step."""
    return Polygon(_moved(scene, -step["at"] if scene["moves"] == "strip" else 0)(scene["pieces"][k]))


def _moved(scene: dict, times: int):
    dx, dy = scene["advance"]
    return lambda points: [(x + times * dx, y + times * dy) for x, y in points]


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_pieces_of_a_scene_have_the_area_of_the_shape_and_do_not_overlap(shape, habits):
    (_, scene), *_ = steps_with_scenes(scripted(shape, habits), "piece")
    pieces = [Polygon(points) for points in scene["pieces"]]
    assert len(pieces) == strip_yield(shape, RUN).pieces
    for piece in pieces:
        assert piece.is_valid
        assert piece.area == pytest.approx(shape.area, rel=LEAST)
    assert unary_union(pieces).area == pytest.approx(len(pieces) * shape.area, rel=LEAST)


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_starter_waste_pieces_and_rest_are_the_whole_strip(shape, habits):
    script = scripted(shape, habits)
    (_, scene), *_ = steps_with_scenes(script, "piece")
    ends = [steps_with_scenes(script, do)[0][1] for do in ("end", "starter") if steps_with_scenes(script, do)]
    waste = sum(Polygon(shape["points"]).area for end in ends for shape in end["still"] if shape["role"] == "waste")
    rest = sum(Polygon(shape["points"]).area for shape in scene["still"])
    pieces = sum(Polygon(points).area for points in scene["pieces"])
    assert waste + pieces + rest == pytest.approx(float(RUN * shape.size), rel=LEAST)


@pytest.mark.every(2)
@pytest.mark.parametrize("lay", ["along", "away"])
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_left_hands_scenes_mirror_the_right_hands(shape, lay):
    """With a ruler whose lines lean both ways; one that leans one way does not turn into its
    mirror in the other hand.
    """
    right, left = (scripted(shape, Habits(hand, lay), "long") for hand in ("right", "left"))
    for do in ("strip", "starter", "piece"):
        for (_, one), (_, other) in zip(steps_with_scenes(right, do), steps_with_scenes(left, do), strict=True):
            assert drawn(mirrored(one)) == drawn(other)
    # Where its mirror image is another piece, one hand's strip lies wrong side up where the other's lies right side up.
    said = [[step["say"].removesuffix("_wrong") for step in script["steps"]] for script in (right, left)]
    assert said[0] == said[1]
    ups = [{step["values"]["up"] for step in script["steps"] if step["do"] == "lay"} for script in (right, left)]
    assert (ups[0] == ups[1]) != shape.handed


def mirrored(scene: dict) -> dict:
    x, y, wide, high = scene["view"]
    turn = lambda points: [(-px, py) for px, py in points]  # noqa: E731
    return {
        **scene,
        "view": [-x - wide, y, wide, high],
        "advance": turn([scene["advance"]])[0],
        "still": [{**shape, "points": turn(shape["points"])} for shape in scene["still"]],
        "pieces": [turn(points) for points in scene["pieces"]],
        "over": {
            name: [{**shape, "points": turn(shape["points"])} for shape in shapes]
            for name, shapes in scene["over"].items()
        },
    }


def drawn(scene: dict) -> dict:
    """A scene as it is seen: to a hundred-millionth of an inch, whichever corner an outline starts at, and whichever of
    two shapes comes first. The cut keeps its direction."""
    return {
        "moves": scene["moves"],
        "view": _near(scene["view"]),
        "advance": _near(scene["advance"]),
        "still": sorted(_seen(shape) for shape in scene["still"]),
        "pieces": [sorted(map(_near, points)) for points in scene["pieces"]],
        "over": {name: sorted(_seen(shape) for shape in shapes) for name, shapes in scene["over"].items()},
    }


def _seen(shape: dict) -> tuple:
    points = [_near(point) for point in shape["points"]]
    return shape["role"], points if shape["role"] == "cut" else sorted(points), str(shape.get("label"))


def _near(numbers) -> list[float]:
    return [round(number, 8) + 0.0 for number in numbers]


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_every_cut_lies_on_the_edge_of_the_piece_that_it_frees(shape, habits):
    for step, scene in steps_with_scenes(scripted(shape, habits), "piece"):
        (cut,) = lines(step, scene, "cut")
        piece = piece_at(step, scene, step["next"])
        assert piece.exterior.buffer(1e-6).covers(cut)
        assert cut.length == pytest.approx(float(shape.size) / _sine_of_cut(shape), rel=LEAST)


def _sine_of_cut(shape) -> float:
    if isinstance(shape, HalfDiamond):
        return sin(radians(90 - float(shape.tip_angle) / 2))
    return sin(radians(shape.angle))


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_starter_cut_parts_the_waste_from_the_strip(shape, habits):
    found = steps_with_scenes(scripted(shape, habits), "starter")
    if shape.straight:
        assert not found and shape.starter_waste == 0
        return
    step, scene = found[0]
    waste = [Polygon(shape["points"]) for shape in scene["still"] if shape["role"] == "waste"]
    (cut,) = lines(step, scene, "cut")
    (strip,) = [Polygon(shape["points"]) for shape in scene["still"] if shape["role"] == "strip"]
    assert waste[0].exterior.buffer(1e-6).covers(cut)
    assert cut.length == pytest.approx(float(shape.size) / _sine_of_cut(shape), rel=LEAST)
    assert strip.buffer(1e-6).covers(waste[0])


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_strips_are_cut_off_at_their_edge_one_size_apart(shape, habits):
    found = steps_with_scenes(scripted(shape, habits), "strip")
    assert len(found) == 3
    for step, scene in found:
        (cut,) = lines(step, scene, "cut")
        strip = piece_at(step, scene, step["next"])
        assert strip.exterior.buffer(1e-6).covers(cut)
        low, high = strip.bounds[0], strip.bounds[2]
        assert high - low == pytest.approx(float(shape.size), rel=LEAST)


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_next_piece_and_its_cut_are_in_view(shape, habits):
    for step, scene in steps_with_scenes(scripted(shape, habits), "piece"):
        x, y, wide, high = scene["view"]
        view = Polygon([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)])
        assert view.covers(piece_at(step, scene, step["next"]))


@pytest.mark.every(3)
@pytest.mark.parametrize("habits", HABITS, ids=lambda habits: f"{habits.hand}-{habits.lay}")
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_blade_runs_away_from_the_body(shape, habits):
    """OSHA 3080 and common practice: the blade is directed away from the body, so the cut's end lies further away."""
    script = scripted(shape, habits)
    for do in ("strip", "starter", "piece"):
        for step, scene in steps_with_scenes(script, do):
            for cut in lines(step, scene, "cut"):
                (_, begun), (_, ended) = cut.coords[0], cut.coords[-1]
                assert ended > begun or (habits.lay == "away" and do != "strip")


def test_a_turned_piece_would_be_another_piece():
    """The check above can fail: an outline that is not the piece's is seen."""
    piece = Polygon(SHAPES[0].outline())
    assert affinity.scale(piece, 1.01, 1).area != pytest.approx(SHAPES[0].area, rel=LEAST)


@pytest.mark.parametrize(("told", "end"), [
    ({}, "selvage"), ({"selvages": 1}, "raw"), ({"selvage": "none"}, "any"), ({"selvages": 0, "selvage": "none"}, "any"),
])  # fmt: skip
def test_a_strip_says_which_of_its_ends_is_cut_from(told: dict, end: str):
    """Both with a selvage, one, or none: common practice, no published source."""
    cloth = {"kind": "full_width_strip", "width": 42, **told}
    found = matside.answer({"ask": "guide", "piece": {"size": 4, "angle": 60}, "cloth": cloth, "way": "along_width"})
    assert {step["values"]["end"] for step in found["script"]["steps"] if step["do"] == "lay"} == {end}


@pytest.mark.parametrize("kind", ["fat_quarter", "yardage", "scrap"])
def test_lengths_of_sides_are_drawn_only_where_they_are_spoken_of(kind: str):
    cloth = {"kind": kind, **({"length": 12, "width": 15} if kind == "scrap" else {})}
    script = matside.answer({"ask": "guide", "piece": {"size": 4, "angle": 60}, "cloth": cloth, "way": "along_length"})[
        "script"
    ]
    drawn = {
        step["do"]: [shape["role"] for shape in script["scenes"][step["scene"]]["still"]].count("side")
        for step in script["steps"]
        if step["do"] in ("press", "place", "half_turn", "check_edge")
    }
    assert {"press", "place"} <= drawn.keys()
    assert all((count > 0) == (do == "place") for do, count in drawn.items()), drawn


@pytest.mark.parametrize("size", ["2 1/2 in", "6 in"])
def test_a_strip_is_drawn_half_as_high_as_its_picture(size: str):
    """The ruler lies over the strip and beyond it on both sides, and both are to be seen from afar."""
    request = {"ask": "guide", "piece": {"size": size, "angle": 60}, "cloth": {"kind": "fat_quarter"}}
    script = matside.answer({**request, "way": "along_length"})["script"]
    scenes = [script["scenes"][step["scene"]] for step in script["steps"] if step["do"] in ("starter", "turn", "piece")]
    assert scenes
    for scene in scenes:
        strip = [y for shape in scene["still"] if shape["role"] == "strip" for _, y in shape["points"]]
        assert max(strip) - min(strip) == pytest.approx(scene["view"][3] / 2)


def test_without_a_ruler_marks_lie_across_both_ends_of_the_cut():
    request = {"ask": "guide", "piece": {"size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}, "rulers": []}
    script = matside.answer({**request, "way": "along_length"})["script"]
    (over,) = {
        json.dumps(script["scenes"][step["scene"]]["over"]["strip"])
        for step in script["steps"]
        if step["do"] == "strip"
    }
    shapes = json.loads(over)
    (cut,) = [shape["points"] for shape in shapes if shape["role"] == "cut"]
    marks = [shape["points"] for shape in shapes if shape["role"] == "mark"]
    assert len(marks) == 2
    for ((x1, y1), (x2, y2)), (x, y) in zip(marks, cut, strict=True):
        assert (y1, y2) == (y, y) and (x1 + x2) / 2 == pytest.approx(x) and 1 / 2 <= abs(x2 - x1) <= 1


def test_every_caution_has_its_sentence_and_its_short_forms_at_the_mat():
    mat = json.loads((CATALOGUE / "mat.json").read_text("utf-8"))["mat"]
    assert set(WORDS["caution"]) == set(mat["due"]) == set(mat["due_brief"])
