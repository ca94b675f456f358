"""What it rests on that no plan does better: prices and searches, written so that anyone can check them.

For any prices of 0 up to a piece's weight, the pieces that a set of cloths leaves missing weigh at least prices · needs
− Σ (the most that one cloth of the set is worth at these prices). A set for which that is more than the plan misses is
ruled out by prices. A set that may open no more of any sort than one that was searched in full is ruled out by search.
A proof is good where its prices and searches are, and every set of less area than the plan's is ruled out."""

from dataclasses import dataclass

from .groups import Built
from .search import Search


@dataclass(frozen=True, slots=True)
class ByPrices:
    """A price of each kind, and the most that a cloth of each sort is worth, in weights; None for a
    sort that was not looked at.
    """

    prices: tuple[int, ...]
    worths: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class BySearch:
    """No cutting of at most so many cloths of each sort misses as little as `missing`, a weight.

    Where there is an `area`, in square inches, that is said of cuttings that open less than it only.
    """

    opened: tuple[int, ...]
    missing: int
    area: float | None


@dataclass(frozen=True, slots=True)
class Proof:
    """The proof for one group of needs and cloths, given by their numbers; `sorts` are (numbers of
    the cloths, how many count).
    """

    needs: tuple[int, ...]
    weights: tuple[int, ...]
    sorts: tuple[tuple[tuple[int, ...], int], ...]
    missing: int
    by_prices: list[ByPrices]
    by_search: list[BySearch]


def proof(built: Built, search: Search, quantum: int) -> Proof:
    """What the search of a group found out so far: a proof where the search is proven, and true in any case."""
    problem = search.problem
    sorts = tuple((tuple(numbers), sort.count) for numbers, sort in zip(built.members, problem.sorts))
    by_prices = [
        ByPrices(_whole(prices.prices), _worths(prices.worths, len(sorts)))
        for prices in search.book.prices.values()
        if any(prices.prices)
    ]
    by_search = [
        BySearch(item.opened, int(item.allowed), item.below and item.below / quantum) for item in search.book.searched
    ]
    return Proof(built.group.needs, _whole(problem.weights), sorts, int(search.missing), by_prices, by_search)


def _whole(numbers) -> tuple[int, ...]:
    return tuple([int(number) for number in numbers])


def _worths(worths: dict[int, float], sorts: int) -> tuple[int | None, ...]:
    return tuple([int(worths[sort]) if sort in worths else None for sort in range(sorts)])
