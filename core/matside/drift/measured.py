"""What was really cut, from whatever can be measured at the table.

A diamond has two unknowns, its size x and its sharp angle φ:
edge = x / sin φ, short diagonal = x / cos(φ/2), long diagonal = x / sin(φ/2), and x across either way.
Where both distances across are measured, they may differ: x₁ and x₂, with edges x₂ / sin φ and x₁ / sin φ (their mean
is what "edge" then stands for) and the diagonals by the law of cosines. More measures than unknowns are fitted by least
squares, each trusted alike.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..errors import Refusal
from .solving import Matrix, inverse, least_squares

EDGE, SHORT, LONG, ACROSS_1, ACROSS_2 = "edge", "short_diagonal", "long_diagonal", "across_1", "across_2"
MEASURES = (EDGE, SHORT, LONG, ACROSS_1, ACROSS_2)
#: Measures that miss the nearest diamond by more than this share of its edge do not belong together.
DISAGREE = 0.05
#: A diamond's angle is at most 90°; measured, it may be a little over. Beyond this the diagonals are swapped.
BLUNTEST = 95.0
#: Sharper than this, in degrees, it is no piece of cloth.
SHARPEST = 5.0


@dataclass(frozen=True, slots=True)
class FittedDiamond:
    """The diamond that fits the measures: `angle` in degrees, `size` (mean of `across`) in inches.

    `misses` is fitted minus measured for every measure. `spread` is the angle's standard deviation, in degrees, for
    each inch of standard deviation in the measures.
    """

    angle: float
    across: tuple[float, float]
    misses: dict[str, float]
    spread: float

    @property
    def size(self) -> float:
        """The distance between parallel edges, the mean of both ways."""
        return sum(self.across) / 2


def fitted(measured: Mapping[str, float], wanted: float | None = None, place: str = "measured") -> FittedDiamond:
    """The diamond that fits the measures best; of two that fit alike, the one nearer to the `wanted` angle in degrees.

    (Two different distances across and a diagonal belong to two parallelograms, far apart unless very sharp.)

    Refused, with the field: fewer than two measures or the two distances across alone (they do not settle the angle),
    lengths that no diamond has together, and three or more that miss each other too far.

    >>> round(fitted({"edge": 4.0, "short_diagonal": 4.0}).angle, 6)
    60.0
    >>> fitted({"edge": 4.0, "short_diagonal": 8.0})
    Traceback (most recent call last):
    matside.errors.Refusal: measured.short_diagonal: diagonal_over_edges {'given': 8.0, 'most': 8.0}
    """
    given = {name: float(measured[name]) for name in MEASURES if name in measured}
    _refuse_too_few(given, place)
    _refuse_impossible(given, place)
    starts = [_start(given)] + ([(_start(given)[0], math.radians(wanted))] if wanted else [])
    found = min((_fit(given, *start) for start in starts), key=lambda found: _fitness(found, wanted))
    _refuse_swapped(found, given, place)
    _refuse_disagreeing(found, given, place)
    return found


def _fit(given: dict[str, float], size: float, angle: float) -> FittedDiamond:
    free = 3 if ACROSS_1 in given and ACROSS_2 in given else 2
    names = list(given)

    def misses(unknowns: list[float]) -> tuple[list[float], Matrix]:
        x1, x2, angle = (*unknowns[:2], unknowns[-1]) if free == 3 else (unknowns[0], unknowns[0], unknowns[1])
        rows = [_modelled(name, x1, x2, angle) for name in names]
        slopes = [row[1] if free == 3 else [row[1][0] + row[1][1], row[1][2]] for row in rows]
        return [row[0] - given[name] for row, name in zip(rows, names)], slopes

    start = [given[ACROSS_1], given[ACROSS_2], angle] if free == 3 else [size, angle]
    unknowns, slopes = least_squares(misses, start, lowest=1e-6, highest=math.pi - 1e-6)
    left, _ = misses(unknowns)
    across = (unknowns[0], unknowns[-2])
    return FittedDiamond(math.degrees(unknowns[-1]), across, dict(zip(names, left)), _spread(slopes))


def _fitness(found: FittedDiamond, wanted: float | None) -> tuple[float, float]:
    """Less is better: the sum of squared misses, then the distance from the wanted angle."""
    return round(sum(miss * miss for miss in found.misses.values()), 12), abs(found.angle - (wanted or 0.0))


def _spread(slopes: Matrix) -> float:
    """√ of the angle's place in (JᵀJ)⁻¹: the standard deviation for measures of unit standard deviation."""
    count = len(slopes[0])
    squares = [[sum(row[i] * row[j] for row in slopes) for j in range(count)] for i in range(count)]
    turned = inverse(squares)
    return math.inf if turned is None else math.degrees(math.sqrt(max(0.0, turned[-1][-1])))


def _modelled(name: str, x1: float, x2: float, angle: float) -> tuple[float, list[float]]:
    """A measure of the diamond and its slopes by x₁, x₂ and the angle."""
    if name in (ACROSS_1, ACROSS_2):
        return (x1, [1.0, 0.0, 0.0]) if name == ACROSS_1 else (x2, [0.0, 1.0, 0.0])
    sine, cosine = math.sin(angle), math.cos(angle)
    a, c = x2 / sine, x1 / sine
    by_angle = [-a * cosine / sine, -c * cosine / sine]
    if name == EDGE:
        return (a + c) / 2, [0.5 / sine, 0.5 / sine, sum(by_angle) / 2]
    side = -1.0 if name == SHORT else 1.0
    length = math.sqrt(a * a + c * c + side * 2 * a * c * cosine)
    by_a, by_c = (a + side * c * cosine) / length, (c + side * a * cosine) / length
    turning = by_a * by_angle[0] + by_c * by_angle[1] - side * a * c * sine / length
    return length, [by_c / sine, by_a / sine, turning]


def _start(given: dict[str, float]) -> tuple[float, float]:
    """Size and angle from two of the measures, in closed form, the pair that settles the angle best first."""
    edge, short, long = (given.get(name) for name in (EDGE, SHORT, LONG))
    across = _mean_across(given)
    if short and long:
        angle = 2 * math.atan2(short, long)
    elif edge and (short or long):
        angle = 2 * math.asin(short / (2 * edge)) if short else 2 * math.acos(long / (2 * edge))
    elif short or long:
        angle = 2 * math.acos(across / short) if short else 2 * math.asin(across / long)
    else:
        angle = math.asin(across / edge)
    return _size(angle, edge, short, long, across), angle


def _size(angle: float, edge: float | None, short: float | None, long: float | None, across: float | None) -> float:
    if across:
        return across
    if edge:
        return edge * math.sin(angle)
    return short * math.cos(angle / 2) if short else long * math.sin(angle / 2)


def _mean_across(given: dict[str, float]) -> float | None:
    across = [given[name] for name in (ACROSS_1, ACROSS_2) if name in given]
    return sum(across) / len(across) if across else None


def _refuse_too_few(given: dict[str, float], place: str) -> None:
    if len(given) < 2 or set(given) <= {ACROSS_1, ACROSS_2}:
        raise Refusal(place, "measures_too_few")


def _refuse_impossible(given: dict[str, float], place: str) -> None:
    """A diagonal is shorter than two edges; across is no longer than an edge and shorter than a diagonal."""
    edge, across = given.get(EDGE), _mean_across(given)
    for name in (SHORT, LONG):
        if edge and name in given and given[name] >= 2 * edge:
            raise Refusal(f"{place}.{name}", "diagonal_over_edges", given=_short(given[name]), most=_short(2 * edge))
    if across is None:
        return
    field = f"{place}.{ACROSS_1 if ACROSS_1 in given else ACROSS_2}"
    if edge and across > edge:
        raise Refusal(field, "across_over_edge", given=_short(across), most=_short(edge))
    for name in (SHORT, LONG):
        if name in given and across >= given[name]:
            raise Refusal(field, "across_over_diagonal", given=_short(across), most=_short(given[name]))


def _refuse_swapped(found: FittedDiamond, given: dict[str, float], place: str) -> None:
    if found.angle > BLUNTEST:
        raise Refusal(f"{place}.{SHORT if SHORT in given else LONG}", "diagonals_swapped", given=_short(found.angle))
    if found.angle < SHARPEST:
        raise Refusal(place, "measured_too_sharp", given=_short(found.angle), least=SHARPEST)


def _refuse_disagreeing(found: FittedDiamond, given: dict[str, float], place: str) -> None:
    worst = max(found.misses, key=lambda name: abs(found.misses[name]))
    if abs(found.misses[worst]) > DISAGREE * found.size / math.sin(math.radians(found.angle)):
        nearest = given[worst] + found.misses[worst]
        raise Refusal(f"{place}.{worst}", "measures_disagree", given=_short(given[worst]), nearest=_short(nearest))


def _short(value: float) -> float:
    """A number for a sentence."""
    return round(value, 3)
