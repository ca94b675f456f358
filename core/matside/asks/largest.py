"""The ask `largest`: the largest quilt that a basket surely gives, what stays over, and what
to buy for the next size up.
"""

from collections.abc import Generator, Iterator
from dataclasses import dataclass

from ..buying.needs import needs_of
from ..buying.reading import read_buying
from ..errors import Refusal
from ..fields import Fields
from ..largest.family import Family
from ..largest.purchase import Offer, Offers, Purchase, Shop
from ..largest.search import SizeSearch
from ..largest.trial import Trial
from ..pieces import read_piece
from ..plan.basket import Need
from ..plan.meter import Work
from ..plan.unmet import reason
from ..quilt.around.borders import bordered_size
from ..quilt.geometry import around, laid
from ..quilt.layers import layers_of, total
from ..quilt.reading import Quilt, quilt_within
from .plan import MOST_WORK, read_basket, read_grain, told
from .quilt_needs import runs_of

_MOST_LEFT_OUT = 500
#: Steps of the search when nobody says otherwise: many sizes are held against the basket.
_USUAL_WORK = 1_000_000
#: Ways to place fabrics that ask which pieces touch each other.
_BY_NEIGHBOURS = ("rings", "random")
#: Steps that each question to the plan may take where it is sought what to buy.
_BUYING_SHARE = 10_000
#: Sizes of more pieces than this are not looked at: placing them takes too long for a step of the search.
MOST_PIECES = 6_000
#: Codes of refusals that say that a size is beyond all quilts, and not that something is wrong with this one.
_TOO_LARGE = ("quilt_too_many", "quilt_too_large")


def answer(request: dict) -> dict:
    """The largest quilt, searched to the budget of work.

    Of a `quilt` (as the ask `quilt` takes it) in the setting, piece and proportion at hand, from `cloths` and `grain`
    (as the ask `plan` takes them, with the quilt's fabrics), without the needs whose ids are `left_out`. `sure` is the
    largest size that the plan gives all of, with that `plan`; None where there is none, and then `unmet` says why of
    every kind. `larger_ruled_out` says that no larger size is possible; else so many are `undecided`, up to `could_be`,
    or it is the `last` that is looked at. `next` is one size more, with what to `buy` of each fabric (the fields of the
    ask `buying` say how cloth is sold) and what `cannot` be had so. `recolored` says that pieces colored one by one
    follow the pattern, as the size is another.

    >>> quilt = {"piece": {"size": 4, "angle": 60}, "columns": 4, "rows": 4, "fabrics": [{"id": "red"}]}
    >>> quarters = {"id": "q", "fabric": "red", "length": 18, "width": 20, "count": 2}
    >>> found = answer({"quilt": quilt, "cloths": [quarters]})
    >>> found["sure"]["columns"], found["sure"]["rows"], found["sure"]["kinds"]["diamond"], found["larger_ruled_out"]
    (4, 3, 18, True)
    >>> [(line["fabric"], line["sold"], line["count"], float(line["length"])) for line in found["next"]["buy"]]
    [('red', 'length', 1, 4.5)]
    """
    *_, last = search(request)
    return last


def search(request: dict) -> Generator[dict, str | None, None]:
    """The same in slices: yields {"progress": …} after each, and last the answer's fields with "ok".

    Sent "show", it yields the progress once more with the whole answer so far as `plan`; not before some size is sure,
    or it is known that none is."""
    looking = _Looking(Fields(request))
    for _ in looking.run():
        wish = yield {"progress": looking.progress()}
        if wish == "show" and looking.begun:
            found = yield from looking.told()
            yield {"progress": {**looking.progress(), "plan": found}}
    yield {"ok": True, **(yield from looking.told())}


@dataclass(frozen=True, slots=True)
class _Sized:
    """A size: the quilt, what it needs, and what of it is not cut from a basket."""

    quilt: Quilt
    not_cut: list[str]
    needs: list[Need]


@dataclass(frozen=True, slots=True)
class _Next:
    """What the next size up lacks, by fabric; and what no cloth that is sold can give."""

    number: int
    bought: dict[str, Offers]


class _Looking:
    """The quilt's sizes, the search among them, and what the next one lacks."""

    def __init__(self, fields: Fields):
        self._fields = fields
        self._cloths, self._grain = read_basket(fields), read_grain(fields)
        work = fields.count("work", 1, MOST_WORK, default=_USUAL_WORK)
        self._shop = _shop(fields)
        self._runs = runs_of(fields)
        self._usual = self._shop.bolt.width_after
        self._left_out = {text.text("id") for text in _texts(fields)}
        self._sizes: dict[int, _Sized | None] = {}
        with quilt_within(fields.object("quilt")) as quilt:
            if quilt.colouring.way == "list":
                raise Refusal("colouring.way", "largest_listed")
            self._quilt = quilt
            self._family = Family(quilt)
        self._search = SizeSearch(self._needs_at, self._cloths, self._grain, work)
        self._next: _Next | None = None
        self._buying: Purchase | None = None
        self._bought_steps = 0
        self._refuse_nothing()

    def run(self) -> Iterator[None]:
        """The largest size, then what the next one lacks; then larger sizes again as long as there is
        work, and what is new of it.
        """
        yield from self._search.run()
        yield from self._lacks()
        before = self._search.sure
        yield from self._search.go_on()
        if self._search.sure != before:
            yield from self._lacks()

    @property
    def begun(self) -> bool:
        """Whether there is something to show."""
        return self._search.sure is not None or self._search.settled

    def progress(self) -> dict:
        """How far it is."""
        sure, steps = self._search.sure, self._search.steps + self._bought_steps
        columns, rows = (None, None) if sure is None else self._family.steps(sure)
        return {"best": {"columns": columns, "rows": rows}, "buying": self._buying is not None, "steps": steps}

    def told(self) -> Generator[dict, None, dict]:
        """The answer's fields so far; yields the progress while they are made."""
        found = self._search
        larger = found.undecided
        sure = None
        if found.sure is not None:
            sure = yield from self._sure(found.sure, found.trial)
        return {
            "sure": sure,
            "larger_ruled_out": found.settled and not larger and not self._last(),
            "last": self._last(),
            "undecided": len(larger),
            "could_be": self._outline(max(larger)) if larger else None,
            "unmet": self._unmet(0) if sure is None and found.settled else [],
            "next": self._next_up(),
            "recolored": bool(self._quilt.colouring.changes) and found.sure != self._family.at_hand,
            "steps": found.steps + self._bought_steps,
        }

    def _last(self) -> bool:
        """Whether no larger size than the sure one is looked at."""
        return self._search.sure is not None and self._sized(self._search.sure + 1) is None

    # What sizes need.

    def _refuse_nothing(self) -> None:
        sized = self._sized(0)
        if not sized or not sized.needs:
            raise Refusal("left_out" if self._left_out else "quilt", "largest_nothing")

    def _needs_at(self, number: int) -> Work[list[Need] | None]:
        """What a size needs, returned by `yield from`: placing, coloring and cutting a large quilt are a step each."""
        if number not in self._sizes:
            try:
                geometry = self._family.quilt(number).geometry
                laid(geometry)
                yield
                if self._quilt.colouring.way in _BY_NEIGHBOURS:
                    around(geometry)
                    yield
            except Refusal:
                pass  # what it comes of is said where the size is read as a whole
        sized = self._sized(number)
        yield
        return sized and sized.needs

    def _sized(self, number: int) -> _Sized | None:
        if number not in self._sizes:
            self._sizes[number] = self._size_anew(number)
        return self._sizes[number]

    def _size_anew(self, number: int) -> _Sized | None:
        place = self._fields.at("quilt")
        try:
            quilt = self._family.quilt(number)
            if len(laid(quilt.geometry).patchwork.patches) > MOST_PIECES:
                return None
            found, not_cut = needs_of(quilt, lambda *place: self._runs.get(place, self._usual))
        except Refusal as refusal:
            if refusal.code in _TOO_LARGE:
                return None
            raise Refusal(f"{place}.{refusal.field}", refusal.code, **refusal.values) from None
        needs = [_need(one.need) for one in found if one.need["need"] and one.need["id"] not in self._left_out]
        return _Sized(quilt, not_cut, needs)

    # What the next size up lacks.

    def _lacks(self) -> Iterator[None]:
        number = 0 if self._search.sure is None else self._search.sure + 1
        sized = self._sized(number)
        self._next = None
        if sized is None:
            return
        bought: dict[str, Offers] = {}
        for fabric in dict.fromkeys(need.fabric for need in sized.needs):
            needs = [need for need in sized.needs if need.fabric == fabric]
            own = [cloth for cloth in self._cloths if cloth.fabric == fabric]
            trial = Trial(needs, own, self._grain)
            yield from trial.go_on(_BUYING_SHARE)
            self._bought_steps += trial.steps
            if trial.verdict:
                continue
            self._buying = Purchase(needs, own, self._grain, self._shop, _BUYING_SHARE)
            yield from self._buying.run()
            self._bought_steps += self._buying.steps
            bought[fabric] = self._buying.found
            self._buying = None
        self._next = _Next(number, bought)

    def _next_up(self) -> dict | None:
        if self._next is None:
            return None
        number, bought = self._next.number, self._next.bought
        lines = [_line(fabric, found) for fabric, found in bought.items() if found.offers]
        never = [fabric for fabric, found in bought.items() if not found.offers]
        return {
            **self._outline(number),
            "buy": lines,
            "least": all(found.least for found in bought.values()),
            "cannot": [line for line in self._unmet(number) if line["fabric"] in never],
        }

    # Telling.

    def _outline(self, number: int) -> dict:
        """How large a size is, and how many pieces of each kind it has."""
        columns, rows = self._family.steps(number)
        quilt = self._sized(number).quilt
        ground = laid(quilt.geometry)
        width, height = bordered_size(ground.patchwork.width, ground.patchwork.height, quilt.borders)
        kinds = total(layers_of(quilt, ground))
        finished = {"width": width, "height": height}
        return {"columns": columns, "rows": rows, "finished": finished, "kinds": kinds, "pieces": sum(kinds.values())}

    def _sure(self, number: int, trial: Trial) -> Generator[dict, None, dict]:
        sized, at_hand, telling = self._sized(number), self._family.at_hand, told(trial.planner)
        try:
            while next(telling):
                yield {"progress": self.progress()}
        except StopIteration as end:
            plan = end.value
        return {
            **self._outline(number),
            "than_at_hand": None if at_hand is None else (number > at_hand) - (number < at_hand),
            "not_cut": sized.not_cut,
            "plan": plan,
        }

    def _unmet(self, number: int) -> list[dict]:
        """Every kind that cannot be had alone, with the reason; where each could, those that the basket
        has too little for together.
        """
        needs = self._sized(number).needs
        lines = [_unmet_line(need, *reason(need, self._cloths, self._grain)) for need in needs]
        alone = [line for line in lines if line["reason"] != "together"]
        return alone or lines


def _unmet_line(need: Need, why: str, most: int) -> dict:
    return {
        "id": need.id,
        "fabric": need.fabric,
        "need": need.need,
        "size": need.shape.size,
        "reason": why,
        "most": most,
    }


def _line(fabric: str, found: Offers) -> dict:
    """What to buy of a fabric: the smallest by its area, and instead of it the least of other things that are sold."""
    smallest, *others = map(_offer, found.offers)
    return {"fabric": fabric, **smallest, "least": found.least, "instead": others}


def _offer(offer: Offer) -> dict:
    return {"sold": offer.sold, "count": offer.count, "length": offer.length, "width": offer.width, "area": offer.area}


def _need(given: dict) -> Need:
    return Need(given["id"], read_piece(Fields(given)), given["need"], given["fabric"], given.get("grain", "any"))


def _texts(fields: Fields) -> list[Fields]:
    """The ids that are left out, each as an object's field, so that a refusal names its place."""
    given = fields.list("left_out", _MOST_LEFT_OUT) if fields.has("left_out") else []
    return [Fields({"id": text}, f"{fields.at('left_out')}[{k}]") for k, text in enumerate(given)]


def _shop(fields: Fields) -> Shop:
    """What cloth is sold as: the fields of the ask `buying` that say so."""
    names = ("usable_width", "straighten", "shrink", "round_to", "fat_quarter", "square")
    given = {name: fields.given[name] for name in names if fields.has(name)}
    one = read_buying(Fields({**given, "lengths": []}, fields.place)).fabrics[0]
    return Shop(one.bolt, one.quarter)
