"""The sizes that a quilt can have while it keeps its proportion."""

import math
from dataclasses import replace

from ..quilt.geometry import Size, laid
from ..quilt.reading import Quilt


class Family:
    """A quilt's sizes from one column and one row up, as (columns, rows) as it hangs, numbered from 0.

    Each has one column or one row more than the one before: whichever leaves the ratio of the patchwork's sides
    nearer to that of the quilt at hand (a column where both do). Among all sizes of as many columns and rows
    together none is nearer; so the size at hand is one of them, with its own number `at_hand` (None where a trimmed
    edge has no columns and rows).

    >>> from ..fields import Fields
    >>> from ..quilt.reading import read_quilt
    >>> family = Family(read_quilt(Fields({"piece": {"size": 4, "angle": 60}, "columns": 4, "rows": 2})))
    >>> [family.steps(number) for number in range(5)], family.at_hand
    ([(1, 1), (2, 1), (3, 1), (3, 2), (4, 2)], 4)
    """

    def __init__(self, quilt: Quilt):
        geometry = quilt.geometry
        self._quilt = quilt
        self._setting = geometry.built()
        ground = laid(geometry)
        self._ratio = math.log(ground.standing.width / ground.standing.height)
        self._standing = [(1, 1)]
        counted = ground.lay.columns > 0
        self.at_hand = ground.lay.columns + ground.lay.rows - 2 if counted else None

    def steps(self, number: int) -> tuple[int, int]:
        """Columns and rows of a size."""
        while len(self._standing) <= number:
            columns, rows = self._standing[-1]
            self._standing.append(min(((columns + 1, rows), (columns, rows + 1)), key=self._off))
        columns, rows = self._standing[number]
        return (rows, columns) if self._quilt.geometry.lying else (columns, rows)

    def quilt(self, number: int) -> Quilt:
        """The quilt in a size. Pieces that were colored one by one are so in the size at hand
        alone: in another they are others. So with a top that was measured.
        """
        columns, rows = self.steps(number)
        geometry = replace(self._quilt.geometry, size=Size(columns=columns, rows=rows))
        if number == self.at_hand:
            return replace(self._quilt, geometry=geometry)
        return replace(self._quilt, geometry=geometry, top=None, colouring=replace(self._quilt.colouring, changes=()))

    def _off(self, steps: tuple[int, int]) -> float:
        width, height = self._setting.finished(self._quilt.geometry.edge, *steps)
        return round(abs(math.log(width / height) - self._ratio), 12)
