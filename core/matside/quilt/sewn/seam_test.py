"""The seam test: a few diamonds sewn and measured, and what the seam found so does to the quilt."""

from fractions import Fraction

from ...errors import Refusal
from ...shapes import SMALLEST
from ..geometry import Geometry, Ground, build

#: A seam that changes no side of the quilt by more than this is left as it is, in inches. Ours.
FINE = Fraction(1, 4)
#: Less than this is told as a thread or two: nobody sets a guide by it. Ours.
THREAD = Fraction(1, 32)
#: How many diamonds are sewn unless another number is asked for.
SEWN = 3


def seam_tested(geometry: Geometry, ground: Ground, measured: Fraction, sewn: int) -> dict:
    """What diamonds sewn edge to edge tell that came out `measured` from cut edge to cut edge, square across; inches.

    `wanted` is what they should measure: their finished sizes and two seam allowances. `error` is what each seam adds
    to that, `allowance` the seam that was sewn, and `by` how much wider or narrower to sew, as the `verdict` says.
    `would_be` is the patchwork with that seam everywhere, `change` by how much it is larger. Refused where such a seam
    would leave nothing of a piece, or none.

    Common practice, no published source: by hand, three of 3½ in should measure 10½ + ½ = 11 in; 1/32 in at each seam
    is ⅜ in over twelve of them."""
    piece = geometry.piece
    wanted = wanted_width(geometry, sewn)
    error = (float(measured) - wanted) / (sewn - 1)
    allowance = float(piece.seam) - error / 2
    if allowance < 0 or piece.size + error < SMALLEST:
        raise Refusal("measured", "seam_test_far", given=float(measured), wanted=round(wanted, 3))
    planned = (ground.patchwork.width, ground.patchwork.height)
    would_be = _patchwork(geometry, ground, error)
    change = tuple(new - old for new, old in zip(would_be, planned, strict=True))
    return {
        "sewn": sewn,
        "measured": measured,
        "wanted": wanted,
        "seams": sewn - 1,
        "error": error,
        "seam": piece.seam,
        "allowance": allowance,
        "by": abs(error) / 2,
        "verdict": _verdict(max(change, key=abs), abs(error) / 2),
        "planned": {"width": planned[0], "height": planned[1]},
        "would_be": {"width": would_be[0], "height": would_be[1]},
        "change": {"width": change[0], "height": change[1]},
    }


def wanted_width(geometry: Geometry, sewn: int = SEWN) -> float:
    """What so many diamonds sewn edge to edge should measure, square across from cut edge to cut edge, in inches."""
    return sewn * geometry.piece.size + 2 * float(geometry.piece.seam)


def _verdict(change: float, by: float) -> str:
    if abs(change) <= FINE:
        return "fine"
    verdict = "too_large" if change > 0 else "too_small"
    return f"{verdict}_thread" if by < THREAD else verdict


def _patchwork(geometry: Geometry, ground: Ground, error: float) -> tuple[float, float]:
    """Width and height where every piece finishes larger by the error; a trimmed one as far as its pieces reach."""
    size = geometry.piece.size + error
    if geometry.edge == "trimmed":
        return tuple(side * size / geometry.piece.size for side in (ground.patchwork.width, ground.patchwork.height))
    sash = geometry.sash + error if geometry.sash else 0.0
    setting = build(geometry.setting, size, float(geometry.piece.angle), geometry.joined_by, max(0.0, sash))
    width, height = setting.finished(geometry.edge, ground.lay.columns, ground.lay.rows)
    return (height, width) if geometry.lying else (width, height)
