"""Changes that nobody needs to notice: what they make is the same, or as good; accepted.json has them with the reason."""

import json
from dataclasses import dataclass
from pathlib import Path

from .changes import Change

PATH = Path(__file__).with_name("accepted.json")


@dataclass(frozen=True)
class Accepted:
    """What is accepted, by file, line of text and change, wherever that line stands; with the reason."""

    reasons: dict[tuple[str, str, str], str]

    @classmethod
    def read(cls, path: Path = PATH) -> "Accepted":
        """What stands in a file."""
        given = json.loads(path.read_text("utf-8"))
        return cls({(one["file"], one["text"], one["change"]): one["reason"] for one in given})

    def has(self, change: Change) -> bool:
        """Whether a change is accepted."""
        return _key(change) in self.reasons

    def unknown(self, changes: list[Change]) -> list[tuple[str, str, str]]:
        """What is accepted and is no change of these."""
        return sorted(set(self.reasons) - set(map(_key, changes)))


def _key(change: Change) -> tuple[str, str, str]:
    return (change.file, change.text, change.words)
