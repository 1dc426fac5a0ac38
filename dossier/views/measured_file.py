"""The empty file for measured values: every line ready to be filled in, none of them in force."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.measured import in_grams, worth_measuring
from dossier.design.pictures import zone_mask_of
from dossier.views.planned import given_words
from dossier.working import Given

NAME = "measured.yaml"
_HEAD = """\
# What was measured on one build of {name}. Values have their unit: 1189 mm.
# Take away the "# " before what was measured, and before the names it stands under; leave the rest as it is.
# Then: dossier publish <the build's folder> --measured <this file>
"""
_BENCH = """\
#
# Knife-edge readings of the mirror behind the mask of these zones, from the middle outwards; source: moving | fixed.
# bench:
#   source: moving
#   zones: [{zones}]
#   readings: [{readings}]
"""


def empty_file(design: Design) -> str:
    """A measured file for this plan with nothing in it yet."""
    head = _HEAD.format(name=" ".join(design.build.about.name.split()))
    zones = [f"{radius:.1f} mm" for radius in zone_mask_of(design).centres_mm]
    bench = _BENCH.format(zones=", ".join(zones), readings=", ".join("0.00 mm" for _ in zones))
    return head + "\n".join(_lines(design)) + "\n" + bench


def _lines(design: Design) -> Iterator[str]:
    """One line a key under its sections, as comments; the plan's value stands beside it."""
    above: tuple[str, ...] = ()
    for given in worth_measuring(design):
        *sections, what = given.key.split(".")
        for depth, section in enumerate(sections):
            if tuple(sections[:depth + 1]) != above[:depth + 1]:
                yield from _section(design, section, depth, above)
                above = tuple(sections[:depth + 1])
        above = tuple(sections)
        yield f"# {'  ' * (len(sections) + ('[' in sections[0]))}{what}:   # planned: {_said(given, design)}"


def _section(design: Design, section: str, depth: int, above: tuple[str, ...]) -> Iterator[str]:
    name, _, place = section.partition("[")
    if not place:
        yield f"# {'  ' * depth}{name}:"
        return
    if not above or above[0].partition("[")[0] != name:
        yield f"# {name}:"
    item = getattr(design.build, name)[int(place.rstrip("]"))]
    told = f"ref: {item.ref}" if name == "parts" else f'name: "{item.name}"'
    yield f"#   - {told}"


def _said(given: Given, design: Design) -> str:
    return given_words(in_grams(given), design).plain if not isinstance(given.value, tuple) else ""
