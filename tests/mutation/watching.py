"""For pytest (`-p mutation.watching`): notes which functions each test comes by, or runs only the tests that are wanted.

What it is to do stands in MATSIDE_WATCHING, the path of a JSON file: {"note": path} or {"only": [test, …]}."""

import builtins
import json
import os
import time
from pathlib import Path

import pytest

_ASKED = json.loads(Path(os.environ["MATSIDE_WATCHING"]).read_text("utf-8"))
_come_by: set[str] = set()
#: The functions of an instrumented copy tell here that they were called.
builtins.__reach__ = _come_by.add
_noted: dict[str, dict] = {}
_not_passed: set[str] = set()
_failed: set[str] = set()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves out what is not wanted; the order is that in which tests are wanted."""
    if (only := _ASKED.get("only")) is None:
        return
    turn = {name: i for i, name in enumerate(only)}
    config.hook.pytest_deselected(items=[item for item in items if item.nodeid not in turn])
    items[:] = sorted((item for item in items if item.nodeid in turn), key=lambda item: turn[item.nodeid])


def pytest_collection_finish() -> None:
    """What was called to find the tests is come by without any of them."""
    _noted[""] = {"seconds": 0.0, "by": sorted(_come_by)}


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item):
    """Notes what is called from before a test's fixtures until after them."""
    _come_by.clear()
    begun = time.process_time()  # others may work beside it
    done = yield
    seconds = round(time.process_time() - begun, 3)
    _noted[item.nodeid] = {
        "seconds": seconds,
        "by": sorted(_come_by),
        "passed": item.nodeid not in _not_passed,
        "failed": item.nodeid in _failed,
    }
    return done


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """What does not pass as it is cannot notice anything."""
    if not report.passed:
        _not_passed.add(report.nodeid)
    if report.failed:
        _failed.add(report.nodeid)


def pytest_sessionfinish() -> None:
    """Writes it down."""
    if path := _ASKED.get("note"):
        Path(path).write_text(json.dumps(_noted), "utf-8")
