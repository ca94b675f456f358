"""Cuttings in paper that do not go as planned: cloth that is smaller than said, a spoiled piece, a strip of the wrong
width, no more strips from a cloth. The rest is planned anew, and the cutter goes on by the words of the new guide.

What lies in the piles in the end is judged as ever, and it is as many as the answer promised
before anybody agreed to it."""

from collections import Counter
from dataclasses import dataclass, field

import pytest

import matside
from paper_cloth import Cloth
from paper_cutter import Cutter
from paper_judge import _judge_one, _judge_places
from paper_pictures import compare
from paper_table import Wrong
from test_replan import Sitting, guide_for, replanned

DIAMOND = {"id": "d", "shape": "diamond", "size": 4, "angle": 60, "need": 27}
SASH = {"id": "r", "shape": "rectangle", "size": 2.5, "length": 9, "need": 5}
LEANING = {"id": "p", "shape": "parallelogram", "size": 2, "across": 5, "angle": 45, "mirrored": True, "need": 9}
TRIANGLE = {"id": "t", "shape": "half-diamond", "size": 3, "angle": 60, "need": 20}
HALF_HEXAGON = {"id": "h", "shape": "trapezoid", "size": 3, "base": 7, "angle": 60, "need": 11}
QUARTER = {"id": "quarter", "length": 18, "width": 20, "count": 3, "selvage": "length", "selvages": 1}
EIGHTH = {"id": "eighth", "length": 9, "width": 20, "count": 2, "selvage": "length", "selvages": 1}
YARDAGE = {"id": "yardage", "length": 9, "width": 42, "count": 1, "selvage": "length", "selvages": 2}
BASKETS = {
    "diamonds": ([QUARTER, EIGHTH], [DIAMOND], {}),
    "diamonds, left hand": ([QUARTER, EIGHTH], [DIAMOND], {"hand": "left", "lay": "away"}),
    "two kinds": ([QUARTER, EIGHTH, YARDAGE], [DIAMOND, SASH], {}),
    "leaning, without rulers": ([QUARTER, EIGHTH], [LEANING], {"rulers": []}),
    "triangles": ([EIGHTH, QUARTER], [TRIANGLE], {"layers": 2}),
    "half hexagons, mat small": ([YARDAGE, QUARTER], [HALF_HEXAGON], {"mat": 12}),
}


@dataclass
class AtTheMat:
    """A cutter at the guide that the log is folded through: what is done with the hands is tapped as well."""

    guide: dict
    wanted: dict
    real: dict[str, tuple[float, float]] = field(default_factory=dict)  # the sides that cloths really have, by id

    def __post_init__(self):
        self.sitting = Sitting(self.guide)
        self.cutter = self._at(self.guide)
        self.done: list[tuple] = []  # pieces in the piles, each with the script that it was cut by
        self.seen = 0

    def _at(self, guide: dict) -> Cutter:
        script = self.sitting.script
        by_id = {cloth["id"]: cloth for cloth in guide["cloths"]}
        cloths = [self._cloth(by_id[cloth["id"]]) for cloth in script["cloths"]]
        room = max(
            (given - have for id, sides in self.real.items() for given, have in zip(_sides(by_id[id]), sides)),
            default=0,
        )
        return Cutter(script, cloths, matside.answer({"ask": "facts"})["rulers"], room=room)

    def _cloth(self, given: dict) -> Cloth:
        sides = self.real.get(given["id"], _sides(given))
        return Cloth(given["id"], *map(float, sides), given.get("selvage"), given.get("selvages", 0))

    def act(self) -> None:
        """Does the step at hand, and taps."""
        self.look()
        assert self.sitting.takes("cut")

    def look(self) -> None:
        """Does the step at hand; what its drawing shows is what lies there."""
        shown = self.cutter.do(self.sitting.state.step)
        if not self.cutter.room:  # on a smaller cloth than it shows a drawing is off by as much
            compare(shown, self.cutter)
        fresh = self.cutter.pile[self.seen :]
        self.done += [(piece, self.sitting.script) for piece in fresh]
        self.seen = len(self.cutter.pile)

    def until(self, fits) -> None:
        while not fits(self.sitting.step):
            self.act()

    def drop_last(self) -> None:
        """The piece that was just cut is spoiled."""
        self.done.pop()

    def plan_anew(self, **change) -> dict:
        """Has the rest planned anew, and goes on with it: at another cloth, or at this one as it lies."""
        found = replanned(self.sitting.guides[-1], self.sitting.done(), **change)
        self.sitting.goes_on(found)
        if found["guide"] is None:
            return found
        if found["event"].get("keep"):
            self.cutter.script, self.cutter.strip_count = self.sitting.script, (0, 0)
            self.cutter.waiting = self._at(found["guide"]).waiting[self.sitting.step["cloth"] + 1 :]
        else:
            self.cutter, self.seen = self._at(found["guide"]), 0
        return found

    def to_the_end(self) -> None:
        while self.sitting.step["do"] != "done":
            self.act()
        for piece, script in self.done:
            _judge_one(piece, script, self.wanted, 1 / 8 + 1e-6)
        _judge_places([piece for piece, _ in self.done])
        piles = Counter(script["strips"][script["steps"][piece.step]["strip"]]["piece"] for piece, script in self.done)
        assert piles == +self.sitting.made()


def _sides(cloth: dict) -> tuple[float, float]:
    return cloth["length"], cloth["width"]


def at_the_mat(name: str, **real) -> AtTheMat:
    cloths, pieces, habits = BASKETS[name]
    guide = {**guide_for(cloths, pieces), **habits}
    return AtTheMat(guide, {piece["id"]: piece for piece in pieces}, real)


def is_measure(step: dict) -> bool:
    return step["do"] == "measure"


@pytest.mark.every(2)
@pytest.mark.parametrize("name", BASKETS)
def test_a_cloth_that_is_smaller_is_noticed_before_it_is_cut_and_the_rest_is_cut_right(name):
    first = at_the_mat(name).sitting.script["cloths"][0]
    sides = (first["length"] - 0.25, first["width"] - 0.25)
    mat = at_the_mat(name, **{first["id"]: sides})
    mat.until(is_measure)
    try:
        mat.look()
    except Wrong as wrong:
        assert wrong.code == "short"
        assert not any(step["cut"] for step in mat.sitting.script["steps"][: mat.sitting.state.step])
        mat.real.clear()
        promised = mat.plan_anew(what="smaller", length=sides[0], width=sides[1], id="smaller")["change"]["all"]
    else:
        assert mat.sitting.takes("cut")
        promised = sum(strip["planned"] for strip in mat.sitting.script["strips"])
    mat.to_the_end()
    assert sum(mat.sitting.made().values()) == promised


@pytest.mark.every(2)
@pytest.mark.parametrize("name", BASKETS)
def test_a_spoiled_piece_is_cut_again_from_what_is_left(name):
    mat = at_the_mat(name)
    mat.until(lambda step: step["do"] == "piece")
    mat.look()
    mat.drop_last()
    assert mat.sitting.takes("spoiled", n=1)
    mat.until(lambda step: step["pause"])
    promised = mat.plan_anew(what="lost")["change"]["all"]
    mat.to_the_end()
    assert sum(mat.sitting.made().values()) == promised


@pytest.mark.every(2)
@pytest.mark.parametrize("name", BASKETS)
def test_a_strip_of_the_wrong_width_is_put_aside_whole(name):
    mat = at_the_mat(name)
    mat.until(lambda step: step["do"] == "piece")
    mat.act()
    strip = mat.sitting.step["strip"]
    lost = sum(
        script["strips"][script["steps"][piece.step]["strip"]] is script["strips"][strip] for piece, script in mat.done
    )
    for _ in range(lost):
        mat.drop_last()
    assert mat.sitting.takes("wrong_width")
    mat.cutter.bench = None
    assert mat.sitting.step["do"] == "strip_done" and mat.sitting.takes("cut")
    mat.until(lambda step: step["pause"])
    promised = mat.plan_anew(what="lost")["change"]["all"]
    mat.to_the_end()
    assert sum(mat.sitting.made().values()) == promised


@pytest.mark.every(2)
@pytest.mark.parametrize("name", BASKETS)
def test_no_more_strips_come_of_a_cloth_and_those_that_are_cut_are_cut_to_the_end(name):
    mat = at_the_mat(name)
    strips = [i for i, step in enumerate(mat.sitting.script["steps"]) if step["do"] == "strip" and step["cloth"] == 0]
    mat.until(lambda step: mat.sitting.state.step == strips[1])
    promised = mat.plan_anew(what="no_more_strips")["change"]["all"]
    mat.to_the_end()
    assert sum(mat.sitting.made().values()) == promised
