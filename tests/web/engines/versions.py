"""A later version of the built page, for hosts that publish it."""

import shutil
from pathlib import Path

from steps import precache
from steps.places import WEB

LATER = "app-" + "0" * 16


def later_version(dist: Path, folder: Path) -> Path:
    """The distribution with its modules under another name, as after a change in one of them, and a service worker of its own."""
    later = Path(shutil.copytree(dist, folder))
    (app,) = later.glob("app-*")
    page = later / "index.html"
    page.write_text(page.read_text("utf-8").replace(app.name, LATER), "utf-8")
    app.rename(later / LATER)
    (later / "sw.js").write_text(precache.service_worker(WEB / "sw.js", precache.entries(later)), "utf-8")
    for changed in ("index.html", "sw.js"):
        for ending in precache.SQUEEZED:
            (later / f"{changed}{ending}").unlink()
    return later
