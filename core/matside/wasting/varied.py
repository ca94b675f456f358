"""A piece whose size is left open: everything else that describes it stays as it is."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..errors import Refusal
from ..fields import Fields
from ..pieces import DEFAULT_SEAM, read_piece
from ..shapes import Shape, Trapezoid, half_hexagon

#: The base of half a hexagon is rounded to the tenth decimal.
_ROUNDED = 1e-9


@dataclass(frozen=True, slots=True)
class Varied:
    """A piece by its strip's width: `at` gives its shape; what its cuts take grows by a fixed
    amount with every inch of width.

    The starter cut of a piece of size s takes `starter[0] + starter[1] · s` along the strip, every piece `advance[0] +
    advance[1] · s`, and has an area of `s · (advance[0] + advance[1] · s)`: all in inches. A piece whose measures are
    rounded keeps a `hair` below what is worked out so.

    >>> diamond = Varied.of(lambda size: read_piece(Fields({"size": float(size), "angle": 90})))
    >>> diamond.starter, diamond.advance
    ((0.0, 0.0), (0.0, 1.0))
    """

    at: Callable[[Fraction], Shape]
    starter: tuple[float, float]
    advance: tuple[float, float]
    hair: float = 0.0

    @classmethod
    def of(cls, at: Callable[[Fraction], Shape], hair: float = 0.0) -> "Varied":
        """The piece with what its cuts take, read off two of its sizes."""
        one, two = at(Fraction(4)), at(Fraction(8))
        return cls(at, _line(one.starter_waste, two.starter_waste), _line(one.advance, two.advance), hair)


def _line(at_four: float, at_eight: float) -> tuple[float, float]:
    """What is there at a size of 0, and what every inch adds."""
    slope = (at_eight - at_four) / 4
    start = at_four - 4 * slope
    return (0.0 if abs(start) < 1e-12 else start), slope


def read_varied(fields: Fields) -> tuple[Varied, Fraction]:
    """The piece of a request with its size left open, and the size that it gives.

    A parallelogram keeps its `across`, a rectangle its `length`; half a hexagon, a diamond and half of one keep their
    form. A trapezoid with a base of its own would change its form, and is refused."""
    shape = read_piece(fields)
    if isinstance(shape, Trapezoid):
        if fields.has("base"):
            raise Refusal(fields.at("base"), "size_changes_form")
        seam = fields.length_or_zero("seam", DEFAULT_SEAM)
        return Varied.of(lambda size: half_hexagon(size, seam), _ROUNDED), shape.size
    return Varied.of(lambda size: replace(shape, size=size)), shape.size
