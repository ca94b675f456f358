"""Runs a list of requests through the core: in Pyodide to see what it loads, and in plain Python to compare.

From a shell, with the core on the path: `python exercise.py exercise.json` prints the answers.
"""

import json
import sys

from matside import bridge


def answers(requests: str) -> str:
    """The answers to the requests of exercise.json, one after the other, as JSON."""
    asked = json.loads(requests)
    found = [json.loads(bridge.answer(json.dumps(request))) for request in asked["answers"]]
    return json.dumps(found + [_searched(request) for request in asked["searches"]])


def _searched(request: dict) -> dict:
    search = bridge.start_search(json.dumps(request))
    while "answer" not in (slice_done := json.loads(bridge.next_slice(search))):
        pass
    return slice_done["answer"]


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as file:
        print(answers(file.read()))
