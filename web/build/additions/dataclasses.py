# ---- added by Matside's build to Python's own module

import builtins
import marshal


def exec(text: str, names: dict, made: dict) -> None:
    """As the built-in one, which compiles the functions of a class anew at every start: those of the core's classes the
    build has compiled already, and put into the class's module under their text (web/build/inside/readymade.py).
    """
    compiled = names.get("__readymade__", {}).get(text)
    builtins.exec(marshal.loads(compiled) if compiled else text, names, made)


class _Annotations:
    """`annotationlib`, without it where the annotations of a class can be had at once: it takes `ast` along."""

    class Format:
        """How annotations are given, under the numbers of the real one."""

        VALUE = 1
        VALUE_WITH_FAKE_GLOBALS = 2
        FORWARDREF = 3
        STRING = 4

    def __init__(self, real) -> None:
        self._real = real

    def get_annotations(self, of: type, *, format: int) -> dict:
        """As the real one does first; where a name is not known, what that does next is left to it."""
        if format == self.Format.FORWARDREF:
            try:
                return dict(type.__dict__["__annotations__"].__get__(of))
            except Exception:
                pass
        return self._real.get_annotations(of, format=format)

    def __getattr__(self, name: str):
        return getattr(self._real, name)


annotationlib = _Annotations(annotationlib)

_is_one = _is_classvar


def _is_classvar(kind, typing) -> bool:
    """Nothing is of a type of `typing` before the real one has come into its place (web/build/late)."""
    return "ClassVar" in vars(typing) and _is_one(kind, typing)
