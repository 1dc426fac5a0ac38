"""The mask's drawing read back: to scale, its openings at the zones' edges, its list the table's own numbers."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise
from pathlib import Path

import pytest
import yaml

from dossier.calc.optics import zone_mask as geometry
from dossier.design import Design, work_out
from dossier.drawings import zone_mask
from dossier.drawings.palette import PAPER
from dossier.drawings.scales import REDUCTIONS
from dossier.spec.load import load_build
from tests.drawings.conftest import Box, real_width

SVG = "{http://www.w3.org/2000/svg}"
every_form = pytest.mark.parametrize("form", ["wide", "upright"])
every_size = pytest.mark.parametrize(("aperture", "blank", "units"), [
    (76, None, "metric"), (150, 154, "metric"), (152.4, None, "inch"), (400, 406, "metric"), (600, None, "inch")])


def _design(folder: Path, aperture: float, blank: float | None = None, units: str = "metric") -> Design:
    primary = {"aperture": f"{aperture} mm", "focal_length": f"{6 * aperture} mm"}
    if blank:
        primary["blank_diameter"] = f"{blank} mm"
    spec = {"format": 1, "about": {"name": "Trial"}, "readers": {"units": units}, "primary": primary,
            "diagonal": {"minor_axis": f"{aperture / 5} mm"},
            "focuser": {"mounting_radius": f"{aperture * 0.6} mm", "height": f"{aperture * 0.2} mm"}}
    (folder / "build.yaml").write_text(yaml.safe_dump(spec), "utf-8")
    return work_out(load_build(folder))


def _boxes(root: ET.Element) -> list[tuple[str, Box]]:
    size, found = float(root.attrib["font-size"]), []
    for text in root.iter(f"{SVG}text"):
        plain = "".join(text.itertext())
        x, y, width = float(text.attrib["x"]), float(text.attrib["y"]), real_width(plain, size)
        left = x - {"start": 0.0, "middle": width / 2, "end": width}[text.attrib.get("text-anchor", "start")]
        found.append((plain, (left, y - 0.66 * size, left + width, y + 0.18 * size)))
    return found


@every_form
@every_size
def test_openings_are_to_scale(tmp_path, aperture, blank, units, form):
    root = ET.fromstring(zone_mask.draw(_design(tmp_path, aperture, blank, units), form=form, palette=PAPER))
    scale = float(root.attrib["data-scale"])
    edges = geometry.mask_edges_mm(aperture, aperture / 5, geometry.mask_zones(aperture))
    zones = [group for group in root.iter(f"{SVG}g") if "data-zone" in group.attrib]
    assert [group.attrib["data-zone"] for group in zones] == [str(number) for number in range(1, len(edges))]
    for group, (inner, outer) in zip(zones, pairwise(edges), strict=True):
        for path in group.iter(f"{SVG}path"):
            places = re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", path.attrib["d"])
            radii = [math.hypot(float(x), float(y)) / scale for x, y in places]
            assert max(radii) == pytest.approx(outer, abs=0.002 / scale)
            assert min(radii) >= inner - 0.002 / scale
            sides = {math.copysign(1, float(x)) for x, _ in places}
            assert sides == {1.0 if path.attrib["data-window"] == "right" else -1.0}
    circles = {circle.attrib["data-part"]: float(circle.attrib["r"]) / scale for circle in root.iter(f"{SVG}circle")
               if "data-part" in circle.attrib}
    assert circles["aperture"] == pytest.approx(aperture / 2, abs=0.002 / scale)
    assert circles["shadow"] == pytest.approx(aperture / 10, abs=0.002 / scale)
    assert circles["card"] == pytest.approx(max(blank or 0, 1.08 * aperture) / 2, abs=0.002 / scale)


@every_size
def test_paper_has_a_preferred_scale(tmp_path, aperture, blank, units):
    root = ET.fromstring(zone_mask.draw(_design(tmp_path, aperture, blank, units), form="wide", palette=PAPER))
    assert 1 / float(root.attrib["data-scale"]) in REDUCTIONS
    assert root.attrib["width"] == "180mm"


@every_form
@every_size
def test_lettering_keeps_apart_and_inside(tmp_path, aperture, blank, units, form):
    root = ET.fromstring(zone_mask.draw(_design(tmp_path, aperture, blank, units), form=form, palette=PAPER))
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    boxes = _boxes(root)
    for plain, box in boxes:
        assert left <= box[0], plain
        assert box[2] <= left + width, plain
        assert top <= box[1], plain
        assert box[3] <= top + height, plain
    for (one, first), (other, second) in combinations(boxes, 2):
        apart = first[2] <= second[0] or second[2] <= first[0] or first[3] <= second[1] or second[3] <= first[1]
        assert apart, (one, other)


def test_list_and_words_have_the_zones_numbers(tmp_path):
    """By hand for 150 mm with a shadow of 30: edges √(225 + k·5400/4), k from 0 to 4."""
    design = _design(tmp_path, 150)
    root = ET.fromstring(zone_mask.draw(design, palette=PAPER))
    said = {plain for plain, _ in _boxes(root)}
    assert {"15.0", "39.7", "54.1", "65.4", "75.0"} <= said
    description = root.find(f"{SVG}desc").text
    assert "4 zones of equal area" in description
    assert "zone 2 from 39.7 to 54.1" in description
