"""Builds to publish and published pages to read."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from dossier.design import Design, work_out
from dossier.errors import Unusable
from dossier.publish import Options, publish_all
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.themes import load_theme
from dossier.spec.load import load_build

STARTER = Path(__file__).parents[2] / "dossier" / "starter"

Publish = Callable[..., Path]


def quiet(_: str) -> None:
    """These tests do not look at the progress."""


@dataclass
class Read(HTMLParser):
    """One page as its reader gets it: what it links, fetches and names, and its text."""

    text: str
    links: list[dict[str, str]] = field(default_factory=list)
    fetched: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.feed(self.text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        self.tags.append((tag, values))
        if "id" in values:
            self.ids.append(values["id"])
        if tag == "a" and "href" in values:
            self.links.append(values)
        if tag == "link" and values["href"] != "data:,":  # an empty picture written into the page is not fetched
            self.fetched.append(values["href"])
        if "src" in values:
            self.fetched.append(values["src"])

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def called(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every element of this name."""
        return [values for name, values in self.tags if name == tag]

    @property
    def said(self) -> str:
        """All text of the page in one line."""
        return " ".join(" ".join(self.words).split())


@pytest.fixture
def read() -> Callable[[Path], Read]:
    """Reads a published page."""
    return lambda path: Read(path.read_text("utf-8"))


@pytest.fixture
def read_text() -> Callable[[str], Read]:
    """Reads a piece of HTML."""
    return Read


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A copy of the starter build, to be changed."""
    return Path(shutil.copytree(STARTER, tmp_path / "builds" / "dunlin-114"))


@pytest.fixture(scope="session")
def worked_out() -> Design:
    """The starter build, worked out once."""
    return work_out(load_build(STARTER))


@pytest.fixture
def book(worked_out: Design) -> Callable[[Path], Book]:
    """The pages of a build whose spec is the starter's own, read as for publishing."""
    def run(build: Path) -> Book:
        loaded = replace(worked_out.loaded, folder=build, file=build / "build.yaml")
        return Book(replace(worked_out, loaded=loaded), load_theme())
    return run


@pytest.fixture
def problems(book: Callable[[Path], Book]) -> Callable[[Path], list[str]]:
    """What is wrong with the pages of such a build, as its author reads it."""
    def run(build: Path) -> list[str]:
        with pytest.raises(Unusable) as raised:
            Site(book(build)).files()
        return [str(problem) for problem in raised.value.problems]
    return run


@pytest.fixture
def publish(tmp_path: Path) -> Publish:
    """Publishes a build without its packet, below the test's own folder."""
    def run(build: Path, out: Path | None = None, theme: str = "drawing-office") -> Path:
        return publish_all((build,), out or tmp_path / "out", Options(theme=theme, no_packet=True), quiet, quiet)[0]
    return run


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The least that a spec may say, published."""
    folder = tmp_path_factory.mktemp("bare")
    (folder / "bare").mkdir()
    (folder / "bare" / "build.yaml").write_text(
        "format: 1\nabout: {name: Bare}\nprimary: {aperture: 100 mm, focal_length: 800 mm}\n"
        "diagonal: {minor_axis: 25 mm}\nfocuser: {mounting_radius: 70 mm, height: 50 mm}\n", "utf-8")
    return publish_all((folder / "bare",), folder / "out", Options(no_packet=True), quiet, quiet)[0]


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter build, published once for a file of tests. Do not write into it."""
    folder = tmp_path_factory.mktemp("published")
    build = Path(shutil.copytree(STARTER, folder / "dunlin-114"))
    return publish_all((build,), folder / "out", Options(no_packet=True), quiet, quiet)[0]
