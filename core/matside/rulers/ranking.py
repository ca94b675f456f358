"""Which way is better, and what is to be said for one lower in the list.

One ruler before two; both lines at once before a measure line alone before a mark; a line that is there before one
between ticks; face up before turned over; long overlap before short. Two marks come last.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from .placements import Placement
from .way import Way

_KINDS = ("both_lines", "corner_and_angle", "angle_line", "measure_only", "mark_and_angle", "two_marks")
#: A line is called longer only when it is by half: less is not felt.
MUCH_LONGER = 1.5
#: Beyond so many ways with two rulers of one kind, more pairs of the same help nobody.
MOST_PAIRS = 3


def best_first(placements: Iterable[Placement]) -> list[Placement]:
    """The best placement of each sort, best first."""
    best: dict[tuple, Placement] = {}
    for placement in sorted(placements, key=_rank):
        best.setdefault(_sort(placement), placement)
    return list(_few_pairs([one for one in best.values() if not _has_better_twin(one, best.values())]))


def _rank(placement: Placement) -> tuple:
    line, over = placement.line, placement.over
    return (
        placement.kind == "two_marks",
        len(placement.seats),
        _KINDS.index(placement.kind),
        placement.between_ticks,
        placement.turned_over,
        bool(line and line.hard_to_see),
        placement.slide is not None,
        -round(placement.overlap, 6),
        not placement.covers_piece,
        placement.seats[0].laid.edge,
        bool(placement.hold and placement.hold.laid_on == "far_edge"),
        tuple(-round(min(one, 1.0), 6) for one in over),
        tuple(round(one, 6) for one in over),
        placement.rulers,
    )


def _sort(placement: Placement) -> tuple:
    """Placements of the same sort differ only in where the ruler sits."""
    line = placement.line
    printed = line and (line.degrees, line.edge, placement.rulers[placement.held_by])
    return (placement.kind, frozenset(placement.rulers), placement.seats[0].laid.edge, printed)


def _has_better_twin(placement: Placement, others: Iterable[Placement]) -> bool:
    """Whether the same rulers along the same edge also lay an angle line, so that nobody would measure only."""
    sort = _sort(placement)[1:3]
    return placement.kind == "measure_only" and any(
        other.kind == "both_lines" and other.slide is None and _sort(other)[1:3] == sort for other in others
    )


def _few_pairs(placements: Sequence[Placement]) -> Iterator[Placement]:
    pairs: dict[str, int] = {}
    for placement in placements:
        if len(placement.seats) > 1:
            pairs[placement.kind] = pairs.get(placement.kind, 0) + 1
        if pairs.get(placement.kind, 0) <= MOST_PAIRS or len(placement.seats) == 1:
            yield placement


def with_notes(ways: Sequence[Way]) -> list[Way]:
    """The ways, each saying what it has that the first of the list has not."""
    return [replace(way, notes=way.notes + tuple(_better_than(way, ways[0]))) for way in ways]


def _better_than(way: Way, first: Way) -> Iterator[str]:
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
