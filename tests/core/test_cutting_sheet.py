"""The cutting sheet: gone through box by box it is the guide's script, and a cutter of paper who follows it comes out right.

The second ways: `sheet_expanded` follows a sheet as a hand does that checks boxes off, `folding` counts, and
`paper_cutter` cuts; none shares code with what condenses the script. Drawings are checked with Shapely."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from math import isclose

import pytest
from shapely import unary_union
from shapely.geometry import Polygon

import matside
from folding import fold_log
from matside.handout.condensing import rows_of
from matside.handout.cutting_sheet import ON_PAPER
from matside.handout.sheet_text import sheet_lines
from matside.words.catalogue import languages, subjects
from paper_cases import LONG, NARROW, SPECIAL, Case, drawn
from paper_cutter import Cutter
from paper_judge import judge
from sheet_expanded import expanded

FREES = ("piece", "halve", "finish")
#: What a sheet has no room for: it is counted by hand.
NOT_TOLD = ("length_left", "other_ruler", "due")
_LEANS = [{"degrees": 60, "from": "long", "lean": "right"}]
#: Shorter than the cuts; and narrower than the piece, with an angle line that leans one way.
SHORT = {"name": "short", "width": 4, "length": 5, "angles": _LEANS}
LEANING = {"name": "leaning", "width": 3, "length": 24, "angles": _LEANS}
PLAIN = {"name": "plain", "width": 2.5, "length": 24}
_PIECE = {"shape": "diamond", "size": 4, "angle": 60}
_CLOTH = {"kind": "fat_quarter"}


def one(piece: dict = _PIECE, cloth: dict = _CLOTH, **more) -> Case:
    return Case({"piece": piece, "cloth": cloth, **more}, {"piece": piece})


def plan_of_several() -> Case:
    """Two kinds from cloths of two sizes, one of them twice, the layouts as a plan gives them."""
    pieces = [
        {"id": "d", **_PIECE, "need": 24, "fabric": "red"},
        {"id": "r", "shape": "rectangle", "size": 2.5, "length": 6, "need": 8, "fabric": "red"},
    ]
    cloths = [
        {"id": "quarter", "length": 18, "width": 20, "count": 2, "fabric": "red", "selvage": "length", "selvages": 1},
        {"id": "rest", "length": 9, "width": 42, "count": 1, "fabric": "red"},
    ]
    plan = asked({"ask": "plan", "pieces": pieces, "cloths": cloths, "work": 3000})
    request = {"pieces": pieces, "cloths": cloths, "layouts": plan["layouts"], "layers": 2}
    return Case(request, {piece["id"]: piece for piece in pieces})


CASES = {
    "one strip": lambda: one(cloth={"kind": "full_width_strip"}),
    "fat quarter": one,
    "fat quarter along its width": lambda: one(way="along_width", hand="left"),
    "mixed": lambda: one({"size": 5, "angle": 60}, {"length": 24, "width": 27}, way="mixed", layers=2),
    "three fat quarters": lambda: one(cloth={**_CLOTH, "count": 3}, recheck_every=2),
    "half-diamonds by marks": lambda: one({"shape": "half-diamond", "size": 3, "angle": 60}, rulers=[]),
    "trapezoids, away": lambda: one({"shape": "trapezoid", "size": 2.5, "base": 6, "angle": 60}, lay="away"),
    "rectangles": lambda: one({"shape": "rectangle", "size": 2.5, "length": 4.5}),
    "two rulers, turned over": lambda: one(rulers=[LEANING, PLAIN]),
    "yardage, stacked": lambda: one(
        cloth={"kind": "yardage", "length": 27, "width": 42}, rulers=[NARROW, LONG], layers=4, way="along_width"
    ),
    "short ruler": lambda: one(rulers=[SHORT], hand="left", way="along_width"),
    "strips joined, not counted": lambda: _not_counted(),
    "plan of several cloths": plan_of_several,
    **{name: SPECIAL[name] for name in ("halved", "halved, left hand, away", "halved, stacked", "joined, angled")},
}


def _not_counted() -> Case:
    """Strips that are joined and are none of the quilt's pieces."""
    case = SPECIAL["joined"]()
    (piece,) = case.request["pieces"]
    return Case({**case.request, "pieces": [{**piece, "joined": {**piece["joined"], "counted": False}}]}, case.wanted)


def asked(request: dict) -> dict:
    return json.loads(_asked(json.dumps(request)))


@cache
def _asked(request: str) -> str:
    found = matside.answer(json.loads(request))
    assert found["ok"], found
    return json.dumps(found)


def sheet_of(name: str) -> dict:
    return asked({"ask": "cutting_sheet", **CASES[name]().request})["sheet"]


def script_of(name: str) -> dict:
    return asked({"ask": "guide", **CASES[name]().request})["script"]


def rows_in(rows: list[dict]) -> Iterator[dict]:
    """Every row with its own sentence, the notes of checks included."""
    for row in rows:
        if "rows" in row:
            yield from rows_in(row["rows"])
            yield from [row["check"]] if row["check"] else []
        else:
            yield row


def all_rows(sheet: dict) -> list[dict]:
    of_cloths = [row for cloth in sheet["cloths"] for row in (*rows_in(cloth["rows"]), cloth["swap"]) if row]
    return [*of_cloths, *sheet["finishing"], sheet["done"]]


# --- What the sheet says is what the guide says -------------------------------------------------------------------------


@pytest.mark.every(3)
@pytest.mark.parametrize("name", CASES)
def test_gone_through_box_by_box_it_is_the_guides_script(name):
    script, followed = script_of(name), expanded(sheet_of(name))
    assert list(map(told, followed["steps"])) == list(map(told, script["steps"]))


def told(step: dict) -> tuple:
    values = {name: value for name, value in step["values"].items() if name not in NOT_TOLD}
    if step["do"] in ("piece", "strip", "halve", "finish"):
        assert values["k"]
    return step["do"], step["say"], values, step["gives"] if step["do"] in FREES else 0, step["cloth"]


@pytest.mark.parametrize("name", CASES)
def test_what_it_gives_is_what_the_guide_counts_and_promises(name):
    script, sheet = script_of(name), sheet_of(name)
    counted, followed = (made_by_kind(one) for one in (script, expanded(sheet)))
    assert followed == counted == Counter(sheet["totals"])
    assert {kind: sheet["totals"].get(kind, 0) for kind in script["promised"]} == script["promised"]
    assert sum((Counter(cloth["gives"]) for cloth in sheet["cloths"] for _ in range(cloth["times"])), Counter()) == Counter(
        {kind: n for kind, n in counted.items() if not kind.endswith("/joined")}
    )  # fmt: skip


def made_by_kind(script: dict) -> Counter:
    """What all cuts of a script free by kind, by the folding of the table over events that are all cuts."""
    state = fold_log([script], [{"event": "cut"}] * (len(script["steps"]) - 1))
    found: Counter = Counter()
    for (_, strip), tally in state.tallies.items():
        found[script["strips"][strip]["piece"]] += tally["made"] + tally["aside"]
    return +found


@pytest.mark.every(2)
@pytest.mark.parametrize("name", [name for name in CASES if name != "strips joined, not counted"])  # nothing to judge
def test_a_cutter_of_paper_who_follows_it_has_the_right_pieces(name):
    case, script = CASES[name](), expanded(sheet_of(name))
    cloths = [case.cloths(script)[0] for _ in script["cloths"]] if "cloth" in case.request else case.cloths(script)
    cutter = Cutter(script, cloths, case.rulers()).run()
    exact = not any(way in step["say"] for step in script["steps"] for way in ("mark", "bare"))
    judge(cutter, case.wanted, exact=exact)
    assert cutter.pile or cutter.finished


@pytest.mark.every(6)
@pytest.mark.parametrize("seed", range(0, 24, 2))
def test_so_it_is_for_cuttings_drawn_from_a_seed(seed):
    case = drawn(seed)
    if case.script() is None:
        pytest.skip("nothing can be cut from it")
    script, sheet = (asked({"ask": ask, **case.request}) for ask in ("guide", "cutting_sheet"))
    assert list(map(told, expanded(sheet["sheet"])["steps"])) == list(map(told, script["script"]["steps"]))


@pytest.mark.parametrize(("name", "most"), [("one strip", 12), ("fat quarter", 15), ("three fat quarters", 17)])
def test_it_is_short(name, most):
    assert len(all_rows(sheet_of(name))) <= most


def test_cloths_and_strips_that_are_cut_alike_are_told_once():
    sheet = sheet_of("three fat quarters")
    (cloth,) = sheet["cloths"]
    (strips,) = [row for row in cloth["rows"] if "rows" in row]
    assert (cloth["times"], cloth["swap"]["boxes"], strips["times"], strips["check"]["each"], strips["check"]["once"]) == (
        3, 2, 5, [2], [1],
    )  # fmt: skip
    assert [row["boxes"] for row in strips["rows"] if row["do"] == "piece"] == [3]


def test_cloths_of_another_name_are_told_by_themselves():
    strips = [{"x": 0, "y": 0, "along": "length", "run": 18, "size": 4, "piece": "d", "count": 3}]
    cloths = [{"id": name, "length": 18, "width": 20} for name in ("blue", "red")]
    layouts = [{"cloth": name, "strips": strips} for name in ("blue", "red", "red")]
    request = {"pieces": [{"id": "d", **_PIECE, "need": 9}], "cloths": cloths, "layouts": layouts}
    sheet = asked({"ask": "cutting_sheet", **request})["sheet"]
    assert [(cloth["id"], cloth["times"]) for cloth in sheet["cloths"]] == [("blue", 1), ("red", 2)]


def test_what_is_due_at_one_of_several_steps_alike_is_due_in_their_row():
    step = {"do": "turn", "say": "turn", "scene": 0, "over": "turn", "cut": 0, "gives": 1, "cautions": []}
    plain, due = (
        {**step, "values": {"other_ruler": False}},
        {**step, "cautions": ["fingers"], "values": {"other_ruler": True}},
    )
    (row,) = rows_of([plain, due, plain])
    assert (row.boxes, row.cautions, row.other_ruler) == (3, ("fingers",), True)
    assert [row.boxes for row in rows_of([plain, {**plain, "gives": 2}, {**plain, "scene": 1}])] == [1, 1, 1]


def test_cuts_that_lean_by_turns_are_told_once_with_how_often():
    (strips,) = [row for row in sheet_of("half-diamonds by marks")["cloths"][0]["rows"] if "rows" in row]
    (turns,) = [row for row in strips["rows"] if "rows" in row]
    assert turns["times"] * len(turns["rows"]) == strips["strip"]["gives"] and turns["strip"] is turns["check"] is None


def test_what_the_guide_refuses_is_refused():
    request = {"piece": {"size": 40, "angle": 60}, "cloth": _CLOTH}
    refusals = [matside.answer({"ask": ask, **request}) for ask in ("guide", "cutting_sheet")]
    assert refusals[0] == refusals[1] and refusals[0]["error"]["code"] == "guide_pieces"


@pytest.mark.parametrize(
    ("name", "some"),
    [
        ("fat quarter", set()),
        ("short ruler", {"rulers.slide.strip"}),
        ("two rulers, turned over", {"rulers.two_rulers", "rulers.turned_over"}),
    ],
)
def test_it_says_which_ruler_to_take_up_and_how_it_is_held_and_slid(name, some):
    steps, said = script_of(name)["steps"], {}
    for row in all_rows(sheet_of(name)):
        said.setdefault((row["say"], row["values"].get("ruler")), set()).update(hand["say"] for hand in row["hands"])
    for step in steps:
        way = step["values"].get("way")
        if way:
            assert codes(way) <= said[step["say"], step["values"]["ruler"]]
            assert not step["values"]["other_ruler"] or "mat.take_ruler" in said[step["say"], step["values"]["ruler"]]
    assert set().union(*said.values()) == {"mat.take_ruler", *some}


def codes(way: dict) -> set[str]:
    """What the hands must know of a way, by its own fields."""
    found = {"rulers.turned_over"} if way["turned_over"] else set()
    if len(way["rulers"]) == 2:
        found.add("rulers.two_rulers" if way["measure_on"] else "rulers.two_rulers_angle")
    if way["slide"] and way["step"] == "strip":
        found.add("rulers.slide.strip_marks" if way["kind"] == "two_marks" else "rulers.slide.strip")
    elif way["slide"]:
        fresh = "slide_along_fresh_cut" in way["notes"]
        found.add(f"rulers.slide.{'fresh_cut' if fresh else 'measure' if way['slide'] > 0 else 'measure_towards'}")
    return found


# --- Cautions ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", CASES)
def test_every_caution_is_at_the_top_and_again_where_each_cloth_is_cut(name):
    sheet = sheet_of(name)
    of_guide = {code for step in script_of(name)["steps"] for code in step["cautions"]}
    assert set(sheet["cautions"]) == of_guide == {code for row in all_rows(sheet) for code in row["cautions"]}
    assert len(sheet["cautions"]) == len(of_guide)
    for cloth in sheet["cloths"]:
        rows = list(rows_in(cloth["rows"]))
        cuts = [row for row in rows if "fingers" in row["cautions"]]
        assert rows[0]["cautions"] == ["children_pets"]
        assert cuts and cuts[0]["do"] in ("divide", "strip", "starter", "piece", "end", "halve")


@pytest.mark.parametrize("name", CASES)
def test_the_blade_is_closed_where_hands_move_cloth_after_a_cut(name):
    """At every step at which the guide closes it, its row says so."""
    closes = {(s["do"], s["say"]) for s in script_of(name)["steps"] if "close_blade" in s["cautions"]}
    assert closes == {(r["do"], r["say"]) for r in all_rows(sheet_of(name)) if "close_blade" in r["cautions"]}


# --- Pictures ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", CASES)
def test_every_picture_is_there_is_drawn_once_and_every_cut_has_one(name):
    sheet = sheet_of(name)
    drawn_rows = [row for row in all_rows(sheet) if row["scene"] is not None]
    assert sorted(row["picture"] for row in drawn_rows) == list(range(1, len(drawn_rows) + 1))
    assert {row["scene"] for row in drawn_rows} == set(range(len(sheet["scenes"])))
    assert len({(row["scene"], row["over"], row["at"]) for row in drawn_rows}) == len(drawn_rows)
    numbers = {row["picture"] for row in drawn_rows}
    for row in all_rows(sheet):
        assert row["picture"] is None or row["picture"] in numbers
        if row["do"] in ("selvage", "square", "divide", "strip", "starter", "fold", "halve", "finish"):
            assert row["picture"], row["say"]
        if row["do"] == "piece" and row["say"] != "keep_whole":
            shown = next(one for one in drawn_rows if one["picture"] == row["picture"])
            assert sheet["scenes"][shown["scene"]]["over"][shown["over"]]


@pytest.mark.parametrize("name", CASES)
def test_a_picture_that_was_shown_before_shows_what_the_step_would_show(name):
    """Ruler, lines and their labels are those of the step's own scene."""
    script, sheet = script_of(name), sheet_of(name)
    shown = {row["picture"]: row for row in all_rows(sheet) if row["scene"] is not None}
    rows = {(row["say"], str(row["values"])): row["picture"] for row in all_rows(sheet)}
    seen = 0
    for step in script["steps"]:
        values = {name: value for name, value in step["values"].items() if name not in (*NOT_TOLD, "k")}
        picture = rows[step["say"], str(values)]
        if picture:
            row, scene = shown[picture], script["scenes"][step["scene"]]
            assert row["over"] == step["over"]
            assert labels(sheet["scenes"][row["scene"]], row["over"]) == labels(scene, step["over"])
            seen += 1
    assert seen


def labels(scene: dict, over: str) -> list[tuple]:
    return [(shape["role"], str(shape.get("label"))) for shape in scene["over"].get(over, [])]


@pytest.mark.parametrize("name", CASES)
def test_the_cloth_is_drawn_with_all_its_strips_and_pieces_in_it(name):
    sheet = sheet_of(name)
    parts = {piece["id"]: piece["parts"] for piece in sheet["pieces"]}
    for cloth in sheet["cloths"]:
        drawing = cloth["drawing"]
        (ground,) = areas(drawing, "cloth")
        strips, pieces = areas(drawing, "strip"), [Polygon(points) for points in drawing["pieces"]]
        assert isclose(ground.area, cloth["length"] * cloth["width"])
        assert len(pieces) == sum(count / parts[kind] for kind, count in cloth["gives"].items())
        for inside, around in ((strips, [ground.buffer(1e-9)]), (pieces, [strip.buffer(1e-9) for strip in strips])):
            assert all(any(one.within(other) for other in around) for one in inside)
        assert isclose(sum(piece.area for piece in pieces), unary_union(pieces).area, rel_tol=1e-9)
        widths = {
            shape["label"]["length"] for shape in drawing["still"] if shape["role"] == "strip" and "label" in shape
        }
        assert widths == {row["strip"]["size"] for row in cloth["rows"] if "rows" in row}
        sides = sorted(shape["label"]["length"] for shape in drawing["still"] if shape["role"] == "side")
        assert sides == sorted([cloth["length"], cloth["width"]])


def areas(drawing: dict, role: str) -> list[Polygon]:
    return [Polygon(shape["points"]) for shape in drawing["still"] if shape["role"] == role]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_drawing_is_the_plans_layout_turned_and_never_mirrored(hand):
    case = plan_of_several()
    layouts = case.request["layouts"]
    sheet = asked({"ask": "cutting_sheet", **case.request, "hand": hand})["sheet"]
    assert len(layouts) == len(sheet["cloths"]) > 1
    for layout, cloth in zip(layouts, sheet["cloths"]):
        outlines = [outline for strip in layout["strips"] for outline in strip["outlines"]]
        found = [sorted((round(x, 6), round(y, 6)) for x, y in points) for points in cloth["drawing"]["pieces"]]
        assert any(
            sorted(found) == sorted(sorted(turned(point, cloth, quarters) for point in one) for one in outlines)
            for quarters in ((0, 1) if hand == "right" else (2, 3))
        )


def turned(point: list[float], cloth: dict, quarters: int) -> tuple[float, float]:
    """A point of a cloth that lies with its length across, after quarter turns clockwise."""
    (x, y), (long, wide) = point, (cloth["length"], cloth["width"])
    found = {0: (x, y), 1: (y, long - x), 2: (long - x, wide - y), 3: (wide - y, x)}[quarters]
    return tuple(round(value, 6) + 0.0 for value in found)


# --- Words ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("language", languages())
def test_every_sentence_can_be_said_in_every_language(language):
    for name in CASES:
        sheet = sheet_of(name)
        for units in ("in", "cm"):
            lines = sheet_lines(sheet, language, units)
            assert not [line for line in lines if re.search(r"[{}]|\bNone\b(?! of)", line)]
            assert len(lines) >= len(all_rows(sheet))


def test_the_boxes_of_the_lines_are_those_of_the_pieces():
    lines = sheet_lines(sheet_of("fat quarter"))
    assert [line for line in lines if line.count("☐") == 15] and lines[-1] == "Diamonds: 15"


def test_names_of_ones_own_are_said():
    lines = sheet_lines(sheet_of("plan of several cloths"), names={"d": "Stars", "quarter": "The blue one"})
    assert "Stars: 24" in lines and any("The blue one, red: 18 in × 20 in" in line for line in lines)


def test_paper_has_words_of_its_own_wherever_the_mats_speak_of_the_screen():
    for language in languages():
        said = subjects(language)
        assert set(said["sheet"]["long"]) == ON_PAPER
        (fix,) = {said["mat"]["mend"]}
        screen = {code for code, forms in said["guide"].items() if code != "caution" and fix in forms["long"]}
        assert screen <= ON_PAPER, language
        assert not [text for text in said["sheet"]["long"].values() if fix in text], language
