"""From the leader's plan through the laptop in the hall to a phone over plain HTTP, and the count back by its code."""

import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from clocks import LEAPING
from engines.outside import PLAIN_NAME
from host import Host
from phone import Phone
from quilter import said, tap, totals
from steps import hall
from test_basket import begin, plan
from test_passing_on import file_of, gray, passed_on

COUNTED = 2


@pytest.fixture
def in_hall(dist: Path, tmp_path: Path) -> Iterator:
    """Opens the hall with a plan's file; gives the address of another machine's that phones there go by."""
    opened = []

    def serve(content: bytes) -> str:
        (tmp_path / "plan.json").write_bytes(content)
        server = hall.opened(hall.Hall(0, plan=tmp_path / "plan.json", address=PLAIN_NAME), dist)
        opened.append(server)
        threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()
        return f"http://{PLAIN_NAME}:{server.server_port}/"

    yield serve
    for server in opened:
        server.shutdown()
        server.server_close()


def saved(page: Page) -> bytes:
    """The plan as the leader saves it."""
    with page.expect_download() as download:
        page.get_by_role("button", name=said("passing.save")).tap()
    return download.value.path().read_bytes()


def test_a_plan_goes_through_the_hall_and_the_count_comes_back(page: Page, site: Host, phone: Phone, in_hall):
    page.goto(f"{site.url}#quilt/example")
    page.locator(".quilt-figure b").wait_for()
    plan(page)
    passed_on(page, site.url, "quilt")
    address = in_hall(saved(page))

    guest = phone.open(f"{address}#plan/hall")
    phone.watched.expect("Cross-Origin-Opener-Policy")  # which Chromium ignores over plain HTTP, and says so
    expect(guest.locator("plan-told .lead")).to_have_text("Tuesday evening", timeout=20_000)
    assert (
        guest.evaluate("[isSecureContext, 'serviceWorker' in navigator, Boolean(navigator.mediaDevices)]")
        == [False] * 3
    )
    expect(guest.locator("notice-bar")).to_contain_text(said("notice.insecure.full"))
    guest.get_by_role("button", name=said("notice.read")).tap()
    guest.add_init_script(LEAPING)
    guest.reload()  # what came is kept, though its address is gone
    guest.get_by_role("button", name=said("passing.take_over")).tap()
    expect(guest.locator(".quilt-figure")).to_contain_text("87 pieces", timeout=20_000)
    guest.goto(f"{address}#basket")
    guest.locator("plan-view .layout").first.wait_for()
    begin(guest)
    guest.locator(".mat-sentence").wait_for()
    while totals(guest)[0] < COUNTED:
        tap(guest)
    guest.goto(f"{address}#group")
    guest.get_by_label(said("group.my_name")).fill("Ada")
    guest.get_by_role("button", name=said("group.code")).tap()
    code = gray(guest.locator(".code-frame").screenshot())

    page.goto(f"{site.url}#plan")
    page.get_by_label(said("passing.picture")).set_input_files(file_of(code))
    expect(page.locator("group-passing")).to_contain_text(said("group.taken", who="Ada", n=COUNTED))
    expect(page.locator("group-list")).to_contain_text("Ada")
    expect(page.locator(".group-figure b")).to_have_text(f"{COUNTED} pieces cut")
    # The same code once more, in other light: nothing is counted twice.
    page.goto(f"{site.url}#plan")
    page.get_by_label(said("passing.picture")).set_input_files(file_of((code * 0.5 + 40).astype(np.uint8)))
    expect(page.locator(".group-figure b")).to_have_text(f"{COUNTED} pieces cut")
