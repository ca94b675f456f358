"""Lengths, angles and counts as people write them."""

import unicodedata
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from matside.errors import Refusal
from matside.figures import inches_read, with_fraction
from matside.units import (
    LONGEST,
    SHORTEST,
    parse_angle,
    parse_count,
    parse_length,
    parse_length_or_zero,
    parse_signed_length,
    shown,
)

FIXED = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow], max_examples=120
)

# NIST Handbook 44, Appendix C [2nd]: 1 in = 2.54 cm and 1 yd = 36 in = 3 ft = 0.9144 m, all exact.
INCHES_IN = {
    "in": Fraction(1),
    "ft": Fraction(12),
    "yd": Fraction(36),
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "m": Fraction(10_000, 254),
}
NAMES = {
    "in": ("in", "IN", "inch", "inches", '"', "″", "”", "in."),
    "ft": ("ft", "foot", "feet"),
    "yd": ("yd", "yard", "yards", "yd."),
}
VULGAR = {
    "½": Fraction(1, 2),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅞": Fraction(7, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
}


def as_shown(number: Fraction) -> str:
    """A number as the page writes it, by the Unicode names of its digits."""
    whole, part = divmod(number, 1)
    own = {sign: value for sign, value in VULGAR.items() if value == part}
    named = ["ZERO", "ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE"]

    def small(digits: int, place: str) -> str:
        return "".join(unicodedata.lookup(f"{place} {named[int(digit)]}") for digit in str(digits))

    figures = f"{small(part.numerator, 'SUPERSCRIPT')}\N{FRACTION SLASH}{small(part.denominator, 'SUBSCRIPT')}"
    return (str(whole) if whole or not part else "") + (next(iter(own), figures) if part else "")


def test_every_tick_is_written_as_people_say_it_and_read_back_exactly():
    for ticks in range(1, 200 * 64 + 1):
        length = Fraction(ticks, 64)
        assert with_fraction(length) == as_shown(length)
        assert parse_length(inches_read(float(length)), "length") == length
    assert inches_read(2.19) == "2³⁄₁₆" and inches_read(-0.0625) == "−¹⁄₁₆"


@given(
    st.integers(0, 200), st.integers(1, 63), st.sampled_from(["", " ", "-", " and "]), st.sampled_from(["", " in", '"'])
)
@FIXED
def test_a_fraction_is_the_same_in_small_figures_and_in_plain_digits(whole, ticks, between, unit):
    part = Fraction(ticks, 64)
    before = f"{whole}{between}" if whole else ""
    plain = f"{whole}{between or ' '}" if whole else ""
    small = parse_length(f"{before}{with_fraction(part)}{unit}", "length")
    assert small == parse_length(f"{plain}{part}{unit}", "length") == whole + part


@pytest.mark.parametrize("text", ["4²", "⁴ in", "³⁄₀", "3⁄₁₆", "³₁₆", "₃⁄¹⁶", "4³⁄₁₆½", "1³⁄₁₆³"])
def test_small_figures_that_are_no_fraction_are_refused(text):
    with pytest.raises(Refusal):
        parse_length(text, "length")


@pytest.mark.parametrize(
    "text, inches",
    [
        ("2.54 cm", 1),
        ("25.4 mm", 1),
        ("0.0254 m", 1),
        ("1 ft", 12),
        ("1 yd", 36),
        ("0.9144 m", 36),
        ("91.44 cm", 36),
        ("914.4 mm", 36),
        ("3 feet", 36),
    ],
)
def test_units_are_those_of_handbook_44(text, inches):
    # NIST Handbook 44, Appendix C [2nd]. Exact, so without tolerance.
    assert parse_length(text, "length") == inches


@pytest.mark.parametrize(
    "text, inches",
    [
        ("4 1/2 in", Fraction(9, 2)),
        ('4½"', Fraction(9, 2)),
        ("11.5 cm", Fraction(1150, 254)),
        ("95 mm", Fraction(950, 254)),
        ("1 1/4 yd", 45),
        ("1.2 m", Fraction(12_000, 254)),
        ("4-1/2", Fraction(9, 2)),
        ("4 and 1/2 in", Fraction(9, 2)),
        ("  4   1/2in ", Fraction(9, 2)),
        ("4 1⁄2", Fraction(9, 2)),
        ("4½", Fraction(9, 2)),
        ("4 ½", Fraction(9, 2)),
        ("4³⁄₁₆", Fraction(67, 16)),
        ("4 ³⁄₁₆ in", Fraction(67, 16)),
        ("4-³⁄₁₆", Fraction(67, 16)),
        ("4³/₁₆", Fraction(67, 16)),
        ("4 3/16", Fraction(67, 16)),
        ("4-3/16", Fraction(67, 16)),
        ("4.1875", Fraction(67, 16)),
        ("¹³⁄₁₆″", Fraction(13, 16)),
        ("¹⁰⁵⁄₆₄", Fraction(105, 64)),
        ("½ yd", 18),
        (".5", Fraction(1, 2)),
        ("5.", 5),
        ("+3 in", 3),
        ("007/8", Fraction(7, 8)),
    ],
)
def test_ways_of_writing_one_length(text, inches):
    assert parse_length(text, "length") == inches


@st.composite
def written_lengths(draw):
    """A text that means a length, and that length in inches, worked out beside the code under test."""
    unit = draw(st.sampled_from(sorted(INCHES_IN)))
    name = draw(st.sampled_from(NAMES.get(unit, (unit, unit.upper()))))
    gap = draw(st.sampled_from(("", " ", "  ")))
    number, value = draw(st.one_of(decimals(), fractions_written(), vulgar_written()))
    return f"{number}{gap}{name}", value * INCHES_IN[unit]


@st.composite
def decimals(draw):
    whole, places = draw(st.integers(0, 999)), draw(st.text("0123456789", max_size=6))
    return f"{whole}.{places}", Fraction(whole) + (Fraction(int(places), 10 ** len(places)) if places else 0)


@st.composite
def fractions_written(draw):
    whole, bottom = draw(st.none() | st.integers(0, 999)), draw(st.integers(1, 64))
    top = draw(st.integers(1, 200))
    between = draw(st.sampled_from((" ", "-", " - ", " and ")))
    slash = draw(st.sampled_from(("/", " / ", "⁄")))
    return (f"{top}{slash}{bottom}" if whole is None else f"{whole}{between}{top}{slash}{bottom}"), (
        whole or 0
    ) + Fraction(top, bottom)


@st.composite
def vulgar_written(draw):
    whole, sign = draw(st.none() | st.integers(0, 999)), draw(st.sampled_from(sorted(VULGAR)))
    return f"{'' if whole is None else whole}{draw(st.sampled_from(('', ' ')))}{sign}", (whole or 0) + VULGAR[sign]


@FIXED
@given(written_lengths())
def test_every_written_form_means_its_length(written):
    text, inches = written
    assume(0 < inches <= 40_000)
    assert parse_length(text, "length") == inches
    assert parse_signed_length(f"-{text}", "length") == -inches


@FIXED
@given(st.fractions(Fraction(1, 254), 40_000, max_denominator=254))
def test_a_length_written_out_reads_back(length):
    whole, rest = divmod(length, 1)
    assert parse_length(f"{whole} {rest.numerator}/{rest.denominator} in", "length") == length
    assert parse_length(f"{length.numerator}/{length.denominator}", "length") == length


@FIXED
@given(st.integers(1, 40_000_000))
def test_a_number_means_the_decimal_that_was_typed(thousandths):
    # 0.1 is one tenth and not the binary fraction beside it.
    assert parse_length(thousandths / 1000, "length") == Fraction(thousandths, 1000)


def test_numbers_and_texts_without_a_unit_are_inches():
    assert parse_length(4, "length") == parse_length("4", "length") == parse_length("4 in", "length") == 4


NOT_LENGTHS = [
    (None, "length_missing"),
    ("", "length_missing"),
    (" \t\n", "length_missing"),
    ("words", "length_words"),
    ("four", "length_words"),
    ("4 1/2 1/2", "length_words"),
    ("4 in 3", "length_words"),
    ("1/2/3", "length_words"),
    ("4..5", "length_words"),
    ("--4", "length_words"),
    ("1e3", "length_words"),
    ("nan", "length_words"),
    ("٣", "length_words"),
    ("4½½", "length_words"),
    ("in", "length_words"),
    ("4 parsec", "length_unit"),
    ("4 cm2", "length_words"),
    ("4,5", "length_decimal_comma"),
    (",5 in", "length_decimal_comma"),
    ("1,000 in", "length_decimal_comma"),
    ("4 1/0", "length_over_zero"),
    ("0/0", "length_over_zero"),
    (0, "length_not_positive"),
    (-0.0, "length_not_positive"),
    ("0 in", "length_not_positive"),
    ("0/8", "length_not_positive"),
    (-4, "length_not_positive"),
    ("-4 in", "length_not_positive"),
    ("−½", "length_not_positive"),
    (0.000999, "length_too_small"),
    ("0.025 mm", "length_too_small"),
    ("1/1001 in", "length_too_small"),
    (1e-8, "length_too_small"),
    (5e-324, "length_too_small"),
    (40_000.0001, "length_too_large"),
    ("40000 1/1000 in", "length_too_large"),
    ("1016.1 m", "length_too_large"),
    (10**4000, "length_too_large"),
    (1e308, "length_too_large"),
    ("9" * 61, "length_text_too_long"),
    ("9" * 5000, "length_text_too_long"),
    ("9" * 60, "length_too_large"),
    (float("nan"), "length_not_finite"),
    (float("inf"), "length_not_finite"),
    (True, "length_words"),
    ([], "length_words"),
    ({"in": 4}, "length_words"),
    (4j, "length_words"),
]


@pytest.mark.parametrize("given, code", NOT_LENGTHS)
def test_what_is_no_length_is_refused(given, code):
    with pytest.raises(Refusal) as refused:
        parse_length(given, "cloth.width")
    assert (refused.value.field, refused.value.code) == ("cloth.width", code)
    assert all(len(str(value)) <= 30 for value in refused.value.values.values())


def test_numbers_of_thousands_of_digits_are_refused_without_being_written_out():
    # Past 4,300 digits Python itself will not turn a number into text.
    for parse, code in ((parse_length, "length_too_large"), (parse_angle, "angle_outside")):
        for number in (10**5000, -(10**5000)):
            with pytest.raises(Refusal) as refused:
                parse(number, "place")
            assert (refused.value.code, refused.value.values["given"]) == (code, "…")


def test_the_limit_itself_is_allowed():
    assert parse_length(40_000, "length") == parse_length("1016 m", "length") == LONGEST == 40_000
    assert parse_signed_length(-40_000, "length") == -40_000
    # 0.0254 mm is a thousandth of an inch: NIST Handbook 44, Appendix C [2nd].
    assert (
        parse_length(0.001, "length")
        == parse_length("0.0254 mm", "length")
        == SHORTEST
        == parse_length_or_zero("1/1000", "seam")
    )


def test_zero_where_zero_is_allowed():
    assert parse_length_or_zero("0 in", "seam") == parse_length_or_zero(0.0, "seam") == 0
    with pytest.raises(Refusal) as refused:
        parse_length_or_zero("-1/8", "seam")
    assert (refused.value.field, refused.value.code) == ("seam", "length_negative")
    for nearly in (5e-324, "1/1001 in"):
        with pytest.raises(Refusal) as refused:
            parse_length_or_zero(nearly, "seam")
        assert (refused.value.field, refused.value.code) == ("seam", "length_nearly_zero")


ANYTHING = st.one_of(
    st.text(max_size=70),
    st.text('0123456789 /.,-+½¼in"cmyd°', max_size=12),
    st.integers(),
    st.floats(),
    st.booleans(),
    st.none(),
    st.lists(st.integers(), max_size=2),
    st.dictionaries(st.text(max_size=2), st.integers(), max_size=2),
)


@FIXED
@given(ANYTHING)
def test_anything_at_all_is_a_length_or_refused(thing):
    try:
        length = parse_length(thing, "size")
    except Refusal as refusal:
        assert refusal.field == "size" and refusal.code.startswith("length_")
    else:
        assert isinstance(length, Fraction) and 0 < length <= 40_000


@FIXED
@given(ANYTHING)
def test_anything_at_all_is_an_angle_or_a_count_or_refused(thing):
    for parse, least, most in ((parse_angle, 15, 90), (lambda given, field: parse_count(given, field, 1, 12), 1, 12)):
        try:
            assert least <= parse(thing, "place") <= most
        except Refusal as refusal:
            assert refusal.field == "place" and refusal.code.split("_")[0] in ("angle", "count")


@pytest.mark.parametrize("given", [60, 60.0, "60", " 60 ", "60°", "60 °", "60 deg", "60degrees", "060.00"])
def test_ways_of_writing_one_angle(given):
    assert parse_angle(given, "angle") == 60


def test_angles_are_exact():
    assert parse_angle(22.5, "angle") == parse_angle("22.5°", "angle") == Fraction(45, 2)
    assert parse_angle(59.9, "angle") == Fraction(599, 10)


@pytest.mark.parametrize(
    "given, code",
    [
        (None, "angle_missing"),
        ("  ", "angle_missing"),
        ("sixty", "angle_words"),
        ("60 rad", "angle_words"),
        ("22,5", "angle_decimal_comma"),
        (True, "angle_words"),
        ([60], "angle_words"),
        (float("inf"), "angle_not_finite"),
        (0, "angle_outside"),
        (14.999999999999, "angle_outside"),
        ("14.99999999999999999999", "angle_outside"),
        (90.00000001, "angle_outside"),
        (-60, "angle_outside"),
        (10**400, "angle_outside"),
        (1e300, "angle_outside"),
        ("9" * 5000, "angle_words"),
    ],
)
def test_what_is_no_angle_is_refused(given, code):
    with pytest.raises(Refusal) as refused:
        parse_angle(given, "piece.angle")
    assert (refused.value.field, refused.value.code) == ("piece.angle", code)


def test_both_ends_of_the_angles_are_allowed():
    assert [parse_angle(15, "angle"), parse_angle("90°", "angle")] == [15, 90]


@pytest.mark.parametrize("given", [12, 12.0, "12", " 12 ", "12\x1e", "\u00a012"])
def test_ways_of_writing_one_count(given):
    assert parse_count(given, "layers", 1, 12) == 12


@pytest.mark.parametrize(
    "given, code",
    [
        (None, "count_missing"),
        ("", "count_missing"),
        (" ", "count_missing"),
        ("two", "count_outside"),
        ("1.5", "count_outside"),
        (1.5, "count_outside"),
        (0, "count_outside"),
        (13, "count_outside"),
        (-1, "count_outside"),
        (10**4000, "count_outside"),
        ("9" * 5000, "count_outside"),
        (True, "count_words"),
        ([2], "count_words"),
        (float("nan"), "count_not_finite"),
    ],
)
def test_what_is_no_count_is_refused(given, code):
    with pytest.raises(Refusal) as refused:
        parse_count(given, "layers", 1, 12)
    assert (refused.value.field, refused.value.code) == ("layers", code)


@FIXED
@given(ANYTHING | st.integers(10**100, 10**120))
def test_what_was_given_is_shown_short(thing):
    assert len(shown(thing)) <= 30


def test_a_value_is_shown_as_json_writes_it():
    assert [shown(value) for value in (None, True, 4.5, {"a": 1}, [1], "4 1/0")] == [
        "null",
        "true",
        "4.5",
        "{…}",
        "[…]",
        "4 1/0",
    ]
