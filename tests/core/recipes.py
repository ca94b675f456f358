"""A copy of the core in which somebody follows a recipe of DEVELOPERS.md: lines put beside lines that are there."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


class Kitchen:
    """A core of one's own, to be changed by a recipe and then asked."""

    def __init__(self, folder: Path):
        self.folder = folder
        for part in ("core", "tests/core", "pyproject.toml"):
            source, target = ROOT / part, folder / part
            target.parent.mkdir(parents=True, exist_ok=True)
            if source.is_dir():
                shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, target)
        (folder / "web").symlink_to(ROOT / "web")  # only read

    def add(self, path: str, before: str, text: str) -> None:
        """Puts a text before the only place where a file says `before`."""
        file = self.folder / path
        found = file.read_text("utf-8")
        assert found.count(before) == 1, f"{path} says “{before}” {found.count(before)} times"
        file.write_text(found.replace(before, text + before), "utf-8")

    def add_words(self, path: str, *keys: str, words: dict) -> None:
        """Puts words under their keys."""
        file = self.folder / "core/matside/words/en" / path
        found = json.loads(file.read_text("utf-8"))
        place = found
        for key in keys:
            place = place[key]
        assert not place.keys() & words.keys()
        place.update(words)
        file.write_text(json.dumps(found, ensure_ascii=False), "utf-8")

    def asked(self, *requests: dict) -> list[dict]:
        """The changed core's answers."""
        script = "import json, sys; from matside import answer; json.dump([answer(r) for r in json.load(sys.stdin)], sys.stdout, default=float)"
        done = subprocess.run(
            [sys.executable, "-c", script],
            input=json.dumps(requests),
            env={**os.environ, "PYTHONPATH": str(self.folder / "core")},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    def tested(self, *tests: str) -> str:
        """What the project's own tests say of the changed core; empty where they pass."""
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", "-p", "no:xdist", *tests],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(self.folder / "core")},
            capture_output=True,
            text=True,
            check=False,
        )
        return "" if done.returncode == 0 else done.stdout[-4000:]
