"""In place of what documents Pyodide's own types, and of the types that it takes from here.

Nobody reads in the page what a method does; and it is texts alone that cross the border to JavaScript.
"""


class _JsProxyMetaClass(type):
    """The type of the types of proxies."""


class InternalError(Exception):
    """Pyodide broke."""


class ConversionError(Exception):
    """What has no counterpart on the other side of the border."""


class JsBigInt(int):
    """JavaScript's whole number of any length."""


class JsNull:
    """JavaScript's null."""

    def __bool__(self) -> bool:
        return False

    def __repr__(self) -> str:
        return "jsnull"


class _Undocumented:
    """What has every method, and none of them documented."""

    def __init__(self, token) -> None:
        """Pyodide makes one with `_instantiate_token`."""

    def __getattr__(self, name: str) -> None:
        return None


jsnull = JsNull()

_instantiate_token = None
JsProxy = JsPromise = JsBuffer = JsArray = JsMutableMap = JsDoubleProxy = JsGenerator = _Undocumented
create_once_callable = create_proxy = destroy_proxies = to_js = run_sync = can_run_sync = None
