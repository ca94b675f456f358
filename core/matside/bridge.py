"""What the page's worker calls: JSON text in, JSON text out, so that no Python object crosses the border.

A search is known by a number. Each `next_slice` does a bounded piece of its work.
"""

import gc
import json
from collections.abc import Generator
from itertools import count

from . import door

#: Looking through everything for what can be let go takes a tenth of a second while the ways to cut a thousand cloths
#: are held: rare enough that a search gives way in time. What is young is looked through as often as ever.
_RARELY = 1_000
gc.set_threshold(*gc.get_threshold()[:2], _RARELY)

_numbers = count(1)
_searches: dict[int, Generator[dict, str | None, None]] = {}


def answer(request: str) -> str:
    """The answer to a request.

    >>> json.loads(answer('{"ask": "nothing of the kind"}'))["ok"]
    False
    """
    return _text(door.answer(json.loads(request)))


def start_search(request: str) -> int:
    """The number of a new search; nothing is worked out yet.

    >>> number = start_search('{"ask": "nothing of the kind"}')
    >>> json.loads(next_slice(number))["answer"]["ok"], stop_search(number)
    (False, False)
    """
    number = next(_numbers)
    _searches[number] = door.start_search(json.loads(request))
    return number


def next_slice(number: int, wish: str | None = None) -> str:
    """One slice of a search: {"progress": …} while it goes on, {"answer": …} when it is over; KeyError afterwards.

    With the wish "show" (never at the first slice) the slice is the best so far, told in full, where there is one.
    """
    search = _searches[number]
    found = search.send(wish) if wish else next(search)
    if "ok" not in found:
        return _text({"progress": found.get("progress", found)})
    stop_search(number)
    return _text({"answer": found})


def stop_search(number: int) -> bool:
    """Drops a search; whether there was one."""
    return _searches.pop(number, None) is not None


def _text(value: dict) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
