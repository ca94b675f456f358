"""A strip, or a stack of strips alike, as it lies before the cutter; it is cut across, from the worked end on."""

import math
from dataclasses import dataclass, field

from shapely.geometry import LineString, Polygon

from paper_cloth import FAR, OPPOSITE, Cloth, Motion, Strip, facing, on_grid

Spot = tuple[float, float]
ALONG = ("left", "right")


@dataclass
class Freed:
    """A piece that a cut has freed: its region on its cloth, how it lay, and the strip it came from."""

    cloth: Cloth
    region: Polygon
    lie: Motion
    strip: Strip
    step: int = -1
    halved: bool = False

    @property
    def table(self) -> Polygon:
        return self.lie.shape(self.region)


@dataclass
class Bench:
    """Strips on each other; `worked` is the place of the end that is cut from, `cut` the last cut across."""

    strips: list[Strip]
    regions: list[Polygon]
    lies: list[Motion]
    worked: str
    up: str
    cut: tuple[Spot, Spot] | None = None
    squared: bool = False
    freed: list[Freed] = field(default_factory=list)
    places: dict[str, float] = field(default_factory=dict)  # where the whole strip's sides lie
    _seen: Polygon | None = None

    @staticmethod
    def laid(strips: list[Strip], ends: list[tuple[float, float]], place: str, up: str) -> "Bench":
        """Strips laid on each other, the end that faces that way on the cloth at a place of the table."""
        lies = []
        for strip, way in zip(strips, ends, strict=True):
            lie = facing(way, place, up)
            left, bottom, right, top = lie.shape(strip.region.intersection(strip.cloth.described)).bounds
            lies.append(lie.moved(-(left if place != "right" else right), -(bottom if place != "top" else top)))
        bench = Bench(list(strips), [strip.region for strip in strips], lies, place, up)
        left, bottom, right, top = bench.described.bounds
        bench.places = {"left": left, "bottom": bottom, "right": right, "top": top}
        return bench

    @property
    def lengthwise(self) -> bool:
        """Whether it lies left–right."""
        return self.worked in ALONG

    @property
    def edges(self) -> tuple[str, str]:
        """The places of its two long edges."""
        return ("bottom", "top") if self.lengthwise else ("left", "right")

    @property
    def inwards(self) -> int:
        """The direction from the worked end into the strip."""
        return 1 if self.worked in ("left", "bottom") else -1

    @property
    def table(self) -> Polygon:
        return self.lies[0].shape(self.regions[0])

    @property
    def described(self) -> Polygon:
        """What lies there without selvages, of all layers: what every one of them has.
        Worked out once between two acts.
        """
        if self._seen is None:
            self._seen = self._without_selvages()
        return self._seen

    def _without_selvages(self) -> Polygon:
        shown = None
        for strip, region, lie in zip(self.strips, self.regions, self.lies):
            own = lie.shape(region.intersection(strip.cloth.described))
            shown = own if shown is None else shown.intersection(own)
        return shown

    @property
    def width(self) -> float:
        first, second = self.edges
        return abs(self.places[second] - self.places[first])

    def along(self, spot: Spot) -> float:
        """How far into the strip a spot lies, counted along it; only differences mean anything."""
        return self.inwards * spot[0 if self.lengthwise else 1]

    def spot(self, edge: str, along: float) -> Spot:
        """The spot on a long edge, so far into the strip."""
        here = self.inwards * along
        return (here, self.places[edge]) if self.lengthwise else (self.places[edge], here)

    def end(self, selvage: bool) -> float:
        """Where the worked end lies: of the cloth as described, or with its selvage."""
        left, bottom, right, top = (self.table if selvage else self.described).bounds
        place = {"left": left, "bottom": bottom, "right": right, "top": top}[self.worked]
        return self.inwards * place

    def far_end(self) -> float:
        left, bottom, right, top = self.described.bounds
        return self.inwards * {"left": left, "bottom": bottom, "right": right, "top": top}[OPPOSITE[self.worked]]

    def has_selvage(self) -> bool:
        return abs(self.end(True) - self.end(False)) > 0.1

    def last(self, edge: str) -> float:
        """Where the last cut meets a long edge."""
        here = self.places[edge]
        axis = 1 if self.lengthwise else 0
        return self.along(min(self.cut, key=lambda spot: abs(spot[axis] - here)))

    def lean(self, cut: dict[str, float] | None = None) -> float:
        """How much further in a cut meets the second edge than the first: 0 straight across."""
        first, second = self.edges
        if cut is None:
            return self.last(second) - self.last(first)
        return cut[second] - cut[first]

    def angle(self, cut: dict[str, float] | None = None) -> float:
        """The sharp angle of a cut with the long edges, in degrees."""
        lean = abs(self.lean(cut))
        return 90.0 if lean < 1e-9 else math.degrees(math.atan2(self.width, lean))

    def reach(self, edge: str) -> tuple[float, float]:
        """Between which places along a long edge there is cloth now (counted into the strip)."""
        line = LineString([self.spot(edge, -FAR), self.spot(edge, FAR)]).buffer(1e-3)
        shared = self.described.intersection(line)
        if shared.is_empty:
            return (math.inf, -math.inf)
        left, bottom, right, top = shared.bounds
        found = sorted(
            (self.inwards * left, self.inwards * right)
            if self.lengthwise
            else (self.inwards * bottom, self.inwards * top)
        )
        return (found[0], found[1])

    def line(self, cut: dict[str, float]) -> tuple[Spot, Spot]:
        first, second = self.edges
        return self.spot(first, cut[first]), self.spot(second, cut[second])

    def sever(self, cut: dict[str, float]) -> list[Freed]:
        """Cuts through all layers; what lay between the worked end and the cut is taken away and given back."""
        self._seen = None
        side, taken = self._worked_side(cut), []
        for i, (strip, region, lie) in enumerate(zip(self.strips, self.regions, self.lies)):
            own = lie.back().shape(side)
            gone = on_grid(region.intersection(own))
            taken.append(Freed(strip.cloth, gone, lie, strip))
            self.regions[i] = on_grid(region.difference(own))
        self.cut = self.line(cut)
        return taken

    def _worked_side(self, cut: dict[str, float]) -> Polygon:
        (first, second), lean = self.edges, self.lean(cut)
        beyond = 5 / self.width
        a = self._outside(first, second, cut[first] - beyond * lean, -5)
        b = self._outside(second, first, cut[second] + beyond * lean, -5)
        c = self._outside(second, first, -FAR, -5)
        d = self._outside(first, second, -FAR, -5)
        return Polygon([a, b, c, d])

    def _outside(self, edge: str, other: str, along: float, inside: float) -> Spot:
        """A spot off a long edge, so far to the inside of it."""
        sign = 1 if self.places[other] > self.places[edge] else -1
        x, y = self.spot(edge, along)
        return (x, y + sign * inside) if self.lengthwise else (x + sign * inside, y)

    def half_turn(self) -> None:
        """Turned by 180° where it lies, the same side up."""
        box = self.places
        turn = Motion(-1.0, 0.0, 0.0, -1.0, box["left"] + box["right"], box["bottom"] + box["top"])
        self.lies = [lie.then(turn) for lie in self.lies]
        self.worked, self._seen = OPPOSITE[self.worked], None
        if self.cut:
            self.cut = (turn.point(self.cut[0]), turn.point(self.cut[1]))
