"""The ask `check`: how often to check the angle before cutting, and what measured pieces say afterwards."""

from dataclasses import dataclass
from fractions import Fraction

from .. import angles, drift
from ..fields import Fields
from ..pieces import MOST_NEEDED, read_diamond
from ..rulers import HANDS
from ..shapes import Diamond
from .rulers import MOST_IN_A_ROW, read_drift, read_seam

#: Measures that tell nothing of the angle (an edge and the distance across, at a right angle) leave all of it open.
UNSURE = 90.0


def answer(request: dict) -> dict:
    """Before: `expected`, from `placing`, `tolerance` and the row. After: what the `measured` lengths say.

    `across` and `rows` are the pieces in a row and the rows of the quilt. `length_left` (along the near edge, from the
    last cut to the strip's end) and `pieces_left` (still planned from it) say whether the strip still does;
    `hand` mirrors the drawing of the sliver to trim. `unsure` says that the error is smaller than what was measured so
    finely can show, `seen` which of the row's errors are worth a word, `mend` whether the `trim` is to be made.
    `measured` may be left out where `placing` is given.
    """
    fields = Fields(request)
    piece = read_diamond(fields.object("piece"))
    found = {"expected": _expected(read_drift(fields, piece))}
    if fields.has("measured") or not fields.has("placing"):
        found.update(_after(fields, piece))
    return found


def _expected(found: drift.Drift) -> dict:
    return {
        "cut_error": found.cut_error,
        "row_error": found.row_error,
        "cuts": found.cuts,
        "enough": found.enough,
    }


@dataclass(frozen=True, slots=True)
class _Quilt:
    """What an error is judged by; `across` and `rows` may be unknown."""

    across: int | None
    rows: int | None
    tolerance: Fraction
    seam: Fraction


def _after(fields: Fields, piece: Diamond) -> dict:
    found = drift.fitted(_measured(fields.object("measured")), float(piece.angle))
    quilt = _quilt(fields)
    row_error = _row_error(piece, found, quilt)
    error, verdict = found.angle - float(piece.angle), _verdict(piece, found, row_error, quilt)
    sure_to = min(UNSURE, found.spread * float(fields.length("placing", drift.PLACING)))
    trim = drift.trim(piece, found.angle)
    return {
        "angle": found.angle,
        "error": error,
        "size": found.size,
        "size_error": found.size - float(piece.size),
        "sizes": found.across,
        "sure_to": sure_to,
        "unsure": abs(error) < sure_to,
        "misses": found.misses,
        "row_error": row_error,
        "seen": [name for name, value in row_error.items() if abs(value or 0.0) >= drift.LEAST_SEEN],
        "verdict": verdict,
        "mend": trim is not None and verdict in ("angle_off", "both_off"),
        "trim": _trim(trim, fields.choice("hand", HANDS, "right")),
        "strip": _strip(fields, piece, found),
    }


def _measured(fields: Fields) -> dict[str, Fraction]:
    return {name: fields.length(name) for name in drift.MEASURES if fields.has(name)}


def _quilt(fields: Fields) -> _Quilt:
    return _Quilt(
        _count_or_none(fields, "across", MOST_IN_A_ROW),
        _count_or_none(fields, "rows", MOST_IN_A_ROW),
        fields.length("tolerance", drift.USUAL_TOLERANCE),
        read_seam(fields),
    )


def _count_or_none(fields: Fields, name: str, most: int) -> int | None:
    return fields.count(name, 1, most) if fields.has(name) else None


def _row_error(piece: Diamond, found: drift.FittedDiamond, quilt: _Quilt) -> dict:
    """By the angle: `growth` of a row and `shift` of the rows; by the size: `by_size`. None
    where the count is unknown.
    """
    finished = max(0.0, float(piece.finished_size(quilt.seam)))
    wider = found.size - float(piece.size)
    return {
        "growth": quilt.across and drift.row_growth(finished, piece.angle, found.angle, quilt.across),
        "shift": quilt.rows and drift.row_shift(finished, piece.angle, found.angle, quilt.rows),
        "by_size": quilt.across and quilt.across * wider / angles.sin(piece.angle),
    }


def _verdict(piece: Diamond, found: drift.FittedDiamond, row_error: dict, quilt: _Quilt) -> str:
    error, wider = found.angle - float(piece.angle), found.size - float(piece.size)
    angle_off = _beyond([row_error["growth"], row_error["shift"]], quilt.tolerance, error, drift.GOOD_ANGLE)
    size_off = _beyond([row_error["by_size"]], quilt.tolerance, wider, drift.GOOD_SIZE)
    return {
        (False, False): "good",
        (True, False): "angle_off",
        (False, True): "size_off",
        (True, True): "both_off",
    }[angle_off, size_off]


def _beyond(in_the_quilt: list[float | None], tolerance: Fraction, of_one: float, good: float) -> bool:
    """Judged in the quilt where that is known, else by the piece alone."""
    known = [abs(value) for value in in_the_quilt if value is not None]
    return max(known) > tolerance if known else abs(of_one) > good


def _trim(found: drift.Trim | None, hand: str) -> dict | None:
    side = -1 if hand == "left" else 1
    return found and {
        "along": found.along,
        "widest": found.widest,
        "widest_at": found.widest_at,
        "drawing": {
            "sliver": [(side * x + 0.0, y) for x, y in found.sliver],
            "cut": [(side * x + 0.0, y) for x, y in found.cut],
        },
    }


def _strip(fields: Fields, piece: Diamond, found: drift.FittedDiamond) -> dict | None:
    if not fields.has("length_left"):
        return None
    rest = drift.after_trim(piece, found.angle, fields.length("length_left"))
    planned = _count_or_none(fields, "pieces_left", MOST_NEEDED)
    return {
        "pieces": rest.pieces,
        "planned": planned,
        "enough": None if planned is None else rest.pieces >= planned,
        "lost": None if planned is None else max(0, planned - rest.pieces),
        "left_over": rest.left_over,
        "short_by": rest.short_by,
    }
