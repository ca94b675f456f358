"""The catalogue of wording: a folder a language, a JSON file a subject, and the little that makes a sentence here.

Python needs the refusals only (the "error" part of each subject); the page takes the whole folder.
"""

import json
import string
from functools import cache

from ..figures import with_inches


@cache
def refusals(language: str = "en") -> dict[str, str]:
    """The sentences for refusals in a language, by code."""
    from importlib.resources import files  # only a refusal needs it, and it takes long to load

    found: dict[str, str] = {}
    for subject in files(__package__).joinpath(language).iterdir():
        found.update(json.loads(subject.read_text("utf-8")).get("error", {}))
    return found


def refusal_sentence(code: str, values: dict, language: str = "en") -> str:
    """The sentence for a refusal's code and values: what is wrong and what to do.

    >>> refusal_sentence("count_missing", {"least": 1, "most": 12})
    'Write a whole number from 1 to 12.'
    >>> refusal_sentence("backing_narrow", {"given": 3.5})
    'Backing fabric 3½ in wide is too narrow to be joined. Give its usable width.'
    """
    return _Filling().vformat(refusals(language)[code], (), values)


class _Filling(string.Formatter):
    """Fills the places of a sentence; a length in inches, as in {given:length}, as people write it."""

    def format_field(self, value, format_spec: str) -> str:
        if format_spec != "length":
            return super().format_field(value, format_spec)
        return value if isinstance(value, str) else with_inches(value)
