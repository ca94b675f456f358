"""Copies of everything counted: what is taken back is whole, nothing that is here is lost, and
what is said is what happened.

The shape is judged twice: by the page's library and by PyPI's `jsonschema`, both by the schema that ships (JSON Schema,
draft 2020-12). What must hold for any copy whatever, changed at random, is in copying.mjs."""

import json
import subprocess
from functools import cache
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from amounts import examples
from matside.guide.table import TABLE
from steps.places import tool
from test_fold import halved_and_joined, scripts

HERE = Path(__file__).parent
SCHEMA = json.loads((HERE.parents[1] / "web" / "copies" / "schema.json").read_text("utf-8"))
RULER = {
    "name": "6 × 24",
    "width": 6,
    "length": "24 in",
    "tick": 0.125,
    "reads_through": True,
    "angles": [{"degrees": 60, "from": "long"}],
}


def told(script: dict) -> dict:
    """A script as the page has it: one made by hand gets what is only drawn or said."""
    steps = [{"say": step["do"], "scene": None, "cut": 0, **step} for step in script["steps"]]
    return {"version": 1, "scenes": [], **script, "steps": steps}


def sitting(name: str, script: dict, events: list[dict], started: int = 1_700_000_000_000) -> dict:
    """A sitting as the store gives it."""
    log = [
        {"at": started + i, "mark": f"{name}-{i}", "sitting": name, "sequence": i, **event}
        for i, event in enumerate(events)
    ]
    return {"id": name, "title": {"ask": "guide"}, "started": started, "scripts": [script], "events": log}


def copied(*sittings: dict, **more) -> dict:
    """A copy of today."""
    return {"matside": 2, "version": "0123456789abcdef", "made": 1_700_000_000_000, "sittings": list(sittings), **more}


@cache
def example() -> dict:
    """A copy of three sittings: one hardly begun, one in its strips with a cut undone, and one of
    other steps; and what is kept.
    """
    whole = scripts()[0]
    some = [
        *whole["steps"][:26],
        whole["steps"][-1],
    ]  # as many as the logs need: a smaller copy is changed more, and sooner
    kept = [
        {key: step[key] for key in ("do", "say", "gives", "strip", "cloth")}
        | {"values": step["values"] if step["do"] == "press" else {}}
        for step in some
    ]
    small = {**whole, "scenes": whole["scenes"][:1], "steps": kept}
    cut = {"event": "cut"}
    return copied(
        sitting("first", small, [cut, cut]),
        sitting(
            "second",
            small,
            [
                *[cut] * 14,
                {"event": "undo", "undoes": ["second-13"]},
                {"event": "recount", "n": 2},
                {"event": "undo", "n": 2, "undoes": ["second-12", "second-15"]},
                {"event": "stop"},
            ],
        ),
        sitting("third", told(halved_and_joined()), [cut] * 9),
        kept={
            "settings": {"units": "cm", "layers": 2, "rulers": [RULER], "keys": {"cut": ["Enter"]}},
            "shelf": [RULER],
        },
    )


def ran(dist: Path, seed: int, first: int, count: int, *what: str):
    """What the page's own modules make of so many changed copies, from one on."""
    (app,) = dist.glob("app-*")
    asked = json.dumps({"app": app.as_uri(), "table": TABLE, "copy": example()})
    command = [tool("node"), "--no-warnings", HERE / "copying.mjs", str(seed), str(first), str(count), *what]
    done = subprocess.run(command, input=asked, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_the_scripts_that_the_core_writes_have_the_shape():
    judge = Draft202012Validator(SCHEMA)
    Draft202012Validator.check_schema(SCHEMA)
    for script in scripts()[:-1]:
        assert [error.message for error in judge.iter_errors(copied(sitting("one", script, [])))] == []
    assert judge.is_valid(example())


@pytest.mark.long
def test_both_judges_say_the_same_of_changed_copies(dist: Path):
    judge = Draft202012Validator(SCHEMA)
    found = ran(dist, 11, 0, examples(40, 6), "shapes")
    verdicts = [each["valid"] for each in found]
    assert len(verdicts) / 5 < sum(verdicts) < len(verdicts) * 4 / 5
    for each in found:
        assert judge.is_valid(each["value"]) == each["valid"], [
            error.message for error in judge.iter_errors(each["value"])
        ]


def test_no_changed_copy_breaks_anything(dist: Path):
    found = ran(dist, 1, 0, examples(400, 3))
    assert found["failures"] == []
    came = {part for each in found["seen"] for part in each.split("+")}
    assert came >= {"damaged", "count", "foreign", "newer", "new", "longer", "beside", "same"}


def test_an_empty_log_that_differs_is_not_kept_beside_again_and_again(dist: Path):
    """The first such copy that the long run met."""
    assert ran(dist, 1, 6204, 1)["failures"] == []


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, 1_000_000, 50_000))
def test_no_changed_copy_of_a_million_breaks_anything(dist: Path, first: int):
    assert ran(dist, 2, first, 50_000)["failures"] == []
