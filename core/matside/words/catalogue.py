"""The catalogue as it lies in its files: a folder a language, a JSON file a subject."""

import json
import os
from functools import cache

from .plurals import WRITING


@cache
def subjects(language: str = "en") -> dict[str, dict]:
    """The catalogue of a language: the "error" parts of all its files in one, the rest under their own names."""
    found: dict[str, dict] = {}
    for text in _texts(language):
        for subject, sentences in json.loads(text).items():
            found.setdefault(subject, {}).update(sentences)
    return found


def _texts(language: str) -> list[bytes]:
    """What is written in a language, file by file.

    In the page the core lies in an archive, which has all of a language in one file: to list an archive takes
    `importlib.resources`, and all that this loads.
    """
    folder = os.path.join(os.path.dirname(__file__), language)
    names = [f"{folder}/{name}" for name in sorted(os.listdir(folder))] if os.path.isdir(folder) else [f"{folder}.json"]
    return [__spec__.loader.get_data(name) for name in names]


def languages() -> list[str]:
    """The languages that there are, English first.

    >>> languages()
    ['en', 'de', 'es', 'fr', 'ja']
    """
    return list(WRITING)
