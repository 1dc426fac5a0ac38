"""Look at a sheet of the drawing set: ``python -m tests.drawings.look KEY BUILD OUT [A4|Letter]`` writes OUT.svg,
OUT.pdf and, where pdftoppm is there, OUT.png. With ``all`` for a key it writes every sheet, OUT-KEY.png each.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from pathlib import Path

from dossier.design import work_out
from dossier.drawings.palette import PAPER
from dossier.drawings.sheets.compose import sheets_of
from dossier.drawings.svg import render
from dossier.publish.vector_pdf import as_pdf
from dossier.spec.load import load_build


def main(key: str, build: str, out: str, paper: str = "") -> None:
    design = work_out(load_build(Path(build)))
    start = time.perf_counter()
    sheets = sheets_of(design, paper or design.build.readers.paper)
    print(f"{len(sheets)} sheets in {time.perf_counter() - start:.2f} s")
    for sheet in sheets:
        if key not in ("all", sheet.kind.key):
            continue
        base = out if key != "all" else f"{out}-{sheet.kind.key}"
        Path(f"{base}.svg").write_text(render(sheet.scene, PAPER), "utf-8")
        Path(f"{base}.pdf").write_bytes(as_pdf([sheet.scene], title=sheet.kind.title))
        if shutil.which("pdftoppm"):
            subprocess.run(["pdftoppm", "-r", "110", "-png", "-singlefile", f"{base}.pdf", base], check=True)
        print(base, "scale", sheet.fields.scale)


if __name__ == "__main__":
    main(*sys.argv[1:])
