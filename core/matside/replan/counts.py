"""Counts of pieces by the id of their kind. What is not named counts 0; a count may be
below 0, where one was put right.
"""

Counts = dict[str, int]


def added(*counts: Counts) -> Counts:
    """The sums by id.

    >>> added({"a": 2}, {"a": 1, "b": 3})
    {'a': 3, 'b': 3}
    >>> added()
    {}
    """
    found: Counts = {}
    for some in counts:
        for name, number in some.items():
            found[name] = found.get(name, 0) + number
    return found


def less(counts: Counts, others: Counts) -> Counts:
    """The differences by id.

    >>> less({"a": 2}, {"a": 1, "b": 3})
    {'a': 1, 'b': -3}
    """
    return added(counts, {name: -number for name, number in others.items()})


def above_zero(counts: Counts) -> Counts:
    """Those that are above 0.

    >>> above_zero({"a": 2, "b": 0, "c": -1})
    {'a': 2}
    """
    return {name: number for name, number in counts.items() if number > 0}
