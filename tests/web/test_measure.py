"""Lengths as they are read and typed: rounding against exact arithmetic, and the decimal sign
of the reader's own language.
"""

import json
import math
import random
import re
import subprocess
import unicodedata
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

import matside
from matside.units import parse_length
from one_page import go
from phone import Watched, slowed, until
from quilter import answered, choose, cloth_kind, count_screen, enter, error_at, field, number, said
from steps.places import tool

HERE = Path(__file__).parent
SIXTEENTH, MILLIMETRE = Fraction(1, 16), Fraction(1, 10)


@pytest.fixture(scope="module")
def measure(dist):
    """Calls functions of the page's module, many at once, in one Node process."""
    (module,) = dist.glob("app-*/lib/words/measure.js")

    def call(calls: list[list]) -> list:
        asked = json.dumps({"module": module.as_uri(), "calls": calls})
        done = subprocess.run(
            [tool("node"), "--no-warnings", HERE / "measuring.mjs"], input=asked, capture_output=True, text=True
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return call


def some_lengths() -> list[float]:
    """Lengths of every sort: on ticks, between them, very near to them, below 0, and as trigonometry gives them."""
    draw = random.Random(1)
    ticks = [n / 64 for n in range(200)] + [n / 16 for n in range(700)]
    near = [n / 32 + off for n in range(64) for off in (-1e-9, 1e-9, -1e-4, 1e-4)]
    slanted = [size / math.sin(math.radians(angle)) for size in (2.5, 4, 8) for angle in range(15, 91)]
    return [
        *ticks,
        *near,
        *slanted,
        *(-length for length in ticks[:100]),
        *(draw.uniform(0, 40_000) for _ in range(300)),
    ]


def read_inches(text: str) -> Fraction:
    """The exact value of "−4⅝ in" or "2³⁄₁₆ in", by what Unicode says of its characters."""
    sign, whole, own, over, under = re.fullmatch(
        r"(−?)(\d*)(?:([½¼¾⅛⅜⅝⅞])|([⁰¹²³⁴-⁹]+)⁄([₀-₉]+))? in", text, re.ASCII
    ).groups()
    assert whole or own or over
    value = Fraction(whole or 0)
    if own:
        value += Fraction(unicodedata.numeric(own))
    if over:
        top, bottom = (int("".join(str(unicodedata.digit(digit)) for digit in digits)) for digits in (over, under))
        assert top < bottom >= 16 and math.gcd(top, bottom) == 1
        value += Fraction(top, bottom)
    return -value if sign else value


def test_inches_are_shown_to_the_nearest_sixteenth(measure):
    """And exactly where they lie on a tick as fine as 1/64 in, as a mark is set by them."""
    lengths = some_lengths()
    for length, text in zip(
        lengths, measure([["sayLength", length, "in", "en-US"] for length in lengths]), strict=True
    ):
        exact = Fraction(length)
        on_a_tick = (exact * 64).denominator == 1
        assert read_inches(text) == (exact if on_a_tick else round(exact / SIXTEENTH) * SIXTEENTH), text


def test_every_tick_that_is_shown_is_read_exactly_by_the_core_however_it_was_written(measure):
    """Shown, then read as it stands in a field; and the same in plain digits, as it is spoken and as older pages kept it."""
    ticks = [n / 64 for n in range(1, 200 * 64 + 1)]
    shown = measure([["bareLength", tick, "in", "en-US"] for tick in ticks])
    typed = measure([["typedLength", text, "in", "en-US"] for text in shown])
    plain = measure([["plainDigits", text] for text in shown])
    again = measure([["written", text] for text in plain])
    for tick, text, bare, old in zip(ticks, typed, shown, plain, strict=True):
        assert parse_length(text, "length") == Fraction(tick) == parse_length(f"{old} in", "length"), text
        assert not re.search(r"[^\d /]", old), bare
    assert again == shown


@pytest.mark.every(4)
@pytest.mark.parametrize(("typed", "now"), [
    ("4 1/2 in", "4½ in"), ("4-1/2", "4½"), ("4 and 1/2 in", "4½ in"), ("1/16 in", "¹⁄₁₆ in"), ("10 13/16", "10¹³⁄₁₆"), ("5 / 8", "⅝"), ("1 1/3 yd", "1⅓ yd"),
    ("4½", "4½"), ("2³⁄₁₆", "2³⁄₁₆"), ("4", "4"), ("11.5 cm", "11.5 cm"), ("11,5", "11,5"), ("4 1/0", "4 1/0"), ("1 1/", "1 1/"), ("1/2/3", "1/2/3"),
    ("1.5/2", "1.5/2"), ("words", "words"), ("", ""),
])  # fmt: skip
def test_what_was_kept_in_plain_digits_is_shown_as_people_write_it(measure, typed, now):
    assert measure([["written", typed]]) == [now]


@pytest.mark.parametrize(("shown", "spoken"), [
    ("Cut at 3½ inches.", "Cut at 3 1/2 inches."), ("Mark ³⁄₁₆ inch, then 2¹³⁄₁₆ inches", "Mark 3/16 inch, then 2 13/16 inches"), ("4⅝ by 10¼", "4 5/8 by 10 1/4"),
    ("−¹⁄₆₄ inch off", "-1/64 inch off"), ("5 of 8.", "5 of 8."), ("11.5 centimeters at 60°", "11.5 centimeters at 60°"),
])  # fmt: skip
def test_voices_are_given_plain_digits(measure, shown, spoken):
    assert measure([["forSpeech", shown]]) == [spoken]


def test_centimetres_are_shown_to_the_nearest_millimetre(measure):
    """1 in = 2.54 cm exactly (NIST Handbook 44, Appendix C)."""
    lengths = some_lengths()
    for length, text in zip(
        lengths, measure([["sayLength", length, "cm", "en-US"] for length in lengths]), strict=True
    ):
        shown = Fraction(re.fullmatch(r"(-?\d+(?:\.\d)?) cm", text)[1])
        assert abs(shown - Fraction(length) * Fraction("2.54")) <= MILLIMETRE / 2 + Fraction(1, 10**9), text


def test_a_length_as_it_stands_in_a_field_is_read_back_as_the_same(measure):
    """What the page writes into a field, the core reads: in either unit, in languages with a point and with a comma."""
    lengths = [n / 16 for n in range(1, 400)]
    for unit, locale in (("in", "en-US"), ("in", "de-DE"), ("cm", "en-US"), ("cm", "de-DE"), ("cm", "fr-FR")):
        bare = measure([["bareLength", length, unit, locale] for length in lengths])
        typed = measure([["typedLength", text, unit, locale] for text in bare])
        for length, text in zip(lengths, typed, strict=True):
            found = matside.answer({"ask": "strip", "piece": {"size": "1 in", "angle": 90}, "length": text})
            assert found["ok"], text
            kept = found["pieces"] + found["left_over"]
            assert kept == pytest.approx(length, abs=1e-9 if unit == "in" else 0.05 / 2.54 + 1e-9), text


@pytest.mark.every(3)
@pytest.mark.parametrize(("text", "unit", "locale", "read"), [
    ("4", "in", "en-US", "4 in"), ("4 1/2", "in", "en-US", "4 1/2 in"), ("4½", "cm", "en-US", "4½ cm"), ("4³⁄₁₆", "in", "en-US", "4³⁄₁₆ in"), ("2⅕ ", "cm", "en-US", "2⅕ cm"), (" 11.5 ", "cm", "en-US", "11.5 cm"),
    ("11,5", "cm", "de-DE", "11.5 cm"), ("11,5", "cm", "fr-FR", "11.5 cm"), ("11.5", "cm", "de-DE", "11.5 cm"), ("11,5 cm", "in", "de-DE", "11.5 cm"),
    ("4 in", "cm", "en-US", "4 in"), ("95 mm", "in", "en-US", "95 mm"), ("1,2 m", "cm", "de-DE", "1.2 m"), ("4,5", "in", "en-US", "4,5 in"),
    ("", "in", "en-US", ""), ("words", "in", "en-US", "words"), ("4,", "cm", "de-DE", "4,"), ("4 1/0", "in", "en-US", "4 1/0 in"),
])  # fmt: skip
def test_what_is_typed_is_given_its_unit_and_a_point(measure, text, unit, locale, read):
    assert measure([["typedLength", text, unit, locale]]) == [read]


# --- Where a comma is the decimal sign ------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def german(browser, site) -> Iterator[Page]:
    """The first screen in centimetres, with a comma as the decimal sign, as German has it."""
    context = slowed(browser.new_context(viewport={"width": 390, "height": 844}, locale="en-US", has_touch=True))
    watching = Watched(context)
    page = count_screen(context.new_page(), site.url)
    page.goto(f"{site.url}#tools")
    for group, choice in (("units", "cm"), ("decimal", "comma")):
        name, button = said(f"tools.{group}.name"), said(f"tools.{group}.{choice}")
        page.get_by_role("group", name=name).get_by_role("button", name=button).tap()
    page.goto(f"{site.url}#count")
    answered(page)
    yield page
    assert watching.unexpected() == []
    context.close()


@pytest.mark.long
def test_a_comma_is_a_decimal_sign_where_people_write_it_so(german: Page):
    cloth_kind(german, "scrap")
    for name, text in (("piece.text", "11,5"), ("cloth.length", "11,5"), ("cloth.width", "60,5")):
        enter(german, name, text)
        assert error_at(german, name) is None
        assert field(german, name).input_value() == text
    assert number(german) == int((60.5 - 11.5 / math.tan(math.radians(60))) / (11.5 / math.sin(math.radians(60))))
    assert german.locator('[data-key="measure-size"] strong').inner_text() == "11,5 cm"


@pytest.mark.long
def test_a_comma_in_an_angle_and_in_a_seam_too(german: Page):
    choose(german, said("page.angle"), said("page.angle_other"))
    enter(german, "piece.angle", "22,5")
    assert error_at(german, "piece.angle") is None
    german.locator("piece-picker summary").tap()
    enter(german, "piece.seam", "0,7")
    assert error_at(german, "piece.seam") is None
    choose(german, said("page.angle"), "60°")


def test_a_measure_that_is_tapped_stands_in_its_field_with_a_comma(german: Page):
    enter(german, "piece.text", "10")
    german.locator('[data-key="measure-edge"]').tap()
    answered(german)
    assert field(german, "piece.text").input_value() == "11,5"
    german.locator('[data-key="measure-size"]').tap()
    answered(german)


@pytest.mark.long
def test_metres_off_the_bolt_by_the_half_metre(german: Page):
    cloth_kind(german, "metre_length")
    choose(german, said("page.amount"), "0,5 m")
    assert error_at(german, "cloth.length") is None
    enter(german, "cloth.length", "1,5")
    assert error_at(german, "cloth.length") is None
    assert "150 cm" in german.locator("count-stage .drawing").text_content()


@pytest.mark.long
def test_an_angle_is_written_with_a_comma_for_a_quilt_too(german: Page):
    go(german, "quilt")
    german.locator("quilt-form").wait_for()
    angle = german.locator("[data-key='piece.angle']")
    german.locator("quilt-form summary").filter(has_text="Seam").first.click()
    angle.fill("67,5")
    expect(angle).to_have_value("67,5")
    until(german, "document.querySelector('.quilt-figure') && !document.querySelector('.go.stale')")
    expect(angle).to_have_attribute("aria-invalid", "false")
    go(german, "count")
