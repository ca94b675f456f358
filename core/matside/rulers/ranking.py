"""Which way is better, and what is to be said for one lower in the list.

One ruler before two; both lines at once before a measure line alone before a mark; a line that is there before one
between ticks; face up before turned over; long overlap before short. Two marks come last.
"""

from collections.abc import Iterable
from dataclasses import replace

from .way import Way

_KINDS = ("both_lines", "corner_and_angle", "angle_line", "measure_only", "mark_and_angle", "two_marks")
#: A line is called longer only when it is by half: less is not felt.
MUCH_LONGER = 1.5


def best_first(ways: Iterable[Way]) -> list[Way]:
    """The best way of each sort, best first, each with its notes."""
    best: dict[tuple, Way] = {}
    for way in sorted(ways, key=_rank):
        best.setdefault(_sort(way), way)
    return _with_notes([way for way in best.values() if not _has_better_twin(way, best.values())])


def _rank(way: Way) -> tuple:
    line = way.angle_line
    return (
        way.kind == "two_marks",
        len(way.rulers),
        _KINDS.index(way.kind),
        "between_ticks" in way.notes,
        way.turned_over,
        bool(line and line.hard_to_see),
        way.slide is not None,
        -round(way.overlap, 6),
        not way.covers_piece,
        way.cut_edge,
        line.laid_on == "far_edge" if line else False,
        tuple(-round(min(over, 1.0), 6) for over in way.over),
        tuple(round(over, 6) for over in way.over),
        way.rulers,
    )


def _sort(way: Way) -> tuple:
    """Ways of the same sort differ only in where the ruler sits."""
    line = way.angle_line
    return (way.kind, frozenset(way.rulers), way.cut_edge, line and (line.degrees, line.edge, line.ruler))


def _has_better_twin(way: Way, ways: Iterable[Way]) -> bool:
    """Whether the same rulers along the same edge also lay an angle line, so that nobody would measure only."""
    return way.kind == "measure_only" and any(
        other.kind == "both_lines" and other.slide is None and set(other.rulers) == set(way.rulers)
        and other.cut_edge == way.cut_edge for other in ways
    )  # fmt: skip


def _with_notes(ways: list[Way]) -> list[Way]:
    return [replace(way, notes=way.notes + tuple(_better_than(way, ways[0]))) for way in ways]


def _better_than(way: Way, first: Way) -> Iterable[str]:
    """What a way has that the first of the list has not."""
    if way.covers_piece and first.covers_piece is False:
        yield "safer_covers_piece"
    if way.checks_angle and not first.checks_angle:
        yield "more_exact_checks_angle"
    elif way.kind == "mark_and_angle" and first.kind == "measure_only":
        yield "more_exact_angle_anew"
    elif way.kind == first.kind and way.overlap >= MUCH_LONGER * first.overlap > 0:
        yield "more_exact_longer_line"
    if "between_ticks" in first.notes and "between_ticks" not in way.notes and way.measure is not None:
        yield "more_exact_on_a_line"
