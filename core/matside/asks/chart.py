"""The ask `chart`: pieces from each kind of cloth for a range of sizes, both ways and at best, with the reason."""

from ..cloth import Cloth, CutWay
from ..errors import Refusal
from ..fields import Fields
from ..handout.chart import Cell, lacks, reason, rows
from ..kinds import KINDS, read_cloth
from ..pieces import MEASURES, read_piece
from ..shapes import MOST_OUTLINES, Shape
from ..units import parse_length, shown
from ..usual import ANGLES, usual
from .cloth import layout

MOST_SIZES = 30
MOST_KINDS = 12
UNITS = ("in", "cm")


def answer(request: dict) -> dict:
    """A row of `cells` for every size, a cell for every cloth, in the order in which they are asked for.

    `piece` is a piece without its size (a 60° diamond), `sizes` its sizes as cut, `cloths` codes of kinds or cloths by
    their sides; without them what is usual in `units` ("in" or "cm"). A cell has its cloth's sides, `along_length` and
    `along_width` (strips, per_strip, pieces), `best` with its layout, `sure`, the `reason` and what it `lacks` for
    more. With `drawing` false, and beyond the outlines that one answer may have, layouts are not drawn.
    """
    fields = Fields(request)
    units = fields.choice("units", UNITS, "in")
    shapes = _sizes(fields, units)
    cloths = _cloths(fields, units)
    found = rows(shapes, lambda shape: [read_cloth(one, shape.size) for one in cloths])
    drawn = _Drawn(shapes[0].name, MOST_OUTLINES if fields.flag("drawing", True) else 0)
    return {
        "units": units,
        "piece": {"shape": shapes[0].name, "angle": shapes[0].angle},
        "sizes": [shape.size for shape in shapes],
        "cloths": [_cloth(one, shapes[0]) for one in cloths],
        "cells": [[_cell(cell, drawn) for cell in row] for row in found],
    }


class _Drawn:
    """Layouts, as long as there is room for their outlines in the answer."""

    def __init__(self, name: str, room: int):
        self._name, self._room = name, room

    def of(self, shape: Shape, way: CutWay) -> dict:
        drawn = way.pieces <= self._room
        self._room -= way.pieces if drawn else 0
        return layout(shape, self._name, way, drawn)


def _cell(found: Cell, drawn: _Drawn) -> dict:
    return {
        "length": found.cloth.length,
        "width": found.cloth.width,
        **{f"along_{along}": _plain(way) for along, way in found.plain.items()},
        "best": {
            "way": found.best.name,
            "pieces": found.best.pieces,
            "grain_mixed": found.best.grain_mixed,
            "layout": drawn.of(found.shape, found.best),
        },
        "sure": found.sure,
        "reason": reason(found),
        "lacks": lacks(found),
    }


def _plain(way: CutWay) -> dict:
    part = way.parts[0]
    return {"strips": part.strips, "per_strip": part.strip.pieces, "pieces": way.pieces}


def _cloth(fields: Fields, shape: Shape) -> dict:
    """A cloth as the head of its column tells it: a strip that is as wide as its piece has no length of its own."""
    cloth: Cloth = read_cloth(fields, shape.size)
    as_wide = fields.raw("kind") == "full_width_strip" and not fields.has("length")
    sides = {"length": None if as_wide else cloth.length, "width": cloth.width}
    return {"code": fields.raw("kind"), **sides, "selvage": cloth.selvage}


def _sizes(fields: Fields, units: str) -> list[Shape]:
    """The piece in every size."""
    given = fields.list("sizes", MOST_SIZES, 1) if fields.has("sizes") else _usual_sizes(units)
    piece = fields.object("piece") if fields.has("piece") else Fields({}, "piece")
    return [_sized(piece, size, f"sizes[{k}]") for k, size in enumerate(given)]


def _usual_sizes(units: str) -> list[str]:
    return [f"{size} {units}" for size in usual(units)["sizes"]]


def _sized(piece: Fields, size, place: str) -> Shape:
    """The piece in one size; what is wrong with the size is wrong at its own place."""
    rest = {name: value for name, value in piece.given.items() if name not in MEASURES}
    if piece.raw("shape", "diamond") == "diamond" and not piece.has("angle"):
        rest["angle"] = ANGLES[0]
    length = parse_length(size, place)
    try:
        return read_piece(Fields({**rest, "size": length}, piece.place))
    except Refusal as refusal:
        if refusal.field != piece.at("size"):
            raise
        raise Refusal(place, refusal.code, **refusal.values) from None


def _cloths(fields: Fields, units: str) -> list[Fields]:
    """The cloths as objects of a request, each with its place."""
    given = fields.list("cloths", MOST_KINDS, 1) if fields.has("cloths") else usual(units)["cloths"]
    return [_as_object(one, f"{fields.at('cloths')}[{k}]") for k, one in enumerate(given)]


def _as_object(one, place: str) -> Fields:
    if not isinstance(one, str):
        return Fields(one, place)
    if one not in KINDS:
        raise Refusal(place, "choice", given=shown(one), choices=", ".join(sorted(KINDS)))
    return Fields({"kind": one}, place)
