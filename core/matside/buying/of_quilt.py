"""What a quilt wants of each fabric."""

from collections import defaultdict
from fractions import Fraction

from ..fields import Fields
from ..pieces import read_piece
from ..quilt.around.measured import finished_size
from ..quilt.around.outside import way_round
from ..quilt.cutting import cut_list
from ..quilt.extras import batting_fields
from ..quilt.geometry import laid
from ..quilt.layers import layers_of
from ..quilt.reading import Quilt
from .demands import Backed, BiasChain, Chain, Demand, Pieces


def demands_of(quilt: Quilt) -> dict[str, list[Demand]]:
    """The demands by fabric: every kind of piece, the binding, the backing. Batting is no fabric."""
    geometry, ground = quilt.geometry, laid(quilt.geometry)
    found: dict[str, list[Demand]] = defaultdict(list)
    for entry in cut_list(layers_of(quilt, ground), quilt.fabrics, geometry.piece.seam):
        found[entry["fabric"]].append(demand_of(entry, geometry.piece.seam))
    finished = finished_size(quilt, ground)
    if quilt.binding:
        found[quilt.fabrics[quilt.binding.fabric]].append(bound(quilt))
    if quilt.backing:
        found[quilt.fabrics[quilt.backing.fabric]].append(Backed("backing", *finished, quilt.backing))
    return dict(found)


def demand_of(entry: dict, seam: Fraction) -> Pieces:
    """What an entry of the cut list wants; a join takes two seam allowances, and a rectangle
    for triangles gives two.
    """
    each = 2 if "each_way" in entry else 1
    return Pieces(entry["id"], read_piece(Fields(entry)), entry["need"], 2 * float(seam), each)


def bound(quilt: Quilt) -> Chain | BiasChain:
    """What the binding of a quilt that has one wants: a strip once round it, straight or cut on the bias."""
    geometry, ground, binding = quilt.geometry, laid(quilt.geometry), quilt.binding
    finished = finished_size(quilt, ground)
    around = way_round(geometry, ground, *finished)
    if binding.grain == "bias":
        return BiasChain("binding", binding, binding.length(around))
    return Chain("binding", binding.strip_width, binding.length(around), binding.join_takes)


def batting_of(quilt: Quilt) -> dict | None:
    """The batting's size, where the quilt wants one."""
    finished = finished_size(quilt, laid(quilt.geometry))
    return batting_fields(quilt.batting_overlap, *finished) if quilt.batting_overlap is not None else None
