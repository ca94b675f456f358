"""Reading a guide's request back as what it is to give, what it may cut and what it cuts: the
ground for planning its rest.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ..cloth import CutWay, PlacedStrip
from ..errors import Refusal
from ..fields import Fields
from ..kinds import read_cloth
from ..pieces import MOST_NEEDED, read_piece
from ..plan.basket import BasketCloth, Need
from ..replan.counts import Counts
from ..replan.guided import Done, Guided, GuidedCloth, GuidedStrip, Wanted, pieces_of
from .guide import MOST_COUNTED, read_way
from .plan import read_basket, read_needs
from .planned import MOST_CLOTHS, in_cutting_order, read_division

#: The id of the kind that a guide for one cloth cuts, and the name of a cloth whose kind nobody gave.
ONE_KIND, SCRAP = "piece", "scrap"


@dataclass(frozen=True, slots=True)
class SoFar:
    """What was cut under guides before this one: the cloths, and how many strips."""

    cloths: tuple[BasketCloth, ...] = ()
    strips: int = 0

    def and_these(self, cuts: tuple[GuidedCloth, ...]) -> "SoFar":
        """With these cloths as well."""
        counts = Counter({_plain(cloth): cloth.count for cloth in self.cloths})
        for cut in cuts:
            counts[_plain(cut.cloth)] += cut.times
        cloths = tuple(replace(cloth, count=number) for cloth, number in counts.items())
        return SoFar(cloths, self.strips + sum(len(cut.strips) * cut.times for cut in cuts))

    @property
    def opened(self) -> dict[str, int]:
        """The cloths by id."""
        found: Counter[str] = Counter()
        for cloth in self.cloths:
            found[cloth.id] += cloth.count
        return dict(found)

    @property
    def area(self) -> float:
        """Square inches."""
        return float(sum(cloth.length * cloth.width * cloth.count for cloth in self.cloths))


def _plain(cloth: BasketCloth) -> BasketCloth:
    return BasketCloth(cloth.id, cloth.length, cloth.width, 1)


@dataclass(frozen=True, slots=True)
class Given:
    """A guide's request as it was: `planned` where it cuts a plan, so that its rest can be planned."""

    fields: Fields
    guided: Guided
    planned: bool
    so_far: SoFar

    def cloth(self, cloth: BasketCloth, told: str) -> dict:
        """A cloth as a guide's request has it; one that is new is the cloth `told` with other sides."""
        raws = (
            {raw["id"]: raw for raw in self.fields.raw("cloths")} if self.planned or self.fields.has("layouts") else {}
        )
        if any(replace(one, count=cloth.count) == cloth for one in self.guided.stock) and cloth.id in raws:
            return {**raws[cloth.id], "count": cloth.count}
        raw = raws[told] if told in raws else _one_cloth_raw(self.fields)
        return {**raw, "id": cloth.id, "length": cloth.length, "width": cloth.width, "count": cloth.count}


def read_given(fields: Fields) -> Given:
    """The request of a guide for a plan or for one cloth."""
    so_far = _so_far(fields.object("so_far")) if fields.has("so_far") else SoFar()
    if fields.has("piece"):
        return Given(fields, _for_one(fields), False, so_far)
    return Given(fields, _for_plan(fields), True, so_far)


def read_done(fields: Fields, guided: Guided) -> Done:
    """How far the guide is; see the ask `replan`."""
    cloth = fields.count("cloth", 0, len(guided.cuts))
    ended = cloth == len(guided.cuts)
    return Done(
        cloth=cloth,
        whole=ended or fields.flag("whole"),
        strips=0 if ended else fields.count("strips", 0, len(guided.cuts[cloth].strips), default=0),
        **{name: read_counts(fields, name) for name in ("made", "here", "coming", "later")},
    )


def read_counts(fields: Fields, name: str) -> Counts:
    """Counts by id; none where the field is not there."""
    return fields.counts(name, -MOST_COUNTED, MOST_COUNTED)


# --- A plan -----------------------------------------------------------------------------------------------------------


def _for_plan(fields: Fields) -> Guided:
    """`elsewhere` are layouts of the plan that somebody else cuts: what they give is not needed
    here, their cloths are gone.
    """
    basket = {cloth.id: cloth for cloth in read_basket(fields)}
    pieces = fields.objects("pieces", MOST_CLOTHS, 1)
    wanted = tuple(_wanted(piece, need) for piece, need in zip(pieces, read_needs(fields)))
    whole = Guided(wanted, tuple(basket.values()), tuple(_cuts(fields, "layouts", basket, wanted)))
    there = tuple(_cuts(fields, "elsewhere", basket, wanted)) if fields.has("elsewhere") else ()
    target = {w.id: w.need.need for w in wanted}
    for name, number in pieces_of(there).items():
        target[name] -= number
    if fields.has("target"):
        target |= read_counts(fields, "target")
    aimed = tuple(replace(w, need=replace(w.need, need=max(0, target[w.id]))) for w in wanted)
    return replace(whole, wanted=aimed, stock=whole.left(cut.cloth.id for cut in there))


def _wanted(piece: Fields, need: Need) -> Wanted:
    halved = piece.has("halved")  # how many go which way does not make another piece of it
    return Wanted(need, repr((halved, need.shape)), 2 if halved else 1, _joined(piece))


def _joined(piece: Fields) -> tuple[int, int] | None:
    """How many strips are joined to how many pieces, where the request says so much."""
    if not isinstance(piece.raw("joined"), dict):
        return None
    joined = piece.object("joined")
    gives = joined.count("need", 1, MOST_COUNTED) if joined.flag("counted", True) else 0
    return piece.count("need", 1, MOST_COUNTED), gives


def _cuts(
    fields: Fields, name: str, basket: dict[str, BasketCloth], wanted: tuple[Wanted, ...]
) -> Iterator[GuidedCloth]:
    kinds = {one.id: one.need for one in wanted}
    for layout in fields.objects(name, MOST_CLOTHS):
        strips = tuple(_strip(strip, kinds) for strip in in_cutting_order(layout))
        cut = GuidedCloth(_known(layout, "cloth", basket), strips, read_division(layout))
        yield from [cut] * layout.count("times", 1, MOST_CLOTHS, default=1)


def _strip(strip: Fields, kinds: dict[str, Need]) -> GuidedStrip:
    need = _known(strip, "piece", kinds)
    place = strip.length_or_zero("x"), strip.length_or_zero("y"), strip.raw("along")
    return GuidedStrip(
        need.id, PlacedStrip(*place, strip.length("run"), need.shape.size, strip.count("count", 1, MOST_NEEDED))
    )


def _known(fields: Fields, name: str, known: dict):
    given = fields.text(name)
    if given not in known:
        raise Refusal(fields.at(name), "guide_unknown", given=given)
    return known[given]


def _so_far(fields: Fields) -> SoFar:
    cloths = tuple(
        BasketCloth(
            cloth.text("id"), cloth.length("length"), cloth.length("width"), cloth.count("count", 1, MOST_CLOTHS)
        )
        for cloth in fields.objects("cloths", MOST_CLOTHS)
    )
    return SoFar(cloths, fields.count("strips", 0, MOST_COUNTED))


# --- One cloth, no plan -----------------------------------------------------------------------------------------------


def _for_one(fields: Fields) -> Guided:
    """A guide for one kind of piece: `count` cloths alike, each cut by `way`, or the `layouts` that came of that."""
    need = Need(ONE_KIND, read_piece(fields.object("piece")), 0)
    if fields.has("layouts"):
        basket = {cloth.id: cloth for cloth in read_basket(fields)}
        return Guided((Wanted(need),), tuple(basket.values()), tuple(_cuts(fields, "layouts", basket, (Wanted(need),))))
    cloth = read_cloth(fields.object("cloth"), need.shape.size)
    given = fields.object("cloth")
    count = given.count("count", 1, MOST_CLOTHS, default=1)
    there = BasketCloth(
        given.text("id", given.raw("kind", SCRAP)), cloth.length, cloth.width, count, selvage=cloth.selvage
    )
    cut = cut_by(read_way(fields, need.shape, cloth), there, need)
    return Guided((Wanted(need),), (there,), (cut,) * count)


def cut_by(way: CutWay, cloth: BasketCloth, need: Need) -> GuidedCloth:
    """A cloth that is cut one way, or mixed."""
    strips = tuple(GuidedStrip(need.id, strip) for strip in way.placed(need.shape))
    return GuidedCloth(cloth, strips, way.division)


def _one_cloth_raw(fields: Fields) -> dict:
    """The cloth of a guide for one cloth as an item of a list of cloths: with its sides, and
    no kind that stands for them.
    """
    size = read_piece(fields.object("piece")).size
    cloth = read_cloth(fields.object("cloth"), size)
    rest = {name: value for name, value in fields.object("cloth").given.items() if name != "kind"}
    return {
        **rest,
        "length": cloth.length,
        "width": cloth.width,
        "selvage": cloth.selvage or "none",
        "selvages": cloth.selvages,
    }
