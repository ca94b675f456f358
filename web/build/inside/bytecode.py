"""Compiles Python source to bytecode files that need no source beside them and are the same at every build."""

import ast
from collections.abc import Sequence
from importlib._bootstrap_external import _code_to_hash_pyc

import readymade

_FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


def bytecode(source: bytes, shown_as: str) -> bytes:
    """The bytecode file of a source; tracebacks name it `shown_as`. It is never checked against a source.

    Docstrings and assert statements are left out: nothing in the page reads the first or relies on the second.
    """
    return _file(compile(source, shown_as, "exec", optimize=2, dont_inherit=True))


def bytecode_of_ours(source: bytes, shown_as: str, written: Sequence[str] = ()) -> bytes:
    """The same, without the annotations of functions and those that say `ClassVar`; each class has a docstring of one
    letter, and what `dataclass` writes for the module's classes lies ready in it.

    `dataclass` writes a docstring where there is none, which takes it a third of its time when the page starts. What is
    annotated as `ClassVar` is to it what is not annotated at all, but takes `typing` to be said.
    """
    tree = _Unannotated().visit(ast.parse(source))
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, *_FUNCTIONS)):
            _shorten(node)
        if isinstance(node, (*_FUNCTIONS, ast.arg)):
            setattr(node, "annotation" if isinstance(node, ast.arg) else "returns", None)
    if written:
        _put_ready(tree, written)
    return _file(compile(tree, shown_as, "exec", optimize=1, dont_inherit=True))


def _put_ready(tree: ast.Module, written: Sequence[str]) -> None:
    """Behind the imports that the module begins with."""
    first = next(place for place, node in enumerate(tree.body) if not isinstance(node, (ast.Import, ast.ImportFrom)))
    tree.body[first:first] = ast.parse(f"{readymade.NAME} = {readymade.compiled(written)!r}").body


def _shorten(node) -> None:
    if ast.get_docstring(node, clean=False) is not None:
        del node.body[0]
    if isinstance(node, ast.ClassDef):
        node.body.insert(0, ast.Expr(ast.Constant("-")))
    elif not node.body:
        node.body.append(ast.Pass())
    ast.fix_missing_locations(node)


class _Unannotated(ast.NodeTransformer):
    """Leaves out `ClassVar`."""

    def visit_ImportFrom(self, node: ast.ImportFrom) -> ast.ImportFrom | None:
        if node.module == "typing":
            node.names = [alias for alias in node.names if alias.name != "ClassVar"]
        return node if node.names else None

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST | None:
        said = node.annotation.value if isinstance(node.annotation, ast.Subscript) else node.annotation
        if not (isinstance(said, ast.Name) and said.id == "ClassVar"):
            return node
        return node.value and ast.copy_location(ast.Assign([node.target], node.value), node)


def _file(code) -> bytes:
    return bytes(_code_to_hash_pyc(code, b"\0" * 8, False))
