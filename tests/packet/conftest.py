"""What a printer would put on each page, read back from the PDF in millimetres, and a small build to print."""

from __future__ import annotations

import io
import logging
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest
from pypdf import PageObject, PdfReader

from dossier.design import Design, work_out
from dossier.publish.book import Book
from dossier.publish.packet import packet_pdf
from dossier.publish.themes import load_theme
from dossier.spec.load import load_build

MM = 25.4 / 72
SPEC = """\
format: 1
about: {name: Sandpiper 100, summary: A small one., authors: [Reed Bank Club], licence: CERN-OHL-S-2.0,
        date: 2026-03-04, drawing_number: SP-100, approved_by: A. Reed}
readers: {units: metric, currency: EUR}
primary: {aperture: 100 mm, focal_length: 800 mm, conic: 0}
diagonal: {minor_axis: 25 mm}
focuser: {mounting_radius: 80 mm, height: 50 mm}
goals: [{result: optics.focal_ratio, at_least: 8, because: a sphere}]
parts:
  - {ref: P1, name: "Mirror, f/{{ optics.focal_ratio }}", group: optics, get: buy, quantity: 1, price: 30.00,
     mass: 0.5 kg, why: It makes the image.}
  - {ref: P2, name: Screws, group: box, get: buy, quantity: 7, pack: 10, price: 4.00, mass: 0.01 kg}
"""
PAGES = {
    "overview.md": "# Sandpiper\n\nIts focal ratio is {{ optics.focal_ratio }}, its focal length "
                   "{{ spec.primary.focal_length }}.\n",
    "own.md": "# A sheet of its own\n\n## First place\n\nSee [the step](steps/01-cut.md), [below](#second-place), "
              "[the spec](spec.html) and [a club](https://example.org/club).\n\n## Second place\n\nText.\n",
    "steps/01-cut.md": """---
title: Cut the wood
parts: [P2]
tools: [saw, drill]
time: 90 min
people: 2
cautions: [power-tools]
checks: [{what: Length, target: "{{ spec.primary.aperture }}", tolerance: 1 mm}]
record: [Who held it]
---
Cut it. Then [read on](../own.md#second-place).
""",
}


@dataclass(frozen=True)
class Line:
    """A straight stroke, in mm from the page's lower left corner."""

    start: tuple[float, float]
    end: tuple[float, float]

    @property
    def length(self) -> float:
        return float(((self.start[0] - self.end[0]) ** 2 + (self.start[1] - self.end[1]) ** 2) ** 0.5)

    @property
    def is_level(self) -> bool:
        return abs(self.start[1] - self.end[1]) < 1e-3


@dataclass(frozen=True)
class Lettering:
    """A run of text: the size of its type in mm, and how many mm a unit of what it stands in has."""

    size: float
    unit: float


class Printed:
    """One page."""

    def __init__(self, page: PageObject) -> None:
        self.page = page

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in mm."""
        return float(self.page.mediabox.width) * MM, float(self.page.mediabox.height) * MM

    @cached_property
    def text(self) -> str:
        """All text, its spaces made plain."""
        return " ".join(self.page.extract_text().split())

    @cached_property
    def _marks(self) -> tuple[list[Line], list[tuple[float, float]], list[Lettering]]:
        lines: list[Line] = []
        boxes: list[tuple[float, float]] = []
        letterings: list[Lettering] = []
        at: list[tuple[float, float]] = []
        type_size, turned = 0.0, 1.0

        def seen(operator: bytes | str, operands: list[Any], cm: list[float], tm: list[float]) -> None:
            nonlocal type_size, turned
            unit = max(abs(cm[0]), abs(cm[1])) * MM
            match operator.decode() if isinstance(operator, bytes) else operator:
                case "m":
                    at[:] = [_placed(operands, cm)]
                case "l":
                    at.append(_placed(operands, cm))
                    lines.append(Line(at[-2], at[-1]))
                case "re":
                    boxes.append((float(operands[2]) * unit, float(operands[3]) * unit))
                case "Tf":
                    type_size = float(operands[1])
                case "Tm":
                    turned = max(abs(float(operands[0])), abs(float(operands[1])))
                case "TJ":
                    letterings.append(Lettering(type_size * turned * unit, unit))

        self.page.extract_text(visitor_operand_before=seen)
        return lines, boxes, letterings

    @property
    def lines(self) -> list[Line]:
        """Every straight stroke."""
        return self._marks[0]

    @property
    def boxes(self) -> list[tuple[float, float]]:
        """Width and height of every rectangle in mm."""
        return self._marks[1]

    @property
    def letterings(self) -> list[Lettering]:
        """Every run of text."""
        return self._marks[2]


def _placed(operands: list[Any], cm: list[float]) -> tuple[float, float]:
    x, y = float(operands[0]), float(operands[1])
    return (cm[0] * x + cm[2] * y + cm[4]) * MM, (cm[1] * x + cm[3] * y + cm[5]) * MM


class Packet:
    """A packet read back."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.reader = PdfReader(io.BytesIO(data))
        self.pages = [Printed(page) for page in self.reader.pages]

    def pages_of(self, sheet: str) -> list[Printed]:
        """The pages whose head names this sheet."""
        return [page for page in self.pages if f"Sheet title {sheet} Revision" in page.text]

    @property
    def drawings(self) -> list[Printed]:
        """The sheets of the drawing set, which have a title block of their own."""
        return [page for page in self.pages[1:] if "Identification number" in page.text]


class Listener(logging.Handler):
    """Keeps what is said."""

    def __init__(self, level: int) -> None:
        super().__init__(level)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())


Read = Callable[[bytes], Packet]


@pytest.fixture(scope="session")
def read() -> Read:
    """Reads a packet back."""
    return Packet


@pytest.fixture(scope="session")
def teasel_packet(teasel_with_packet: Path) -> Packet:
    """The demo's packet."""
    return Packet((teasel_with_packet / "packet.pdf").read_bytes())


@pytest.fixture(scope="session")
def small_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small build with a sheet of its own and one step."""
    folder = tmp_path_factory.mktemp("builds") / "sandpiper"
    (folder / "pages" / "steps").mkdir(parents=True)
    (folder / "build.yaml").write_text(SPEC)
    for name, text in PAGES.items():
        (folder / "pages" / name).write_text(text)
    return folder


@pytest.fixture(scope="session")
def small_design(small_folder: Path) -> Design:
    """The small build for three kits."""
    return small(small_folder)


def small(folder: Path) -> Design:
    """The build in this folder for three kits."""
    return work_out(load_build(folder), kits=3)


@pytest.fixture(scope="session")
def short_theme(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The theme without the sheets of results, steps and workings, which take long to set."""
    folder = tmp_path_factory.mktemp("themes") / "short"
    (folder / "templates").mkdir(parents=True)
    (folder / "theme.yaml").write_text("extends: drawing-office\n")
    for name in ("results", "steps", "proofs"):
        (folder / "templates" / f"packet-{name}.html.j2").write_text("")
    return folder


@pytest.fixture(scope="session")
def small_packet(small_design: Design) -> Packet:
    """The small build's packet on A4. Whatever WeasyPrint complains of while it is set fails the tests."""
    listener, log = Listener(logging.WARNING), logging.getLogger("weasyprint")
    log.addHandler(listener)
    packet = Packet(packet_pdf(Book(small_design, load_theme()), "A4"))
    log.removeHandler(listener)
    assert listener.heard == []
    return packet


@pytest.fixture(scope="session")
def small_packets(small_design: Design, small_packet: Packet, short_theme: Path) -> dict[str, Packet]:
    """The small build's packet by paper; on Letter the short one."""
    letter = packet_pdf(Book(small_design, load_theme(str(short_theme))), "Letter")
    return {"A4": small_packet, "Letter": Packet(letter)}
