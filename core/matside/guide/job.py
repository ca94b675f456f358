"""What is to be cut, as the guide takes it: cloths, the parts and strips of each, and the pieces of each strip."""

from dataclasses import dataclass
from fractions import Fraction

from .. import angles
from ..cloth import OTHER
from ..shapes import Shape
from ..strips import needed_length
from ..units import SAME

#: A rest shorter than this, in inches, is left on a strip that is joined to others.
_NOT_CUT_OFF = 2.0


@dataclass(frozen=True, slots=True)
class Joined:
    """What becomes of strips that are joined end to end: `need` pieces of `length`, each
    join taking `takes`, in inches.

    `ends` are the angles at the two ends of every piece in degrees, None where they stay square. The piece lies with
    its longer edge near the body, the first of them at its left, or has `parallel` ends that lean to the right; right
    side up, or where it is `mirrored` wrong side up. `length` is measured over everything. What is not `counted` is
    none of the quilt's pieces: the strips are joined, and that is all."""

    length: Fraction
    need: int
    takes: Fraction
    ends: tuple[float, float] | None = None
    parallel: bool = False
    mirrored: bool = False
    counted: bool = True

    def edge(self, size: Fraction) -> float:
        """The length of the longer edge of a piece `size` wide: of both edges, where the ends are parallel.

        >>> Joined(Fraction(10), 1, Fraction(0), (45.0, 45.0), parallel=True).edge(Fraction(2))
        8.0
        """
        return float(self.length) - (float(size) * angles.cot(self.ends[0]) if self.ends and self.parallel else 0.0)


@dataclass(frozen=True, slots=True)
class PieceKind:
    """A kind of piece by its id, with the fabric it is cut from where that is known.

    `halved` says that its rectangles are cut corner to corner, so many rising to the right and so many falling, as they
    lie with their longer edge across, right side up. `joined` says that they are strips to be joined; strips that are
    as long as the pieces they become are not, only their ends are cut."""

    id: str
    shape: Shape
    fabric: str | None = None
    halved: tuple[int, int] | None = None
    joined: Joined | None = None

    @property
    def parts(self) -> int:
        """How many pieces one cut of its strip frees in the end: two where it is cut corner to corner."""
        return 2 if self.halved else 1

    @property
    def whole(self) -> bool:
        """Whether every strip becomes a piece by itself."""
        return self.joined is not None and abs(self.shape.length - self.joined.length) < SAME

    def finished(self, strips: int) -> int:
        """How many pieces so many strips become."""
        return strips if self.whole else self.joined.need


@dataclass(frozen=True, slots=True)
class StripWork:
    """Strips of one kind in one part of a cloth: `strips` alike, each giving `count` pieces, each `run` long.

    `along` is the side of the cloth they run along."""

    piece: PieceKind
    run: Fraction
    count: int
    strips: int
    along: str

    @property
    def size(self) -> Fraction:
        """The strips' width."""
        return self.piece.shape.size

    @property
    def needed(self) -> float:
        """The length of strip that its pieces take."""
        return needed_length(self.piece.shape, self.count)

    def is_whole(self, long: Fraction) -> bool:
        """Whether a strip that is so long, uncut, is the piece: nothing is left that could be cut off it."""
        straight = self.piece.shape.straight and self.count == 1
        return straight and float(long) - self.needed < (_NOT_CUT_OFF if self.piece.joined else SAME)


@dataclass(frozen=True, slots=True)
class PartWork:
    """A rectangle of a cloth whose strips run all one way: the side they run along, and its strips."""

    along: str
    works: tuple[StripWork, ...]

    @property
    def needed_across(self) -> Fraction:
        """What its strips take together."""
        return sum((work.size * work.strips for work in self.works), Fraction(0))


@dataclass(frozen=True, slots=True)
class ClothWork:
    """One cloth to cut: its sides, its parts (two after a division, given by side and place), and what is known of it.

    `selvage` is the side that runs along the selvage and `selvages` how many edges still have theirs. A print that runs
    `one_way` has an up and a down.
    """

    id: str
    length: Fraction
    width: Fraction
    selvage: str | None
    parts: tuple[PartWork, ...]
    division: tuple[str, Fraction] | None = None
    fabric: str | None = None
    selvages: int = 0
    one_way: bool = False

    @property
    def works(self) -> tuple[StripWork, ...]:
        """The strips of all parts, in the order in which they are cut."""
        return tuple(work for part in self.parts for work in part.works)

    def side(self, name: str) -> Fraction:
        """The length of a side by its name."""
        return self.length if name == "length" else self.width

    @property
    def is_strip(self) -> bool:
        """Whether the cloth is one strip already, so that no strip is cut off it."""
        only = self.works[0] if len(self.works) == 1 and self.division is None else None
        return bool(only and only.strips == 1 and only.size == self.side(OTHER[only.along]))

    def grain(self, along: str) -> str:
        """The grain that strips along a side lie on: "lengthwise", "crosswise" or "unknown"."""
        if self.selvage is None:
            return "unknown"
        return "lengthwise" if along == self.selvage else "crosswise"


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

    @property
    def flipped(self) -> bool:
        """Whether a strip before this cutter lies as the mirror image of strip coordinates."""
        return (self.hand == "left") != (self.lay == "away")
