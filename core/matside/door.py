"""The stable door: a request as plain JSON values in, an answer as plain JSON values out.

Every answer has "ok". Bad input gives {"ok": false, "error": {field, code, values, message}} and nothing else.
Lengths in an answer are numbers of inches.
"""

import math
from collections.abc import Callable, Generator
from fractions import Fraction
from functools import partial
from numbers import Rational

from .asks import ASKS, SEARCHES
from .errors import Refusal
from .units import shown
from .words import refusal_sentence

LARGEST_REQUEST = 1_000_000
DEEPEST_REQUEST = 20
_MOST_BITS = 1023


def answer(request: dict, language: str = "en") -> dict:
    """The answer to a request; a refusal's message is in the language that is named.

    >>> found = answer({"ask": "strip", "piece": {"shape": "diamond", "size": "3 1/2 in", "angle": 60}, "length": 37})
    >>> found["ok"], found["pieces"]
    (True, 8)
    >>> answer({"ask": "strip", "piece": {"size": "3 1/0", "angle": 60}, "length": 37})["error"]["field"]
    'piece.size'
    """
    return _refusals_answered(lambda: ASKS[_checked_ask(request)](request), language=language)


def start_search(request: dict) -> Generator[dict, str | None, None]:
    """The same answer in slices of work: yields progress, and last the answer (the only one with "ok").

    An ask that needs no search gives its answer at once. The caller keeps the time: it may show the progress, drop the
    generator to stop, or go on. Sent the wish "show", a search tells the best so far in full as `progress.plan`, or
    just goes on where there is none yet.

    >>> [step["ok"] for step in start_search({"ask": "none"})]
    [False]
    """
    first = _refusals_answered(lambda: {"ask": _checked_ask(request)})
    ask = first.get("ask")
    if ask not in SEARCHES:
        yield answer(request) if ask else first
        return
    yield from _searched(SEARCHES[ask](request))


def _searched(steps: Generator[dict, str | None, None]) -> Generator[dict, str | None, None]:
    wish = None
    while True:
        step = _refusals_answered(partial(_after, steps, wish), done=False)
        if step == {}:
            return
        wish = yield step
        if step.get("ok") is False:
            return


def _after(steps: Generator[dict, str | None, None], wish: str | None) -> dict:
    """The next step of a search that has heard a wish; an empty one at its end."""
    try:
        return steps.send(wish)
    except StopIteration:
        return {}


def _refusals_answered(work: Callable[[], dict], done: bool = True, language: str = "en") -> dict:
    try:
        found = work()
        return plain({"ok": True, **found} if done else found)
    except Refusal as refusal:
        return {"ok": False, "error": refused(refusal, language)}


def refused(refusal: Refusal, language: str = "en") -> dict:
    """The error object of an answer: field, code, values, and the message in a language."""
    values = plain(refusal.values)
    message = refusal_sentence(refusal.code, values, language)
    return {"field": refusal.field, "code": refusal.code, "values": values, "message": message}


def plain(value):
    """The value with tuples as lists and exact numbers as plain ones, ready for JSON.

    Refused is a whole number past every float: only a request can have brought it, and not
    every reader of JSON takes it.

    >>> plain({"size": Fraction(1, 2), "points": ((0, 1),)})
    {'size': 0.5, 'points': [[0, 1]]}
    """
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, int) and value.bit_length() > _MOST_BITS:
        raise Refusal("", "request_value", given=shown(value))
    return value


def _checked_ask(request) -> str:
    if not isinstance(request, dict):
        raise Refusal("", "request_object")
    _check_values(request)
    ask = request.get("ask")
    if not isinstance(ask, str) or ask not in ASKS:
        raise Refusal("ask", "ask_unknown", given=shown(ask), choices=", ".join(sorted(ASKS)))
    return ask


def _check_values(request: dict) -> None:
    """Refuses what is not JSON, too deep or too large; without recursion, so that nothing deep can break it."""
    size, waiting = 0, [(request, "", 1)]
    while waiting:
        value, place, depth = waiting.pop()
        size += _weight(value, place)
        if size > LARGEST_REQUEST:
            raise Refusal("", "request_too_large")
        if isinstance(value, (dict, list, tuple)) and depth > DEEPEST_REQUEST:
            raise Refusal("", "request_too_deep")
        waiting.extend((item, where, depth + 1) for item, where in _inside(value, place))


def _inside(value, place: str):
    if isinstance(value, dict):
        return [(item, f"{place}.{shown(key)}".lstrip(".")) for key, item in value.items()]
    if isinstance(value, (list, tuple)):
        return [(item, f"{place}[{i}]") for i, item in enumerate(value)]
    return []


def _weight(value, place: str) -> int:
    """About how many bytes the value takes as JSON, commas and colons counted, its insides not."""
    if isinstance(value, dict):
        bad = [key for key in value if not isinstance(key, str)]
        if bad:
            raise Refusal(place, "request_value", given=shown(bad[0]))
        return 2 + sum(_text_weight(key) + 2 for key in value)
    if isinstance(value, str):
        return _text_weight(value)
    if isinstance(value, (list, tuple)):
        return 2 + len(value)
    if value is None or isinstance(value, bool):
        return 4
    if isinstance(value, Rational):
        return 1 + value.numerator.bit_length() * 3 // 10
    if isinstance(value, float) and math.isfinite(value):
        return len(repr(value))
    raise Refusal(place, "request_value", given=shown(value))


def _text_weight(text: str) -> int:
    return 2 + len(text.encode("utf-8", "surrogatepass"))
