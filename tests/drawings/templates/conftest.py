"""Telescopes to make templates for: 76 to 400 mm, tube, poles and truss, metric and inch, with and without offset."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import yaml

from dossier.design import Design, work_out
from dossier.drawings.palette import PAPER
from dossier.drawings.svg import render
from dossier.drawings.templates import templates_of
from dossier.drawings.templates.model import Template
from dossier.drawings.templates.sheet import scene
from dossier.spec.load import load_build

_BARE: Mapping[str, Any] = {"format": 1, "about": {"name": "Trial"}}
TRIALS: Mapping[str, Mapping[str, Any]] = {
    "tube-76": {
        "primary": {"aperture": "76 mm", "focal_length": "700 mm", "blank_diameter": "77 mm"},
        "diagonal": {"minor_axis": "19 mm", "offset": "none"}, "spider": {
            "vanes": 3, "vane_thickness": "0.6 mm", "turned": "60 deg", "station": "640 mm", "hole": "3.2 mm"},
        "focuser": {"mounting_radius": "52 mm", "height": "45 mm", "travel": "30 mm", "bore": "24.5 mm",
                    "hole": "34 mm"},
        "frame": {"kind": "tube", "outer_diameter": "104 mm", "inner_diameter": "100 mm", "length": "720 mm",
                  "lower_fixing": "-40 mm", "holes": [
                      {"end": "lower", "from_end": "25 mm", "diameter": "5 mm", "turned": "30 deg", "through": True}]},
        "cell": {"points": 3, "rings": ["25 mm"]}},
    "tube-200": {
        "primary": {"aperture": "200 mm", "focal_length": "1000 mm", "blank_diameter": "203 mm",
                    "edge_thickness": "28 mm", "glass": "borosilicate"},
        "diagonal": {"minor_axis": "58 mm", "holder_diameter": "60 mm"}, "spider": {
            "vanes": 4, "vane_thickness": "0.8 mm", "turned": "45 deg", "station": "820 mm", "hole": "4.5 mm"},
        "focuser": {"mounting_radius": "125 mm", "height": "60 mm", "travel": "40 mm", "bore": "50.8 mm",
                    "hole": "62 mm"},
        "frame": {"kind": "tube", "outer_diameter": "250 mm", "inner_diameter": "238 mm", "length": "1000 mm",
                  "lower_fixing": "-90 mm"},
        "front": {"opening": "238 mm", "station": "910 mm"},
        "cell": {"points": 9, "rings": ["31 mm", "75 mm"], "push": {
            "count": 3, "radius": "70 mm", "turned": "20 deg", "against": "plate", "diameter": "6 mm",
            "hole": "6.6 mm", "spring": {
                "wire": "1.2 mm", "mean_diameter": "10 mm", "active_coils": 6, "material": "spring-steel"}},
                 "plate": {"diameter": "230 mm", "thickness": "12 mm", "hole": "24 mm", "pivot_hole": "5 mm"},
                 "clips": {"count": 3, "radius": "99 mm", "turned": "90 deg"}}},
    "poles-150": {
        "readers": {"units": "inch", "paper": "Letter"},
        "primary": {"aperture": "6 in", "focal_length": "48 in", "blank_diameter": "6 1/8 in"},
        "diagonal": {"minor_axis": "1.3 in"}, "spider": {"vanes": 3, "vane_thickness": "0.03 in"},
        "focuser": {"mounting_radius": "4 in", "height": "2 in", "travel": "1.5 in", "bore": "1.25 in",
                    "hole": "1 1/2 in", "screws": {"count": 3, "circle_radius": "1.25 in", "turned": "30 deg",
                                                   "diameter": "0.2 in"}},
        "frame": {"kind": "poles", "outer_diameter": "3/4 in", "inner_diameter": "0.65 in", "length": "26 in",
                  "count": 4, "circle_radius": "4 1/2 in", "lower_fixing": "12 in", "holes": [
                      {"end": "lower", "from_end": "1/2 in", "diameter": "1/4 in", "through": True, "for": "bolt"},
                      {"end": "upper", "from_end": "3/4 in", "diameter": "1/4 in", "turned": "90 deg"}]},
        "cell": {"points": 6, "rings": ["2 in"], "push": {"count": 3, "radius": "2 in"}}},
    "truss-400": {
        "primary": {"aperture": "400 mm", "focal_length": "1800 mm", "blank_diameter": "406 mm",
                    "edge_thickness": "42 mm", "glass": "borosilicate"},
        "diagonal": {"minor_axis": "88 mm"}, "spider": {"vanes": 4, "vane_thickness": "1 mm", "turned": "45 deg"},
        "focuser": {"mounting_radius": "240 mm", "height": "70 mm", "travel": "40 mm", "bore": "50.8 mm",
                    "hole": "60 mm", "board": {"length": "180 mm", "width": "110 mm", "below": "70 mm",
                                               "thickness": "9 mm"},
                    "screws": {"along": "70 mm", "across": "60 mm", "diameter": "5.5 mm"}},
        "frame": {"kind": "truss", "outer_diameter": "30 mm", "inner_diameter": "27 mm", "length": "1200 mm",
                  "count": 8, "circle_radius": "235 mm", "upper_circle_radius": "225 mm", "turned": "10 deg",
                  "lower_fixing": "150 mm", "holes": [
                      {"end": "upper", "from_end": "14 mm", "diameter": "8.5 mm", "turned": "90 deg",
                       "through": True}]},
        "front": {"opening": "440 mm", "station": "1620 mm"},
        "cell": {"points": 18, "rings": "best", "clips": {"count": 4, "radius": "198 mm", "turned": "45 deg"},
                 "plate": {"side": "430 mm", "thickness": "18 mm"}},
        "parts": [
            {"ref": "P1", "name": "Mirror", "drawn_as": "primary"},
            {"ref": "P2", "name": "Plank for the focuser", "drawn_as": "board",
             "print": {"material": "petg"}},
            {"ref": "P3", "name": "Ring of 12 mm plywood", "quantity": 2, "drawn_as": "front"},
            {"ref": "P4", "name": "Deck", "drawn_as": "deck"},
            {"ref": "P5", "name": "Plate behind the mirror", "drawn_as": "plate"},
            {"ref": "P6", "name": "Triangle", "quantity": 6, "drawn_as": "lever"}]},
    "bare-130": {
        "primary": {"aperture": "130 mm", "focal_length": "650 mm"}, "diagonal": {"minor_axis": "35 mm"},
        "focuser": {"mounting_radius": "80 mm", "height": "50 mm"}},
}


@lru_cache
def trial(name: str) -> Design:
    """One of the telescopes, worked out."""
    with TemporaryDirectory() as folder:
        (Path(folder) / "build.yaml").write_text(yaml.safe_dump({**_BARE, **TRIALS[name]}), "utf-8")
        return work_out(load_build(Path(folder)))


@lru_cache
def templates(name: str) -> Mapping[str, Template]:
    """Its templates by their keys, each of which occurs once."""
    made = templates_of(trial(name))
    found = {template.key: template for template in made}
    assert len(found) == len(made)
    return found


@dataclass(frozen=True)
class Drawn:
    """A circle or an outline read back from the file, y upwards: its layer, what it is, its middle and radius or its
    points."""

    layer: str
    name: str
    centre: tuple[float, float]
    radius: float
    points: tuple[tuple[float, float], ...]


@lru_cache
def svg_of(name: str, key: str) -> str:
    """The SVG of a template, as it is written to its file."""
    return render(scene(templates(name)[key], trial(name)), PAPER, alone=True)


@lru_cache
def drawn(name: str, key: str) -> tuple[Drawn, ...]:
    """Everything that the SVG of a template has, but its words."""
    found = []
    for group in ET.fromstring(svg_of(name, key)).iter("{http://www.w3.org/2000/svg}g"):
        layer = group.attrib["data-layer"]
        for each in group:
            said = each.attrib.get("data-name", "")
            if each.tag.endswith("circle"):
                x, y, radius = (float(each.attrib[at]) for at in ("cx", "cy", "r"))
                found.append(Drawn(layer, said, (x, -y), radius, ()))
            elif each.tag.endswith("path"):
                numbers = [float(number) for number in re.findall(r"-?[\d.]+", each.attrib["d"])]
                points = tuple((x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=True))
                xs, ys = [x for x, _ in points], [y for _, y in points]
                found.append(Drawn(layer, said, ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), 0.0, points))
    return tuple(found)


def centres(name: str, key: str, what: str) -> list[tuple[float, float]]:
    """Where the crosses named so stand: each is two lines over its place."""
    return [each.centre for each in drawn(name, key) if each.name == f"{what} centre"][::2]


every_trial = pytest.mark.parametrize("name", list(TRIALS))
