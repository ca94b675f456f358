"""Strips across the usable width: which are cut, and what each gives.

Strips of one width are shared by slanted and straight pieces alike, see `sharing`. A run of slanted pieces begins with
its own starter cut, so that the pieces of a shared strip can really be cut from it, one kind after the other."""

from dataclasses import dataclass
from fractions import Fraction

from ..shapes import Parallelogram, Rectangle
from ..strips import joined, pieces_in
from .demands import Chain, Pieces
from .filling import Fill, KindInStrip, taken
from .sharing import shared

Gives = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Strips:
    """So many strips alike: their width, what each gives (pieces by id; a joined strip gives
    its length), how much is used.
    """

    size: Fraction
    times: int
    gives: Gives
    used: float
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Cannot:
    """A demand that this cloth cannot meet, with the code of the reason and the length it would need."""

    id: str
    reason: str
    needs: float


def strips_for(demands: list[Pieces], run: float) -> tuple[list[Strips], list[Cannot]]:
    """The strips that give all pieces, widest first, and what cannot be cut from strips of this length.

    Pieces longer than the strip are joined end to end from whole strips where they are strips themselves: rectangles,
    and sashing with slanted ends.

    >>> from matside.shapes import Diamond
    >>> large = Pieces("wall", Diamond(Fraction(13, 2), Fraction(60)), 34)
    >>> [(strips.times, strips.gives) for strips in strips_for([large], 42)[0]]
    [(6, (('wall', 5),)), (1, (('wall', 4),))]
    """
    wanted = [demand for demand in demands if demand.need]
    fitting = [demand for demand in wanted if pieces_in(demand.shape, run)]
    long = [(demand, joined_strips(demand, run)) for demand in wanted if not pieces_in(demand.shape, run)]
    cannot = [Cannot(demand.id, "too_long_for_width", demand.long) for demand, made in long if not made]
    found = [
        strips for size in _sizes(fitting) for strips in _of_one_size([d for d in fitting if d.shape.size == size], run)
    ]
    found += [made for _, made in long if made]
    return sorted(found, key=lambda strips: -strips.size), cannot


def chain(demand: Chain, run: float) -> Strips | Cannot:
    """The strips of a long joined strip.

    >>> chain(Chain("binding", Fraction(5, 2), 240.0, 2.5), 42).times
    7
    """
    if run <= demand.join_takes:
        return Cannot(demand.id, "too_narrow_to_join", demand.join_takes)
    return Strips(demand.width, joined(demand.length, run, demand.join_takes), ((demand.id, 1),), run, True)


def _sizes(demands: list[Pieces]) -> list[Fraction]:
    return sorted({demand.shape.size for demand in demands}, reverse=True)


def _of_one_size(demands: list[Pieces], run: float) -> list[Strips]:
    """The strips of one width. Kinds go by their measures, so that it is all one in which order they are listed."""
    size = demands[0].shape.size
    ordered = sorted(demands, key=lambda demand: (_kind(demand), demand.id))
    kinds = [_kind(demand) for demand in ordered]
    return [_strips(ordered, kinds, size, fill, times) for fill, times in shared(kinds, run)]


def _kind(demand: Pieces) -> KindInStrip:
    return KindInStrip(demand.shape.starter_waste, demand.shape.advance, demand.need)


def _strips(demands: list[Pieces], kinds: list[KindInStrip], size: Fraction, fill: Fill, times: int) -> Strips:
    gives: dict[str, int] = {}
    for demand, count in zip(demands, fill, strict=True):
        if count:
            gives[demand.id] = gives.get(demand.id, 0) + count
    return Strips(size, times, tuple(gives.items()), taken(kinds, fill))


def joined_strips(demand: Pieces, run: float) -> Strips | None:
    """Strips joined end to end, from which all pieces of a kind are cut; None where they
    fit whole, or cannot be joined.

    >>> from matside.shapes import Rectangle
    >>> border = Pieces("border", Rectangle(Fraction(4), Fraction(60)), 2)
    >>> joined_strips(border, 42).times, joined_strips(border, 60)
    (3, None)
    """
    if (
        pieces_in(demand.shape, run)
        or not isinstance(demand.shape, Rectangle | Parallelogram)
        or run <= demand.join_takes
    ):
        return None
    total = demand.need * demand.long
    count = joined(total, run, demand.join_takes)
    return Strips(demand.shape.size, count, ((demand.id, demand.need),), run, True)
