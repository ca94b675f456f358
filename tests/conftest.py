"""What all tests share."""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def pytest_configure() -> None:
    """Programs that the tests start find the core as the tests do."""
    folders = [str(ROOT / folder) for folder in ("core", "web/worker", "web/build")]
    os.environ["PYTHONPATH"] = os.pathsep.join([*folders, os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)
