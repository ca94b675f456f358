"""Lengths off the bolt: what the strips take, straightening, shrinkage, and rounding as the shop measures."""

import math
from dataclasses import dataclass
from fractions import Fraction

from ..errors import Refusal
from ..kinds import USUAL_STRAIGHTEN
from ..quilt.around.backing import Backing, panels
from ..quilt.around.binding import bias_depth
from ..units import CENTIMETER, LONGEST, SAME
from .demands import Backed, BiasChain, Chain, Demand, Lengths, Pieces
from .strips import Cannot, Strips, chain, strips_for

#: What shops measure in: eighths of a yard, or 10 cm.
STEPS = {"eighth_yard": Fraction(9, 2), "ten_cm": 10 * CENTIMETER}


@dataclass(frozen=True, slots=True)
class Bolt:
    """A fabric on the bolt: usable width as bought, what straightening its ends takes, and how much it shrinks.

    `shrink` is the loss along the length and across the width as a share of the length before washing:
    minus the dimensional change of ISO 5077, 100 · (after − before) / before, over 100. A cloth that
    grows has a loss below 0."""

    usable_width: Fraction
    straighten: Fraction = USUAL_STRAIGHTEN
    shrink: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    step: Fraction = STEPS["eighth_yard"]

    @property
    def width_after(self) -> float:
        """Usable width after washing.

        >>> Bolt(Fraction(42), shrink=(Fraction(3, 100), Fraction(1, 20))).width_after
        39.9
        """
        return float(self.usable_width * (1 - self.shrink[1]))

    def before(self, after: float) -> float:
        """The length before washing that gives a length after it: after / (1 − shrinkage).

        >>> Bolt(Fraction(42), shrink=(Fraction(1, 5), Fraction(0))).before(40)
        50.0
        """
        return float(after) / float(1 - self.shrink[0])

    def rounded(self, length: float) -> Fraction:
        """The next length that the shop measures; 0 stays 0.

        >>> Bolt(Fraction(42)).rounded(88)
        Fraction(90, 1)
        """
        return max(0, math.ceil(length / float(self.step) - SAME)) * self.step


@dataclass(frozen=True, slots=True)
class BoltCuts:
    """What is cut off one bolt: strips, full-width lengths (id, length, how many), and what cannot be."""

    strips: tuple[Strips, ...]
    lengths: tuple[tuple[str, float, int], ...]
    cannot: tuple[Cannot, ...]

    @property
    def length(self) -> float:
        """Length of cloth that all of it takes, after washing and without straightening."""
        strips = sum(float(one.size) * one.times for one in self.strips)
        return strips + sum(length * times for _, length, times in self.lengths)


def cut_from(demands: list[Demand], bolt: Bolt) -> BoltCuts:
    """How everything a fabric is wanted for is cut from it."""
    run = bolt.width_after
    strips, cannot = strips_for([demand for demand in demands if isinstance(demand, Pieces)], run)
    lengths: list[tuple[str, float, int]] = []
    for demand in demands:
        match demand:
            case Chain():
                made = chain(demand, run)
                (cannot if isinstance(made, Cannot) else strips).append(made)
            case Pieces():
                pass
            case _:
                lengths += _lengths(demand, bolt, run, cannot)
    return BoltCuts(tuple(strips), tuple(lengths), tuple(cannot))


def _lengths(demand: Demand, bolt: Bolt, run: float, cannot: list[Cannot]) -> list[tuple[str, float, int]]:
    """Full-width lengths; what the cloth is too narrow for goes to `cannot`."""
    try:
        match demand:
            case Lengths():
                return [(demand.id, demand.length, demand.times)]
            case BiasChain():
                return [(demand.id, bias_depth(run, demand.length, demand.binding), 1)]
            case Backed():
                return [_panels(demand, run)]
            case _:
                raise TypeError(f"no lengths are known for {demand}")
    except Refusal as refusal:
        cannot.append(Cannot(demand.id, refusal.code, float(bolt.usable_width)))
        return []


def _panels(demand: Backed, run: float) -> tuple[str, float, int]:
    backing = Backing(Fraction(run), demand.backing.overlap, demand.backing.seam)
    best, _ = panels(demand.width, demand.height, backing)
    return demand.id, best.panel_length, best.panels


def bought(cut: BoltCuts, bolt: Bolt) -> tuple[float, Fraction]:
    """The length needed off the bolt, and the same as the shop measures it; 0 when nothing is cut."""
    if cut.length <= 0:
        return 0.0, Fraction(0)
    needed = bolt.before(cut.length + float(bolt.straighten))
    if needed > LONGEST:
        raise Refusal("fabrics", "buying_too_long", given=round(needed), most=int(LONGEST))
    return needed, bolt.rounded(needed)
