"""Compiles Python source to bytecode files that need no source beside them and are the same at every build."""

from importlib._bootstrap_external import _code_to_hash_pyc

# 2 leaves out docstrings and assert statements: nothing in the page reads the first or relies on the second.
OPTIMIZE = 2


def bytecode(source: bytes, shown_as: str) -> bytes:
    """The bytecode file of a source; tracebacks name it `shown_as`. It is never checked against a source."""
    code = compile(source, shown_as, "exec", optimize=OPTIMIZE, dont_inherit=True)
    return bytes(_code_to_hash_pyc(code, b"\0" * 8, False))
