"""The picture of the README: the demo's general arrangement as the program draws it, on a sheet of its own.

    python -m tests.cli.readme_picture

draws it again, after a change of the demo or of the drawing. ``test_readme.py`` fails while it is out of date.
"""

from __future__ import annotations

import re

from dossier.design import work_out
from dossier.drawings.general_arrangement import draw
from dossier.drawings.palette import PAPER
from dossier.spec.load import load_build
from tests.conftest import TEASEL

PICTURE = TEASEL / "images" / "general-arrangement.svg"


def picture() -> str:
    """The drawing with paper under it, so that its black lines are seen on a dark page too."""
    drawing = draw(work_out(load_build(TEASEL)), palette=PAPER)
    found = re.search(r'viewBox="(\S+) (\S+) (\S+) (\S+)"', drawing)
    assert found
    left, top, width, height = found.groups()
    sheet = f'<rect x="{left}" y="{top}" width="{width}" height="{height}" fill="{PAPER.ground}"/>'
    return drawing.replace("</desc>\n", f"</desc>\n{sheet}\n", 1)


if __name__ == "__main__":
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_text(picture(), "utf-8")
