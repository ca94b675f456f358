"""The functions that `dataclass` writes for the classes of a package, compiled ahead of the page's start.

To compile them is most of what such a class costs, and half of the time that the core takes to its first answer.
"""

import builtins
import dataclasses
import marshal
import sys
from collections import defaultdict
from collections.abc import Iterable
from importlib import import_module

#: The name under which a module has its own, and web/build/additions/dataclasses.py looks for them.
NAME = "__readymade__"


def written(path: str, modules: Iterable[str]) -> dict[str, list[str]]:
    """What `dataclass` writes for each of these modules, which come from the archive at that path."""
    texts = defaultdict(list)

    def noting(text: str, names: dict, made: dict) -> None:
        texts[names["__name__"]].append(text)
        builtins.exec(text, names, made)

    sys.path.insert(0, path)
    dataclasses.exec = noting
    try:
        for module in modules:
            import_module(module)
    finally:
        del dataclasses.exec
        sys.path.remove(path)
    return texts


def compiled(texts: Iterable[str]) -> dict[str, bytes]:
    """The marshalled code of each of them by its text, as `exec` would compile it."""
    return {text: marshal.dumps(compile(text, "<string>", "exec", dont_inherit=True)) for text in texts}
