"""What is kept and what a system calls its language, of whatever kind: what is usable is
taken, the rest is as at first.
"""

import copy
import json
import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import examples
from steps.places import WEB, tool

FRESH = {
    "units": "in",
    "hand": "right",
    "layers": 1,
    "ticks": True,
    "rulers": None,
    "keys": {"cut": ["Enter"], "undo": ["Left"]},
    "cloths": [],
    "changes": {},
    "anything": None,
}
RULER = {"name": "6 × 24", "width": 6}


class Restoring:
    """The page's own modules in Node, asked line by line."""

    def __init__(self) -> None:
        script = Path(__file__).with_name("restoring.mjs")
        self._node = subprocess.Popen(
            [tool("node"), script, WEB.as_posix()],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )

    def ask(self, call: str, *values):
        """What a call gives."""
        self._node.stdin.write(json.dumps({"call": call, "values": values}) + "\n")
        self._node.stdin.flush()
        return json.loads(self._node.stdout.readline())

    def stop(self) -> None:
        """Is gone."""
        self._node.communicate()


@pytest.fixture(scope="module")
def restoring():
    """Node, for the whole module."""
    node = Restoring()
    yield node
    node.stop()


def test_nothing_kept_is_as_at_first(restoring):
    assert restoring.ask("fitted", None) == {"value": FRESH, "whole": True}


def test_what_was_kept_by_an_older_version_is_kept_and_filled(restoring):
    found = restoring.ask("fitted", {"hand": "left", "keys": {"cut": ["F1"]}})
    assert found == {"value": {**FRESH, "hand": "left", "keys": {"cut": ["F1"], "undo": ["Left"]}}, "whole": True}


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("units", "furlong"),
        ("units", 7),
        ("hand", None),
        ("hand", 3),
        ("layers", "1"),
        ("layers", None),
        ("ticks", 1),
        ("rulers", 7),
        ("rulers", "many"),
        ("rulers", {"name": "x"}),
        ("keys", []),
        ("keys", "Enter"),
        ("cloths", {}),
        ("cloths", None),
        ("changes", []),
        ("changes", "x"),
    ],
)
def test_a_part_of_the_wrong_kind_is_as_at_first_and_the_rest_is_kept(restoring, name, wrong):
    kept = {**copy.deepcopy(FRESH), "hand": "left", "layers": 3, "more": [1]}
    expected = {**kept, name: FRESH[name]}
    assert restoring.ask("fitted", {**kept, name: wrong}) == {"value": expected, "whole": False}


def test_things_in_a_list_that_are_none_are_left_out_of_it(restoring):
    found = restoring.ask(
        "fitted", {"cloths": [{"kind": "yardage", "count": "2"}, 5, None, {"kind": 9}], "keys": {"cut": ["F1", 2]}}
    )
    assert found["value"]["cloths"] == [{"kind": "yardage", "count": "2"}, {"kind": "scrap", "count": "1"}]
    assert found["value"]["keys"] == {"cut": ["F1"], "undo": ["Left"]}
    assert found["whole"] is False


def test_what_may_be_anything_or_is_not_named_stays(restoring):
    kept = {"anything": [1, {"a": None}], "rulers": [RULER], "placing": "1/32 in", "more": {"b": 2}}
    assert restoring.ask("fitted", kept) == {"value": {**FRESH, **kept}, "whole": True}


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 9) | st.text("ab", max_size=2),
    lambda inner: (
        st.lists(inner, max_size=2)
        | st.dictionaries(st.sampled_from([*FRESH, "cut", "name", "kind"]), inner, max_size=3)
    ),
    max_leaves=6,
)


def alike(value, kind) -> bool:
    """A second reading of the kinds: every part has the type of the one that stands there at first."""
    if kind is None:
        return True
    if isinstance(kind, dict):
        return isinstance(value, dict) and all(
            name in value and alike(value[name], part) for name, part in kind.items()
        )
    return type(value) is type(kind) or (
        isinstance(kind, int) and not isinstance(kind, bool) and isinstance(value, float)
    )


@settings(derandomize=True, deadline=None, database=None, max_examples=examples(80, 4))
@given(kept=st.dictionaries(st.sampled_from(list(FRESH)), ANYTHING, max_size=5))
def test_whatever_is_kept_all_parts_are_of_their_kind(restoring, kept):
    found = restoring.ask("fitted", kept)
    assert alike(found["value"], {name: part for name, part in FRESH.items() if name not in ("rulers", "anything")})
    assert found["value"]["units"] in ("in", "cm")
    rulers = found["value"]["rulers"]
    assert rulers is None or all(isinstance(ruler["name"], str) for ruler in rulers)
    if found["whole"]:
        assert {name: found["value"][name] for name in kept if name != "keys"} == {
            name: part for name, part in kept.items() if name != "keys"
        }


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        ([""], "en"),
        (["C"], "en"),
        (["POSIX"], "en"),
        (["en-US@posix"], "en-US"),
        ([None], "en"),
        (["xx-invalid"], "en"),
        (["de-DE"], "de-DE"),
        (["de_DE.UTF-8"], "de-DE"),
        ([["C", "de-DE"]], "de-DE"),
        (["", ["fr"]], "fr"),
        (["en-US"], "en-US"),
        ([7], "en"),
        ([[]], "en"),
        (["a" * 300], "en"),
        (["-"], "en"),
    ],
)
def test_whatever_a_system_calls_its_language_there_is_a_locale(restoring, names, expected):
    """Names of locales as POSIX writes them (The Open Group Base Specifications, 8.2) and as BCP 47 does."""
    assert restoring.ask("locale", *names) == expected


@pytest.mark.parametrize(
    ("name", "expected"),
    [("ar", "1234.5"), ("ar-EG", "1234.5"), ("fa", "1234.5"), ("de-DE", "1234,5"), ("C", "1234.5")],
)
def test_digits_are_those_that_fields_are_typed_in(restoring, name, expected):
    assert restoring.ask("written", name).replace("٫", ".") == expected
