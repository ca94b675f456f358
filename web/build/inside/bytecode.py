"""Compiles Python source to bytecode files that need no source beside them and are the same at every build."""

import ast
from importlib._bootstrap_external import _code_to_hash_pyc

_FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


def bytecode(source: bytes, shown_as: str) -> bytes:
    """The bytecode file of a source; tracebacks name it `shown_as`. It is never checked against a source.

    Docstrings and assert statements are left out: nothing in the page reads the first or relies on the second.
    """
    return _file(compile(source, shown_as, "exec", optimize=2, dont_inherit=True))


def bytecode_of_ours(source: bytes, shown_as: str) -> bytes:
    """The same, without the annotations of functions, and each class has a docstring of one letter.

    `dataclass` writes a docstring where there is none, which takes it a third of its time when the page starts.
    """
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, *_FUNCTIONS)):
            _shorten(node)
        if isinstance(node, (*_FUNCTIONS, ast.arg)):
            setattr(node, "annotation" if isinstance(node, ast.arg) else "returns", None)
    return _file(compile(tree, shown_as, "exec", optimize=1, dont_inherit=True))


def _shorten(node) -> None:
    if ast.get_docstring(node, clean=False) is not None:
        del node.body[0]
    if isinstance(node, ast.ClassDef):
        node.body.insert(0, ast.Expr(ast.Constant("-")))
    elif not node.body:
        node.body.append(ast.Pass())
    ast.fix_missing_locations(node)


def _file(code) -> bytes:
    return bytes(_code_to_hash_pyc(code, b"\0" * 8, False))
