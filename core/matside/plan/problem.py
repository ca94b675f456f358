"""What one search is about: kinds of pieces that are needed, and sorts of cloth they can be cut from."""

from collections.abc import Callable, Iterator
from operator import mul

from .meter import Meter, Work, drained
from .patterns import Patterns
from .ways import WeightedKind

#: Weights are whole numbers and so a little off: by less than this share.
_ROUNDING = 1e-6


def dot(xs, ys):
    """The sum of products.

    >>> dot((1, 2), (3, 4))
    11
    """
    return sum(map(mul, xs, ys))


def less(needs: tuple[int, ...], made: tuple[int, ...]) -> tuple[int, ...]:
    """What is still needed, nothing below 0.

    >>> less((5, 1), (2, 3))
    (3, 0)
    """
    return tuple([need - done if need > done else 0 for need, done in zip(needs, made)])


class Sort:
    """Cloths that are alike: their area as a whole number, how many there are, what can be cut from one.

    `most` is how many pieces of each kind one of them gives undivided and of no other kind; the patterns are only
    made when they are asked for, as a thousand cloths take a while.
    """

    def __init__(self, make: Callable[[], Iterator[None]], area: int, count: int, most: tuple[int, ...]):
        self._make = make
        self._patterns: Patterns | None = None
        self.area = area
        self.count = count
        self.most = most

    def ready(self) -> Work[Patterns]:
        """All that can be cut from one of them, giving way while it is made."""
        if self._patterns is None:
            self._patterns = yield from self._make()
        return self._patterns

    @property
    def patterns(self) -> Patterns:
        """The same at once."""
        return drained(self.ready())

    def fewer(self, count: int) -> "Sort":
        """The same sort with another number of cloths; patterns that are made already are not made again."""
        return Sort(self.ready, self.area, count, self.most)


class Problem:
    """Kinds and sorts; areas of pieces as whole-number weights (see `weights`), areas of cloths in another unit.

    `heaviness` is the weight of pieces of one unit of cloth. The needs are those of the kinds, or less.
    """

    def __init__(
        self,
        kinds: list[WeightedKind],
        sorts: list[Sort],
        meter: Meter,
        heaviness: float,
        needs: tuple[int, ...] | None = None,
    ):
        self.kinds = kinds
        self.sorts = sorts
        self.meter = meter
        self.heaviness = heaviness
        self.needs = needs or tuple(kind.need for kind in kinds)
        self.weights = tuple(kind.weight for kind in kinds)
        self.total = dot(self.weights, self.needs)
        self.counts = tuple(sort.count for sort in sorts)

    def missing(self, needs: tuple[int, ...]) -> float:
        """The weight of what is still needed."""
        return dot(self.weights, needs)

    def area(self, opened: tuple[int, ...]) -> int:
        """The area of so many opened cloths of each sort."""
        return sum(sort.area * number for sort, number in zip(self.sorts, opened))

    def area_of(self, weight: float) -> int:
        """The area of cloth that pieces of so much weight take up at least."""
        return int(weight / self.heaviness * (1 - _ROUNDING))

    def weight_of(self, area: int) -> float:
        """The weight of pieces that can lie in so much cloth at most."""
        return area * self.heaviness * (1 + _ROUNDING)

    def left(self, cutting) -> tuple[int, ...]:
        """What a cutting leaves missing of each kind."""
        left = self.needs
        for _, pattern, times in cutting:
            left = less(left, tuple([times * made for made in pattern.made]))
        return left

    def opened(self, cutting) -> tuple[int, ...]:
        """How many cloths of each sort a cutting opens."""
        numbers = [0] * len(self.sorts)
        for sort, _, times in cutting:
            numbers[sort] += times
        return tuple(numbers)
