"""The ask `quilt_needs`: what a whole quilt needs from the cloths of a basket."""

from ..buying.needs import needs_of
from ..fields import Fields
from ..kinds import USUAL_WIDTH, read_selvage
from ..plan.basket import GRAINS, BasketCloth
from ..quilt.reading import quilt_within
from .planned import MOST_CLOTHS


def answer(request: dict) -> dict:
    """The `needs` of a `quilt`, as the asks `plan` and `guide` take them, from `cloths` (with the
    quilt's fabrics) and `grain`.

    `counts` says for each need by its id how many of the quilt's `pieces` come of it, and how many `each` piece cut
    is (2 for a rectangle that is halved, 0 for a strip that is joined with others first). `pieces` is what they come
    to together, as many as the ask `quilt` says, and `strips` how many strips are to be joined. `not_cut` lists what
    does not come from the basket. Strips are as long as the widest cloth of their fabric; of a fabric without any
    cloth, as `usable_width` (42 in)."""
    fields = Fields(request)
    runs = runs_of(fields)
    usual = float(fields.length("usable_width", USUAL_WIDTH))
    with quilt_within(fields.object("quilt")) as quilt:
        found, not_cut = needs_of(quilt, lambda *place: runs.get(place, usual))
    return {
        "needs": [one.need for one in found],
        "counts": {one.need["id"]: {"pieces": one.pieces, "each": one.each} for one in found},
        "pieces": sum(one.pieces for one in found),
        "strips": sum(one.need["need"] for one in found if not one.each),
        "not_cut": not_cut,
    }


def runs_of(fields: Fields) -> dict[tuple[str, str], float]:
    """The longest strip that each fabric's cloths give, by fabric and by the grain that a piece asks for. Cloths that
    are not described yet, or of any fabric, do not count.
    """
    grain, found = fields.choice("grain", GRAINS, "any"), {}
    for cloth in fields.objects("cloths", MOST_CLOTHS) if fields.has("cloths") else []:
        if cloth.has("fabric") and cloth.has("length") and cloth.has("width"):
            name = cloth.text("fabric")
            for own in GRAINS:
                run = _run(cloth, grain if own == "any" else own)
                found[name, own] = max(run, found.get((name, own), 0.0))
    return found


def _run(cloth: Fields, grain: str) -> float:
    """Strips that are joined run across the cloth, or along it where its print or the wish
    for a grain lets them only so.
    """
    sides = {"length": cloth.length("length"), "width": cloth.length("width")}
    allowed = BasketCloth("", **sides, count=1, selvage=read_selvage(cloth), one_way=cloth.flag("one_way")).sides(grain)
    return float(sides["length" if allowed == ("length",) else "width"])
