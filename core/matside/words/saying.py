"""How a code with values becomes a sentence: the catalogue's syntax, read as the page reads it.

The syntax is defined in DEVELOPERS.md ("The words"); the page's reading of it is `web/lib/words/words.js`, and one list
of examples holds both to it. A day and time is written by a browser, so `{…:moment}` is for the page only.
"""

import re
from fractions import Fraction

from ..figures import inches_read, written
from .catalogue import subjects
from .plurals import WRITING, number_text, plural_form

PLACE = re.compile(r"\{\{|\}\}|\{(\w+)(?::(\w+))?\}")
_CENTIMETERS = 2.54
_FAR = {"in": ("yd", 36), "cm": ("m", 100 / _CENTIMETERS)}


def say(path: str, values: dict | None = None, language: str = "en", units: str = "in") -> str:
    """The sentence under "subject.code" with its values; KeyError where either has none.

    >>> say("page.way_one", {"side": 4.5})
    'strips 4½ in long'
    >>> say("page.way_one", {"side": 4.5}, "de", "cm")
    'Streifen 11,4 cm lang'
    """
    return _Saying(language, units).said(path, values or {})


def refused(text: str, values: dict, language: str = "en") -> str:
    """The sentence of a refusal, its numbers with all their decimals.

    >>> refused("{{{given}}} is less than {least}.", {"given": "{x}", "least": 0.001}, "de")
    '{{x}} is less than 0,001.'
    """
    return _Refusing(language, "in").filled(text, values)


class _Saying:
    """One language and one kind of units."""

    def __init__(self, language: str, units: str):
        self.language, self.units = language, units

    def said(self, path: str, values: dict) -> str:
        found = self.found(path)
        if isinstance(found, dict):
            found = found.get(plural_form(values["n"], self.language), found["other"])
        return self.filled(found, values)

    def found(self, path: str):
        """What the catalogue has under a path: a text, or an object of plural forms or of further codes."""
        at = subjects(self.language)
        for name in path.split("."):
            at = at[name]
        return at

    def filled(self, text: str, values: dict) -> str:
        def shown(place: re.Match) -> str:
            name, how = place.groups()
            return self.shown(values, name, how) if name else place[0][0]

        return PLACE.sub(shown, text)

    def shown(self, values: dict, name: str, how: str | None) -> str:
        value = values.get(name)
        if value is None:
            raise KeyError(f"no value for {{{name}}}")
        own = {"length": self.length, "far": self.far, "percent": self.percent}
        if how in own:
            return own[how](value)
        if how == "moment":
            raise KeyError("a day and time is written by the page")
        if how not in (None, "exact"):
            return self.nested(how, value, values)
        return self.number(value, 2 if how else 1) if isinstance(value, (int, float, Fraction)) else str(value)

    def nested(self, subject: str, value, values: dict) -> str:
        if "other" in self.found(f"lie.{subject}"):
            return self.said(f"lie.{subject}", {**values, "n": value})
        return self.said(f"lie.{subject}.{value}", values)

    def number(self, value, decimals: int = 1) -> str:
        return number_text(value, self.language, decimals)

    def percent(self, share) -> str:
        return self.number(share * 100, 0)

    def length(self, inches) -> str:
        if isinstance(inches, str):
            return written(inches)  # as it was typed, with its unit
        if self.units == "in":
            return self.said("unit.in", {"number": inches_read(inches)})
        bare = number_text(float(inches) * _CENTIMETERS, self.language, grouped=False)
        return self.said("unit.cm", {"number": bare})

    def far(self, inches) -> str:
        unit, each = _FAR[self.units]
        return self.said(f"unit.{unit}", {"number": self.number(inches / each)})


class _Refusing(_Saying):
    """Numbers as they are: what is refused, and by how little, must be seen."""

    def number(self, value, decimals: int = 1) -> str:
        return str(value).replace(".", WRITING[self.language].decimal)
