"""The plan of the printed parts: plastic, mass, filament, time and cost of each that has a mesh, and of one kit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from dossier.calc.shop import prints
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, material, step, worked
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded
from dossier.spec.model import Build
from dossier.working import Given, NoAnswer, Result, gathered

if TYPE_CHECKING:
    from dossier.spec.meshes import Solid

# What the trade does where the author is silent.
_CUSTOM = "common practice, no source"
_USUAL: Mapping[str, tuple[float, str]] = {
    "printer.speed": (50.0, "mm_per_s"), "printer.layer": (0.2, "mm"), "printer.busy": (0.5, ""),
    "printer.filament": (1.75, "mm"),
}


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module: five of each printed part, and two sums."""
    rows = [row for name, key in named(build).items()
            for row in _rows(name, key, value_at(build, f"{key}.print.mesh"))]
    return dict((*rows, ("parts.print_time", _kit_time), ("parts.print_cost", _kit_cost))) if rows else {}


def named(build: Build) -> Mapping[str, str]:
    """The parts with a mesh: the name each goes by in its results (``p8`` of ``print.p8.mass``), and its key.

    Of two references that make the same name the later gets a number after it.
    """
    found: dict[str, str] = {}
    for index, part in enumerate(build.parts):
        if part.print is not None and part.print.mesh is not None:
            name = slug(part.ref)
            while name in found:
                name = f"{name}-{index + 1}"
            found[name] = f"parts[{index}]"
    return found


def mesh_of(loaded: Loaded, mesh: str, key: str = "") -> Solid:
    """The mesh that a part names at this key. NoAnswer, in a sentence without its full stop, where it cannot be used.
    """
    from dossier.spec import meshes

    try:
        return meshes.solid(meshes.inside(loaded.folder, mesh))
    except meshes.MeshFault as fault:
        raise NoAnswer(f"{mesh} {fault}", key) from None


def _rows(name: str, key: str, mesh: str) -> Iterator[tuple[str, Work]]:
    plastic = worked(f"print.{name}.plastic")
    yield f"print.{name}.plastic", lambda sheet: _plastic(sheet, name, key, mesh)
    yield step(f"print.{name}.mass", prints.printed_mass_kg, "Mass",
               density_kg_per_m3=material(f"{key}.print.material", "density"), printed_volume_cm3=plastic)
    yield step(f"print.{name}.filament", prints.filament_m, "Filament", printed_volume_cm3=plastic,
               filament_diameter_mm=_usually("printer.filament"))
    yield step(f"print.{name}.time", prints.print_time_h, "Time, an estimate", printed_volume_cm3=plastic,
               speed_mm_per_s=_usually("printer.speed"), line_mm=given(f"{key}.print.line"),
               layer_mm=_usually(f"{key}.print.layer", "printer.layer"), busy=_usually("printer.busy"))
    yield step(f"print.{name}.cost", prints.printed_cost_money, "Cost of plastic",
               printed_mass_kg=worked(f"print.{name}.mass"), spool_price_money=given("printer.spool_price"),
               spool_mass_kg=given("printer.spool_mass"))


def _plastic(sheet: Worksheet, name: str, key: str, mesh: str) -> Result:
    solid = mesh_of(sheet.loaded, mesh, f"{key}.print.mesh")
    spot = sheet.loaded.spots.get(f"{key}.print.mesh")
    file, line = (spot.file, spot.line) if spot else ("", 0)

    def of_mesh(what: str, value: float, unit: str) -> Given:
        return Given(f"{what} of {mesh}", value, unit, "spec", file, line, mesh)

    said = {datum: sheet.given(f"{key}.print.{datum}") for datum in ("walls", "line", "fill")}
    return prints.printed_volume_cm3.work(
        f"print.{name}.plastic", "Plastic", mesh_volume_mm3=of_mesh("volume", solid.volume_mm3, "mm3"),
        side_surface_mm2=of_mesh("sides", solid.surface_mm2 - solid.level_surface_mm2, "mm2"),
        level_surface_mm2=of_mesh("tops and bottoms", solid.level_surface_mm2, "mm2"),
        walls=said["walls"], line_mm=said["line"], skin_mm=_skin(sheet, key, said), fill=said["fill"])


def _skin(sheet: Worksheet, key: str, said: Mapping[str, Given]) -> Given:
    try:
        return sheet.given(f"{key}.print.skin")
    except NotSaid:
        walls, line = said["walls"].value, said["line"].value
        assert isinstance(walls, float)
        assert isinstance(line, float)
        return Given(f"{key}.print.skin", walls * line, "mm", "default", said="as thick as the walls")


def _usually(*keys: str) -> Source:
    """What the spec says at the first of these keys that it has, or what is usual for the last."""

    def source(sheet: Worksheet) -> Given | Result:
        for key in keys:
            try:
                return sheet.given(key)
            except NotSaid:
                continue
        value, unit = _USUAL[keys[-1]]
        return Given(keys[-1], value, unit, "default", said=_CUSTOM)

    return source


def _kit_time(sheet: Worksheet) -> Result:
    keys, times = _worked(sheet, "time")
    return prints.kit_print_time_h.work("parts.print_time", quantities=_pieces(sheet, keys),
                                        spare_pieces=_spares(sheet, keys), print_times_h=times)


def _kit_cost(sheet: Worksheet) -> Result:
    keys, costs = _worked(sheet, "cost")
    return prints.kit_print_cost_money.work("parts.print_cost", quantities=_pieces(sheet, keys),
                                            spare_pieces=_spares(sheet, keys), printed_costs_money=costs)


def _worked(sheet: Worksheet, quantity: str) -> tuple[list[str], Given]:
    """The keys of the parts of which this could be worked out, and what it came to. NotSaid, NoAnswer where of none."""
    keys, members, why = [], list[Result](), list[NotSaid | NoAnswer]()
    for name, key in named(sheet.build).items():
        try:
            members.append(sheet.result(f"print.{name}.{quantity}"))
            keys.append(key)
        except (NotSaid, NoAnswer) as reason:
            why.append(reason)
    if not members:
        raise why[0]
    return keys, gathered(f"{members[0].title} of each part", members, members[0].unit)


def _pieces(sheet: Worksheet, keys: list[str]) -> Given:
    return gathered("pieces", [sheet.given(f"{key}.quantity") for key in keys], "")


def _spares(sheet: Worksheet, keys: list[str]) -> Given:
    return gathered("spares for one kit", [sheet.given(f"{key}.spares") for key in keys], "")
