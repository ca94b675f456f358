"""`python -m matside < request.json` prints the answer; exit status 2 when the request is refused."""

import json
import sys

from . import answer
from .door import LARGEST_REQUEST, refused
from .errors import Refusal
from .units import shown


def main() -> int:
    """Reads one request from standard input, prints its answer, returns the exit status."""
    found = _answered(sys.stdin.buffer.read(LARGEST_REQUEST + 1))
    sys.stdout.write(json.dumps(found, ensure_ascii=False, allow_nan=False) + "\n")
    return 0 if found["ok"] else 2


def _answered(text: bytes) -> dict:
    try:
        if len(text) > LARGEST_REQUEST:
            raise Refusal("", "request_too_large")
        return answer(_parsed(text))
    except Refusal as refusal:
        return {"ok": False, "error": refused(refusal)}


def _parsed(text: bytes):
    try:
        return json.loads(text.decode("utf-8"))
    except RecursionError:
        raise Refusal("", "request_too_deep") from None
    except ValueError as error:  # not UTF-8, not JSON, or a number of thousands of digits
        raise Refusal("", "request_not_json", given=shown(str(error))) from None


if __name__ == "__main__":
    sys.exit(main())
