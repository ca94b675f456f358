"""The asks `rulers` (where to lay which ruler) and `my_rulers` (rulers drawn to scale as entered)."""

from fractions import Fraction

from .. import drift
from ..fields import Fields
from ..pieces import DEFAULT_SEAM, read_piece
from ..rulers import (
    HANDS,
    USUAL_RUN,
    AngleUse,
    Check,
    Drawing,
    Lacking,
    LeftOut,
    Rounded,
    Ruler,
    TwoMarks,
    Way,
    expected_drift,
    printed_lines,
    read_rulers,
    ways,
)  # fmt: skip
from ..rulers.holding import held, slid

MOST_IN_A_ROW = 1000


def answer(request: dict) -> dict:
    """The ways for the strip, the starter and the following cuts, best first; see `rulers.ways`.

    Without `rulers` the generic ones are taken. More than the table of asks: `run` (length of the cut that
    takes a strip off the cloth as it lies), and what says how often the angle is checked: `placing`,
    `tolerance`, `across`, `seam`."""
    fields = Fields(request)
    piece = read_piece(fields.object("piece"))
    rulers = read_rulers(fields)
    found = ways(
        piece,
        fields.length("strip_width", piece.size),
        rulers,
        fields.choice("hand", HANDS, "right"),
        fields.length("run", USUAL_RUN),
        read_drift(fields, piece).cuts,
    )
    steps = {step: [_way(way) for way in getattr(found, step)] for step in ("strip", "starter", "following")}
    return {
        **steps,
        "following_back": [_way(way) for way in found.following_back],
        "two_marks": _two_marks(found.two_marks),
        "left_out": [_left_out(item) for item in found.left_out],
        "lacking": [_lacking(item) for item in found.lacking],
        "rulers": [_ruler(ruler) for ruler in rulers],
    }


def answer_my_rulers(request: dict) -> dict:
    """The rulers of the request as they were read (the generic ones without `rulers`), with the strokes to draw."""
    return {"rulers": [_ruler(ruler) for ruler in read_rulers(Fields(request))]}


def read_drift(fields: Fields, piece) -> drift.Drift:
    """What is expected of the angle, from `placing`, `tolerance`, `across` (pieces in a sewn row), `seam`."""
    return expected_drift(
        piece,
        placing=fields.length("placing", drift.PLACING),
        tolerance=fields.length("tolerance", drift.USUAL_TOLERANCE),
        pieces=fields.count("across", 1, MOST_IN_A_ROW, default=drift.USUAL_ROW),
        seam=read_seam(fields),
    )


def read_seam(fields: Fields) -> Fraction:
    """The seam allowance: the piece's own, or the request's, or the usual one."""
    return fields.object("piece").length_or_zero("seam", fields.length_or_zero("seam", DEFAULT_SEAM))


def _ruler(ruler: Ruler) -> dict:
    return {
        "name": ruler.name,
        "width": ruler.width,
        "length": ruler.length,
        "tick": ruler.tick,
        "reads_through": ruler.reads_through,
        "angles": [_line(line) for line in ruler.angles],
        "strokes": [
            {
                "points": (stroke.start, stroke.end),
                "degrees": stroke.line.degrees,
                "from": stroke.line.edge,
                "hard_to_see": stroke.line.hard_to_see,
            }
            for stroke in printed_lines(ruler)
        ],
    }


def _line(line) -> dict:
    given = {"at": line.at, "line_length": line.line_length}
    return {
        "degrees": line.degrees,
        "from": line.edge,
        "lean": line.lean,
        "hard_to_see": line.hard_to_see,
        **{name: value for name, value in given.items() if value is not None},
    }


def _way(way: Way) -> dict:
    return {
        "step": way.step,
        "kind": way.kind,
        "rulers": way.rulers,
        "cut_edge": way.cut_edge,
        "turned_over": way.turned_over,
        "angle_line": _angle_line(way.angle_line),
        "measure": way.measure,
        "measure_on": _measure_on(way),
        "mark_along": way.mark_along,
        "mark": _rounded(way.mark_ticks),
        "checks_angle": way.checks_angle,
        "over": way.over,
        "overlap": way.overlap,
        "covers_piece": way.covers_piece,
        "turn": way.turn,
        "slide": way.slide,
        "held": held(way),
        "slid": slid(way),
        "check": _check(way.check),
        "notes": way.notes,
        "drawing": _drawing(way.drawing),
    }


def _angle_line(use: AngleUse | None) -> dict | None:
    return use and {
        "degrees": use.degrees,
        "from": use.edge,
        "laid_on": use.laid_on,
        "ruler": use.ruler,
        "overlap": use.overlap,
        "needed": use.needed,
        "hard_to_see": use.hard_to_see,
        "printed": use.printed,
    }


def _measure_on(way: Way) -> dict | None:
    """Which ruler measures, at what distance on it, and how that `reads`: by a "line", "between"
    two, or by its own "far_edge".

    Between two lines, `below` and `above` are the distances that those stand for.
    """
    if way.measure_on is None:
        return None
    ruler, distance = way.measure_on
    below, above = way.measure_ticks.between if way.reads == "between" else (None, None)
    read = {"reads": way.reads, "below": below, "above": above}
    return {"ruler": ruler, "distance": distance, **_rounded(way.measure_ticks), **read}


def _rounded(rounded: Rounded | None) -> dict | None:
    return rounded and {"nearest": rounded.nearest, "tick": rounded.tick, "off": rounded.off}


def _check(check: Check | None) -> dict | None:
    return check and {"every": check.every, "how": check.how, "ruler": check.ruler}


def _drawing(drawing: Drawing) -> dict:
    return {
        "rulers": [
            {"name": laid.name, "outline": laid.outline, "turned_over": laid.turned_over, "slid": laid.slid}
            for laid in drawing.rulers
        ],
        "cut": drawing.cut,
        "edge": drawing.edge,
        "angle_line": drawing.angle_line,
        "angle_label": drawing.angle_label,
        "measure_line": drawing.measure_line,
        "measure_label": drawing.measure_label,
        "marks": drawing.marks,
        "lines": drawing.lines,
    }


def _two_marks(marks: TwoMarks | None) -> dict | None:
    return marks and {
        "ruler": marks.ruler,
        "offset": marks.offset.nearest,
        "step": marks.step.nearest,
        "tick": marks.tick,
        "angle_error": marks.angle_error,
        "good_enough": marks.good_enough,
        "exact": {"offset": marks.offset.exact, "step": marks.step.exact},
        "halved": _two_marks(marks.halved),
    }


def _left_out(item: LeftOut) -> dict:
    return {"ruler": item.ruler, "step": item.step, "reason": item.reason, "values": item.values}


def _lacking(item: Lacking) -> dict:
    return {"step": item.step, "code": item.code, "values": item.values, "blocking": item.blocking}
