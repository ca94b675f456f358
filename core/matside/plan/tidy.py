"""A cutting with fewer strips: the same pieces from the same cloths.

Cloth by cloth, each is cut anew with the fewest strips that give what the others do not, until nothing is won any more.
Undivided cloths are preferred: they are cut sooner.
"""

from dataclasses import replace
from itertools import permutations

from ..units import SAME
from .meter import Work, drained
from .patterns import Pattern, Patterns
from .places import Cutting
from .problem import Problem, dot, less
from .ways import Partition

_MOST_ROUNDS = 4
#: With more different cuttings than this, each cloth just gives what it gave.
_MOST_CUTTINGS = 60
#: With no more cloths than this they are also taken two by two, each with so many patterns and branches looked at.
_MOST_FOR_PAIRS = 5
_MOST_PATTERNS = 8
_BRANCHES = 400
_MOST_KINDS_FOR_PAIRS = 4
_MOST_WAYS_FOR_PAIRS = 6_000
#: So many choices are looked at for one way.
_MOST_LOOKS = 300


def tidied(problem: Problem, cutting: Cutting) -> Work[Cutting]:
    """The cutting with no more strips than before and usually fewer; cloths that turn out
    not to be needed are left out.
    """
    wanted = tuple(need - left for need, left in zip(problem.needs, problem.left(cutting)))
    cuts = list(cutting)
    if len(cuts) > _MOST_CUTTINGS:
        return cuts
    for _ in range(_MOST_ROUNDS):
        before = strip_count(cuts)
        cuts = yield from _one_by_one(problem, cuts, wanted)
        few = 2 <= len(cuts) <= _MOST_FOR_PAIRS and len(wanted) <= _MOST_KINDS_FOR_PAIRS
        if few and strip_count(cuts) > _fewest_at_all(problem, cuts, wanted):
            cuts = yield from _two_by_two(problem, cuts, wanted)
        if strip_count(cuts) == before:
            break
    return cuts


def _one_by_one(problem: Problem, cuts: Cutting, wanted: tuple[int, ...]) -> Work[Cutting]:
    cuts = list(cuts)
    for i, (sort, pattern, times) in enumerate(cuts):
        if times == 1:
            rest = less(wanted, _given(problem, cuts[:i] + cuts[i + 1 :]))
            cuts[i] = sort, (yield from neatest(problem.sorts[sort].patterns, rest)) or pattern, 1
    return [cut for cut in cuts if cut[1].strips]


def trimmed(problem: Problem, cutting: Cutting) -> Cutting:
    """The cutting without the strips of which all pieces are beyond the need, the shortest first;
    cloths cut alike may differ then.
    """
    spare = [made - need for made, need in zip(_given(problem, cutting), problem.needs)]
    cuts: Cutting = []
    for sort, pattern, times in cutting:
        patterns = problem.sorts[sort].patterns
        for kept, number in _trimmed(patterns, pattern, times, spare):
            # All that its strips give, which another cloth may give less of now.
            cuts.append((sort, replace(kept, made=tuple(map(min, given(patterns, kept), problem.needs))), number))
    return cuts


def needed(problem: Problem, cutting: Cutting) -> Cutting:
    """The cutting with all the pieces that its strips give told, up to the needs, and without the
    cloths that nothing is needed of.
    """
    spare = [made - need for made, need in zip(_given(problem, cutting), problem.needs)]
    cuts: Cutting = []
    for sort, pattern, times in cutting:
        gives = given(problem.sorts[sort].patterns, pattern)
        needless = min([times, *(max(0, left) // number for left, number in zip(spare, gives) if number)])
        spare = [left - needless * number for left, number in zip(spare, gives)]
        if times > needless:
            made = tuple(map(min, gives, problem.needs))
            cuts.append((sort, pattern if made == pattern.made else replace(pattern, made=made), times - needless))
    return cuts


def _trimmed(patterns: Patterns, pattern: Pattern, times: int, spare: list[int]) -> list[list]:
    """How some cloths that are cut alike are cut then, and how many of them; takes what is left out off `spare`."""
    parts, pieces = patterns.ways[pattern.way].parts, [[pattern, times]]
    for part, kind, count in sorted(pattern.strips, key=lambda strip: parts[strip[0]].gives[strip[1]]):
        gives = parts[part].gives[kind]
        less_by = min(times * count, max(0, spare[kind]) // gives)
        spare[kind] -= less_by * gives
        if less_by:
            pieces = _without(pieces, (part, kind), less_by, times)
    return pieces


def _without(pieces: list, strip: tuple[int, int], less_by: int, times: int) -> list:
    """So many strips fewer, shared out among all the cloths as evenly as can be."""
    each, more = divmod(less_by, times)
    found = []
    for pattern, number in pieces:
        first = min(more, number)
        more -= first
        for number_of_them, by in ((first, each + 1), (number - first, each)):
            if number_of_them:
                strips = [(p, k, count - by if (p, k) == strip else count) for p, k, count in pattern.strips]
                kept = tuple(item for item in strips if item[2] > 0)
                found.append([replace(pattern, strips=kept), number_of_them])
    return found


def _two_by_two(problem: Problem, cuts: Cutting, wanted: tuple[int, ...]) -> Work[Cutting]:
    """Cuts two cloths anew together: one by a pattern of its own, the other for the rest,
    then the first for what is left.
    """
    cuts, looks = list(cuts), _MOST_WAYS_FOR_PAIRS
    for i, j in permutations(range(len(cuts)), 2):
        looks -= _MOST_PATTERNS * sum(len(problem.sorts[cuts[k][0]].patterns.ways) for k in (i, j))
        if looks < 0:
            break
        if cuts[i][2] == cuts[j][2] == 1:
            others = [cut for k, cut in enumerate(cuts) if k not in (i, j)]
            pair = yield from _pair(problem, cuts[i], cuts[j], less(wanted, _given(problem, others)))
            if strip_count(pair) < strip_count([cuts[i], cuts[j]]):
                cuts[i], cuts[j] = pair
    return cuts


def _pair(problem: Problem, one, other, wanted: tuple[int, ...]) -> Work[Cutting]:
    first, second = problem.sorts[one[0]].patterns, problem.sorts[other[0]].patterns
    best, weights = [one, other], problem.weights
    least = dot(weights, wanted) - (yield from second.seek(weights, wanted, -1.0, _BRANCHES)).most
    near, _ = yield from first.near_for(weights, wanted, max(1.0, least), _BRANCHES)
    for _, pattern in near[:_MOST_PATTERNS]:
        rest = yield from neatest(second, less(wanted, given(first, pattern)))
        again = rest and (yield from neatest(first, less(wanted, given(second, rest))))
        if again and strip_count([(0, rest, 1), (0, again, 1)]) < strip_count(best):
            best = [(one[0], again, 1), (other[0], rest, 1)]
    return best


def _fewest_at_all(problem: Problem, cuts: Cutting, wanted: tuple[int, ...]) -> int:
    """Fewer strips than these cannot give what is wanted from these cloths."""
    longest = [0] * len(wanted)
    for sort in {cut[0] for cut in cuts}:
        longest = [max(a, b) for a, b in zip(longest, problem.sorts[sort].patterns.most_of_a_strip)]
    return sum(-(-want // most) for want, most in zip(wanted, longest) if want and most)


def strip_count(cutting: Cutting) -> int:
    """Strips of all cloths."""
    return sum(times * count for _, pattern, times in cutting for _, _, count in pattern.strips)


def given(patterns: Patterns, pattern: Pattern) -> tuple[int, ...]:
    """The pieces that all strips of one cloth give, needed or not."""
    parts, numbers = patterns.ways[pattern.way].parts, [0] * len(pattern.made)
    for part, kind, count in pattern.strips:
        numbers[kind] += count * parts[part].gives[kind]
    return tuple(numbers)


def _given(problem: Problem, cutting: Cutting) -> tuple[int, ...]:
    numbers = [0] * len(problem.needs)
    for sort, pattern, times in cutting:
        for kind, number in enumerate(given(problem.sorts[sort].patterns, pattern)):
            numbers[kind] += times * number
    return tuple(numbers)


def fewest(patterns: Patterns, wanted: tuple[int, ...]) -> Pattern | None:
    """The pattern with fewest strips that gives all that is wanted, undivided if that takes
    no more; None when none can.
    """
    return drained(neatest(patterns, wanted))


def neatest(patterns: Patterns, wanted: tuple[int, ...]) -> Work[Pattern | None]:
    """The same, giving way in between."""
    kinds = [(kind, want, patterns.sizes[kind]) for kind, want in enumerate(wanted) if want]
    best, below = None, float("inf")
    for number in patterns.undivided_first:
        way = patterns.ways[number]
        if _least(way, kinds) < below:
            search = _Fewest(way, patterns.sizes, wanted, below)
            if search.best:
                below, strips = search.best
                best = Pattern(wanted, number, strips)
            patterns.meter.add(search.looks)
        patterns.meter.add(1)
        yield from patterns.meter.pause()
    return best if kinds else Pattern(wanted, 0, ())


def _least(way: Partition, kinds: list[tuple[int, int, float]]) -> float:
    """Fewer strips than these cannot do; without end where a kind cannot be cut or the strips are too wide together."""
    first, second = way.parts[0], way.parts[-1]
    count, wide, room = 0, 0.0, sum(part.breadth for part in way.parts) + 2 * SAME
    for kind, want, size in kinds:
        most = max(first.gives[kind], second.gives[kind])
        strips = -(-want // most) if most else 0
        count += strips
        wide += strips * size
        if not strips or wide > room:
            return float("inf")
    return count


class _Fewest:
    """The fewest strips of one way, if they are fewer than `below`; as (count, strips)."""

    def __init__(self, way: Partition, sizes: list[float], wanted: tuple[int, ...], below: float):
        parts = way.parts
        self.way, self.sizes, self.wanted, self.below = way, sizes, wanted, below
        self.best: tuple[int, tuple] | None = None
        self.looks = 0
        self._kinds = sorted((k for k, want in enumerate(wanted) if want), key=lambda k: -sizes[k])
        self._least = [0]
        for kind in reversed(self._kinds):
            self._least.insert(0, self._least[0] - (-wanted[kind] // max(part.gives[kind] for part in parts)))
        rooms = [part.breadth + SAME for part in parts] + [0.0]
        self._choose(0, rooms[0], rooms[1], 0, ())

    def _choose(self, i: int, room_a: float, room_b: float, count: int, strips: tuple) -> None:
        self.looks += 1
        if count + self._least[i] >= self.below or self.looks > _MOST_LOOKS:
            return
        if i == len(self._kinds):
            self.below, self.best = count, (count, strips)
            return
        kind = self._kinds[i]
        size = self.sizes[kind]
        for a, b in self._splits(kind, self.wanted[kind]):
            if a * size <= room_a and b * size <= room_b:
                more = tuple((part, kind, number) for part, number in ((0, a), (1, b)) if number)
                self._choose(i + 1, room_a - a * size, room_b - b * size, count + a + b, strips + more)

    def _splits(self, kind: int, want: int) -> list[tuple[int, int]]:
        """How many strips in each part give what is wanted of a kind, the fewest first."""
        first, second = self.way.parts[0].gives[kind], self.way.parts[-1].gives[kind] if self.way.division else 0
        if not first:
            return [(0, -(-want // second))]
        most = -(-want // first)
        # The most strips in the first part first: they alone give enough.
        pairs = [(a, -(-max(0, want - a * first) // second)) for a in range(most)] if second else []
        return sorted([(most, 0), *pairs], key=lambda pair: (sum(pair), pair))
