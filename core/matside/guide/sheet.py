"""A cloth, or a part of one, as it lies on the mat: its two sides, what each of its edges is, folds and turns.

Everything is as the right hand has it; for the left hand all of it is mirrored at the end.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from .job import ClothWork
from .places import Place, Turn

#: What an edge may be: as it came, with its selvage on, cut straight (or found to be), or the fold.
RAW, SELVAGE, CUT, FOLD = "raw", "selvage", "cut", "fold"
#: The most that is trimmed off an edge to make it straight, in inches, and what a drawing shows of it. Common practice,
#: no published source: a sliver.
MOST_TRIMMED = Fraction(1, 4)
SLIVER = Fraction(1, 8)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What lies there: `across` from left to right and `upright` from bottom to top as it lies, in inches.

    `edges` tells what its left, top, right and bottom edge is; `ends` what its two ends are that a fold brought
    together; `folds` how often it is folded; `turns` its quarter turns clockwise since it was a cloth with its length
    from left to right and its width upright."""

    across: Fraction
    upright: Fraction
    edges: tuple[tuple[Place, str], ...]
    folds: int = 0
    turns: int = 0
    ends: tuple[str, str] | None = None

    def edge(self, place: Place) -> str:
        """What the edge at a place is."""
        return dict(self.edges)[place]

    def with_edge(self, place: Place, what: str) -> "Sheet":
        """The same with another edge there."""
        return replace(self, edges=tuple((at, what if at == place else had) for at, had in self.edges))

    def find(self, what: str, among: tuple[Place, ...]) -> Place | None:
        """The first of some places where the edge is that."""
        return next((place for place in among if self.edge(place) == what), None)

    def trimmed(self, place: Place, by: Fraction = Fraction(0)) -> "Sheet":
        """After a straight cut at an edge that takes so much off it."""
        upright = place in (Place.TOP, Place.BOTTOM)
        sides = {"upright": self.upright - by} if upright else {"across": self.across - by}
        return replace(self.with_edge(place, CUT), **sides)

    def turned(self, quarters: int) -> "Sheet":
        """After so many quarter turns clockwise."""
        edges = tuple((place.turned(quarters), what) for place, what in self.edges)
        sides = (self.upright, self.across) if quarters % 2 else (self.across, self.upright)
        return Sheet(*sides, edges, self.folds, (self.turns + quarters) % 4, self.ends)

    def quarter(self, turn: Turn) -> "Sheet":
        """After a quarter turn."""
        return self.turned(turn.quarters)

    def folded(self, folds: int) -> "Sheet":
        """After folding it end to end, upright, so often; the fold lies at the bottom and both ends at the top."""
        ends = (self.edge(Place.TOP), self.edge(Place.BOTTOM))
        both = self.with_edge(Place.BOTTOM, FOLD)
        both = both.with_edge(Place.TOP, SELVAGE) if SELVAGE in ends else both
        return replace(both, upright=self.upright / 2**folds, folds=folds, ends=ends)

    def opened(self) -> "Sheet":
        """After opening it out again, its ends where they were."""
        if not self.folds:
            return self
        top, bottom = self.ends
        flat = replace(self, upright=self.upright * 2**self.folds, folds=0, ends=None)
        fold = self.find(FOLD, (Place.BOTTOM, Place.TOP))
        at_bottom = fold is Place.BOTTOM
        return flat.with_edge(Place.TOP, top if at_bottom else bottom).with_edge(
            Place.BOTTOM, bottom if at_bottom else top
        )

    @property
    def strip_ends(self) -> tuple[str, str]:
        """What the two ends of a strip cut upright off it are."""
        return self.ends or (self.edge(Place.TOP), self.edge(Place.BOTTOM))

    @property
    def run(self) -> Fraction:
        """How long such a strip is, opened out."""
        return self.upright * 2**self.folds


def whole(cloth: ClothWork, upright: str) -> Sheet:
    """The cloth right side up with that side of it upright, before anything is done to it.

    A selvage along that side lies at the right, where the blade of a right hand is; one along
    the other side lies at the top.

    >>> sheet = whole(ClothWork("a", Fraction(27), Fraction(31), "length", (), selvages=1), "length")
    >>> sheet.across, sheet.edge(Place.RIGHT), sheet.edge(Place.LEFT)
    (Fraction(31, 1), 'selvage', 'raw')
    """
    edges = dict.fromkeys(Place, RAW)
    if cloth.selvage:
        places = (Place.RIGHT, Place.LEFT) if cloth.selvage == upright else (Place.TOP, Place.BOTTOM)
        edges.update(dict.fromkeys(places[: cloth.selvages], SELVAGE))
    across = "width" if upright == "length" else "length"
    return Sheet(cloth.side(across), cloth.side(upright), tuple(edges.items()), turns=1 if upright == "length" else 0)
