"""Made-up requests for the door: valid ones with some of their fields changed, dropped, added, moved or nested."""

import copy
from collections.abc import Iterator
from random import Random

from matside import answer, start_search
from matside.errors import Refusal
from matside.units import parse_count

from . import hostile
from .requests import valid_requests
from .verdict import Failure, answer_fault, fault_of, text_fault

#: Steps that a made-up search may take at most: what is sought are faults, not good plans.
MOST_WORK = 2_000
_SEARCHES = ("plan", "replan", "largest", "best_size")


def run(seed: int, first: int, count: int) -> list[Failure]:
    """Tries the requests from number `first` on, so many; gives those that failed."""
    numbered = ((number, made_up(Random(f"door {seed} {number}"))) for number in range(first, first + count))
    return [Failure(number, request, fault) for number, request in numbered if (fault := _fault(request))]


def made_up(by: Random) -> object:
    """A request: nearly always a valid one with a few changes."""
    if by.randrange(50) == 0:
        return by.choice((hostile.value, hostile.nested))(by)
    request = copy.deepcopy(by.choice(_BY_ASK[by.choices(_ASKS, _WEIGHTS)[0]]))
    for _ in range(by.choice((1, 1, 1, 2, 3, 6))):
        _change(request, by)
    return _worked_little(request)


_VALID = valid_requests()
_BY_ASK = {
    ask: [request for request in _VALID if request["ask"] == ask] for ask in {request["ask"] for request in _VALID}
}


def _places(value: object) -> Iterator[tuple[dict | list, object]]:
    """Every place in a request: what holds it, and its name or number there."""
    waiting = [value]
    while waiting:
        value = waiting.pop()
        if isinstance(value, (dict, list)):
            inside = [(value, name) for name in (list(value) if isinstance(value, dict) else range(len(value)))]
            yield from inside
            waiting.extend(value[name] for _, name in inside)


_ASKS = sorted(_BY_ASK)
#: The more there is to an ask's requests the oftener it is taken, but none is forgotten.
_WEIGHTS = [max(len(list(_places(request))) for request in _BY_ASK[ask]) ** 0.5 for ask in _ASKS]
_NAMES = sorted({name for request in _VALID for _, name in _places(request) if isinstance(name, str)})
_WORDS = sorted(
    {holder[name] for request in _VALID for holder, name in _places(request) if isinstance(holder[name], str)}
)


def _change(request: dict, by: Random) -> None:
    places = list(_places(request))
    if not places:
        return
    # What holds nothing itself is what most of a request consists of, and most of what can be wrong with one.
    holder, name = by.choice(
        by.choice(([one for one in places if not isinstance(one[0][one[1]], (dict, list))], places)) or places
    )
    # The ask itself stays, nearly always: what is no ask ends at once.
    if name == "ask" and by.randrange(20):
        return
    by.choice(_CHANGES)(holder, name, by)


def _anything(holder, name, by: Random) -> None:
    holder[name] = hostile.value(by)


def _a_number(holder, name, by: Random) -> None:
    holder[name] = hostile.number(by)


def _at_an_edge(holder, name, by: Random) -> None:
    holder[name] = hostile.at_an_edge(by)


def _sensible(holder, name, by: Random) -> None:
    holder[name] = hostile.sensible(by)


def _a_text(holder, name, by: Random) -> None:
    holder[name] = hostile.text(by)


def _another_word(holder, name, by: Random) -> None:
    holder[name] = by.choice(_WORDS)


def _gone(holder, name, by: Random) -> None:
    del holder[name]


def _added(holder, name, by: Random) -> None:
    if isinstance(holder, dict):
        holder[by.choice(_NAMES)] = by.choice((hostile.value, hostile.sensible))(by)


def _repeated(holder, name, by: Random) -> None:
    if isinstance(holder, list):
        holder.extend([holder[name]] * by.choice((1, 2, 30, 60)))


def _from_elsewhere(holder, name, by: Random) -> None:
    other, theirs = by.choice(list(_places(by.choice(_VALID))))
    holder[name] = copy.deepcopy(other[theirs])


def _wrapped(holder, name, by: Random) -> None:
    holder[name] = by.choice(
        ([holder[name]], {"a": holder[name]}, {name if isinstance(name, str) else "a": holder[name]})
    )


def _very_deep(holder, name, by: Random) -> None:
    holder[name] = hostile.nested(by)


def _scaled(holder, name, by: Random) -> None:
    if isinstance(holder[name], (int, float)) and not isinstance(holder[name], bool):
        holder[name] = by.choice((10.0 ** by.randint(-12, 6), 2, 0.5, -1, 1 + 1e-12, 1 - 1e-12)) * max(
            -(10**30), min(holder[name], 10**30)
        )


_CHANGES = (
    *([_at_an_edge, _sensible, _scaled] * 6), *([_a_number, _anything, _another_word, _gone, _added, _from_elsewhere] * 2),
    *([_a_text, _repeated] * 2), _wrapped, _very_deep,
)  # fmt: skip


def _worked_little(request: dict) -> dict:
    """The request with its search cut short, where it would be a long one."""
    if request.get("ask") not in _SEARCHES or request["ask"] == "best_size":
        return request
    try:
        if parse_count(request.get("work"), "work", 1, 1_000_000_000) <= MOST_WORK:
            return request
    except Refusal:
        if request.get("work") is not None:
            return request
    return {**request, "work": MOST_WORK}


def _fault(request: object) -> str:
    return fault_of(lambda: answer(request), lambda found: answer_fault(found) or text_fault(found)) or (
        fault_of(lambda: list(start_search(request))[-1], answer_fault) if _is_search(request) else ""
    )


def _is_search(request: object) -> bool:
    return isinstance(request, dict) and request.get("ask") in _SEARCHES
