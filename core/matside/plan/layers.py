"""Which cuts several cloths have in common from their first edge on, so that they can lie one on another for them."""

from collections import Counter
from dataclasses import dataclass

from .layouts import Layout


@dataclass(frozen=True, slots=True)
class Layers:
    """So many cloths, this one among them, can lie one on another for so many first strips."""

    cloths: int
    strips: int


def layers(cut: list[tuple[tuple, int, Layout]]) -> list[Layers]:
    """For each layout, given as (what makes a cloth like another, how many cloths, layout):
    the layers of its first strips.

    In common are cuts of like cloths that are divided at the same place, as long as strip for strip runs the same way
    at the same width. Of a cloth that nothing else is like there is one."""
    cloths: Counter = Counter()
    for like, times, layout in cut:
        for cuts in _beginnings(layout):
            cloths[like, layout.division, cuts] += times
    return [_layers([cloths[like, layout.division, cuts] for cuts in _beginnings(layout)]) for like, _, layout in cut]


def _beginnings(layout: Layout) -> list[tuple]:
    """The layout's first strip, its first two, and so on: the side each runs along, its width, and where it lies."""
    cuts = [(laid.strip.along, laid.strip.size, laid.strip.x, laid.strip.y) for laid in layout.strips]
    return [tuple(cuts[: number + 1]) for number in range(len(cuts))]


def _layers(cloths: list[int]) -> Layers:
    return Layers(cloths[0], sum(1 for number in cloths if number == cloths[0])) if cloths else Layers(1, 0)
