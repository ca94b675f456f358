"""Which pieces are alike but for their fabric, and which cloths of a basket may lie in the place of another."""

from dataclasses import replace

from ..plan.basket import BasketCloth
from .guided import Done, Guided


def likes_for(cloth: BasketCloth, guided: Guided) -> dict[str, str | None]:
    """For each kind the one that the same cut gives of this cloth: itself where any fabric will do, else the kind of
    the same form that is wanted of the cloth's fabric, or None."""
    return {wanted.id: _like(wanted, cloth.fabric, guided) for wanted in guided.wanted}


def _like(wanted, fabric: str | None, guided: Guided) -> str | None:
    if wanted.need.fabric is None:
        return wanted.id
    alike = (other.id for other in guided.wanted if other.need.fabric == fabric and other.form == wanted.form)
    return next(alike, None)


def instead(guided: Guided, done: Done) -> list[BasketCloth]:
    """The cloths not yet cut that may lie there instead of the cloth at hand, in the order of the basket.

    While that is whole, all that differ from it in more than their name; once it has been cut into, those of its sides
    whose fabric is wanted for pieces like those that are cut from it. When all is cut, none."""
    if done.cloth >= len(guided.cuts):
        return []
    told = guided.cuts[done.cloth].cloth
    others = [cloth for cloth in guided.left(guided.ids(0, done.cloth + 1)) if _differs(cloth, told)]
    return others if done.whole else [cloth for cloth in others if _takes_its_place(cloth, guided, done)]


def _differs(cloth: BasketCloth, told: BasketCloth) -> bool:
    return replace(cloth, id=told.id, count=told.count) != told


def _takes_its_place(cloth: BasketCloth, guided: Guided, done: Done) -> bool:
    cut = guided.cuts[done.cloth]
    likes = likes_for(cloth, guided)
    same_sides = (cloth.length, cloth.width) == (cut.cloth.length, cut.cloth.width)
    return same_sides and all(likes[strip.piece] for strip in cut.strips)
