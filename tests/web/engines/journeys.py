"""What every engine must get through, from a first visit to a new version. Each journey has a host of its
own, and so a store of its own.
"""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

import matside
from host import Host
from quilter import said

from .acts import (
    PIECES,
    SAYS,
    at_a_strip,
    begin,
    choose,
    cut,
    cut_to_the_end,
    cut_until_made,
    mat,
    number,
    ready_offline,
    totals,
)
from .driver import Driver
from .outside import PLAIN_NAME
from .versions import later_version


def from_a_fat_quarter(size: str) -> int:
    """How many diamonds the core says."""
    return matside.answer(
        {"ask": "cloth", "piece": {"shape": "diamond", "size": size, "angle": 60}, "cloth": {"kind": "fat_quarter"}}
    )["best"]["pieces"]


def running(engine: Driver) -> Iterator[Driver]:
    """The engine, running; ended at once in the end, as nothing of it is kept."""
    try:
        engine.start()
        yield engine
    finally:
        engine.kill()


class Journeys:
    """A class of tests for each engine is made of this one; `engine` is that engine, running. Which of them run by
    --long only says `long`: what another test shows of the engine in every run.
    """

    long: tuple[str, ...] = ("test_a_first_visit_says_how_many",)

    def test_a_first_visit_says_how_many(self, engine: Driver, host: Host):
        engine.open(host.url)
        number(engine, from_a_fat_quarter("4 in"))
        choose(engine, said("page.size_quick", unit="in"), "3")
        number(engine, from_a_fat_quarter("3 in"))
        engine.enter('[data-key="piece.text"]', "2 3/4")
        number(engine, from_a_fat_quarter("2 3/4 in"))

    def test_a_strip_is_cut_to_its_end_with_the_network_gone(self, engine: Driver, host: Host):
        at_a_strip(engine, host.url)
        ready_offline(engine)
        cut_until_made(engine, 1)
        before = mat(engine)
        host.stop()
        engine.unreachable()
        engine.reload()
        assert mat(engine) == before
        cut_to_the_end(engine)
        assert totals(engine) == (PIECES, PIECES)
        assert f"{PIECES}" in engine.text(".mat-end .pile")

    def test_a_browser_that_ended_at_once_comes_back_to_the_same_cut(self, engine: Driver, host: Host):
        at_a_strip(engine, host.url)
        cut_until_made(engine, 1)
        before = mat(engine)
        if engine.keeps:
            engine.kill()
            engine.start()
            engine.open(host.url)
        else:
            engine.reload()
        assert mat(engine) == before
        cut(engine)
        assert totals(engine)[0] in (1, 2)  # a check of the angle may come first

    @pytest.mark.long
    def test_a_new_version_is_offered_and_comes_in_with_the_cut_at_hand(
        self, engine: Driver, hosts, dist: Path, tmp_path: Path
    ):
        host = hosts(Path(shutil.copytree(dist, tmp_path / "dist")))
        at_a_strip(engine, host.url)
        ready_offline(engine)
        cut_to_the_end(engine)
        done = mat(engine)
        host.publish(later_version(tmp_path))
        engine.open(f"{host.url}?now#count")
        engine.tap(".standing button", said("page.update"))
        engine.until("document.documentElement?.dataset.version === 'later'")
        ready_offline(engine)
        engine.evaluate("() => { location.hash = 'cut'; }")
        assert mat(engine) == done

    @pytest.mark.long
    def test_a_copy_goes_from_one_place_to_another(self, engine: Driver, hosts, dist: Path):
        here, there = hosts(dist), hosts(dist)
        at_a_strip(engine, here.url)
        cut_until_made(engine, 1)
        before = mat(engine)
        engine.open(f"{here.url}?copy#tools")
        far = said("tools.earlier.far", made=1, all=PIECES)
        engine.until(SAYS, ["past-list", far])
        copy = engine.download(lambda: engine.tap("[data-key=copy-save]"))
        assert len(json.loads(copy.read_text("utf-8"))["sittings"]) == 1
        engine.open(f"{there.url}#tools")
        engine.until(SAYS, ["past-list", said("tools.earlier.none")])
        engine.choose_file("#import", copy)
        engine.until(SAYS, ["past-list", far])
        engine.tap("[data-key=fold-earlier]")
        engine.tap("past-list button", said("tools.earlier.go_on"))
        assert mat(engine) == before

    def test_plain_http_from_another_machine_does_without_and_says_so(self, engine: Driver, host: Host):
        engine.expect("Cross-Origin-Opener-Policy")  # Chromium remarks that it ignores that header there
        engine.open(host.url.replace("127.0.0.1", PLAIN_NAME))
        assert (
            engine.evaluate(
                "[isSecureContext, 'serviceWorker' in navigator, 'randomUUID' in crypto, 'locks' in navigator]"
            )
            == [False] * 4
        )
        number(engine, from_a_fat_quarter("4 in"))
        engine.until(SAYS, ["notice-bar", said("notice.insecure.full")])
        engine.until(SAYS, [".standing", said("page.standing.unsupported")])
        engine.tap("[data-key=notice-read]")
        begin(engine)
        cut(engine, 2)
        before = mat(engine)
        engine.reload()
        assert mat(engine) == before
        cut(engine)
