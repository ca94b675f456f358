"""In place of the Python of Pyodide itself: what its JavaScript and its C take from it when they start.

The page calls functions of the core with texts and is given texts. It runs no other code, and no Python of its own has
JavaScript at hand.
"""

import sys

from . import _base, _importhook

__all__ = ["_base", "_importhook"]


def set_excepthook() -> None:
    """What is told of an error is what `traceback` says of it; Pyodide calls this when it starts."""
    sys.excepthook = _told


def _told(*error) -> None:
    import traceback

    traceback.print_exception(*error)
