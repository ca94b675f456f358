"""In place of what lets Python say how JavaScript's functions are called: all are called alike."""

from _pyodide_core import JsFuncSignature, js2py_default_call_result, py2js_default


def _any(*args, **kwargs) -> None:
    """What takes anything."""


#: What a parameter has for a default that has none.
no_default = object()
default_signature = JsFuncSignature(
    _any,
    False,  # not called with `new`
    0,  # so many must be given
    *((), ()),  # by their place: how each is converted, and its default
    py2js_default,  # and all the others
    *((), (), ()),  # by name: the names, how each is converted, and its default
    py2js_default,  # and all the others
    js2py_default_call_result,
)
