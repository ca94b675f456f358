"""Which plural form a count takes, and how a number is written, in each language of the catalogue.

The rules are those of the Unicode CLDR, as its charts "Language Plural Rules" (cardinal) and "Numbering Systems" state
them. What they are stated in: `n` is the absolute value, `i` its whole part, `v` how many decimals are seen; `e`, the
exponent of a number written like "1c6", is always 0 here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

#: Numbers of so many in a row are told apart by a sign.
_GROUP = 3


@dataclass(frozen=True, slots=True)
class Writing:
    """A language's plural forms with the rule that chooses one, and its signs in numbers."""

    forms: tuple[str, ...]
    form: Callable[[int, int], str]
    decimal: str
    group: str
    least_grouped: int = 4  # digits that a number has at least where its groups are told apart


def _one_is_1_without_decimals(i: int, v: int) -> str:
    """English and German: one is "i = 1 and v = 0"."""
    return "one" if i == 1 and v == 0 else "other"


def _one_is_1(i: int, v: int) -> str:
    """Spanish: one is "n = 1", many is "e = 0 and i != 0 and i % 1000000 = 0 and v = 0"."""
    if i == 1 and v == 0:
        return "one"
    return _many_or_other(i, v)


def _one_is_below_2(i: int, v: int) -> str:
    """French: one is "i = 0,1", many as in Spanish."""
    return "one" if i in (0, 1) else _many_or_other(i, v)


def _many_or_other(i: int, v: int) -> str:
    return "many" if i != 0 and i % 1_000_000 == 0 and v == 0 else "other"


def _always_other(i: int, v: int) -> str:
    """Japanese: there is no other form."""
    return "other"


WRITING = {
    "en": Writing(("one", "other"), _one_is_1_without_decimals, ".", ","),
    "de": Writing(("one", "other"), _one_is_1_without_decimals, ",", "."),
    "es": Writing(("one", "many", "other"), _one_is_1, ",", ".", least_grouped=5),
    "fr": Writing(("one", "many", "other"), _one_is_below_2, ",", "\u202f"),
    "ja": Writing(("other",), _always_other, ".", ","),
}


def plural_form(number: float | Fraction, language: str) -> str:
    """The form that a count takes in a language.

    >>> [plural_form(n, "fr") for n in (0, 1, 1.5, 2, 1_000_000)]
    ['one', 'one', 'one', 'other', 'many']
    """
    digits = _digits(number, 3)[1:]
    return WRITING[language].form(int(digits[0]), len(digits[1]))


def number_text(number: float | Fraction, language: str, decimals: int = 1, grouped: bool = True) -> str:
    """A number with so many decimals at the most, halves rounded away from 0, as the language writes it.

    >>> number_text(1234.56, "de"), number_text(1234, "es"), number_text(0.5, "en", 0)
    ('1.234,6', '1234', '1')
    """
    writing = WRITING[language]
    sign, whole, part = _digits(number, decimals)
    if grouped and len(whole) >= writing.least_grouped:
        first = len(whole) % _GROUP
        groups = [whole[:first], *(whole[at : at + _GROUP] for at in range(first, len(whole), _GROUP))]
        whole = writing.group.join(filter(None, groups))
    return sign + whole + (writing.decimal + part if part else "")


def _digits(number: float | Fraction, decimals: int) -> tuple[str, str, str]:
    """Sign, whole part and decimals of a number; of a float as it is written, not as it is stored."""
    exact = Fraction(repr(number)) if isinstance(number, float) else Fraction(number)
    scaled = int(abs(exact) * 10**decimals + Fraction(1, 2))
    text = str(scaled).rjust(decimals + 1, "0")
    whole, part = (text[:-decimals], text[-decimals:]) if decimals else (text, "")
    return "-" if exact < 0 else "", whole, part.rstrip("0")
