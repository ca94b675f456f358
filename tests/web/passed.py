"""What is passed on, as the tests make it up, and the page's own modules for it under Node."""

import atexit
import json
import subprocess
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

import matside
from steps.places import tool

HERE = Path(__file__).parent


def ran(dist: Path, *asks: tuple) -> list:
    """What the page's modules make of asks of passing.mjs, one answer each."""
    node = _node(dist)
    node.stdin.write(json.dumps(asks).encode() + b"\n")
    node.stdin.flush()
    told = node.stdout.readline()
    if not told:  # it ended: the next ask begins another
        _node.cache_clear()
        raise AssertionError(node.communicate()[1].decode())
    return json.loads(told)


@cache
def _node(dist: Path) -> subprocess.Popen:
    """One process for all asks: to start one costs more than most asks do."""
    (app,) = dist.glob("app-*")
    command = [tool("node"), "--no-warnings", HERE / "passing.mjs", app.as_uri()]
    node = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    atexit.register(node.communicate)
    return node


@cache
def _facts() -> str:
    return json.dumps(matside.answer({"ask": "facts"}))


@cache
def _example(dist: Path) -> str:
    return json.dumps(ran(dist, ("example", json.loads(_facts())))[0])


def example(dist: Path) -> dict:
    """The plan of the example quilt that the page shows, as it is passed on."""
    return json.loads(_example(dist))


_TEXT = st.text(max_size=30)
_LENGTH = st.sampled_from(["4", "4½ in", "11.5 cm", "3 1/2", "", "1½ yd", "0.25", "2³⁄₁₆ in"]) | st.text(max_size=8)
_FABRIC = st.integers(0, 12).map(lambda number: f"f{number}")


def plans(base: dict) -> st.SearchStrategy[dict]:
    """Plans of the shape of one, with everything in them that a person may have typed, chosen or tapped."""
    quilt, basket = base["quilt"], base["basket"]
    fabric = st.fixed_dictionaries(
        {
            "id": _FABRIC,
            "name": _TEXT,
            "colour": st.integers(0, 0xFFFFFF).map(lambda colour: f"#{colour:06x}"),
            "print": st.sampled_from(["plain", "dots", "lines", "checks", "sprigs"]),
            "used": st.booleans(),
            "one_way": st.booleans(),
            "price": _TEXT,
        }
    ).map(lambda own: {**quilt["fabrics"][0], **own, "photo": None})
    cloth = st.fixed_dictionaries(
        {
            "kind": st.sampled_from(["fat_quarter", "yardage", "full_width_strip", "scrap"]),
            "count": st.integers(0, 9999).map(str),
            "length": _LENGTH,
            "width": _LENGTH,
            "fabric": _FABRIC,
            "one_way": st.booleans(),
        }
    )
    tapped = st.lists(st.tuples(st.integers(0, 5000), _FABRIC).map(list), max_size=20)
    changed = st.fixed_dictionaries(
        {
            "by": st.sampled_from(["target", "steps", "have"]),
            "target": st.fixed_dictionaries({"size": _TEXT, "width": _LENGTH, "height": _LENGTH, "drop": _LENGTH}),
            "setting": st.sampled_from(["grid", "zigzag", "hexagons", "stars", "eight_pointed"]),
            "fabrics": st.lists(fabric, min_size=1, max_size=8),
            "borders": st.lists(
                st.fixed_dictionaries({"width": _LENGTH, "corners": _TEXT, "extra": _LENGTH, "fabric": _FABRIC}),
                max_size=4,
            ),
            "class": st.fixed_dictionaries({"names": _TEXT, "weeks": _TEXT}).map(lambda own: {**quilt["class"], **own}),
            "colouring": st.dictionaries(_TEXT, tapped, max_size=2).map(
                lambda own: {**quilt["colouring"], "changes": own}
            ),
        }
    ).map(lambda own: {**quilt, **own})
    numbers = st.integers(0, 4000).map(lambda sixteenths: sixteenths / 16)
    strip = st.tuples(st.integers(0, 1), st.integers(0, 49), st.integers(1, 99), st.integers(0, 1)).map(list)
    division = st.just(0) | st.tuples(st.integers(0, 1), numbers).map(list)
    layout = st.tuples(st.integers(0, 99), st.integers(1, 20), division, st.lists(strip, max_size=6)).map(
        lambda told: [*told[:3], *told[3]]
    )
    layouts = st.fixed_dictionaries({"kinds": st.lists(_TEXT, max_size=5), "cut": st.lists(layout, max_size=6)})
    return st.fixed_dictionaries(
        {
            "id": st.from_regex(r"\A[\w-]{1,12}\Z", alphabet=st.characters(codec="ascii")),
            "units": st.sampled_from(["in", "cm"]),
            "title": _TEXT,
            "date": _TEXT,
            "count": st.just(base["count"]),
            "quilt": changed,
            "basket": st.lists(cloth, max_size=12).map(lambda cloths: {**basket, "cloths": cloths}),
        },
        optional={"by": _TEXT, "layouts": layouts},
    )
