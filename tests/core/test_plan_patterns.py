"""What one cloth can give, against brute force over every division and every choice of strips."""

import math
import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import all_patterns
from matside.fields import Fields
from matside.pieces import read_piece
from matside.plan.dominance import undominated
from matside.plan.meter import Meter
from matside.plan.patterns import Patterns
from matside.plan.tidy import fewest
from matside.plan.ways import Divider, WeightedKind
from matside.plan.weights import weights
from matside.shapes import Diamond, Rectangle

HAIR = 1e-9
BOTH = ("length", "width")


def kinds_of(shapes, needs) -> list[WeightedKind]:
    heavy = weights([shape.area for shape in shapes], needs)
    measures = [(float(shape.size), shape.starter_waste, shape.advance) for shape in shapes]
    return [WeightedKind(*measure, weight, need) for measure, weight, need in zip(measures, heavy, needs)]


def patterns_of(kinds, length, width, sides=BOTH, most_places=1000) -> Patterns:
    ways = Divider(kinds, most_places).ways(length, width, ((True,) * len(kinds),) * len(sides), sides)
    return Patterns(kinds, ways, Meter())


def drained(search):
    while True:
        try:
            next(search)
        except StopIteration as end:
            return end.value


def brute_force(kinds, length, width, sides=BOTH) -> set[tuple[int, ...]]:
    """Everything a cloth can be cut to: undivided, or divided at any place that could matter, each part either way.

    Places: wherever pieces of one kind, or strips side by side of any kinds, just fit, counted from either end.
    """
    found = {made for along in sides for made in part(kinds, *run_and_breadth(length, width, along))}
    for divided, across in ((length, width), (width, length)):
        named = "length" if divided == length and across == width else "width"
        for at in places(kinds, divided):
            for one, other in product(sides, sides):
                first = part(kinds, *((at, across) if one == named else (across, at)))
                second = part(kinds, *((divided - at, across) if other == named else (across, divided - at)))
                found |= {tuple(min(a + b, k.need) for a, b, k in zip(x, y, kinds)) for x in first for y in second}
    return {
        made for made in found if not any(made != other and all(a <= b for a, b in zip(made, other)) for other in found)
    }


def run_and_breadth(length, width, along):
    return (length, width) if along == "length" else (width, length)


def places(kinds, side: float) -> set[float]:
    ends = {kind.starter_waste + n * kind.advance for kind in kinds for n in range(1, kind.need + 1)}
    sums = {0.0}
    for kind in kinds:
        sums = {total + n * kind.size for total in sums for n in range(int((side - total + HAIR) / kind.size) + 1)}
    both = {at for at in ends | sums if at <= side + HAIR}
    return {min(max(at, 0.0), side) for near in both for at in (near, side - near)}


def part(kinds, run: float, breadth: float) -> set[tuple[int, ...]]:
    gives = [max(0, math.floor((run - kind.starter_waste + HAIR) / kind.advance)) for kind in kinds]
    most = [int((breadth + HAIR) / kind.size) if give else 0 for kind, give in zip(kinds, gives)]
    strips = product(*(range(n + 1) for n in most))
    fitting = (n for n in strips if sum(count * kind.size for count, kind in zip(n, kinds)) <= breadth + HAIR)
    return {tuple(min(count * give, kind.need) for count, give, kind in zip(n, gives, kinds)) for n in fitting}


SHAPES = st.builds(
    lambda shape, size, angle, length: read_piece(Fields({"shape": shape, "size": size, **({"length": length} if shape == "rectangle" else {"angle": angle})})),
    st.sampled_from(["diamond", "half-diamond", "rectangle"]), st.sampled_from([2, 2.5, 3, 4]), st.sampled_from([60, 45, 30]), st.integers(3, 8),
)  # fmt: skip
SMALL = {
    "shapes": st.lists(SHAPES, min_size=1, max_size=2),
    "needs": st.tuples(st.integers(1, 9), st.integers(1, 9)),
    "sides": st.tuples(st.integers(5, 12), st.integers(5, 12)),
}


@settings(max_examples=60, deadline=None, derandomize=True)
@given(**SMALL, ways=st.sampled_from([BOTH, ("length",), ("width",)]))
def test_all_patterns_of_a_cloth_are_those_of_brute_force(shapes, needs, sides, ways):
    kinds = kinds_of(shapes, needs)
    found, complete = drained(patterns_of(kinds, *map(float, sides), ways).near(tuple(k.weight for k in kinds), 0.0))
    expected = brute_force(kinds, *map(float, sides), ways)
    assert complete and {pattern.made for _, pattern in found} == {made for made in expected if any(made)}


@settings(max_examples=60, deadline=None, derandomize=True)
@given(**SMALL, prices=st.tuples(st.integers(0, 50), st.integers(0, 50)))
def test_the_best_pattern_at_any_prices_is_that_of_brute_force(shapes, needs, sides, prices):
    kinds, priced = kinds_of(shapes, needs), tuple(map(float, prices[: len(shapes)]))
    best = patterns_of(kinds, *map(float, sides)).best(priced, tuple(k.need for k in kinds))
    expected = max(sum(p * n for p, n in zip(priced, made)) for made in brute_force(kinds, *map(float, sides)))
    assert best.worth == best.most == expected
    assert sum(p * n for p, n in zip(priced, best.pattern.made)) == expected if best.pattern else expected == 0


def larger(seed: int):
    """A cloth and three kinds that make for thousands of choices."""
    rng = random.Random(seed)
    shapes = [
        Diamond(read_fraction(rng.choice([2, 2.5, 3, 3.5, 4, 5])), read_fraction(rng.choice([60, 60, 45, 30])))
        for _ in range(3)
    ]
    return shapes, [rng.randint(3, 24) for _ in shapes], (rng.choice([10, 18, 20, 24]), rng.choice([20, 26, 42])), rng


@pytest.mark.every(3)
@pytest.mark.parametrize("seed", range(30))
def test_larger_cloths_give_what_the_other_road_finds(seed):
    shapes, needs, (length, width), rng = larger(seed)
    kinds = kinds_of(shapes, needs)
    expected = all_patterns.patterns_of(length, width, [(k.size, k.starter_waste, k.advance, k.need) for k in kinds])
    patterns = patterns_of(kinds, float(length), float(width))
    for _ in range(6):
        prices = tuple(float(rng.choice([0, rng.randint(1, 1000)])) for _ in kinds)
        fewer = tuple(rng.randint(0, need) for need in needs)
        best = patterns.best(prices, fewer, most_branches=10**6)
        assert best.worth == max(sum(p * min(n, m) for p, n, m in zip(prices, made, fewer)) for made in expected)
    near, complete = drained(patterns.near(tuple(k.weight for k in kinds), 0.0, 10**6))
    assert not complete or {pattern.made for _, pattern in near} == set(expected)


@pytest.mark.parametrize("places", [1, 2, 5])
def test_with_places_left_out_the_bound_still_holds(places):
    rng = random.Random(places)
    for _ in range(40):
        shapes = [
            Diamond(*map(read_fraction, pair))
            for pair in zip(rng.sample([2, 2.5, 3, 4], 2), rng.sample([60, 45, 30], 2))
        ]
        kinds = kinds_of(shapes, [20, 20])
        needs, priced = (20, 20), (float(rng.randint(1, 50)), float(rng.randint(1, 50)))
        sides = float(rng.randint(9, 30)), float(rng.randint(9, 30))
        whole, thinned = (
            patterns_of(kinds, *sides).best(priced, needs),
            patterns_of(kinds, *sides, most_places=places).best(priced, needs),
        )
        assert thinned.worth <= whole.worth <= thinned.most


def read_fraction(number):
    return Fields({"n": number}).length("n")


def test_only_some_patterns_are_told_when_the_search_gives_up():
    kinds = kinds_of([Diamond(read_fraction(size), read_fraction(60)) for size in (2, 2.5, 3, 3.5)], [40, 40, 40, 40])
    patterns = patterns_of(kinds, 36.0, 42.0)
    _, complete = drained(patterns.near(tuple(k.weight for k in kinds), 0.0, 500))
    hasty = patterns.best(tuple(k.weight for k in kinds), (40,) * 4, most_branches=30)
    thorough = patterns.best(tuple(k.weight for k in kinds), (40,) * 4, most_branches=10**6)
    assert not complete
    assert hasty.worth <= thorough.worth == thorough.most <= hasty.most


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    SMALL["shapes"],
    st.tuples(st.integers(8, 20), st.integers(8, 20)),
    st.tuples(st.integers(0, 24), st.integers(0, 24)),
)
def test_the_fewest_strips_for_some_pieces_are_those_of_brute_force(shapes, sides, wanted):
    kinds, asked = kinds_of(shapes, [24, 24]), wanted[: len(shapes)]
    patterns = patterns_of(kinds, *map(float, sides))
    found = fewest(patterns, asked)
    counts = [n for way in patterns.ways for n in strips_that_give(way, kinds, asked)]
    assert (sum(n for _, _, n in found.strips) if found else None) == min(counts, default=None)


def strips_that_give(way, kinds, wanted):
    """The number of strips of every choice of strips in both parts that gives what is wanted."""

    def choices(part):
        most = [int((part.breadth + HAIR) / kind.size) for kind in kinds]
        fitting = (
            n
            for n in product(*(range(m + 1) for m in most))
            if sum(c * k.size for c, k in zip(n, kinds)) <= part.breadth + HAIR
        )
        return [(sum(n), tuple(c * g for c, g in zip(n, part.gives))) for n in fitting]

    for chosen in product(*map(choices, way.parts)):
        made = [sum(numbers) for numbers in zip(*(given for _, given in chosen))]
        if all(have >= want for have, want in zip(made, wanted)):
            yield sum(count for count, _ in chosen)


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.sets(st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(0, 4)), max_size=30))
def test_dominated_tuples_are_left_out(tuples):
    ordered = sorted(tuples, key=lambda numbers: (-sum(numbers), numbers))
    expected = {x for x in tuples if not any(x != y and all(a <= b for a, b in zip(x, y)) for y in tuples)}
    assert set(drained(undominated(ordered, Meter()))) == expected


def test_equal_areas_weigh_the_same_and_others_in_proportion():
    # Euclid, Elements I.35–36: a rhombus with three times the edge has nine times the area.
    one, three, four = (Diamond(read_fraction(size), read_fraction(60)) for size in (1, 3, 4))
    square = Rectangle(read_fraction(3), read_fraction(3))
    areas, needs = [shape.area for shape in (one, three, four, square)], [9, 1, 3, 5]
    light, ninefold, sixteenfold, other = weights(areas, needs)
    assert 9 * light == ninefold and 16 * light == sixteenfold
    assert other / light == pytest.approx(square.area / one.area, rel=1e-9)
    assert all(weight == int(weight) for weight in (light, ninefold, sixteenfold, other))
