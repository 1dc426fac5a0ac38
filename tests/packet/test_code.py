"""The code on the packet's cover, read back as a phone reads it, and the address that it must lead to."""

from __future__ import annotations

import re

import pytest

from dossier.design import work_out
from dossier.publish.qr import qr_code
from dossier.revisions.issue import issue
from dossier.spec.load import load_build
from dossier.views.history import web_address

# ISO/IEC 18004 (recalled): the eight masks by row and column.
MASKS = (
    lambda i, j: (i + j) % 2, lambda i, j: i % 2, lambda i, j: j % 3, lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2, lambda i, j: i * j % 2 + i * j % 3, lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
)
SIDE = 29  # version 3


def modules(svg: str) -> list[list[int]]:
    """Dark and light read from the path of the picture."""
    side = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    grid = [[0] * side for _ in range(side)]
    for x, y, width in re.findall(r"M(\d+) (\d+)h(\d+)v1", svg.rpartition("#000000")[2]):
        for place in range(int(width)):
            grid[int(y)][int(x) + place] = 1
    assert not any(map(any, grid[:4] + grid[-4:]))  # the quiet zone
    return [row[4:-4] for row in grid[4:-4]]


def is_data(i: int, j: int) -> bool:
    """Whether a module of version 3 belongs to the data: not to finders, timing, alignment or format."""
    corner = (i < 9 and j < 9) or (i < 9 and j >= SIDE - 8) or (i >= SIDE - 8 and j < 9)
    return not (corner or i == 6 or j == 6 or (20 <= i <= 24 and 20 <= j <= 24))


def decoded(grid: list[list[int]]) -> str:
    """The bytes of a version 3 code: unmasked, read in its zigzag, errors not corrected since there are none."""
    assert len(grid) == SIDE
    mask = int("".join(str(grid[8][j]) for j in (2, 3, 4)), 2) ^ 0b101
    bits, up = "", True
    columns = [j for j in range(SIDE - 1, -1, -1) if j != 6]
    for right, left in zip(columns[::2], columns[1::2], strict=True):
        rows = range(SIDE - 1, -1, -1) if up else range(SIDE)
        bits += "".join(str(grid[i][j] ^ (MASKS[mask](i, j) == 0))
                        for i in rows for j in (right, left) if is_data(i, j))
        up = not up
    assert bits[:4] == "0100"  # bytes
    count = int(bits[4:12], 2)
    return bytes(int(bits[12 + 8 * n:20 + 8 * n], 2) for n in range(count)).decode()


@pytest.mark.parametrize("address", ["https://example.org/teasel/r/B/", "https://example.org/a/very/long/one/r/C/"])
def test_the_code_says_the_address(address):
    assert decoded(modules(qr_code(address, 25))) == address


def test_it_is_large_enough_to_be_read():
    """Modules of a third of a millimetre or more: common practice, no source."""
    svg = qr_code("https://saltmarsh.example.org/plans/teasel-150/r/AB/", 25)
    side = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    assert 'width="25mm"' in svg
    assert 25 / side > 0.33


def test_it_leads_to_the_same_revision(tmp_path):
    """A draft has no pages of its own on the web: it leads to those of the latest."""
    spec = ("format: 1\nabout: {name: Bare, site: 'https://example.org/bare'}\n"
            "primary: {aperture: 100 mm, focal_length: 800 mm}\ndiagonal: {minor_axis: 25 mm}\n"
            "focuser: {mounting_radius: 70 mm, height: 50 mm}\n")
    (tmp_path / "build.yaml").write_text(spec)
    assert web_address(work_out(load_build(tmp_path))) == "https://example.org/bare/"
    issue(work_out(load_build(tmp_path)), "First.", accept_misses=True)
    assert web_address(work_out(load_build(tmp_path))) == "https://example.org/bare/r/A/"
    (tmp_path / "build.yaml").write_text(spec.replace(", site: 'https://example.org/bare'", ""))
    assert web_address(work_out(load_build(tmp_path))) == ""
