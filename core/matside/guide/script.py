"""The script of the guide: every step from pressing the cloth to the last piece, as plain data.

A step says what it does ("do", a key of the table's rules), the strip and cloth it belongs to, how many pieces its cut
frees ("gives"), which scene is drawn, which of its shapes lie on top ("over"), how far along it is ("at") and which piece
is picked out ("next"), which sentence is said ("say", a code of the catalogue) with its values (lengths in inches), which
cautions are due, and how long the blade's path is ("cut", inches). "cuts_into" tells whether the cloth is no longer whole after it, and
"pause" whether nothing is half cut at it, so that one plan can follow another.
"""

from collections.abc import Iterator

from ..shapes import Diamond
from .job import ClothWork, Habits, Job, StripWork
from .laying import Laying
from .reach import folds_needed
from .scenes import Scenes
from .stacks import Stack, stacks
from .table import VERSION

#: What takes a cloth's wholeness: pressed, trimmed at its edges and folded it can still be used otherwise.
_CUT_INTO = {"divide", "strip", "starter", "piece", "halve"}
_PAUSES = {"swap", "done"}


def write_script(job: Job, habits: Habits, layings: dict[str, Laying]) -> dict:
    """The script for a job; `layings` gives, for each kind of piece by id, how the rulers are laid."""
    return _Writer(job, habits, layings).script()


class _Writer:
    def __init__(self, job: Job, habits: Habits, layings: dict[str, Laying]):
        self.job = job
        self.habits = habits
        self.layings = layings
        self.scenes = Scenes(habits, layings)
        self.stacks = stacks(job, habits.layers)
        self.cautioned: set[str] = set()

    def script(self) -> dict:
        steps = list(self._all_steps())
        return {
            "version": VERSION,
            "hand": self.habits.hand,
            "lay": self.habits.lay,
            "pieces": [_piece(kind) for kind in self.job.kinds],
            "cloths": [_cloth(cloth) for cloth in self.job.cloths],
            "strips": [self._strip(stack) for stack in self.stacks],
            "scenes": self.scenes.made,
            "steps": steps,
        }

    def _strip(self, stack: Stack) -> dict:
        return {
            "cloth": stack.cloth,
            "piece": stack.work.piece.id,
            "planned": stack.planned,
            "layers": stack.layers,
            "number": stack.number,
            "of": stack.of,
            "run": stack.work.run,
            "size": stack.work.size,
            "grain": stack.work.along,
        }

    def _all_steps(self) -> Iterator[dict]:
        for index, cloth in enumerate(self.job.cloths):
            if index:
                yield self._cloth_step("swap", index, "swap", {"length": cloth.length, "width": cloth.width, "name": cloth.id})
            yield from self._cloth_steps(index, cloth)
            yield from self._stack_steps(index)
        last = len(self.stacks) - 1
        yield {"do": "done", "say": "done", "strip": last, "cloth": len(self.job.cloths) - 1, "gives": 0, "values": {}, **_facts("done")}

    def _cloth_steps(self, index: int, cloth: ClothWork) -> Iterator[dict]:
        yield self._cloth_step("press", index, "press", cautions=["children_pets"])
        if cloth.selvage:
            yield self._cloth_step("selvage", index, "selvage", cautions=["sharp_glove"])
        if cloth.is_strip:
            return
        if cloth.division:
            along, at = cloth.division
            side, across = (cloth.length, cloth.width) if along == "length" else (cloth.width, cloth.length)
            values = {"at": at, "side": side}
            yield self._cloth_step("divide", index, f"divide_{along}", values, ["sharp_glove", "cut_away"], float(across))
        for work in cloth.works:
            yield from self._strip_cutting(index, work)

    def _strip_cutting(self, index: int, work: StripWork) -> Iterator[dict]:
        laying = self.layings[work.piece.id]
        folds = folds_needed(work.run, self.habits.mat, [ruler.length for ruler in laying.rulers])
        if folds:
            yield self._cutting_step("fold", index, work, "fold" if folds == 1 else "fold_twice", folds)
        under = work.run / 2**folds
        yield self._cutting_step("square", index, work, "square", folds, cautions=["sharp_glove", "cut_away"], cut=under)
        way = laying.cutting_way(under)
        for k in range(work.strips):
            values = {**laying.values(way), "k": k + 1, "of": work.strips}
            yield self._cutting_step("strip", index, work, _strip_say(way), folds, k, values, ["fingers"], under)
        if folds:
            yield self._cutting_step("unfold", index, work, "unfold", folds)

    def _stack_steps(self, cloth: int) -> Iterator[dict]:
        for index, stack in enumerate(self.stacks):
            if stack.cloth == cloth:
                yield from self._one_stack(index, stack)

    def _one_stack(self, index: int, stack: Stack) -> Iterator[dict]:
        laying = self.layings[stack.work.piece.id]
        yield from self._starter_steps(index, stack, laying)
        for k in range(stack.work.count):
            if self._recheck_due(index, k, stack, laying):
                values = {"short_diagonal": getattr(stack.work.piece.shape, "short_diagonal", None), **_left(stack, k)}
                yield self._stack_step("recheck", index, stack, "recheck", k, values, ["close_blade"])
            way = laying.following(k)
            say = laying.say_piece(way)
            values = {**laying.values(way), "k": k + 1, **_left(stack, k)}
            yield self._stack_step("piece", index, stack, say, k, values, ["fingers"], laying.over(k), laying.cut_length)
        yield self._stack_step("strip_done", index, stack, "strip_done", stack.work.count, {}, ["close_blade"])

    def _starter_steps(self, index: int, stack: Stack, laying: Laying) -> Iterator[dict]:
        turned = "_turned" if laying.starter_turned else ""
        lay = f"lay{turned}" if stack.layers == 1 else f"lay_stack{turned}"
        yield self._stack_step("lay", index, stack, lay, 0, {"layers": stack.layers})
        way = laying.way("starter")
        say = "starter_square" if laying.is_square else f"starter_{laying.say(way)}"
        cautions = ["sharp_glove", "cut_away"]  # said here only where no strip had to be cut before
        yield self._stack_step("starter", index, stack, say, 0, laying.values(way), cautions, cut=laying.cut_length)
        if turned:
            yield self._stack_step("turn", index, stack, "turn", 0, {})

    def _recheck_due(self, index: int, k: int, stack: Stack, laying: Laying) -> bool:
        """After the very first piece, so that a wrong setting spoils one piece only, and then every few pieces."""
        if not isinstance(laying.piece, Diamond):
            return False
        return k > 0 and (k % laying.recheck_every == 0 or (index == 0 and k == 1))

    def _cloth_step(self, do: str, index: int, say: str, values: dict | None = None, cautions=(), cut=0) -> dict:
        place = {"scene": self.scenes.cloth(self.job.cloths[index], do), "strip": self._first_strip(index), "cloth": index}
        return self._step(do, say, place, values or {}, cautions, cut)

    def _cutting_step(self, do, index, work, say, folds, k=0, values=None, cautions=(), cut=0) -> dict:
        scene = self.scenes.cutting(self.job.cloths[index], work, folds)
        place = {"scene": scene, "at": k, "strip": self._first_strip(index), "cloth": index}
        return self._step(do, say, place, {"run": work.run, **(values or {})}, cautions, cut)

    def _stack_step(self, do, index, stack, say, k, values, cautions=(), over=None, cut=0) -> dict:
        drawn = {"lay": self.scenes.starter, "starter": self.scenes.starter, "recheck": self.scenes.recheck}
        scene = drawn.get(do, self.scenes.strip)(stack.work)
        place = {"scene": scene, "at": k, "strip": index, "cloth": stack.cloth, "gives": stack.layers}
        return self._step(do, say, {**place, "over": over or do}, values, cautions, cut)

    def _step(self, do: str, say: str, place: dict, values: dict, cautions, cut) -> dict:
        at = place.get("at", 0)
        drawn = {"over": do, "at": at, "next": at if do in ("piece", "strip") else None}
        told = {"say": say, "values": values, "cautions": self._due(cautions)}
        return {"do": do, "gives": 0, **drawn, **place, **told, "cut": cut, **_facts(do)}

    def _due(self, cautions) -> list[str]:
        """Each caution once, where it is first needed; "close the blade" at the end of every strip."""
        due = [code for code in cautions if code == "close_blade" or code not in self.cautioned]
        self.cautioned.update(due)
        return due

    def _first_strip(self, cloth: int) -> int | None:
        """The first strip of a cloth: what its preparing steps are counted towards."""
        return next((i for i, stack in enumerate(self.stacks) if stack.cloth == cloth), None)


def _facts(do: str) -> dict[str, bool]:
    return {"cuts_into": do in _CUT_INTO, "pause": do in _PAUSES}


def _strip_say(way) -> str:
    if way is None:
        return "strip_bare"
    return "strip_two_rulers" if len(way.rulers) > 1 else "strip"


def _left(stack: Stack, k: int) -> dict:
    """What is left of the strip along its near edge after k pieces, as planned."""
    return {"length_left": float(stack.work.run) - k * stack.work.piece.shape.advance}


def _piece(kind) -> dict:
    shape = kind.shape
    found = {"id": kind.id, "size": shape.size, "angle": shape.angle, "outline": shape.outline(), "fabric": kind.fabric}
    return {**found, "shape": type(shape).__name__}


def _cloth(cloth: ClothWork) -> dict:
    return {"id": cloth.id, "length": cloth.length, "width": cloth.width, "selvage": cloth.selvage, "fabric": cloth.fabric}
