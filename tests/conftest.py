"""What all tests share."""

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def pytest_configure() -> None:
    """Programs that the tests start find the core as the tests do."""
    folders = [str(ROOT / folder) for folder in ("core", "web/worker", "web/build")]
    os.environ["PYTHONPATH"] = os.pathsep.join([*folders, os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built distribution; look, but do not touch."""
    if not (ROOT / "dist" / "sw.js").exists():
        pytest.fail("dist/ is not there: run python3 build.py build")
    return ROOT / "dist"
