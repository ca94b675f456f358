"""A sample of the long runs of tests/torture: browsers killed at writes and at random moments, on one profile each.

Jepsen's idea for one client: acknowledged ⊆ recovered ⊆ attempted, none twice. With 0 failures in N kills the rate of
failure is below 3/N with 95 % confidence (rule of three)."""

from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from amounts import examples, some
from steps.testing import ENGINES, skipped
from torture.bare_browser import BareFirefox
from torture.kills import Torture, kills_at_writes, random_kills
from torture.ledger import Ledger
from torture.model import run

# Before the sitting is stored, at its second place, at an event, at its line, at its flush, at
# an undo, at the whole store.
SOME_WRITES = some((5, 8, 18, 19, 20, 111, 155), 2)


def held(torture: Torture, kills: int) -> None:
    """So many kills lose nothing, and something was counted that could have been lost."""
    try:
        assert list(random_kills(torture, 2, range(kills))) == list(range(kills))
    finally:
        torture.close()
    assert torture.ledger.lost == []
    assert sum(len(account.marks) for account in torture.ledger.accounts.values()) > 0


def test_a_browser_killed_at_any_moment_loses_no_count_that_was_shown(dist: Path, tmp_path: Path):
    held(Torture(dist, tmp_path / "profile"), examples(2, 3))


@pytest.mark.long
@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
def test_nor_does_firefox(dist: Path, tmp_path: Path):
    held(Torture(dist, tmp_path / "profile", browser=BareFirefox), 4)


@pytest.mark.long
def test_a_browser_killed_at_a_write_loses_no_count_that_was_shown(dist: Path, tmp_path: Path):
    torture = Torture(dist, tmp_path / "profile", watched=True)
    try:
        assert list(kills_at_writes(torture, SOME_WRITES)) == list(SOME_WRITES)
    finally:
        torture.close()
    assert torture.ledger.lost == []


@pytest.mark.long
def test_whatever_happens_to_a_sitting_what_is_stored_shown_and_counted_agree(playwright: Playwright, dist: Path):
    run(playwright, dist, number=3, runs=examples(1, 2), steps=10)


@pytest.mark.long
@pytest.mark.parametrize("number", range(100, 120))
def test_whatever_happens_in_long_sittings_too(playwright: Playwright, dist: Path, number: int):
    run(playwright, dist, number, runs=5, steps=100)


def event(sequence: int, mark: str) -> dict:
    return {"sequence": sequence, "event": "cut", "mark": mark}


@pytest.mark.parametrize(
    ("events", "second", "told"),
    [
        ([event(0, "a"), event(1, "b")], 2, ""),
        ([event(0, "a"), event(1, "b"), event(2, "c")], 3, ""),
        ([event(0, "a"), event(1, "b"), event(2, "c")], 2, "behind"),
        ([event(0, "a")], 1, "found"),
        ([event(0, "a"), event(1, "b"), event(2, "c"), event(3, "d")], 4, "found"),
        ([event(0, "a"), event(1, "a")], 2, "twice"),
        ([event(0, "a"), event(2, "b")], 2, "hole"),
        (None, 0, "gone"),
    ],
)
def test_the_ledger_notices_what_is_lost_behind_twice_or_too_many(events: list[dict] | None, second: int, told: str):
    ledger = Ledger()
    ledger.begin("one")
    ledger.begun("one")
    for _ in range(3):
        ledger.attempt()
    for _ in range(2):
        ledger.shown()
    ledger.found([] if events is None else [{"id": "one", "events": events}], {"one": second}, "")
    assert bool(ledger.lost) is bool(told)
    assert told in " ".join(ledger.lost)
