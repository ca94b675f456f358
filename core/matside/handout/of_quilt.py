"""The templates of a quilt: every kind of piece once, by its finished outline in the quilt."""

import math
from collections import Counter
from dataclasses import dataclass, field, replace

from ..plan.basket import GRAINS
from ..quilt.cutting import CutPiece, Layer
from ..quilt.geometry import laid
from ..quilt.heads import runs, strip_of
from ..quilt.layers import layers_of
from ..quilt.outlines.offsets import offset
from ..quilt.outlines.right_triangle import RightTriangle
from ..quilt.reading import Quilt
from ..shapes import Outline
from .templates import Name, Template, drawn, measures

_ANY = GRAINS[0]


@dataclass(slots=True)
class _Kind:
    """A kind of piece as it is met: its first outline, on which hand it is cut, and who else is like it."""

    outline: Outline
    piece: CutPiece
    hands: Counter = field(default_factory=Counter)
    strips: set = field(default_factory=set)


def templates_of(quilt: Quilt) -> tuple[list[Template], list[dict]]:
    """A template for every kind of piece, with its seam allowance on, and what has none with the reason.

    Pieces that are each other's mirror image share one, of which `turned` are cut with the template turned over. A
    mitered border is cut straight and longer, and trimmed once it is sewn: `trimmed_later`.
    """
    found: dict[tuple, _Kind] = {}
    for layer in layers_of(quilt, laid(quilt.geometry)):
        _meet(layer, quilt, found)
    numbers: Counter = Counter()
    templates, left_out = [], []
    for kind in found.values():
        numbers[kind.piece.kind] += 1
        name = kind.piece.kind + (f"/{numbers[kind.piece.kind]}" if numbers[kind.piece.kind] > 1 else "")
        if kind.piece.extra:
            left_out.append({"id": name, "name": _told(kind).told(), "code": "trimmed_later", "values": {}})
        else:
            templates.append(_template(name, kind, quilt))
    return templates, left_out


def _meet(layer: Layer, quilt: Quilt, found: dict[tuple, _Kind]) -> None:
    shapes = [patch.shape for patch in layer.patchwork.patches]
    for (shape, fabric), count in Counter(zip(shapes, layer.fabrics, strict=True)).items():
        piece = layer.cuts[shape]
        kind = found.setdefault(_alike(piece), _Kind(layer.patchwork.shapes[shape], piece))
        kind.hands[_hand(piece)] += count
        kind.strips.add(runs(quilt.one_way[fabric]) if piece.grain == _ANY else piece.grain)


def _alike(piece: CutPiece) -> tuple:
    """What is the same for a piece and its mirror image."""
    ends = piece.ends and piece.ends._replace(mirrored=False)
    return piece._replace(cut=_unturned(piece.cut), mirrored=False, ends=ends)


def _unturned(cut):
    """A cut without its hand, which is told beside it."""
    return RightTriangle(*sorted((cut.across, cut.down))) if isinstance(cut, RightTriangle) else cut


def _hand(piece: CutPiece) -> bool:
    """Whether a piece is cut wrong side up; a right-angled triangle with like legs is its own mirror image."""
    cut = piece.cut
    if isinstance(cut, RightTriangle):
        return cut.across != cut.down and piece.mirrored == (cut.across > cut.down)
    return piece.mirrored


def _template(name: str, kind: _Kind, quilt: Quilt) -> Template:
    seam = quilt.geometry.piece.seam
    finished = _level(kind.outline, strip_of(kind.outline, kind.piece)[0])
    cut = offset(finished, float(seam))
    strips = min(kind.strips) if len(kind.strips) == 1 else _ANY
    count, turned = kind.hands.total(), kind.hands[not _hand(kind.piece)]
    notes = (_measured(kind.piece), Name(f"handout.strips.{strips}", {}), _so_many(count, turned))
    plain = drawn(name, _told(kind), cut, finished if seam else None, strips)
    return replace(plain, notes=notes, count=count, turned=turned)


def _told(kind: _Kind) -> Name:
    return Name(f"quilt.kind.{kind.piece.kind}", {})


def _so_many(count: int, turned: int) -> Name:
    if turned:
        return Name("handout.cut_turned", {"n": count, "turned": turned})
    return Name("handout.cut_so_many", {"n": count})


def _measured(piece: CutPiece) -> Name:
    if isinstance(piece.cut, RightTriangle):
        short, long = sorted((piece.cut.across, piece.cut.down))
        return Name("handout.halved", {"size": short, "length": long})
    return measures(piece.cut)


def _level(outline: Outline, along: float) -> Outline:
    """The outline turned so that its strip, `along` degrees anticlockwise as it is seen, lies level."""
    x_axis, y_axis = math.cos(math.radians(along)), math.sin(math.radians(along))
    return tuple((x * x_axis - y * y_axis, x * y_axis + y * x_axis) for x, y in outline)
