"""Tables for the test bench and the star test: how far to move the eyepiece, the mask's zones with what the knife
reads there, and readings beside the conic that fits them."""

from __future__ import annotations

from itertools import pairwise

from dossier.calc.optics import bench_tests, star_images, zone_mask
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.model import Design
from dossier.working import Given, Result, converted

WAVES = (1.0, 5.0, 10.0)
_MOVES = {"moving": Given("source beside the knife", 1.0, "", "default", said="source beside the knife"),
          "fixed": Given("source standing still", 0.0, "", "default", said="source standing still")}


def star_shifts(design: Design) -> Aside:
    """How far the eyepiece is moved for so many waves of defocus."""
    rows = tuple(AsideRow(f"{waves:.0f} wave{'' if waves == 1 else 's'}", (star_shift(design, waves),))
                 for waves in WAVES)
    return Aside("How far to move the eyepiece from best focus, in or out", "Defocus", (AsideColumn("Eyepiece moved"),),
                 rows)


def star_shift(design: Design, waves: float) -> Result:
    """The way of the eyepiece for so many waves of defocus."""
    defocus = Given("defocus", waves, "wave", "default", said="waves of defocus, chosen")
    return star_images.star_test_shift_mm.work(
        "testing.star_shift", defocus_wave=defocus, wavelength_nm=design.results["figure.strehl"].inputs[
            "wavelength_nm"], focal_ratio=design.results["optics.focal_ratio"])


def zones(design: Design) -> Aside:
    """The mask zone by zone: its edges, where it is read, and what the knife reads there, as planned and beside it."""
    figures = _figures(design)
    columns = [AsideColumn(title) for title in ("From", "To", "Read at")]
    columns += [AsideColumn(f"{name}, source {kind}") for name, _ in figures for kind in _MOVES]
    rows = tuple(AsideRow(str(number), (inner, outer, centre, *(_reading(design, centre, conic, moves)
                                                                for _, conic in figures for moves in _MOVES.values())))
                 for number, (inner, outer, centre) in enumerate(_mask(design), start=1))
    return Aside("The zones of the mask, and the knife’s reading at each", "Zone", tuple(columns), rows, _notes(design),
                 works=(1, 2, len(columns) - 2, len(columns) - 1))


def readings(design: Design) -> Aside | None:
    """What was read at each zone beside the conic that fits. None without readings."""
    found = design.results.get("bench.conic")
    if found is None:
        return None
    columns = tuple(AsideColumn(title) for title in ("Radius", "Reading", "Conic that fits", "Left over"))
    pairs = zip(_each(found.inputs["zone_radii_mm"], "zone_radii_mm"), _each(found.inputs["readings_mm"],
                                                                            "readings_mm"), strict=True)
    rows = tuple(AsideRow(str(number), _compared(design, found, zone, reading))
                 for number, (zone, reading) in enumerate(pairs, start=1))
    return Aside("Zone by zone", "Zone", columns, rows, (
        "The conic’s column counts from the vertex’s centre of curvature, which stands at the scale’s zero worked out "
        "below.",))


def _compared(design: Design, found: Result, zone: Given, reading: Given) -> tuple[Entry, ...]:
    fits = bench_tests.knife_reading_mm.work(
        "testing.fit", "Conic that fits", aperture_mm=found.inputs["aperture_mm"],
        focal_length_mm=found.inputs["focal_length_mm"], conic=found, zone_centre_mm=zone,
        source_moves=found.inputs["source_moves"])
    left = bench_tests.reading_left_mm.work("testing.left", reading_mm=reading,
                                            scale_zero_mm=design.results["bench.scale_zero"], knife_reading_mm=fits)
    return zone, reading, fits, left


def number(entry: Entry) -> float:
    """An entry's one number. TypeError where it has none."""
    if not isinstance(entry, Result):
        raise TypeError(f"{entry} is no result")
    return entry.number


def _each(entry: Given | Result, name: str) -> tuple[Given, ...]:
    """The numbers of a list, each as it was said there."""
    value = converted(entry, name)
    key = entry.key if isinstance(entry, Given) else entry.id
    file, line = (entry.file, entry.line) if isinstance(entry, Given) else ("", 0)
    return tuple(Given(f"{key}[{at}]", number, "mm", "measured", file, line)
                 for at, number in enumerate(value if isinstance(value, tuple) else (value,)))


def _mask(design: Design) -> list[tuple[Result, Result, Result]]:
    """Inner edge, outer edge and centre of every zone."""
    strehl = design.results["figure.strehl"]
    aperture, shadow = strehl.inputs["aperture_mm"], strehl.inputs["obstruction_diameter_mm"]
    count = zone_mask.mask_zones.work("testing.zones", aperture_mm=aperture)
    edges = [zone_mask.zone_edge_mm.work("testing.edge", aperture_mm=aperture, obstruction_diameter_mm=shadow,
                                         zones=count, zones_inside=Given("zones inside", float(inside), "", "default"))
             for inside in range(int(count.number) + 1)]
    return [(inner, outer, zone_mask.zone_centre_mm.work("testing.centre", zone_inner_mm=inner, zone_outer_mm=outer))
            for inner, outer in pairwise(edges)]


def _figures(design: Design) -> list[tuple[str, Given | Result]]:
    """The figures to read: as planned, as the bench found it, and the paraboloid beside whatever else there is."""
    said = design.loaded.spots.get("primary.conic")
    planned = Given("primary.conic", design.build.primary.conic, "", "spec" if said else "default",
                    said.file if said else "", said.line if said else 0, said.said if said else "")
    figures: list[tuple[str, Given | Result]] = [("as planned" if design.build.bench else "this mirror", planned)]
    if "bench.conic" in design.results:
        figures.append(("as found", design.results["bench.conic"]))
    if planned.value != -1:
        figures.append(("paraboloid", Given("a paraboloid", -1.0, "", "default", said="a paraboloid, for comparison")))
    return figures


def _reading(design: Design, centre: Result, conic: Given | Result, moves: Given) -> Result:
    strehl = design.results["figure.strehl"]
    return bench_tests.knife_reading_mm.work(
        "testing.reading", aperture_mm=strehl.inputs["aperture_mm"], focal_length_mm=strehl.inputs["focal_length_mm"],
        conic=conic, zone_centre_mm=centre, source_moves=moves)


def _notes(design: Design) -> tuple[str, ...]:
    notes = ["Knife positions count from the vertex’s centre of curvature, away from the mirror above zero. Only their "
             "differences are read: set the scale to anything at the first zone."]
    if design.build.primary.conic == 0:
        notes.append("A sphere reads alike at every zone, whether the source moves with the knife or stands still: any "
                     "difference is the mirror’s fault, or the tester’s.")
    return tuple(notes)
