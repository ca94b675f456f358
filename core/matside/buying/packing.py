"""Packing lengths into as few boxes as the longest-first rule finds, many alike at a time."""

from ..units import SAME


def filled(parts: list[tuple[float, int]], room: float) -> int:
    """How many boxes of a length the parts fill: (length, how many) each, the longest first, each into the first with room.

    No part may be longer than a box.

    >>> filled([(8.0, 3), (4.0, 1)], 20.0)
    2
    """
    groups: list[list] = []  # [room left, how many boxes alike]
    for size, count in sorted(parts, reverse=True):
        count = _into(groups, size, count)
        per_box = int((room + SAME) // size)
        full, rest = divmod(count, per_box)
        groups += [[room - per_box * size, full]] if full else []
        groups += [[room - rest * size, 1]] if rest else []
    return sum(many for _, many in groups)


def _into(groups: list[list], size: float, count: int) -> int:
    """Puts parts into what is left of boxes already begun; how many found no room."""
    for group in list(groups):
        room, many = group
        fits = int((room + SAME) // size)
        placed = min(count, fits * many)
        full, rest = divmod(placed, fits) if fits else (0, 0)
        groups += [[room - fits * size, full]] if full else []
        groups += [[room - rest * size, 1]] if rest else []
        group[1] -= full + bool(rest)
        count -= placed
    groups[:] = [group for group in groups if group[1]]
    return count
