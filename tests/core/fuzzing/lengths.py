"""Made-up inputs for the readers of lengths, angles and counts."""

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from random import Random

from matside.errors import Refusal
from matside.units import (
    LONGEST,
    SHORTEST,
    parse_angle,
    parse_count,
    parse_length,
    parse_length_or_zero,
    parse_signed_length,
)
from matside.words import refusal_sentence

from . import hostile
from .verdict import Failure, fault_of

_READERS: tuple[tuple[Callable, Callable[[object], bool]], ...] = (
    (lambda given: parse_length(given, "f"), lambda read: SHORTEST <= read <= LONGEST),
    (lambda given: parse_length_or_zero(given, "f"), lambda read: read == 0 or SHORTEST <= read <= LONGEST),
    (lambda given: parse_signed_length(given, "f"), lambda read: -LONGEST <= read <= LONGEST),
    (lambda given: parse_angle(given, "f"), lambda read: 15 <= read <= 90),
    (lambda given: parse_angle(given, "f", 1, 179), lambda read: 1 <= read <= 179),
    (lambda given: parse_count(given, "f", 0, 100_000), lambda read: type(read) is int and 0 <= read <= 100_000),
)


def run(seed: int, first: int, count: int) -> list[Failure]:
    """Tries the inputs from number `first` on, so many; gives those that failed."""
    tried = ((number, made_up(Random(f"lengths {seed} {number}"))) for number in range(first, first + count))
    return [Failure(number, given, fault) for number, given in tried if (fault := _fault(given))]


def made_up(by: Random) -> object:
    """An input: a text more often than not."""
    return by.choice((hostile.text, hostile.text, hostile.number, hostile.value))(by)


def _fault(given: object) -> str:
    faults = (
        fault_of(partial(_read, reader, given), partial(_misread, allowed=allowed)) for reader, allowed in _READERS
    )
    return next(filter(None, faults), "")


def _read(reader: Callable, given: object) -> object:
    """What the reader reads, or its refusal, told to the end."""
    try:
        return reader(given)
    except Refusal as refusal:
        refusal_sentence(refusal.code, refusal.values)
        return refusal


def _misread(read: object, allowed: Callable[[object], bool]) -> str:
    if isinstance(read, Refusal):
        return "" if read.field == "f" else "refused at another field"
    return "" if isinstance(read, (Fraction, int)) and allowed(read) else f"read as {read!r:.100}"
