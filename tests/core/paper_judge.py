"""Judges what a cutter of paper has cut: right pieces, right side up, on the right grain, inside the cloth, none twice.

A piece is looked at right side up, turned so that its strip runs left–right; it must then be the wanted outline, or
that outline turned by half. Outlines are worked out here from the request's own measures, by trigonometry alone."""

import math
from collections import Counter

from shapely import STRtree, affinity
from shapely.geometry import Polygon

from paper_bench import Freed
from paper_cloth import facing
from paper_cutter import Cutter
from paper_table import must

#: How far a corner may be off: what a hand reads off a ruler; where marks were set at ticks of ⅛ in, half a
#: tick for each of two edges.
EXACT = 1 / 64 + 1e-6
MARKED = 1 / 8 + 1e-6


def cot(degrees: float) -> float:
    return 1 / math.tan(math.radians(degrees))


def outlines(piece: dict) -> list[Polygon]:
    """The outlines that a piece of a request may have, its strip running left–right, up to half turns."""
    size, angle = float(piece["size"]), float(piece.get("angle", 90))
    return [Polygon(points) for points in _CORNERS[piece.get("shape", "diamond")](piece, size, angle)]


def _slanted(piece, size, angle, across):
    step, slant = across / math.sin(math.radians(angle)), size * cot(angle)
    corners = [(0, 0), (step, 0), (step + slant, size), (slant, size)]
    return [[(-x, y) for x, y in corners] if piece.get("mirrored") else corners]


def _diamond(piece, size, angle):
    return _slanted(piece, size, angle, size)


def _parallelogram(piece, size, angle):
    return _slanted(piece, size, angle, float(piece["across"]))


def _half_diamond(piece, size, angle):
    tip = angle if piece.get("cut", "short") == "short" else 180 - angle
    half = size * math.tan(math.radians(tip) / 2)
    return [[(0, 0), (2 * half, 0), (half, size)]]


def _trapezoid(piece, size, angle):
    base, slant = float(piece["base"]), size * cot(angle)
    return [[(0, 0), (base, 0), (base - slant, size), (slant, size)]]


def _rectangle(piece, size, angle):
    length = float(piece["length"])
    if piece.get("halved"):
        return [[(0, 0), (length, size), (0, size)], [(0, size), (length, 0), (0, 0)]]
    return [[(0, 0), (length, 0), (length, size), (0, size)]]


_CORNERS = {
    "diamond": _diamond, "parallelogram": _parallelogram, "half-diamond": _half_diamond, "trapezoid": _trapezoid, "rectangle": _rectangle,
}  # fmt: skip


def in_its_strip(piece: Freed) -> Polygon:
    """A piece right side up, its strip running left–right."""
    return at_origin(facing(piece.strip.along, "right", "right").shape(piece.region))


def at_origin(shape: Polygon) -> Polygon:
    left, bottom, _, _ = shape.bounds
    return affinity.translate(shape, -left, -bottom)


def alike(shape: Polygon, wanted: Polygon, near: float) -> bool:
    """Whether two outlines are the same without turning over, up to half a turn."""
    for turn in (0, 180):
        other = at_origin(affinity.rotate(wanted, turn))
        if shape.hausdorff_distance(other) <= near:
            return True
    return False


def judge(cutter: Cutter, wanted: dict[str, dict], exact: bool = True) -> None:
    """All that was cut, against the pieces of the request by their ids."""
    near = EXACT if exact else MARKED
    leans = set()
    for freed in (*cutter.pile, *cutter.set_aside):
        leans |= _judge_one(freed, cutter.script, wanted, near)
    must(len(leans) < 2, "piece", "diamonds that are not mirrored lean both ways")
    _judge_places([*cutter.pile, *cutter.set_aside])
    _judge_counts(cutter, wanted)


def _judge_one(freed: Freed, script: dict, wanted: dict[str, dict], near: float) -> set[str]:
    """For diamonds: which way those lean that are not mirrored. They are their own mirror images, and hands differ."""
    planned = script["strips"][script["steps"][freed.step]["strip"]]
    piece = wanted[planned["piece"]]
    shown, leans = in_its_strip(freed), set()
    if piece.get("shape", "diamond") == "diamond" or piece.get("across") == piece["size"]:
        leans = {lean for lean, turned in (("/", False), ("\\", True)) if _is(shown, piece, near, turned)}
        must(bool(leans), "piece", f"step {freed.step}: {list(shown.exterior.coords)} is no {piece}")
        leans = set() if len(leans) == 2 else leans
    else:
        must(_is(shown, piece, near), "piece", f"step {freed.step}: {list(shown.exterior.coords)} is no {piece}")
    if not _like_its_quarter_turn(freed):
        must(
            freed.strip.grain == planned["grain"], "grain", f"step {freed.step}: it lies along the {freed.strip.grain}"
        )
    return leans


def _is(shown: Polygon, piece: dict, near: float, turned_over: bool = False) -> bool:
    wanted = {**piece, "mirrored": not piece.get("mirrored", False)} if turned_over else piece
    return any(alike(shown, outline, near) for outline in outlines(wanted))


def _like_its_quarter_turn(freed: Freed) -> bool:
    """A square cloth without selvages: nothing tells its length from its width."""
    cloth = freed.cloth
    return cloth.lengthwise is None and abs(cloth.length - cloth.width) < 1 / 3


def _judge_places(pile: list[Freed]) -> None:
    """Every piece lies inside its cloth as described, and none lies on another."""
    for cloth in {id(freed.cloth): freed.cloth for freed in pile}.values():
        own = [freed.region for freed in pile if freed.cloth is cloth]
        usable = cloth.described.buffer(2 * EXACT)
        must(all(usable.covers(region) for region in own), "place", f"a piece lies outside {cloth.name}")
        tree = STRtree(own)
        pairs = [(a, b) for a, region in enumerate(own) for b in tree.query(region) if a < b]
        must(
            all(own[a].intersection(own[b]).area < 1e-3 for a, b in pairs),
            "place",
            f"pieces of {cloth.name} lie on each other",
        )


def _judge_counts(cutter: Cutter, wanted: dict[str, dict]) -> None:
    script = cutter.script
    uncounted = {piece["id"] for piece in script["pieces"] if not piece.get("counted", True)}
    cut = Counter(script["strips"][script["steps"][freed.step]["strip"]]["piece"] for freed in cutter.pile)
    told = sum(n for piece, n in cut.items() if piece not in uncounted) + len(cutter.finished)
    must(cutter.counted == told, "count", f"{cutter.counted} counted, {told} lie there")
    said = script["steps"][-1]["values"].get("n", told)
    must(said == told, "count", f"{said} said at the end, {told} lie there")
    for id, piece in wanted.items():
        if piece.get("halved"):
            _judge_halves(cutter, id, piece)
    asked = Counter(
        _finished(piece) for piece in wanted.values() if piece.get("joined") for _ in range(piece["joined"]["need"])
    )
    must(Counter(cutter.finished) == asked, "piece", f"{cutter.finished} were finished, {asked} are wanted")


def _finished(piece: dict) -> tuple:
    """A joined piece as it is finished: width, length, the angles at its ends."""
    first, second = piece["joined"]["ends"] or (None, None)
    return (piece["size"], piece["joined"]["length"], first, second)


def _judge_halves(cutter: Cutter, id: str, piece: dict) -> None:
    """So many rectangles were cut each way: two triangles from each."""
    script = cutter.script
    rising, falling = outlines(piece)
    own = [in_its_strip(f) for f in cutter.pile if script["strips"][script["steps"][f.step]["strip"]]["piece"] == id]
    found = [sum(alike(shape, outline, EXACT) for shape in own) for outline in (rising, falling)]
    must(
        found == [2 * n for n in piece["halved"]],
        "halve",
        f"{found} halves each way, wanted {piece['halved']} rectangles",
    )
