"""A plan as a text, as codes, and what becomes of texts that were changed on their way: the page's own modules under Node.

Second ways: Python's zlib, base64 and hashlib for the text, PyPI's zxing-cpp and segno for the codes, PyPI's jsonschema for
the shape."""

import base64
import hashlib
import json
import random
import zlib
from pathlib import Path

import pytest
import zxingcpp
from hypothesis import HealthCheck, given, seed, settings

from amounts import LONG
from code_pictures import picture_of
from passed import example, plans, ran

#: The dictionary of version 1 of the writing: texts that are out there are read by it for ever.
DICTIONARY_1 = "ffa75a2409c15159220bdcdb7f52416c3a57574602ef4a47cb5ff34e0535f273"
MOST_LETTERS = 16 * 1024
ADDRESS = "https://quilts.example/cut-along/"


def read_by_python(text: str, dictionary: str) -> dict:
    """The value of a packed text, by Python's own libraries."""
    assert text[0] == "1"
    raw = base64.urlsafe_b64decode(text[1:] + "=" * (-len(text[1:]) % 4))
    plain = zlib.decompressobj(-zlib.MAX_WBITS, zdict=dictionary.encode()).decompress(raw[4:])
    assert zlib.crc32(plain) == int.from_bytes(raw[:4], "big")
    return json.loads(plain)


def test_the_checksum_is_that_of_the_standard(dist: Path):
    """CRC-32 of "123456789" is CBF43926 (the check value of the Rocksoft model, R. Williams 1993), and as zlib has it."""
    some = [random.Random(n).randbytes(n) for n in (0, 1, 7, 300)]
    found = ran(dist, ("checksum", list(b"123456789")), *[("checksum", list(one)) for one in some])
    assert found == [0xCBF43926, *map(zlib.crc32, some)]


def test_letters_are_those_of_the_standards(dist: Path):
    """Base45 by the examples of RFC 9285, 4.3; base64url as Python has it (RFC 4648, 5)."""
    of_rfc = {"AB": "BB8", "Hello!!": "%69 VD92EX0", "base-45": "UJCLQE7W581", "ietf!": "QED8WEX0"}
    dense = ran(dist, *[("toDense", list(plain.encode())) for plain in of_rfc])
    assert dense == list(of_rfc.values())
    back = ran(dist, *[("fromDense", said) for said in of_rfc.values()])
    assert [bytes(one).decode() for one in back] == list(of_rfc)
    some = [random.Random(n).randbytes(n) for n in range(12)]
    letters = ran(dist, *[("toAddress", list(one)) for one in some])
    assert letters == [base64.urlsafe_b64encode(one).decode().rstrip("=") for one in some]
    assert [bytes(one) for one in ran(dist, *[("fromAddress", one) for one in letters])] == some


def test_letters_that_say_no_bytes_are_none(dist: Path):
    """RFC 9285, 4.2 and 6: three letters above 65535, two above 255, one alone, and letters of no alphabet."""
    wrong = [("fromDense", said) for said in (":::", "::", "A", "ab", "GGW")] + [
        ("fromAddress", said) for said in ("A", "AAAAA", "AA A", "ä")
    ]
    assert ran(dist, *wrong) == [None] * len(wrong)


def test_the_dictionary_never_changes(dist: Path):
    (dictionary,) = ran(dist, ("dictionary", None))
    assert hashlib.sha256(dictionary.encode()).hexdigest() == DICTIONARY_1


@pytest.mark.parametrize("part", [0, *(pytest.param(part, marks=pytest.mark.long) for part in range(1, 10))])
def test_plans_come_as_they_were_sent(dist: Path, part: int):
    """10,000 made-up plans by `--long`, in ten parts; a few of the first in every run."""
    made = []

    @seed(part)
    @settings(max_examples=1000 if LONG else 30, database=None, deadline=None, suppress_health_check=list(HealthCheck))
    @given(plans(example(dist)))
    def collect(plan):
        made.append(plan)

    collect()
    (dictionary,), texts = ran(dist, ("dictionary", None)), ran(dist, *[("packed", {"plan": plan}) for plan in made])
    assert sum(text is not None for text in texts) > len(made) * 0.9
    sent = [(plan, text) for plan, text in zip(made, texts, strict=True) if text]
    assert [read_by_python(text, dictionary)["plan"] for _, text in sent] == [plan for plan, _ in sent]
    assert ran(dist, *[("unpacked", text) for _, text in sent]) == [{"plan": plan} for plan, _ in sent]
    judged = ran(dist, *[("judged", {"plan": plan}) for plan, _ in sent])
    assert [one["plan"] for one in judged] == [plan for plan, _ in sent]


def test_the_example_fits_one_code_of_version_20_at_level_m(dist: Path):
    """With an address before it; read by another library, which also tells version and level."""
    text = ran(dist, ("packed", {"plan": example(dist)}))[0]
    said = ran(dist, ("saidFor", [text, ADDRESS]))[0]
    assert said == f"{ADDRESS}#plan/{text}"
    (code,) = ran(dist, ("codeOf", said))
    assert code["version"] <= 20
    (read,) = zxingcpp.read_barcodes(picture_of(code))
    assert (read.text, read.ec_level) == (said, "M")


def test_codes_of_every_size_are_read_by_another_library(dist: Path):
    said = ["".join(random.Random(size).choices("abcXYZ019-_", k=size)) for size in range(20, 667, 80)]
    codes = ran(dist, *[("codeOf", one) for one in said])
    assert [zxingcpp.read_barcodes(picture_of(code))[0].text for code in codes] == said


def test_what_was_changed_on_its_way_is_refused_with_a_reason(dist: Path):
    """Every letter of a text changed or lost, one at a time: never another plan, never anything but a refusal."""
    text = ran(dist, ("packed", {"plan": example(dist)}))[0]
    places = range(1, len(text), 7)
    changed = [text[:place] + ("A" if text[place] != "A" else "B") + text[place + 1 :] for place in places]
    cut = [text[:place] for place in places] + [text[:place] + text[place + 1 :] for place in places]
    found = ran(dist, *[("unpacked", one) for one in changed + cut])
    # What a text ends in may hold bits that no byte is made of: then it is the very plan.
    others = [one for one in found if one != {"plan": example(dist)}]
    assert len(others) >= len(found) - 2
    assert {one["refused"] for one in others} == {"cut_short"}


def bomb() -> str:
    """A short text that comes to 10 MB."""
    maker = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS)
    packed = maker.compress(b" " * 10_000_000) + maker.flush()
    return base64.urlsafe_b64encode(bytes(4) + packed).decode().rstrip("=")


HOSTILE = {
    "an empty text": ("", "foreign"),
    "another address": ("https://elsewhere.example/#plan", "foreign"),
    "script": ("1<script>alert(1)</script>", "foreign"),
    "a newer writing": ("2AAAAAAAA", "newer"),
    "too long": ("1" + "A" * MOST_LETTERS, "large"),
    "nothing in it": ("1", "cut_short"),
    "no deflate": ("1" + "_" * 40, "cut_short"),
    "a bomb": ("1" + bomb(), "large"),
}


def test_texts_made_to_harm_are_refused(dist: Path):
    found = dict(zip(HOSTILE, ran(dist, *[("unpacked", text) for text, _ in HOSTILE.values()]), strict=True))
    assert found == {case: {"refused": code} for case, (_, code) in HOSTILE.items()}


def nested(levels: int):
    return {"a": nested(levels - 1)} if levels else {}


def harmful(plan: dict) -> dict[str, dict]:
    """Plans of a wrong shape."""
    fabric = plan["quilt"]["fabrics"][0]
    quilt = plan["quilt"]
    return {
        "no plan at all": {"plan": 3},
        "no quilt": {"plan": {**plan, "quilt": None}},
        "no fabric": {"plan": {**plan, "quilt": {**quilt, "fabrics": []}}},
        "a color that is none": {
            "plan": {**plan, "quilt": {**quilt, "fabrics": [{**fabric, "colour": "url(javascript:alert(1))"}]}}
        },
        "a photo": {"plan": {**plan, "quilt": {**quilt, "fabrics": [{**fabric, "photo": {"bytes": "AA"}}]}}},
        "a prototype": {"plan": {**plan, "basket": {**plan["basket"], "more": {"__proto__": {"x": 1}}}}},
        "a text without end": {"plan": {**plan, "title": "a" * 3000}},
        "deeply nested": {"plan": {**plan, "basket": {**plan["basket"], "more": nested(80)}}},
        "a kind that is markup": {
            "plan": {**plan, "basket": {**plan["basket"], "cloths": [{"kind": "<b>", "count": "1"}]}}
        },
        "an id that is markup": {"plan": {**plan, "id": "<img src=x>"}},
    }


def test_plans_of_a_wrong_shape_are_refused(dist: Path):
    plan = example(dist)
    assert ran(dist, ("judged", {"plan": plan}))[0]["plan"] == plan
    cases = harmful(plan)
    found = dict(zip(cases, ran(dist, *[("judged", case) for case in cases.values()]), strict=True))
    assert found == {case: {"refused": "damaged"} for case in cases}


def test_a_stream_is_whole_whatever_is_missed(dist: Path):
    """Frames in any order, some lost, some twice, begun in the middle: in the end the text; never another one."""
    draw = random.Random(5)
    said = "".join(draw.choices("abcdefXYZ0123456789-_", k=9_000))
    (asked,) = ran(dist, ("frames", [said, list(range(120))]))
    blocks, frames = asked["blocks"], asked["frames"]
    assert blocks == 25
    runs = [frames[:blocks], frames[40:90], [*frames[::2], *frames[1::2]], [one for one in frames for _ in (1, 2)]]
    runs.append(draw.sample(frames, 60))
    for found in ran(dist, *[("received", run) for run in runs]):
        whole = [one for one in found["found"] if one]
        assert set(whole) == {said}
        assert found["found"].index(said) <= blocks + 8 or found["progress"] == 1


def test_frames_more_than_blocks_are_few(dist: Path):
    """With e frames more than blocks, at most one try in 2^e is not whole (MacKay 2005): over 300 tries of drawn frames."""
    said = "x" * 360 * 20
    (asked,) = ran(dist, ("frames", [said, list(range(20, 2020))]))
    tries = [random.Random(seed).sample(asked["frames"], 26) for seed in range(300)]
    found = ran(dist, *[("received", one) for one in tries])
    needed = [next((n for n, text in enumerate(one["found"], 1) if text), 99) - 20 for one in found]
    assert sum(more > 3 for more in needed) / 300 < 3 * 2**-3
    assert sum(needed) / 300 < 3


def test_frames_of_two_streams_do_not_mix(dist: Path):
    one, other = "a" * 2000, "b" * 2000
    found = ran(dist, ("frames", [one, [0, 1, 2, 3, 4, 5]]), ("frames", [other, [0, 1, 2, 3, 4, 5]]))
    first, second = (each["frames"] for each in found)
    (mixed,) = ran(dist, ("received", [*first[:4], *second]))
    assert [text for text in mixed["found"] if text] == [other]


def test_what_is_no_frame_is_none(dist: Path):
    (asked,) = ran(dist, ("frames", ["a" * 1000, [0]]))
    broken = ["", "MS1:", "MS1:AB", asked["frames"][0][:-3], "https://quilts.example/#plan/1AAAA"]
    assert ran(dist, ("received", broken)) == [{"found": [None] * 5, "progress": 0}]


def test_a_plan_is_the_same_by_what_is_in_it(dist: Path):
    """Not by who is named, nor by what was tapped to be cut elsewhere."""
    plan = example(dist)
    quilt = {**plan["quilt"], "class": {**plan["quilt"]["class"], "names": "Ada, Bo"}}
    other = {**plan["quilt"], "setting": "stars"}
    like, named, skipped, another = ran(
        dist,
        ("likeness", plan),
        ("likeness", {**plan, "quilt": quilt}),
        ("likeness", {**plan, "basket": {**plan["basket"], "skipped": [1]}}),
        ("likeness", {**plan, "quilt": other}),
    )
    assert like == named == skipped != another


def test_names_of_people_go_along_only_where_they_are_wanted(dist: Path):
    """A link stays in histories: who passes it on, whose kits there are, and who has which share."""
    plan = example(dist)
    quilt = {**plan["quilt"], "class": {**plan["quilt"]["class"], "names": "Ada, Bo"}}
    shares = {"by": "cloth", "people": [{"name": "Cleo", "items": [{"layout": 0, "time": 0}]}]}
    said = {"title": "", "date": "", "by": "Dot"}
    states = {"count": plan["count"], "quilt": quilt, "basket": plan["basket"]}
    asked = [
        {"id": "one", "units": "in", "said": said, "shares": shares, "withNames": wanted} for wanted in (False, True)
    ]
    without, whole = ran(dist, *[("planOf", [states, one]) for one in asked])
    people = ("Ada", "Bo", "Cleo", "Dot")
    assert [name in json.dumps(without) for name in people] == [False] * 4
    assert [name in json.dumps(whole) for name in people] == [True] * 4
    assert without["shares"]["people"][0]["items"] == shares["people"][0]["items"]


def test_decimal_signs_are_points_and_names_stay(dist: Path):
    given = ["4,5 cm", "4,5", "Blau 1,5 m breit", "3 1/2", ["2,25 in"], {"name": "1,2,3", "n": 4}]
    (found,) = ran(dist, ("pointed", [given, "de"]))
    assert found == ["4.5 cm", "4.5", "Blau 1,5 m breit", "3 1/2", ["2.25 in"], {"name": "1,2,3", "n": 4}]


def test_a_plan_is_found_in_whatever_was_pasted(dist: Path):
    said = ["1AbC-_", " 1AbC-_\n", f"{ADDRESS}#plan/1AbC-_", "http://192.168.1.5:8000/#plan/1AbC-_ "]
    assert ran(dist, *[("textIn", one) for one in said]) == ["1AbC-_"] * 4
