"""`python -m matside < request.json` prints the answer; exit status 2 when the request is refused.

With `--language de` (es, fr, ja) what a refusal says is in that language.
"""

import json
import sys

from . import answer
from .door import LARGEST_REQUEST, refused
from .errors import Refusal
from .units import shown
from .words.catalogue import languages

_LONGEST_NUMBER = 1000


def main() -> int:
    """Reads one request from standard input, prints its answer, returns the exit status."""
    language = _language()
    text = sys.stdin.buffer.read(LARGEST_REQUEST + 1) if sys.stdin else b""
    found = _answered(text, language)
    line = json.dumps(found, ensure_ascii=False, allow_nan=False) + "\n"
    # UTF-8 whatever the terminal's own encoding; half a surrogate pair becomes \\udXXX, which
    # is JSON's own escape for it.
    sys.stdout.buffer.write(line.encode("utf-8", "backslashreplace"))
    return 0 if found["ok"] else 2


def _language() -> str:
    """The language that the command names, English where it names none."""
    given = sys.argv[1:] or ["--language", "en"]
    if len(given) != 2 or given[0] != "--language" or given[1] not in languages():
        sys.exit(f"usage: python -m matside [--language {'|'.join(languages())}] < request.json")
    return given[1]


def _answered(text: bytes, language: str) -> dict:
    try:
        if len(text) > LARGEST_REQUEST:
            raise Refusal("", "request_too_large")
        return answer(_parsed(text), language)
    except Refusal as refusal:
        return {"ok": False, "error": refused(refusal, language)}


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
