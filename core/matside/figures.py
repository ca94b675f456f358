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
_TYPED = re.compile(r"(?:(\d)(?: +| *- *| +and +))?(?<![\d./⁄])(\d{1,4}) ?[/⁄] ?([1-9]\d{0,3})(?![\d./⁄])")
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
    return _small_of(str(part.numerator), str(part.denominator))


def _small_of(top: str, bottom: str) -> str:
    return _WRITTEN.get(f"{top}/{bottom}", f"{top.translate(_TO_OVER)}⁄{bottom.translate(_TO_UNDER)}")


def inches_read(inches: float) -> str:
    """A length in inches for reading, as the page says it, without its unit: to a sixteenth of an inch, and as it is
    where it lies on a finer tick.

    >>> inches_read(3.5), inches_read(2.19), inches_read(1 / 64), inches_read(60)
    ('3½', '2³⁄₁₆', '¹⁄₆₄', '60')
    """
    exact = Fraction(inches)
    bottom = _FINEST if (exact * _FINEST).denominator == 1 else _USUAL
    return with_fraction(Fraction(round(exact * bottom), bottom))


def written(text: str) -> str:
    """A length as it was typed, its fractions in small figures.

    >>> written("4 1/2 in"), written("1-1/4 yd"), written("11.5 cm")
    ('4½ in', '1¼ yd', '11.5 cm')
    """
    return _TYPED.sub(lambda found: (found[1] or "") + _small_of(found[2], found[3]), text)


def plain_digits(text: str) -> str:
    """A text with its fractions as they are typed.

    >>> plain_digits("4½ in"), plain_digits("4³⁄₁₆")
    ('4 1/2 in', '4 3/16')
    """
    return _SMALL.sub(lambda small: f" {small[1]}/{small[2]}".translate(_TO_PLAIN), text).translate(_SIGNS_PLAIN)
