"""Python as the page has it, asked from Node: for tests that look into it."""

import json
import subprocess
from pathlib import Path
from textwrap import dedent

from steps import interpreter, pythonpart
from steps.environment import node_settings
from steps.places import BUILD_SOURCES, tool

_ASKING = """
import { asInThePage } from "./pyodide.mjs";
const [pyodideFolder, python, source, options] = process.argv.slice(1);
const pyodide = await asInThePage(pyodideFolder, python, JSON.parse(options));
pyodide.FS.writeFile("/home/pyodide/asked.py", source);
try {
  console.log(pyodide.pyimport("asked").found);
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
process.exit(0);
"""


def node(script: str, *arguments) -> subprocess.CompletedProcess:
    """A script run as a module of web/build/node."""
    return subprocess.run(
        [tool("node"), "--input-type=module", "-e", script, *map(str, arguments)],
        cwd=BUILD_SOURCES / "node",
        env=node_settings(),
        capture_output=True,
        text=True,
    )


def found(source: str, pyodide: Path = interpreter.OUT, **options) -> object:
    """What a Python source leaves as `found`, in the page's Python; the options are Pyodide's own."""
    text = f"{dedent(source)}\nimport json\nfound = json.dumps(found)"
    done = node(_ASKING, pyodide, pythonpart.OUT, text, json.dumps(options))
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
