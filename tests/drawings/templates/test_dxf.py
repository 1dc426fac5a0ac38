"""DXF files read back with the library, and compared with the SVG: same circles, same outlines, same words."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

import ezdxf
import pytest
from ezdxf.document import Drawing

from dossier.drawings.palette import PAPER
from dossier.drawings.svg import render
from dossier.drawings.templates.model import LAYERS
from dossier.drawings.templates.sheet import scene, whole
from dossier.publish.dxf import as_dxf
from tests.drawings.templates.conftest import every_trial, templates, trial

SVG = "{http://www.w3.org/2000/svg}"


@lru_cache
def _read(name: str, key: str) -> Drawing:
    data = as_dxf(whole(templates(name)[key], trial(name)))
    drawing = ezdxf.read(io.StringIO(data.decode("utf-8").replace("\r\n", "\n")))
    assert not drawing.audit().has_errors
    return drawing


def _of_svg(svg: str) -> Iterator[tuple[str, str, tuple[float, ...]]]:
    """Layer, kind and numbers of every shape, y upwards, to a hundredth of a millimetre."""
    for group in ET.fromstring(svg).iter(f"{SVG}g"):
        layer = group.attrib.get("data-layer", "")
        for circle in group.findall(f"{SVG}circle"):
            x, y, radius = (float(circle.attrib[each]) for each in ("cx", "cy", "r"))
            yield layer, "circle", _rounded(x, -y, radius)
        for path in group.findall(f"{SVG}path"):
            numbers = [float(each) for each in re.findall(r"-?[\d.]+", path.attrib["d"])]
            kind = "closed" if path.attrib["d"].endswith("Z") else "open"
            yield layer, kind, _rounded(*(-each if at % 2 else each for at, each in enumerate(numbers)))


def _of_dxf(drawing: Drawing) -> Iterator[tuple[str, str, tuple[float, ...]]]:
    for entity in drawing.modelspace():
        if entity.dxftype() == "CIRCLE":
            centre = entity.dxf.center
            yield entity.dxf.layer, "circle", _rounded(centre.x, centre.y, entity.dxf.radius)
        elif entity.dxftype() == "LWPOLYLINE":
            numbers = [each for x, y in entity.get_points("xy") for each in (x, y)]
            yield entity.dxf.layer, "closed" if entity.closed else "open", _rounded(*numbers)
        else:
            assert entity.dxftype() == "TEXT"


def _rounded(*numbers: float) -> tuple[float, ...]:
    # The SVG is written to a thousandth; half of the last place kept must not decide.
    return tuple(round(round(number, 3), 2) + 0.0 for number in numbers)


@every_trial
def test_every_template_reads_back_and_is_what_the_svg_shows(name: str) -> None:
    for key, template in templates(name).items():
        drawing = _read(name, key)
        assert drawing.dxfversion == "AC1024", key
        assert (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"]) == (4, 1)
        assert set(LAYERS) <= {layer.dxf.name for layer in drawing.layers}
        svg = render(scene(template, trial(name)), PAPER)
        shown, cut = Counter(_of_svg(svg)), Counter(_of_dxf(drawing))
        assert sum(shown.values()) == sum(cut.values())
        for one, other in zip(sorted(shown.elements()), sorted(cut.elements()), strict=True):
            assert one[:2] == other[:2]
            assert one[2] == pytest.approx(other[2], abs=0.011)
        words = Counter(text.dxf.text.replace("%%c", "⌀").replace("%%d", "°") for text in drawing.query("TEXT"))
        plain = (re.sub("[\u202f\u2009\u00a0]", " ", "".join(text.itertext())).replace("−", "-")
                 for text in ET.fromstring(svg).iter(f"{SVG}text"))
        assert words == Counter(plain)


@every_trial
def test_bars_stand_on_the_layer_check_alone(name: str) -> None:
    for key in templates(name):
        drawing = _read(name, key)
        lengths = [line[1][0] - line[0][0] for each in drawing.query("LWPOLYLINE[layer=='check']")
                   if len(line := each.get_points("xy")) == 2]
        assert sorted(lengths) == pytest.approx([100, 101.6], abs=1e-6)
        assert not drawing.query("CIRCLE[layer=='check']")


@every_trial
def test_extents_and_limits_hold_what_is_drawn_and_no_more(name: str) -> None:
    """Programs zoom to them and place the work by them."""
    for key in templates(name):
        drawing = _read(name, key)
        points: list[tuple[float, float]] = []
        for entity in drawing.modelspace():
            if entity.dxftype() == "CIRCLE":
                (x, y, _), r = entity.dxf.center, entity.dxf.radius
                points += [(x - r, y - r), (x + r, y + r)]
            elif entity.dxftype() == "LWPOLYLINE":
                points += entity.get_points("xy")
            else:
                points.append((entity.dxf.insert.x, entity.dxf.insert.y))
        xs, ys = [x for x, _ in points], [y for _, y in points]
        low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
        assert low[0] <= min(xs) + 1e-6
        assert low[1] <= min(ys) + 1e-6
        assert high[0] >= max(xs) - 1e-6
        assert high[1] >= max(ys) - 1e-6
        # Lettering reaches beyond its base line's beginning: by a line's height up and down, and as far as it runs.
        assert min(ys) - low[1] < 2
        assert high[1] - max(ys) < 4
        assert high[0] - low[0] < max(xs) - min(xs) + 120
        assert drawing.header["$LIMMIN"] == pytest.approx((low[0], low[1]))
        assert drawing.header["$LIMMAX"] == pytest.approx((high[0], high[1]))


def test_the_same_template_gives_the_same_bytes() -> None:
    items = whole(templates("tube-76")["tube-wrap-upper"], trial("tube-76"))
    assert as_dxf(items) == as_dxf(items)
