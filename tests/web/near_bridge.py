"""The core's bridge as a program: reads a call from each line, [name, *values] as JSON, and writes a line,
{"value": …} or {"error": …}.
"""

import json
import sys

from matside import bridge


def main() -> None:
    """Answers until there are no more lines."""
    for line in sys.stdin:
        name, *values = json.loads(line)
        try:
            told = {"value": getattr(bridge, name)(*values)}
        except Exception as error:  # whatever it is, in the page it is Python that broke
            told = {"error": repr(error)}
        print(json.dumps(told), flush=True)


if __name__ == "__main__":
    main()
