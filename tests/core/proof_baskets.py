"""Random baskets to prove plans of: up to 60 cloths, of few sorts or of many, and up to 20 kinds that are needed."""

from random import Random

from matside.fields import Fields
from matside.pieces import read_piece

MOST_CLOTHS = 60
MOST_KINDS = 20
CUTS = [(18, 20), (9, 20), (10, 10), (5, 5), (9, 42), (18, 42), (36, 42)]
SIZES = [1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8]
FABRICS = ["red", "blue", None]
GRAINS = ["any"] * 6 + ["lengthwise", "crosswise"]


def basket(rng: Random, work: int, most_kinds: int = MOST_KINDS) -> dict:
    """The ask for a plan and its proof; the pieces take up a third of the cloth to a little more than all of it."""
    shares, limited = rng.random() < 0.15, rng.random() < 0.3
    cloths = _few_sorts(rng) if rng.random() < 0.6 else _many_sorts(rng)
    for cloth in cloths:
        if shares:
            cloth["fabric"] = rng.choice(FABRICS)
        if limited:
            cloth.update(selvage=rng.choice(["length", "width", "none"]), one_way=rng.random() < 0.3)
    pieces = [_piece(rng, number) for number in range(rng.randint(1, most_kinds))]
    if shares:
        for piece in pieces:
            piece["fabric"] = rng.choice(FABRICS)
    _set_needs(
        rng, pieces, rng.choice([0.3, 0.5, 0.7, 0.9, 1.1]) * sum(c["length"] * c["width"] * c["count"] for c in cloths)
    )
    return {
        "ask": "plan",
        "cloths": cloths,
        "pieces": pieces,
        "grain": rng.choice(GRAINS) if limited else "any",
        "work": work,
        "proof": True,
    }


def _few_sorts(rng: Random) -> list[dict]:
    number = rng.randint(1, 4)
    return [_cloth(rng, i, rng.randint(1, rng.choice([2, 5, MOST_CLOTHS // number]))) for i in range(number)]


def _many_sorts(rng: Random) -> list[dict]:
    return [_cloth(rng, i, 1) for i in range(rng.randint(5, rng.choice([10, 20, MOST_CLOTHS])))]


def _cloth(rng: Random, number: int, count: int) -> dict:
    sides = rng.choice(CUTS) if rng.random() < 0.4 else (rng.randint(12, 48) / 2, rng.randint(12, 84) / 2)
    return {"id": f"cloth {number}", "length": sides[0], "width": sides[1], "count": count}


def _piece(rng: Random, number: int) -> dict:
    shape = rng.choice(["diamond", "diamond", "half-diamond", "rectangle", "parallelogram", "trapezoid"])
    made = {"id": f"piece {number}", "shape": shape, "size": rng.choice(SIZES)}
    if shape == "rectangle":
        return {**made, "length": rng.randint(3, 36) / 2}
    if shape == "trapezoid":
        return {**made, "base": made["size"] * 2 + rng.choice([1, 2.5, 4]), "angle": rng.choice([60, 45])}
    across = {"across": rng.choice(SIZES)} if shape == "parallelogram" else {}
    return {**made, **across, "angle": rng.choice([60, 60, 45, 30])}


def _set_needs(rng: Random, pieces: list[dict], area: float) -> None:
    """Needs of unlike size that take up about so much area together, one of each piece at least and 400 at most."""
    parts = [rng.randint(1, 20) for _ in pieces]
    for piece, part in zip(pieces, parts):
        piece["need"] = min(400, max(1, round(area * part / sum(parts) / read_piece(Fields(piece)).area)))
