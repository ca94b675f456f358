"""Calls at random into the interpreter, the same at every run, and what came of each: to compare two interpreters.

What is called are the functions and types of the modules that are built in, the types of the language and its
operators with all their methods, each with a few values of every kind. What would end the run, wait, or change the
interpreter for the calls after it is left out.
"""

import io
import operator
import random
import re
import sys
import types
from collections.abc import Callable, Iterator
from itertools import islice
from typing import NamedTuple

#: Names that begin so are not called, wherever they are found.
_SKIPPED = """
    FileIO _acquire _clear _crash _current _debug _enter _exit _fatal _override _read_null _release _run
    _setup _shutdown _sig _stack _xoptions abort acquire activate_stack addaudithook alarm allocate_lock
    breakpoint call_tracing clock_settime create_builtin daemon displayhook dump_ enable excepthook exec_ exit
    freeze get_objects get_ref immortal init_frozen input interrupt_main license lock monitoring open pause
    pthread quit raise_signal register release_lock remote set_ setitimer setlocale setprofile
    setrecursionlimit setswitchinterval settrace sig sleep stack_overflow start_ unraisablehook unregister
    wait
"""
SKIPPED = tuple(_SKIPPED.split())
#: Of what reaches the machine outside only what looks and changes nothing.
_LOOKS = (
    "DirEntry W access cpu_count device_encoding fspath getcwd listdir lstat major makedev minor scandir stat strerror"
)
LOOKS = {"posix": tuple(_LOOKS.split())}
#: Of what lies there only the type of a result is told: it depends on the time, on chance, or on where objects lie.
_MODULES = ("time", "gc", "_random", "_signal", "_tracemalloc", "_thread", "posix", "faulthandler")
_ENDING = """
    __dir__ __hash__ __reduce_ex__ __sizeof__ _getframe _getframemodulename dir getrefcount getsizeof
    getunicodeinternedsize globals hash id intern localtime locals now pop popitem today utcnow vars
"""
BY_TYPE = re.compile(rf"^({'|'.join(_MODULES)})\.|\.({'|'.join(_ENDING.split())})$")
_ADDRESS = re.compile(r"0x[0-9a-f]+")
_LONGEST = 400
_NEVER = ("__init_subclass__", "__loader__", "__spec__", "help")


def _values() -> list:
    """Fresh values of every kind."""
    return [
        0, 1, -1, 2, 7, 255, 300, True, None, ..., 1.5, -0.0, 1e300, float("inf"), float("nan"), 2 + 3j, "",
        "abc", "añ中\U0001f600", "%s %d", "{0!r:>8}", "utf-8", "utf-16", "strict", "replace", "1.5", "0x1f",
        b"abc", b"\xff\xfe\x00", bytearray(b"abc"), memoryview(b"abc"), [3, 1, 2], [], (1, 2), ("a", "b"),
        {1: 2}, {"a": 1}, {1, 2}, frozenset((1,)), range(5), slice(1, 2), iter([1, 2]), (x for x in (1, 2)),
        enumerate([1]), zip([1], [2]), reversed([1, 2]), map(str, [1]), ValueError("x"), ExceptionGroup("g",
        [ValueError("y")]), types.SimpleNamespace(a=1), types.MappingProxyType({1: 2}), list[int], int | str,
        property(len), len, "".join, lambda *a: a, str, int, object, dict, list, tuple, ValueError,
        io.StringIO("a\nb"), io.BytesIO(b"a\nb"), re.compile("a(b)?"), re.match("(a)", "ab"), sys.float_info,
        types.CodeType, super(int, 1), operator.itemgetter(0), NotImplemented,
    ]  # fmt: skip


class _Target(NamedTuple):
    """What may be called: a name in a module, or of a value, and of the type or value the method."""

    where: str
    of: object  # what is called; a type whose instances are; or the place of a value in the list of values
    method: str = ""


def _targets(modules: list[str]) -> list[list[_Target]]:
    """What may be called, group by group: each module's, and each kind of value's."""
    values = [*_values()]
    kinds = {type(value): place for place, value in enumerate(values)}
    groups = [_methods(kind.__qualname__, kind, place) for kind, place in kinds.items()]
    for module in filter(None, map(_imported, [*modules, "builtins", "operator"])):
        groups.append([])
        for name in _names(module):
            value, where = getattr(module, name), f"{module.__name__}.{name}"
            groups[-1] += [_Target(where, value)] if callable(value) else []
            groups[-1] += _methods(where, value, value) if isinstance(value, type) else []
    return [group for group in groups if group]


def _imported(name: str) -> types.ModuleType | None:
    """The module; nothing where what it needs itself is not there."""
    try:
        return __import__(name)
    except ImportError:
        return None


def _methods(where: str, kind: type, of) -> list[_Target]:
    """The methods that a type has of its own."""
    base = kind.__mro__[1] if len(kind.__mro__) > 1 else kind
    own = (name for name in _names(kind) if getattr(kind, name, None) is not getattr(base, name, None))
    return [_Target(f"{where}.{name}", of, name) for name in own if callable(getattr(kind, name, None))]


def _names(of) -> list[str]:
    named = LOOKS.get(getattr(of, "__name__", ""), "")
    return [
        name
        for name in sorted(dir(of))
        if name.startswith(named) and not name.startswith(SKIPPED) and name not in _NEVER
    ]


def results(modules: list[str], seed: int, first: int, last: int, tell: Callable[[str], None]) -> None:
    """Calls number `first` up to `last`; before each `tell` is given its target, and after it a line of what came.

    A call depends on its number and the seed alone, so that a run that broke off can be taken up behind it.
    """
    groups = _targets(modules)
    for number in range(first, last):
        chance = random.Random(seed * 1_000_003 + number)
        target = chance.choice(chance.choice(groups))
        tell(target.where)
        tell(f"{target.where} {_outcome(target, chance)}")


def _outcome(target: _Target, chance: random.Random) -> str:
    values = _values()
    arguments = chance.sample(values, chance.choice((0, 1, 1, 1, 2, 2, 3)))
    made = chance.sample(values, chance.choice((0, 0, 1, 1, 2)))
    told = _told([type(each) for each in arguments])
    try:
        value = _call(target, values, made)(*arguments)
        if isinstance(value, Iterator):
            value = (type(value), list(islice(value, 5)))
    except BaseException as error:
        return f"{told} raised {_told((type(error), str(error)))}"
    return f"{told} gave {_told((type(value), None if BY_TYPE.search(target.where) else (value, arguments)))}"


def _call(target: _Target, values: list, made: list) -> Callable:
    """What is to be called: a method belongs to one of the values, or to an instance made of some of them."""
    if not target.method:
        return target.of
    return getattr(values[target.of] if isinstance(target.of, int) else target.of(*made), target.method)


def _told(value) -> str:
    try:
        return _ADDRESS.sub("0x", repr(value))[:_LONGEST]
    except BaseException as error:
        return f"unspeakable: {type(error).__name__}"
