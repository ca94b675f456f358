"""A fabric's print as its pieces are cut: turned in the quilt's picture, told where it runs one way, and kept."""

import json
import math
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from host import Host
from kept_state import keep, kept
from matside import answer
from one_page import begin, go, one_page, tap, until_kept
from phone import until
from test_quilt import SEEN, quilt_anew, settled

SCALE = 24  # px to the inch
WIDE = 2.0  # inches of a swatch whose upper half is red and whose lower half is blue

# What a point of each piece shows, the swatch repeated from the place that the piece's shape is drawn from.
PAINTED = """async ([drawing, strips, points, scale, wide]) => {
  const page = document.querySelector('script[src*="app-"]').src.replace(/(app-[^/]*).*/, '$1');
  const { QuiltPainter } = await import(`${page}/lib/quilt/quilt-canvas.js`);
  const image = new OffscreenCanvas(64, 64);
  const brush = image.getContext('2d');
  ['#ff0000', '#0000ff'].forEach((colour, half) => {
    brush.fillStyle = colour;
    brush.fillRect(0, 32 * half, 64, 32);
  });
  const canvas = new OffscreenCanvas(Math.ceil(drawing.width * scale), Math.ceil(drawing.height * scale));
  const pen = canvas.getContext('2d');
  const colours = drawing.pieces.map((piece) => piece[1]);
  const tiles = strips.map((own) => ({ image, wide, strips: own }));
  new QuiltPainter(drawing).paint(pen, { colours, tiles, view: { scale, x: 0, y: 0 } });
  return points.map(([x, y]) => [...pen.getImageData(Math.round(x * scale), Math.round(y * scale), 1, 1).data]);
}"""


@pytest.fixture(scope="module")
def shared(browser: Browser, site: Host) -> Iterator[Page]:
    """One page for all tests of this file."""
    with one_page(browser, f"{site.url}#quilt") as page:
        yield page


@pytest.fixture
def quilt(shared: Page) -> Page:
    """The screen with its first quilt."""
    shared.set_viewport_size({"width": 390, "height": 844})
    quilt_anew(shared)
    return shared


def strip_edge(outline: list[list[float]], angle: float) -> float:
    """The direction of a diamond's strip, in radians anticlockwise as seen: the edge from which the other one is the
    sharp angle further to the left."""
    (a, b), (c, d), (e, f) = outline[:3]
    one, other = math.atan2(b - d, c - a), math.atan2(d - f, e - c)
    return one if abs(math.sin(other - one - math.radians(angle))) < 1e-4 else other


@pytest.mark.every(12)
@pytest.mark.parametrize(
    ("angle", "fields"),
    [
        (60, {"setting": "stars"}),
        (60, {"setting": "hexagons", "orientation": "lying"}),
        (45, {"setting": "eight_pointed"}),
        (75, {"setting": "grid"}),
        (30, {"setting": "grid", "orientation": "lying"}),
    ],
    ids=str,
)
@pytest.mark.parametrize("one_way", [True, False])
def test_a_swatch_is_turned_as_each_diamond_is_cut(quilt: Page, angle: int, fields: dict, one_way: bool):
    fabrics = [{"id": "a", "one_way": one_way}]
    piece = {"size": 3, "angle": angle}
    found = answer(
        {"ask": "quilt", "piece": piece, "columns": 2, "rows": 2, "edge": "filled", "fabrics": fabrics, **fields}
    )
    drawing = found["drawing"]
    points, wanted = [], []
    for kind, _, shape, x, y, *_ in drawing["pieces"]:
        outline = drawing["shapes"][shape]
        if drawing["kinds"][kind] != "diamond":
            continue
        along = strip_edge(outline, angle) + (0 if one_way else math.pi / 2)
        # To the head as far as it is up; level, it lies to the right.
        ahead = (math.cos(along), -math.sin(along))
        if ahead[1] > 1e-6 or (abs(ahead[1]) <= 1e-6 and ahead[0] < 0):
            ahead = (-ahead[0], -ahead[1])
        for step in (-0.7, -0.35, 0.35, 0.7):
            middle = [sum(point[axis] for point in outline) / 4 for axis in (0, 1)]
            place = [middle[axis] + step * ahead[axis] for axis in (0, 1)]
            down = -(place[0] * ahead[0] + place[1] * ahead[1])  # below where the swatch begins
            if 0.1 < (down / (WIDE / 2)) % 1 < 0.9:  # not where the colors meet
                points.append([x + place[0], y + place[1]])
                wanted.append("red" if down % WIDE < WIDE / 2 else "blue")
    assert {"red", "blue"} == set(wanted)
    strips = [fabric["strips"] for fabric in found["fabrics"]]
    seen = quilt.evaluate(PAINTED, [drawing, strips, points, SCALE, WIDE])
    assert ["red" if red > blue else "blue" for red, _, blue, _ in seen] == wanted


def test_a_print_that_runs_one_way_is_ticked_told_and_kept(quilt: Page):
    expect(quilt.locator("fabric-list .one-way")).to_have_count(0)
    quilt.get_by_role("button", name="Change Fabric 2").click()
    quilt.locator("[data-key='fabrics.1.one_way']").click()
    until_kept(quilt, "quilt", lambda found: found["state"]["fabrics"][1]["one_way"] is True)
    settled(quilt)
    told = quilt.locator("fabric-list [data-standing]")
    expect(told).to_contain_text("As its pieces lie in the quilt: ")
    standing = kept(quilt, "quilt-answers")["quilt"]["fabrics"][1]["standing"]
    assert standing["stand"] > 0
    expect(told).to_contain_text(f"{standing['stand']} upright, {standing['lie']} on their side")
    for place in ("fabric-list", "piece-list", "buying-list"):
        expect(quilt.locator(f"{place} .one-way").first).to_be_attached()
    quilt.reload()
    until(quilt, SEEN)
    expect(quilt.locator("fabric-list [data-standing]")).to_have_count(1)


def test_cloth_of_such_a_fabric_is_planned_along_the_selvage(quilt: Page):
    quilt.get_by_role("button", name="Change Fabric 1").click()
    quilt.locator("[data-key='fabrics.0.one_way']").click()
    until_kept(quilt, "quilt", lambda found: found["state"]["fabrics"][0]["one_way"] is True)
    settled(quilt)
    go(quilt, "basket")
    quilt.get_by_label("Add a cloth").select_option(label="Fat quarter")
    expect(quilt.locator("basket-list .cloth-row .one-way")).to_have_count(1)
    expect(quilt.locator("[data-key='cloths.0.one_way']")).to_have_count(0)
    expect(quilt.locator("basket-list")).to_contain_text("The print runs one way")
    quilt.locator("[data-key='plan']").click()
    until_kept(quilt, "basket-plan", lambda found: found["request"]["cloths"][0]["one_way"] is True)
    layouts = kept(quilt, "basket-plan")["plan"]["layouts"]
    assert {strip["along"] for layout in layouts for strip in layout["strips"]} == {"length"}


def test_a_quilt_of_an_older_core_is_not_shown_but_asked_for_anew(quilt: Page):
    answers = kept(quilt, "quilt-answers")
    del answers["quilt"]["drawing"]["heads"]
    go(quilt, "tools")
    keep(quilt, "quilt-answers", answers)
    quilt.add_init_script("if (sessionStorage.stuck) Worker.prototype.postMessage = () => {};")
    quilt.evaluate("sessionStorage.stuck = 'yes'")
    quilt.reload()  # at Tools: on its own screen the page would ask, and keep the answer, before it is loaded again
    go(quilt, "quilt")
    quilt.locator("fabric-list .fabric").first.wait_for(state="attached")
    shown = quilt.locator(".quilt-figure").count()
    quilt.evaluate("sessionStorage.clear()")
    assert shown == 0
    quilt.reload()
    until(quilt, SEEN)
    until_kept(quilt, "quilt-answers", lambda found: "heads" in found["quilt"]["drawing"])


def test_how_many_tells_how_a_print_that_runs_one_way_lies(quilt: Page):
    go(quilt, "count")
    quilt.locator("[data-key='slot-cloth']").click()
    told = quilt.locator("answer-view")
    expect(told).not_to_contain_text("head down")
    quilt.locator("[data-key='cloth.one_way']").click()
    expect(told).to_contain_text("No piece has to lie head down: each can be turned by half.")
    until_kept(quilt, "count", lambda found: found["state"]["cloth"]["one_way"] is True)
    quilt.locator("[data-key$='quarter']").last.click()
    quilt.locator("[data-key='cloth.one_way']").click()
    expect(told).not_to_contain_text("head down")


def photographed(page: Page) -> bytes:
    """A swatch of 60 by 40 on Fabric 1."""
    picture = bytes(
        page.evaluate("""async () => {
          const canvas = Object.assign(document.createElement('canvas'), { width: 60, height: 40 });
          canvas.getContext('2d').fillRect(10, 10, 20, 20);
          const blob = await new Promise((resolve) => canvas.toBlob(resolve));
          return [...new Uint8Array(await blob.arrayBuffer())];
        }""")
    )
    page.get_by_role("button", name="Change Fabric 1").click()
    page.get_by_label("A photo of the fabric instead").set_input_files(
        [{"name": "cloth.png", "mimeType": "image/png", "buffer": picture}]
    )
    until_kept(page, "quilt", lambda found: found["state"]["fabrics"][0]["photo"])
    settled(page)
    return picture


def test_a_photo_goes_nowhere_not_into_a_request_a_link_or_a_copy(quilt: Page, pytestconfig: pytest.Config):
    sent = []
    quilt.on("request", lambda request: sent.append((request.url, request.post_data or "")))
    photographed(quilt)
    go(quilt, "basket")
    quilt.get_by_label("Add a cloth").select_option(label="Fat quarter")
    quilt.wait_for_timeout(300)
    links = "[...document.querySelectorAll('[href]')].map((link) => link.getAttribute('href'))"
    hrefs = quilt.evaluate(links)
    go(quilt, "tools")
    expect(quilt.locator("copy-keeper")).to_contain_text("they stay on this phone")
    hrefs += quilt.evaluate(links)
    with quilt.expect_download() as download:
        quilt.locator("[data-key=copy-save]").click()
    copy = Path(download.value.path()).read_text("utf-8")
    assert set(json.loads(copy)) == {"matside", "version", "made", "sittings", "kept", "plan", "plans"}
    assert set(json.loads(copy)["kept"]) <= {"settings", "shelf"}
    in_page = pytestconfig.getoption("--in-page")  # what is asked of the core then goes over no network
    assert in_page or any(body for _, body in sent), "what is asked of the core is seen here"
    for text in (copy, *hrefs, *(part for one in sent for part in one if not part.startswith("blob:"))):
        assert not any(sign in text for sign in ("photo", "image/jpeg", "base64", "data:"))


HATCHED = """(drawing) => {
  const lines = [...drawing.querySelectorAll('pattern')].map((pattern) => `url(#${pattern.id})`);
  return [...drawing.querySelectorAll('.waste, .curve-cloth')].map((area) => {
    const over = area.ownerSVGElement.querySelectorAll('.hatched, .strip-in-cloth');
    const box = (shape) => Object.values(['x', 'y', 'width', 'height'].map((part) => shape.getBBox()[part].toFixed(3))).join();
    return [...over].some((one) => box(one) === box(area) && lines.includes(one.getAttribute('fill')));
  });
}"""


def test_waste_is_hatched_wherever_it_is_drawn(quilt: Page):
    go(quilt, "count")
    assert all(found := quilt.locator("count-stage svg.drawing").evaluate(HATCHED)) and found
    quilt.locator(".best-size > summary").click()
    quilt.locator("size-curve .curve-cloth").wait_for()
    assert quilt.locator("size-curve svg.curve-picture").evaluate(HATCHED) == [True]
    go(quilt, "terms")
    quilt.locator("summary", has_text="sliver").click()
    assert quilt.locator(".term-picture").evaluate(HATCHED) == [True]
    begin(quilt)
    for _ in range(30):
        if quilt.locator("scene-view .waste").count():
            break
        tap(quilt, "zone")
    assert all(found := quilt.locator("scene-view svg").first.evaluate(HATCHED)) and found
    expect(quilt.locator("scene-view .ruler + .glint").first).to_be_attached()
