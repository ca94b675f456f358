"""What a fabric is wanted for. Lengths in inches."""

from dataclasses import dataclass, replace
from fractions import Fraction

from ..quilt.around.backing import Backing
from ..quilt.around.binding import Binding
from ..shapes import Shape


@dataclass(frozen=True, slots=True)
class Pieces:
    """So many pieces of one kind, to be cut from strips as wide as the piece.

    `join_takes` is what a join takes from the length when the piece is longer than the cloth is wide. `each` is what
    one of them gives: two triangles where it is a rectangle that is cut from corner to corner."""

    id: str
    shape: Shape
    need: int
    join_takes: float = 0.5
    each: int = 1

    @property
    def long(self) -> float:
        """Length of strip that one piece takes by itself."""
        return self.shape.starter_waste + self.shape.advance


@dataclass(frozen=True, slots=True)
class Chain:
    """One long strip joined from many, like a straight binding: its cut width, its length, what each join takes."""

    id: str
    width: Fraction
    length: float
    join_takes: float


@dataclass(frozen=True, slots=True)
class BiasChain:
    """One long strip joined from many that are cut on the bias."""

    id: str
    binding: Binding
    length: float


@dataclass(frozen=True, slots=True)
class Lengths:
    """So many lengths at the full width of the cloth."""

    id: str
    length: float
    times: int


@dataclass(frozen=True, slots=True)
class Backed:
    """The backing of a quilt of a finished size, joined from panels."""

    id: str
    width: float
    height: float
    backing: Backing


Demand = Pieces | Chain | BiasChain | Lengths | Backed


def with_spare(demand: Demand, percent: Fraction, pieces: int) -> Demand:
    """The demand with spare pieces: so many in a hundred, rounded up, and so many more; nothing stays nothing.

    >>> from matside.shapes import Rectangle
    >>> with_spare(Pieces("a", Rectangle(Fraction(2), Fraction(2)), 41), Fraction(5), 1).need
    45
    """
    if not isinstance(demand, Pieces) or not demand.need:
        return demand
    need = demand.need + -(-demand.need * percent // 100) + pieces
    return replace(demand, need=int(need))


def times(demand: Pieces, count: int) -> Pieces:
    """The pieces of so many alike quilts together.

    >>> from matside.shapes import Rectangle
    >>> times(Pieces("a", Rectangle(Fraction(2), Fraction(2)), 41), 3).need
    123
    """
    return replace(demand, need=demand.need * count)
