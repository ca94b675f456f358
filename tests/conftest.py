"""What all tests share."""

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def pytest_addoption(parser: pytest.Parser) -> None:
    """What takes too long for every run is asked for."""
    parser.addoption("--long", action="store_true", help="also run what takes long (marked `long`)")
    parser.addoption(
        "--in-page",
        action="store_true",
        help="run Python in the page in every browser test, not only where that is what is tested",
    )


# The files that take longest, the longest first. Where several processes share the files, one that
# is begun last is waited for.
LONGEST = (
    "test_basket", "test_engine_webkit", "test_torture", "test_engine_chromium", "test_engine_firefox", "test_start", "test_two_places",
    "test_resume", "test_access", "test_updates", "test_another_cloth", "test_paper_cutter", "test_cutting", "test_count", "test_rulers",
    "test_what_is_typed", "test_quilt", "test_hands_free", "test_past",
)  # fmt: skip


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Puts the longest files first, then the other browser tests. Leaves out what takes long unless it is asked for."""
    items.sort(key=_turn)
    if config.getoption("--long"):
        return
    for item in [*filter(_is_long, items), *_beyond_the_sample(items)]:
        item.add_marker(pytest.mark.skip(reason="takes long: runs by --long"))


def _is_long(item: pytest.Item) -> bool:
    """Whether it is marked so, or named so by its class, which has it of another."""
    return bool(item.get_closest_marker("long")) or item.name in getattr(getattr(item, "cls", None), "long", ())


def _beyond_the_sample(items: list[pytest.Item]) -> list[pytest.Item]:
    """Of a test that is marked `every`, the cases that are not one of so many."""
    cases: dict[str, list[pytest.Item]] = {}
    for item in items:
        if item.get_closest_marker("every"):
            cases.setdefault(item.nodeid.split("[")[0], []).append(item)
    return [
        item
        for of_one in cases.values()
        for place, item in enumerate(of_one)
        if place % of_one[0].get_closest_marker("every").args[0]
    ]


def _turn(item: pytest.Item) -> int:
    if item.path.stem in LONGEST:
        return LONGEST.index(item.path.stem)
    return len(LONGEST) + (item.path.parent.name != "web")


def pytest_configure(config: pytest.Config) -> None:
    """Programs that the tests start find the core as the tests do."""
    if config.getoption("--long"):
        os.environ["MATSIDE_LONG"] = (
            "1"  # for what is made up as the tests are collected, here and in the processes beside
        )
    config.addinivalue_line("markers", "long: takes too long for every run; runs by --long")
    config.addinivalue_line("markers", "every(n): one of n of its cases in every run, all of them by --long")
    folders = [str(ROOT / folder) for folder in ("core", "web/build")]
    os.environ["PYTHONPATH"] = os.pathsep.join([*folders, os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built distribution; look, but do not touch."""
    if not (ROOT / "dist" / "sw.js").exists():
        pytest.fail("dist/ is not there: run python3 build.py build")
    return ROOT / "dist"
