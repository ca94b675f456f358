"""The first five minutes of somebody who has heard of it from a friend, and goes by what things are called."""

import re

from playwright.sync_api import Page, expect

from host import Host
from quilter import MAT, answered, said, totals

BUMP = 550  # ms: cuts nearer to each other are one cut and a bump


class Newcomer:
    """Whoever sees the page for the first time; every tap is counted."""

    def __init__(self, page: Page):
        self.page = page
        self.taps = 0

    def tap(self, name: str | re.Pattern) -> None:
        """Taps what is called so."""
        self.page.get_by_role("button", name=name, exact=isinstance(name, str)).first.tap()
        self.taps += 1


def test_three_fat_quarters_are_a_number_in_two_taps(page: Page, site: Host):
    page.goto(site.url)
    newcomer = Newcomer(page)
    for _ in range(2):
        newcomer.tap(re.compile(said("page.cloths_more")))
    answered(page)
    # Three times five strips of three: common practice, no published source.
    expect(page.get_by_role("status").filter(has_text="45")).to_be_visible()
    assert newcomer.taps <= 5


def test_from_the_first_screen_to_the_first_counted_cut_of_a_ready_cut_strip(page: Page, site: Host):
    page.goto(site.url)
    newcomer = Newcomer(page)
    newcomer.tap(said("cloth.full_width_strip.name"))
    answered(page)
    newcomer.tap(said("page.start"))
    page.locator(".mat-sentence").wait_for()
    before_the_mat = newcomer.taps
    acts = []
    while not totals(page)[0]:
        acts.append(page.locator(".mat-sentence").inner_text())
        before = page.evaluate(MAT)
        page.wait_for_timeout(BUMP)
        newcomer.tap(re.compile(re.escape(acts[-1])))  # the zone is called by what is to be done
        page.wait_for_function(f"(before) => {MAT} !== before", arg=before)
    assert newcomer.taps <= 8
    assert newcomer.taps - before_the_mat == len(acts) == len(set(acts))  # each tap is one act, and no act comes twice
