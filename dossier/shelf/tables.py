"""What the pages' tables are made of: springs that are sold, and what there is to see. Loaded when a page asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from dossier.shelf.records import Known, Occasion


@dataclass(frozen=True, slots=True)
class SpringSize:
    """A compression spring, ends squared and ground; lengths in mm, ``mean_diameter`` from wire centre to centre."""

    wire: float
    mean_diameter: float
    active_coils: float
    free_length: float


@dataclass(frozen=True, slots=True)
class SpringWire:
    """What spring wire of a material bears: ``strength`` in MPa is the tensile strength of wire of 1 mm, which falls as
    diameter^−``exponent``; ``torsion_share`` of it is borne in torsion. For diameters from ``least`` to ``most`` mm."""

    strength: float
    exponent: float
    torsion_share: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class SpringTable:
    """Springs by size, their wires by the key of the material, and for each of the two the key of its source."""

    sizes: tuple[SpringSize, ...]
    wires: Mapping[str, SpringWire]
    sources: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Skill:
    """What tools of a kind ask of whoever uses them: level 1 by hand, 2 a small machine, 3 one for trained people."""

    name: str
    level: int
    when: Occasion


@dataclass(frozen=True, slots=True)
class Sized:
    """Something of a known size in km: the Moon's crater, or a detail of a planet, with the key of its source.

    ``is_line`` is true for what is narrow and long, whose size is its width.
    """

    name: str
    size_km: float
    source: str
    known: Known
    is_line: bool = False


@dataclass(frozen=True, slots=True)
class Planet:
    """A planet as it stands at one time: its semidiameter at 1 au, its distance, and what there is to tell apart.

    ``is_disc`` is false for a ring, of which it cannot be said what its disc looks like.
    """

    name: str
    semidiameter_arcsec: float
    distance_au: float
    source: str
    known: Known
    details: tuple[Sized, ...] = ()
    is_disc: bool = True


@dataclass(frozen=True, slots=True)
class Pair:
    """A double star: its name, its constellation's where the name does not tell, separation and magnitudes."""

    name: str
    constellation: str
    separation_arcsec: float
    brighter_mag: float
    fainter_mag: float
    declination_deg: float
    source: str
    known: Known


@dataclass(frozen=True, slots=True)
class Targets:
    """What there is to see: the Moon with its distance and craters, planets, double stars from wide to close."""

    moon: Sized
    moon_distance_km: float
    craters: tuple[Sized, ...]
    planets: tuple[Planet, ...]
    pairs: tuple[Pair, ...]


def springs(page: Mapping[str, Any]) -> SpringTable:
    """The page of springs."""
    sizes = tuple(SpringSize(**{name: float(number) for name, number in row.items()}) for row in page["sizes"])
    wires = {key: SpringWire(**{name: float(number) for name, number in row.items()})
             for key, row in page["wires"].items()}
    return SpringTable(sizes, MappingProxyType(wires), MappingProxyType(page["sources"]))


def targets(page: Mapping[str, Any]) -> Targets:
    """The page of what there is to see."""
    moon = page["moon"]
    return Targets(
        _sized("the Moon", moon, "diameter_km"), float(moon["distance_km"]),
        tuple(_sized(entry["name"], entry, "diameter_km") for entry in page["craters"]),
        tuple(_planet(entry) for entry in page["planets"]), tuple(_pair(entry) for entry in page["pairs"]),
    )


def _sized(name: str, entry: Mapping[str, Any], size: str = "size_km") -> Sized:
    return Sized(name, float(entry[size]), entry["source"], entry["known"], entry.get("is_line", False))


def _planet(entry: Mapping[str, Any]) -> Planet:
    return Planet(entry["name"], float(entry["semidiameter_arcsec"]), float(entry["distance_au"]), entry["source"],
                  entry["known"], tuple(_sized(detail["name"], detail) for detail in entry.get("details", ())),
                  entry.get("is_disc", True))


def _pair(entry: Mapping[str, Any]) -> Pair:
    apart, brighter, fainter, declination = (float(entry[name]) for name in (
        "separation_arcsec", "brighter_mag", "fainter_mag", "declination_deg"))
    return Pair(entry["name"], entry.get("in", ""), apart, brighter, fainter, declination, entry["source"],
                entry["known"])


def skills(page: Any) -> tuple[Skill, ...]:
    """Skills in the order in which a tool is looked for."""
    return tuple(Skill(entry["skill"], int(entry["level"]), Occasion(words=tuple(map(str, entry["words"]))))
                 for entry in page)
