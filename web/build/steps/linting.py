"""Holds the code to its rules, before the tests: Ruff for Python, ESLint and Prettier for JavaScript and styles.

Ruff's rules stand in pyproject.toml, ESLint's in web/eslint.config.js, Prettier's in web/package.json.
"""

import os
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from .console import Stop, step
from .environment import node_settings
from .places import NODE_MODULES, ROOT, WEB, tool

_STYLED = ("--config", "package.json", "**/*.{js,mjs,css}", "../tests/web/*.{js,mjs}")


@dataclass(frozen=True)
class _Check:
    """A program that holds files to rules, and what puts right what it can."""

    name: str
    command: Sequence[str | Path]
    folder: Path
    mend: str


def _checks() -> list[_Check]:
    ruff, node = tool("ruff"), tool("node")
    eslint, prettier = NODE_MODULES / "eslint/bin/eslint.js", NODE_MODULES / "prettier/bin/prettier.cjs"
    quiet = ("--log-level", "warn")
    return [
        _Check(
            "Ruff", [ruff, "check", "--quiet", "--output-format", "concise"], ROOT, "see its rules in pyproject.toml"
        ),
        _Check("Ruff's format", [ruff, "format", "--check", "--quiet"], ROOT, ".venv/bin/ruff format"),
        _Check("ESLint", [node, eslint, "."], WEB, "see its rules in web/eslint.config.js"),
        _Check(
            "Prettier",
            [node, prettier, "--check", *quiet, *_STYLED],
            WEB,
            "in web: npx prettier --config package.json --write",
        ),
    ]


def check() -> None:
    """Runs all checks at the same time; Stop with what each complains of and how to mend it."""
    with step("Holding the code to its rules"):
        begun = [(check, _begin(check)) for check in _checks()]
        ended = [(check, program.communicate()[0], program.returncode) for check, program in begun]
    faults = [f"{check.name} ({check.mend}):\n{said.strip()}" for check, said, code in ended if code]
    if faults:
        raise Stop("the code breaks its rules\n" + "\n".join(faults))


def _begin(check: _Check) -> subprocess.Popen:
    command = [str(part) for part in check.command]
    return subprocess.Popen(
        command,
        cwd=check.folder,
        env={**os.environ, **node_settings(), "RUFF_NO_CACHE": "true"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
