"""The ask `guide`: the script of the next-cut guide for what is to be cut."""

from ..cloth import CutWay, Part, best_way, one_way
from ..drift import MOST_CUTS
from ..errors import Refusal
from ..fields import Fields
from ..guide.job import ClothWork, Job, PartWork, PieceKind, StripWork
from ..guide.laying import Laying
from ..guide.script import write_script
from ..kinds import read_cloth
from ..margins import on_the_whole, sure_way
from ..pieces import read_piece
from ..rulers import read_rulers
from .habits import read_habits
from .planned import MOST_CLOTHS, planned_job
from .rulers import MOST_IN_A_ROW, read_drift

#: A guide is a list of steps that a page holds: beyond this many pieces it is to be cut in several sittings.
MOST_PIECES = 5_000
#: Cloths alike that one request may cut.
#: No count of a sitting is larger.
MOST_COUNTED = 1_000_000
#: What a user says of how often the angle is to be checked.
_SAY_HOW_OFTEN = ("recheck_every", "placing", "tolerance", "across")
_STEPS = ("strip", "starter", "following", "following_back")


def answer(request: dict) -> dict:
    """The script for one cloth, cut one way or mixed ("way"), or for all `layouts` of a
    plan; with the user's rulers.
    """
    fields = Fields(request)
    job, script = read_script(fields)
    promised = fields.counts("promised", -MOST_COUNTED, MOST_COUNTED)
    return {"script": {**script, "promised": promised or _promised(job)}}


def read_script(fields: Fields, afresh: bool = False) -> tuple[Job, dict]:
    """What is to be cut, and the script for it, its cautions `afresh` with each cloth where that is wanted."""
    job = planned_job(fields) if fields.has("layouts") else _job(fields)
    _check_pieces(job)
    layings = {kind.id: read_laying(fields, kind.shape) for kind in job.kinds}
    return job, write_script(job, read_habits(fields), layings, afresh)


def _promised(job: Job) -> dict[str, int]:
    """Pieces that the guide promises by kind, as it counts them: one that is cut corner to corner is two."""
    found = dict.fromkeys((kind.id for kind in job.kinds), 0)
    for work in (work for cloth in job.cloths for work in cloth.works):
        found[work.piece.id] += work.strips * work.count * work.piece.parts
    return found


def read_laying(fields: Fields, piece) -> Laying:
    """The rulers at hand and the ways that the user picked, for a kind of piece."""
    chosen = fields.object("chosen") if fields.has("chosen") else Fields({})
    picked = tuple((step, chosen.count(step, 0, 1000)) for step in _STEPS if chosen.has(step))
    drift = read_drift(fields if fields.has("piece") else Fields({**fields.given, "piece": {}}), piece)
    every = fields.count("recheck_every", 1, MOST_IN_A_ROW, default=drift.cuts)
    laying = Laying(piece, read_rulers(fields), read_habits(fields), every, picked)
    if any(fields.has(name) for name in _SAY_HOW_OFTEN):
        return laying
    way = laying.way("following")
    # An angle line that is laid on the strip at every cut starts afresh by itself: nothing adds up from cut to cut.
    return laying.checked_every(MOST_CUTS) if way and way.angle_line else laying


def _job(fields: Fields) -> Job:
    piece = read_piece(fields.object("piece"))
    cloth = read_cloth(fields.object("cloth"), piece.size)
    way = read_way(fields, piece, cloth)
    given = fields.object("cloth")
    name = given.text("id", given.raw("kind", "scrap"))
    parts = tuple(_part(PieceKind("piece", piece), part) for part in way.parts)
    own = {"selvages": cloth.selvages, "one_way": given.flag("one_way")}
    work = ClothWork(name, cloth.length, cloth.width, cloth.selvage, parts, way.division, **own)
    return Job((work,) * given.count("count", 1, MOST_CLOTHS, default=1))


def _part(kind: PieceKind, part: Part) -> PartWork:
    work = StripWork(kind, part.run, part.strip.pieces, part.strips, part.along)
    return PartWork(part.along, (work,) if part.pieces else ())


def _check_pieces(job: Job) -> None:
    pieces = sum(work.strips * work.count for cloth in job.cloths for work in cloth.works)
    if not 0 < pieces <= MOST_PIECES:
        raise Refusal("cloth", "guide_pieces", given=pieces, most=MOST_PIECES)


def read_way(fields: Fields, piece, cloth) -> CutWay:
    """How one cloth is cut, from `way`: "along_length", "along_width", "mixed", which is the most, or
    "sure", which keeps something.
    """
    name = fields.choice("way", ("along_length", "along_width", "mixed", "sure"), "mixed")
    if name == "mixed":
        return best_way(piece, cloth)
    if name == "sure":
        return on_the_whole(sure_way(piece, cloth), cloth)
    return one_way(piece, cloth, name.removeprefix("along_"))
