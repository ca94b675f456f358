"""The drawing of the piece: its label stands in it, or above it at the end of a line, whatever is drawn; by geometry."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
from shapely import LineString, Polygon, box

import matside
from host import Host
from one_page import one_page

SIZES = ("½ in", "2¹³⁄₁₆ in", "4 in", "5⅜ in", "10¹³⁄₁₆ in", "11.7 cm", "120³⁄₁₆ in", "304,8 cm")
ANGLES = (15, 18, 22.5, 30, 45, 52, 60, 75, 90)

# Draws diamonds in one column of some width and gives their lines, in the drawing's units, and the boxes of the letters.
DRAWN = """async ([drawn, wide]) => {
  const folder = new URL("./", document.querySelector("script[type=module]").src).href;
  const { diamondDrawing } = await import(folder + "lib/page/drawing.js");
  const column = document.createElement("div");
  column.style.width = wide;
  document.body.append(column);
  await document.fonts.load("650 17px 'Atkinson Hyperlegible Next'", "4½");
  const pen = document.createElement("canvas").getContext("2d");
  const found = drawn.map(([piece, text]) => {
    column.replaceChildren(diamondDrawing(piece, text, text));
    const [svg] = column.children;
    const [label, lines] = [svg.querySelector("text"), svg.querySelector(".dimension").getAttribute("d")];
    const { x, width } = label.getBBox();
    const size = parseFloat(label.getAttribute("font-size"));
    pen.font = `650 1000px ${getComputedStyle(label).fontFamily}`;
    const { actualBoundingBoxAscent: up, actualBoundingBoxDescent: down } = pen.measureText(text);
    const foot = Number(label.getAttribute("y"));
    return { letters: [x, foot - (up / 1000) * size, x + width, foot + (down / 1000) * size], lines, view: svg.getAttribute("viewBox"), unit: piece.outline.reduce((most, [at]) => Math.max(most, at), 0) / 136 };
  });
  column.remove();
  return found;
}"""


@pytest.fixture(scope="module")
def page(browser: Browser, site: Host) -> Iterator[Page]:
    with one_page(browser, f"{site.url}#count") as page:
        yield page


def diamond(angle: float) -> dict:
    """A diamond as the core measures it."""
    found = matside.answer({"ask": "piece", "piece": {"shape": "diamond", "size": 4, "angle": angle}})
    return {"outline": found["outline"], "size": found["size"]}


def strokes(path: str, size: float) -> list[LineString]:
    """The lines of a path that is drawn upside down, as they are seen."""
    lines = [part.split("L") for part in path.split("M") if part]
    return [LineString([(x, size - y) for x, y in (map(float, point.split()) for point in line)]) for line in lines]


@pytest.mark.parametrize("wide", ["136px", "18rem"])
def test_the_label_is_in_the_diamond_or_above_it_at_the_end_of_its_line(page: Page, wide: str):
    asked = [(diamond(angle), text, angle) for angle in ANGLES for text in SIZES]
    places = set()
    for (piece, text, angle), found in zip(
        asked, page.evaluate(DRAWN, [[one[:2] for one in asked], wide]), strict=True
    ):
        size = piece["size"]
        shape = Polygon([(x, size - y) for x, y in piece["outline"]])
        letters, lines = box(*found["letters"]), strokes(found["lines"], size)
        left, top, across, down = map(float, found["view"].split())
        assert box(left, top, left + across, top + down).contains(letters), (text, angle)
        assert all(line.distance(letters) > found["unit"] for line in lines), (text, angle)
        if shape.contains(letters):
            assert shape.exterior.distance(letters) > found["unit"], (text, angle)
            places.add("in")
            continue
        assert shape.distance(letters) > 3 * found["unit"], (text, angle)
        (line,) = lines
        assert line.distance(letters) < 8 * found["unit"] and line.distance(shape) == 0, (text, angle)
        assert abs(line.coords[0][0] - letters.centroid.x) < 0.1 * letters.length
        places.add("above")
    assert places == {"in", "above"}


def test_usual_sizes_of_usual_angles_have_it_inside(page: Page):
    texts = {45: ("4 in", "2½ in", "5⅜ in"), 60: ("4 in", "2½ in", "5⅜ in", "2¹³⁄₁₆ in")}
    asked = [(diamond(angle), text) for angle in texts for text in texts[angle]]
    for (piece, text), found in zip(asked, page.evaluate(DRAWN, [asked, "136px"]), strict=True):
        shape = Polygon([(x, piece["size"] - y) for x, y in piece["outline"]])
        assert shape.contains(box(*found["letters"])), text
