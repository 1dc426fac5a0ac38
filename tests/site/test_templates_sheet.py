"""The sheet of templates: what each is for, how its print is checked, and files that are there."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from dossier.drawings.templates import templates_of
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.themes import load_theme

FORMS = ("pdf", "dxf", "svg")


@pytest.fixture(scope="module")
def files(worked_out) -> dict[str, bytes]:
    """The starter's site, on Letter."""
    return Site(Book(worked_out, load_theme()), "Letter").files()


def test_every_template_stands_on_the_sheet_with_its_three_files(worked_out, files) -> None:
    page = files["templates.html"].decode()
    for template in templates_of(worked_out):
        assert template.use in page
        for form in FORMS:
            assert f'href="templates/{template.key}.{form}"' in page
            assert files[f"templates/{template.key}.{form}"]
            assert f"templates/{template.key}.{form}" in files["downloads.html"].decode()
    assert {name.rsplit(".", 1)[0] for name in files if name.startswith("templates/")} == {
        f"templates/{template.key}" for template in templates_of(worked_out)}


def test_the_sheet_says_how_a_print_is_checked_and_what_cutting_can_do(files) -> None:
    page = files["templates.html"].decode()
    for words in ("page scaling off", "Measure both with a steel rule", "shrinks and stretches", "PVC"):
        assert words in page


def test_the_paper_asked_for_is_the_paper_of_the_templates(files) -> None:
    for name in [name for name in files if name.startswith("templates/") and name.endswith(".pdf")]:
        for page in PdfReader(io.BytesIO(files[name])).pages:
            assert sorted(float(side) for side in page.mediabox[2:]) == [612, 792]
    assert "Letter" in files["templates.html"].decode()
