"""Work counted in steps instead of time, so that a search knows when to pause without a clock."""

from collections.abc import Generator, Iterator
from typing import TypeVar

T = TypeVar("T")
#: Work that gives way in between, by yielding, and comes to something: `yield from` gives it, or `drained`.
Work = Generator[None, None, T]

#: Steps between two pauses. A step is one branch looked at, a few microseconds.
SLICE = 2_000


class Meter:
    """Counts the steps of one search, and how many are left to its next pause."""

    def __init__(self):
        self.steps = 0
        self._pause_at = SLICE

    def add(self, steps: int) -> None:
        """Counts work that has been done."""
        self.steps += steps

    def pause(self) -> Iterator[None]:
        """Yields once when a slice is full. To be used with `yield from`.

        >>> meter = Meter()
        >>> meter.add(1_999); len(list(meter.pause()))
        0
        >>> meter.add(1); len(list(meter.pause()))
        1
        """
        if self.steps >= self._pause_at:
            self._pause_at = self.steps + SLICE
            yield


def drained(working: Work[T]) -> T:
    """What work that gives way in between comes to, without the pauses."""
    while True:
        try:
            next(working)
        except StopIteration as end:
            return end.value
