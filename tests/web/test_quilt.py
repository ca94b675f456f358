"""The screen of the whole quilt: from a target size to pieces, drawing and buying list.

What the core answers is tested in tests/core; here, that the page asks it rightly, shows it, and keeps what was typed.
"""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from axe import complaints
from host import Host
from kept_state import keep, kept
from one_page import all_parts, go, one_page, until_kept
from phone import until

SEEN = "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale, quilt-drawing.stale') ? true : false"
FORGET = """() => new Promise((resolve) => {
  const opening = indexedDB.open('matside');
  opening.onsuccess = () => {
    const writing = opening.result.transaction('kept', 'readwrite');
    writing.objectStore('kept').clear();
    writing.oncomplete = () => resolve(opening.result.close());
  };
}).then(async () => {
  localStorage.clear(); // what only the database had lost would be brought back
  const all = await navigator.storage.getDirectory();
  for await (const name of all.keys()) {
    const removed = () => all.removeEntry(name, { recursive: true }).then(() => true, (error) => {
      if (error.name !== 'NoModificationAllowedError') throw error; // somebody is writing just now
    });
    while (!(await removed())) await new Promise((later) => setTimeout(later, 20));
  }
})"""

# The colour of the drawing at a part of its width and height.
PIXEL = """([x, y]) => {
  const canvas = document.querySelector('quilt-drawing canvas');
  const at = [Math.round(x * canvas.width), Math.round(y * canvas.height), 1, 1];
  return [...canvas.getContext('2d').getImageData(...at).data].slice(0, 3);
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
    shared.emulate_media(media="screen", color_scheme="light")
    quilt_anew(shared)
    return shared


def quilt_anew(page: Page) -> None:
    """The screen of the quilt, with nothing kept."""
    anew(page, "quilt")
    all_parts(page)
    until(page, SEEN)


def anew(page: Page, screen: str) -> None:
    """Goes to a screen with nothing kept; the page is left first, as it might keep once more what is to be forgotten."""
    top = page.url.split("#")[0]
    page.goto(f"{top}licences.txt")
    page.evaluate(FORGET)
    page.goto(f"{top}#{screen}")


def settled(page: Page) -> None:
    """Waits until the newest answer is shown."""
    page.wait_for_timeout(30)
    until(page, SEEN)


def typed(page: Page, label: str, text: str) -> None:
    """Types into a field and waits for the answer."""
    page.get_by_label(label, exact=True).first.fill(text)
    settled(page)


def near(found: list[int], wanted: str, within: int = 40) -> bool:
    """Whether a pixel is the colour #rrggbb, with room for the print and the shade at the seams."""
    parts = [int(wanted[at : at + 2], 16) for at in (1, 3, 5)]
    return all(abs(one - other) <= within for one, other in zip(found, parts, strict=True))


def test_41_diamonds_make_a_filled_quilt_of_5_by_5(quilt: Page):
    # c·r + (c−1)(r−1) whole diamonds: 25 + 16 = 41 for 5 by 5; 2(r−1) side and 2(c−1) end halves and 4 corners.
    quilt.get_by_role("button", name="Pieces I have").click()
    typed(quilt, "How many diamonds", "41")
    by_kind = quilt.locator(".pieces li").all_inner_texts()
    assert total(by_kind, "Diamonds") == 41
    assert (total(by_kind, "Halves for the sides"), total(by_kind, "Halves for top and bottom")) == (8, 8)
    assert total(by_kind, "Corner quarters") == 4


def total(rows: list[str], kind: str) -> int:
    """Pieces of a kind over all fabrics."""
    return sum(int(row.split("\n")[0]) for row in rows if kind in row.split("\n"))


def test_eleven_strips_of_8_inches_give_the_41_pieces_of_a_throw(quilt: Page):
    # Common practice, no published source: eleven full-width 8-inch strips, four to a strip.
    quilt.get_by_role("button", name="Pieces I have").click()
    typed(quilt, "How many diamonds", "41")
    typed(quilt, "Size as cut", "8")
    quilt.get_by_role("button", name="One fabric").click()
    settled(quilt)
    cut = "\n".join(quilt.locator("buying-list .facts li").all_inner_texts())
    strips = re.findall(r"(\d+|One) strips? 8 in wide[^\n]*: (\d+) × Diamonds", cut)
    assert sum(1 if number == "One" else int(number) for number, _ in strips) == 11
    assert max(int(gives) for _, gives in strips) == 4


def test_the_drawing_has_the_users_colours_and_pieces_change_by_a_tap(quilt: Page):
    assert near(quilt.evaluate(PIXEL, [0.5, 0.025]), "#2f4a86")  # the border, of the first fabric
    quilt.get_by_label("Color of Fabric 1").fill("#00aa44")
    settled(quilt)
    assert near(quilt.evaluate(PIXEL, [0.5, 0.025]), "#00aa44")
    quilt.locator(".quilt-tools").get_by_role("button", name="Fabric 1").click()
    before = quilt.evaluate(PIXEL, [0.5, 0.52])
    box = quilt.locator("quilt-drawing canvas").bounding_box()
    quilt.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] * 0.52)
    settled(quilt)
    assert not near(before, "#00aa44") and near(quilt.evaluate(PIXEL, [0.5, 0.52]), "#00aa44")
    quilt.get_by_role("button", name="Undo one tapped piece").click()
    settled(quilt)
    assert near(quilt.evaluate(PIXEL, [0.5, 0.52]), f"#{bytes(before).hex()}", within=2)


def test_a_piece_is_coloured_with_the_keyboard_alone(quilt: Page):
    quilt.get_by_label("Color of Fabric 1").fill("#00aa44")
    quilt.locator(".quilt-tools").get_by_role("button", name="Fabric 1").press("Enter")
    quilt.locator(".quilt-frame").focus()
    for key in ("+", "+", "ArrowRight", "Enter"):
        quilt.keyboard.press(key)
    settled(quilt)
    expect(quilt.get_by_role("button", name="Undo one tapped piece")).to_be_visible()
    assert near(quilt.evaluate(PIXEL, [0.5, 0.52]), "#00aa44")


@pytest.mark.long
def test_looking_closer_shows_less_of_the_quilt(quilt: Page):
    corner = quilt.evaluate(PIXEL, [0.1, 0.03])
    assert near(corner, "#2f4a86")
    for _ in range(6):
        quilt.get_by_role("button", name="Look closer").click()
    assert quilt.evaluate(PIXEL, [0.1, 0.03]) != corner
    quilt.get_by_role("button", name="All of the quilt").click()
    assert quilt.evaluate(PIXEL, [0.1, 0.03]) == corner


def test_a_photographed_swatch_is_the_fabric(quilt: Page):
    picture = quilt.evaluate("""async () => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 60, height: 40 });
      const pen = canvas.getContext('2d');
      pen.fillStyle = '#c02080';
      pen.fillRect(0, 0, 60, 40);
      const blob = await new Promise((resolve) => canvas.toBlob(resolve));
      return [...new Uint8Array(await blob.arrayBuffer())];
    }""")
    quilt.get_by_role("button", name="Change Fabric 1").click()
    quilt.get_by_label("A photo of the fabric instead").set_input_files(
        [{"name": "cloth.png", "mimeType": "image/png", "buffer": bytes(picture)}]
    )
    until(quilt, "document.body.textContent.includes('Another photo')")
    settled(quilt)
    assert near(quilt.evaluate(PIXEL, [0.5, 0.025]), "#c02080")
    quilt.reload()
    until(quilt, SEEN)
    assert near(quilt.evaluate(PIXEL, [0.5, 0.025]), "#c02080")


@pytest.mark.long
def test_a_photographs_width_is_read_as_every_length_and_what_is_none_is_said(quilt: Page):
    picture = quilt.evaluate("""async () => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 8, height: 8 });
      const blob = await new Promise((resolve) => canvas.toBlob(resolve));
      return [...new Uint8Array(await blob.arrayBuffer())];
    }""")
    quilt.get_by_role("button", name="Change Fabric 1").click()
    quilt.get_by_label("A photo of the fabric instead").set_input_files(
        [{"name": "cloth.png", "mimeType": "image/png", "buffer": bytes(picture)}]
    )
    width = quilt.get_by_label("The photo shows a square this wide")
    for text, inches in (("7 1/2", 7.5), ("10 cm", 10 / 2.54), ('3½"', 3.5)):
        width.fill(text)
        until_kept(
            quilt,
            "quilt",
            lambda found, inches=inches: abs(found["state"]["fabrics"][0]["photo_inches"] - inches) < 1e-9,
        )
    width.fill("wide")
    expect(quilt.locator("#field-fabrics-0-photo_width-error")).to_be_visible()
    assert width.input_value() == "wide"
    assert kept(quilt, "quilt")["state"]["fabrics"][0]["photo_inches"] == 3.5
    width.fill("4")
    expect(quilt.locator("#field-fabrics-0-photo_width-error")).to_have_count(0)


@pytest.mark.long
def test_zigzag_says_which_half_is_cut_from_the_wrong_side(quilt: Page):
    quilt.get_by_role("button", name="Zigzag rows").click()
    settled(quilt)
    pieces = quilt.locator("piece-list .pieces li", has_text="Diamonds").all_inner_texts()
    leaning = [text for text in pieces if "Lay the strip wrong side up." in text]
    assert 0 < len(leaning) < len(pieces)
    expect(quilt.locator("sewing-list")).to_contain_text(
        "cut that half from strips laid wrong side up, or turn each diamond"
    )
    expect(quilt.locator("sewing-list")).to_contain_text(
        "on the grain, if the diamonds lie with their strip edges along the rows"
    )
    expect(quilt.locator("buying-list")).to_contain_text(re.compile(r"rectangles? for \d+ × Triangles at row ends"))


def test_set_in_seams_are_told_step_by_step_each_with_its_picture(quilt: Page):
    quilt.get_by_role("button", name="Tumbling blocks").click()
    settled(quilt)
    quilt.get_by_text("The set-in seams, step by step").click()
    steps = quilt.locator(".steps li")
    expect(steps).to_have_count(4)
    # Of two diamonds one seam is sewn, with a dot at both its ends; the third is set in by two.
    assert [steps.nth(k).locator("line").count() for k in range(4)] == [1, 2, 1, 2]
    assert steps.nth(0).locator("circle").count() == 2
    assert all(box["height"] > 40 for box in (steps.nth(k).locator("svg").bounding_box() for k in range(4)))
    quilt.get_by_role("button", name="Diamonds in a grid").click()
    settled(quilt)
    expect(steps).to_have_count(0)


def test_rows_are_told_by_the_letters_of_their_fabrics(quilt: Page):
    quilt.get_by_text("Row by row, with letters for the fabrics").click()
    rows = quilt.locator(".layout-rows li").all_inner_texts()
    letters = "".join(row.split("\n")[1].replace(" ", "") for row in rows)
    by_kind = quilt.locator(".pieces li").all_inner_texts()
    kinds = ("Diamonds", "Halves for the sides", "Halves for top and bottom", "Corner quarters")
    assert len(letters) == sum(total(by_kind, kind) for kind in kinds) and set(letters) == set("ABC")
    assert rows[0].split("\n")[1] == "A", "the top left corner is of the outermost ring"


@pytest.mark.long
def test_sewn_rows_are_counted_and_stay_counted(quilt: Page):
    quilt.get_by_text("Row by row, with letters for the fabrics").click()
    for row in (1, 2, 3):
        quilt.get_by_role("button", name=f"Row {row} is sewn", exact=True).click()
    quilt.get_by_role("button", name="Row 3 is not").click()
    count = quilt.locator(".rows-sewn [role=status]")
    rows = quilt.locator(".layout-rows li")
    of = rows.count()
    expect(count).to_have_text(f"2 of {of} rows sewn")
    assert [row.split("\n")[0] for row in rows.all_inner_texts()[:3]] == ["Row 1 ✓", "Row 2 ✓", "Row 3"]
    until_kept(quilt, "quilt", lambda found: list(found["state"]["sewn"].values()) == [2])
    quilt.reload()
    until(quilt, SEEN)
    quilt.get_by_text("Row by row, with letters for the fabrics").click()
    expect(count).to_have_text(f"2 of {of} rows sewn")
    # Another quilt has a count of its own, and this one keeps its own meanwhile.
    typed(quilt, "Size as cut", "5")
    expect(count).to_contain_text("0 of ")
    typed(quilt, "Size as cut", "4")
    expect(count).to_have_text(f"2 of {of} rows sewn")


def test_the_seam_test_tells_what_the_seam_does_to_this_quilt(quilt: Page):
    quilt.get_by_text("Is my seam right?").click()
    part = quilt.locator("sewing-list details", has_text="Is my seam right?")
    # Three of 3½ in finished and two seam allowances.
    expect(part).to_contain_text("11 in is right")
    field = quilt.get_by_label("They measure")
    field.fill("11 1/4")
    expect(part).to_contain_text("sew your seams ¹⁄₁₆ in wider")
    assert field.input_value() == "11 1/4"
    field.fill("13")
    expect(quilt.locator("#field-seam_test-measured-error")).to_contain_text("11 in is right")
    expect(quilt.locator(".go")).to_contain_text("pieces")
    field.fill("")
    expect(part.locator("[role=status]")).to_have_count(0)


def test_what_goes_round_the_top_follows_what_is_measured(quilt: Page):
    expect(quilt.locator("piece-list")).to_contain_text("measure the sewn top through its middle")
    quilt.locator("summary", has_text="Border: 3").click()
    typed(quilt, "Width, measured", "44 1/4")
    typed(quilt, "Height, measured", "56")
    expect(quilt.locator("piece-list")).to_contain_text("The sewn top is 44¼ in × 56 in")
    # Sides as long as the top, ends over both sides: 44¼ and twice 3 in, each 3½ in wide as cut.
    expect(quilt.locator("piece-list")).to_contain_text("3½ in × 56 in")
    expect(quilt.locator("piece-list")).to_contain_text("3½ in × 50¼ in")
    expect(quilt.locator(".quilt-figure")).to_contain_text("49¾ × 61½ in")


@pytest.mark.long
def test_a_border_may_ask_for_one_grain(quilt: Page):
    quilt.locator("summary", has_text="Border: 3").click()
    quilt.get_by_label("Grain of its strips").select_option("lengthwise")
    settled(quilt)
    sides = quilt.locator("piece-list .pieces li", has_text="Border, sides")
    expect(sides).to_contain_text("All strips lengthwise, along the selvage.")
    quilt.get_by_label("Grain of its strips").select_option("any")
    settled(quilt)
    expect(sides).not_to_contain_text("lengthwise")


def ways(page: Page) -> list[str]:
    """The ways to place the fabrics that are offered, the one that is taken first."""
    chips = page.get_by_role("group", name="How the fabrics are placed").get_by_role("button")
    taken = [chip.get_attribute("aria-pressed") == "true" for chip in chips.all()]
    names = chips.all_inner_texts()
    assert taken.count(True) == 1
    return [names[taken.index(True)], *(name for name, is_taken in zip(names, taken, strict=True) if not is_taken)]


@pytest.mark.long
def test_each_setting_starts_with_a_placing_that_shows_it_until_one_is_chosen(quilt: Page):
    quilt.get_by_role("button", name="Tumbling blocks").click()
    settled(quilt)
    assert ways(quilt)[0] == "Light, medium, dark" and "Rings" not in ways(quilt)
    # Of the first colors the second is the lightest, the first the darkest.
    roles = ["Fabric 1: Dark", "Fabric 2: Light", "Fabric 3: Medium"]
    assert quilt.locator(".fabric-name").all_inner_texts() == roles
    quilt.get_by_role("button", name="Six-pointed stars").click()
    settled(quilt)
    assert ways(quilt)[0] == "Star by star"
    for label in ("Background and edge pieces", "Diamonds between the stars"):
        assert quilt.get_by_label(label).input_value() == "f2"
    quilt.get_by_role("button", name="Diamonds in a grid").click()
    settled(quilt)
    assert ways(quilt)[0] == "Rings" and quilt.get_by_label("Background and edge pieces").input_value() == ""
    found = kept(quilt, "quilt")["state"]
    assert [fabric["used"] for fabric in found["fabrics"]] == [True, True, True]
    quilt.get_by_role("button", name="One fabric").click()
    quilt.get_by_role("button", name="Zigzag rows").click()
    settled(quilt)
    assert ways(quilt)[0] == "One fabric"


def aged(page: Page) -> None:
    """Makes what is kept as an older page kept it: names that are gone, no word of whether the placing was chosen."""
    found, answers = kept(page, "quilt"), kept(page, "quilt-answers")
    state = found["state"]
    state["target"]["size"], state["borders"][0]["corners"] = "crib", "mitred"
    state["colouring"] = {"way": "rows", "seed": 1, "rest": "", "joining": "", "changes": {}}
    state.pop("top", None)
    keep(page, "quilt", {"state": state, "mine": None})
    sewing = {"tip_offset": 1, "tip_trim": 1, "assembly": "straight_rows", "press": "rows_by_turns", "rows": []}
    older = {"could_be": [], "cautions": ["edge_on_bias"], "sewing": {**sewing, "bias": {}, "outer_edge": "bias"}}
    sizes = [*answers["sizes"], {**answers["sizes"][0], "code": "crib_interior"}]
    keep(page, "quilt-answers", {"quilt": {**answers["quilt"], **older}, "buying": answers["buying"], "sizes": sizes})


def test_what_an_older_page_kept_still_opens(quilt: Page):
    typed(quilt, "Size as cut", "5")
    go(quilt, "tools")
    quilt.wait_for_timeout(100)
    aged(quilt)
    go(quilt, "quilt")
    quilt.reload()
    all_parts(quilt)
    until(quilt, SEEN)
    assert quilt.get_by_label("Size as cut", exact=True).first.input_value() == "5"
    assert quilt.get_by_label("Usual sizes").input_value() == "baby"
    assert ways(quilt)[0] == "By rows"
    quilt.locator("summary", has_text="Border: 3").click()
    assert quilt.get_by_label("Corners").input_value() == "mitered"
    quilt.get_by_role("button", name="Six-pointed stars").click()
    settled(quilt)
    assert ways(quilt)[0] == "Star by star", "rows mean nothing among stars"


def test_what_is_wrong_is_said_at_its_field_and_stays_as_typed(quilt: Page):
    quilt.get_by_label("Width, finished", exact=True).first.fill("4x")
    field = quilt.get_by_label("Width, finished", exact=True).first
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(quilt.locator("#field-target-width-error")).to_contain_text("unit “x” is not known")
    assert field.input_value() == "4x"
    field.fill("2")
    expect(quilt.locator("#field-target-width-error")).to_contain_text("in")
    quilt.get_by_label("Width, finished", exact=True).first.fill("50")
    until(quilt, SEEN)
    expect(quilt.locator("#field-target-width-error")).to_have_count(0)


@pytest.mark.long
def test_a_setting_takes_the_angle_and_the_edge_that_it_is_possible_with(quilt: Page):
    """Only those are offered then; another angle that is typed is refused, with the way back to the right one."""
    quilt.get_by_role("button", name="Trimmed").first.click()
    quilt.get_by_role("button", name="Eight-pointed stars").click()
    until(quilt, SEEN)
    expect(quilt.get_by_role("button", name="45°", exact=True)).to_have_attribute("aria-pressed", "true")
    assert quilt.get_by_role("button", name="60°", exact=True).count() == 0
    assert quilt.locator("quilt-form").get_by_role("button", name="Trimmed").count() == 0
    assert total(quilt.locator(".pieces li").all_inner_texts(), "Background squares") > 0
    quilt.locator("[data-key=fold-seam]").click()
    quilt.get_by_label("Degrees, 15 to 90").fill("60")
    quilt.get_by_role("button", name="Use 45°").click()
    until(quilt, SEEN)
    assert quilt.get_by_label("Degrees, 15 to 90").input_value() == "45"
    quilt.get_by_role("button", name="Diamonds in a grid").click()
    expect(quilt.get_by_role("button", name="60°", exact=True)).to_have_count(1)


@pytest.mark.long
def test_a_bed_is_covered_with_the_drop_that_is_wanted(quilt: Page):
    # 38 × 75 in with 10 in at both sides and at the foot: 58 × 85.
    quilt.get_by_label("Usual sizes").select_option("twin")
    settled(quilt)
    typed(quilt, "Hangs down at the sides and the foot", "10")
    until(quilt, "document.querySelector('#field-target-width').value === '58'")
    assert quilt.locator("#field-target-height").input_value() == "85"


def test_the_quilt_is_there_again_before_python_is(quilt: Page):
    typed(quilt, "Size as cut", "5")
    figure = quilt.locator(".quilt-figure").inner_text()
    quilt.add_init_script("if (sessionStorage.stuck) Worker.prototype.postMessage = () => {};")
    quilt.evaluate("sessionStorage.stuck = 'yes'")
    quilt.reload()
    quilt.wait_for_selector(".quilt-figure")
    found = (
        quilt.locator(".quilt-figure").inner_text(),
        quilt.get_by_label("Size as cut", exact=True).first.input_value(),
    )
    seen = near(quilt.evaluate(PIXEL, [0.5, 0.03]), "#2f4a86")
    quilt.evaluate("sessionStorage.clear()")
    assert found == (figure, "5") and seen


@pytest.mark.long
def test_kits_for_a_class_say_how_to_cut_the_bolt(quilt: Page):
    quilt.get_by_label("Make kits for a class").check()
    settled(quilt)
    for label, text in (("People", "20"), ("Kits for yourself", "1"), ("A bolt is this long", "15")):
        typed(quilt, label, text)
    first = quilt.locator("kit-list .card").first
    assert first.locator(".kit-way").count() == 3
    expect(first).to_contain_text("21 kits (20 people, 1 spare)")


def test_the_printed_sheet_has_the_quilt_the_pieces_and_the_list(quilt: Page):
    quilt.emulate_media(media="print")
    assert not quilt.locator("quilt-form").is_visible() and not quilt.locator(".go").is_visible()
    for part in ("quilt-drawing canvas", "piece-list .pieces", "buying-list .amount"):
        assert quilt.locator(part).first.is_visible()


@pytest.mark.every(4)
@pytest.mark.parametrize(("width", "theme"), [(390, "light"), (320, "dark")])
def test_the_screen_is_accessible_and_fits(quilt: Page, width: int, theme: str):
    quilt.set_viewport_size({"width": width, "height": 640})
    quilt.emulate_media(color_scheme=theme)
    quilt.get_by_role("button", name="Change Fabric 1").click()
    for summary in quilt.locator("summary:visible").all():
        summary.click()
    settled(quilt)
    assert complaints(quilt) == []
    assert quilt.evaluate("document.documentElement.scrollWidth") <= width
