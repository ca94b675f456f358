"""Why a ruler has no way of its own, and what a step is short of."""

import math
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from .cuts import Cut
from .laying import LaidRuler, ways_to_lay
from .ruler import Ruler
from .seats import holds
from .way import Lacking, LeftOut, Way

#: What is lacking is said in the steps that rulers come in, with room for the hand: half inches.
HALF = 2


def left_out(
    steps: Iterable[Cut], found: dict[str, list[Way]], rulers: Sequence[Ruler], left_handed: bool
) -> Iterator[LeftOut]:
    """Every ruler and step without a way by that ruler alone (two marks do not count), with the reason."""
    for cut in steps:
        able = {way.rulers[0] for way in found[cut.step] if len(way.rulers) == 1 and way.kind != "two_marks"}
        for ruler in rulers:
            if ruler.name not in able:
                reason, values = _reason(cut, ruler, left_handed)
                yield LeftOut(ruler.name, cut.step, reason, values)


def _reason(cut: Cut, ruler: Ruler, left_handed: bool) -> tuple[str, dict[str, float]]:
    laid = list(ways_to_lay(ruler, left_handed))
    if ruler.length < cut.needed_edge and cut.step != "strip":
        return "edge_too_short", {"needed": cut.needed_edge, "has": float(ruler.length)}
    depth = _deepest(cut, laid)
    if cut.across is not None and depth < cut.across:
        return "too_narrow", {"needed": float(cut.across), "has": float(depth)}
    if cut.step == "strip":
        return "edge_too_short", {"needed": cut.needed_overlap, "has": max(way.reach for way in laid)}
    return _line_reason(cut, ruler, laid, left_handed)


def _deepest(cut: Cut, laid: Iterable[LaidRuler]) -> Fraction:
    """How far the ruler reaches from the cut when it is laid so that its edge passes the cut."""
    long_enough = [way.exact_depth for way in laid if way.reach >= cut.needed_edge]
    return max(long_enough, default=min(way.exact_depth for way in laid))


def _line_reason(cut: Cut, ruler: Ruler, laid: Iterable[LaidRuler], left_handed: bool) -> tuple[str, dict[str, float]]:
    found = [hold for way in laid for hold in holds(cut, way)]
    if not found:
        code = "leans_other_way" if _leans_other_way(cut, ruler, left_handed) else "no_line"
        return code, {"angle": _shown_angle(cut)}
    longest = max(hold.overlap for hold in found)
    if longest < cut.needed_overlap:
        return "line_too_short", {"needed": cut.needed_overlap, "has": longest}
    return "line_misplaced", {"cut": cut.length}


def _leans_other_way(cut: Cut, ruler: Ruler, left_handed: bool) -> bool:
    return any(way.lines_at(cut.angle) for way in ways_to_lay(ruler, not left_handed))


def _shown_angle(cut: Cut) -> float:
    return float(min(cut.angle, 180 - cut.angle))


def lacking(steps: Iterable[Cut], found: dict[str, list[Way]]) -> Iterator[Lacking]:
    """What to get for each step that has no way, and for a strip that has to be marked."""
    for cut in steps:
        ways = found[cut.step]
        if not ways:
            yield Lacking(cut.step, *_wanted(cut))
        elif cut.step == "strip" and all(way.kind == "two_marks" for way in ways):
            yield Lacking(cut.step, *_wanted(cut), blocking=False)


def _wanted(cut: Cut) -> tuple[str, dict[str, float]]:
    if cut.step == "strip":
        return "ruler_wider", {"width": _half_up(float(cut.across) + 0.5)}
    return "ruler_longer", {"length": _half_up(cut.needed_edge)}


def _half_up(length: float) -> float:
    return math.ceil(length * HALF - 1e-9) / HALF
