"""The builds that the project writes itself, read as an outsider would: by YAML alone, without the program."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from dossier.design import Design, work_out
from dossier.spec.load import load_build

PROJECT = Path(__file__).parents[2]
DEMOS = {path.parent.name: path.parent for path in sorted((PROJECT / "content").glob("*/build.yaml"))}
FOLDERS = {**DEMOS, "starter": PROJECT / "dossier" / "starter"}


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


@lru_cache
def said_of(name: str) -> Said:
    return Said(FOLDERS[name])


@lru_cache
def design_of(name: str) -> Design:
    return work_out(load_build(FOLDERS[name]))


@pytest.fixture(params=sorted(FOLDERS), scope="session")
def said(request: pytest.FixtureRequest) -> Said:
    """Each of the builds in turn, the starter as well."""
    return said_of(request.param)


@pytest.fixture(params=sorted(DEMOS), scope="session")
def demo(request: pytest.FixtureRequest) -> Said:
    """Each of the demo builds in turn."""
    return said_of(request.param)


@pytest.fixture(scope="session")
def worked_out() -> Callable[[Said], Design]:
    """What a build comes to, worked out once."""
    return lambda said: design_of(said.folder.name)


@pytest.fixture(scope="session")
def teasel() -> Said:
    return said_of("teasel-150")


@pytest.fixture(scope="session")
def alder() -> Said:
    return said_of("alder-250")
