"""The page's own laws, read from its source: who may import whom."""

import re
from pathlib import PurePosixPath

import pytest

from steps.links import modules_from
from steps.places import WEB

TOP = WEB.resolve()
MODULES = [path.relative_to(TOP).as_posix() for path in modules_from(WEB / "main.js") if path.is_relative_to(TOP)]
ELEMENTS = {name for name in MODULES if "customElements.define" in (WEB / name).read_text("utf-8")}
#: What the modules of a folder leave to those that put them together.
LEAVE = {
    "components": {"screens", "start", "store", "worker", "offline", "copies", "joining"},
    "lib": {"screens", "start", "components", "worker", "offline", "copies"},
    "store": {"screens", "start", "components", "offline", "copies"},
    "joining": {"screens", "start", "components", "store", "worker", "offline", "copies"},
    "screens": {"start", "worker"},
}
IMPORT = re.compile(r"""^(?:import|export)\b(?P<names>[^"';]*)["'](?P<path>\.[^"']+)["']""", re.MULTILINE)


def imported(module: str, named: bool = False) -> set[str]:
    """The modules that a module imports at once, by their paths in web/; only those that it takes a name of."""
    found = IMPORT.finditer((WEB / module).read_text("utf-8"))
    return {
        ((WEB / module).parent / one["path"]).resolve().relative_to(TOP).as_posix()
        for one in found
        if one["names"].strip() or not named
    }


def folder(module: str) -> str:
    """The folder at the top that it lies in; the module itself where it lies at the top."""
    return PurePosixPath(module).parts[0]


@pytest.mark.parametrize("module", [module for module in MODULES if folder(module) in LEAVE])
def test_a_module_leaves_alone_what_others_put_together(module: str):
    assert {folder(other) for other in imported(module)} & LEAVE[folder(module)] == set()


def test_no_element_takes_anything_from_another():
    """One that shows another asks for its definition and no more; what several are made of is in modules that are no
    elements.
    """
    assert len(ELEMENTS) > 30
    assert {module: found for module in ELEMENTS if (found := imported(module, named=True) & ELEMENTS)} == {}
