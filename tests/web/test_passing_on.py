"""A plan goes from one phone to another by its code alone, and what is there before stays.

Codes are read back by another library than the page's (PyPI's zxing-cpp), as a camera would see the phone's screen."""

import json
import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from amounts import LONG
from clocks import LEAPING
from code_pictures import blurred, dimmed, lit_from_one_side, moire, tilted
from host import Host
from passed import ran
from phone import Phone, Watched, on_its_way
from quilter import said, totals
from shelf import Shelf
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


class Sender(NamedTuple):
    """A phone on which a plan is passed on, and the picture of its code on the screen."""

    page: Page
    code: np.ndarray


@pytest.fixture(scope="module")
def sender(shelf: Shelf, site: Host) -> Iterator[Sender]:
    """One phone for the tests of this file; it passes its plan on once."""
    with shelf.lent() as context:
        watched = Watched(context)
        page = on_its_way(context.new_page(), site.origin)
        yield Sender(page, gray(passed_on(page, site.url)))
        assert watched.unexpected() == []


@pytest.fixture
def finder(sender: Sender, site: Host) -> Page:
    """That phone where a plan is taken in, with nothing said yet."""
    sender.page.goto(f"{site.url}#plan")
    sender.page.reload()
    expect(sender.page.get_by_label(said("passing.paste"))).to_be_visible()
    expect(sender.page.get_by_role("alert")).to_have_count(0)
    return sender.page


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


def test_the_code_on_the_screen_is_read_tilted_dim_blurred_and_partly_lit(sender: Sender, dist: Path):
    code = sender.code
    (whole,) = zxingcpp.read_barcodes(code)
    assert (whole.format, whole.ec_level) == (zxingcpp.BarcodeFormat.QRCode, "M")
    assert ran(dist, ("unpacked", whole.text))[0]["plan"]["title"] == TITLE
    read = {how: [one.text for one in zxingcpp.read_barcodes(seen(code))] for how, seen in SEEN.items()}
    assert read == {how: [whole.text] for how in SEEN}


class Planned(NamedTuple):
    """The picture of a code that holds how cloths are cut, and how each is called on the phone that shows it."""

    code: np.ndarray
    cloths: list[str]


@pytest.fixture(scope="module")
def planned(sender: Sender, site: Host) -> Planned:
    """What the same phone passes on once its plan is laid out."""
    plan(sender.page)
    cloths = sender.page.locator("plan-view .layout h3").all_inner_texts()
    return Planned(gray(passed_on(sender.page, site.url, "quilt")), cloths)


def taken_in(other: Page, planned: Planned) -> None:
    """Takes over, on another phone, what a picture of the code holds, tilted and dim; both cut the same."""
    picture = file_of(dimmed(tilted(planned.code, 20, 5), 0.5))
    other.get_by_label(said("passing.picture")).set_input_files(picture)
    expect(other.locator("plan-told .lead")).to_have_text(TITLE)
    other.get_by_role("button", name=said("passing.take_over")).tap()
    expect(other.locator(".quilt-figure")).to_contain_text("87 pieces")
    other.evaluate("location.hash = 'basket'")
    other.locator("plan-view .layout").first.wait_for()
    assert other.locator("plan-view .layout h3").all_inner_texts() == planned.cloths


def test_a_plan_made_on_one_phone_is_cut_on_another_without_a_network(planned: Planned, phone: Phone, own_site: Host):
    """By its code alone: the other phone has a picture of the one screen, and what it kept. To the second cloth in every
    run, to the last cut by `--long`.
    """
    other = phone.open(own_site.url)
    expect(other.get_by_text(said("page.standing.ready"))).to_be_visible(timeout=40_000)
    own_site.stop()
    other.add_init_script(LEAPING)
    other.reload()
    other.get_by_role("link", name=re.compile(said("welcome.given"))).tap()
    taken_in(other, planned)
    begin(other)
    other.evaluate(CUT_ON, "" if LONG else "Take the next cloth")
    made, of = totals(other)
    assert (made, of) == (87, 87) if LONG else made > 5 and of == 87


def test_what_came_is_shown_first_and_what_was_here_is_kept(sender: Sender, site: Host):
    page = sender.page
    page.goto(f"{site.url}#pass")
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
def test_what_cannot_be_taken_is_said_at_its_field_and_changes_nothing(finder: Page, pasted: str, code: str):
    field = finder.get_by_label(said("passing.paste"))
    field.fill(pasted)
    finder.get_by_role("button", name=said("passing.take_pasted")).tap()
    told = said(f"passing.refused.{code}")
    expect(finder.get_by_role("alert")).to_have_text(told)
    assert field.get_attribute("aria-invalid") == "true"
    assert field.input_value() == pasted
    assert finder.get_by_role("button", name=said("passing.take_over")).count() == 0


def test_a_picture_without_a_code_and_a_file_that_is_none_are_said_at_their_fields(finder: Page):
    finder.get_by_label(said("passing.picture")).set_input_files(file_of(np.full((300, 300), 200, np.uint8)))
    expect(finder.get_by_role("alert")).to_have_text(said("passing.refused.no_code"))
    finder.get_by_label(said("passing.picture")).set_input_files(
        {"name": "a.png", "mimeType": "image/png", "buffer": b"no"}
    )
    expect(finder.get_by_role("alert")).to_have_text(said("passing.refused.no_picture"))
    copy = json.dumps({"matside": 2, "sittings": []}).encode()
    finder.get_by_label(said("passing.file"), exact=True).set_input_files(
        {"name": "a.json", "mimeType": "application/json", "buffer": copy}
    )
    expect(finder.get_by_role("alert")).to_have_text(said("passing.refused.no_plan"))
