#!/usr/bin/env python3
"""Builds, serves, tests and measures Matside. Plain Python 3.11 or newer; everything else is fetched into .venv.

python3 build.py build           build dist/
python3 build.py serve           build dist/ and serve it on 127.0.0.1
python3 build.py serve --hall [--plan FILE] [--address NAME] [--certificate FILE [--key FILE]]
                                 build dist/ and serve it, and the plan, to everyone nearby
python3 build.py test [args]     set up the tests and run them; further arguments go to pytest
python3 build.py bench [names]   print the figures of tests/bench
python3 build.py torture [parts] kill browsers and make up inputs for as long as it takes; goes on where it was
python3 build.py mutate [modules] [--sample N] [--seed S]
                                 change the core on purpose and print what no test notices; goes on where it was
python3 build.py clean           remove everything that was made
"""

import sys

if sys.version_info < (3, 11):
    sys.exit(
        "build: Python 3.11 or newer is needed, this is %d.%d: run it as, for example, python3.11 build.py"
        % sys.version_info[:2]
    )

from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent / "web" / "build"))

from steps.commands import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], summary=__doc__))
