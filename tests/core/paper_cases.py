"""Cuttings to try, drawn from a seed: what is asked of the guide, and the cloths and rulers that really lie there."""

import json
import random
from dataclasses import dataclass, replace
from functools import cache

from paper_cloth import Cloth

import matside

NARROW = {"name": "narrow", "width": 2, "length": 12, "angles": [{"degrees": 60, "from": "long"}]}
SQUARE = {"name": "square", "width": 15, "length": 15, "angles": [{"degrees": 45, "from": "long", "at": 0}]}
LONG = {"name": "long", "width": 8.5, "length": 24, "angles": [{"degrees": angle, "from": "long", "at": 6} for angle in (30, 45, 60)]}
PLAIN = {"name": "plain", "width": 6, "length": 24}
#: None: the generic ones.
RULERS = (None, None, None, [NARROW], [PLAIN], [SQUARE], [LONG], [NARROW, SQUARE], [PLAIN, LONG], [])


@dataclass(frozen=True)
class Case:
    """A request for the guide, its pieces by id as asked for, and how much smaller each side of the cloths really is."""

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
        kind = next((kind for kind in answer('{"ask": "facts"}')["kinds"] if kind["code"] == given.get("kind", "scrap")), {})
        said = {**{name: value for name, value in kind.items() if value is not None}, **given}
        selvage = said.get("selvage")
        said.setdefault("length", self.request.get("piece", {}).get("size"))  # a full-width strip is as wide as its piece
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
    kind = draw.choice(("fat_quarter", "fat_quarter", "fat_eighth", "yardage", "full_width_strip", "ten_inch_square", "own", "own"))
    if kind == "yardage":
        return {"kind": kind, "length": draw.choice((9, 13.5, 27)), "width": draw.choice((40, 42))}
    if kind != "own":
        return {"kind": kind}
    selvage = draw.choice(("length", "width", "none"))
    sides = {"length": draw.choice((11, 16.5, 20, 24, 30)), "width": draw.choice((10, 16.5, 22, 27))}
    return {**sides, "selvage": selvage, "selvages": 0 if selvage == "none" else draw.choice((0, 1, 2))}


def _planned(draw: random.Random) -> Case:
    pieces = [{"id": f"kind {i}", "need": draw.choice((4, 7, 12)), **_small(_piece(draw))} for i in range(draw.choice((1, 2, 3)))]
    cloths = [{"id": f"cloth {i}", "count": 1, **_basket_cloth(draw)} for i in range(draw.choice((1, 2, 3)))]
    asked = {"pieces": pieces, "cloths": cloths, "work": 4000}
    plan = answer(json.dumps({"ask": "plan", **asked}))
    assert plan["ok"], plan
    layouts = [{name: layout[name] for name in ("cloth", "times", "division", "strips") if layout.get(name)} for layout in plan["layouts"]]
    for layout in layouts:
        layout["strips"] = [{k: v for k, v in strip.items() if k != "outlines"} for strip in layout["strips"]]
    wanted = {piece["id"]: piece for piece in pieces}
    return Case({"pieces": pieces, "cloths": cloths, "layouts": layouts, **_habits(draw)}, wanted)


def _small(piece: dict) -> dict:
    return piece


def _basket_cloth(draw: random.Random) -> dict:
    cloth = _one_cloth(draw)
    kinds = {kind["code"]: kind for kind in answer('{"ask": "facts"}')["kinds"]}
    kind = {k: v for k, v in kinds.get(cloth.get("kind"), {}).items() if k in ("length", "width", "selvage", "selvages") and v is not None}
    return {"length": 9, **kind, **{k: v for k, v in cloth.items() if k != "kind"}}
