"""The stable door: the answers that are promised, and refusals for everything else, in Python and from the shell."""

import copy
import json
import math
import os
import re
import string
import subprocess
import sys
from collections import UserDict
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import matside
from amounts import examples
from matside import answer, start_search
from matside.asks import ASKS
from matside.units import parse_signed_length
from matside.words import refusals
from matside.words.catalogue import languages

CORE = Path(matside.__file__).parents[1]
FIXED = settings(
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
    max_examples=examples(50),
)

DIAMOND = {"shape": "diamond", "size": "4 1/2 in", "angle": 60}
STRIP = {"ask": "strip", "piece": DIAMOND, "length": "42 in", "layers": 2}
CLOTH = {"ask": "cloth", "piece": DIAMOND, "cloth": {"length": "18 in", "width": "20 in", "selvage": "length"}}
PIECE = {"ask": "piece", "piece": {**DIAMOND, "seam": "1/4 in"}}
KINDS = {"ask": "kinds"}
VALID = [
    STRIP,
    CLOTH,
    PIECE,
    KINDS,
    {
        "ask": "cloth",
        "piece": {"shape": "half-diamond", "size": 3, "angle": 60, "cut": "long"},
        "cloth": {"kind": "fat_quarter"},
    },
    {
        "ask": "cloth",
        "piece": {"shape": "rectangle", "size": "2 1/2", "length": 5},
        "cloth": {"kind": "yardage", "length": "1/2 yd"},
    },
    {
        "ask": "strip",
        "piece": {"shape": "parallelogram", "size": 2, "across": "75 mm", "angle": "45°"},
        "length": "1.1 m",
    },
    {"ask": "strip", "piece": {"finished_size": 4, "seam": "1/4", "angle": 30}, "length": 42.5, "layers": "3"},
]


def put(request: dict, path: str, value) -> dict:
    """The request with another value at a place such as "piece.size"."""
    changed = copy.deepcopy(request)
    *parents, last = path.split(".")
    place = changed
    for name in parents:
        place = place[name]
    place[last] = value
    return changed


def without(request: dict, path: str) -> dict:
    """The request without a field."""
    changed = put(request, path, None)
    *parents, last = path.split(".")
    place = changed
    for name in parents:
        place = place[name]
    del place[last]
    return changed


def check_plain(value) -> None:
    """Nothing but what JSON has, and no NaN or infinity."""
    json.dumps(value, allow_nan=False)
    if isinstance(value, dict):
        assert all(type(key) is str for key in value)
        for item in value.values():
            check_plain(item)
    elif isinstance(value, list):
        for item in value:
            check_plain(item)
    else:
        assert value is None or type(value) in (str, int, float, bool)


def is_filled(sentence: str, values: dict, message: str) -> bool:
    """Whether a message is the sentence with its values, lengths to the nearest sixteenth of an inch."""
    parts = [(text, name, spec) for text, name, spec, _ in string.Formatter().parse(sentence)]
    for text, name, spec in parts:
        if not message.startswith(text):
            return False
        message = message[len(text) :]
        if name is None:
            continue
        if spec == "length" and not isinstance(values[name], str):
            said = re.match(r"\S+ in", message)[0]
            assert abs(parse_signed_length(said, "said") - Fraction(values[name])) <= Fraction(1, 32)
        else:
            said = str(values[name])
        if not message.startswith(said):
            return False
        message = message[len(said) :]
    return not message


def check_refusal(found: dict) -> tuple[str, str]:
    """A well-formed refusal; its field and code."""
    check_plain(found)
    assert set(found) == {"ok", "error"} and found["ok"] is False
    error = found["error"]
    assert set(error) == {"field", "code", "values", "message"}
    assert type(error["field"]) is str and type(error["values"]) is dict
    assert error["code"] in refusals("en")
    assert is_filled(refusals("en")[error["code"]], error["values"], error["message"])
    assert 10 < len(error["message"]) < 300
    return error["field"], error["code"]


def check_answer(found: dict, request: dict) -> None:
    """A well-formed answer to a request, with everything DESIGN's table promises."""
    check_plain(found)
    assert found["ok"] is True and "error" not in found
    if request["ask"] == "strip":
        assert {"pieces", "advance", "starter_waste", "left_over", "short_by"} <= set(found)
        assert type(found["pieces"]) is int and found["pieces"] >= 0
        assert (
            found["advance"] > 0 and found["short_by"] > 0 and found["starter_waste"] >= 0 and found["left_over"] >= 0
        )
    elif request["ask"] == "cloth":
        for way in ("along_length", "along_width"):
            assert {"strips", "per_strip", "pieces"} <= set(found[way])
            assert found[way]["pieces"] == found[way]["strips"] * found[way]["per_strip"]
        assert {"pieces", "layout", "grain_mixed"} <= set(found["best"])
        assert found["best"]["pieces"] >= max(found["along_length"]["pieces"], found["along_width"]["pieces"])
        assert 0 <= found["used_share"] <= 1 + 1e-9
        for strip in found["best"]["layout"]["strips"]:
            assert {"x", "y", "along", "run", "size", "piece", "count", "outlines"} <= set(strip)


def check_outcome(found, request) -> None:
    """Either a well-formed answer or a well-formed refusal."""
    if found["ok"] is True:
        check_answer(found, request)
    else:
        check_refusal(found)


# --- The answers that are promised --------------------------------------------------------------------------------


@pytest.mark.parametrize("request_made", VALID)
def test_a_valid_request_is_answered(request_made):
    check_answer(answer(request_made), request_made)


def test_a_request_is_not_changed_by_its_answer():
    before = copy.deepcopy(CLOTH)
    answer(CLOTH)
    assert before == CLOTH


def test_the_same_request_has_the_same_answer():
    assert json.dumps(answer(CLOTH)) == json.dumps(answer(copy.deepcopy(CLOTH)))


def test_all_layers_are_counted_together():
    # A strip of 42 in gives eight 4 in diamonds of 60°: common practice, no published source.
    one = answer({"ask": "strip", "piece": {"shape": "diamond", "size": 4, "angle": 60}, "length": 42})
    three = answer({"ask": "strip", "piece": {"shape": "diamond", "size": 4, "angle": 60}, "length": 42, "layers": 3})
    assert (one["pieces"], three["pieces"]) == (8, 24)
    assert one["short_by"] == three["short_by"]


def test_many_layers_bring_a_caution():
    assert [bool(answer({**STRIP, "layers": layers})["cautions"]) for layers in (1, 4, 5, 12)] == [
        False,
        False,
        True,
        True,
    ]


def test_lengths_of_every_written_form_are_taken_and_answers_are_inches():
    for length in (45, 45.0, "45", "45 in", '45"', "1 1/4 yd", "1¼ yd", "114.3 cm", "1143 mm", "1.143 m", "3 3/4 ft"):
        assert answer(put(STRIP, "length", length)) == answer(put(STRIP, "length", 45))
    assert answer(put(PIECE, "piece.size", "2.54 cm"))["size"] == 1.0


def test_strips_name_their_piece():
    named = answer(put(CLOTH, "piece.id", "star point"))
    assert {strip["piece"] for strip in named["best"]["layout"]["strips"]} == {"star point"}
    assert check_refusal(answer(put(CLOTH, "piece.id", 5))) == ("piece.id", "text")


def test_unknown_fields_are_left_alone():
    assert answer({**STRIP, "note": {"for": ["later"]}}) == answer(STRIP)


@pytest.mark.parametrize("request_made", [STRIP, put(STRIP, "length", "words"), {"ask": "none"}, {}, []])
def test_a_search_ends_in_the_same_answer(request_made):
    assert list(start_search(request_made))[-1] == answer(request_made)


# --- Refusals at the right field ----------------------------------------------------------------------------------

LENGTH_FIELDS = [
    (STRIP, "length"),
    (STRIP, "piece.size"),
    (CLOTH, "cloth.length"),
    (CLOTH, "cloth.width"),
    (CLOTH, "piece.size"),
    (PIECE, "piece.size"),
    (put(without(PIECE, "piece.size"), "piece.edge", 4), "piece.edge"),
    (put(without(STRIP, "piece.size"), "piece.finished_size", 4), "piece.finished_size"),
    (put(without(STRIP, "piece.size"), "piece.short_diagonal", 4), "piece.short_diagonal"),
    (put(without(CLOTH, "piece.size"), "piece.long_diagonal", 4), "piece.long_diagonal"),
    (VALID[5], "piece.length"),
    (VALID[6], "piece.across"),
]
BAD_LENGTHS = [
    (None, "length_missing"),
    ("", "length_missing"),
    ("words", "length_words"),
    (-4, "length_not_positive"),
    ("-4 in", "length_not_positive"),
    (0, "length_not_positive"),
    (5e-324, "length_too_small"),
    ("0.0009 in", "length_too_small"),
    ("40001 in", "length_too_large"),
    (1e300, "length_too_large"),
    (10**5000, "length_too_large"),
    ("4 1/0", "length_over_zero"),
    ("4,5", "length_decimal_comma"),
    ("4 ells", "length_unit"),
    ("7" * 5000, "length_text_too_long"),
    (True, "length_words"),
    ([4], "length_words"),
    ({"in": 4}, "length_words"),
    (math.nan, "request_value"),
    (math.inf, "request_value"),
    (-math.inf, "request_value"),
    (Decimal(4), "request_value"),
    (b"4", "request_value"),
    ({4}, "request_value"),
    (object(), "request_value"),
    (4j, "request_value"),
]


@pytest.mark.parametrize(
    "valid, field", LENGTH_FIELDS, ids=[f"{request['ask']}:{field}" for request, field in LENGTH_FIELDS]
)
def test_a_bad_length_is_refused_at_its_field(valid, field):
    assert answer(valid)["ok"]
    for bad, code in BAD_LENGTHS:
        # One of a diamond's measures being absent, the size is what is missing.
        missing = (
            "piece.size"
            if bad is None and field.startswith("piece.") and valid["piece"].get("shape", "diamond") == "diamond"
            else field
        )
        assert check_refusal(answer(put(valid, field, bad))) == (missing, code)


@pytest.mark.parametrize(
    "valid, field, bad, code",
    [
        ({}, "ask", None, "ask_unknown"),
        (STRIP, "ask", "", "ask_unknown"),
        (STRIP, "ask", "Strip", "ask_unknown"),
        (STRIP, "ask", ["strip"], "ask_unknown"),
        (STRIP, "ask", 5, "ask_unknown"),
        (STRIP, "piece", None, "object_missing"),
        (STRIP, "piece", "diamond", "object_wanted"),
        (STRIP, "piece", [DIAMOND], "object_wanted"),
        (CLOTH, "cloth", None, "object_missing"),
        (CLOTH, "cloth", 42, "object_wanted"),
        (STRIP, "piece.angle", None, "angle_missing"),
        (STRIP, "piece.angle", "steep", "angle_words"),
        (STRIP, "piece.angle", "22,5", "angle_decimal_comma"),
        (STRIP, "piece.angle", 14, "angle_outside"),
        (STRIP, "piece.angle", 90.5, "angle_outside"),
        (STRIP, "piece.angle", -60, "angle_outside"),
        (STRIP, "piece.angle", 10**4200, "angle_outside"),
        (STRIP, "piece.angle", math.nan, "request_value"),
        (STRIP, "piece.angle", {}, "angle_words"),
        (STRIP, "piece.size", 0.2, "piece_too_small"),
        (STRIP, "piece.shape", "kite", "choice"),
        (STRIP, "piece.shape", 7, "choice"),
        (STRIP, "layers", 0, "count_outside"),
        (STRIP, "layers", 13, "count_outside"),
        (STRIP, "layers", -1, "count_outside"),
        (STRIP, "layers", 1.5, "count_outside"),
        (STRIP, "layers", "two", "count_outside"),
        (STRIP, "layers", "", "count_missing"),
        (STRIP, "layers", 10**4200, "count_outside"),
        (STRIP, "layers", [2], "count_words"),
        (STRIP, "layers", False, "count_words"),
        (CLOTH, "cloth.selvage", "top", "choice"),
        (CLOTH, "cloth.selvage", ["length"], "choice"),
        (CLOTH, "cloth.kind", "bolt", "choice"),
        (CLOTH, "cloth.kind", {}, "choice"),
        (PIECE, "piece.shape", "rectangle", "choice"),
        (PIECE, "piece.seam", "-1/4", "length_negative"),
        (PIECE, "piece.seam", "wide", "length_words"),
        (VALID[4], "piece.cut", "askew", "choice"),
    ],
)
def test_a_bad_value_is_refused_at_its_field(valid, field, bad, code):
    assert check_refusal(answer(put(valid, field, bad))) == (field, code)


def test_a_refusal_says_what_was_written_and_what_to_do():
    message = answer(put(STRIP, "length", "4,5"))["error"]["message"]
    assert "4,5" in message and "4.5" in message
    assert "1/2" in answer(put(STRIP, "length", "4 1/0"))["error"]["message"]
    assert "15" in answer(put(STRIP, "piece.angle", 10))["error"]["message"]


def test_every_ask_is_named_to_who_asks_for_another():
    message = answer({"ask": "everything"})["error"]["message"]
    assert all(ask in message for ask in ASKS)


# --- What is no request at all ------------------------------------------------------------------------------------


def nested(depth: int, kind: type):
    """Lists or objects so many deep, the outermost and the innermost counted."""
    value = kind()
    for _ in range(depth - 1):
        value = [value] if kind is list else {"a": value}
    return value


def circular() -> list:
    """Requests that hold themselves."""
    mapping: dict = {**STRIP}
    mapping["piece"] = mapping
    items: list = []
    items.extend([items] * 50)
    return [mapping, {**STRIP, "piece": items}, {**STRIP, "length": {"a": [items]}}]


@pytest.mark.parametrize("bad", [None, True, 5, 4.5, math.nan, "strip", [], [STRIP], b"{}", object(), UserDict(STRIP)])
def test_what_is_no_object_is_refused(bad):
    assert check_refusal(answer(bad)) == ("", "request_object")


@pytest.mark.parametrize("bad", [{5: 1}, {**STRIP, None: 1}, {**STRIP, ("a",): 1}])
def test_names_that_are_no_texts_are_refused(bad):
    assert check_refusal(answer(bad)) == ("", "request_value")


@pytest.mark.parametrize("kind", [list, dict])
def test_20_deep_is_taken_and_21_is_not(kind):
    # The request itself is the first level.
    assert answer({**STRIP, "note": nested(19, kind)})["ok"]
    for depth in (20, 100, 100_000):
        assert check_refusal(answer({**STRIP, "note": nested(depth, kind)})) == ("", "request_too_deep")


@pytest.mark.parametrize("which", range(3))
def test_a_request_that_holds_itself_is_refused(which):
    assert check_refusal(answer(circular()[which])) == ("", "request_too_deep")


TOO_LARGE = {
    "text": "x" * 1_000_001,
    "two-byte text": "½" * 500_001,
    "name": {"x" * 1_000_001: 0},
    "list of texts": ["x"] * 250_001,
    "list of numbers": [1] * 500_001,
    "object": {f"{i:06}": 0 for i in range(100_000)},
    "shared": [["x" * 1000] * 10] * 100,
    "long number": 1 << 4_000_000,
}


@pytest.mark.long
@pytest.mark.parametrize("kind", sorted(TOO_LARGE))
def test_more_than_a_megabyte_of_json_is_refused(kind):
    assert check_refusal(answer({**STRIP, "note": TOO_LARGE[kind]})) == ("", "request_too_large")


@pytest.mark.parametrize(
    "note", ["x" * 999_000, "½" * 499_000, [None] * 199_000], ids=("text", "two-byte text", "nulls")
)
def test_just_under_a_megabyte_of_json_is_taken(note):
    request = {**STRIP, "note": note}
    assert len(json.dumps(request, ensure_ascii=False, separators=(",", ":")).encode()) < 1_000_000
    assert answer(request)["ok"]


# --- Anything around a valid request ------------------------------------------------------------------------------

TEXTS = st.text(max_size=12) | st.text('0123456789 /.,-½"incmyd°', max_size=10)
SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-10, 100),
    st.integers(),
    st.floats(),
    st.floats(0, 100),
    TEXTS,
    st.sampled_from(
        (
            "4 1/2 in",
            "11.5 cm",
            "diamond",
            "half-diamond",
            "rectangle",
            "parallelogram",
            "short",
            "length",
            "none",
            "fat_quarter",
            "scrap",
            "9" * 70,
        )
    ),
    st.sampled_from((10**400, -(10**4200), 5e-324, 1e308, -0.0, "\ud800", "\x00", "{given}", "{0}", "%s")),
)
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3), max_leaves=6
)
PATHS = (
    ["ask", "piece", "cloth", "length", "layers", "note"]
    + [
        f"piece.{name}"
        for name in (
            "shape",
            "size",
            "angle",
            "edge",
            "finished_size",
            "seam",
            "short_diagonal",
            "long_diagonal",
            "across",
            "length",
            "cut",
            "id",
        )
    ]
    + [f"cloth.{name}" for name in ("kind", "length", "width", "selvage")]
)


@st.composite
def requests_around_valid_ones(draw):
    """A valid request with a few of its fields changed, dropped or added."""
    request = copy.deepcopy(draw(st.sampled_from(VALID)))
    for _ in range(draw(st.integers(1, 3))):
        parent, _, name = draw(st.sampled_from(PATHS)).rpartition(".")
        place = request.get(parent) if parent else request
        if isinstance(place, dict):
            if draw(st.integers(0, 9)) == 0:
                place.pop(name, None)
            else:
                place[name] = draw(VALUES)
    return request


@settings(FIXED, max_examples=examples(100))
@given(requests_around_valid_ones())
def test_every_request_around_a_valid_one_is_answered_or_refused(request_made):
    check_outcome(answer(request_made), request_made)


@FIXED
@given(VALUES)
def test_anything_at_all_is_answered_or_refused(anything):
    check_outcome(answer(anything), anything)


ONE_FIELD = [
    (request, f"{parent}.{name}" if parent else name)
    for request in VALID[:3]
    for parent in ("", "piece", "cloth")
    for name in sorted(request.get(parent, {}) if parent else request)
]


@FIXED
@given(st.sampled_from(ONE_FIELD), VALUES)
def test_one_bad_field_is_the_one_named(place, value):
    # Only this field was touched, so a refusal can be about nothing else: the field, something inside it, or, where the
    # shape was changed, a measure that the other shape needs.
    request, path = place
    found = answer(put(request, path, value))
    if not found["ok"]:
        field, _ = check_refusal(found)
        allowed = {"piece.shape": "piece.", "piece.size": "piece.size"}.get(path, path)
        assert field.startswith(allowed), (path, value, field)


# --- From the shell -----------------------------------------------------------------------------------------------


def shell(text: bytes | None, *options: str, **environment) -> tuple[int, dict]:
    """Exit status and answer of `python -m matside`; nothing may be written beside the one line of the answer."""
    settings_of_python = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run(
        [sys.executable, "-m", "matside", *options],
        input=text,
        stdin=subprocess.DEVNULL if text is None else None,
        capture_output=True,
        env={**settings_of_python, "PYTHONPATH": str(CORE), "PYTHONDONTWRITEBYTECODE": "1", **environment},
        timeout=60,
    )
    assert done.stderr == b""
    assert done.stdout.count(b"\n") == 1 and done.stdout.endswith(b"\n")
    return done.returncode, json.loads(done.stdout.decode("utf-8"), parse_constant=pytest.fail)


@pytest.mark.parametrize("request_made", [CLOTH, KINDS])
def test_the_shell_gives_the_same_answer(request_made):
    assert shell(json.dumps(request_made).encode()) == (0, answer(request_made))


@pytest.mark.every(3)
@pytest.mark.parametrize(
    "text, field, code",
    [
        (b"", "", "request_not_json"),
        (None, "", "request_not_json"),
        (b"how many diamonds?", "", "request_not_json"),
        (b'{"ask": "strip"', "", "request_not_json"),
        (b"\xff\xfe{}", "", "request_not_json"),
        (b"[]", "", "request_object"),
        (b"NaN", "", "request_object"),
        (b"[" * 200_000, "", "request_too_deep"),
        (b'{"a":' * 5000 + b"1" + b"}" * 5000, "", "request_too_deep"),
        (b'{"ask": "strip", "note": "' + b"x" * 1_100_000 + b'"}', "", "request_too_large"),
        (b"{}", "ask", "ask_unknown"),
        (b'{"ask": "\\ud800"}', "ask", "ask_unknown"),
        (b'{"ask": "strip", "piece": {"size": NaN, "angle": 60}, "length": 42}', "piece.size", "request_value"),
        (b'{"ask": "strip", "piece": {"size": 4, "angle": 60}, "length": -Infinity}', "length", "request_value"),
        (b'{"ask": "strip", "piece": {"size": 4, "angle": 60}, "length": 1e999}', "length", "request_value"),
        (
            b'{"ask": "strip", "piece": {"size": 4, "angle": 60}, "length": ' + b"9" * 9000 + b"}",
            "length",
            "length_too_large",
        ),
        (
            b'{"ask": "strip", "piece": {"size": -' + b"9" * 9000 + b', "angle": 60}, "length": 42}',
            "piece.size",
            "length_too_large",
        ),
        (
            b'{"ask": "strip", "piece": {"size": "' + b"9" * 9000 + b'", "angle": 60}, "length": 42}',
            "piece.size",
            "length_text_too_long",
        ),
        (b'{"ask": "strip", "piece": {"size": "4 1/0", "angle": 60}, "length": 42}', "piece.size", "length_over_zero"),
        (
            b'{"ask": "strip", "piece": {"size": "4,5", "angle": 60}, "length": 42}',
            "piece.size",
            "length_decimal_comma",
        ),
        (b'{"ask": "strip", "piece": {"size": 0, "angle": 60}, "length": 42}', "piece.size", "length_not_positive"),
        (b'{"ask": "strip", "piece": {"size": 4, "angle": 60}, "length": -42}', "length", "length_not_positive"),
    ],
    ids=lambda value: value[:40].decode("ascii", "replace") if isinstance(value, bytes) else str(value),
)
def test_the_shell_refuses_with_status_2(text, field, code):
    status, found = shell(text)
    assert status == 2
    assert check_refusal(found) == (field, code)


@pytest.mark.every(2)
@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize(
    "text", [b"how many?", b'{"ask": "strip", "piece": {"size": "4,5", "angle": 60}, "length": 42}']
)
def test_the_shell_refuses_in_the_language_that_is_asked_for(text, language):
    status, found = shell(text, "--language", language)
    error = found["error"]
    assert status == 2
    assert error["message"] == refusals(language)[error["code"]].format(**error["values"])
    assert shell(text)[1]["error"] == {**error, "message": refusals("en")[error["code"]].format(**error["values"])}


def test_a_language_that_there_is_not_is_refused_before_anything_is_read():
    command = [sys.executable, "-m", "matside", "--language", "tlh"]
    done = subprocess.run(command, capture_output=True, env={**os.environ, "PYTHONPATH": str(CORE)}, timeout=60)
    assert (done.returncode, done.stdout) == (1, b"")
    assert b"--language" in done.stderr


def test_a_deep_request_may_end_either_way_but_never_in_a_traceback():
    # Python reads JSON to about its recursion limit: under it the door refuses, over it the reader does.
    for depth in (21, 990, 1010):
        text = b'{"ask": "strip", "note": ' + b"[" * depth + b"]" * depth + b"}"
        status, found = shell(text)
        assert (status, check_refusal(found)[1]) == (2, "request_too_deep")


@pytest.mark.parametrize("encoding", ["latin-1", "ascii", "cp1252"])
def test_the_answer_is_utf_8_whatever_the_terminals_encoding(encoding):
    status, found = shell(b'{"ask": "4\xc2\xbd"}', PYTHONIOENCODING=encoding)
    assert (status, found["error"]["values"]["given"]) == (2, "4½")
    assert found["error"]["message"].startswith("“4½”")


def test_without_any_standard_input_nothing_is_asked():
    # Where a shell has closed standard input (`<&-`), Python has none at all.
    start = "import runpy, sys; sys.stdin = None; runpy.run_module('matside', run_name='__main__')"
    done = subprocess.run(
        [sys.executable, "-c", start],
        capture_output=True,
        env={**os.environ, "PYTHONPATH": str(CORE), "PYTHONDONTWRITEBYTECODE": "1"},
        timeout=60,
    )
    assert (done.returncode, done.stderr) == (2, b"")
    assert check_refusal(json.loads(done.stdout)) == ("", "request_not_json")
