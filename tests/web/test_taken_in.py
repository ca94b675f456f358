"""The other ways in and out: shared to the page, dropped on it, a camera's stream of codes; older and newer files; and the
reminder to keep a copy."""

import json
import random
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Page, Playwright, expect

from code_pictures import picture_of, tilted
from host import Host
from passed import example, ran
from phone import SCREEN, TEST_FLAGS, Phone, Watched, until
from quilter import said, seat
from steps.testing import find_shell
from test_group import REQUEST

DROP = """([name, type, content]) => {
  const data = new DataTransfer();
  data.items.add(new File([content], name, { type }));
  for (const event of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(event, { dataTransfer: data, bubbles: true, cancelable: true }));
}"""


def file_of(dist: Path, form: int = 3, **more) -> str:
    """A plan as a file."""
    return json.dumps({"matside": form, "sittings": [], "plan": {**example(dist), "title": "Dropped"}, **more})


def test_a_file_that_is_dropped_anywhere_is_taken_in(page: Page, site: Host, dist: Path):
    page.goto(site.url)
    until(page, "document.documentElement.dataset.start === 'shown'")
    page.evaluate(DROP, ["plan.json", "application/json", file_of(dist)])
    expect(page.locator("plan-told .lead")).to_have_text("Dropped")


def test_a_newer_file_is_refused_with_a_reason_and_an_older_one_opens(page: Page, site: Host, dist: Path):
    page.goto(f"{site.url}#plan")
    chooser = page.get_by_label(said("passing.file"), exact=True)
    for form, told in ((99, said("passing.refused.newer")), (1, said("passing.refused.no_plan"))):
        text = file_of(dist, form) if form > 3 else json.dumps({"matside": form, "sittings": []})
        chooser.set_input_files({"name": "a.json", "mimeType": "application/json", "buffer": text.encode()})
        expect(page.get_by_role("alert")).to_have_text(told)
    chooser.set_input_files({"name": "a.json", "mimeType": "application/json", "buffer": file_of(dist).encode()})
    expect(page.locator("plan-told .lead")).to_have_text("Dropped")


def test_a_copy_has_the_plan_and_whoever_takes_it_back_looks_at_it_first(page: Page, site: Host, dist: Path):
    page.goto(f"{site.url}#tools")
    page.locator("#import").set_input_files(
        {"name": "matside.json", "mimeType": "application/json", "buffer": file_of(dist).encode()}
    )
    page.get_by_role("link", name=said("copies.taken.look")).tap()
    expect(page.locator("plan-told .lead")).to_have_text("Dropped")
    page.get_by_role("button", name=said("passing.take_over")).tap()
    expect(page.locator(".quilt-figure")).to_contain_text("87 pieces")
    page.goto(f"{site.url}#tools")
    with page.expect_download() as download:
        page.get_by_role("button", name=said("copies.save"), exact=True).tap()
    copy = json.loads(download.value.path().read_text("utf-8"))
    assert copy["matside"] == 3 and copy["plan"]["title"] == "Dropped"
    assert copy["plan"]["quilt"]["fabrics"] == example(dist)["quilt"]["fabrics"]


@pytest.mark.long
@pytest.mark.parametrize("what", ["file", "text"])
def test_what_another_app_shares_with_the_installed_page_is_taken_in(
    phone: Phone, own_site: Host, dist: Path, what: str
):
    """By a POST that never leaves the phone: the service worker answers it (W3C, Web Share Target)."""
    page = phone.open(own_site.url)
    expect(page.get_by_text(said("page.standing.ready"))).to_be_visible(timeout=40_000)
    own_site.stop()
    value = (
        file_of(dist) if what == "file" else ran(dist, ("packed", {"plan": {**example(dist), "title": "Dropped"}}))[0]
    )
    page.evaluate(
        """([what, value]) => {
      const form = Object.assign(document.createElement("form"), { method: "post", action: "share", enctype: "multipart/form-data" });
      const field = document.createElement("input");
      if (what === "file") {
        const data = new DataTransfer();
        data.items.add(new File([value], "plan.json", { type: "application/json" }));
        Object.assign(field, { type: "file", name: "file", files: data.files });
      } else Object.assign(field, { name: "text", value });
      form.append(field);
      document.body.append(form);
      return fetch("share", { method: "POST", body: new FormData(form) });
    }""",
        [what, value],
    )
    page.goto(f"{own_site.url}#plan/shared")
    expect(page.locator("plan-told .lead")).to_have_text("Dropped")


def test_after_real_work_a_copy_is_asked_for_once(page: Page, site: Host, dist: Path):
    cuts = [{"event": "cut"}] * 110
    seat(page, site.url, next(dist.glob("app-*")).name, {**REQUEST, "cloth": {"kind": "fat_quarter", "count": 3}}, cuts)
    page.goto(f"{site.url}#tools")
    expect(page.locator("copy-keeper")).to_contain_text("since the last copy")
    with page.expect_download():
        page.get_by_role("button", name=said("copies.save"), exact=True).tap()
    expect(page.locator("copy-keeper")).not_to_contain_text("since the last copy")


def filmed(dist: Path, folder: Path, text: str, rate: int = 8, seconds: int = 6) -> Path:
    """A film of the stream of codes as a camera sees it: tilted, each code for some frames, every fifth one missed."""
    (asked,) = ran(dist, ("frames", [text, list(range(rate * seconds))]))
    codes = ran(dist, *[("codeOf", said_) for said_ in asked["frames"]])
    draw = random.Random(1)
    path = folder / "codes.y4m"
    with path.open("wb") as film:
        film.write(b"YUV4MPEG2 W720 H720 F8:1 Ip A1:1 C420jpeg\n")
        for code in codes:
            seen = tilted(picture_of(code, 5), draw.uniform(0, 14), draw.uniform(-4, 4))
            room = np.full((720, 720), 90, np.uint8)
            side = min(720, seen.shape[0])
            room[:side, :side] = 60 if draw.random() < 0.2 else seen[:side, :side]
            film.write(b"FRAME\n" + room.tobytes() + bytes([128]) * (360 * 360 * 2))
    return path


@pytest.mark.every(2)
@pytest.mark.parametrize("large", [True, False])
def test_a_camera_reads_a_plan_and_a_stream_of_codes(
    playwright: Playwright, site: Host, dist: Path, tmp_path: Path, large: bool
):
    """A plan of several codes, some of which the hand misses: none of them is needed. The film stands for the camera."""
    draw = random.Random(3)
    names = " ".join("".join(draw.choices("abcdefghijklmnopqrstuvwxyz", k=7)) for _ in range(120 if large else 1))
    whole = {**example(dist), "title": "Filmed"}
    whole["quilt"] = {**whole["quilt"], "class": {**whole["quilt"]["class"], "names": names}}
    (text,) = ran(dist, ("packed", {"plan": whole}))
    film = filmed(dist, tmp_path, text)
    camera = [
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    ]
    browser = playwright.chromium.launch(executable_path=find_shell(), args=[*TEST_FLAGS, *camera])
    context = browser.new_context(**{**SCREEN, "permissions": ["camera", "screen-wake-lock"]})
    watched = Watched(context)
    page = context.new_page()
    page.goto(f"{site.url}#plan")
    page.get_by_role("button", name=said("passing.camera")).tap()
    expect(page.locator("plan-told .lead")).to_have_text("Filmed", timeout=30_000)
    assert names[:40] in page.locator("plan-told").first.inner_text()
    assert watched.unexpected() == []
    browser.close()
