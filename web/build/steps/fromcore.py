"""What the page needs of the core before Python has started: the facts it gives, the words of every language, and
the glossary, which nothing needs until it is asked for."""

import json
import sys
from pathlib import Path

from . import stamps
from .console import Stop
from .places import CORE, WORK

OUT = WORK / "fromcore"
ENGLISH = "en"


def core_files() -> dict[str, Path]:
    """Files for the application folder, made anew from the core as it stands.

    English is whole. Another language is its sentences alone, in the order of the English ones, which the page loads
    as well: a phone keeps a second language, and names of sentences are a quarter of it."""
    english = words_of(ENGLISH)
    files = {
        "facts.json": answer({"ask": "facts"}),
        "glossary/pictures.json": answer({"ask": "glossary"})["pictures"],
        **_shared_out(ENGLISH, english),
    }
    review = json.loads((CORE / "words" / "_review.json").read_text("utf-8"))
    for language in languages():
        if language != ENGLISH:
            told = _shared_out(language, words_of(language))
            files |= {name: in_order(of, files[_english(name)]) for name, of in told.items()}
            files[f"words/{language}.json"]["draft"] = review[language]["state"] == "draft"
    return {name: _written(name, content) for name, content in files.items()}


def _shared_out(language: str, words: dict) -> dict[str, dict]:
    """A language's two files: the glossary's words are loaded only when they are asked for."""
    rest = {subject: told for subject, told in words.items() if subject != "terms"}
    return {f"words/{language}.json": rest, f"glossary/{language}.json": {"terms": words["terms"]}}


def _english(name: str) -> str:
    return f"{name.split('/')[0]}/{ENGLISH}.json"


def in_order(words: dict, english: dict) -> dict:
    """The sentences of a language in the order in which JavaScript comes to the English ones, and what it has besides.

    >>> english = {"page": {"n": {"one": "{n} piece", "other": "{n} pieces"}, "title": "Quilt"}}
    >>> own = {"lie": {"at": "da"}, "page": {"title": "Decke", "n": {"one": "{n} Teil", "other": "{n} Teile"}}}
    >>> in_order(own, english)
    {'sentences': [{'one': '{n} Teil', 'other': '{n} Teile'}, 'Decke'], 'more': {'lie': {'at': 'da'}}}
    """
    told: list = []
    more = _taken(words, english, told)
    return {"sentences": told, "more": more}


def _taken(words: dict, english: dict, told: list) -> dict:
    more = {name: inside for name, inside in words.items() if name not in english}
    for name, inside in sorted(english.items(), key=_turn):
        if isinstance(inside, str) or isinstance(inside.get("other"), str):
            told.append(words[name])
        elif besides := _taken(words[name], inside, told):
            more[name] = besides
    return more


def _turn(item: tuple[str, object]) -> tuple[bool, int]:
    """When JavaScript comes to a name of an object: whole numbers first, by their size, then the rest as they stand."""
    number = item[0] if item[0].isdecimal() else ""
    return not number, int(number or 0)


def answer(request: dict) -> dict:
    """What the core says, as it stands in the sources."""
    sys.path.insert(0, str(CORE.parent))
    try:
        import matside
    finally:
        sys.path.pop(0)
    return matside.answer(request)


def languages() -> list[str]:
    """The languages that the core has words of, English among them."""
    folders = (path for path in (CORE / "words").iterdir() if path.is_dir() and not path.name.startswith("_"))
    return sorted(path.name for path in folders)


def words_of(language: str) -> dict:
    """All that is said in a language, by subject."""
    return _words(CORE / "words" / language)


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
