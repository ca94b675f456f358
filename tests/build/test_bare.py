"""What ships of our own scripts and styles: without comments, and otherwise what was written."""

import subprocess
from pathlib import Path

import pytest

from steps import bare
from steps.places import NODE_MODULES, WEB, tool

SCRIPT = """
// A remark, and /* another.
export const text = "// no remark"; /* a remark */
const PATTERN = /\\/\\*/; // one
export async function find(name, { more = 1_000 } = {}) {
  // two
  return PATTERN.test(name) ? `${more} // ${name}` : (await null) ?? text;
}
"""


def test_a_script_loses_its_remarks_and_keeps_names_and_lines(tmp_path: Path):
    path = tmp_path / "a.js"
    path.write_text(SCRIPT, "utf-8")
    text = bare.bare_text(path)
    assert "remark, and" not in text and "two" not in text and '"// no remark"' in text
    assert "async function find(name" in text and len(text.splitlines()) > 4


def test_it_does_what_it_did(tmp_path: Path):
    told = []
    for name, text in (("a.mjs", SCRIPT), ("b.mjs", None)):
        (tmp_path / name).write_text(text or bare.bare_text(tmp_path / "a.mjs"), "utf-8")
        script = f"const m = await import('./{name}'); console.log(m.text, await m.find('/*'), await m.find(''));"
        done = subprocess.run(
            [tool("node"), "--input-type=module", "-e", script],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
        )
        told.append(done.stdout)
    assert told[0] == told[1] == "// no remark 1000 // /* // no remark\n"


@pytest.mark.parametrize("name", ["start/watch.js", "start/early.js"])
def test_a_classic_script_is_as_strict_as_it_was(name: str):
    assert "use strict" in (WEB / name).read_text("utf-8") and "use strict" in bare.bare_text(WEB / name)


def test_what_comes_from_npm_stays_as_it_came():
    files = {"idb.js": NODE_MODULES / "idb" / "build" / "index.js", "look.css": WEB / "look" / "tokens.css"}
    assert bare.bare(files) == files


def test_no_style_of_ours_that_ships_has_a_remark_and_every_rule_is_there(dist: Path):
    text = next(dist.glob("app-*/look/all.css")).read_text("utf-8")
    sources = "".join(path.read_text("utf-8") for path in (WEB / "look").glob("*.css"))
    assert "/*" not in text and "*/" not in text
    assert abs(text.count("{") - sources.count("{")) < 5 and text.count("{") == text.count("}")
