"""What one search is about: kinds of pieces that are needed, and sorts of cloth they can be cut from."""

from dataclasses import dataclass
from operator import mul

from .meter import Meter
from .patterns import Patterns
from .ways import Kind


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


@dataclass(frozen=True, slots=True)
class Sort:
    """Cloths that are alike: what can be cut from one, its area as a whole number, and how many there are."""

    patterns: Patterns
    area: int
    count: int


class Problem:
    """Kinds and sorts; areas of pieces as whole-number weights (see `weights`), areas of cloths in another unit."""

    def __init__(self, kinds: list[Kind], sorts: list[Sort], meter: Meter):
        self.kinds = kinds
        self.sorts = sorts
        self.meter = meter
        self.needs = tuple(kind.need for kind in kinds)
        self.weights = tuple(kind.weight for kind in kinds)
        self.total = dot(self.weights, self.needs)
        self.counts = tuple(sort.count for sort in sorts)

    def missing(self, needs: tuple[int, ...]) -> float:
        """The weight of what is still needed."""
        return dot(self.weights, needs)

    def area(self, opened: tuple[int, ...]) -> int:
        """The area of so many opened cloths of each sort."""
        return sum(sort.area * number for sort, number in zip(self.sorts, opened))

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
