"""From what is wanted to every piece in its place: the setting, its size, its sashing."""

from dataclasses import dataclass
from functools import lru_cache

from ..errors import Refusal
from ..units import LONGEST, SAME
from .outlines.cuts import Piece
from .outlines.polygons import scaled
from .settings.edges import Lay, fewest_trimmed
from .settings.eight_pointed import eight_pointed
from .settings.grid import grid
from .settings.hexagons import hexagons
from .settings.neighbours import Around, touching
from .settings.patchwork import Patchwork
from .settings.phase import tiles_needed
from .settings.sashing import grid_sashing
from .settings.setting import Setting
from .settings.stars import stars
from .settings.straight_sashing import block_sashing, zigzag_sashing
from .settings.tilings import Measures
from .settings.zigzag import with_fills, zigzag
from .size.fitting import Target, refuse_below_one, steps_for
from .size.having import Made, made_of, near

#: More pieces than this are no quilt.
MOST_PIECES = 50_000
#: Sizes for "how large" with a trimmed edge are tried in steps of so many inches.
_TRIMMED_STEP = 0.5


@dataclass(frozen=True, slots=True)
class Size:
    """How large the patchwork is to be: a target, or columns and rows, or as many pieces as there are."""

    target: Target | None = None
    columns: int = 0
    rows: int = 0
    have: int = 0
    fit: str = "at_least"

    def turned(self) -> "Size":
        """Width and height, columns and rows swapped."""
        return Size(self.target and self.target.turned(), self.rows, self.columns, self.have, self.fit)


@dataclass(frozen=True, slots=True)
class Geometry:
    """What settles where the pieces lie. Lengths in inches, finished, except the piece's."""

    piece: Piece
    setting: str
    joined_by: str
    lying: bool
    edge: str
    size: Size
    sash: float = 0.0
    sash_style: str = "strips"

    @property
    def measures(self) -> Measures:
        """The diamond's finished measures."""
        return Measures(self.piece.size, float(self.piece.angle))

    def built(self) -> Setting:
        """The setting, standing."""
        return build(self.setting, self.piece.size, float(self.piece.angle), self.joined_by, self.sash)


def build(setting: str, size: float, angle: float, joined_by: str = "diamonds", sash: float = 0.0) -> Setting:
    """A setting of diamonds of a finished size and sharp angle, standing."""
    match setting:
        case "grid":
            return grid(size, angle, sash)
        case "zigzag":
            return zigzag(size, angle, sash)
        case "hexagons":
            return hexagons(size)
        case "stars":
            return stars(size, joined_by)
        case "eight_pointed":
            return eight_pointed(size, sash)
    raise ValueError(f"no setting {setting!r}")


def edges_of(setting: str) -> list[str]:
    """The edge treatments that a setting can have.

    >>> edges_of("eight_pointed")
    ['filled']
    """
    return sorted(build(setting, 1.0, 60.0).extents)


@dataclass(frozen=True, slots=True)
class Ground:
    """The laid quilt: pieces, sashing (None for none), how it was laid, and other sizes it could have.

    Rows, columns and everything placed are as the quilt hangs; `standing` is the patchwork before it was turned.
    """

    patchwork: Patchwork
    sashing: Patchwork | None
    standing: Patchwork
    lay: Lay
    others: tuple[Made, ...] = ()


@lru_cache(maxsize=4)
def laid(geometry: Geometry) -> Ground:
    """Every piece in its place. The last few are kept, so that recolouring a quilt places nothing anew."""
    setting = geometry.built()
    size = geometry.size.turned() if geometry.lying else geometry.size
    lay, others = _lay(setting, geometry, size)
    standing = _patchwork(setting, geometry, lay)
    sashing = _sashing(setting, geometry, lay, standing)
    shown = (standing.turned() if geometry.lying else standing).numbered()
    beside = sashing.turned() if sashing and geometry.lying else sashing
    return Ground(shown, beside, standing, lay, others)


@lru_cache(maxsize=4)
def around(geometry: Geometry) -> Around:
    """Which pieces touch each other."""
    return touching(laid(geometry).patchwork)


def _lay(setting: Setting, geometry: Geometry, size: Size) -> tuple[Lay, tuple[Made, ...]]:
    """How the setting is laid, and other sizes: what else the pieces at hand make, or a column or row more or fewer."""
    edge = geometry.edge
    if edge == "trimmed":
        return _trimmed_lay(setting, geometry, size), ()
    setting.extent(edge)
    if size.have:
        best, *others = made_of(setting, edge, size.have, _proportion(size))
        return Lay(edge, best.columns, best.rows), tuple(others)
    steps = steps_for(setting, edge, size.target, size.fit) if size.target else (size.columns, size.rows)
    _refuse_many(setting, steps[0] * setting.step[0], steps[1] * setting.step[1])
    return Lay(edge, *steps), near(setting, edge, *steps)


def _trimmed_lay(setting: Setting, geometry: Geometry, size: Size) -> Lay:
    allowance = float(geometry.piece.seam)
    if size.have:
        return _trimmed_of(setting, size, allowance)
    if size.target:
        refuse_below_one(setting, "trimmed", size.target)
        width, height = size.target.width, size.target.height
    else:
        width, height = setting.finished("trimmed", size.columns, size.rows)
    _refuse_many(setting, width, height)
    return fewest_trimmed(setting, width, height, allowance)


def _trimmed_of(setting: Setting, size: Size, allowance: float) -> Lay:
    """The largest trimmed quilt of the wanted proportion that so many pieces make, its width in half inches."""
    ratio, least = _proportion(size), setting.finished("trimmed", 1, 1)
    low = max(least[0], least[1] * ratio)
    found = fewest_trimmed(setting, low, low / ratio, allowance)
    if _needed(setting, found) > size.have:
        raise Refusal("have", "have_too_few", given=size.have, least=_needed(setting, found))
    area = size.have * setting.tiling.width * setting.tiling.height / len(setting.tiling.tiles)
    steps, too_many = 0, int(((area * ratio) ** 0.5 - low) / _TRIMMED_STEP) + 2
    while too_many - steps > 1:
        middle = (steps + too_many) // 2
        width = low + middle * _TRIMMED_STEP
        tried = fewest_trimmed(setting, width, width / ratio, allowance)
        if _needed(setting, tried) <= size.have:
            steps, found = middle, tried
        else:
            too_many = middle
    return found


def _needed(setting: Setting, lay: Lay) -> int:
    outlines = tuple(scaled(outline, setting.scale) for outline in setting.tiling.shapes)
    all_round = 2 * lay.allowance
    return tiles_needed(setting.tiling, outlines, lay.width + all_round, lay.height + all_round, lay.shift)


def _proportion(size: Size) -> float:
    return size.target.width / size.target.height if size.target else 1.0


def _refuse_many(setting: Setting, width: float, height: float) -> None:
    per_tile = setting.tiling.width * setting.tiling.height / len(setting.tiling.tiles)
    if max(width, height) > LONGEST:
        raise Refusal("target", "quilt_too_large", given=round(max(width, height)), most=int(LONGEST))
    if width * height > MOST_PIECES * per_tile:
        raise Refusal("target", "quilt_too_many", most=MOST_PIECES)


def _patchwork(setting: Setting, geometry: Geometry, lay: Lay) -> Patchwork:
    if geometry.setting == "zigzag" and lay.edge == "filled":
        rows_only = Lay("pointed", lay.columns, lay.rows).place(setting)
        return with_fills(rows_only, geometry.measures, lay.columns, lay.rows, geometry.sash)
    return lay.place(setting)


def _sashing(setting: Setting, geometry: Geometry, lay: Lay, standing: Patchwork) -> Patchwork | None:
    sash = geometry.sash
    if sash <= SAME:
        return None
    match geometry.setting:
        case "grid":
            return grid_sashing(setting, float(geometry.piece.angle), sash, geometry.sash_style, lay)
        case "zigzag":
            return zigzag_sashing(setting, geometry.measures, sash, lay)
        case "eight_pointed":
            return block_sashing(standing, setting.step[0] - sash, sash, lay.columns, lay.rows, geometry.sash_style)
    raise ValueError(f"{geometry.setting} has no sashing")
