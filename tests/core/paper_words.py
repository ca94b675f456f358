"""What the guide's sentences show: the values that each sentence's short and long form name."""

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

WORDS = Path(__file__).parents[2] / "core" / "matside" / "words" / "en"
#: Names of things, which are not measured; what `of_fabric` adds is a name as well.
NAMES = {"name", "fabric", "of_fabric", "number"}


@cache
def _catalogue(name: str) -> dict:
    return json.loads((WORDS / f"{name}.json").read_text(encoding="utf-8"))[name]


def shown(step: dict) -> set[str]:
    """The values that a step's sentence shows, short or long, names left out.

    >>> sorted(shown({"say": "recheck", "values": {}}))
    ['near', 'short_diagonal']
    """
    forms = _catalogue("guide")[step["say"]]
    texts = [text for form in ("short", "long") for text in _texts(forms.get(form, ""))]
    return {name for text in texts for name in _named(text, step["values"])} - NAMES


def _named(text: str, values: dict) -> Iterator[str]:
    """The values that a text names; a value may itself stand for words (`lie.json`) that name more."""
    for name, form in re.findall(r"\{(\w+)(?::(\w+))?\}", text):
        yield name
        words = _catalogue("lie").get(form, {}).get(values.get(name), "")
        yield from _named(words, values)


def _texts(form) -> Iterator[str]:
    """A sentence, or its forms for one and for several."""
    if isinstance(form, str):
        yield form
    else:
        for one in form.values():
            yield from _texts(one)
