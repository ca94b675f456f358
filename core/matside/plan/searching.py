"""A search as the steps that it hands itself to know it: the best plan so far, what is proved, and where more goes."""

from collections.abc import Callable, Iterator
from typing import Protocol

from .opened import Areas
from .places import Cutting
from .prices import Book, Mixture
from .problem import Problem


class Searching(Protocol):
    """The best plan so far of a problem; `search.Search` is one.

    `cutting` misses pieces of the weight `missing` and opens cloths of the area `area`. No plan misses less than
    `least_missing`, and none that misses as little opens less than `least_area`."""

    problem: Problem
    book: Book
    cutting: Cutting
    missing: float
    area: int
    least_missing: float
    least_area: int

    @property
    def proven(self) -> bool:
        """Whether no plan does better."""

    @property
    def areas(self) -> Areas:
        """The areas that sets of cloths have, no more than the best plan opens."""

    def run(self) -> Iterator[None]:
        """Searches until it is proved that no plan is better."""

    def take(self, cutting: Cutting) -> None:
        """Keeps a cutting if it is better than the best so far."""

    def learn_bounds(self) -> None:
        """What all known prices prove."""

    def round_off(self, mixed: Mixture) -> Iterator[None]:
        """Takes whole cloths from a mixture and searches for the rest."""


#: Makes a search for a part of a problem.
Starts = Callable[[Problem], Searching]
