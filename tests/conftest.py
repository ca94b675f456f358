"""What all tests share."""

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def pytest_addoption(parser: pytest.Parser) -> None:
    """What takes too long for every run is asked for."""
    parser.addoption("--long", action="store_true", help="also run what takes long (marked `long`)")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves out what takes long unless it is asked for."""
    if config.getoption("--long"):
        return
    for item in items:
        if item.get_closest_marker("long"):
            item.add_marker(pytest.mark.skip(reason="takes long: runs by --long"))


def pytest_configure(config: pytest.Config) -> None:
    """Programs that the tests start find the core as the tests do."""
    config.addinivalue_line("markers", "long: takes too long for every run; runs by --long")
    folders = [str(ROOT / folder) for folder in ("core", "web/build")]
    os.environ["PYTHONPATH"] = os.pathsep.join([*folders, os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built distribution; look, but do not touch."""
    if not (ROOT / "dist" / "sw.js").exists():
        pytest.fail("dist/ is not there: run python3 build.py build")
    return ROOT / "dist"
