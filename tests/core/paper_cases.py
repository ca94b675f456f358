"""Cuttings to try, drawn from a seed: what is asked of the guide, and the cloths and rulers that really lie there."""

import json
import math
import random
from dataclasses import dataclass, replace
from functools import cache

import matside
from paper_cloth import Cloth

NARROW = {"name": "narrow", "width": 2, "length": 12, "angles": [{"degrees": 60, "from": "long"}]}
SQUARE = {"name": "square", "width": 15, "length": 15, "angles": [{"degrees": 45, "from": "long", "at": 0}]}
LONG = {
    "name": "long",
    "width": 8.5,
    "length": 24,
    "angles": [{"degrees": angle, "from": "long", "at": 6} for angle in (30, 45, 60)],
}
PLAIN = {"name": "plain", "width": 6, "length": 24}
#: None: the generic ones.
RULERS = (None, None, None, [NARROW], [PLAIN], [SQUARE], [LONG], [NARROW, SQUARE], [PLAIN, LONG], [])


@dataclass(frozen=True)
class Case:
    """A request for the guide, its pieces by id as asked for, and how much smaller each side
    of the cloths really is.
    """

    request: dict
    wanted: dict[str, dict]
    less: float = 0.0

    def smaller(self, less: float) -> "Case":
        return replace(self, less=less)

    def script(self) -> dict | None:
        """The script that the door gives; None where nothing can be cut."""
        found = answer(json.dumps({"ask": "guide", **self.request}))
        if not found["ok"]:
            assert found["error"]["code"] == "guide_pieces", found
            return None
        return json.loads(json.dumps(found["script"]))

    def rulers(self) -> list[dict]:
        given = self.request.get("rulers")
        if given is None:
            return answer('{"ask": "facts"}')["rulers"]
        return [{"tick": 0.125, **ruler} for ruler in given]

    def cloths(self, script: dict) -> list[Cloth]:
        """The cloths that lie there, in the script's order."""
        if "cloth" in self.request:
            return [self._cloth(self.request["cloth"])]
        by_id = {cloth["id"]: cloth for cloth in self.request["cloths"]}
        return [self._cloth(by_id[cloth["id"]]) for cloth in script["cloths"]]

    def _cloth(self, given: dict) -> Cloth:
        kind = next(
            (kind for kind in answer('{"ask": "facts"}')["kinds"] if kind["code"] == given.get("kind", "scrap")), {}
        )
        said = {**{name: value for name, value in kind.items() if value is not None}, **given}
        selvage = said.get("selvage")
        said.setdefault(
            "length", self.request.get("piece", {}).get("size")
        )  # a full-width strip is as wide as its piece
        return Cloth(
            said.get("id", said.get("kind", "scrap")), said["length"] - self.less, said["width"] - self.less,
            None if selvage == "none" else selvage, said.get("selvages", 0), said.get("one_way", False), said.get("fabric"),
        )  # fmt: skip


@cache
def answer(request: str) -> dict:
    return json.loads(json.dumps(matside.answer(json.loads(request)), default=float))


def drawn(seed: int) -> Case:
    """The case of a seed: mostly one piece from one cloth, sometimes a plan for several."""
    draw = random.Random(seed)
    return (_planned if seed % 4 == 3 else _single)(draw)


def _habits(draw: random.Random) -> dict:
    rulers = draw.choice(RULERS)
    return {
        "hand": draw.choice(("right", "left")),
        "lay": draw.choice(("along", "along", "away")),
        "layers": draw.choice((1, 1, 1, 2, 4)),
        "mat": draw.choice((24, 24, 12, 36)),
        **({} if rulers is None else {"rulers": rulers}),
    }


def _single(draw: random.Random) -> Case:
    piece, cloth = _piece(draw), _one_cloth(draw)
    way = draw.choice(("along_length", "along_width", "mixed"))
    return Case({"piece": piece, "cloth": cloth, "way": way, **_habits(draw)}, {"piece": piece})


def _piece(draw: random.Random) -> dict:
    shape = draw.choice(("diamond", "diamond", "half-diamond", "parallelogram", "trapezoid", "rectangle"))
    size = draw.choice((1.5, 2, 2.5, 3, 3.25, 4, 5))
    angle = draw.choice((30, 45, 60, 60, 60, 75, 90))
    mirrored = {"mirrored": True} if draw.random() < 0.4 else {}
    if shape == "diamond":
        return {"shape": shape, "size": size, "angle": max(angle, 30), **mirrored}
    if shape == "half-diamond":
        return {"shape": shape, "size": size, "angle": angle, "cut": draw.choice(("short", "long"))}
    if shape == "parallelogram":
        return {"shape": shape, "size": size, "angle": angle, "across": draw.choice((1.5, 2, 3.5, 4)), **mirrored}
    if shape == "trapezoid":
        return {"shape": shape, "size": size, "angle": max(angle, 45), "base": 2 * size + draw.choice((1, 2.5, 4))}
    return {"shape": shape, "size": size, "length": draw.choice((size, 3, 4.5, 6.25, 9))}


def _one_cloth(draw: random.Random) -> dict:
    kind = draw.choice(
        ("fat_quarter", "fat_quarter", "fat_eighth", "yardage", "full_width_strip", "ten_inch_square", "own", "own")
    )
    if kind == "yardage":
        return {"kind": kind, "length": draw.choice((9, 13.5, 27)), "width": draw.choice((40, 42))}
    if kind != "own":
        return {"kind": kind}
    selvage = draw.choice(("length", "width", "none"))
    sides = {"length": draw.choice((11, 16.5, 20, 24, 30)), "width": draw.choice((10, 16.5, 22, 27))}
    return {**sides, "selvage": selvage, "selvages": 0 if selvage == "none" else draw.choice((0, 1, 2))}


def _planned(draw: random.Random) -> Case:
    pieces = [
        {"id": f"kind {i}", "need": draw.choice((4, 7, 12)), **_small(_piece(draw))}
        for i in range(draw.choice((1, 2, 3)))
    ]
    cloths = [{"id": f"cloth {i}", "count": 1, **_basket_cloth(draw)} for i in range(draw.choice((1, 2, 3)))]
    asked = {"pieces": pieces, "cloths": cloths, "work": 4000}
    plan = answer(json.dumps({"ask": "plan", **asked}))
    assert plan["ok"], plan
    layouts = [
        {name: layout[name] for name in ("cloth", "times", "division", "strips") if layout.get(name)}
        for layout in plan["layouts"]
    ]
    for layout in layouts:
        layout["strips"] = [{k: v for k, v in strip.items() if k != "outlines"} for strip in layout["strips"]]
    wanted = {piece["id"]: piece for piece in pieces}
    return Case({"pieces": pieces, "cloths": cloths, "layouts": layouts, **_habits(draw)}, wanted)


def _small(piece: dict) -> dict:
    return piece


def _basket_cloth(draw: random.Random) -> dict:
    cloth = _one_cloth(draw)
    kinds = {kind["code"]: kind for kind in answer('{"ask": "facts"}')["kinds"]}
    kind = {
        k: v
        for k, v in kinds.get(cloth.get("kind"), {}).items()
        if k in ("length", "width", "selvage", "selvages") and v is not None
    }
    return {"length": 9, **kind, **{k: v for k, v in cloth.items() if k != "kind"}}


def _one(piece: dict, cloth: dict, **more) -> Case:
    return Case({"piece": piece, "cloth": cloth, **more}, {"piece": piece})


def _tight(piece: dict, waste: float, step: float, **more) -> Case:
    """A ready-cut strip that is just as long as nine pieces."""
    strip = {"length": piece["size"], "width": waste + 9 * step + 0.002, "selvage": "none"}
    return _one(piece, strip, way="along_width", **more)


_SINE, _COTANGENT = math.sin(math.radians(75)), 1 / math.tan(math.radians(75))
_STEEP = {"shape": "diamond", "size": 3, "angle": 75}
#: Strips with nothing to spare.
TIGHT = {
    "by lines": lambda: _tight({"shape": "diamond", "size": 3, "angle": 60}, 3 / 3**0.5, 6 / 3**0.5),
    "by eye": lambda: _tight(_STEEP, 3 * _COTANGENT, 3 / _SINE, rulers=[]),
    "by marks, rounded up": lambda: _tight(_STEEP, 3 * _COTANGENT, 3 / _SINE, rulers=[NARROW]),
    "by marks, rounded down": lambda: _tight({**_STEEP, "size": 4}, 4 * _COTANGENT, 4 / _SINE, rulers=[NARROW]),
    "straight": lambda: _tight({"shape": "rectangle", "size": 3, "length": 4}, 0, 4),
}


def _laid_out(pieces: list[dict], cloth: dict, strips: list[tuple], **more) -> Case:
    """A layout of strips side by side from the cloth's left, (piece, size, run, count, how many)."""
    laid, x = [], 0.0
    for piece, size, run, count, times in strips:
        for _ in range(times):
            laid.append({"x": x, "y": 0, "along": "width", "run": run, "size": size, "piece": piece, "count": count})
            x += size
    wanted = {piece["id"]: piece for piece in pieces}
    return Case(
        {
            "pieces": pieces,
            "cloths": [{"id": "cloth", **cloth}],
            "layouts": [{"cloth": "cloth", "strips": laid}],
            **more,
        },
        wanted,
    )


def _halved(**more) -> Case:
    piece = {"id": "corners", "shape": "rectangle", "size": 3, "length": 5, "halved": [4, 2], "need": 6}
    return _laid_out([piece], {"length": 20, "width": 20}, [("corners", 3, 15, 3, 2)], **more)


def _joined(ends: list | None, **more) -> Case:
    piece = {
        "id": "sash",
        "shape": "rectangle",
        "size": 2,
        "length": 20,
        "need": 3,
        "joined": {"length": 22.75, "need": 2, "ends": ends, "takes": 3},
    }
    return _laid_out([piece], {"length": 12, "width": 20}, [("sash", 2, 20, 1, 3)], **more)


_YARDAGE = {"kind": "yardage", "length": 27, "width": 42}
#: Cuttings that the draw meets seldom or never.
SPECIAL = {
    "halved": _halved,
    "halved, left hand, away": lambda: _halved(hand="left", lay="away"),
    "halved, stacked": lambda: _halved(layers=2),
    "joined": lambda: _joined(None),
    "joined, angled": lambda: _joined([60, 60]),
    "yardage, folded twice": lambda: _one({"size": 4, "angle": 60}, _YARDAGE, mat=12, way="along_width"),
    "yardage along the selvage": lambda: _one({"size": 4, "angle": 60}, _YARDAGE, mat=12, way="along_length"),
    "parallelograms of the other hand, stacked": lambda: _one(
        {"shape": "parallelogram", "size": 3, "across": 2, "angle": 45, "mirrored": True},
        _YARDAGE,
        hand="left",
        layers=4,
        way="along_width",
    ),
}
