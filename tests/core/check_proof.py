"""A checker of the proofs that plans come with; it knows nothing of the search.

What is claimed *by prices* is confirmed by weak duality: for prices of 0 up to a piece's weight, what a set of cloths
leaves missing weighs prices · needs − Σ (the most that one of its cloths is worth) at least, and what a cloth is worth
is worked out anew over all divisions (`proof_cloth`). What is claimed *by search* is solved again by OR-Tools' CP-SAT,
within a stated time; where that does not end, the claim counts as unchecked. That every set of cloths of less area is
ruled out by one claim or another is CP-SAT's to refute as well. All in whole numbers and fractions."""

import math
from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from ortools.sat.python import cp_model

from matside.fields import Fields
from matside.pieces import read_piece
from proof_cloth import Cuttings, Kind, TooMuch, sides_of

#: Weights are whole numbers in proportion to the areas but for this share.
ROUNDING = Fraction(1, 1_000_000)
#: A claim made by search is solved again for so long, and so many cuttings near the best are looked at for it.
SECONDS = 10.0
_MOST_LOOKS = 400_000
_TIGHTEST = 3
#: What a cutting may lose is told the solver in so many parts.
_FINE = 1_000


class _TooLong(TooMuch):
    """The solver did not end in time."""


@dataclass
class Verdict:
    """What is wrong with a proof, in words; how many claims were confirmed, by kind; those
    that nobody can tell, in words.
    """

    faults: list[str] = field(default_factory=list)
    confirmed: Counter = field(default_factory=Counter)
    unchecked: list[str] = field(default_factory=list)

    @property
    def claims(self) -> int:
        """All claims that were looked at."""
        return self.confirmed.total() + len(self.unchecked) + len(self.faults)


def check(request: dict, answer: dict, seconds: float = SECONDS, every: bool = False) -> Verdict:
    """Checks what the proof of an answer rests on; with `every` also the claims that it could do without.

    Of a plan that is not proven the claims alone are checked, as far as `every` asks for it.
    """
    verdict = Verdict()
    basket = _Basket(request)
    verdict.faults += basket.faults(answer)
    for number, found in enumerate(answer["proof"]):
        try:
            group = _Group(f"group {number}", basket, found, answer, seconds, verdict)
        except KeyError as name:
            verdict.faults.append(f"group {number}: there is no {name}")
            continue
        if not group.sound():
            continue
        if every:
            for claim in group.claims:
                group.confirm(claim)
        if answer["proven"]:
            group.rule_out_all()
    return verdict


class _Basket:
    """What is asked for, read anew."""

    def __init__(self, request: dict):
        self.pieces = {piece["id"]: piece for piece in request["pieces"]}
        self.cloths = {cloth["id"]: cloth for cloth in request["cloths"]}
        self.shapes = {name: read_piece(Fields(piece)) for name, piece in self.pieces.items()}
        self.kinds = {
            name: Kind(Fraction(shape.size), shape.starter_waste, shape.advance, self.pieces[name]["need"])
            for name, shape in self.shapes.items()
        }
        self._grain = request.get("grain", "any")

    def traits(self, cloth: str, pieces: list[str]) -> tuple:
        """What makes cloths alike: sides in inches, the sides that strips may run along, which of
        the pieces may come from it.
        """
        given = self.cloths[cloth]
        selvage = given.get("selvage", "none")
        sides = sides_of(self._grain, None if selvage == "none" else selvage, given.get("one_way", False))
        fabrics = [self.pieces[name].get("fabric") for name in pieces]
        length, width = Fields(given).length("length"), Fields(given).length("width")
        return length, width, sides, tuple(fabric is None or fabric == given.get("fabric") for fabric in fabrics)

    def count(self, cloth: str) -> int:
        """How many of the cloth there are."""
        return self.cloths[cloth].get("count", 1)

    def cuttings(self, cloth: str, pieces: list[str]) -> Cuttings:
        """What the cloth can be cut to, of these pieces."""
        *sides, allowed = self.traits(cloth, pieces)
        return Cuttings(*sides, [self.kinds[name] for name in pieces], list(allowed))

    def faults(self, answer: dict) -> list[str]:
        """Groups must be apart, and hold every piece that can be cut with every cloth that it can be cut from."""
        groups = [
            (set(g["pieces"]), {cloth for sort in g["sorts"] for cloth in sort["cloths"]}) for g in answer["proof"]
        ]
        found = []
        for held in zip(*groups):
            found += [
                f"{name} is in two groups"
                for name, times in Counter(n for names in held for n in names).items()
                if times > 1
            ]
        for name in self.pieces:
            able = {cloth for cloth in self.cloths if self.count(cloth) and any(self.cuttings(cloth, [name]).alone())}
            own = next((cloths for pieces, cloths in groups if name in pieces), set())
            found += [f"{name} can be cut from {cloth}, which is not in its group" for cloth in sorted(able - own)]
        grouped = {cloth for _, cloths in groups for cloth in cloths}
        found += [
            f"{name} is opened and in no group"
            for name, times in answer["opened"].items()
            if times and name not in grouped
        ]
        return found


@dataclass(frozen=True)
class _Claim:
    """A claim by prices (`worths`: None for a sort that was not looked at) or by search (`opened`)."""

    name: str
    prices: tuple = ()
    worths: tuple = ()
    opened: tuple = ()
    missing: int = 0
    area: int | None = None

    @property
    def kind(self) -> str:
        return "prices" if self.prices else "search"


class _Group:
    """One group of needs and cloths; areas of cloths as whole multiples of a small unit."""

    def __init__(self, name: str, basket: _Basket, found: dict, answer: dict, seconds: float, verdict: Verdict):
        self.name, self.basket, self.seconds, self.verdict = name, basket, seconds, verdict
        self.pieces, self.weights = list(found["pieces"]), [int(weight) for weight in found["weights"]]
        self.sorts = [list(sort["cloths"]) for sort in found["sorts"]]
        self.counts = [sort["count"] for sort in found["sorts"]]
        self.needs = [basket.kinds[piece].need for piece in self.pieces]
        self.missing = found["missing"]
        self._proven = answer["proven"]
        self._told_missing = [answer["missing"][piece] for piece in self.pieces]
        traits = [basket.traits(cloths[0], self.pieces) for cloths in self.sorts]
        self._unit = math.lcm(*(side.denominator for length, width, *_ in traits for side in (length, width))) ** 2
        self.areas = [int(length * width * self._unit) for length, width, *_ in traits]
        self.area = sum(area * sum(answer["opened"][c] for c in cloths) for area, cloths in zip(self.areas, self.sorts))
        self.claims = [self._by_prices(i, item) for i, item in enumerate(found["by_prices"])]
        self.claims += [self._by_search(i, item) for i, item in enumerate(found["by_search"])]
        self._settled: dict[str, bool] = {}
        self._exact: dict[tuple, int] = {}

    def _by_prices(self, number: int, item: dict) -> _Claim:
        return _Claim(f"{self.name}, prices {number}", tuple(item["prices"]), tuple(item["worths"]))

    def _by_search(self, number: int, item: dict) -> _Claim:
        area = None if item["area"] is None else round(Fraction(item["area"]) * self._unit)
        return _Claim(f"{self.name}, search {number}", opened=tuple(item["opened"]), missing=item["missing"], area=area)

    @cached_property
    def cuttings(self) -> list[Cuttings]:
        """What a cloth of each sort can be cut to."""
        return [self.basket.cuttings(cloths[0], self.pieces) for cloths in self.sorts]

    def sound(self) -> bool:
        """Whether weights, sorts, counts and what is missing are as they have to be; notes what is not."""
        found = [*self._weight_faults(), *self._sort_faults(), *self._form_faults()]
        self.verdict.faults += [f"{self.name}: {fault}" for fault in found]
        return not found

    def _weight_faults(self):
        areas = [Fraction(self.basket.shapes[piece].area) for piece in self.pieces]
        for piece, weight, area in zip(self.pieces, self.weights, areas):
            if weight < 1 or abs(weight * areas[0] - area * self.weights[0]) > ROUNDING * weight * areas[0]:
                yield f"the weight of {piece} is not in proportion to its area"
        told = sum(w * n for w, n in zip(self.weights, self._told_missing))
        # Strips of an unproven plan may give more than the search counted.
        if told > self.missing or told < self.missing and self._proven:
            yield "what is missing does not weigh that much"

    def _sort_faults(self):
        for cloths, count, cuttings in zip(self.sorts, self.counts, self.cuttings):
            if len({self.basket.traits(cloth, self.pieces) for cloth in cloths}) > 1:
                yield f"{', '.join(cloths)} are not alike"
            most = cuttings.alone()
            enough = sum(-(-need // number) for need, number in zip(self.needs, most) if number)
            if count < min(enough, sum(self.basket.count(cloth) for cloth in cloths)):
                yield f"more than {count} of {', '.join(cloths)} may be of use"

    def _form_faults(self):
        for claim in self.claims:
            if claim.prices and (len(claim.prices) != len(self.weights) or len(claim.worths) != len(self.sorts)):
                yield f"{claim.name} is not one of each"
            elif claim.prices and not all(0 <= price <= weight for price, weight in zip(claim.prices, self.weights)):
                yield f"{claim.name}: a price is not from 0 up to the weight"
            elif not claim.prices and len(claim.opened) != len(self.sorts):
                yield f"{claim.name} is not one of each"

    # What every set of cloths must come to.

    def rule_out_all(self) -> None:
        """No set of cloths misses less; none of less area misses as little."""
        if self.missing > 0:
            self._rule_out_until(_Sets(self, self.missing - 1, self.counts, None))
        if self.area:
            self._rule_out_until(_Sets(self, self.missing, None, self.area - 1))

    def _rule_out_until(self, sets: "_Sets") -> None:
        """Confirms claims that rule out what is left, until nothing is left: only those that are used are looked at."""
        for claim in self.claims:
            if self._settled.get(claim.name):
                sets.rule_out(claim)
        while (left := sets.one_left()) is not None:
            if left == "":
                self.verdict.unchecked.append(f"{self.name}: whether all sets are ruled out")
                return
            claim = next(
                (c for c in self.claims if self._settled.get(c.name) is not False and sets.rules_out(c, left)), None
            )
            if claim is None:
                opened = (
                    ", ".join(f"{number} of {cloths[0]}" for number, cloths in zip(left, self.sorts) if number)
                    or "no cloth"
                )
                self.verdict.faults.append(f"{self.name}: nothing shows that {opened} will not do {sets.what}")
                return
            if self.confirm(claim):
                sets.rule_out(claim)

    # Single claims.

    def confirm(self, claim: _Claim) -> bool:
        """Whether a claim is not refuted; notes it as confirmed, unchecked or false."""
        if claim.name not in self._settled:
            try:
                fault = self._price_fault(claim) if claim.prices else self._search_fault(claim)
                self.verdict.faults += [f"{claim.name}: {fault}"] if fault else []
                self.verdict.confirmed[claim.kind] += not fault
                self._settled[claim.name] = not fault
            except TooMuch:
                self.verdict.unchecked.append(claim.name)
                self._settled[claim.name] = True
        return self._settled[claim.name]

    def _price_fault(self, claim: _Claim) -> str | None:
        for cloths, cuttings, worth in zip(self.sorts, self.cuttings, claim.worths):
            if worth is not None:
                found = cuttings.worth(list(claim.prices), worth)
                if found > worth:
                    return f"{cloths[0]} is worth {found}, more than {worth}"
        return None

    def _search_fault(self, claim: _Claim) -> str | None:
        found = self._solved_again(claim)
        return found and f"these cloths will do: {found}"

    def _solved_again(self, claim: _Claim) -> str | None:
        """A cutting of at most those cloths that misses no more, in words, or None."""
        for prices in self._tightest(claim):
            try:
                return self._chosen(claim, prices, self._near(claim, prices))
            except _TooLong:
                raise TooMuch from None
            except TooMuch:
                continue
        raise TooMuch

    def _worth(self, prices: tuple, sort: int) -> int:
        if (prices, sort) not in self._exact:
            self._exact[prices, sort] = self.cuttings[sort].worth(list(prices))
        return self._exact[prices, sort]

    def _tightest(self, claim: _Claim) -> list[tuple]:
        """The prices, of those in the proof and the weights, at which least can be lost."""
        candidates = dict.fromkeys([tuple(self.weights), *(c.prices for c in self.claims if c.prices)])

        def share(prices):
            return self._duals(claim, prices)[2] / max(1, sum(p * n for p, n in zip(prices, self.needs)))

        rough = sorted(candidates, key=lambda prices: self._rough(claim, prices))[: 4 * _TIGHTEST]
        return sorted(rough, key=share)[:_TIGHTEST]

    def _rough(self, claim: _Claim, prices: tuple) -> float:
        """The same by what the proof says that cloths are worth, only to choose a few."""
        told = next((c.worths for c in self.claims if c.prices == prices), (None,) * len(self.sorts))
        if any(n and worth is None for n, worth in zip(claim.opened, told)):
            return math.inf
        return sum(n * (worth or 0) for n, worth in zip(claim.opened, told)) / max(
            1, sum(p * n for p, n in zip(prices, self.needs))
        )

    def _duals(self, claim: _Claim, prices: tuple) -> tuple[Fraction, list[Fraction], Fraction]:
        """What an area is worth, what a cloth of each sort is worth beyond it, and what a cutting
        may lose of all that at most.

        A cutting that would refute the claim makes prices · needs − missing at these prices at least.
        """
        worths = [self._worth(prices, s) if n else 0 for s, n in enumerate(claim.opened)]
        rate = self._rate(claim, worths) if claim.area is not None else Fraction(0)
        beyond = [max(Fraction(0), worth - rate * area) for worth, area in zip(worths, self.areas)]
        all_of_it = sum(n * b for n, b in zip(claim.opened, beyond)) + rate * ((claim.area or 1) - 1)
        return rate, beyond, all_of_it - (sum(p * n for p, n in zip(prices, self.needs)) - claim.missing)

    def _rate(self, claim: _Claim, worths: list[int]) -> Fraction:
        """What the last of the area is worth where the cloths that are worth most by their area are taken first."""
        room = claim.area - 1
        for rate, sort in sorted(
            ((Fraction(w, a), s) for s, (w, a) in enumerate(zip(worths, self.areas))), reverse=True
        ):
            room -= self.areas[sort] * claim.opened[sort]
            if room < 0:
                return rate
        return Fraction(0)

    def _near(self, claim: _Claim, prices: tuple) -> list[list[tuple[int, ...]]]:
        """All cuttings of each sort that do not lose too much already."""
        rate, beyond, gap = self._duals(claim, prices)
        looks = _MOST_LOOKS
        found = []
        for number, cuttings, area, more in zip(claim.opened, self.cuttings, self.areas, beyond):
            found.append(
                sorted(cuttings.near(list(prices), rate * area + more - gap, looks)) if number and gap >= 0 else []
            )
        return found

    def _chosen(self, claim: _Claim, prices: tuple, patterns: list[list[tuple[int, ...]]]) -> str | None:
        """A cutting out of these patterns that refutes the claim, in words, or None.

        Beside what it must come to the solver is told what it may lose at these prices, which follows from it: in
        smaller numbers, rounded down, it finds its way sooner."""
        rate, beyond, gap = self._duals(claim, prices)
        if gap < 0:
            return None
        model, coarse = cp_model.CpModel(), gap / _FINE + 1
        terms, used, lost = [[] for _ in self.needs], [], []
        for sort, (number, made) in enumerate(zip(claim.opened, patterns)):
            chosen = [model.new_int_var(0, number, "") for _ in made]
            _ = model.add_at_most_one(chosen) if number == 1 else model.add(sum(chosen) <= number)
            used += [(sort, pattern, variable) for pattern, variable in zip(made, chosen)]
            lost.append(int(beyond[sort] // coarse) * (number - sum(chosen)))
        for sort, pattern, variable in used:
            loss = (
                rate * self.areas[sort] + beyond[sort] - sum(price * pieces for price, pieces in zip(prices, pattern))
            )
            lost.append(int(loss // coarse) * variable)
            for term, pieces in zip(terms, pattern):
                if pieces:
                    term.append(pieces * variable)
        lacks = []
        for weight, price, need, term in zip(self.weights, prices, self.needs, terms):
            lack = model.new_int_var(0, need if weight == price else min(need, int(gap // (weight - price))), "")
            model.add(sum(term) + lack >= need)
            if price:
                model.add(sum(term) + lack <= need + int(gap // price))
            lost.append(int((weight - price) // coarse) * lack)
            lost.append(int(price // coarse) * (sum(term) + lack - need))
            lacks.append(lack)
        model.add(sum(weight * lack for weight, lack in zip(self.weights, lacks)) <= claim.missing)
        model.add(sum(lost) <= int(gap // coarse))
        if claim.area is not None:
            model.add(sum(self.areas[sort] * variable for sort, _, variable in used) <= claim.area - 1)
        solver, status = _solved(model, self.seconds)
        if status == cp_model.INFEASIBLE:
            return None
        if status == cp_model.UNKNOWN:
            raise _TooLong
        cut = [(solver.value(variable), self.sorts[sort][0], pattern) for sort, pattern, variable in used]
        return (
            "; ".join(f"{times} × {cloth} cut to {pattern}" for times, cloth, pattern in cut if times) or "none at all"
        )


class _Sets:
    """Sets of cloths that may miss no more than `allowed`, a weight: just one, or all of no more than `area`."""

    def __init__(self, group: _Group, allowed: int, just: list[int] | None, area: int | None):
        self.group, self.allowed, self.area = group, allowed, area
        self.what = "with less missing" if just else "with less area"
        self.model = cp_model.CpModel()
        self.numbers = [
            self.model.new_int_var(*((just[s],) * 2 if just else (0, count)), "")
            for s, count in enumerate(group.counts)
        ]
        self.total = sum(size * number for size, number in zip(group.areas, self.numbers))
        if area is not None:
            self.model.add(self.total <= area)

    def one_left(self) -> tuple[int, ...] | str | None:
        """A set that no claim told so far rules out; None where there is none, "" where nobody can tell in time."""
        solver, status = _solved(self.model, self.group.seconds)
        if status == cp_model.INFEASIBLE:
            return None
        if status == cp_model.UNKNOWN:
            return ""
        return tuple(solver.value(number) for number in self.numbers)

    def rules_out(self, claim: _Claim, opened: tuple[int, ...]) -> bool:
        """Whether a claim says that these cloths miss more."""
        if claim.prices:
            worths = zip(opened, claim.worths)
            return all(worth is not None or not n for n, worth in worths) and self._lacking(claim) > sum(
                n * worth for n, worth in zip(opened, claim.worths) if n
            )
        small = claim.area is None or sum(a * n for a, n in zip(self.group.areas, opened)) < claim.area
        return small and claim.missing >= self.allowed and all(n <= most for n, most in zip(opened, claim.opened))

    def _lacking(self, claim: _Claim) -> int:
        """What cloths must be worth at its prices so that no more than is allowed is missing."""
        return sum(price * need for price, need in zip(claim.prices, self.group.needs)) - self.allowed

    def rule_out(self, claim: _Claim) -> None:
        """Leaves only the sets that the claim does not rule out."""
        ways_out = []
        if claim.prices:
            known = [(worth, number) for worth, number in zip(claim.worths, self.numbers) if worth is not None]
            enough = self.model.new_bool_var("")
            self.model.add(sum(worth * number for worth, number in known) >= self._lacking(claim)).only_enforce_if(
                enough
            )
            ways_out = [
                enough,
                *(self._more(number, 0) for worth, number in zip(claim.worths, self.numbers) if worth is None),
            ]
        elif claim.missing >= self.allowed:
            ways_out = [self._more(number, most) for number, most in zip(self.numbers, claim.opened)]
            if claim.area is not None:
                large = self.model.new_bool_var("")
                self.model.add(self.total >= claim.area).only_enforce_if(large)
                ways_out.append(large)
        if ways_out:
            self.model.add_bool_or(ways_out)

    def _more(self, number, most: int):
        more = self.model.new_bool_var("")
        self.model.add(number >= most + 1).only_enforce_if(more)
        return more


def _solved(model: cp_model.CpModel, seconds: float) -> tuple[cp_model.CpSolver, int]:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.linearization_level = 2
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    return solver, status
