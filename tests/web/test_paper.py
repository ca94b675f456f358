"""What is printed, as it lies on paper: printed to PDF by Chromium, and measured by PyPI's pypdf and pdfplumber.

A4 is 210 × 297 mm (ISO 216), letter 8.5 × 11 in (ASME Y14.1, size A): in points of 1/72 in here. That 9 points can be read by
most is common practice, no published source."""

import re
from collections.abc import Iterator
from io import BytesIO

import numpy as np
import pdfplumber
import pypdf
import pytest
import zxingcpp
from playwright.sync_api import Browser, Page

import matside
from host import Host
from matside.handout.sheet_text import sheet_lines
from one_page import one_page
from passed import ran
from phone import until
from quilter import said

POINTS = {"a4": (595.276, 841.89), "letter": (612, 792)}
INCH = 72
TENTH_OF_A_MILLIMETER = 72 / 254
SMALLEST = 8.95  # points, as they come out of a browser's pixels
SHEETS = ("cutting", "chart", "buying", "quilt", "coloring", "rows", "templates", "labels")
MADE = "!document.querySelector('.paper-screen [role=status]') && document.querySelector('.paper-sheets')?.children.length > 0"


@pytest.fixture(scope="module")
def paper(browser: Browser, site: Host) -> Iterator[Page]:
    """The screen for paper, of the example quilt."""
    with one_page(browser, f"{site.url}#quilt/example") as page:
        page.locator(".quilt-figure b").wait_for()
        page.goto(f"{site.url}#paper")
        until(page, MADE)
        page.get_by_label(said("passing.field.title")).fill("Tuesday evening")
        yield page


def sheet(page: Page, name: str, size: str) -> pdfplumber.PDF:
    """A sheet, printed."""
    page.goto(f"{page.url.split('#')[0]}#paper/{name}")
    page.get_by_role("button", name=said(f"tools.paper.{size}"), exact=True).click()
    until(page, f"{MADE} && document.querySelector('.paper-sheets').dataset.paper === '{size}'")
    return pdfplumber.open(BytesIO(page.pdf(prefer_css_page_size=True, tagged=True, print_background=True)))


def sizes_of(pdf: pdfplumber.PDF) -> set[float]:
    """The sizes of all letters in points, of those that stand upright."""
    return {round(one["size"], 2) for page in pdf.pages for one in page.chars if one["upright"] and one["text"].strip()}


@pytest.mark.every(5)
@pytest.mark.parametrize("size", POINTS)
@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_is_whole_tagged_and_to_be_read(paper: Page, name: str, size: str):
    with sheet(paper, name, size) as pdf:
        for page in pdf.pages:
            assert (float(page.width), float(page.height)) == pytest.approx(POINTS[size], abs=0.6)
            assert _edges(page).min() > 250  # nothing is cut off: the edges are white
        assert min(sizes_of(pdf)) >= SMALLEST
        catalog = pypdf.PdfReader(pdf.stream).trailer["/Root"]
        assert catalog["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in catalog and catalog["/Lang"].startswith("en")
        if name != "templates":
            assert "Tuesday evening" in pdf.pages[0].extract_text()
            assert (
                said("page.tab.basket") not in pdf.pages[0].extract_text().splitlines()
            )  # nothing of the screen is on it


def _edges(page) -> np.ndarray:
    """The outermost fifth of an inch of a page, as it comes out of the printer."""
    picture = np.asarray(page.to_image(resolution=50).original.convert("L"))
    wide = 10
    return np.concatenate(
        [part.ravel() for part in (picture[:wide], picture[-wide:], picture[:, :wide], picture[:, -wide:])]
    )


@pytest.mark.every(2)
@pytest.mark.parametrize("size", POINTS)
def test_templates_are_true_to_a_tenth_of_a_millimeter(paper: Page, size: str):
    """Every outline to cut by is on the paper where and as large as the core has it; the browser prints a dashed line as its
    dashes."""
    with sheet(paper, "templates", size) as pdf:
        request = paper.evaluate("document.querySelectorAll('.template-page').length")
        assert len(pdf.pages) == request
        drawn = [[_points(one) for one in page.curves + page.lines] for page in pdf.pages]
        bars = [sorted(max(one["width"], one["height"]) for one in page.lines + page.curves) for page in pdf.pages]
    wanted = paper.evaluate(
        "[...document.querySelectorAll('.template-page')].map((page) => [...page.querySelectorAll('[data-role=cut], [data-role=wedge]')].map((one) => one.getAttribute('points')))"
    )
    assert sum(map(len, wanted)) > 4
    for found, outlines in zip(drawn, wanted, strict=True):
        for told in outlines:
            corners = np.array([[float(part) for part in point.split(",")] for point in told.split(" ")])
            assert any(_agree(corners, points) for points in found)
    for lengths in bars:
        for wide in (100 / 25.4 * INCH, 4 * INCH):
            assert sum(abs(length - wide) < TENTH_OF_A_MILLIMETER for length in lengths) >= 2  # each way


def _points(curve: dict) -> np.ndarray:
    return np.array(curve["pts"])


def _agree(corners: np.ndarray, points: np.ndarray) -> bool:
    """Whether every corner of the one lies at one of the other."""
    gaps = np.hypot(*(corners[:, None, :] - points[None, :, :]).transpose(2, 0, 1))
    return bool((gaps.min(axis=1) < TENTH_OF_A_MILLIMETER).all())


def test_the_pages_drawn_are_the_core_s(paper: Page, site: Host):
    """What stands in the page's pictures is what the ask `templates` answers for the example, asked here once more."""
    paper.goto(f"{site.url}#paper/templates")
    until(paper, MADE)
    told = paper.evaluate(
        "[...document.querySelectorAll('.template-page')].map((page) => [...page.querySelectorAll('polygon')].map((one) => one.getAttribute('points').split(' ').map((point) => point.split(',').map(Number))))"
    )
    size = paper.locator(".paper-sheets").get_attribute("data-paper")
    quilt = {
        "piece": {"shape": "diamond", "size": 6, "angle": 60},
        "target": {"width": 48, "height": 60},
        "setting": "grid",
    }
    more = {"orientation": "standing", "edge": "filled", "borders": [{"width": 3, "extra": 2, "grain": "crosswise"}]}
    pages = matside.answer({"ask": "templates", "quilt": {**quilt, **more}, "paper": size})["pages"]
    wanted = [[shape["points"] for shape in page["shapes"] if shape["closed"]] for page in pages]
    assert [len(page) for page in told] == [len(page) for page in wanted]
    for found, outlines in zip(told, wanted, strict=True):
        for one, other in zip(found, outlines, strict=True):
            assert np.abs(np.array(one) / INCH - np.array(other)).max() < 1e-6


def test_the_chart_agrees_with_the_door_for_every_cell(paper: Page):
    """Its small numbers are `along_length` and `along_width` of the ask `cloth`, the large one its `best`."""
    sheet(paper, "chart", "letter").close()
    rows = paper.locator("table.chart tbody tr").evaluate_all("rows => rows.map((row) => row.innerText)")
    chart = matside.answer({"ask": "chart", "drawing": False})
    assert len(rows) == len(chart["sizes"])
    for size, row in zip(chart["sizes"], rows, strict=True):
        told = [tuple(map(int, found)) for found in re.findall(r"(\d+)\s*\(\d+\)\s*(\d+) \| (\d+) · ≥ (\d+)", row)]
        assert len(told) == len(chart["cloths"])
        for cloth, (best, along_length, along_width, sure) in zip(chart["cloths"], told, strict=True):
            asked = {"kind": cloth["code"]} if cloth["code"] != "yardage" else {"length": cloth["length"], "width": 42}
            piece = {"shape": "diamond", "size": size, "angle": 60}
            found = matside.answer({"ask": "cloth", "piece": piece, "cloth": asked})
            assert best == found["best"]["pieces"]
            assert (along_length, along_width) == (found["along_length"]["pieces"], found["along_width"]["pieces"])
            assert sure == found["sure"]["pieces"]


def test_the_cutting_sheet_says_all_that_the_core_s_lines_say(paper: Page, site: Host):
    """Sentence by sentence as the shell writes it, for the cloth of "How many": 15 diamonds from a fat quarter."""
    sheet(paper, "cutting", "letter").close()
    text = re.sub(r"\s+", " ", paper.locator(".sheet").inner_text())
    ruler = {"name": "long", "width": "6 in", "length": "24 in", "tick": "1/8 in"}
    angles = [{"degrees": degrees, "from": "long", "lean": "both", "at": "6 in"} for degrees in (30, 45, 60)]
    request = {
        "piece": {"size": 4, "angle": 60},
        "cloth": {"kind": "fat_quarter"},
        "way": "along_length",
        "mat": "24 in",
    }
    answer = matside.answer({"ask": "cutting_sheet", **request, "rulers": [{**ruler, "angles": angles}]})
    lines = sheet_lines(answer["sheet"], names={"fat_quarter": "Fat quarter"})
    said_lines = [re.sub(r"^[\s☐|–]*(?:\d+\. )?[\s☐|]*", "", line).strip() for line in lines]
    assert len(said_lines) > 20
    assert [line for line in said_lines if line and re.sub(r"\s+", " ", line) not in text] == []


def test_the_code_on_a_sheet_brings_the_plan_back(paper: Page, dist):
    with sheet(paper, "rows", "a4") as pdf:
        picture = np.asarray(pdf.pages[0].to_image(resolution=200).original.convert("L"))
    (code,) = zxingcpp.read_barcodes(picture)
    (found,) = ran(dist, ("unpacked", code.text))
    assert found["plan"]["title"] == "Tuesday evening" and len(found["plan"]["quilt"]["fabrics"]) == 4


def test_in_black_and_white_the_fabrics_stay_apart(paper: Page):
    """Four fabrics are four signs, however gray they are printed; to color in there is nothing but lines."""
    paper.get_by_label(said("paper.gray")).check()
    try:
        sheet(paper, "quilt", "letter").close()
        fills = paper.locator(".quilt-on-paper path").evaluate_all(
            "all => [...new Set(all.map((one) => one.getAttribute('fill')))]"
        )
        assert len([fill for fill in fills if fill.startswith("url(")]) == 4
        signs = paper.locator(".quilt-on-paper pattern").evaluate_all(
            "all => [...new Set(all.map((one) => one.innerHTML))]"
        )
        assert len(signs) >= 4
        sheet(paper, "coloring", "letter").close()
        lines = paper.locator(".quilt-on-paper path").evaluate_all(
            "all => [...new Set(all.map((one) => one.getAttribute('fill')))]"
        )
        assert lines == ["#ffffff"]
    finally:
        paper.get_by_label(said("paper.gray")).uncheck()


def test_drawings_are_saved_as_pictures(paper: Page):
    """As SVG that stands by itself, and as PNG of a print's size."""
    sheet(paper, "quilt", "letter").close()
    with paper.expect_download() as svg:
        paper.get_by_role("button", name=said("paper.svg")).first.click()
    text = svg.value.path().read_text("utf-8")
    assert svg.value.suggested_filename == "matside-quilt-1.svg"
    assert 'xmlns="http://www.w3.org/2000/svg"' in text and text.count("<path") > 80 and "var(" not in text
    with paper.expect_download() as png:
        paper.get_by_role("button", name=said("paper.png")).first.click()
    content = png.value.path().read_bytes()
    assert content.startswith(b"\x89PNG") and max(np.frombuffer(content[16:24], ">u4")) == 2000
