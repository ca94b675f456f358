"""The chart: every cell against the ask `cloth`, its reasons against sums, and its pages."""

from functools import cache

import pytest

from matside import answer
from matside.handout.chart_sheets import chart_sheets
from matside.handout.paper import PAPERS
from matside.handout.texts import wrapped
from matside.kinds import KINDS
from matside.usual import usual
from matside.words.catalogue import languages
from matside.words.saying import say

PIECES = {
    "usual": {},
    "sharp": {"angle": 30},
    "halves": {"shape": "half-diamond", "angle": 60, "cut": "long"},
    "half hexagons": {"shape": "trapezoid"},
    "straight": {"shape": "rectangle", "length": "7 in"},
}


@cache
def large() -> dict:
    """Every kind of cloth and many sizes: more than a page holds."""
    every = [{"kind": code, **({"length": 9, "width": 11} if code == "scrap" else {})} for code in KINDS]
    return chart(units="cm", sizes=[f"{size} cm" for size in range(5, 35, 5)], cloths=every, drawing=False)


def usual_sizes(units: str) -> list[str]:
    return [f"{size} {units}" for size in usual(units)["sizes"]]


def chart(**fields) -> dict:
    found = answer({"ask": "chart", **fields})
    assert found["ok"], found["error"]
    return found


def by_the_door(piece: dict, size, cloth: dict) -> dict:
    """What the ask `cloth` says of one cell."""
    described = {"shape": "diamond", **({"angle": 60} if "shape" not in piece else {}), **piece, "size": size}
    found = answer({"ask": "cloth", "piece": described, "cloth": cloth})
    assert found["ok"], found["error"]
    return found


def cells(found: dict):
    for size, row in zip(found["sizes"], found["cells"], strict=True):
        for cloth, cell in zip(found["cloths"], row, strict=True):
            yield size, cloth, cell


@pytest.mark.parametrize(
    "name, units",
    [("usual", "in"), ("usual", "cm"), ("sharp", "in"), ("halves", "cm"), ("half hexagons", "in"), ("straight", "cm")],
)
def test_every_cell_agrees_with_the_door(name, units):
    found = chart(piece=PIECES[name], units=units)
    sizes = [size for size in usual_sizes(units) for _ in found["cloths"]]
    for size, (_, cloth, cell) in zip(sizes, cells(found), strict=True):
        door = by_the_door(PIECES[name], size, {"kind": cloth["code"]})
        for way in ("along_length", "along_width"):
            assert cell[way] == {field: door[way][field] for field in ("strips", "per_strip", "pieces")}
        assert (cell["best"]["pieces"], cell["best"]["way"]) == (door["best"]["pieces"], door["best"]["way"])
        assert cell["best"]["layout"] == door["best"]["layout"]
        assert cell["sure"] == door["sure"]["pieces"]
        assert (cell["length"], cell["width"]) == (door["cloth"]["length"], door["cloth"]["width"])


def test_sizes_and_cloths_are_those_that_are_asked_for():
    sides = {"length": "15 in", "width": "60 cm"}
    found = chart(sizes=["2 in", 3, "10 cm"], cloths=["fat_eighth", sides, {"kind": "yardage", "length": "1 yd"}])
    assert found["sizes"] == pytest.approx([2, 3, 10 / 2.54], rel=1e-12)
    assert [cloth["code"] for cloth in found["cloths"]] == ["fat_eighth", None, "yardage"]
    assert [cloth["length"] for cloth in found["cloths"]] == [9, 15, 36]
    assert found["cells"][1][1]["best"]["pieces"] == by_the_door({}, 3, sides)["best"]["pieces"]


def test_without_a_request_the_usual_kinds_and_a_range_of_sizes():
    # Which are usual: common practice, no published source; the ask `facts` says the same to the page.
    for units in ("in", "cm"):
        found = chart(units=units)
        assert [cloth["code"] for cloth in found["cloths"]] == usual(units)["cloths"]
        wanted = [answer({"ask": "length", "length": size})["length"] for size in usual_sizes(units)]
        assert found["sizes"] == wanted and len(wanted) > 4


def test_a_size_that_is_too_large_is_none_and_no_refusal():
    (row,) = chart(sizes=[30], cloths=["fat_quarter"])["cells"]
    assert row[0]["best"]["pieces"] == row[0]["sure"] == 0
    assert row[0]["reason"]["code"] == "none" and row[0]["lacks"] is None
    # A cloth just so large has one, by the strip formula: size · cot 60° + size / sin 60°.
    takes = row[0]["reason"]["values"]
    assert takes["long"] == pytest.approx(30 / 3**0.5 + 60 / 3**0.5)
    assert by_the_door({}, 30, {"length": takes["wide"], "width": takes["long"] + 1e-6})["best"]["pieces"] == 1


def test_reasons_say_what_the_numbers_come_from():
    met = set()
    for units in ("in", "cm"):
        for _, _, cell in cells(chart(units=units)):
            code, values = cell["reason"]["code"], cell["reason"]["values"]
            both = sorted((cell["along_length"]["pieces"], cell["along_width"]["pieces"]))
            met.add(code)
            if code == "mixed":
                assert values["more"] == cell["best"]["pieces"] - both[1] > 0
                strips = [strip["along"] for strip in cell["best"]["layout"]["strips"]]
                assert {values["first"], values["second"]} == {strips.count("length"), strips.count("width")}
                continue
            assert values["n"] * values["per"] == cell["best"]["pieces"] == both[1]
            assert values["side"] in (cell["length"], cell["width"])
            if code == "only":
                assert both[0] == 0
            else:
                assert values["other"] == values["other_strips"] * values["other_per"] == both[0]
                assert (code == "equal") == (both[0] == both[1])
    assert met == {"mixed", "only", "one_way", "equal"}


def test_what_a_cell_lacks_is_enough_and_nothing_less_is():
    for size, _, cell in cells(chart(cloths=["fat_quarter", "fat_eighth", "full_width_strip"], drawing=False)):
        if not cell["lacks"]:
            continue
        by, gives = cell["lacks"]["values"]["by"], cell["lacks"]["values"]["gives"]
        way = cell["best"]["way"]
        run = way.removeprefix("along_")
        side = run if cell["lacks"]["code"] == "longer" else {"length": "width", "width": "length"}[run]
        sides = {"length": cell["length"], "width": cell["width"]}
        enough = by_the_door({}, size, {**sides, side: sides[side] + by + 1e-6})
        almost = by_the_door({}, size, {**sides, side: sides[side] + by - 1e-3})
        assert enough[way]["pieces"] == cell["best"]["pieces"] + gives
        assert almost[way]["pieces"] == cell["best"]["pieces"]


def test_a_strip_that_is_as_wide_as_its_piece_lacks_length_alone():
    # Of strips 42 in long: 2¾ in more against 2½ in for a strip beside it, and 8¹³⁄₁₆ in against 8 in.
    for size in (2.5, 8):
        (row,) = chart(sizes=[size], cloths=["full_width_strip"])["cells"]
        door = by_the_door({}, size, {"kind": "full_width_strip"})["along_width"]
        assert door["strip_short_by"] < door["short_by"]
        assert row[0]["lacks"] == {"code": "longer", "values": {"by": door["short_by"], "gives": 1}}


def test_beyond_the_outlines_that_an_answer_may_have_nothing_is_drawn():
    found = chart(sizes=[0.25] * 3, cloths=[{"length": 25, "width": 30}])
    drawn = [cell["best"]["layout"]["drawn"] for _, _, cell in cells(found)]
    outlines = [strip["outlines"] for _, _, cell in cells(found) for strip in cell["best"]["layout"]["strips"]]
    assert drawn == [True, False, False] and sum(map(len, outlines)) <= 20_000
    assert not any(cell["best"]["layout"]["drawn"] for _, _, cell in cells(chart(drawing=False)))


@pytest.mark.parametrize(
    "fields, place, code",
    [
        ({"sizes": []}, "sizes", "list_length"),
        ({"sizes": ["2 in", "0.1 in"]}, "sizes[1]", "piece_too_small"),
        ({"sizes": ["2 in", "two"]}, "sizes[1]", "length_words"),
        ({"piece": {"angle": 10}}, "piece.angle", "angle_outside"),
        ({"piece": {"shape": "rectangle"}}, "piece.length", "length_missing"),
        ({"piece": {"shape": "star"}}, "piece.shape", "choice"),
        ({"cloths": ["velvet"]}, "cloths[0]", "choice"),
        ({"cloths": ["fat_quarter", {"length": 4}]}, "cloths[1].width", "length_missing"),
        ({"cloths": [7]}, "cloths[0]", "object_wanted"),
        ({"units": "mm"}, "units", "choice"),
        ({"drawing": 1}, "drawing", "flag"),
    ],
)
def test_what_is_wrong_is_refused_with_its_field(fields, place, code):
    error = answer({"ask": "chart", **fields})["error"]
    assert (error["field"], error["code"]) == (place, code)


# --- Its pages ----------------------------------------------------------------------------------------------------


def pages(found: dict, paper: str = "letter", language: str = "en") -> list[dict]:
    return chart_sheets(found, PAPERS[paper], lambda path, values: say(path, values, language, found["units"]))


def told(text: dict, language: str, units: str) -> str:
    return text["text"] if "text" in text else say(text["code"], text["values"], language, units)


def reach(text: dict, said: str) -> tuple[float, float]:
    """How far right and down a text goes that begins at its place, by the lines that it takes."""
    lines = wrapped(said, text["size"], text["room"])
    assert len(lines) <= text["lines"], said
    return text["x"] + (0 if text["anchor"] == "end" else text["room"]), text["y"] + (len(lines) - 1) * text[
        "size"
    ] / 57.6


def test_the_usual_chart_is_one_page():
    for paper in PAPERS:
        assert len(pages(chart(drawing=False), paper)) == 1


@pytest.mark.every(3)
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("language", languages())
def test_every_number_is_on_the_pages_and_every_text_inside_the_margins(language, paper):
    found = large()
    sheets = pages(found, paper, language)
    assert len(sheets) >= 2
    best = [text["text"] for page in sheets for text in page["texts"] if text["role"] == "best"]
    assert sorted(best) == sorted(str(cell["best"]["pieces"]) for _, _, cell in cells(found))
    sure = [text["values"]["sure"] for page in sheets for text in page["texts"] if text["role"] == "sure"]
    assert sorted(sure) == sorted(cell["sure"] for _, _, cell in cells(found))
    for page in sheets:
        for text in page["texts"]:
            right, bottom = reach(text, told(text, language, "cm"))
            assert text["size"] >= 9
            assert text["x"] >= 0.5 and right <= page["width"] - 0.5 + 1e-6
            assert text["y"] >= 0.5 and bottom <= page["height"] - 0.5 + 1e-6


def test_every_cell_leads_to_the_note_that_tells_its_reason():
    found = chart(drawing=False)
    (page,) = pages(found)
    numbers = [text["text"] for text in page["texts"] if text["role"] == "number"]
    notes = [text["text"] for text in page["texts"] if text["role"] == "note" and "text" in text]
    assert len(numbers) == 24
    for number, (_, _, cell) in zip(numbers, cells(found), strict=True):
        (note,) = [note for note in notes if note.startswith(f"{number} ")]
        assert say(f"handout.reason.{cell['reason']['code']}", cell["reason"]["values"]) in note
