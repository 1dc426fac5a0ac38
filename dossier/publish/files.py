"""The files of a build that its pages hand out: none from outside its folder, each under a name of its own."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

BELOW = "files"
LARGEST_FILE = 200_000_000
_ACTIVE = re.compile(
    rb"<script|<foreignObject|\son\w+\s*=|@import|(?:href|src)\s*=\s*[\"']\s*(?!#|data:image/)"
    rb"|url\(\s*[\"']?\s*(?!#|data:)", re.IGNORECASE)


@dataclass
class BuildFiles:
    """What the pages of one build refer to. ``copies`` fills as they ask: address on the site → file."""

    folder: Path
    copies: dict[str, Path] = field(default_factory=dict)

    def published(self, named: str, asked_from: str) -> str:
        """The address of a file that a text names, seen from the text's own folder or from the build's.

        ValueError with a plain message where there is no such file inside the build's folder.
        """
        path = self._inside(named, Path(asked_from).parent)
        inner = path.relative_to(self.folder.resolve())
        if any(part.startswith(".") for part in inner.parts):
            raise ValueError(f"{named} is a hidden file, which is not published")
        if path.stat().st_size > LARGEST_FILE:
            raise ValueError(f"{named} is larger than {LARGEST_FILE // 1_000_000} MB")
        if path.suffix.lower() == ".svg" and _ACTIVE.search(path.read_bytes()):
            raise ValueError(f"{named} holds a script or fetches something; save it as a plain drawing")
        address = f"{BELOW}/{inner.as_posix()}"
        self.copies[address] = path
        return quote(address)

    def _inside(self, named: str, beside: Path) -> Path:
        root = self.folder.resolve()
        found = [(start / named).resolve() for start in (beside, root)]
        there = next((path for path in found if path.is_file()), None)
        outside = all(not path.is_relative_to(root) for path in found)
        if Path(named).is_absolute() or outside or (there and not there.is_relative_to(root)):
            raise ValueError(f"{named} lies outside the build's folder")
        if there is None:
            raise ValueError(f"there is no {named} in the build's folder")
        return there
