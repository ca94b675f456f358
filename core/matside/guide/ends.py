"""The two ends of a strip: from which of them its pieces are cut, and what is done to that end first."""

from dataclasses import dataclass
from fractions import Fraction

from .job import StripWork
from .laying import Laying
from .sheet import CUT, MOST_TRIMMED, RAW, SELVAGE


@dataclass(frozen=True, slots=True)
class StripEnd:
    """The end that pieces are cut from: what it is, and how it is made ready.

    `which` is "cut", "raw", "selvage" or "any" (both ends are as they came). `how` is "selvage" (cut off just inside
    the selvage), "square" (a sliver off), "check" (nothing off: there is nothing to spare) or None."""

    which: str
    how: str | None

    @property
    def takes(self) -> Fraction:
        """The most that making it ready takes off the strip."""
        return MOST_TRIMMED if self.how == "square" else Fraction(0)


def strip_end(work: StripWork, long: Fraction, ends: tuple[str, str], laying: Laying) -> StripEnd:
    """The end that the pieces of a strip are cut from, for a strip that is so long with such ends.

    A cut end is the best, a selvage the last; only where a measure or a straight piece begins at it must it be square.
    """
    start = min(ends, key=(CUT, RAW, SELVAGE).index)
    which = "any" if start == RAW and ends == (RAW, RAW) else start
    if start == CUT or work.is_whole(long) or not laying.wants_square_end:
        return StripEnd(which, None)
    if start == SELVAGE:
        return StripEnd(which, "selvage")
    needed = laying.fitting(work.count, long).needed(work.count)
    return StripEnd(which, "square" if float(long) - needed >= MOST_TRIMMED else "check")
