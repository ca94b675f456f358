"""Inputs made up by chance for the door and for the reading of lengths, and what must hold for the answer to each.

Case number n of a seed is the same on every machine, however many came before it: a long run can be stopped and taken
up again at any number, and a case that fails can be made once more alone.

    python -m fuzzing door SEED FIRST COUNT       (with tests/core and core on the path)
    python -m fuzzing lengths SEED FIRST COUNT
"""

from .door import run as run_door
from .lengths import run as run_lengths
from .verdict import Failure

__all__ = ["Failure", "run_door", "run_lengths"]
