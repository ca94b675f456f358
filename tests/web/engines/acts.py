"""What a quilter does on the built page, in any engine, by the words and fields that stand there."""

import re
import time

from quilter import CHANGED, CLOSED, MAT, said

from .driver import Driver

BUMP = 0.55  # seconds: cuts nearer to each other are one cut and a bump
STRIP = "full_width_strip"
SIZE = "8"  # inches: the strip of 42 in gives four such diamonds
PIECES = 4

SHOWN = "document.documentElement.dataset.start === 'shown'"  # until then it is the screen as it is built
ANSWER = f"() => {SHOWN} && document.querySelector('answer-view .go:not(.stale) .figure b')?.innerText"
SAYS = "([selector, text]) => document.querySelector(selector)?.textContent.includes(text)"
TAKEN = """([selector, text]) => [...document.querySelectorAll(selector)].some((chip) =>
  chip.getAttribute('aria-pressed') === 'true' && chip.innerText.trim() === text)"""
ALL_IS_CUT = "Boolean(document.querySelector('.mat-body.at-end'))"
AT_THE_MAT = "() => document.querySelector('.mat-sentence')?.innerText"


def number(engine: Driver, pieces: int | None = None) -> int:
    """How many pieces the answer says, as soon as it is one that the page stands by; with
    `pieces`, as soon as it says so many.
    """
    if pieces is None:
        return int(engine.until(ANSWER))
    engine.until(f"(pieces) => ({ANSWER})() === pieces", str(pieces))
    return pieces


def choose(engine: Driver, group: str, chip: str) -> None:
    """Taps a choice by the words that stand on it, and sees it taken."""
    chips = f'[role=group][aria-label="{group}"] .chip'
    uncover(engine, chips)
    engine.tap(chips, chip)
    engine.until(TAKEN, [chips, chip])


def uncover(engine: Driver, selector: str) -> None:
    """Opens the part of the first screen that something is in, where it is closed."""
    slot = engine.until(
        f"(selector) => {{ const place = document.querySelector(selector); return place && [({CLOSED})(place)]; }}",
        selector,
    )[0]
    if slot:
        engine.tap(f'[data-key="{slot}"]')
        engine.until(f"(selector) => !({CLOSED})(document.querySelector(selector))", selector)


def ask_for_a_strip(engine: Driver) -> None:
    """Asks for diamonds of 8 in from a strip as wide as the fabric."""
    choose(engine, said("page.size_quick", unit="in"), SIZE)
    choose(engine, said("page.cloth"), said(f"cloth.{STRIP}.name"))
    number(engine, PIECES)


def begin(engine: Driver) -> None:
    """Starts the guide from the answer."""
    engine.tap("[data-key=start]")
    engine.until(AT_THE_MAT)


def at_a_strip(engine: Driver, url: str) -> None:
    """Opens the page and starts the guide for a strip."""
    engine.open(url)
    number(engine)
    ask_for_a_strip(engine)
    begin(engine)


def mat(engine: Driver) -> str:
    """Counts and sentences at the mat."""
    engine.until(AT_THE_MAT)
    return engine.evaluate(MAT)


def cut(engine: Driver, times: int = 1) -> None:
    """Taps the big zone, each time with the half second of a bump behind it, and waits until
    the mat shows something else.
    """
    for _ in range(times):
        before = mat(engine)
        time.sleep(BUMP)
        engine.tap(".mat-zone")
        engine.until(CHANGED, before)


def totals(engine: Driver) -> tuple[int, int]:
    """Made and expected in all."""
    made, expected = re.findall(r"\d+", engine.text(".mat-total"))
    return int(made), int(expected)


def cut_until_made(engine: Driver, made: int) -> None:
    """Goes on cutting until so many pieces are made."""
    for _ in range(60):
        if totals(engine)[0] == made:
            return
        cut(engine)
    raise AssertionError(f"{made} pieces are never made")


def cut_to_the_end(engine: Driver) -> None:
    """Goes on cutting until all is cut."""
    for _ in range(60):
        if engine.evaluate(ALL_IS_CUT):
            return
        cut(engine)
    raise AssertionError("there is no end")


def ready_offline(engine: Driver) -> None:
    """Waits until the page says that it works without a network."""
    engine.until(SAYS, [".standing", said("page.standing.ready")])
