"""The sheet of what would be if: what it shows, and that it is there only where the spec asks."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from dossier.design import work_out
from dossier.publish.assets import Links
from dossier.publish.book import Book
from dossier.publish.html import render
from dossier.publish.lists import as_csv
from dossier.publish.themes import load_theme
from dossier.spec.load import load_build
from dossier.views import choices
from dossier.views.markup import NOTHING
from tests.explore.conftest import LEAST, PARTS

ASKED = LEAST + PARTS + """\
goals: [{result: optics.focal_ratio, at_least: 7.9, because: "no coma corrector"}, {result: parts.cost, at_most: 80}]
explore:
  - name: Shorter <or> wider?
    because: the car is small
    vary: {primary.focal_length: "1000 mm:1200 mm:50 mm", primary.aperture: "130 mm:160 mm:10 mm"}
    show: [optics.focal_ratio]
  - {name: Other parts, choose: [P1], show: [parts.cost, optics.focal_ratio]}
tolerances: {primary.focal_length: 30 mm, primary.aperture: 0.5 mm normal}
"""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The build with two studies and tolerances, made ready for its pages."""
    return book_of(tmp_path_factory.mktemp("asked"), ASKED)


def book_of(folder: Path, spec: str) -> Book:
    (folder / "build.yaml").write_text(spec, "utf-8")
    return Book(work_out(load_build(folder)), load_theme())


@pytest.fixture(scope="module")
def page(book: Book) -> str:
    view = choices.choices_view(book.design, book.page(choices.HREF), ())
    return render(book.theme.templates, "choices", view, Links((), (), NOTHING, NOTHING, (), ""))


def test_misses_are_hatched_and_said_in_words(page: str) -> None:
    cells = re.findall(r'<td class="number point-(\w+)">([^<]+).*?</td>', page)
    assert ("misses", "6.67") in cells
    assert ("close", "8") in cells
    assert len(re.findall(r'point-misses">[^<]+(?:<span class="pad".*?</span>)?<span class="cell-outcome">misses by',
                          page)) == sum(outcome == "misses" for outcome, _ in cells)
    assert page.count("Cannot be built: primary.blank_diameter 154") == 5 + 1


def test_each_study_has_its_reason_its_plan_and_its_plots(page: str) -> None:
    assert "Shorter &lt;or&gt; wider?" in page
    assert "The car is small." in page
    assert page.count('class="point-planned"') == 2
    assert page.count('id="picture-what-if-1-optics-focal-ratio"') == 1
    assert page.count('data-forbidden="misses"') == 2, "wide and upright"
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_lists_are_there_and_hold_every_point(book: Book, page: str) -> None:
    files = {each.name: as_csv(each) for each in choices.choice_lists(book.design)}
    assert re.findall(r'href="(lists/[^"]+)"', page) == list(files)
    assert list(files) == ["lists/what-if-1-shorter-or-wider.csv", "lists/what-if-2-other-parts.csv",
                           "lists/builders.csv"]
    head, *rows = csv.reader(next(iter(files.values())).decode("utf-8").splitlines())
    assert head[:3] == ["primary.focal_length_mm", "primary.aperture_mm", "optics.focal_ratio"]
    assert len(rows) == 20


def test_builders_are_told_with_their_bounds_and_their_spoiler(page: str) -> None:
    assert "300 builders were drawn at random (seed 0)" in page
    assert "No tolerance touches: Cost of one kit" in page
    assert re.search(r"Primary’s focal length: made perfect, it recovers \d+ of \d+ misses looked at, \d\d", page)
    assert "Primary’s focal length: 1200\u202fmm ± 30\u202fmm, anywhere within" in page
    assert 'id="picture-builders"' in page


def test_a_build_that_asks_nothing_has_no_such_sheet(book: Book, tmp_path: Path) -> None:
    plain = book_of(tmp_path, LEAST)
    assert choices.HREF in book.sheets.pages
    assert choices.HREF not in plain.sheets.pages
    assert choices.choice_lists(plain.design) == ()
