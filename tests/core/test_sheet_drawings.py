"""The drawings of a cutting sheet on paper: to scale, in gray, and every label to be read.

Areas and what of a line lies in a box are measured by Shapely; what a diamond's area is, is plane geometry."""

from collections import Counter
from math import hypot, isclose, radians, sin
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from matside.handout.labels import Label, part_in, places
from matside.handout.paper import PAPERS
from matside.handout.sheet_drawings import sheet_drawings
from matside.handout.svg import document
from matside.handout.texts import SMALLEST
from matside.words.catalogue import languages
from matside.words.saying import say
from test_cutting_sheet import CASES, all_rows, sheet_of

PAPER = PAPERS["letter"]
#: Coordinates are written to a millionth of an inch.
WRITTEN = 1e-5


def pictured(sheet: dict) -> list[dict]:
    """The rows that have a picture first, by its number."""
    return sorted((row for row in all_rows(sheet) if row["scene"] is not None), key=lambda row: row["picture"])


def labels_of(scene: dict, over: str | None) -> list[dict]:
    shapes = [*scene["still"], *scene["over"].get(over, [])]
    return [shape["label"] for shape in shapes if shape.get("label")]


def said(label: dict, language: str = "en", units: str = "in") -> str:
    """A label as the screen says it."""
    if "word" in label:
        return say(f"lie.label.{label['word']}", {}, language, units)
    code, value = ("mat.degrees", "degrees") if "degrees" in label else ("handout.size", "size")
    return say(code, {value: label.get("degrees", label.get("length"))}, language, units)


def boxes(page: dict) -> list[Polygon]:
    return [Polygon(shape["points"]) for shape in page["shapes"] if shape["role"] == "under"]


def texts(page: dict, role: str) -> list[str]:
    return [text["text"] for text in page["texts"] if text["role"] == role]


@pytest.mark.every(2)
@pytest.mark.parametrize("name", CASES)
def test_every_cloth_and_every_picture_has_a_page_with_all_its_labels(name):
    sheet = sheet_of(name)
    pages, rows = sheet_drawings(sheet, PAPER), pictured(sheet)
    clothed = [f"cloth-{n}" for n, _ in enumerate(sheet["cloths"], 1)]
    assert [page["file"] for page in pages] == [*clothed, *(f"picture-{row['picture']}" for row in rows)]
    assert [row["picture"] for row in rows] == list(range(1, len(rows) + 1))
    drawn = [(cloth["drawing"], None) for cloth in sheet["cloths"]]
    drawn += [(sheet["scenes"][row["scene"]], row["over"]) for row in rows]
    for page, (scene, over) in zip(pages, drawn, strict=True):
        assert Counter(texts(page, "label")) == Counter(map(said, labels_of(scene, over)))


@pytest.mark.every(2)
@pytest.mark.parametrize("name", CASES)
def test_what_is_written_has_room_and_lies_on_nothing_else_that_is_written(name):
    for page in sheet_drawings(sheet_of(name), PAPER):
        assert page["width"] == 8.5 and page["height"] <= 11 + WRITTEN
        assert min(text["size"] for text in page["texts"]) >= SMALLEST == 9
        seen = box(0.25, 0.25, page["width"] - 0.25, page["height"] - 0.25)
        found = boxes(page)
        assert all(seen.contains(one) for one in found)
        overlaps = [one.intersection(other).area for i, one in enumerate(found) for other in found[:i]]
        assert max(overlaps, default=0) < WRITTEN
        tops = [text["y"] for role in ("title", "about", "legend") for text in page["texts"] if text["role"] == role]
        assert tops == sorted(tops) and tops[-1] < page["height"] - 0.4


def test_a_cloth_is_drawn_to_scale_with_all_its_pieces():
    sheet = sheet_of("mixed")
    (cloth,), page = sheet["cloths"], sheet_drawings(sheet, PAPER)[0]
    (whole,) = (Polygon(shape["points"]) for shape in page["shapes"] if shape["role"] == "cloth")
    left, top, right, bottom = whole.bounds
    scale = (right - left) / cloth["length"]
    assert isclose((bottom - top) / cloth["width"], scale, rel_tol=WRITTEN)
    pieces = [Polygon(shape["points"]) for shape in page["shapes"] if shape["role"] == "piece"]
    assert len(pieces) == cloth["gives"]["piece"] > 9
    for piece in pieces:  # 5 in between its parallel edges, with sides of 5 / sin 60°
        assert isclose(piece.area, scale**2 * 25 / sin(radians(60)), rel_tol=WRITTEN)
        assert whole.buffer(WRITTEN).contains(piece)
    sides = [shape["points"] for shape in page["shapes"] if shape["role"] == "side"][::3]
    long = sorted(hypot(x - u, y - v) / scale for (x, y), (u, v) in sides)
    assert long == pytest.approx([cloth["length"], cloth["width"]], abs=0.001)


def test_a_picture_shows_how_far_the_cutting_is_and_where_the_cut_goes():
    sheet = sheet_of("fat quarter")
    (row,) = (row for row in pictured(sheet) if row["do"] == "piece")
    (page,) = (page for page in sheet_drawings(sheet, PAPER) if page["file"] == f"picture-{row['picture']}")
    roles = Counter(shape["role"] for shape in page["shapes"])
    assert roles["next"] == 1 and roles["ruler"] == 1 and roles["angle-line"] == 1
    assert roles["piece"] == len(sheet["scenes"][row["scene"]]["pieces"]) - row["at"] - 1  # those before it are gone
    line, head = (shape["points"] for shape in page["shapes"] if shape["role"] == "cut")
    assert head[0] == line[-1]
    assert line[0][1] > line[1][1]  # away from the body is up on paper
    following = next(shape["points"] for shape in page["shapes"] if shape["role"] == "next")
    assert Polygon(following).buffer(WRITTEN).contains(LineString(line).intersection(Polygon(following).exterior))


@pytest.mark.parametrize("moves, there", [("strip", {"piece": -3}), ("ruler", {"piece": -3, "cut-off": 2})])
def test_pieces_that_are_cut_are_gone_or_told_apart_where_the_ruler_moves(moves, there):
    sheet = sheet_of("fat quarter")
    (row,) = (row for row in pictured(sheet) if row["do"] == "piece")
    row.update(at=2, next=2)
    scene = sheet["scenes"][row["scene"]]
    scene["moves"] = moves
    (page,) = (page for page in sheet_drawings(sheet, PAPER) if page["file"] == f"picture-{row['picture']}")
    roles = Counter(shape["role"] for shape in page["shapes"])
    assert {role: roles[role] for role in ("piece", "cut-off", "next")} == {
        "piece": len(scene["pieces"]) + there["piece"],
        "cut-off": there.get("cut-off", 0),
        "next": 1,
    }


def test_pages_are_black_and_gray_on_white():
    for page in sheet_drawings(sheet_of("half-diamonds by marks"), PAPER):
        root = ElementTree.fromstring(document(page, say))
        inks = {element.get(name) for element in root.iter() for name in ("fill", "stroke")} - {None, "none"}
        assert {"#000", "#fff"} <= inks
        assert all(ink in ("#000", "#fff") or ink[1:3] == ink[3:5] == ink[5:] for ink in inks)


@pytest.mark.parametrize("language", languages())
def test_drawings_speak_the_language_and_the_units_that_are_asked_for(language):
    sheet = sheet_of("fat quarter")
    pages = sheet_drawings(sheet, PAPERS["a4"], language, "cm", {"fat_quarter": "A cloth"})
    assert texts(pages[0], "title")[0].startswith("A cloth")
    assert said({"length": 18}, language, "cm") in texts(pages[0], "label")
    assert said({"word": "selvage"}, language) in texts(pages[0], "label")
    assert texts(pages[1], "title") == [say("sheet.picture", {"n": 1}, language)]
    assert say("sheet_drawing.lines", {}, language) in texts(pages[1], "legend")[0]
    assert {page["width"] for page in pages} == {float(PAPERS["a4"].width)}


# --- Labels


numbers = st.integers(-60, 60).map(lambda tenths: tenths / 10)
points = st.tuples(numbers, numbers)
labels = st.builds(
    Label,
    points=st.tuples(points, points) | st.tuples(points, points, points),
    area=st.booleans(),
    width=st.sampled_from([0.4, 0.7, 1.5]),
    height=st.just(0.3),
)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(st.lists(labels, max_size=6))
def test_labels_are_wholly_in_sight(given_labels):
    view = (-4.0, -3.0, 4.0, 3.0)
    found = places(given_labels, [label.points for label in given_labels], view)
    for (x, y), label in zip(found, given_labels, strict=True):
        assert abs(x) + label.width / 2 <= 4 + 1e-9
        assert abs(y) + label.height / 2 <= 3 + 1e-9


def test_labels_of_one_line_stand_side_by_side():
    line = ((0.0, 0.0), (3.0, 0.0))
    found = places([Label(line, False, 0.9, 0.3)] * 4, [line], (-1.0, -1.0, 4.0, 1.0))
    boxes_ = [box(x - 0.45, y - 0.15, x + 0.45, y + 0.15) for x, y in found]
    assert all(one.intersection(other).area < WRITTEN for i, one in enumerate(boxes_) for other in boxes_[:i])
    assert all(one.intersection(LineString(line)).length < WRITTEN for one in boxes_)


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(points, points)
def test_the_part_of_a_line_in_a_box_is_what_shapely_finds(start, end):
    view, found = (-2.0, -1.0, 3.0, 2.5), part_in((-2.0, -1.0, 3.0, 2.5), start, end)
    wanted = LineString([start, end]).intersection(box(*view))
    assert isclose(LineString(found).length if found else 0.0, wanted.length, abs_tol=1e-9)
    if found and start != end:
        assert wanted.buffer(1e-6).contains(LineString(found))
