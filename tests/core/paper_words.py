"""What the guide's sentences show: the values that each sentence's short and long form name."""

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

CATALOGUE = Path(__file__).parents[2] / "core" / "matside" / "words" / "en" / "guide.json"
#: Names of things, which are not measured.
NAMES = {"name", "fabric", "number"}


@cache
def catalogue() -> dict:
    return json.loads(CATALOGUE.read_text(encoding="utf-8"))["guide"]


@cache
def shown(say: str) -> frozenset[str]:
    """The values that a sentence shows, short or long, names left out.

    >>> sorted(shown("recheck"))
    ['short_diagonal']
    """
    forms = catalogue()[say]
    texts = [text for form in ("short", "long") for text in _texts(forms.get(form, ""))]
    return frozenset(name for text in texts for name in re.findall(r"\{(\w+)(?::\w+)?\}", text)) - NAMES


def _texts(form) -> Iterator[str]:
    """A sentence, or its forms for one and for several."""
    if isinstance(form, str):
        yield form
    else:
        for one in form.values():
            yield from _texts(one)
