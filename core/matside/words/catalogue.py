"""The catalogue as it lies in its files: a folder a language, a JSON file a subject."""

import json
from functools import cache

from .plurals import WRITING


@cache
def subjects(language: str = "en") -> dict[str, dict]:
    """The catalogue of a language: the "error" parts of all its files in one, the rest under their own names."""
    from importlib.resources import files  # only a refusal needs it, and it takes long to load

    found: dict[str, dict] = {}
    for file in files(__package__).joinpath(language).iterdir():
        for subject, sentences in json.loads(file.read_text("utf-8")).items():
            found.setdefault(subject, {}).update(sentences)
    return found


def languages() -> list[str]:
    """The languages that there are, English first.

    >>> languages()
    ['en', 'de', 'es', 'fr', 'ja']
    """
    return list(WRITING)
