"""The length of a quilt's outside, which the binding goes round."""

from ..geometry import Geometry, Ground, around
from ..settings.tilings import Measures


def way_round(geometry: Geometry, ground: Ground, width: float, height: float) -> float:
    """Length round the outside in inches: of the finished rectangle, or in and out along a left pointed edge."""
    if geometry.edge != "pointed":
        return 2 * (width + height)
    return _zigzag(geometry, ground) if geometry.setting == "zigzag" else _points(geometry, ground)


def _zigzag(geometry: Geometry, ground: Ground) -> float:
    """Two straight seams and the slanted ends of the rows, with the ends of the sashing between them."""
    edge, lay = geometry.measures.edge, ground.lay
    return 2 * (lay.columns + lay.rows) * edge + 2 * (lay.rows - 1) * geometry.sash


def _points(geometry: Geometry, ground: Ground) -> float:
    """The edges of diamonds that no other one touches, and in every notch of a sashed grid two edges of a crossing."""
    edges = sum(4 - len(others) for others in around(geometry))
    columns, rows = ground.lay.columns, ground.lay.rows
    notches = 2 * (columns - 1) + 2 * (rows - 1) if min(columns, rows) > 1 else 0
    crossing = Measures(geometry.sash, float(geometry.piece.angle)).edge if geometry.setting == "grid" else 0.0
    return edges * geometry.measures.edge + 2 * notches * crossing
