"""What every setting tells: its tiling, and how large it comes out for so many columns and rows."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ...errors import Refusal
from .tilings import Tiling

EDGES = ("pointed", "trimmed", "filled")
Pair = tuple[float, float]
Unit = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Extent:
    """How an edge treatment bounds the tiling: the top left corner of the finished area, and
    what it has beyond its steps.
    """

    corner: Pair
    beyond: Pair = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting of one piece, standing, in finished measures.

    `step` is the width and height that one more column or row adds; `extents` has an entry for each edge treatment that
    the setting can have; `units` gives the rows and columns of the units that `columns` × `rows` of the setting are
    made of; `scale` is what sashing leaves of a tile (1 for none).
    """

    name: str
    tiling: Tiling
    step: Pair
    extents: dict[str, Extent]
    units: Callable[[int, int], Iterator[Unit]]
    scale: float = 1.0

    def extent(self, edge: str) -> Extent:
        """The extent of an edge treatment; refused when the setting does not have it."""
        if edge not in self.extents:
            raise Refusal("edge", "edge_not_here", given=edge, choices=", ".join(sorted(self.extents)))
        return self.extents[edge]

    def finished(self, edge: str, columns: int, rows: int) -> Pair:
        """Finished width and height of so many columns and rows."""
        beyond = self.extent(edge).beyond
        # A single pointed column of staggered units steps half a unit to the side.
        aside = self.step[0] / 2 if self.units is staggered and edge == "pointed" and columns == 1 < rows else 0.0
        return columns * self.step[0] + beyond[0] + aside, rows * self.step[1] + beyond[1]


def staggered(columns: int, rows: int) -> Iterator[Unit]:
    """Units in rows that are set off by half a step: `columns` in the first row, one fewer in the second, and so on.

    Columns count by half steps. A single column has one unit in every row, stepping left and right.

    >>> list(staggered(2, 2)), list(staggered(1, 2))
    ([(0, 0), (0, 2), (1, 1)], [(0, 0), (1, 1)])
    """
    for row in range(rows):
        last = 2 * columns - 1 if row % 2 == 0 or columns == 1 else 2 * columns - 2
        yield from ((row, column) for column in range(row % 2, max(last, row % 2 + 1), 2))


def squared(columns: int, rows: int) -> Iterator[Unit]:
    """Units straight above each other.

    >>> list(squared(2, 1))
    [(0, 0), (0, 1)]
    """
    yield from ((row, column) for row in range(rows) for column in range(columns))
