"""The two builds that the project writes itself, read as an outsider would: by YAML alone, without the program."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

PROJECT = Path(__file__).parents[2]
FOLDERS = {"teasel-150": PROJECT / "content" / "teasel-150", "starter": PROJECT / "dossier" / "starter"}


class Said:
    """What a build.yaml says. ``mm("focuser.height")`` is a length in millimetres."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.spec: dict[str, Any] = yaml.safe_load((folder / "build.yaml").read_text(encoding="utf-8"))

    def at(self, key: str) -> Any:
        value: Any = self.spec
        for name in key.split("."):
            value = value[int(name)] if name.isdigit() else value[name]
        return value

    def mm(self, key: str) -> float:
        return length_mm(self.at(key))

    def parts(self) -> list[dict[str, Any]]:
        return list(self.spec["parts"])


def length_mm(text: str) -> float:
    number, unit = text.split()
    assert unit == "mm", f"{text} is not in mm"
    return float(number)


@pytest.fixture(params=sorted(FOLDERS))
def said(request: pytest.FixtureRequest) -> Said:
    """Each of the two builds in turn."""
    return Said(FOLDERS[request.param])


@pytest.fixture(scope="session")
def teasel() -> Said:
    return Said(FOLDERS["teasel-150"])
