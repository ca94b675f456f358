"""In place of what looks into functions and classes: what Pyodide takes from it, and `dataclasses`.

The real one takes `dis`, `ast` and `tokenize` along, and an eighth of all that Python imports before the first answer.
"""


def iscoroutinefunction(obj) -> bool:
    """Whether a call of it is to be awaited: nothing in the page's Python is.

    Pyodide asks only where it cannot see so itself, which is where it is neither a function nor a method.
    """
    return False


def unwrap(func, *, stop=None):
    """What was wrapped, however often."""
    while not isinstance(func, type) and hasattr(func, "__wrapped__") and not (stop and stop(func)):
        func = func.__wrapped__
    return func


def __getattr__(name: str):
    raise AttributeError(f"Python in the page does without most of inspect: there is no inspect.{name}")
