"""How large a quilt so many pieces make."""

import math
from dataclasses import dataclass

from ...errors import Refusal
from ..settings.edges import Lay
from ..settings.setting import Setting

#: Quilts more than this many times as long as wide, against the wanted proportion, come last.
_LONGEST_SHAPE = 2.0
_OTHERS = 4


@dataclass(frozen=True, slots=True)
class Made:
    """What can be made: columns and rows, the whole diamonds they take, and the finished size in inches."""

    columns: int
    rows: int
    diamonds: int
    width: float
    height: float

    def stretched(self, proportion: float) -> float:
        """How far width : height is from the wanted proportion; 0 when equal."""
        return abs(math.log(self.width / self.height / proportion))


class Growth:
    """Whole diamonds by columns and rows of a setting with one edge treatment.

    From the second column and row on, every further one adds the same again, every second row alike: the first few are
    counted piece by piece, and the rest follows.

    >>> from ..settings.grid import grid
    >>> Growth(grid(3.5, 60), "filled").diamonds(500, 400)
    399101
    """

    def __init__(self, setting: Setting, edge: str):
        places = ((columns, rows) for columns in (1, 2, 3) for rows in (1, 2, 3, 4, 5))
        self._counted = {place: Lay(edge, *place).place(setting).counts().get("diamond", 0) for place in places}

    def diamonds(self, columns: int, rows: int) -> int:
        """How many whole diamonds."""
        if columns > 3:
            two, three = self.diamonds(2, rows), self.diamonds(3, rows)
            return two + (columns - 2) * (three - two)
        if rows > 5:
            first = 3 if rows % 2 else 2
            low, high = self._counted[columns, first], self._counted[columns, first + 2]
            return low + (rows - first) // 2 * (high - low)
        return self._counted[columns, rows]


def made_of(setting: Setting, edge: str, have: int, proportion: float = 1.0) -> list[Made]:
    """The best use of so many whole diamonds first, then up to four others.

    The one that uses most is best, the nearer to the wanted proportion (width / height) among equals; those more than
    twice as long or wide as wanted come last. Refused when there are too few for one column and row.

    >>> from ..settings.grid import grid
    >>> best = made_of(grid(3.5, 60), "filled", 41)[0]
    >>> best.columns, best.rows, best.diamonds
    (5, 5, 41)
    """
    growth = Growth(setting, edge)
    least = growth.diamonds(1, 1)
    if have < least:
        raise Refusal("have", "have_too_few", given=have, least=least)
    all_columns = range(1, _most_columns(setting, have) + 1)
    found = [
        _made(setting, edge, growth, columns, rows) for columns in all_columns if (rows := _rows(growth, columns, have))
    ]
    found.sort(key=lambda made: (_is_long(made, proportion), -made.diamonds, made.stretched(proportion)))
    return found[: 1 + _OTHERS]


def near(setting: Setting, edge: str, columns: int, rows: int) -> tuple[Made, ...]:
    """The same setting with one column or one row fewer, and with one more."""
    growth = Growth(setting, edge)
    places = ((columns - 1, rows), (columns, rows - 1), (columns + 1, rows), (columns, rows + 1))
    return tuple(_made(setting, edge, growth, *place) for place in places if all(place))


def _made(setting: Setting, edge: str, growth: Growth, columns: int, rows: int) -> Made:
    return Made(columns, rows, growth.diamonds(columns, rows), *setting.finished(edge, columns, rows))


def _is_long(made: Made, proportion: float) -> bool:
    return made.stretched(proportion) > math.log(_LONGEST_SHAPE)


def _most_columns(setting: Setting, have: int) -> int:
    """As many columns as a quilt four times as wide as high can have."""
    tiling = setting.tiling
    area = 2 * have * tiling.width * tiling.height / len(tiling.tiles)
    return math.ceil(2 * math.sqrt(area) / setting.step[0]) + 1


def _rows(growth: Growth, columns: int, have: int) -> int:
    """The most rows that so many columns can have; 0 for none."""
    low, high = 0, have + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if growth.diamonds(columns, middle) <= have else (low, middle)
    return low
