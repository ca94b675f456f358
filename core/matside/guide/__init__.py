"""The next-cut guide: a script of steps, and the table by which events move through it.

The page folds its log of events through `table.TABLE` with no rule of its own, so counting goes on without Python.
"""
