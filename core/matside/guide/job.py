"""What is to be cut, as the guide takes it: cloths, the strips of each, and the pieces of each strip."""

from dataclasses import dataclass
from fractions import Fraction

from ..shapes import Shape


@dataclass(frozen=True, slots=True)
class PieceKind:
    """A kind of piece by its id, with the fabric it is cut from where that is known."""

    id: str
    shape: Shape
    fabric: str | None = None


@dataclass(frozen=True, slots=True)
class StripWork:
    """Strips of one kind in one part of a cloth: `strips` alike, each giving `count` pieces, each `run` long.

    `across` is the side of the part that they are cut off, as it is when their turn comes.
    """

    piece: PieceKind
    run: Fraction
    count: int
    strips: int
    along: str
    across: Fraction

    @property
    def size(self) -> Fraction:
        """The strips' width."""
        return self.piece.shape.size


@dataclass(frozen=True, slots=True)
class ClothWork:
    """One cloth to cut: its sides, the division before its strips are cut (side and place), and its strips."""

    id: str
    length: Fraction
    width: Fraction
    selvage: str | None
    works: tuple[StripWork, ...]
    division: tuple[str, Fraction] | None = None
    fabric: str | None = None

    @property
    def is_strip(self) -> bool:
        """Whether the cloth is one strip already, so that no strip is cut off it."""
        only = self.works[0] if len(self.works) == 1 else None
        return bool(only and only.strips == 1 and only.size == only.across)


@dataclass(frozen=True, slots=True)
class Job:
    """Everything a guide cuts, cloth after cloth."""

    cloths: tuple[ClothWork, ...]

    @property
    def kinds(self) -> tuple[PieceKind, ...]:
        """The kinds of piece, in the order in which they are first cut."""
        found = {work.piece.id: work.piece for cloth in self.cloths for work in cloth.works}
        return tuple(found.values())


@dataclass(frozen=True, slots=True)
class Habits:
    """How the user cuts: hand, how the strip lies, layers at once, and the cutting mat's longer side.

    `lay` is "along" (along the table's edge, the cut runs away from the body) or "away" (the strip runs away from the
    body).
    """

    hand: str = "right"
    lay: str = "along"
    layers: int = 1
    mat: Fraction = Fraction(24)
