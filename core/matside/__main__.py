"""`python -m matside < request.json` prints the answer; exit status 2 when the request is refused.

With `--language de` (es, fr, ja) what a refusal says is in that language. `python -m matside chart` and the other
commands in `shell` make handouts.
"""

import json
import sys
from typing import NoReturn

from . import answer
from .door import LARGEST_REQUEST, refused
from .errors import Refusal
from .units import shown
from .words.catalogue import languages

_LONGEST_NUMBER = 1000


def main() -> int:
    """Answers one request from standard input, or does what a command says; returns the exit status."""
    if sys.argv[1:] and not sys.argv[1].startswith("-"):
        return _handout()
    language = _language()
    found = _answered(_read(), language)
    _print(found)
    return 0 if found["ok"] else 2


def _read() -> bytes:
    return sys.stdin.buffer.read(LARGEST_REQUEST + 1) if sys.stdin else b""


def _print(found: dict) -> None:
    line = json.dumps(found, ensure_ascii=False, allow_nan=False) + "\n"
    # UTF-8 whatever the terminal's own encoding; half a surrogate pair becomes \\udXXX, which
    # is JSON's own escape for it.
    sys.stdout.buffer.write(line.encode("utf-8", "backslashreplace"))


def _handout() -> int:
    """Does what a command of `shell` says; its refusals are told as those of any request."""
    from . import shell  # only where it is asked for: the plain door starts without it

    if sys.argv[1] not in shell.COMMANDS:
        _end_with_usage()
    try:
        found, status = shell.run(sys.argv[1:], _request)
    except Refusal as refusal:
        language = shell.language_of(sys.argv[1:])
        found, status = {"ok": False, "error": refused(refusal, language)}, 2
    if found:
        _print(found)
    return status


def _request():
    """The request on standard input; an empty one where there is nothing to be read."""
    text = b"" if sys.stdin is None or sys.stdin.isatty() else _read()
    return _checked(text) if text.strip() else {}


def _language() -> str:
    """The language that the command names, English where it names none."""
    given = sys.argv[1:] or ["--language", "en"]
    if len(given) != 2 or given[0] != "--language" or given[1] not in languages():
        _end_with_usage()
    return given[1]


def _end_with_usage() -> NoReturn:
    from . import shell

    usage = f"usage: python -m matside [--language {'|'.join(languages())}] < request.json"
    sys.exit(f"{usage}\n       python -m matside {'|'.join(shell.COMMANDS)} --help")


def _answered(text: bytes, language: str) -> dict:
    try:
        return answer(_checked(text), language)
    except Refusal as refusal:
        return {"ok": False, "error": refused(refusal, language)}


def _checked(text: bytes):
    if len(text) > LARGEST_REQUEST:
        raise Refusal("", "request_too_large")
    return _parsed(text)


def _parsed(text: bytes):
    try:
        return json.loads(text.decode("utf-8"), parse_int=_whole_number)
    except RecursionError:
        raise Refusal("", "request_too_deep") from None
    except ValueError as error:  # not UTF-8 or not JSON
        raise Refusal("", "request_not_json", given=shown(str(error))) from None


def _whole_number(digits: str) -> int:
    # A number this long is past every limit, and so are its first digits: the field it stands in refuses either.
    return int(digits[:_LONGEST_NUMBER])


if __name__ == "__main__":
    sys.exit(main())
