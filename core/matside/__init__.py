"""Matside's core: yields, layouts, rulers, plans and the next-cut guide for slanted patchwork pieces.

Pure Python with no I/O and no clock. `answer` is the stable door that the page and the shell use alike.
"""

from .door import answer, start_search

__all__ = ["answer", "start_search"]
__version__ = "0.1.0"
