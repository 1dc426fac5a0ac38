"""Small builds to explore: the least spec, with what a test adds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.design.explore.ground import Ground, ground_read
from dossier.spec.load import load_build
from tests.conftest import TEASEL

LEAST = """\
format: 1
about: {name: Trial}
readers: {currency: EUR}
primary: {aperture: 150 mm, focal_length: 1200 mm, conic: 0, blank_diameter: 154 mm, edge_thickness: 25 mm,
          glass: borosilicate}
diagonal: {minor_axis: 35 mm}
focuser: {mounting_radius: 100 mm, height: 50 mm, drawn_out: 10 mm, travel: 30 mm}
"""
PARTS = """\
parts:
  - {ref: P1, name: Mirror, get: buy, price: 50, mass: "{{ cell.mirror_mass }}", station: -10 mm, instead: [
      {name: paraboloid, price: 90, set: {primary.conic: -1}},
      {name: too wide, price: 95, set: {primary.aperture: 400 mm}}]}
  - {ref: P2, name: Diagonal, get: have, mass: 0.1 kg, station: 1050 mm, instead: [
      {name: small, price: 12, set: {diagonal.minor_axis: 28 mm}},
      {name: paraboloid again, set: {primary.conic: -0.9}}]}
"""


@pytest.fixture
def ground(tmp_path: Path) -> Callable[..., Ground]:
    """The ground of the least build with these pieces of YAML below it."""

    def make(*more: str) -> Ground:
        (tmp_path / "build.yaml").write_text("\n".join((LEAST, *more)), "utf-8")
        return ground_read(load_build(tmp_path))

    return make


@pytest.fixture(scope="session")
def demo() -> Ground:
    """The ground of the demo."""
    return ground_read(load_build(TEASEL))
