"""Cloth made of paper, for cutting by a script's words: flat pieces of it with a right side, a grain and selvages.

Cloth coordinates, in inches, right side up: x along the cloth's `length`, y along its `width`; the described rectangle
has a corner at the origin, and each selvage is a band of half an inch outside it. What lies on the table lies there by
a `Motion`; table coordinates are as the cutter sees them, x to the right, y away from the body."""

import math
from dataclasses import dataclass, field, replace

import numpy as np
from shapely import set_precision, transform, unary_union
from shapely.geometry import LineString, Polygon, box

#: Noise of floats, far below any length that is measured.
NOISE = 1e-6
#: Width of a selvage's band. Own choice: it only has to be seen.
BAND = 0.5
FAR = 10_000.0

PLACES = ("left", "right", "top", "bottom")
OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
TOWARDS = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "top": (0.0, 1.0), "bottom": (0.0, -1.0)}
TURNS = {"clockwise": -90.0, "anticlockwise": 90.0, None: 0.0}


@dataclass(frozen=True)
class Motion:
    """A rigid motion of the plane, with or without turning over: p becomes (a·x + b·y + e, c·x + d·y + f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def turning(degrees: float) -> "Motion":
        cos, sin = (round(value, 12) for value in (math.cos(math.radians(degrees)), math.sin(math.radians(degrees))))
        return Motion(cos, -sin, sin, cos)

    @staticmethod
    def folding_up(height: float) -> "Motion":
        """What lies below `height` comes to lie as far above it, the other side up."""
        return Motion(1.0, 0.0, 0.0, -1.0, 0.0, 2 * height)

    @property
    def turns_over(self) -> bool:
        return self.a * self.d - self.b * self.c < 0

    def then(self, after: "Motion") -> "Motion":
        a = after
        return Motion(
            a.a * self.a + a.b * self.c, a.a * self.b + a.b * self.d, a.c * self.a + a.d * self.c, a.c * self.b + a.d * self.d,
            *a.point((self.e, self.f)),
        )  # fmt: skip

    def back(self) -> "Motion":
        """The motion that undoes this one; its matrix is orthogonal."""
        e, f = self.e, self.f
        return Motion(self.a, self.c, self.b, self.d, -(self.a * e + self.c * f), -(self.b * e + self.d * f))

    def point(self, point: tuple[float, float]) -> tuple[float, float]:
        x, y = point
        return (self.a * x + self.b * y + self.e, self.c * x + self.d * y + self.f)

    def direction(self, vector: tuple[float, float]) -> tuple[float, float]:
        x, y = vector
        return (self.a * x + self.b * y, self.c * x + self.d * y)

    def shape(self, shape):
        """A shape moved; its corners lie on a grid of 1e-9 in, as overlays of shapes that
        nearly touch go wrong otherwise.
        """
        turn, shift = np.array([[self.a, self.c], [self.b, self.d]]), np.array([self.e, self.f])
        return transform(shape, lambda points: np.round(points @ turn + shift, 9) + 0.0)

    def moved(self, dx: float, dy: float) -> "Motion":
        return replace(self, e=self.e + dx, f=self.f + dy)


@dataclass
class Cloth:
    """One cloth as it really is; `selvage` names the side ("length", "width") that runs along the selvage."""

    name: str
    length: float
    width: float
    selvage: str | None = None
    selvages: int = 0
    one_way: bool = False
    fabric: str | None = None
    squared: list[LineString] = field(default_factory=list)  # edges that a blade made, or that count as such

    @property
    def described(self) -> Polygon:
        return box(0, 0, self.length, self.width)

    @property
    def bands(self) -> list[Polygon]:
        if self.selvage == "length":
            both = [box(0, -BAND, self.length, 0), box(0, self.width, self.length, self.width + BAND)]
        elif self.selvage == "width":
            both = [box(-BAND, 0, 0, self.width), box(self.length, 0, self.length + BAND, self.width)]
        else:
            both = []
        return both[: self.selvages]

    @property
    def whole(self) -> Polygon:
        return unary_union([self.described, *self.bands])

    @property
    def lengthwise(self) -> tuple[float, float] | None:
        """The way that the lengthwise grain runs; None where nothing tells."""
        return {"length": (1.0, 0.0), "width": (0.0, 1.0)}.get(self.selvage)

    def square(self, line: LineString) -> None:
        if line.length > NOISE:
            self.squared.append(line)


@dataclass(frozen=True)
class Layer:
    """One layer of a sheet: the region of its cloth, and how it lies on the table."""

    region: Polygon
    lie: Motion

    @property
    def table(self) -> Polygon:
        return self.lie.shape(self.region)


@dataclass(frozen=True)
class Sheet:
    """One connected piece of cloth as it lies on the table, folded or not."""

    cloth: Cloth
    layers: tuple[Layer, ...]

    @staticmethod
    def laid(cloth: Cloth, lie: Motion) -> "Sheet":
        return Sheet(cloth, (Layer(cloth.whole, lie),)).at_origin()

    @property
    def table(self) -> Polygon:
        return unary_union([layer.table for layer in self.layers])

    @property
    def described(self) -> Polygon:
        """What of it lies between the selvages, on the table."""
        rectangle = self.cloth.described
        return unary_union([layer.lie.shape(layer.region.intersection(rectangle)) for layer in self.layers])

    def bounds(self, selvages: bool = False) -> dict[str, float]:
        """Where it ends at the four places, without its selvages unless they count."""
        left, bottom, right, top = (self.table if selvages else self.described).bounds
        return {"left": left, "right": right, "bottom": bottom, "top": top}

    def sides(self) -> tuple[float, float]:
        """Left to right, and upright, between the selvages."""
        ends = self.bounds()
        return ends["right"] - ends["left"], ends["top"] - ends["bottom"]

    def moved(self, motion: Motion) -> "Sheet":
        return replace(self, layers=tuple(replace(layer, lie=layer.lie.then(motion)) for layer in self.layers))

    def at_origin(self) -> "Sheet":
        ends = self.bounds()
        return self.moved(Motion().moved(-ends["left"], -ends["bottom"]))

    def turned(self, degrees: float) -> "Sheet":
        return self.moved(Motion.turning(degrees)).at_origin()

    def has_selvage(self, place: str) -> bool:
        return abs(self.bounds(selvages=True)[place] - self.bounds()[place]) > BAND / 2

    def is_squared(self, place: str) -> bool:
        """Whether that edge was cut, or counts as squared, in all layers that reach it."""
        made = unary_union(self.cloth.squared).buffer(1e-4) if self.cloth.squared else Polygon()
        edges = [edge for edge in self._edges(place) if edge.length > NOISE]
        return bool(edges) and all(made.covers(edge) for edge in edges)

    def count_as_squared(self, place: str) -> None:
        for edge in self._edges(place):
            self.cloth.square(edge)

    def _edges(self, place: str) -> list[LineString]:
        """What lies at that place, layer by layer, in cloth coordinates."""
        at = self.bounds(selvages=True)[place]
        line = _upright(at) if place in ("left", "right") else _level(at)
        thin = line.buffer(1e-4)
        return [_longest(layer.lie.back().shape(layer.table.exterior.intersection(thin))) for layer in self.layers]

    def cut_upright(self, at: float) -> dict[str, "Sheet | None"]:
        """The parts at the left and at the right of a cut through all layers."""
        for layer in self.layers:
            edge = _upright(at).intersection(layer.table)
            self.cloth.square(_longest(layer.lie.back().shape(edge)))
        return {"left": self._within(box(-FAR, -FAR, at, FAR)), "right": self._within(box(at, -FAR, FAR, FAR))}

    def folded_up(self) -> "Sheet":
        """Folded in half: what lies below the middle comes to lie above it. The fold lies at the bottom."""
        ends = self.bounds()
        middle = (ends["bottom"] + ends["top"]) / 2
        over = Motion.folding_up(middle)
        above = self._within(box(-FAR, middle, FAR, FAR)).layers
        below = self._within(box(-FAR, -FAR, FAR, middle)).layers
        return Sheet(self.cloth, (*above, *(replace(layer, lie=layer.lie.then(over)) for layer in below))).at_origin()

    def opened(self) -> "Sheet":
        """Unfolded: in one layer, as its first layer lies."""
        region = unary_union([layer.region.buffer(NOISE / 10, join_style="mitre") for layer in self.layers])
        up = next(layer.lie for layer in self.layers if not layer.lie.turns_over)
        return Sheet(self.cloth, (Layer(on_grid(region.buffer(-NOISE / 10, join_style="mitre")), up),)).at_origin()

    def _within(self, area: Polygon) -> "Sheet | None":
        """What of it lies in an area of the table; None where that is nothing."""
        parts = []
        for layer in self.layers:
            region = layer.lie.back().shape(on_grid(layer.table.intersection(area)))
            if region.area > NOISE:
                parts.append(Layer(region, layer.lie))
        return Sheet(self.cloth, tuple(parts)) if parts else None


@dataclass(frozen=True)
class Strip:
    """A strip taken off a cloth: its region, and the way it runs, in cloth coordinates;
    `open` once it lies in one layer.
    """

    cloth: Cloth
    region: Polygon
    along: tuple[float, float]
    open: bool

    @staticmethod
    def off(sheet: Sheet) -> "Strip":
        """The strip that an upright cut has freed."""
        region = unary_union([layer.region.buffer(NOISE / 10, join_style="mitre") for layer in sheet.layers])
        along = sheet.layers[0].lie.back().direction((0.0, 1.0))
        return Strip(
            sheet.cloth, on_grid(region.buffer(-NOISE / 10, join_style="mitre")), along, len(sheet.layers) == 1
        )

    @property
    def run(self) -> float:
        return self._extent(self.along)

    @property
    def size(self) -> float:
        return self._extent((-self.along[1], self.along[0]))

    @property
    def grain(self) -> str:
        """The cloth's side that it runs along."""
        return "length" if abs(self.along[0]) > 0.5 else "width"

    @property
    def pile(self) -> str | None:
        """Whether it runs along the lengthwise grain or across it; None where nothing tells."""
        if self.cloth.lengthwise is None:
            return None
        return "lengthwise" if self.grain == self.cloth.selvage else "crosswise"

    def _extent(self, way: tuple[float, float]) -> float:
        points = self.region.intersection(self.cloth.described).exterior.coords
        places = [x * way[0] + y * way[1] for x, y in points]
        return max(places) - min(places)

    def ends(self) -> dict[tuple[float, float], str]:
        """Its two ends by the way they face: "selvage", "cut" or "raw"."""
        return {way: self._end(way) for way in (self.along, (-self.along[0], -self.along[1]))}

    def _end(self, way: tuple[float, float]) -> str:
        lying = Sheet(self.cloth, (Layer(self.region, facing(way, "left", "right")),))
        if lying.has_selvage("left"):
            return "selvage"
        return "cut" if lying.is_squared("left") else "raw"


def facing(way: tuple[float, float], place: str, up: str) -> Motion:
    """The motion by which what faces `way` on the cloth faces a place on the table, right or wrong side up."""
    angle = math.degrees(math.atan2(way[1], way[0]))
    flat = Motion.turning(-angle)  # the way now faces right
    if up == "wrong":
        flat = flat.then(Motion(1.0, 0.0, 0.0, -1.0))
    x, y = TOWARDS[place]
    return flat.then(Motion.turning(math.degrees(math.atan2(y, x))))


def on_grid(shape):
    """A shape without the noise of floats, and without the specks that it leaves."""
    clean = set_precision(shape.simplify(1e-7), 1e-9)
    return max(clean.geoms, key=lambda part: part.area) if hasattr(clean, "geoms") and len(clean.geoms) else clean


def _upright(at: float) -> LineString:
    return LineString([(at, -FAR), (at, FAR)])


def _level(at: float) -> LineString:
    return LineString([(-FAR, at), (FAR, at)])


def _longest(shape) -> LineString:
    """The span of what may be several bits of one straight line, or a thin area round one."""
    if shape.is_empty:
        return LineString()
    left, bottom, right, top = shape.bounds
    if right - left > top - bottom:
        return LineString([(left, (bottom + top) / 2), (right, (bottom + top) / 2)])
    return LineString([((left + right) / 2, bottom), ((left + right) / 2, top)])
