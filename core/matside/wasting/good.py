"""Which sizes are good ones, and what of them a ruler can lay."""

from dataclasses import dataclass
from fractions import Fraction

from ..cloth import HAIR
from .curve import CurveStep


@dataclass(frozen=True, slots=True)
class Mark:
    """What a ruler can lay of a step: the largest `laid` size on its lines that still gives as
    many, None where there is none.

    `share` is the part of the cloth that the pieces take at the laid size; `good` marks a cliff's step whose
    share is more than those of the steps before and after it that can be laid. Of the very first nobody
    knows what is before it."""

    laid: Fraction | None
    share: float
    good: bool


def marked(steps: list[CurveStep], least: Fraction, ruler: Fraction, share) -> list[Mark]:
    """A mark for every step; `share` gives the part of the cloth that so many pieces of a size take.

    >>> steps = [CurveStep(Fraction(14, 3), 9, True), CurveStep(Fraction(7), 4, True), CurveStep(Fraction(8), 1, False)]
    >>> marks = marked(steps, Fraction(4), Fraction(1, 8), lambda size, pieces: float(size * size * pieces / 196))
    >>> [(float(mark.laid), round(mark.share, 2), mark.good) for mark in marks]
    [(4.625, 0.98, False), (7.0, 1.0, True), (8.0, 0.33, False)]
    """
    laid = [_laid(step, below, ruler) for step, below in zip(steps, [least - HAIR, *(step.size for step in steps)])]
    shares = [share(size, step.pieces) if size else 0.0 for step, size in zip(steps, laid)]
    can = [number for number, (step, size) in enumerate(zip(steps, laid)) if size and step.pieces]
    good = {
        number
        for before, number, *after in (can[place : place + 3] for place in range(len(can) - 1))
        if steps[number].cliff and all(shares[number] > shares[other] for other in (before, *after))
    }
    return [Mark(size, shares[number], number in good) for number, size in enumerate(laid)]


def _laid(step: CurveStep, below: Fraction, ruler: Fraction) -> Fraction | None:
    size = (step.size + HAIR) // ruler * ruler
    return size if size > below and size > 0 else None
