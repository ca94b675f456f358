"""How many pieces cloths give together, from one cliff to the next."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from .cliffs import ONE, Stock
from .varied import Varied

#: So many sizes are looked at between two pauses.
_SLICE = 50


@dataclass(frozen=True, slots=True)
class CurveStep:
    """From just above the step before up to `size`, all cloths give so many `pieces`; a cliff where
    they give fewer just above it.
    """

    size: Fraction
    pieces: int
    cliff: bool


class Curve:
    """The steps of all cloths from one size to another, resumable: `run` yields the part that is done,
    `steps` are there at its end.

    >>> from ..fields import Fields
    >>> from .varied import read_varied
    >>> square, _ = read_varied(Fields({"size": 4, "angle": 90}))
    >>> curve = Curve(square, [Stock(Fraction(14), Fraction(14), 1, ("length",))], Fraction(4), Fraction(8))
    >>> _ = list(curve.run())
    >>> [(str(step.size), step.pieces, step.cliff) for step in curve.steps]
    [('14/3', 9, True), ('7', 4, True), ('8', 1, False)]
    """

    def __init__(self, piece: Varied, stocks: list[Stock], least: Fraction, most: Fraction):
        self._piece = piece
        self._stocks = stocks
        self._least = least
        self._most = most
        self._fewer: Counter = Counter()  # how many fewer there are just above a size
        self._at_least = 0
        self.steps: list[CurveStep] = []

    def run(self) -> Iterator[float]:
        """Works out one kind of cloth after the other."""
        for number, stock in enumerate(self._stocks):
            for part in self._add(stock):
                yield (number + part) / len(self._stocks)
        self.steps = list(self._stepped())

    def _add(self, stock: Stock) -> Iterator[float]:
        sizes = stock.sizes(self._piece, self._least, self._most)
        yield 0.0
        if not sizes or sizes[-1] < self._most:
            sizes.append(self._most)
        counts = []
        for size in sizes:
            counts.append(stock.pieces(self._piece, size))
            if len(counts) % _SLICE == 0:
                yield len(counts) / len(sizes)
        self._at_least += counts[0]
        for size, count, above in zip(sizes, counts, counts[1:]):
            if count > above:
                self._fewer[size] += count - above

    def _stepped(self) -> Iterator[CurveStep]:
        """Falls of several cloths that are one but for float noise make one step."""
        pieces, last = self._at_least, None
        for size in sorted(self._fewer):
            if last is None or size - last > ONE:
                yield CurveStep(size, pieces, True)
                last = size
            pieces -= self._fewer[size]
        if last is None or self._most - last > ONE:
            yield CurveStep(self._most, pieces, False)
