"""The ask `best_size`: how many pieces cloths give for every size of a piece, and which sizes waste least."""

from collections.abc import Generator
from fractions import Fraction

from ..cloth import WAYS
from ..errors import Refusal
from ..fields import Fields
from ..kinds import read_cloth, read_fabric
from ..plan.basket import BasketCloth, Need
from ..plan.unmet import reason
from ..shapes import SMALLEST
from ..units import LONGEST
from ..wasting.cliffs import Stock
from ..wasting.curve import Curve, CurveStep
from ..wasting.good import Mark, marked
from ..wasting.varied import Varied, read_varied
from .plan import read_basket, read_grain

_EIGHTH = Fraction(1, 8)


def answer(request: dict) -> dict:
    """All of the curve at once.

    >>> piece, cloth = {"size": "3 3/8 in", "angle": 52}, {"length": 27, "width": 31}
    >>> found = answer({"piece": piece, "cloth": cloth, "from": "3 in", "to": 4})
    >>> [(round(float(step["size"]), 3), step["pieces"], step["good"]) for step in found["steps"]][:3]
    [(3.0, 63, False), (3.048, 61, False), (3.1, 60, False)]
    """
    *_, last = search(request)
    return last


def search(request: dict) -> Generator[dict, str | None, None]:
    """The same in slices: yields {"progress": {"done": …}}, the part that is done, and last
    the answer's fields with "ok".

    `steps` are told from `from` to `to`, each with the largest `size` that still gives so many `pieces` (exact: a
    `cliff` where just above it there are fewer), with the largest size that a ruler of the given `step` can lay for it,
    and whether that is a good one. So many pieces of size s take `pieces · (k0 + k1 · s + k2 · s²)` of the cloth: k0,
    k1, k2 are `share_per_piece`."""
    fields = Fields(request)
    (piece, size), ruler = read_varied(fields.object("piece")), fields.length("step", _EIGHTH)
    least, most = _range(fields, size)
    stocks, basket = _stocks(fields)
    curve = Curve(piece, stocks, least, most)
    for done in curve.run():
        yield {"progress": {"done": done}}
    yield {
        "ok": True,
        "size": size,
        "from": least,
        "to": most,
        "step": ruler,
        **_told(piece, stocks, basket, curve.steps, least, ruler),
    }


def _range(fields: Fields, size: Fraction) -> tuple[Fraction, Fraction]:
    """From which size to which: from half to double the piece's own where the request does not say."""
    least = fields.length("from", max(SMALLEST, size / 2))
    if least < SMALLEST:
        raise Refusal(fields.at("from"), "piece_too_small", given=float(least), least="¼ in")
    most = fields.length("to", min(LONGEST, max(2 * size, 2 * least)))
    if most <= least:
        raise Refusal(fields.at("to"), "sizes_backward", given=float(most), least=float(least))
    return least, most


def _stocks(fields: Fields) -> tuple[list[Stock], list[BasketCloth]]:
    """One `cloth` as the ask `cloth` takes it, cut in a `way`; or the `cloths` of a basket
    as the ask `plan` takes them.
    """
    if fields.has("cloths"):
        return _of_basket(fields)
    given = fields.object("cloth")
    way = fields.choice("way", (*WAYS, "best"), "best")
    sides = ("length", "width") if way == "best" else (way.removeprefix("along_"),)
    count = given.count("count", 1, 10_000, default=1)
    if given.raw("kind") == "full_width_strip" and not given.has("length"):
        cloth = read_cloth(given, SMALLEST)
        return [Stock(None, cloth.width, count, ("width",))], [BasketCloth("", LONGEST, cloth.width, count)]
    cloth = read_cloth(given)
    return [Stock(cloth.length, cloth.width, count, sides)], [BasketCloth("", cloth.length, cloth.width, count)]


def _of_basket(fields: Fields) -> tuple[list[Stock], list[BasketCloth]]:
    """Cloths that are alike together; those of another fabric than the piece's give none of it."""
    cloths, grain = read_basket(fields), read_grain(fields)
    piece = fields.object("piece")
    fabric = read_fabric(piece)
    own = [cloth for cloth in cloths if cloth.count and (fabric is None or cloth.fabric == fabric)]
    alike: dict[tuple, int] = {}
    for cloth in own:
        key = cloth.length, cloth.width, cloth.sides(grain)
        alike[key] = alike.get(key, 0) + cloth.count
    return [Stock(length, width, count, sides) for (length, width, sides), count in alike.items() if sides], own


def _told(
    piece: Varied,
    stocks: list[Stock],
    basket: list[BasketCloth],
    steps: list[CurveStep],
    least: Fraction,
    ruler: Fraction,
) -> dict:
    per_piece = _share_per_piece(piece, stocks)

    def share(size: Fraction, pieces: int) -> float:
        return pieces * sum(part * float(size) ** power for power, part in enumerate(per_piece))

    marks = marked(steps, least, ruler, share)
    good = [number for number, mark in enumerate(marks) if mark.good]
    return {
        "steps": [_step(step, mark, share(step.size, step.pieces)) for step, mark in zip(steps, marks)],
        "share_per_piece": per_piece,
        "best": max(good, key=lambda number: marks[number].share, default=None),
        "none": None if steps[0].pieces else _why(piece, basket, least),
    }


def _step(step: CurveStep, mark: Mark, share: float) -> dict:
    told = {"size": step.size, "pieces": step.pieces, "cliff": step.cliff, "share": share}
    return {**told, "laid": mark.laid, "laid_share": mark.share, "good": mark.good}


def _share_per_piece(piece: Varied, stocks: list[Stock]) -> tuple[float, float, float]:
    """What part of the cloth a piece of size s takes, by the powers of s. Cloth of another grain than
    is asked for does not count.
    """
    area = sum(stock.area for stock in stocks)
    if not area:
        return 0.0, 0.0, 0.0
    fixed, advance = (part / area for part in piece.advance)
    return (fixed, advance, 0.0) if stocks[0].fitted else (0.0, fixed, advance)


def _why(piece: Varied, basket: list[BasketCloth], least: Fraction) -> str:
    """Why there is none of even the least size."""
    return reason(Need("", piece.at(least), 1), basket, "any")[0]
