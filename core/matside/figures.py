"""Fractions as people write them: 3½ and 2³⁄₁₆, and such a text in plain digits again."""

import re
from fractions import Fraction

_OVER, _UNDER = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"
#: Fractions with a character of their own.
_SIGNS = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
#: Of them those that are written: of rulers, and the thirds that cloth is sold in.
_WRITTEN = {text: sign for sign, text in _SIGNS.items() if Fraction(text).denominator in (2, 3, 4, 8)}
_SMALL = re.compile(f"([{_OVER}]+)[⁄/]([{_UNDER}]+)")

_TO_OVER, _TO_UNDER = str.maketrans("0123456789", _OVER), str.maketrans("0123456789", _UNDER)
_TO_PLAIN = str.maketrans(_OVER + _UNDER, "0123456789" * 2)
_SIGNS_PLAIN = str.maketrans({**{sign: f" {text}" for sign, text in _SIGNS.items()}, "⁄": "/"})

_USUAL, _FINEST = 16, 64


def with_fraction(number: Fraction) -> str:
    """A number with its fraction in small figures.

    >>> with_fraction(Fraction(7, 2)), with_fraction(Fraction(35, 16)), with_fraction(Fraction(1, 8))
    ('3½', '2³⁄₁₆', '⅛')
    >>> with_fraction(Fraction(-1, 16)), with_fraction(Fraction(3)), with_fraction(Fraction(0))
    ('−¹⁄₁₆', '3', '0')
    """
    whole, part = divmod(abs(number), 1)
    return ("−" if number < 0 else "") + (str(whole) if whole or not part else "") + (_small(part) if part else "")


def _small(part: Fraction) -> str:
    top, bottom = str(part.numerator), str(part.denominator)
    return _WRITTEN.get(f"{top}/{bottom}", f"{top.translate(_TO_OVER)}⁄{bottom.translate(_TO_UNDER)}")


def with_inches(inches: float) -> str:
    """A length for reading, as the page says it: to a sixteenth of an inch, and as it is where it lies on a finer tick.

    >>> with_inches(3.5), with_inches(2.19), with_inches(1 / 64), with_inches(60)
    ('3½ in', '2³⁄₁₆ in', '¹⁄₆₄ in', '60 in')
    """
    exact = Fraction(inches)
    bottom = _FINEST if (exact * _FINEST).denominator == 1 else _USUAL
    return f"{with_fraction(Fraction(round(exact * bottom), bottom))} in"


def plain_digits(text: str) -> str:
    """A text with its fractions as they are typed.

    >>> plain_digits("4½ in"), plain_digits("4³⁄₁₆")
    ('4 1/2 in', '4 3/16')
    """
    return _SMALL.sub(lambda small: f" {small[1]}/{small[2]}".translate(_TO_PLAIN), text).translate(_SIGNS_PLAIN)
