"""WeasyPrint gets to see nothing but what the program hands to it."""

from __future__ import annotations

import logging
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from dossier.design import Design
from dossier.publish.book import Book
from dossier.publish.packet import _only, packet_pdf
from dossier.publish.packet_source import carried
from dossier.publish.themes import load_theme

HOSTILE = """
<section class="sheet" id="safety">{{ p.head(view, "Safety") }}<h1>Safety</h1>
<img src="file:///etc/passwd" alt="a"><img src="http://example.org/x.png" alt="b"><img src="/etc/hostname" alt="c">
<img src="../../../../../../etc/passwd" alt="d"><img src="data:image/svg+xml,&lt;svg/&gt;" alt="e">
<link rel="stylesheet" href="file:///etc/passwd"><link rel="stylesheet" href="https://example.org/x.css">
<link rel="attachment" href="file:///etc/passwd"><object data="file:///etc/passwd"></object>
<style>@import url(file:///etc/passwd); body { background: url(http://example.org/y.png) }
@font-face { font-family: x; src: url(file:///etc/passwd), local("DejaVu Sans") } p { font-family: x }</style>
<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><title>f</title>
<image href="file:///etc/passwd" width="9" height="9"/><use href="http://example.org/z.svg#a"/></svg>
<p>Still here.</p></section>
"""
FORBIDDEN = ["file:///etc/passwd", "http://example.org/", "https://example.org/a.png", "ftp://example.org/",
             "data:text/css,*{}", "/etc/passwd", "https://packet.invalid/../etc/passwd", "https://packet.invalid/",
             "https://packet.invalid/other.css", "https://packet.invalid.example.org/packet.css", ""]


@pytest.mark.parametrize("address", FORBIDDEN)
def test_only_known_addresses_are_answered(address: str) -> None:
    fetcher = _only({"packet.css": b"p{}"})
    assert fetcher("https://packet.invalid/packet.css").read() == b"p{}"
    with pytest.raises(ValueError, match="nothing from elsewhere"):
        fetcher(address)


@pytest.fixture
def hostile_theme(tmp_path: Path, short_theme: Path) -> str:
    """A theme whose sheet of cautions asks for files and pages that are none of its business."""
    folder = tmp_path / "bad"
    shutil.copytree(short_theme, folder)
    (folder / "templates" / "packet-safety.html.j2").write_text(HOSTILE)
    return str(folder)


def test_a_hostile_page_gets_nothing(hostile_theme: str, small_design: Design, read, monkeypatch, caplog) -> None:
    opened: list[str] = []
    monkeypatch.setattr(socket.socket, "connect", lambda *_: pytest.fail("asked the network"))
    sys.addaudithook(lambda event, arguments: opened.append(str(arguments[0])) if event == "open" else None)
    with caplog.at_level(logging.ERROR, logger="weasyprint"):
        data = packet_pdf(Book(small_design, load_theme(hostile_theme)))
    assert not [path for path in opened if path in ("/etc/passwd", "/etc/hostname")]
    packet = read(data)
    text = " ".join(page.text for page in packet.pages)
    assert "Still here." in text
    assert "root:" not in text
    own = {each.name for each in carried(small_design)}
    assert {file.name for file in packet.reader.attachment_list} == own
    assert sum("nothing from elsewhere" in record.getMessage() for record in caplog.records) >= 8


@pytest.mark.parametrize(("fault", "said"), [
    ("raise OSError(\"cannot load library 'libpango-1.0-0': not found\\nand more\")", "cannot load library"),
    ("raise ImportError('no such module')", "no such module"),
])
def test_without_pango_the_site_is_written_and_one_line_says_what_to_do(small_folder: Path, tmp_path: Path, fault: str,
                                                                       said: str) -> None:
    (tmp_path / "weasyprint").mkdir()
    (tmp_path / "weasyprint" / "__init__.py").write_text(fault)
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r}); from dossier.cli import main; main()"
    done = subprocess.run([sys.executable, "-c", code, "publish", str(small_folder), "--out", str(tmp_path / "site")],
                          capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    site = tmp_path / "site" / small_folder.name
    assert (site / "index.html").is_file()
    assert not (site / "packet.pdf").exists()
    lines = done.stderr.splitlines()
    assert len(lines) == 1
    assert said in lines[0]
    assert "setup.sh" in lines[0]
    assert "packet.pdf" not in (site / "downloads.html").read_text()
