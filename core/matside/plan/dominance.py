"""Leaving out patterns that make no more of any kind than another pattern does."""

from .meter import Meter, Work


def undominated(found: list[tuple[int, ...]], meter: Meter) -> Work[list[tuple[int, ...]]]:
    """Those of the tuples that are not, number for number, at most as large as another one of them.

    The tuples must be different, and come in an order in which a larger one stands before all it dominates.

    >>> from matside.plan.meter import drained
    >>> drained(undominated([(3, 1), (1, 2), (2, 1), (1, 1)], Meter()))
    [(3, 1), (1, 2)]
    """
    if not found:
        return []
    # For each place and rank of a number: which of those kept have a number at least as large, one bit for each.
    ranks = [{number: rank for rank, number in enumerate(sorted(set(column)))} for column in zip(*found)]
    at_least = [[0] * len(rank) for rank in ranks]
    kept = []
    for numbers in found:
        places = [rank[number] for rank, number in zip(ranks, numbers)]
        larger = -1
        for place, bits in zip(places, at_least):
            larger &= bits[place]
            if not larger:
                break
        if not larger:
            _keep(at_least, places, 1 << len(kept))
            kept.append(numbers)
            # The longer the rows of bits, the longer they take.
            meter.add(len(numbers) * (4 + len(kept) // 200))
        meter.add(1)
        yield from meter.pause()
    return kept


def _keep(at_least: list[list[int]], places: list[int], bit: int) -> None:
    for place, bits in zip(places, at_least):
        for rank in range(place + 1):
            bits[rank] |= bit
