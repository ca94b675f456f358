"""The changes that can be made to a module: what stands where, and what is put there."""

import ast
import hashlib
import random
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

_COMPARED = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"), ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="),
    ast.Is: ("is", "is not"), ast.IsNot: ("is not", "is"), ast.In: ("in", "not in"), ast.NotIn: ("not in", "in"),
}  # fmt: skip
_REACHES = {
    ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"), ast.FloorDiv: ("//", "/"), ast.Mod: ("%", "*"),
    ast.Pow: ("**", "*"), ast.BitOr: ("|", "&"), ast.BitAnd: ("&", "|"), ast.And: ("and", "or"), ast.Or: ("or", "and"),
}  # fmt: skip
_NAMED = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
#: With fewer elements one that is left out is missed at once.
_FEWEST_LISTED = 3


@dataclass(frozen=True, order=True)
class Change:
    """One change: in which file below the package, on which line, from where to where in its bytes, and what comes
    there. `inside` is the function's name with its classes', or None outside functions."""

    file: str
    line: int
    start: int
    end: int
    old: str
    new: str
    inside: str | None
    text: str

    def made(self, source: bytes) -> bytes:
        """The file's text with the change in it."""
        return source[: self.start] + self.new.encode() + source[self.end :]

    def key(self, source: bytes) -> str:
        """What its outcome is kept under: the same only while the file's text is."""
        return hashlib.sha256(f"{self}".encode() + source).hexdigest()[:20]

    @property
    def words(self) -> str:
        """What becomes of what, on one line."""
        return " ".join(f"{self.old} → {self.new or 'nothing'}".split())


def changes(file: str, source: bytes) -> list[Change]:
    """All changes to a file that leave it a program, and another one.

    >>> [change.words for change in changes("x.py", b"def f(a):\\n    return a > 2\\n")]
    ['return a > 2 → return None', '> → >=', '2 → 1', '2 → 3']
    """
    return [change for change in places(file, source) if _is_another(change, source)]


def places(file: str, source: bytes) -> list[Change]:
    """All changes to a file, those too that leave no program."""
    return list(dict.fromkeys(sorted(_Finder(file, source).found(ast.parse(source)))))


def _is_another(change: Change, source: bytes) -> bool:
    try:
        return ast.dump(ast.parse(change.made(source))) != ast.dump(ast.parse(source))
    except SyntaxError:
        return False


def drawn(package: Path, modules: Iterable[str], sample: int | None, seed: int) -> list[Change]:
    """So many of all changes to the modules, the same for a seed; more of them begin with the same ones."""
    sources = {file: (package / file).read_bytes() for file in files(package, modules)}
    found = [change for file, source in sources.items() for change in places(file, source)]
    random.Random(seed).shuffle(found)
    return list(islice((change for change in found if _is_another(change, sources[change.file])), sample))


def files(package: Path, modules: Iterable[str]) -> list[str]:
    """The files of modules and folders that are named below the package.

    >>> import matside
    >>> files(Path(matside.__file__).parent, ["cloth", "wasting"])[:3]
    ['cloth.py', 'wasting/__init__.py', 'wasting/cliffs.py']
    """
    found = []
    for name in modules:
        folder, file = package / name, package / f"{name.removesuffix('.py')}.py"
        there = sorted(folder.rglob("*.py")) if folder.is_dir() else [file]
        found += [path.relative_to(package).as_posix() for path in there]
    return list(dict.fromkeys(found))


class _Finder:
    """Goes through a module's tree; annotations, decorators, docstrings and texts stay as they are."""

    def __init__(self, file: str, source: bytes) -> None:
        self.file = file
        self.source = source
        self.starts = [0]
        for line in source.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))

    def found(self, node: ast.AST, inside: tuple[str, ...] = (), function: str | None = None) -> Iterator[Change]:
        for child in _children(node):
            within, own = inside, function
            if isinstance(child, ast.FunctionDef | ast.ClassDef):
                within = (*inside, child.name)
                own = ".".join(within) if isinstance(child, ast.FunctionDef) else function
            for start, end, new in self._of(child):
                yield self._change(start, end, new, own)
            yield from self.found(child, within, own)

    def _change(self, start: int, end: int, new: str, inside: str | None) -> Change:
        line = next(i for i, at in enumerate(self.starts) if at > start)
        text = self.source[self.starts[line - 1] : self.starts[line]].decode().strip()
        return Change(self.file, line, start, end, self.source[start:end].decode(), new, inside, text)

    def _span(self, node: ast.AST) -> tuple[int, int]:
        return self.starts[node.lineno - 1] + node.col_offset, self.starts[node.end_lineno - 1] + node.end_col_offset

    def _text(self, node: ast.AST) -> str:
        start, end = self._span(node)
        return self.source[start:end].decode()

    def _of(self, node: ast.AST) -> Iterator[tuple[int, int, str]]:
        """The changes at a node itself: from where to where, and what comes there."""
        match node:
            case ast.Compare(left=left, ops=ops, comparators=comparators):
                for before, op, after in zip([left, *comparators], ops, comparators):
                    yield from self._operator(before, after, *_COMPARED[type(op)])
            case ast.BinOp(left=left, op=op, right=right) if type(op) in _REACHES:
                yield from self._operator(left, right, *_REACHES[type(op)])
            case ast.BoolOp(op=op, values=[first, second, *_]):
                yield from self._operator(first, second, *_REACHES[type(op)])
            case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
                yield *self._span(node), self._text(operand)
            case ast.Constant(value=bool() as value):
                yield *self._span(node), str(not value)
            case ast.Constant(value=int() as value):
                yield *self._span(node), str(value + 1)
                yield *self._span(node), str(value - 1)
            case ast.Constant(value=float() as value):
                yield *self._span(node), repr(value * 2)
                yield *self._span(node), repr(value + 1)
            case ast.If(test=test) | ast.While(test=test) | ast.IfExp(test=test):
                yield *self._span(test), f"(not ({self._text(test)}))"
            case ast.comprehension(ifs=ifs):
                for test in ifs:
                    yield *self._span(test), f"(not ({self._text(test)}))"
            case ast.Call():
                yield from self._call(node)
            case ast.Return(value=value) if value is not None and not _is_none(value):
                yield *self._span(node), "return None"
            case ast.Tuple(elts=elements, ctx=ast.Load()) | ast.List(elts=elements, ctx=ast.Load()):
                yield from self._listed(elements)
            case ast.AugAssign() | ast.Raise() | ast.Continue() | ast.Break():
                yield *self._span(node), "pass"
            case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()):
                yield *self._span(node), "pass"
            case ast.Assign(targets=[ast.Attribute() | ast.Subscript()]):
                yield *self._span(node), "pass"

    def _operator(self, before: ast.AST, after: ast.AST, old: str, new: str) -> Iterator[tuple[int, int, str]]:
        start, end = self._span(before)[1], self._span(after)[0]
        found = re.search(re.escape(old).replace(r"\ ", r"\s+"), self.source[start:end].decode())
        if found and "#" not in self.source[start:end].decode():
            yield start + found.start(), start + found.end(), new

    def _call(self, node: ast.Call) -> Iterator[tuple[int, int, str]]:
        match node.func:
            case ast.Name(id=name) | ast.Attribute(attr=name) if name in _NAMED:
                end = self._span(node.func)[1]
                yield end - len(name), end, _NAMED[name]
        first, second, *_ = [*node.args, None, None]
        if first and second and not any(isinstance(one, ast.Starred) for one in (first, second)):
            (start, end), (begin, stop) = self._span(first), self._span(second)
            between = self.source[end:begin].decode()
            yield start, stop, f"{self._text(second)}{between}{self._text(first)}"

    def _listed(self, elements: list[ast.expr]) -> Iterator[tuple[int, int, str]]:
        """One of several that is left out."""
        if len(elements) < _FEWEST_LISTED:
            return
        spans = [self._span(element) for element in elements]
        for (start, _), (following, _) in zip(spans, spans[1:]):
            yield start, following, ""
        yield spans[-2][1], spans[-1][1], ""


def _is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _children(node: ast.AST) -> Iterator[ast.AST]:
    """The parts of a node that can be changed."""
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "bases", "type_params"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _left_alone(child):
                yield child


def _left_alone(node: ast.AST) -> bool:
    """Texts, and another name for a type (`Point = tuple[float, float]`)."""
    types = ("tuple", "dict", "list", "Callable", "Iterator", "Sequence", "Generator")
    match node:
        case ast.JoinedStr() | ast.Import() | ast.ImportFrom():
            return True
        case ast.Assign(value=ast.Subscript(value=ast.Name(id=name))):
            return name in types
    return False
