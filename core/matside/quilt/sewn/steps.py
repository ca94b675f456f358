"""Seams that are set in, step by step, each with what a small picture of it needs.

A step sews groups of pieces, each sewn together before, to each other. Its seams run from one finished corner to
another, where seam lines cross, a seam allowance before the cut edges; only where nothing is set in later they may run
on to the cut edge. In a notch both seams begin at its inner corner. Common practice, no published source."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

from ...shapes import Outline, Point
from ..geometry import Geometry, Ground
from ..outlines.polygons import moved, sides, transposed
from ..settings.setting import Setting
from .rows import BETWEEN_ROWS

#: Corners nearer than this are one, in inches.
_NEAR = 1e-6

SewnGroup = tuple[Outline, ...]


@dataclass(frozen=True, slots=True)
class SewingStep:
    """What is sewn to what, and the corners where seams may run on to the cut edge."""

    code: str
    groups: tuple[SewnGroup, ...]
    runs_on: Callable[[Point], bool]


class Edge(NamedTuple):
    """An edge that two pieces share, run one way."""

    start: Point
    end: Point
    pieces: tuple[Outline, Outline]

    def back(self) -> "Edge":
        """The same, run the other way."""
        return Edge(self.end, self.start, self.pieces)


def steps(geometry: Geometry, ground: Ground) -> list[dict]:
    """The steps of a setting with set-in seams, the first first; none where straight rows are all there is.

    `pieces` are finished outlines in inches, y running down, each with the number of its group; `seams` in the order in
    which they are sewn, each from where to where it is stitched, and whether it `stops` at a finished corner at its two
    ends."""
    setting = geometry.built()
    match geometry.setting:
        case "hexagons":
            found = _hexagons(setting)
        case "stars":
            found = _stars(setting, geometry.joined_by)
        case "eight_pointed":
            found = _blocks(setting, geometry.measures.edge)
        case "zigzag" if BETWEEN_ROWS in ground.patchwork.counts():
            found = _zigzag(setting, geometry)
        case _:
            found = []
    return [_told(step, float(geometry.piece.seam), geometry.lying) for step in found]


def _hexagons(setting: Setting) -> list[SewingStep]:
    top, left, right = _tiles(setting)
    block = (top, left, right)
    beside, below = _shifted(block, setting.step[0], 0.0), _shifted(block, setting.step[0] / 2, setting.step[1])
    return [
        SewingStep("hexagon_two", ((left,), (right,)), _nowhere),
        SewingStep("hexagon_third", ((left, right), (top,)), _nowhere),
        SewingStep("hexagon_beside", (block, beside), _nowhere),
        SewingStep("hexagon_into", ((*block, *beside), below), _nowhere),
    ]


def _stars(setting: Setting, joined_by: str) -> list[SewingStep]:
    star, joining = _tiles(setting, joins=False), _tiles(setting, joins=True)
    half, other = star[:3], star[3:]
    found = [
        SewingStep("star_three", tuple((piece,) for piece in half), _middle),
        SewingStep("star_halves", (half, other), _middle),
    ]
    if joined_by == "diamonds":
        between = joining[:1]  # it lies to the right, between this star and the next
        beside = _shifted(star, setting.step[0], 0.0)
        found += [
            SewingStep("star_notch", (star, between), _nowhere),
            SewingStep("star_next", ((*star, *between), beside), _nowhere),
        ]
        return found
    large = (*star, *joining)
    beside, below = _shifted(large, setting.step[0], 0.0), _shifted(large, setting.step[0] / 2, setting.step[1])
    return [
        *found,
        SewingStep("star_notches", (star, *((piece,) for piece in joining)), _nowhere),
        SewingStep("hexagon_beside", (large, beside), _nowhere),
        SewingStep("hexagon_into", ((*large, *beside), below), _nowhere),
    ]


def _blocks(setting: Setting, edge: float) -> list[SewingStep]:
    block = edge * (2 + math.sqrt(2))
    middle = (block / 2, block / 2)

    def outside(point: Point) -> bool:
        return any(abs(along - end) < _NEAR for along in point for end in (0.0, block))

    star, squares, triangles = (_tiles(setting, kind) for kind in ("diamond", "square", "side_triangle"))
    half, other = star[:4], star[4:]
    return [
        SewingStep("block_four", tuple((piece,) for piece in half), lambda point: math.dist(point, middle) < _NEAR),
        SewingStep("block_halves", (half, other), lambda point: math.dist(point, middle) < _NEAR),
        SewingStep("block_triangles", (star, *((piece,) for piece in triangles)), outside),
        SewingStep("block_squares", ((*star, *triangles), *((piece,) for piece in squares)), outside),
    ]


def _zigzag(setting: Setting, geometry: Geometry) -> list[SewingStep]:
    """The notch at the right end of the first two rows."""
    measures = geometry.measures
    upper, lower = _tiles(setting)
    rows = tuple((row, moved(row, measures.edge, 0.0)) for row in (upper, lower))
    right = 2 * measures.edge + measures.slant
    tip = (2 * measures.edge, measures.size)
    notch = ((right, 0.0), (right, 2 * measures.size), tip)

    def off_the_tip(point: Point) -> bool:
        return math.dist(point, tip) > _NEAR

    return [
        SewingStep("zigzag_rows", rows, off_the_tip),
        SewingStep("zigzag_notch", ((*rows[0], *rows[1]), (notch,)), off_the_tip),
    ]


def _nowhere(point: Point) -> bool:
    return False


def _middle(point: Point) -> bool:
    return math.hypot(*point) < _NEAR


def _tiles(setting: Setting, kind: str = "diamond", joins: bool = False) -> SewnGroup:
    """The pieces of a kind of the first unit, or those that join it to others."""
    tiling = setting.tiling
    first = [tile for tile in tiling.tiles if tile.kind == kind and tile.joins == joins]
    # A zigzag's first unit and the one below it are its period.
    here = first if setting.name == "zigzag" else [tile for tile in first if tile.row == tile.column == 0]
    return tuple(moved(tiling.shapes[tile.shape], tile.x, tile.y) for tile in here)


def _shifted(group: SewnGroup, right: float, down: float) -> SewnGroup:
    return tuple(moved(piece, right, down) for piece in group)


def _told(step: SewingStep, seam: float, lying: bool) -> dict:
    seams = [
        _seam(run, step, seam) for one, other in combinations(step.groups, 2) for run in _runs(_shared(one, other))
    ]
    pieces = [{"outline": piece, "group": k} for k, group in enumerate(step.groups) for piece in group]
    if lying:
        pieces = [{**piece, "outline": transposed(piece["outline"])} for piece in pieces]
        seams = [{**one, "line": [(y, x) for x, y in one["line"]]} for one in seams]
    return {"code": step.code, "pieces": pieces, "seams": seams}


def _shared(one: SewnGroup, other: SewnGroup) -> list[Edge]:
    """The edges that two groups have in common, each with the two pieces."""
    return [
        Edge(a, b, (piece, next_to))
        for piece in one
        for next_to in other
        for a, b in sides(piece)
        for c, d in sides(next_to)
        if _is(a, d) and _is(b, c)
    ]


def _is(a: Point, b: Point) -> bool:
    return math.dist(a, b) < _NEAR


def _runs(edges: list[Edge]) -> list[list[Edge]]:
    """Edges that hang together, as straight seams in the order in which they are sewn: where there is one bend, it is
    the inner corner of a notch, and both seams begin there."""
    found = []
    for path in _paths(edges):
        straight = [[path[0]]]
        for edge in path[1:]:
            bent = abs(_cross(straight[-1][-1], edge)) > _NEAR
            straight.append([edge]) if bent else straight[-1].append(edge)
        if len(straight) == 2:
            straight[0] = [edge.back() for edge in reversed(straight[0])]
        found += straight
    return found


def _paths(edges: list[Edge]) -> list[list[Edge]]:
    """Edges that follow each other, each begun at an end that no other edge has."""
    left, found = list(edges), []
    while left:
        ends = [edge for edge in (*left, *(edge.back() for edge in left)) if _before(edge, left) is None]
        path = [ends[0] if ends else left[0]]
        while path:
            left = [edge for edge in left if edge.pieces != path[-1].pieces]
            after = next((edge for edge in (*left, *(e.back() for e in left)) if _is(edge.start, path[-1].end)), None)
            if after is None:
                break
            path.append(after)
        found.append(path)
    return found


def _before(edge: Edge, edges: list[Edge]) -> Edge | None:
    """Another edge that meets the start of one."""
    others = (other for other in edges if other.pieces != edge.pieces)
    return next((other for other in others if _is(other.start, edge.start) or _is(other.end, edge.start)), None)


def _cross(one: Edge, other: Edge) -> float:
    (a, b), (c, d) = ((e.end[0] - e.start[0], e.end[1] - e.start[1]) for e in (one, other))
    return a * d - b * c


def _seam(run: list[Edge], step: SewingStep, seam: float) -> dict:
    """A seam as it is stitched; where it may run on, to where the cut edges of both pieces are passed."""
    first, last = run[0], run[-1]
    stops = [not step.runs_on(point) for point in (first.start, last.end)]
    start = first.start if stops[0] else _beyond(first.end, first.start, first.pieces, seam)
    end = last.end if stops[1] else _beyond(last.start, last.end, last.pieces, seam)
    return {"line": [start, end], "stops": stops}


def _beyond(start: Point, end: Point, pieces: tuple[Outline, Outline], seam: float) -> Point:
    """The point on the line from start through end that lies on the farther of the two pieces' cut edges."""
    further = max(seam / math.sin(_corner(piece, end)) for piece in pieces)
    share = 1 + further / math.dist(start, end)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _corner(piece: Outline, point: Point) -> float:
    """The angle of a piece's corner, in radians."""
    at = min(range(len(piece)), key=lambda k: math.dist(piece[k], point))
    before, after = piece[at - 1], piece[(at + 1) % len(piece)]
    (x, y), (u, v) = ((p[0] - point[0], p[1] - point[1]) for p in (before, after))
    return math.acos((x * u + y * v) / (math.hypot(x, y) * math.hypot(u, v)))
