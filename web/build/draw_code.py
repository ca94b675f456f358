"""Writes the code of a text (a QR code, ISO/IEC 18004) to a file: a row a line, # for dark and . for light, the light
border around it included. build.py runs it by the environment's Python, which has segno: draw_code.py TEXT FILE
"""

import sys
from pathlib import Path

import segno

BORDER = 4  # modules, as the standard asks

text, out = sys.argv[1:]
rows = segno.make_qr(text, error="m").matrix_iter(border=BORDER)
Path(out).write_text("".join("".join("#" if dark else "." for dark in row) + "\n" for row in rows), "ascii")
