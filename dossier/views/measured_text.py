"""What measured values change, as plain text for a terminal."""

from __future__ import annotations

import re
from collections.abc import Iterator

from dossier.design import Design
from dossier.views.spoken import Spoken
from dossier.views.words import measured

_STRONG = re.compile(r"\*\*|`")


def measured_lines(design: Design) -> Iterator[str]:
    """The words of the measured sheet, a line for each paragraph and each limit; none for a plan alone."""
    spoken = Spoken(design)
    for line in filter(None, measured.change(design).splitlines()):
        yield f"measured: {_STRONG.sub('', spoken.plain(spoken.marked(line, '', 0))).replace('* ', '    ', 1)}"
