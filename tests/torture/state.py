"""How far the long runs are, kept between them."""

import json
from pathlib import Path


class State:
    """A part's figures by name, in one file; written anew after every change, so that a run
    can be stopped at any time.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._parts: dict[str, dict] = json.loads(path.read_text("utf-8")) if path.exists() else {}

    def of(self, part: str) -> dict:
        """What is known of a part; empty before it has begun."""
        return self._parts.get(part, {})

    def keep(self, part: str, **changed) -> None:
        """Takes in what has changed of a part."""
        self._parts[part] = {**self.of(part), **changed}
        new = self._path.with_suffix(".new")
        new.parent.mkdir(parents=True, exist_ok=True)
        new.write_text(json.dumps(self._parts), "utf-8")
        new.replace(self._path)
