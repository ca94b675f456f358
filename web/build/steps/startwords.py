"""What the page says where it cannot start, which has to stand in the page itself: the words of a start that failed,
and of a browser without scripts."""

import json
import re
from html import escape

from .fromcore import ENGLISH, languages, words_of

MARK = "<!-- the start in other languages -->"
_NAMED = re.compile(r"\{((?:start|repair|trouble)\.[a-z_.]+)\}")
_NO_SCRIPT = "start.no_script"


def worded(text: str) -> str:
    """The page with its English sentences in the places that name them, and those of the other languages, by which
    web/start/watch.js replaces them, where the mark is."""
    if MARK not in text:
        return text
    names = _NAMED.findall(text)
    said = {language: _said(language, names) for language in languages()}
    others = {language: told for language, told in said.items() if language != ENGLISH}
    named = _NAMED.sub(
        lambda found: _no_script(said) if found[1] == _NO_SCRIPT else escape(said[ENGLISH][found[1]]), text
    )
    return named.replace(MARK, _block(others), 1)


def _said(language: str, names: list[str]) -> dict[str, str]:
    words = words_of(language)
    return {name: _at(words, name) for name in names}


def _at(words: dict, name: str) -> str:
    for part in name.split("."):
        words = words[part]
    return words


def _no_script(said: dict[str, dict[str, str]]) -> str:
    """Nothing can choose a language there: all of them are shown."""
    return "".join(f'<p lang="{language}">{escape(told[_NO_SCRIPT])}</p>' for language, told in said.items())


def _block(others: dict[str, dict[str, str]]) -> str:
    told = {
        language: {name: text for name, text in one.items() if name != _NO_SCRIPT} for language, one in others.items()
    }
    content = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
    return f'<template id="start-words">{escape(content, quote=False)}</template>'
