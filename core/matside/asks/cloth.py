"""The ask `cloth`: what one cloth gives of one piece, each way and at best, what that rests on, and drawings."""

from dataclasses import replace

from ..cloth import Cloth, CutWay, best_way, folded_yield, one_more, one_way, worth_keeping
from ..fields import Fields
from ..kinds import read_cloth
from ..margins import (
    KEEPS,
    SMALLER,
    Margin,
    known_as,
    margin_at_best,
    margin_one_way,
    most_if_smaller,
    on_the_whole,
    pieces_if_smaller,
    rests_on,
    sure_way,
)
from ..pieces import read_piece
from ..shapes import MOST_OUTLINES, Shape
from ..units import SAME

#: With less than this to spare, in inches, the cloth is to be measured before cutting. Common
#: practice, no published source.
TIGHT = 0.5


def answer(request: dict) -> dict:
    """Pieces along the length, along the width, at best and for sure: layouts, margins, grain,
    folds, how near one more is.
    """
    fields = Fields(request)
    piece, name = read_piece(fields.object("piece")), _name(fields.object("piece"))
    cloth = read_cloth(fields.object("cloth"), piece.size)
    best, sure = best_way(piece, cloth), sure_way(piece, cloth)
    ways = {f"along_{along}": one_way(piece, cloth, along) for along in ("length", "width")}
    layouts = _layouts(piece, name, {"best": best, **ways, "sure": sure})
    return {
        "cloth": {
            "length": cloth.length,
            "width": cloth.width,
            "selvage": cloth.selvage,
            "one_way": fields.object("cloth").flag("one_way"),
        },
        **{name: _one_way(piece, cloth, way, layouts[name]) for name, way in ways.items()},
        "best": _best(piece, cloth, best, sure, layouts["best"]),
        "sure": _sure(piece, cloth, sure, [*ways.values(), best], layouts["sure"]),
        "used_share": _share(piece, cloth, best),
    }


def _name(piece: Fields) -> str:
    """What the strips call their piece: its `id` where the request gives one, or else its shape."""
    return piece.text("id", piece.raw("shape", "diamond"))


def _layouts(piece: Shape, name: str, ways: dict[str, CutWay]) -> dict[str, dict]:
    """The layout of each way; the first named have the first claim on the outlines that an answer may hold."""
    room, layouts = MOST_OUTLINES, {}
    for key, way in ways.items():
        layouts[key] = layout(piece, name, way, drawn=way.pieces <= room)
        room -= way.pieces if layouts[key]["drawn"] else 0
    return layouts


def _share(piece: Shape, cloth: Cloth, way: CutWay) -> float:
    # Where there is no piece nothing is divided: the area of a speck of cloth may be 0 as a float.
    return way.pieces * piece.area / float(cloth.area) if way.pieces else 0.0


def _one_way(piece: Shape, cloth: Cloth, way: CutWay, drawing: dict) -> dict:
    part = way.parts[0]
    near = one_more(piece, part)
    fold = folded_yield(piece, part.run)
    return {
        **_described(piece, cloth, way, drawing),
        **_strips(cloth, way),
        "reason": _reason(part),
        **near,
        "tight": _tight(part, near),
        "folded": {"layers": fold.layers, "layer": fold.layer, "pieces": fold.pieces * part.strips},
        **_margin(piece, cloth, margin_one_way(piece, cloth, way)),
        "if_smaller": [{"by": by, "pieces": pieces_if_smaller(piece, cloth, by, part.along)} for by in SMALLER],
    }


def _best(piece: Shape, cloth: Cloth, best: CutWay, sure: CutWay, drawing: dict) -> dict:
    smaller = {by: sure.pieces if by == KEEPS else most_if_smaller(piece, cloth, by) for by in SMALLER}
    return {
        **_described(piece, cloth, best, drawing),
        "grain_mixed": best.grain_mixed,
        **_margin(piece, cloth, margin_at_best(piece, cloth, best.pieces)),
        "if_smaller": [{"by": by, "pieces": pieces} for by, pieces in smaller.items()],
    }


def _sure(piece: Shape, cloth: Cloth, sure: CutWay, others: list[CutWay], drawing: dict) -> dict:
    """What keeps half an inch each way. Its strips are drawn as long as they are sure to
    be, and end short of the cloth.
    """
    named = replace(sure, name=known_as(cloth, sure, others))
    return {
        **_described(piece, cloth, on_the_whole(named, cloth), drawing),
        "keeps": KEEPS,
        "grain_mixed": sure.grain_mixed,
        **(_strips(cloth, sure) if len(sure.parts) == 1 else {}),
    }


def _strips(cloth: Cloth, way: CutWay) -> dict:
    """The strips of an undivided way, all alike."""
    part = way.parts[0]
    return {"strips": part.strips, "per_strip": part.strip.pieces, "grain": cloth.grain(part.along)}


def _margin(piece: Shape, cloth: Cloth, margin: Margin) -> dict:
    return {"margin": {"length": margin.length, "width": margin.width}, "rests_on": rests_on(piece, cloth, margin)}


def _described(piece: Shape, cloth: Cloth, way: CutWay, drawing: dict) -> dict:
    return {
        "way": way.name,
        "pieces": way.pieces,
        "used_share": _share(piece, cloth, way),
        "layout": drawing,
        "left_whole": [list(rest) for rest in _left_whole(piece, way)],
        "head_down": _head_down(piece, way),
    }


def _head_down(piece: Shape, way: CutWay) -> int:
    """How many of its pieces lie head down: every second one of a strip, where the shape comes off it by turns."""
    if not piece.alternates:
        return 0
    return sum(part.strips * (part.strip.pieces // 2) for part in way.parts)


def layout(piece: Shape, name: str, way: CutWay, drawn: bool = True) -> dict:
    """The strips with their pieces' outlines, or none of them where there would be too many to be `drawn`."""
    division = {"along": way.division[0], "at": way.division[1]} if way.division else None
    strips = [_strip(piece, name, strip) for strip in way.placed(piece)] if drawn else []
    return {"drawn": drawn, "division": division, "strips": strips}


def _strip(piece: Shape, name: str, strip) -> dict:
    return {
        "x": strip.x,
        "y": strip.y,
        "along": strip.along,
        "run": strip.run,
        "size": strip.size,
        "piece": name,
        "count": strip.count,
        "outlines": strip.outlines(piece),
    }


def _left_whole(piece: Shape, way: CutWay) -> list[tuple]:
    rests = [part.left_whole(piece.size) for part in way.parts]
    return [rest for rest in rests if worth_keeping(*rest)]


def _reason(part) -> str | None:
    """Why there is no piece at all, or None."""
    if not part.strips:
        return "narrow"
    return None if part.strip.pieces else "short"


def _tight(part, near: dict) -> list[str]:
    """What fits so barely that it is to be measured first: the last piece of a strip, the last strip.

    A cloth that is one ready-cut strip has no strip to measure for.
    """
    ready_cut = part.strips == 1 and near["strip_spare"] <= SAME
    near_ends = [("piece", near["spare"])] + ([] if ready_cut else [("strip", near["strip_spare"])])
    return [name for name, spare in near_ends if part.pieces and spare < TIGHT]
