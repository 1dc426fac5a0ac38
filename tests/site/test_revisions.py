"""The history of a build on its site: permanent addresses, what is the latest, what changed, the feed."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from dossier.design import work_out
from dossier.publish import Options, kept, publish_all
from dossier.publish.write import MARK
from dossier.revisions.issue import issue
from dossier.spec.load import load_build

SPEC = """\
format: 1
about: {name: Sedge 100, authors: [Ferry Lane Club], site: "https://example.org/sedge/"}
readers: {currency: EUR}
primary: {aperture: 100 mm, focal_length: 800 mm}
diagonal: {minor_axis: 25 mm}
focuser: {mounting_radius: 70 mm, height: 50 mm}
parts:
  - {ref: P1, name: Mirror, get: buy, price: 40, mass: 0.5 kg}
  - ref: P2
    name: Pole
    get: make
    price: 8
    cut: {from: tube, stock_length: 2000 mm, pieces: [{length: 700 mm, quantity: 2}]}
"""
NOTES = """\
notes:
  - {id: N1, title: The poles slip, touches: [A], parts: [P2], closed_by: B}
  - {id: N2, title: "The mirror rattles at {{ optics.focal_ratio }}", touches: [A], parts: [P1]}
"""
ATOM = "{http://www.w3.org/2005/Atom}"


def quiet(_: str) -> None:
    """These tests do not look at the progress."""


def run(root: Path, **how: Any) -> Path:
    said: list[str] = []
    site = publish_all((root / "sedge-100",), root / "out", Options(no_packet=True, **how), quiet, said.append)[0]
    assert said == []
    return site


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A build with revisions A and B and a draft after them, published once."""
    root = tmp_path_factory.mktemp("history")
    folder = root / "sedge-100"
    folder.mkdir()
    (folder / "build.yaml").write_text(SPEC)
    issue(work_out(load_build(folder)), "First issue.", on=date(2026, 2, 1))
    (folder / "build.yaml").write_text(SPEC.replace("length: 700", "length: 690").replace("price: 40", "price: 44"))
    issue(work_out(load_build(folder)), "Poles 10 mm shorter.", on=date(2026, 5, 1))
    draft = SPEC.replace("25 mm", "28 mm").replace("name: Pole", "name: Longer pole")
    (folder / "build.yaml").write_text(draft + NOTES)
    run(root)
    return root


@pytest.fixture
def site(root: Path) -> Path:
    return root / "out" / "sedge-100"


def words(page: Path) -> str:
    text = re.sub(r"<(svg|style|script).*?</\1>", " ", page.read_text(), flags=re.S)
    return " ".join(re.sub("<[^>]*>", " ", text).split())


def test_each_revision_stays_readable_at_its_address(site):
    """With its own numbers, and the latest named on those that are not."""
    old, new = (words(site / "r" / letter / "parts.html") for letter in "AB")
    assert "Revision A" in old
    assert "40.00" in old
    assert "44.00" in new
    assert "Revision A has been followed by others. The latest is B of 2026-05-01" in words(site / "r/A/index.html")
    assert "Revision B, the latest that was issued" in words(site / "r/B/index.html")
    assert "A draft that has not been issued. The latest issued revision is B of 2026" in words(site / "index.html")


def test_an_old_revision_names_what_was_found_in_it_since(site):
    """A flaw that nobody closed is in all that follow; one that was closed is named with the parts that had it."""
    rattles = ("../../known-issues.html#note-N2", "The mirror rattles at 8")
    for letter, expected in (("A", [("../../known-issues.html#note-N1", "The poles slip"), rattles]), ("B", [rattles])):
        notice = re.search(r'<aside class="notice".*?</aside>', (site / "r" / letter / "parts.html").read_text(), re.S)
        assert notice
        assert re.findall(r'href="([^"]*known-issues[^"]*)">([^<]*)', notice[0]) == expected
        assert ('<a href="../../change-A-B.html">from A to B</a>' in notice[0]) == (letter == "A")
    now = (site / "known-issues.html").read_text()
    put_right = now[now.index("What has been put right?"):]
    assert '<a href="r/A/parts.html#part-P2">P2</a> Pole<' in put_right
    assert "open in the draft after revision B" in now
    assert "known-issues" not in (site / "index.html").read_text().partition("</aside>")[0].partition("notice")[2]


def test_the_address_of_the_latest_leads_to_it(site):
    page = (site / "r/latest/index.html").read_text()
    assert 'content="0; url=../B/index.html"' in page
    assert (site / "r/latest/../B/index.html").is_file()


def test_no_link_of_any_revision_leads_nowhere(site):
    """Every address that a page names below the site is there, whichever folder it is read from."""
    for page in site.rglob("*.html"):
        for href in re.findall(r'href="([^"#:]+?)(?:#[^"]*)?"', page.read_text()):
            assert (page.parent / href).resolve().is_file(), f"{page}: {href}"


def test_what_changed_and_what_it_takes(site):
    page = words(site / "change-A-B.html")
    assert "Poles 10 mm shorter." in page
    assert "Cost of one kit: 48.00 EUR before, 52.00 EUR now." in page
    assert "2 of 690 mm the old piece of 700 mm" in page
    assert "P2 tube, 690 mm 0 2" in page
    draft = words(site / "change-B-draft.html")
    assert "diagonal.minor_axis 25 mm 28 mm" in draft


def test_both_arrangements_lie_over_one_another_at_one_scale(site):
    """The focuser stands where it stood, since neither changed: read from the lines of both."""
    svg = re.search(r"<svg[^>]*change-A-B-wide.*?</svg>", (site / "change-A-B.html").read_text(), re.S)
    assert svg
    sides = re.findall(r'data-side="(old|new)"', svg[0])
    assert sides == ["old", "new"]
    faces = re.findall(r'<path d="([^"]*)"[^>]*data-part="primary-face"', svg[0])
    assert len(faces) == 2
    assert faces[0] == faces[1]


def test_the_feed_is_atom(site):
    """RFC 4287 (recalled): title, id and updated of feed and entries; the newest first; permanent addresses."""
    feed = ElementTree.parse(site / "revisions.atom").getroot()
    assert feed.tag == f"{ATOM}feed"
    for node in (feed, *feed.findall(f"{ATOM}entry")):
        assert all(node.findtext(f"{ATOM}{name}") for name in ("title", "id", "updated"))
    entries = feed.findall(f"{ATOM}entry")
    assert [entry.findtext(f"{ATOM}title") for entry in entries] == ["Sedge 100, revision B", "Sedge 100, revision A"]
    assert [entry.find(f"{ATOM}link").get("href") for entry in entries] == [
        "https://example.org/sedge/r/B/index.html", "https://example.org/sedge/r/A/index.html"]
    assert feed.findtext(f"{ATOM}updated") == entries[0].findtext(f"{ATOM}updated") == "2026-05-01T00:00:00Z"
    assert feed.findtext(f"{ATOM}author/{ATOM}name") == "Ferry Lane Club"
    assert 'type="application/atom+xml"' in (site / "optics.html").read_text()


@pytest.fixture
def again(root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, Callable[..., list[str]]]:
    """A copy of all of it, and what is worked out when it is published once more."""
    import dossier.publish.earlier as earlier

    copy = Path(shutil.copytree(root, tmp_path / "copy"))
    opened: list[str] = []
    original = earlier.design_of
    monkeypatch.setattr(earlier, "design_of", lambda folder, letter, **rest: opened.append(letter) or original(
        folder, letter, **rest))

    def publish(**how: Any) -> list[str]:
        opened.clear()
        run(copy, **how)
        return list(opened)

    return copy, publish


def test_revisions_that_stand_are_copied_not_made(again):
    """The draft changes: A and B are taken as they stand, to the byte; a new revision makes them say so."""
    copy, publish = again
    site, spec = copy / "out" / "sedge-100", copy / "sedge-100" / "build.yaml"
    before = {path: path.read_bytes() for path in (site / "r").rglob("*") if path.is_file()}
    spec.write_text(spec.read_text() + "# thought over\n")
    assert publish() == []
    assert {path: path.read_bytes() for path in (site / "r").rglob("*") if path.is_file()} == before
    assert kept.still_there(site / "r/A", kept._read(site / "r/A" / kept.RECORD).key, MARK)
    issue(work_out(load_build(copy / "sedge-100")), "A wider diagonal.", on=date(2026, 8, 1), accept_misses=True)
    assert publish() == ["A", "B", "C"]
    assert "The latest is C of 2026-08-01" in words(site / "r/B/index.html")
    assert "Revision C, the latest. It stays readable at r/C/" in words(site / "index.html")


def test_without_revisions_nothing_is_said_of_any(tmp_path):
    (tmp_path / "sedge-100").mkdir()
    (tmp_path / "sedge-100" / "build.yaml").write_text(SPEC)
    site = run(tmp_path)
    assert not list(site.glob("r/*")) + list(site.glob("revisions*"))
    assert "notice" not in (site / "index.html").read_text()
