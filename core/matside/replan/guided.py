"""What a guide cuts, and where it stands: the ground on which its rest is planned anew."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..cloth import PlacedStrip
from ..plan.basket import BasketCloth, Need
from .counts import Counts


@dataclass(frozen=True, slots=True)
class Wanted:
    """A kind of piece that a guide is to give: so many as cut (`need.need`), and how the guide counts them.

    Kinds of one `form` are alike but for their fabric. A piece as cut counts as so many `parts` (two where it is cut
    corner to corner). Where strips are `joined` as (takes, gives), so many strips as cut give so many pieces, and only
    these are told in totals."""

    need: Need
    form: str = ""
    parts: int = 1
    joined: tuple[int, int] | None = None

    @property
    def id(self) -> str:
        """The id of its kind."""
        return self.need.id

    def as_cut(self, counted: int) -> int:
        """Pieces as cut of so many counted ones; a half of one is none."""
        return counted // self.parts

    def told(self, counted: int) -> int:
        """What so many counted ones add to the totals that are told.

        >>> strips = Wanted(Need("border", None, 3), joined=(3, 2))
        >>> strips.told(2), strips.told(3)
        (1, 2)
        """
        if self.joined is None:
            return counted
        takes, gives = self.joined
        return min(gives, max(0, counted) * gives // takes)


@dataclass(frozen=True, slots=True)
class GuidedStrip:
    """A strip in its cloth, and the id of the kind that it gives."""

    piece: str
    strip: PlacedStrip


@dataclass(frozen=True, slots=True)
class GuidedCloth:
    """Cloths cut alike, `times` of them, with their strips in the order in which they are cut
    off, and the division before.
    """

    cloth: BasketCloth
    strips: tuple[GuidedStrip, ...]
    division: tuple[str, Fraction] | None = None
    times: int = 1

    @property
    def area(self) -> Fraction:
        """Square inches of all of them."""
        return self.cloth.length * self.cloth.width * self.times


def pieces_of(cloths: Iterable[GuidedCloth]) -> Counts:
    """The pieces as cut that cloths give, by the id of their kind."""
    found: Counter[str] = Counter()
    for cloth in cloths:
        for strip in cloth.strips:
            found[strip.piece] += strip.strip.count * cloth.times
    return dict(found)


@dataclass(frozen=True, slots=True)
class Done:
    """How far a guide is. Counts are the guide's own, by the id of the kind.

    `cloth` is the place of the cloth at hand among those that the guide cuts, or their number when all are cut;
    it is `whole` while nothing has been cut off it, and `strips` is how many have been. `made` counts all pieces
    of the sitting, `here` those of the cloth at hand among them, `coming` what it will still give, `later` what
    the cloths after it will."""

    cloth: int
    whole: bool
    made: Counts
    here: Counts
    coming: Counts
    later: Counts
    strips: int = 0


@dataclass(frozen=True, slots=True)
class Guided:
    """A guide: what it is to give, the cloths of its basket, and those that it cuts, one after
    another, each `times` 1.
    """

    wanted: tuple[Wanted, ...]
    stock: tuple[BasketCloth, ...]
    cuts: tuple[GuidedCloth, ...]

    def ids(self, start: int = 0, end: int | None = None) -> tuple[str, ...]:
        """The ids of the cloths that it cuts, from one place to another."""
        return tuple(cut.cloth.id for cut in self.cuts[start:end])

    def left(self, taken: Iterable[str]) -> tuple[BasketCloth, ...]:
        """The cloths of the basket that are left when one of each of these ids is taken."""
        gone = Counter(taken)
        rest = (replace(cloth, count=cloth.count - gone[cloth.id]) for cloth in self.stock)
        return tuple(cloth for cloth in rest if cloth.count > 0)

    def counted(self, made: Counts) -> Counts:
        """Pieces as cut as the guide counts them."""
        parts = {wanted.id: wanted.parts for wanted in self.wanted}
        return {name: number * parts.get(name, 1) for name, number in made.items()}

    def needs(self, piles: Counts) -> list[Need]:
        """What is still needed beside what lies in the piles."""
        return [replace(w.need, need=max(0, w.need.need - w.as_cut(piles.get(w.id, 0)))) for w in self.wanted]

    def told(self, piles: Counts) -> int:
        """The total that is told of what lies in the piles."""
        return sum(wanted.told(piles.get(wanted.id, 0)) for wanted in self.wanted)
