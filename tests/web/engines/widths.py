"""Screens of every width: nothing is scrolled sideways, nothing cut off, nothing out of
reach. Told by geometry alone.
"""

import time
from pathlib import Path

import pytest

from host import Host
from quilter import said

from .acts import ALL_IS_CUT, ask_for_a_strip, begin, cut, mat, number
from .driver import PHONE, Driver

# px: the narrowest phone that text is enlarged to (WCAG 2.2, 1.4.10), usual phones, the narrowest
# WebKitGTK, tablets, desks.
WIDTHS = {320: 640, 360: 740, 390: 844, 447: 900, 600: 960, 768: 1024, 1024: 768, 1280: 800}
LATE = 2  # seconds
SOME_WIDTHS = (320, 1024)
SCREENS = {"count": "page.count_title", "quilt": "quilt_screen.title", "basket": "basket_screen.title", "tools": "tools.title",
           "rulers": "rulers_screen.title", "drift": "drift_screen.title", "group": "group.title",
           "pass": "passing.title", "plan": "passing.take_title", "paper": "paper.title"}  # fmt: skip
WORKED_OUT = {"quilt": "buying-list li", "basket": "plan-view .layout", "rulers": "main scene-view text"}
UNFOLDED = (
    "() => [...document.querySelectorAll('main details:not([open])')].map((fold) => { fold.open = true; }).length === 0"
)
LAID_OUT = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))"
WIDE = "(width) => matchMedia(`(width: ${width}px)`).matches"
SPILT = (Path(__file__).parent / "spilt.js").read_text("utf-8")


def spilt(engine: Driver, widths: tuple[int, ...]) -> dict[int, list[str]]:
    """What is wrong with the screen at hand and stays so, by its width."""
    found = {}
    for width in widths:
        engine.resize(width, WIDTHS[width])
        engine.until(WIDE, width)
        found[width] = staying(engine)
    return {width: wrong for width, wrong in found.items() if wrong}


def staying(engine: Driver) -> list[str]:
    """What is wrong once all is laid out: a drawing is fitted a little after the screen is."""
    end = time.monotonic() + LATE
    while True:
        engine.until(LAID_OUT)
        if not (wrong := engine.evaluate(SPILT)) or time.monotonic() > end:
            return wrong


def go(engine: Driver, screen: str) -> None:
    """Goes to a screen."""
    engine.evaluate("(screen) => { location.hash = screen; }", screen)
    engine.until("(title) => document.querySelector('main h1')?.textContent === title", said(SCREENS[screen]))


def unfold(engine: Driver) -> None:
    """Opens all that is folded away."""
    engine.until(UNFOLDED)


def screens(engine: Driver, widths: tuple[int, ...]) -> dict[str, dict]:
    """What is wrong with the screens of the page at hand, by their names: the example lies on
    them, and everything is unfolded.
    """
    wrong = {}
    for name in SCREENS:
        go(engine, name)
        if name == "quilt":
            engine.tap("[data-key=example]", said("quilt_screen.example_show"))
        if name == "basket":
            engine.tap("[data-key=plan]")
        if name in WORKED_OUT:
            engine.until("(selector) => document.querySelector(selector)?.checkVisibility()", WORKED_OUT[name])
        unfold(engine)
        wrong[name] = spilt(engine, widths)
    return {name: each for name, each in wrong.items() if each}


def steps(engine: Driver, widths: tuple[int, ...], most: int) -> dict[str, dict]:
    """What is wrong with the first steps of a strip's guide, begun from the number screen, by what they say."""
    go(engine, "count")
    ask_for_a_strip(engine)
    begin(engine)
    wrong = {}
    for _ in range(most):
        wrong[mat(engine)] = spilt(engine, widths)
        if engine.evaluate(ALL_IS_CUT):
            break
        cut(engine)
    return {step: each for step, each in wrong.items() if each}


class Widths:
    """A class of tests for each engine is made of this one, as of the journeys."""

    @pytest.mark.long
    def test_nothing_is_cut_off_on_a_narrow_screen_and_on_a_wide_one(self, engine: Driver, empty_site: Host):
        self.hold(engine, empty_site, SOME_WIDTHS, 3)

    @pytest.mark.long
    def test_nothing_is_cut_off_on_any_screen_or_at_any_step(self, engine: Driver, empty_site: Host):
        self.hold(engine, empty_site, tuple(WIDTHS), 60)

    def hold(self, engine: Driver, host: Host, widths: tuple[int, ...], most: int) -> None:
        engine.expect(
            "ResizeObserver loop"
        )  # WebKit tells that what changes its own size is measured with the next frame
        widths = tuple(width for width in widths if width >= engine.narrowest)
        try:
            engine.open(host.url)
            number(engine)
            assert screens(engine, widths) == {}
            assert steps(engine, widths, most) == {}
        finally:
            engine.resize(*PHONE)
