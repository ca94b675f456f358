"""The bridge between the page's worker and the core: JSON text both ways, searches slice by slice."""

import json

import pytest

import matside
from matside import bridge, door


def search(steps: list[dict], monkeypatch) -> int:
    """The number of a search that gives these steps."""
    monkeypatch.setattr(door, "start_search", lambda request: iter(steps))
    return bridge.start_search("{}")


def test_the_answer_is_the_core_s_own():
    request = {"ask": "strip", "piece": {"shape": "diamond", "size": 4, "angle": 60}, "length": 42}
    assert json.loads(bridge.answer(json.dumps(request))) == matside.answer(request)


def test_a_search_gives_progress_and_then_the_answer(monkeypatch):
    number = search([{"best": 3}, {"best": 4}, {"ok": True, "pieces": 4}], monkeypatch)
    found = [json.loads(bridge.next_slice(number)) for _ in range(3)]
    assert found == [{"progress": {"best": 3}}, {"progress": {"best": 4}}, {"answer": {"ok": True, "pieces": 4}}]
    with pytest.raises(KeyError):
        bridge.next_slice(number)


def test_a_refusal_ends_a_search(monkeypatch):
    number = search([{"ok": False, "error": {}}], monkeypatch)
    assert json.loads(bridge.next_slice(number)) == {"answer": {"ok": False, "error": {}}}
    assert bridge.stop_search(number) is False


def test_a_stopped_search_is_gone(monkeypatch):
    number = search([{"best": 3}, {"ok": True}], monkeypatch)
    assert bridge.stop_search(number) is True
    assert bridge.stop_search(number) is False


def test_a_search_can_be_asked_to_show_its_best(monkeypatch):
    def searching(_request):
        wish = yield {"best": 3}
        if wish == "show":
            yield {"best": 3, "plan": []}
        yield {"ok": True}

    monkeypatch.setattr(door, "start_search", searching)
    number = bridge.start_search("{}")
    found = [json.loads(bridge.next_slice(number, *wish)) for wish in ([], ["show"], [])]
    assert found == [{"progress": {"best": 3}}, {"progress": {"best": 3, "plan": []}}, {"answer": {"ok": True}}]


def test_searches_do_not_mix(monkeypatch):
    one = search([{"best": 1}, {"ok": True, "n": 1}], monkeypatch)
    other = search([{"best": 2}, {"ok": True, "n": 2}], monkeypatch)
    assert [json.loads(bridge.next_slice(n)) for n in (one, other, one)] == [
        {"progress": {"best": 1}},
        {"progress": {"best": 2}},
        {"answer": {"ok": True, "n": 1}},
    ]
    bridge.stop_search(other)


def test_letters_outside_ascii_cross_as_they_are(monkeypatch):
    monkeypatch.setattr(door, "answer", lambda request: {"ok": True, **request})
    assert bridge.answer('{"size": "4½"}') == '{"ok": true, "size": "4½"}'
