"""A plan goes from one phone to another by its code alone, and what is there before stays.

Codes are read back by another library than the page's (PyPI's zxing-cpp), as a camera would see the phone's screen."""

import json
import re
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from clocks import LEAPING
from code_pictures import blurred, dimmed, lit_from_one_side, moire, tilted
from host import Host
from passed import ran
from phone import Phone
from quilter import said
from test_basket import CUT_ON, begin, plan

TITLE = "Tuesday evening"


def passed_on(page: Page, url: str, before: str = "quilt/example") -> bytes:
    """Shows the code of the example quilt, with a title; gives a picture of it as it is on the screen."""
    page.goto(f"{url}#{before}")
    page.locator(".quilt-figure b").wait_for()
    page.goto(f"{url}#pass")
    page.get_by_label(said("passing.field.title")).fill(TITLE)
    expect(page.locator("plan-told .lead")).to_have_text(TITLE)
    return page.locator(".code-frame").screenshot()


def gray(picture: bytes) -> np.ndarray:
    """A picture file as an array of gray."""
    return np.asarray(Image.open(BytesIO(picture)).convert("L"))


def file_of(picture: np.ndarray) -> dict:
    """The same as a file that a field takes."""
    out = BytesIO()
    Image.fromarray(picture).save(out, "PNG")
    return {"name": "code.png", "mimeType": "image/png", "buffer": out.getvalue()}


#: As a phone sees another one's screen; each as far as it is promised to be read.
SEEN = {
    "straight": lambda code: code,
    "tilted by 35°": lambda code: tilted(code, 35, 8),
    "dim": lambda code: dimmed(tilted(code, 10, 3), 0.25, noise=4),
    "blurred": lambda code: blurred(code, 3),
    "partly lit": lambda code: lit_from_one_side(tilted(code, 15, -5), 0.25),
    "screen on screen": lambda code: moire(tilted(code, 12, 4), 0.5),
    "all at once": lambda code: blurred(dimmed(lit_from_one_side(tilted(code, 20, 6), 0.5), 0.5, noise=3), 1.5),
}


def test_the_code_on_the_screen_is_read_tilted_dim_blurred_and_partly_lit(page: Page, site: Host, dist: Path):
    code = gray(passed_on(page, site.url))
    (whole,) = zxingcpp.read_barcodes(code)
    assert (whole.format, whole.ec_level) == (zxingcpp.BarcodeFormat.QRCode, "M")
    assert ran(dist, ("unpacked", whole.text))[0]["plan"]["title"] == TITLE
    read = {how: [one.text for one in zxingcpp.read_barcodes(seen(code))] for how, seen in SEEN.items()}
    assert read == {how: [whole.text] for how in SEEN}


def test_a_plan_made_on_one_phone_is_cut_on_another_without_a_network(
    page: Page, site: Host, phone: Phone, own_site: Host
):
    """By its code alone: a picture of the one screen, tilted and dim, is all that the other phone gets. Both cut the same."""
    page.goto(f"{site.url}#quilt/example")
    page.locator(".quilt-figure b").wait_for()
    plan(page)
    planned = page.locator("plan-view .layout h3").all_inner_texts()
    code = gray(passed_on(page, site.url, "quilt"))
    other = phone.open(own_site.url)
    expect(other.get_by_text(said("page.standing.ready"))).to_be_visible(timeout=40_000)
    own_site.stop()
    other.add_init_script(LEAPING)
    other.reload()
    other.get_by_role("link", name=re.compile(said("welcome.given"))).tap()
    other.get_by_label(said("passing.picture")).set_input_files(file_of(dimmed(tilted(code, 20, 5), 0.5)))
    expect(other.locator("plan-told .lead")).to_have_text(TITLE)
    other.get_by_role("button", name=said("passing.take_over")).tap()
    expect(other.locator(".quilt-figure")).to_contain_text("87 pieces")
    other.goto(f"{own_site.url}#basket")
    other.locator("plan-view .layout").first.wait_for()
    assert other.locator("plan-view .layout h3").all_inner_texts() == planned
    begin(other)
    other.evaluate(CUT_ON, "")
    assert other.locator(".mat-total").inner_text() == "87 of 87 in all"


def test_what_came_is_shown_first_and_what_was_here_is_kept(page: Page, site: Host):
    passed_on(page, site.url)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=site.url.rstrip("/"))
    page.get_by_role("button", name=said("passing.copy_text")).tap()
    expect(page.get_by_text(said("passing.told.copied"))).to_be_visible()
    text = page.evaluate("navigator.clipboard.readText()")
    page.goto(f"{site.url}#quilt")
    page.locator("[data-key=example]").first.tap()  # away with the example: the own quilt is back
    expect(page.locator(".go.stale")).to_have_count(0)
    expect(page.locator(".quilt-figure")).not_to_contain_text("87")
    own = page.locator(".quilt-figure b").inner_text()
    page.goto(f"{site.url}#plan/{text}")
    expect(page.locator("plan-told .lead").first).to_have_text(TITLE)
    assert page.evaluate("location.hash") == "#plan"  # nothing of it stays in the address
    page.goto(f"{site.url}#quilt")
    expect(page.locator(".quilt-figure b")).to_have_text(own)
    page.reload()
    page.goto(f"{site.url}#plan")
    page.get_by_role("button", name=said("passing.take_over")).tap()
    expect(page.locator(".quilt-figure")).to_contain_text("87 pieces")
    page.goto(f"{site.url}#plan")
    page.get_by_role("button", name=said("passing.use"), exact=True).tap()
    expect(page.locator(".quilt-figure")).not_to_contain_text("87 pieces")
    page.goto(f"{site.url}#plan")
    expect(page.get_by_text(TITLE)).to_be_visible()  # and now that one is kept beside


@pytest.mark.parametrize(
    ("pasted", "code"),
    [("hello", "foreign"), ("2AAAA", "newer"), ("1AAAAAAAAAAAAAA", "cut_short"), ('{"matside": 9}', "newer")],
)
def test_what_cannot_be_taken_is_said_at_its_field_and_changes_nothing(page: Page, site: Host, pasted: str, code: str):
    page.goto(f"{site.url}#plan")
    field = page.get_by_label(said("passing.paste"))
    field.fill(pasted)
    page.get_by_role("button", name=said("passing.take_pasted")).tap()
    told = said(f"passing.refused.{code}")
    expect(page.get_by_role("alert")).to_have_text(told)
    assert field.get_attribute("aria-invalid") == "true"
    assert field.input_value() == pasted
    assert page.get_by_role("button", name=said("passing.take_over")).count() == 0


def test_a_picture_without_a_code_and_a_file_that_is_none_are_said_at_their_fields(page: Page, site: Host):
    page.goto(f"{site.url}#plan")
    page.get_by_label(said("passing.picture")).set_input_files(file_of(np.full((300, 300), 200, np.uint8)))
    expect(page.get_by_role("alert")).to_have_text(said("passing.refused.no_code"))
    page.get_by_label(said("passing.picture")).set_input_files(
        {"name": "a.png", "mimeType": "image/png", "buffer": b"no"}
    )
    expect(page.get_by_role("alert")).to_have_text(said("passing.refused.no_picture"))
    copy = json.dumps({"matside": 2, "sittings": []}).encode()
    page.get_by_label(said("passing.file"), exact=True).set_input_files(
        {"name": "a.json", "mimeType": "application/json", "buffer": copy}
    )
    expect(page.get_by_role("alert")).to_have_text(said("passing.refused.no_plan"))
