"""The telescopes of the gallery, as mappings to work out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

# Aperture in mm, focal ratio, frame, offset of the diagonal, mount, units, paper, and what else is changed or left out.
GALLERY: dict[str, tuple[float, float, str | None, str, str | None, str, str, dict[str, Any]]] = {
    "small and fast tube": (76, 4, "tube", "full", "rocker", "inch", "Letter", {}),
    "small and slow poles": (76, 10, "poles", "none", "altaz", "metric", "A4", {}),
    "usual tube": (114, 7.9, "tube", "full", None, "metric", "A4", {"about": {"authors": ["A club"]}}),
    "usual poles": (150, 8, "poles", "full", "rocker", "metric", "Letter", {"diagonal": {"holder_diameter": "40 mm"}}),
    "six supports": (200, 6, "tube", "none", "rocker", "metric", "A4", {"cell": {"points": 6, "rings": "best"}}),
    "truss": (250, 5, "truss", "full", "rocker", "inch", "A4", {"cell": {"points": 9, "rings": "best"}}),
    "large and fast": (400, 4, "truss", "full", "altaz", "metric", "A4", {"cell": {"points": 18, "rings": "best"}}),
    "large and slow": (400, 10, "tube", "4 mm", "equatorial", "metric", "Letter", {}),
    "a rod from wall to wall": (76, 9.2, "tube", "none", None, "metric", "A4", {
        "spider": {"vanes": 2, "turned": "90 deg", "vane_thickness": "4 mm", "vane_section": "rod", "station": "616 mm",
                   "hole": "4.5 mm"},
        "diagonal": {"holder_diameter": "18 mm", "holder_length": "60 mm"}, "focuser": {"hole": "44 mm"}}),
    "hub and stud": (250, 5, "truss", "full", None, "metric", "A4", {
        "spider": {"turned": "0 deg", "hub": "40 mm", "vane_depth": "30 mm", "station": "1130 mm"},
        "diagonal": {"holder_diameter": "56 mm"}}),
    "without cell, spider, front": (150, 6, "poles", "full", None, "metric", "A4",
                                    {"cell": None, "spider": None, "front": None}),
    "without frame and parts": (200, 5, None, "none", None, "inch", "Letter", {"frame": None, "parts": None}),
    "only what must be said": (114, 5, None, "full", None, "metric", "A4", dict.fromkeys(
        ("cell", "spider", "front", "frame", "parts", "eyepieces", "field"))),
}
# What of each telescope is a part, for its balloons.
DRAWN = {"primary": "Mirror", "diagonal": "Diagonal", "focuser": "Focuser", "eyepiece": "Eyepiece", "vane": "Vanes",
         "holder": "Holder", "frame": "Frame, with a name that is longer than one line of the table has room for",
         "front": "Front ring", "clip": "Clips", "push": "Bolts", "spring": "Springs", "bearing": "Discs",
         "foot": "Feet"}


def _mount(kind: str | None, aperture: float, focal: float) -> dict[str, Any] | None:
    pivot = {"kind": kind, "pivot": f"{0.36 * focal} mm", "pivot_height": f"{0.36 * focal + aperture + 150} mm"}
    rocking = {"floor": "50 mm", "feet": 3, "feet_radius": "250 mm", "tail": f"{-0.4 * aperture} mm",
               "tail_radius": f"{0.8 * aperture} mm", "bearing": {"radius": "110 mm", "friction": 0.1,
                                                                 "pad_angle": "35 deg"}}
    return {"rocker": pivot | rocking, "altaz": pivot | {"feet": 4, "feet_radius": "300 mm", "offset": "180 mm"},
            "equatorial": {"kind": kind, "capacity": "20 kg"}, None: None}[kind]


def spec_of(name: str, telescope: Callable[..., dict[str, Any]]) -> dict[str, Any]:
    """The spec of a telescope of the gallery; ``telescope`` makes a complete one of a size."""
    aperture, ratio, kind, offset, stand, units, paper, changes = GALLERY[name]
    spec = telescope(aperture, ratio, kind, offset, mount=_mount(stand, aperture, aperture * ratio),
                     readers={"units": units, "paper": paper})
    spec["primary"]["glass"] = "borosilicate"
    spec["spider"] |= {"vanes": 4, "turned": "45 deg"}
    if kind in ("poles", "truss"):
        spec["frame"] |= {"turned": "60 deg"}
    spec["parts"] += [{"ref": f"Q{number}", "name": title, "group": "other", "get": "buy", "quantity": number,
                       "mass": "100 g", "why": "to be drawn", "drawn_as": thing}
                      for number, (thing, title) in enumerate(DRAWN.items(), start=1)]
    for section, change in changes.items():
        spec[section] = None if change is None else (spec.get(section) or {}) | change
    return {key: value for key, value in spec.items() if value is not None}
