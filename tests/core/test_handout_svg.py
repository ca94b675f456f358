"""Pages as SVG: read as XML and measured in millimeters against the core; and the room that letters take."""

from pathlib import Path
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont
from shapely import affinity, box, union_all
from shapely.geometry import Polygon

from matside import answer
from matside.handout.paper import PAPERS
from matside.handout.quilt_sheet import quilt_sheet
from matside.handout.svg import document, escaped
from matside.handout.texts import width_of, wrapped
from matside.words.catalogue import languages, subjects
from matside.words.saying import say

SVG = "{http://www.w3.org/2000/svg}"
#: A tenth of a millimeter is what is asked for; a document is written to a tenth of a micrometer.
TENTH, WRITTEN = 0.1, 2e-4
FONTS = Path(__file__).parents[2] / "web/node_modules/@fontsource-variable/atkinson-hyperlegible-next/files"
FONT = FONTS / "atkinson-hyperlegible-next-latin-wght-normal.woff2"


def in_english(path: str, values: dict) -> str:
    return say(path, values)


def read(page: dict, speak=in_english, language: str = "en") -> ElementTree.Element:
    return ElementTree.fromstring(document(page, speak, language))


def points(element: ElementTree.Element) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split(","))) for pair in element.get("points").split()]


def of_role(root: ElementTree.Element, role: str) -> list[ElementTree.Element]:
    return [element for element in root.iter() if element.get("data-role") == role]


def of_lines(root: ElementTree.Element, role: str) -> list[list[tuple[float, float]]]:
    return [points(element) for element in of_role(root, role) if element.get("points")]


def quilt(**fields) -> dict:
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, **fields})
    assert found["ok"], found["error"]
    return found


# A4 by ISO 216, letter by ASME Y14.1, in millimeters.
@pytest.mark.parametrize("paper, width, height", [("a4", 210, 297), ("letter", 215.9, 279.4)])
def test_a_template_is_true_to_size_in_millimeters(paper, width, height):
    pieces = [{"shape": "half-diamond", "size": "75 mm", "angle": 60}, {"size": 2, "angle": 45}]
    found = answer({"ask": "templates", "pieces": pieces, "paper": paper})
    page = found["pages"][0]
    root = read(page)
    assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")
    assert [float(part) for part in root.get("viewBox").split()] == [0, 0, width, height]
    drawn = [Polygon(points(element)) for element in of_role(root, "cut")]
    wanted = [affinity.scale(Polygon(one["cut"]), 25.4, 25.4, origin=(0, 0)) for one in found["templates"]]
    seams = [Polygon(points(element)) for element in of_role(root, "seam")]
    whole = {place["id"]: place["at"] for place in page["placed"]}
    assert len(drawn) == len(seams) == len(whole) == 2
    for shape, seam, cut, template in zip(drawn, seams, wanted, found["templates"], strict=True):
        at = [25.4 * way for way in whole[template["id"]]]
        assert affinity.translate(cut, *at).hausdorff_distance(shape) < WRITTEN < TENTH
        inside = shape.buffer(-6.35, join_style="mitre", mitre_limit=50)  # ¼ in
        assert inside.hausdorff_distance(seam) < 2 * WRITTEN
    # The piece is 75 mm from edge to edge.
    assert drawn[0].bounds[3] - drawn[0].bounds[1] == pytest.approx(75, abs=WRITTEN)


def test_the_bars_measure_100_mm_and_4_in_both_ways():
    page = answer({"ask": "templates", "pieces": [{"size": 2, "angle": 45}]})["pages"][0]
    bars = of_lines(read(page), "bar")
    sizes = [(abs(u - x), abs(v - y)) for (x, y), (u, v) in bars]
    for length in (100, 101.6):
        assert any(size == pytest.approx((length, 0), abs=WRITTEN) for size in sizes)
        assert any(size == pytest.approx((0, length), abs=WRITTEN) for size in sizes)
    # Ticks: both ends and every centimeter or inch between, on two bars each.
    assert len(bars) == 4 + 2 * (11 + 5)


@pytest.mark.parametrize("language", languages())
def test_letters_are_9_points_or_more_and_say_what_the_catalogue_says(language):
    page = answer({"ask": "templates", "pieces": [{"size": 2, "angle": 45}]})["pages"][0]
    root = read(page, lambda path, values: say(path, values, language), language)
    texts = list(root.iter(f"{SVG}text"))
    # A point is 1/72 in.
    assert min(float(text.get("font-size")) for text in texts) >= 9 * 25.4 / 72 - 1e-9
    assert "".join(texts[0].itertext()) == say("handout.templates_title", {}, language)
    assert root.find(f"{SVG}title").text == texts[0].text
    assert root.find(f"{SVG}desc").text == say("handout.templates_about", {}, language)
    assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == language
    assert not any("…" in text.text for text in texts)


def test_lines_are_black_and_told_apart_by_their_dashes():
    roots = [read(page) for page in answer({"ask": "templates", "pieces": [{"size": 10, "angle": 45}]})["pages"]]
    dashes = {
        role: {one.get("stroke-dasharray") for root in roots for one in of_role(root, role)}
        for role in ("cut", "seam", "bar", "join")
    }
    assert dashes["cut"] == dashes["bar"] == {None}
    assert None not in dashes["seam"] | dashes["join"] and not dashes["seam"] & dashes["join"]
    assert {group.get("stroke") for root in roots for group in root.iter(f"{SVG}g")} == {"#000"}


@pytest.mark.parametrize("name", ["a & b <c>", '"quoted"', "\x00 \x0b", "\ud800 half", "]]>", "布"])
def test_whatever_a_piece_is_called_the_document_is_xml(name):
    page = answer({"ask": "templates", "pieces": [{"id": name, "size": 2, "angle": 45}]})["pages"][0]
    root = ElementTree.fromstring(document(page, in_english).encode("utf-8"))
    told = [text.text for text in of_role(root, "label")]
    # What is no character of XML 1.0 (section 2.2) is U+FFFD there.
    shown = "".join(letter if letter >= " " and letter != "\ud800" else "\ufffd" for letter in name)
    assert shown in told
    assert ElementTree.fromstring(f"<a b='{escaped(name)}'/>").get("b") == shown


def test_a_name_that_is_too_long_ends_in_dots():
    page = answer({"ask": "templates", "pieces": [{"id": "long name " * 18, "size": 2, "angle": 45}]})["pages"][0]
    (told,) = [text.text for text in of_role(read(page), "label") if text.text.startswith("long")]
    (text,) = [text for text in page["texts"] if text.get("code") == "handout.named"]
    assert told.endswith("…") and text["room"] - 0.2 < width_of(told, 9) <= text["room"]


# --- The quilt's drawing ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "fields", [{}, {"edge": "trimmed"}, {"borders": [{"width": 3}], "binding": {}}, {"sashing": {"width": 1}}]
)
def test_the_drawing_is_the_quilt_to_scale(fields):
    found = quilt(**fields)
    root = read(quilt_sheet(found, [], PAPERS["a4"]))
    patches = [Polygon(points(element)) for element in of_role(root, "patch")]
    drawing = found["drawing"]
    whole = union_all([patch.buffer(0.01) for patch in patches])
    left, top, right, bottom = whole.bounds
    assert left >= 12.6 and right <= 197.4 and top >= 12.6 and bottom <= 284.4
    factor = sum(patch.area for patch in patches) / sum(covered(drawing))
    wide, high = found["bound"]["width"], found["bound"]["height"]
    assert (right - left) / (bottom - top) == pytest.approx(wide / high, rel=1e-3)
    assert (right - left) / wide == pytest.approx(factor**0.5, rel=1e-3)
    assert {element.get("fill") for element in of_role(root, "patch")} == {"#ffffff"}


def covered(drawing: dict) -> list[float]:
    """Areas of all pieces, those of a trimmed edge cut along it by Shapely."""
    clip = box(*drawing["clip"]) if drawing["clip"] else None
    outlines = [
        affinity.translate(Polygon(drawing["shapes"][shape]), x, y) for _, _, shape, x, y, *_ in drawing["pieces"]
    ]
    return [one.intersection(clip).area if k < drawing["clipped"] else one.area for k, one in enumerate(outlines)]


def test_pieces_have_their_fabrics_colors_and_those_are_told():
    found = quilt(fabrics=[{"id": "rose"}, {"id": "a < b"}, {"id": "sand"}])
    root = read(quilt_sheet(found, ["#aa3322", "#2233aa"], PAPERS["letter"]))
    fills = [element.get("fill") for element in of_role(root, "patch")]
    colors = ["#aa3322", "#2233aa", "#ffffff"]
    assert fills[: len(found["drawing"]["pieces"])] == [colors[fabric] for _, fabric, *_ in found["drawing"]["pieces"]]
    assert fills[len(found["drawing"]["pieces"]) :] == colors[:2]
    assert [text.text for text in of_role(root, "fabric")] == ["rose", "a < b"]


# --- How much room letters take -----------------------------------------------------------------------------------


def sentences(tree):
    """Every text of a part of the catalogue."""
    if isinstance(tree, str):
        return [tree.replace("{", "").replace("}", "")]
    return [text for inside in tree.values() for text in sentences(inside)]


@pytest.mark.skipif(not FONT.exists(), reason="the typeface comes with the page's packages")
@pytest.mark.parametrize("language", ["en", "de", "es", "fr"])
def test_a_sentence_is_given_more_room_than_it_takes_in_a_typeface(language):
    font = TTFont(FONT)
    letters, widths, whole = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    for text in sentences(subjects(language)["handout"]):
        known = "".join(letter for letter in text if ord(letter) in letters)
        real = sum(widths[letters[ord(letter)]][0] for letter in known) / whole * 9 / 72
        assert real <= width_of(known, 9), text


def test_lines_are_broken_between_words_and_lose_nothing():
    text = "Solid line: cut. Dashed line: sew."
    for room in (0.6, 1.0, 1.7, 9):
        lines = wrapped(text, 9, room)
        assert " ".join(lines) == text
        assert all(width_of(line, 9) <= room for line in lines)
    assert "".join(wrapped("実物大の型紙", 9, 0.26)) == "実物大の型紙"
    assert all(width_of(line, 9) <= 0.5 for line in wrapped("x" * 40, 9, 0.5))
