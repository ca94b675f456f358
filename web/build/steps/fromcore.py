"""What the page needs of the core before Python has started: the facts it gives, the words of every language, and
the glossary, which nothing needs until it is asked for."""

import json
import sys
from pathlib import Path

from . import stamps
from .console import Stop
from .places import CORE, WORK

OUT = WORK / "fromcore"


def core_files() -> dict[str, Path]:
    """Files for the application folder, made anew from the core as it stands."""
    files, pictures = {"facts.json": _answer("facts")}, _answer("glossary")["pictures"]
    for language in _languages():
        words = _words(language)
        files[f"glossary/{language.name}.json"] = {"terms": words.pop("terms"), "pictures": pictures}
        files[f"words/{language.name}.json"] = words
    return {name: _written(name, content) for name, content in files.items()}


def _answer(ask: str) -> dict:
    sys.path.insert(0, str(CORE.parent))
    try:
        import matside
    finally:
        sys.path.pop(0)
    return matside.answer({"ask": ask})


def _languages() -> list[Path]:
    return sorted(path for path in (CORE / "words").iterdir() if path.is_dir() and not path.name.startswith("_"))


def _words(language: Path) -> dict:
    """All subjects of a language in one: their "error" parts together, the rest under their own names."""
    merged: dict = {"error": {}}
    for subject in stamps.files_under(language, "*.json"):
        for part, sentences in json.loads(subject.read_text("utf-8")).items():
            _merge(merged, part, sentences, subject)
    return merged


def _merge(merged: dict, part: str, sentences: dict, subject: Path) -> None:
    held = merged.setdefault(part, {})
    twice = sorted(held.keys() & sentences.keys())
    if twice:
        raise Stop(f"{subject.name} says {part}.{twice[0]} once more: rename one of them")
    held.update(sentences)


def _written(name: str, content: dict) -> Path:
    path = OUT / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(content, ensure_ascii=False, separators=(",", ":")), "utf-8")
    return path
