"""What everyone needs at the mat, and what a class can share."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from ..errors import Refusal
from ..rulers import Ruler, ways
from ..shapes import Shape

#: How many share an iron. Common practice, no published source.
SHARE_AN_IRON = 4
_STEPS = ("strip", "starter", "following")


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool by its code: how many each has, or how many people share one; and its `rulers` where it is these."""

    code: str
    each: int = 0
    share: int = 0
    rulers: tuple[Ruler, ...] = ()

    def count(self, people: int) -> int:
        """How many a class of so many people needs.

        >>> Tool("iron", share=4).count(9), Tool("cutter", each=1).count(9)
        (3, 9)
        """
        return self.each * people if self.each else -(-people // self.share)


def tools(
    shapes: Iterable[Shape], rulers: Sequence[Ruler], hand: str, share_an_iron: int = SHARE_AN_IRON
) -> list[Tool]:
    """The tools of a class that cuts these shapes; "no_ruler" where none of the rulers will do.

    The rulers are the fewest and smallest by which each shape can be cut, from the strip to the last piece.

    >>> from matside.rulers import GENERIC_RULERS
    >>> from matside.shapes import Diamond
    >>> found = tools([Diamond(Fraction(27, 8), Fraction(52))], GENERIC_RULERS, "right")
    >>> [(tool.code, [ruler.name for ruler in tool.rulers]) for tool in found][2]
    ('rulers', ['short'])
    """
    chosen = fewest_rulers(list(shapes), rulers, hand)
    named = Tool("rulers", each=1, rulers=chosen) if chosen else Tool("no_ruler", each=1)
    return [
        Tool("cutter", each=1),
        Tool("mat", each=1),
        named,
        Tool("glove", each=1),
        Tool("marker", each=1),
        Tool("iron", share=share_an_iron),
    ]


def fewest_rulers(shapes: list[Shape], rulers: Sequence[Ruler], hand: str) -> tuple[Ruler, ...]:
    """One ruler that cuts all the shapes, the smallest by area, or else two; none where no two of them do."""
    by_area = sorted(rulers, key=lambda ruler: ruler.width * ruler.length)
    for number in (1, 2):
        chosen = (some for some in combinations(by_area, number) if all(_cuts(shape, some, hand) for shape in shapes))
        found = min(chosen, key=lambda some: sum(ruler.width * ruler.length for ruler in some), default=None)
        if found:
            return found
    return ()


def _cuts(shape: Shape, rulers: tuple[Ruler, ...], hand: str) -> bool:
    try:
        found = ways(shape, Fraction(shape.size), rulers, hand)
    except Refusal:
        return False
    return not found.lacking
