"""The catalogue's syntax, as Python reads it: the list of examples that the page is held to as well, and the plural forms
and the numbers of every language beside those of Babel, which takes them from the CLDR."""

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from babel import Locale
from babel.numbers import format_decimal

from matside.words import refusal_sentence, saying
from matside.words.catalogue import languages, subjects
from matside.words.plurals import WRITING, number_text, plural_form

EXAMPLES = json.loads((Path(__file__).parents[1] / "words" / "examples.json").read_text("utf-8"))
COUNTS = [*range(120), 999, 1000, 10_000, 999_999, 1_000_000, 1_000_001, 2_000_000, 10**9]
BROKEN = [0.1, 0.5, 0.9, 1.1, 1.5, 1.9, 2.5, 1_000_000.5]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda one: f"{one['language']} {one['about']}")
def test_every_example_is_told_as_it_is_listed(example, monkeypatch):
    told = {**subjects(example["language"]), "example": {"it": example["sentence"]}}
    told["lie"] = {**told["lie"], **example.get("lie", {})}
    monkeypatch.setattr(saying, "subjects", lambda language: told)
    say = [example["values"], example["language"], example["units"]]
    if "error" in example:
        with pytest.raises(KeyError):
            saying.say("example.it", *say)
    else:
        assert saying.say("example.it", *say) == example["text"]


def test_the_examples_go_everywhere():
    assert {one["language"] for one in EXAMPLES} == set(languages())
    assert {one["units"] for one in EXAMPLES} == {"in", "cm"}
    told = json.dumps([one["sentence"] for one in EXAMPLES])
    assert all(f":{how}}}" in told for how in ("length", "far", "percent", "exact"))


def test_a_day_and_time_is_for_the_page():
    with pytest.raises(KeyError):
        saying.say("copies.chosen", {"name": "x", "when": 0})


@pytest.mark.parametrize("language", languages())
def test_plural_forms_are_those_of_the_cldr(language):
    theirs = Locale.parse(language).plural_form
    assert set(WRITING[language].forms) == theirs.tags | {"other"}
    for count in COUNTS:
        assert plural_form(count, language) == plural_form(float(count), language) == theirs(count), count
    for count in BROKEN:
        assert plural_form(count, language) == plural_form(Fraction(count), language) == theirs(Decimal(str(count))), (
            count
        )


@pytest.mark.parametrize("language", languages())
def test_numbers_are_written_as_the_cldr_writes_them(language):
    for number in (*COUNTS, *BROKEN, -3, -1234.5, 12345.678, 1e-7):
        # Half to even is Babel's own way to round; here it is away from 0, as browsers do.
        near = Decimal(repr(number)).quantize(Decimal("0.001"), rounding="ROUND_HALF_UP")
        theirs = format_decimal(near, "#,##0.###", locale=language).replace("\u2212", "-")
        if abs(number) < 10_000 and language == "es":
            theirs = theirs.replace(".", "")  # numbers of four digits are not grouped; Babel does not heed that
        assert number_text(number, language, 3) == theirs


def test_halves_are_rounded_away_from_nought_by_what_is_written():
    assert [number_text(n, "en") for n in (0.25, 0.35, -0.25, 1.05)] == ["0.3", "0.4", "-0.3", "1.1"]


def test_a_refusal_tells_its_numbers_in_full_with_the_languages_own_sign():
    values = {"given": "0", "least": 0.001}
    assert "0.001 in" in refusal_sentence("length_too_small", values)
    assert "0,001" in refusal_sentence("length_too_small", values, "de")
