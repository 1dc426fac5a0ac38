"""The packet carries its build: what is in it, that it comes back as it was, and what a stranger's packet cannot do."""

from __future__ import annotations

import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject, TextStringObject

from dossier.design import work_out
from dossier.errors import Unusable
from dossier.publish import packet_source
from dossier.publish.begin import begin_from
from dossier.spec.load import load_build
from dossier.views.record import record
from tests.conftest import TEASEL

_PDFA = "{http://www.aiim.org/pdfa/ns/id/}"


@pytest.mark.long
def test_the_demo_comes_back_as_it_was(teasel_with_packet, tmp_path):
    """Every file of the author's, byte for byte; the same results."""
    written = begin_from(tmp_path / "teasel-150", teasel_with_packet / "packet.pdf")
    for path in written:
        assert path.read_bytes() == (TEASEL / path.relative_to(tmp_path / "teasel-150")).read_bytes()
    own = {path for path in TEASEL.rglob("*") if path.is_file() and "__pycache__" not in path.parts}
    assert {path.relative_to(tmp_path / "teasel-150") for path in written} == {path.relative_to(TEASEL) for path in own}
    before, after = (record(work_out(load_build(folder))) for folder in (TEASEL, tmp_path / "teasel-150"))
    assert after["results"] == before["results"]
    assert after["spec_sha256"] == before["spec_sha256"]


@pytest.mark.long
def test_results_and_measured_sheet_go_along(teasel_packet, teasel_with_packet):
    """By their relation to the packet, as PDF/A-3 asks; what is made by the program is not given back as a source."""
    carried = {file.name: file for file in teasel_packet.reader.attachment_list}
    assert json.loads(carried["results.json"].content) == json.loads((teasel_with_packet / "results.json").read_bytes())
    assert carried["measured.yaml"].content == (teasel_with_packet / "measured.yaml").read_bytes()
    relations = {name: file.associated_file_relationship for name, file in carried.items()}
    assert relations["results.json"] == "/Data"
    assert relations["measured.yaml"] == "/Supplement"
    assert relations["build.yaml"] == relations["pages/optics.md"] == "/Source"
    assert list(carried) == sorted(carried)


def test_it_says_that_it_is_pdf_a_3(small_packet):
    """ISO 19005-3 (recalled): part and level, an output intent, associated files, embedded typefaces."""
    root = small_packet.reader.trailer["/Root"]
    metadata = ElementTree.fromstring(root["/Metadata"].get_data().partition(b"?>")[2].rpartition(b"<?")[0])
    said = {child.tag.removeprefix(_PDFA): child.text for child in metadata.iter() if child.tag.startswith(_PDFA)}
    said |= {key.removeprefix(_PDFA): value for node in metadata.iter() for key, value in node.attrib.items()
             if key.startswith(_PDFA)}
    assert (said["part"], said["conformance"]) == ("3", "U")
    assert root["/OutputIntents"][0]["/S"] == "/GTS_PDFA1"
    assert len(root["/AF"]) == len(list(small_packet.reader.attachment_list))
    fonts = {id(font): font.get_object() for page in small_packet.reader.pages
             for font in page["/Resources"].get("/Font", {}).values()}
    inner = [font["/DescendantFonts"][0].get_object()["/FontDescriptor"] for font in fonts.values()]
    assert inner
    assert all(descriptor.keys() & {"/FontFile2", "/FontFile3"} for descriptor in inner)
    assert all("/ToUnicode" in font for font in fonts.values())


def test_measured_values_are_carried_from_wherever_they_lay(small_folder, tmp_path):
    (tmp_path / "mine.yaml").write_text("primary: {focal_length: 1188 mm}\n")
    design = work_out(load_build(small_folder, tmp_path / "mine.yaml"))
    found = {each.name: each for each in packet_source.carried(design)}
    assert found["measured/mine.yaml"].data == b"primary: {focal_length: 1188 mm}\n"


def test_what_is_hidden_foreign_or_too_large_stays_at_home(small_folder, tmp_path, monkeypatch):
    """An editor's files, a link that leads out of the folder, a mesh of gigabytes: the last is told."""
    folder = tmp_path / "b"
    (folder / "parts").mkdir(parents=True)
    (folder / "build.yaml").write_bytes((small_folder / "build.yaml").read_bytes())
    (folder / "notes.txt").write_text("mine")
    (folder / "parts" / ".x.swp").write_text("x")
    (tmp_path / "secret").write_text("secret")
    (folder / "parts" / "out").symlink_to(tmp_path / "secret")
    (folder / "parts" / "huge.stl").write_bytes(bytes(5000))
    monkeypatch.setattr(packet_source, "LARGEST_FILE", 4000)
    design = work_out(load_build(folder))
    assert [each.name for each in packet_source.carried(design)] == ["build.yaml", "measured.yaml", "results.json"]
    assert packet_source.left_behind(design) == ("parts/huge.stl",)


def forged(path: Path, *names: str) -> Path:
    """A PDF that carries files of these names as a packet does."""
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    for name in names:
        file = writer.add_attachment(name, b"format: 1\n")
        file.pdf_object[NameObject("/Desc")] = TextStringObject(packet_source.BUILD_FILE)
    with path.open("wb") as out:
        writer.write(out)
    return path


@pytest.mark.parametrize("name", [
    "../out.yaml", "/etc/x", "pages/../../x", "pages/.profile", "C:\\x", "bin/x", "pages\\x",
])
def test_a_forged_packet_writes_nothing_outside_or_at_all(name, tmp_path):
    packet = forged(tmp_path / "p.pdf", "build.yaml", name)
    with pytest.raises(Unusable, match="which no build has"):
        begin_from(tmp_path / "new", packet)
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["p.pdf"]


@pytest.mark.parametrize(("content", "why"), [
    (b"", "not a PDF"), (b"%PDF-1.7\nrubbish", "not a PDF"), (b"hello" * 50, "not a PDF"), (None, "cannot be read"),
])
def test_what_is_no_packet_is_told_in_a_line(content, why, tmp_path):
    if content is not None:
        (tmp_path / "p.pdf").write_bytes(content)
    with pytest.raises(Unusable, match=why):
        begin_from(tmp_path / "new", tmp_path / "p.pdf")


def test_a_pdf_without_a_build(tmp_path):
    with pytest.raises(Unusable, match="carries no build"):
        begin_from(tmp_path / "new", forged(tmp_path / "p.pdf"))


def test_a_folder_with_something_in_it_is_left_alone(tmp_path):
    (tmp_path / "mine").write_text("mine")
    with pytest.raises(Unusable, match="not empty"):
        begin_from(tmp_path, forged(tmp_path / "p.pdf", "build.yaml"))
    assert (tmp_path / "mine").read_text() == "mine"


def test_the_same_small_packet_carries_readable_attachments(small_packet):
    """Read again from its bytes by the general library, each file has a size and a day."""
    for file in PdfReader(io.BytesIO(small_packet.data)).attachment_list:
        assert file.size == len(file.content)
        assert file.modification_date is not None
