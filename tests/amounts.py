"""How much of what could be tried for ever is tried in every run, and how much by `--long`."""

import os
from collections.abc import Sequence

#: Set where the tests run with `--long`, see conftest.py.
LONG = "MATSIDE_LONG" in os.environ


def some(of: Sequence, every: int) -> Sequence:
    """One of so many in every run; all of them by `--long`."""
    return of if LONG else of[::every]


def examples(number: int, more: int = 5) -> int:
    """So many examples in every run; so many times more by `--long`."""
    return number * more if LONG else number
