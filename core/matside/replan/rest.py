"""For each thing that may have changed at the mat: what is settled, and what is left to be planned."""

from dataclasses import dataclass, replace
from fractions import Fraction

from ..plan.basket import BasketCloth
from .counts import Counts, above_zero, added, less
from .guided import Done, Guided, GuidedCloth, pieces_of
from .likes import likes_for


@dataclass(frozen=True, slots=True)
class Rest:
    """The rest of a guide that is to be planned.

    `made` is what lies in the piles, as the guide counts, and `piles` what will lie there without any new plan; `stock`
    are the whole cloths that may be cut for what is missing then, `cuts` the cloths that are cut or being cut. The
    guide `goes_on` with the last of these, or begins anew with the new plan. `planned` are the ids of the cloths that
    it would have cut and that are decided about anew, of which those in `begun` are being cut.

    `here` is the id of a cloth that is cut first, whatever the best plan would do; `at_hand` of one that comes first
    where the plan cuts it. `held` is cloth that is used as it was settled before, though it might be used better."""

    made: Counts
    piles: Counts
    stock: tuple[BasketCloth, ...]
    cuts: tuple[GuidedCloth, ...]
    goes_on: bool
    planned: tuple[str, ...]
    begun: tuple[str, ...] = ()
    here: str | None = None
    at_hand: str | None = None
    held: tuple[BasketCloth, ...] = ()


def after_loss(guided: Guided, done: Done) -> Rest:
    """Pieces were lost, or are short: the cloth at hand goes on as it was, unless it is still whole."""
    if done.whole:
        return _whole(guided, done, at_hand=next(iter(guided.ids(done.cloth)), None))
    end = done.cloth + 1
    cuts = guided.cuts[:end]
    held = (replace(cuts[-1].cloth, count=1),) if above_zero(done.coming) else ()
    return Rest(
        done.made,
        added(done.made, done.coming),
        guided.left(guided.ids(0, end)),
        cuts,
        True,
        guided.ids(end),
        held=held,
    )


def with_other_sides(guided: Guided, done: Done, name: str, length: Fraction, width: Fraction) -> Rest:
    """The cloth at hand, whole, has these sides; it is called so from now on, and is cut where that is best."""
    told = guided.cuts[done.cloth].cloth
    smaller = replace(told, id=name, length=length, width=width, count=1)
    stock = (smaller, *guided.left(guided.ids(0, done.cloth + 1)))
    planned = (name, *guided.ids(done.cloth + 1))
    return replace(_whole(guided, done, at_hand=name), stock=stock, planned=planned)


def with_another(guided: Guided, done: Done, name: str) -> Rest:
    """The cloth of this id lies there, and the one that was told goes back to the basket."""
    if done.whole:
        return replace(_whole(guided, done, at_hand=name), here=name)
    before, cut = guided.cuts[: done.cloth], guided.cuts[done.cloth]
    there = next(cloth for cloth in guided.stock if cloth.id == name)
    likes = likes_for(there, guided)
    made = _moved(done.made, done.here, likes)
    strips = tuple(replace(strip, piece=likes[strip.piece]) for strip in cut.strips)
    return Rest(
        made=made,
        piles=added(made, _moved(done.coming, done.coming, likes)),
        stock=guided.left((*guided.ids(0, done.cloth), name)),
        cuts=(*before, replace(cut, cloth=there, strips=strips)),
        goes_on=True,
        planned=guided.ids(done.cloth),
        begun=(name,),
        held=(replace(there, count=1),) if above_zero(done.coming) else (),
    )


def with_no_more_strips(guided: Guided, done: Done) -> Rest:
    """The strips of the cloth at hand that are not yet cut off are dropped; those that are
    cut off are cut to the end.
    """
    cut, end = guided.cuts[done.cloth], done.cloth + 1
    kept = replace(cut, strips=cut.strips[: done.strips])
    coming = less(done.coming, guided.counted(pieces_of([replace(cut, strips=cut.strips[done.strips :])])))
    return Rest(
        made=done.made,
        piles=added(done.made, coming),
        stock=guided.left(guided.ids(0, end)),
        cuts=(*guided.cuts[: done.cloth], kept),
        goes_on=bool(kept.strips),
        planned=guided.ids(end),
        held=tuple(_alone(strip.strip, cut.cloth, i) for i, strip in enumerate(kept.strips))
        if above_zero(coming)
        else (),
    )


def _whole(guided: Guided, done: Done, at_hand: str | None) -> Rest:
    """The cloth at hand, and all that come after it, are decided about anew."""
    cut = guided.cuts[: done.cloth]
    return Rest(
        done.made,
        done.made,
        guided.left(guided.ids(0, done.cloth)),
        cut,
        False,
        guided.ids(done.cloth),
        at_hand=at_hand,
    )


def _moved(all_of_them: Counts, here: Counts, likes: dict[str, str | None]) -> Counts:
    """The counts with those of `here` counted for the kinds that are alike."""
    to = [{likes.get(name) or name: number} for name, number in here.items()]
    return added(less(all_of_them, here), *to)


def _alone(strip, cloth: BasketCloth, number: int) -> BasketCloth:
    """A strip that has been cut off, as a cloth of its own."""
    sides = (strip.run, strip.size) if strip.along == "length" else (strip.size, strip.run)
    return replace(cloth, id=f"{cloth.id}#{number}", length=Fraction(sides[0]), width=Fraction(sides[1]), count=1)
