"""Whatever a system or a browser calls its language: the number screen shows its number, and
a step at the mat its words.
"""

import re

import pytest

from host import Host
from quilter import said

from .acts import PIECES, ask_for_a_strip, begin, choose, cut, number, totals
from .driver import Driver
from .journeys import from_a_fat_quarter


class Locales:
    """A class of tests for each engine is made of this one, the last of its file: it leaves the
    browser in another language.

    `called` is what the page is told that its language is, where that is known.
    """

    called: dict[str, str] = {}

    def test_words_and_numbers_are_shown_in(self, engine: Driver, host: Host, language: str):
        engine.restart(language)
        engine.open(host.url)
        told = engine.evaluate("navigator.language")
        assert told == self.called.get(language, told)
        in_english_and_inches(engine, host)
        shows_words_and_numbers(engine)


def in_english_and_inches(engine: Driver, host: Host) -> None:
    """Chooses them, whatever the device asks for: the acts go by English words."""
    engine.evaluate("localStorage.setItem('matside-language', 'en')")
    engine.open("about:blank")
    engine.open(f"{host.url}#tools")
    choose(engine, said("tools.units.name"), said("tools.units.in"))
    engine.open(host.url)


def by_language(always: tuple[str, ...], long: tuple[str, ...]) -> pytest.MarkDecorator:
    """The tests of `Locales` in these languages, some in every run, others where there is time."""
    languages = [*always, *(pytest.param(language, marks=pytest.mark.long) for language in long)]
    return pytest.mark.parametrize("language", languages, ids=lambda language: language or "none")


def shows_words_and_numbers(engine: Driver) -> None:
    """Holds for the page that is at hand, at its first visit."""
    number(engine, from_a_fat_quarter("4 in"))
    ask_for_a_strip(engine)
    begin(engine)
    assert engine.text(".mat-sentence") == said("guide.press.short")
    cut(engine)
    assert re.search(r"\b8 in\b", engine.text(".mat-sentence"))
    assert totals(engine) == (0, PIECES)
