"""A later version of the built page, for hosts that publish it."""

import shutil
from pathlib import Path

from steps.distribution import assemble
from steps.places import WEB


def later_version(folder: Path) -> Path:
    """A distribution like the one that is built, but for one of its modules, so that all modules lie
    in a folder of another name.
    """
    web = Path(shutil.copytree(WEB, folder / "web", ignore=shutil.ignore_patterns("node_modules", "build")))
    with (web / "main.js").open("a", encoding="utf-8") as module:
        module.write("document.documentElement.dataset.version = 'later';\n")
    assemble(folder / "later", web)
    return folder / "later"
