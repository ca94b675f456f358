"""What must hold for every input: an end in bounded time, no exception, and nothing but JSON."""

import json
import math
import signal
import threading
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

#: Seconds for one input. Most take a few thousandths; what takes as long as this would never end on a phone.
LONGEST = 60


@dataclass(frozen=True, slots=True)
class Failure:
    """An input that did not end as it must: its `number` under its seed, what was given, what came of it."""

    number: int
    given: object
    what: str

    def __str__(self) -> str:
        return f"number {self.number}: {self.what}\n    {_legible(self.given)!r:.3000}"

    __repr__ = __str__


def _legible(given: object, depth: int = 0) -> object:
    """The value without what Python would not write out: numbers of thousands of digits, and
    what is nested very deep.
    """
    if depth > 30:
        return "…"
    if isinstance(given, int) and given.bit_length() > 1000:
        return f"a number of {given.bit_length()} bits"
    if isinstance(given, dict):
        return {name: _legible(item, depth + 1) for name, item in given.items()}
    return [_legible(item, depth + 1) for item in given] if isinstance(given, list) else given


class _TooLong(BaseException):
    """Past every `except Exception` of what is tried."""


def fault_of(work: Callable[[], object], judge: Callable[[object], str]) -> str:
    """What is wrong with the work's end, by `judge` where it ends at all; nothing where all is well.

    >>> fault_of(lambda: {"ok": True}, json_fault), fault_of(lambda: math.nan, json_fault)
    ('', 'holds nan')
    >>> fault_of(lambda: 1 / 0, json_fault).splitlines()[-1]
    'ZeroDivisionError: division by zero'
    """
    try:
        with _bounded():
            return judge(work())
    except _TooLong:
        return f"not done after {LONGEST} s"
    except Exception:
        return traceback.format_exc(limit=-4)


@contextmanager
def _bounded() -> Iterator[None]:
    """Ends what takes too long, where the system and the thread allow for it."""
    if not hasattr(signal, "setitimer") or threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGALRM, _stop)
    signal.setitimer(signal.ITIMER_REAL, LONGEST)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def _stop(*_) -> None:
    raise _TooLong


def answer_fault(answer: object) -> str:
    """What is wrong with an answer of the door; nothing where all is well.

    >>> answer_fault({"ok": True, "pieces": 8}), answer_fault({"pieces": 8})
    ('', 'neither ok nor refused')
    """
    if not isinstance(answer, dict) or answer.get("ok") not in (True, False):
        return "neither ok nor refused"
    if answer["ok"] is False and (fault := _refusal_fault(answer)):
        return fault
    return json_fault(answer)


def _refusal_fault(answer: dict) -> str:
    error = answer.get("error")
    if set(answer) != {"ok", "error"} or set(error) != {"field", "code", "values", "message"}:
        return "a refusal of another form"
    return (
        "" if isinstance(error["message"], str) and 10 < len(error["message"]) < 500 else "a refusal that says nothing"
    )


def json_fault(value: object) -> str:
    """What of a value is no JSON; nothing where all of it is. Numbers must be written out by every reader of JSON."""
    waiting = [value]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            waiting.extend([*value.keys(), *value.values()])
            if not all(type(key) is str for key in value):
                return "a name that is no text"
        elif isinstance(value, list):
            waiting.extend(value)
        elif type(value) is float and not math.isfinite(value):
            return f"holds {value}"
        elif type(value) not in (str, int, float, bool, type(None)):
            return f"holds a {type(value).__name__}"
        elif type(value) is int and abs(value) >= 1 << 1023:
            return "holds a number that is past every float"
    return ""


def text_fault(value: object) -> str:
    """What keeps a value from going through JSON's text and back; nothing where it does."""
    return "" if json.loads(json.dumps(value, allow_nan=False)) == value else "is another after JSON"
