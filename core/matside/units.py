"""Lengths, angles and counts as people write them, turned into exact numbers.

A length is a number of inches or a text such as "4½ in", "4 1/2 in", "4³⁄₁₆\"", "11.5 cm", "95 mm", "1¼ yd", "1.2 m".
All of them become a `Fraction` of inches. 1 in = 2.54 cm and 1 yd = 36 in, both exact (NIST Handbook 44,
Appendix C).
"""

import math
import re
from fractions import Fraction
from numbers import Rational

from .errors import Refusal
from .figures import plain_digits

#: The largest length that is taken anywhere: a little over 1,000 yards.
LONGEST = Fraction(40_000)
#: The smallest length that is taken where there must be one: a quarter of what the finest rule shows.
SHORTEST = Fraction(1, 1000)
#: Two lengths nearer than this, in inches, are the same length: far below any cut, far above float noise.
SAME = 1e-9

_INCH = Fraction(1)
#: In inches, exact.
CENTIMETER = Fraction(100, 254)
_UNITS = {
    "in": _INCH, "inch": _INCH, "inches": _INCH, '"': _INCH,
    "ft": 12 * _INCH, "foot": 12 * _INCH, "feet": 12 * _INCH,
    "yd": 36 * _INCH, "yard": 36 * _INCH, "yards": 36 * _INCH,
    "mm": CENTIMETER / 10, "cm": CENTIMETER, "m": 100 * CENTIMETER,
}  # fmt: skip

_PLAIN_SIGNS = str.maketrans({"″": '"', "”": '"', "−": "-"})

_LENGTH = re.compile(
    r"""
    (?P<sign>[-+]?)\s*
    (?:
        (?: (?P<whole>[0-9]+) (?: \s+ | \s*-\s* | \s+and\s+ ) )?   # the 4 of 4 1/2, also written 4-1/2
        (?P<top>[0-9]+) \s*/\s* (?P<bottom>[0-9]+)                 # the 1/2
      |
        (?P<decimal> [0-9]+ (?:\.[0-9]*)? | \.[0-9]+ )             # 4 or 4.5 or .5
    )
    \s* (?P<unit> [a-z"]* ) \.?                                    # in, ", cm, ... or nothing
    """,
    re.VERBOSE,
)
_DECIMAL_COMMA = re.compile(r",[0-9]")
_LONGEST_TEXT = 60


def parse_length(given, field: str) -> Fraction:
    """The length that a person wrote, in inches, exact.

    `given` is a number (of inches) or a text with or without a unit; a text without one is in inches. Refused, with
    `field` as the place: nothing, words, an unknown unit, a comma for the decimal sign, a fraction over 0, what is
    not above 0, below 0.001 or above 40,000 inches, what is not a finite number, and texts of over 60 characters.

    >>> parse_length("4 1/2 in", "size")
    Fraction(9, 2)
    >>> parse_length('4½"', "size") == parse_length(4.5, "size")
    True
    >>> parse_length("25.4 mm", "size")
    Fraction(1, 1)
    """
    length = parse_signed_length(given, field)
    if length <= 0:
        raise Refusal(field, "length_not_positive", given=shown(given))
    if length < SHORTEST:
        raise Refusal(field, "length_too_small", given=shown(given), least=SHORTEST)
    return length


def parse_length_or_zero(given, field: str) -> Fraction:
    """Like `parse_length`, and 0 is allowed (a border of no width, a fold that loses
    nothing), but nothing just above it.

    >>> parse_length_or_zero("0 in", "border")
    Fraction(0, 1)
    """
    length = parse_signed_length(given, field)
    if length < 0:
        raise Refusal(field, "length_negative", given=shown(given))
    if 0 < length < SHORTEST:
        raise Refusal(field, "length_nearly_zero", given=shown(given), least=SHORTEST)
    return length


def parse_signed_length(given, field: str) -> Fraction:
    """Like `parse_length`, and any sign and 0 are allowed; the upper limit holds both ways, the lower one not.

    >>> parse_signed_length("-1/16 in", "error")
    Fraction(-1, 16)
    """
    _refuse_nothing(given, field, "length_missing")
    length = _text_length(given, field) if isinstance(given, str) else _number(given, field, "length")
    if abs(length) > LONGEST:
        raise Refusal(field, "length_too_large", given=shown(given))
    return length


def parse_angle(given, field: str, least: int = 15, most: int = 90) -> Fraction:
    """An angle in degrees, from `least` to `most`: a number, or a text such as "60", "60°" or "22.5 deg".

    >>> parse_angle("22.5°", "piece.angle")
    Fraction(45, 2)
    """
    _refuse_nothing(given, field, "angle_missing")
    if isinstance(given, str):
        given_number = re.fullmatch(r"\s*([0-9]{1,3}(?:\.[0-9]{1,20})?)\s*(?:°|deg|degrees)?\s*", given)
        if not given_number:
            fault = "angle_decimal_comma" if _DECIMAL_COMMA.search(given) else "angle_words"
            raise Refusal(field, fault, given=shown(given))
        angle = Fraction(given_number[1])
    else:
        angle = _number(given, field, "angle")
    if not least <= angle <= most:
        raise Refusal(field, "angle_outside", given=shown(given), least=least, most=most)
    return angle


def parse_count(given, field: str, least: int, most: int) -> int:
    """A whole number from `least` to `most`; a text of digits will do.

    >>> parse_count("12", "need", 0, 100_000)
    12
    """
    _refuse_nothing(given, field, "count_missing", least=least, most=most)
    written = isinstance(given, str) and re.fullmatch(r"\s*([0-9]{1,12})\s*", given)
    if written:
        given = int(written[1])  # not the whole text: what is a space here and there is not the same
    number = _number(given, field, "count") if not isinstance(given, str) else None
    if number is None or number.denominator != 1 or not least <= number <= most:
        raise Refusal(field, "count_outside", given=shown(given), least=least, most=most)
    return int(number)


def ruler_line(length: float) -> float:
    """The length itself where a ruler has a line for it, or else the next eighth of an inch.

    Rulers are marked in eighths of an inch or in millimeters: common practice, no published source.

    >>> ruler_line(16.1658), ruler_line(4.125), ruler_line(3 / 25.4) == 3 / 25.4
    (16.25, 4.125, True)
    """
    eighths, millimeters = length * 8, length * 25.4
    if min(abs(eighths - round(eighths)), abs(millimeters - round(millimeters))) <= SAME:
        return length
    return math.ceil(eighths) / 8


def shown(given) -> str:
    """What was given, as JSON writes it and short enough for a message; a number of thousands
    of digits is not written out.

    >>> shown("x" * 100), shown(True), shown({"size": 4})
    ('xxxxxxxxxxxxxxxxxxxxxxxxxxxxx…', 'true', '{…}')
    """
    if isinstance(given, int) and given.bit_length() > 200:
        return "…"
    text = given if isinstance(given, str) else _json_like(given)
    return text if len(text) <= 30 else text[:29] + "…"


def _json_like(given) -> str:
    if given is None or isinstance(given, bool):
        return {None: "null", True: "true", False: "false"}[given]
    if isinstance(given, (int, float)):
        return str(given)
    return "{…}" if isinstance(given, dict) else "[…]" if isinstance(given, (list, tuple)) else type(given).__name__


def _refuse_nothing(given, field: str, code: str, **values) -> None:
    if given is None or isinstance(given, str) and not given.strip():
        raise Refusal(field, code, **values)


def _number(given, field: str, what: str) -> Fraction:
    if isinstance(given, bool) or not isinstance(given, (Rational, float)):
        raise Refusal(field, f"{what}_words", given=shown(given))
    if isinstance(given, float) and not math.isfinite(given):
        raise Refusal(field, f"{what}_not_finite", given=shown(given))
    # By way of its shortest text a float means the decimal that was typed: 0.1 is one tenth.
    return Fraction(float.__repr__(given)) if isinstance(given, float) else Fraction(given)


def _text_length(given: str, field: str) -> Fraction:
    if len(given) > _LONGEST_TEXT:
        raise Refusal(field, "length_text_too_long", given=shown(given))
    if _DECIMAL_COMMA.search(given):
        raise Refusal(field, "length_decimal_comma", given=shown(given))
    written = _LENGTH.fullmatch(plain_digits(given).translate(_PLAIN_SIGNS).strip().lower())
    if not written:
        raise Refusal(field, "length_words", given=shown(given))
    return _sign(written) * _magnitude(written, given, field) * _unit(written, given, field)


def _sign(written: re.Match) -> int:
    return -1 if written["sign"] == "-" else 1


def _magnitude(written: re.Match, given: str, field: str) -> Fraction:
    if written["decimal"]:
        return Fraction(written["decimal"])
    if int(written["bottom"]) == 0:
        raise Refusal(field, "length_over_zero", given=shown(given))
    return Fraction(int(written["top"]), int(written["bottom"])) + int(written["whole"] or 0)


def _unit(written: re.Match, given: str, field: str) -> Fraction:
    name = written["unit"] or "in"
    if name not in _UNITS:
        raise Refusal(field, "length_unit", given=shown(given), unit=shown(name))
    return _UNITS[name]
