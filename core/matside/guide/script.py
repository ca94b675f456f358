"""The script of the guide: every step from pressing the cloth to the last piece, as plain data.

A step says what it does ("do", a key of the table's rules), the strip and cloth it belongs to, how many pieces its cut
frees ("gives"), which scene is drawn, which of its shapes lie on top ("over"), how far along it is ("at") and which
piece is picked out ("next"), which sentence is said ("say", a code of the catalogue) with its values (lengths in
inches), which cautions are due, how long the blade's path is ("cut", inches), whether it cuts into cloth that was whole
("cuts_into"), and whether one plan can follow another there ("pause")."""

from collections.abc import Iterator

from ..shapes import Point
from .acts import CUTS_INTO, HANDLING, PAUSES, Act
from .cloth_scenes import ClothScenes
from .drawn import Drawn
from .finishing import JOINED, finishing, joined_kinds
from .job import ClothWork, Habits, Job, PieceKind
from .laying import Laying
from .places import for_hand
from .preparing import LaidPart, Preparing
from .stacks import Stack, stacks
from .table import VERSION
from .taking import Halving, Taking


def write_script(job: Job, habits: Habits, layings: dict[str, Laying], afresh: bool = False) -> dict:
    """The script for a job; `layings` gives, for each kind of piece by id, how the rulers are laid.

    Each caution comes once a sitting, or `afresh` with each cloth, as on paper, where a cloth may have a sheet of
    its own."""
    return _Writer(job, habits, layings, afresh).script()


class _Writer:
    def __init__(self, job: Job, habits: Habits, layings: dict[str, Laying], afresh: bool):
        self.job, self.habits, self.layings, self.afresh = job, habits, layings, afresh
        self.drawn = Drawn()
        self.cloth_scenes = ClothScenes(habits, self.drawn)
        self.stacks = stacks(job, habits.layers)
        self.joined = joined_kinds(job)
        self.whole = [(kind, strips) for kind, strips in self.joined if kind.joined.counted]
        self.halving = {kind.id: Halving(list(kind.halved)) for kind in job.kinds if kind.halved}
        self.cautioned: set[str] = set()
        self.blade_open = False
        self.rulers: str | None = None

    def script(self) -> dict:
        steps = list(self._all_steps())
        return {
            "version": VERSION,
            "hand": self.habits.hand,
            "lay": self.habits.lay,
            "pieces": [
                *(self._piece(kind) for kind in self.job.kinds),
                *(_joined_piece(kind) for kind, _ in self.whole),
            ],
            "cloths": [_cloth(cloth) for cloth in self.job.cloths],
            "strips": [
                *(self._strip(stack) for stack in self.stacks),
                *(self._joined_strip(kind, strips) for kind, strips in self.whole),
            ],
            "scenes": self.drawn.made,
            "steps": steps,
        }

    # --- What the script lists

    def _piece(self, kind: PieceKind) -> dict:
        shape = kind.shape
        return {
            "id": kind.id,
            "shape": shape.name,
            "size": shape.size,
            "angle": getattr(shape, "angle", None),
            "outline": _half_outline(kind) if kind.halved else shape.outline(),
            "fabric": kind.fabric,
            "up": shape.up(self.habits.flipped),
            "counted": kind.joined is None,
            "parts": kind.parts,
            "alternates": shape.alternates,
            "check": {"length": shape.check} if shape.check else None,
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
            "pile": self._pile(stack),
        }

    def _joined_strip(self, kind: PieceKind, strips: int) -> dict:
        joined = kind.joined
        told = {
            "planned": kind.finished(strips),
            "layers": 1,
            "number": 1,
            "of": 1,
            "run": joined.length,
            "size": kind.shape.size,
        }
        return {"cloth": len(self.job.cloths) - 1, "piece": kind.id + JOINED, **told, "grain": None, "pile": None}

    def _grain(self, stack: Stack) -> str:
        return self.job.cloths[stack.cloth].grain(stack.work.along)

    def _pile(self, stack: Stack) -> str | None:
        """The grain of its pieces, where the same kind lies on the other grain as well."""
        grains = {self._grain(other) for other in self.stacks if other.work.piece.id == stack.work.piece.id}
        own = self._grain(stack)
        return own if own != "unknown" and len(grains - {"unknown"}) > 1 else None

    # --- The steps

    def _all_steps(self) -> Iterator[dict]:
        for index, cloth in enumerate(self.job.cloths):
            preparing = Preparing(cloth, self.layings, self.habits, self.cloth_scenes)
            first = self._first_strip(index)
            for number, act in enumerate(preparing.acts()):
                if index and not number:
                    yield self._step(self._swap(cloth, act), index, first)
                    if self.afresh:
                        self.cautioned.clear()
                yield self._step(act, index, first)
            yield from self._stack_steps(index, preparing.laid)
        yield from self._finishing_steps()
        last = len(self.stacks) + len(self.whole) - 1
        cut = sum(stack.planned for stack in self.stacks if not stack.work.piece.joined)
        values = {"n": cut + sum(kind.finished(strips) for kind, strips in self.whole)}
        yield self._step(Act("done", "done", -1, values), len(self.job.cloths) - 1, last)

    def _swap(self, cloth: ClothWork, first: Act) -> Act:
        return Act("swap", "swap", first.scene, {"length": cloth.length, "width": cloth.width, "name": cloth.id})

    def _stack_steps(self, cloth: int, laid: list[LaidPart]) -> Iterator[dict]:
        for index, stack in enumerate(self.stacks):
            if stack.cloth == cloth:
                for act in self._taking(index, stack, laid).acts():
                    yield self._step(act, cloth, index)

    def _taking(self, index: int, stack: Stack, laid: list[LaidPart]) -> Taking:
        cloth, piece = self.job.cloths[stack.cloth], stack.work.piece
        lying = laid[stack.part]
        alike = [other for other in self.stacks if other.cloth == stack.cloth and other.work.size == stack.work.size]
        return Taking(
            stack,
            self.layings[piece.id],
            lying,
            self.drawn,
            first=index == 0,
            others=len({laid[other.part].long for other in alike}) > 1,
            head_down=cloth.one_way and piece.shape.alternates and stack.work.count > 1,
            pile=self._pile(stack),
            halving=self.halving.get(piece.id),
        )

    def _finishing_steps(self) -> Iterator[dict]:
        strip = len(self.stacks)
        for kind, strips in self.joined:
            own = strip if kind.joined.counted else len(self.stacks) - 1
            for act in finishing(kind, strips, self.drawn):
                yield self._step(act, len(self.job.cloths) - 1, own)
            strip += kind.joined.counted

    def _step(self, act: Act, cloth: int, strip: int | None) -> dict:
        values = for_hand({**act.values, **self._ruler(act)}, self.habits.hand)
        return {
            "do": act.do,
            "say": act.say,
            "values": values,
            "cautions": self._due(act),
            "scene": act.scene if act.scene >= 0 else None,
            "over": act.over or act.do,
            "at": act.at,
            "next": act.next,
            "gives": act.gives,
            "cut": act.cut,
            "strip": strip,
            "cloth": cloth,
            "cuts_into": act.do in CUTS_INTO,
            "pause": act.do in PAUSES,
        }

    def _ruler(self, act: Act) -> dict:
        """Whether another ruler is taken up than the one that was in hand last."""
        ruler = act.values.get("ruler")
        if ruler is None:
            return {}
        other, self.rulers = ruler != self.rulers, ruler
        return {"other_ruler": other}

    def _due(self, act: Act) -> list[str]:
        """Each caution once, where it is first needed; "close the blade" wherever hands move cloth after a cut."""
        due = [code for code in act.cautions if code not in self.cautioned]
        self.cautioned.update(due)
        if act.do in HANDLING and self.blade_open:
            due.insert(0, "close_blade")
            self.blade_open = False
        self.blade_open = self.blade_open or act.cut > 0
        return due

    def _first_strip(self, cloth: int) -> int | None:
        """The first strip of a cloth: what its preparing steps are counted towards."""
        return next((i for i, stack in enumerate(self.stacks) if stack.cloth == cloth), None)


def _half_outline(kind: PieceKind) -> list[Point]:
    """One of the two triangles of a rectangle."""
    long, high = kind.shape.advance, float(kind.shape.size)
    return [(0.0, 0.0), (long, 0.0), (long, high)]


def _joined_piece(kind: PieceKind) -> dict:
    joined, size = kind.joined, kind.shape.size
    return {
        "id": kind.id + JOINED,
        "shape": "rectangle",
        "size": size,
        "angle": None,
        "outline": [(0.0, 0.0), (float(joined.length), 0.0), (float(joined.length), float(size)), (0.0, float(size))],
        "fabric": kind.fabric,
        "up": "right",
        "counted": True,
        "parts": 1,
        "alternates": False,
        "check": None,
    }


def _cloth(cloth: ClothWork) -> dict:
    told = {"id": cloth.id, "length": cloth.length, "width": cloth.width, "fabric": cloth.fabric}
    return {**told, "selvage": cloth.selvage, "one_way": cloth.one_way}
