"""A line to a browser that speaks WebDriver BiDi: commands with their answers, and events as they come."""

import itertools
import json
import threading
from collections.abc import Callable
from queue import Empty, Queue

import websocket

from .driver import LONGEST_WAIT, Lost

# What a page that is being left, or a browser that is gone, answers with.
_GONE = ("no such frame", "no such handle", "no such node", "script error: aborted", "discarded", "destroyed", "Actor")


class Refused(Exception):
    """The browser could not do what it was asked."""


class Bidi:
    """One session over a websocket; `told` hears every event, by its method and parameters."""

    def __init__(self, address: str, told: Callable[[str, dict], None]) -> None:
        self._socket = websocket.create_connection(address, suppress_origin=True, enable_multithread=True)
        self._told = told
        self._numbers = itertools.count(1)
        self._waiting: dict[int, Queue] = {}
        threading.Thread(target=self._listen, daemon=True).start()

    def ask(self, method: str, **parameters) -> dict:
        """The answer to a command; Lost when its page or the browser went away meanwhile."""
        number = next(self._numbers)
        answers = self._waiting[number] = Queue()
        try:
            self._socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
            answer = answers.get(timeout=LONGEST_WAIT)
        except (OSError, websocket.WebSocketException) as error:
            raise Lost(f"{method}: {error}") from None
        except Empty:
            raise Refused(f"{method}: no answer within {LONGEST_WAIT} s") from None
        finally:
            del self._waiting[number]
        if answer.get("type") != "success":
            text = f"{method}: {answer.get('error')}: {answer.get('message')}"
            raise (Lost if any(part in text for part in _GONE) else Refused)(text)
        return answer["result"]

    def close(self) -> None:
        """Hangs up."""
        self._socket.close()

    def _listen(self) -> None:
        while (text := self._received()) is not None:
            message = json.loads(text)
            if message.get("type") == "event":
                self._told(message["method"], message["params"])
            elif message.get("id") in self._waiting:
                self._waiting[message["id"]].put(message)
        for waiting in list(self._waiting.values()):
            waiting.put({"error": "no such frame", "message": "the browser is gone"})

    def _received(self) -> str | None:
        try:
            return self._socket.recv() or None
        except (OSError, websocket.WebSocketException):
            return None
