"""The quilt's layers from the inside out: patchwork, sashing, borders, each piece with its cut and its fabric."""

from collections import Counter

from .around.borders import bordered, taken_by
from .around.measured import inner_size
from .cutting import Layer, border_cuts, piece_cuts, sash_cuts
from .fabrics.colours import coloured
from .geometry import Ground, around
from .heads import runs, standing
from .outlines.polygons import area
from .reading import Quilt
from .settings.patchwork import Patchwork

_NONE = Patchwork(0.0, 0.0, (), (), ())


def layers_of(quilt: Quilt, ground: Ground) -> list[Layer]:
    """Patchwork, sashing and borders, from the inside out, in quilt coordinates.

    All lies as planned; borders are cut for the sewn top where that was measured."""
    geometry, inset = quilt.geometry, float(taken_by(quilt.borders)) / 2
    pieces = ground.patchwork.shifted(inset)
    colours = coloured(ground.patchwork, quilt.colouring, lambda: around(geometry))
    layers = [Layer(pieces, piece_cuts(ground.patchwork, geometry), colours)]
    layers.append(_sash_layer(quilt, ground, inset))
    drawn = bordered(ground.patchwork.width, ground.patchwork.height, quilt.borders)
    sewn = bordered(*inner_size(quilt, ground), quilt.borders)
    for ring, round_top, border in zip(drawn, sewn, quilt.borders, strict=True):
        layers.append(Layer(ring, border_cuts(round_top, border, geometry.piece.seam), [border.fabric] * 4))
    return layers


def _sash_layer(quilt: Quilt, ground: Ground, inset: float) -> Layer:
    if not ground.sashing:
        return Layer(_NONE, {}, [])
    plain, stone = quilt.sash_fabrics
    fabrics = [stone if patch.kind.startswith("cornerstone") else plain for patch in ground.sashing.patches]
    return Layer(ground.sashing.shifted(inset), sash_cuts(ground.sashing, quilt.geometry, quilt.sash), fabrics)


def total(layers: list[Layer]) -> dict[str, int]:
    """How many pieces of every kind."""
    found: Counter = Counter()
    for layer in layers:
        found.update(layer.patchwork.counts())
    return dict(found)


def covered(layers: list[Layer]) -> float:
    """Area of the finished outlines of pieces and sashing together, in square inches."""
    return sum(_area(layer) for layer in layers)


def _area(layer: Layer) -> float:
    sizes = [area(outline) for outline in layer.patchwork.shapes]
    return sum(sizes[patch.shape] for patch in layer.patchwork.patches)


def per_fabric(layers: list[Layer], quilt: Quilt) -> list[dict]:
    """How many pieces of every kind are of each fabric, in the order in which the drawing numbers them, and how its
    strips run; of a print that runs one way also how its pieces stand."""
    counts: dict[int, Counter] = {number: Counter() for number in range(len(quilt.fabrics))}
    for layer in layers:
        kinds = [patch.kind for patch in layer.patchwork.patches]
        for (kind, fabric), count in Counter(zip(kinds, layer.fabrics, strict=True)).items():
            counts[fabric][kind] += count
    return [_of_fabric(layers, quilt, number, dict(kinds)) for number, kinds in counts.items()]


def _of_fabric(layers: list[Layer], quilt: Quilt, number: int, kinds: dict[str, int]) -> dict:
    one_way = quilt.one_way[number]
    found = {"id": quilt.fabrics[number], "pieces": kinds, "strips": runs(one_way)}
    return {**found, "standing": standing(layers, number)._asdict()} if one_way else found
