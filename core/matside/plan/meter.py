"""Work counted in steps instead of time: when a search should pause, and when its budget is spent."""

from collections.abc import Iterator

#: Steps between two pauses. A step is one branch looked at, a few microseconds.
SLICE = 2_000


class WorkDone(Exception):
    """The budget is spent: whoever holds the best plan so far answers with it."""


class Meter:
    """Counts steps towards the next pause and towards the budget."""

    def __init__(self, work: int):
        self.work = work
        self.steps = 0
        self._pause_at = SLICE

    def add(self, steps: int) -> None:
        """Counts work that has been done."""
        self.steps += steps

    def pause(self) -> Iterator[None]:
        """Yields when a slice is full; raises `WorkDone` when the budget is spent. To be used with `yield from`.

        >>> meter = Meter(work=5_000)
        >>> meter.add(1_999); len(list(meter.pause()))
        0
        >>> meter.add(1); len(list(meter.pause()))
        1
        """
        if self.steps >= self._pause_at:
            self._pause_at = self.steps + SLICE
            yield
        if self.steps >= self.work:
            raise WorkDone

    def stop(self) -> None:
        """Ends the budget now."""
        self.work = 0
