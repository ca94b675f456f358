"""The sizes at which a cloth can give fewer pieces, by what its cuts take.

So many strips lie side by side up to the size across / n. A strip gives m pieces up to the size at which its starter
cut and m pieces take all of its run; where a cloth is divided, i strips come off that run first, each as wide as the
size. All of that grows by a fixed amount with the size, so each such size is worked out at once, and between two of
them no number can change."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

from ..cloth import OTHER, fits, most_pieces
from ..errors import Refusal
from ..strips import pieces_in
from .varied import Varied

#: More sizes than this are not looked at for one cloth.
MOST_SIZES = 20_000
#: Two such sizes nearer than this, in inches, are one: far below any cut, far above float noise.
ONE = 1e-9
_NOISE = 1e-12


@dataclass(frozen=True, slots=True)
class Stock:
    """Cloths alike: their sides in inches, how many, and the sides that strips may run along
    (both: a cloth may be divided).

    `fitted` cloths are strips that are cut as wide as the piece; then `length` is not there, and
    their strip runs along the width.

    >>> from ..fields import Fields
    >>> from .varied import read_varied
    >>> diamond, _ = read_varied(Fields({"size": 4, "angle": 52}))
    >>> stock = Stock(Fraction(27), Fraction(31), 1, ("length", "width"))
    >>> stock.pieces(diamond, Fraction(27, 8)), stock.area
    (50, 837.0)
    """

    length: Fraction | None
    width: Fraction
    count: int
    sides: tuple[str, ...]

    @property
    def fitted(self) -> bool:
        """Whether its strips are cut to the piece's width."""
        return self.length is None

    @property
    def area(self) -> float:
        """Square inches of all of them; of fitted strips for every inch of their width."""
        return float((1 if self.fitted else self.length) * self.width * self.count)

    def pieces(self, piece: Varied, size: Fraction) -> int:
        """How many pieces of a size all of them give."""
        shape = piece.at(size)
        if self.fitted:
            return pieces_in(shape, self.width) * self.count
        if len(self.sides) > 1:
            return most_pieces(shape, self.length, self.width) * self.count
        return (
            sum(fits(self._across(side), size) * pieces_in(shape, self._run(side)) for side in self.sides) * self.count
        )

    def sizes(self, piece: Varied, least: Fraction, most: Fraction) -> list[Fraction]:
        """All sizes from `least` to `most` at which its number may fall, in their order."""
        low, high = float(least) - ONE, float(most) + ONE
        found: list[float] = []
        for size in self._places(piece, low):
            if low <= size <= high:
                found.append(size)
                if len(found) > MOST_SIZES:
                    raise Refusal("from", "sizes_too_many", given=float(least))
        sizes = (_plain(size - piece.hair) for size in _apart(sorted(found)))
        return [size for size in sizes if least <= size <= most]

    def _places(self, piece: Varied, least: float) -> Iterator[float]:
        if self.fitted:
            yield from _ends(piece, self.width, 0, least)
            return
        for side in self.sides:
            run, across = float(self._run(side)), float(self._across(side))
            yield from (across / n for n in range(1, int(across / least) + 1))
            for strips in range(int(run / least) + 1 if len(self.sides) > 1 else 1):
                yield from _ends(piece, run, strips, least)

    def _run(self, side: str) -> Fraction:
        return self.length if side == "length" else self.width

    def _across(self, side: str) -> Fraction:
        return self._run(OTHER[side])


def _ends(piece: Varied, run: Fraction | float, strips: int, least: float) -> Iterator[float]:
    """The sizes up to which m = 1, 2, 3 … pieces follow so many strips in a run, the largest
    first, down to the least.
    """
    (start, starter), (fixed, advance) = piece.starter, piece.advance
    for pieces in count(1):
        grows, left = strips + starter + pieces * advance, float(run) - start - pieces * fixed
        if grows < _NOISE or left < least * grows:
            return  # no size changes anything, or the rest of them are below the least
        yield left / grows


def _plain(size: float) -> Fraction:
    """The plain fraction that float noise hides, if there is one."""
    exact, plain = Fraction(size), Fraction(size).limit_denominator(1000)
    return plain if abs(plain - exact) < _NOISE else exact


def _apart(sizes: list[float]) -> list[float]:
    """Without those that are one with the size before."""
    found: list[float] = []
    for size in sizes:
        if not found or size - found[-1] > ONE:
            found.append(size)
    return found
