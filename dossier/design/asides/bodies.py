"""The Moon's craters and the planets: how large they are, and what of them this telescope has room for."""

from __future__ import annotations

from dossier import shelf
from dossier.calc.optics.targets import (
    disc_diameter_arcsec,
    elements_across,
    least_crater_km,
    looks_arcmin,
    planet_diameter_arcsec,
)
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.asides.looking import Looking, listed, looking, moon_distance, number, size_of
from dossier.design.model import Design
from dossier.shelf.tables import Planet, Sized
from dossier.spec.defaults import slug
from dossier.working import Given, Result

# How many elements of the image make a pit into a ring, a ring into a landscape; a point into a disc, a disc into a
# face: common practice, no source.
_RING, _LANDSCAPE, _DISC, _FACE = 3, 15, 1.5, 10
# A long dark line shows though it is so many times narrower than an element: common practice, no source.
_LINE = 3
_MOST_EYEPIECES = 6


def moon(design: Design) -> Aside:
    """Named craters from large to small, and what is seen of each."""
    look = looking(design)
    rows = tuple(_crater(look, crater) for crater in shelf.targets().craters)
    columns = (AsideColumn("Diameter"), AsideColumn("On the sky"), AsideColumn("Elements in still air"),
               *((AsideColumn("Elements in the usual air"),) if look.coarser is not None else ()))
    notes = ("At the Moon’s mean distance. An element is Rayleigh’s limit in still air, and in the usual air the "
             "seeing where that is coarser. Diameters are recalled from the gazetteer, rounded. Craters show near the "
             "line between day and night and vanish under a high Sun; towards the Moon’s rim they are foreshortened.",
             f"A ring with a floor takes some {_RING} elements, a landscape inside it some {_LANDSCAPE}: common "
             "practice, no source.")
    return Aside("Craters, from large to small", "Crater", columns, rows, notes, works=tuple(range(1, len(columns))))


def _crater(look: Looking, crater: Sized) -> AsideRow:
    row = f"crater.{slug(crater.name)}"
    across = disc_diameter_arcsec.work(f"{row}.angle", "On the sky", body_diameter_m=size_of(crater),
                                       distance_m=moon_distance())
    still, usual = _elements(look, row, across)
    told = [f"In still air {crater_words(still.number)}"]
    if usual is not None:
        told.append("the same in the usual air" if crater_words(usual.number) == crater_words(still.number)
                    else f"in the usual air {crater_words(usual.number)}")
    entries = (size_of(crater), across, still, *((usual,) if usual is not None else ()))
    return AsideRow(crater.name, entries, "; ".join(told) + ".")


def _elements(look: Looking, row: str, across: Result) -> tuple[Result, Result | None]:
    """How many elements across in still air, and in the usual air where that is said."""
    still = elements_across.work(f"{row}.still", angle_arcsec=across, resolution_arcsec=look.rayleigh)
    usual = None if look.coarser is None else elements_across.work(
        f"{row}.usual", "Elements in the usual air", angle_arcsec=across, resolution_arcsec=look.coarser)
    return still, usual


def least_crater(name: str, finest: Given | Result) -> Result:
    """The least crater that this angle lets through, at the Moon's mean distance; ``name`` ends its ID."""
    return least_crater_km.work(f"moon.least_{name}", moon_distance_km=moon_distance(), resolution_arcsec=finest)


def crater_words(elements: float) -> str:
    """What is seen of a crater so many elements wide."""
    if elements < 1:
        return "too small to be told from the ground about it"
    if elements < _RING:
        return "a pit, bright on one side and dark on the other"
    return "a ring with a floor" if elements < _LANDSCAPE else "a landscape of its own, with walls and what lies inside"


def jupiter() -> Planet:
    """The planet that apertures are compared by."""
    return next(planet for planet in shelf.targets().planets if planet.name.startswith("Jupiter"))


def planets(design: Design) -> Aside:
    """The planets with their apparent diameters, and what there is room for on each."""
    look = looking(design)
    columns = (AsideColumn("Distance"), AsideColumn("Apparent diameter"), AsideColumn("Elements in still air"),
               *((AsideColumn("Elements in the usual air"),) if look.coarser is not None else ()))
    rows = tuple(_planet(look, planet) for planet in shelf.targets().planets)
    notes = ("Diameters of the equator after Meeus; distances by mean orbits. An element is Rayleigh’s limit in still "
             "air, and in the usual air the seeing where that is coarser. There is room for a detail that is at least "
             "an element wide, and for a long dark line of a third of that. Whether it shows is also a matter of "
             f"contrast, of the eye and of patience. A disc of {_FACE} elements is called large here: common practice, "
             "no source.",)
    return Aside("The planets", "Planet", columns, rows, notes, works=tuple(range(1, len(columns))))


def _planet(look: Looking, planet: Planet) -> AsideRow:
    row = f"planet.{slug(planet.name)}"
    distance, across = _distance(planet), diameter_of(planet)
    still, usual = _elements(look, row, across)
    details = [(detail.name, _room_for(detail, distance)) for detail in planet.details]
    usual_arcsec = None if look.coarser is None else number(look.coarser)
    said = [disc_remark(across.number, look.rayleigh.number, usual_arcsec)] if planet.is_disc else []
    said += detail_remarks(details, look.rayleigh.number, usual_arcsec)
    return AsideRow(planet.name, (distance, across, still, *((usual,) if usual is not None else ())), " ".join(said))


def _room_for(detail: Sized, distance: Given) -> float:
    """The angle that must be resolved for this detail to show, arcsec: of a line three times its width."""
    width = disc_diameter_arcsec.work("planet.detail", body_diameter_m=size_of(detail), distance_m=distance).number
    return width * _LINE if detail.is_line else width


def _distance(planet: Planet) -> Given:
    return Given(f"{planet.name}, distance", planet.distance_au, "au", "shelf", source=planet.source)


def diameter_of(planet: Planet) -> Result:
    """A planet's apparent diameter with its working."""
    at_one = Given(f"{planet.name}, semidiameter at 1\u202fau", planet.semidiameter_arcsec, "arcsec", "shelf",
                   source=planet.source)
    return planet_diameter_arcsec.work(f"planet.{slug(planet.name)}.diameter", "Apparent diameter",
                                       semidiameter_arcsec=at_one, distance_au=_distance(planet))


def disc_remark(across_arcsec: float, still_arcsec: float, usual_arcsec: float | None) -> str:
    """What a planet's disc looks like in the usual air and, where that is otherwise, in still moments."""
    disc, calmer = (disc_words(across_arcsec / finest) for finest in (usual_arcsec or still_arcsec, still_arcsec))
    return f"{disc}, in still moments {calmer[0].lower()}{calmer[1:]}." if calmer != disc else f"{disc}."


def detail_remarks(details: list[tuple[str, float]], still_arcsec: float, usual_arcsec: float | None) -> list[str]:
    """Which details, told by name and angle, there is room for: in the usual air, in still moments, not at all."""
    usual = [name for name, size in details if usual_arcsec is not None and size >= usual_arcsec]
    still = [name for name, size in details if name not in usual and size >= still_arcsec]
    never = [name for name, size in details if size < still_arcsec]
    said = []
    if usual:
        said.append(f"There is room for {listed(usual)}.")
    if still:
        said.append(f"In still moments {'also for' if usual else 'there is room for'} {listed(still)}.")
    if never:
        said.append(f"There is {'none' if usual or still else 'no room'} for {listed(never)}.")
    return said


def disc_words(elements: float) -> str:
    """What a disc of so many elements looks like."""
    if elements < _DISC:
        return "A point, like any star"
    return "A small disc" if elements < _FACE else "A disc large enough for detail"


def sizes(design: Design) -> Aside | None:
    """How large each planet looks in each eyepiece, against the Moon seen by eye."""
    pieces = design.build.eyepieces[:_MOST_EYEPIECES]
    if not pieces:
        return None
    found = shelf.targets()
    by_eye = disc_diameter_arcsec(found.moon.size_km, found.moon_distance_km) / 60
    strongest = max(range(len(pieces)), key=lambda at: _power(design, pieces[at].name).number)
    rows = []
    for planet in found.planets:
        looks = [looks_arcmin.work(f"planet.{slug(planet.name)}.{slug(piece.name)}", magnification=_power(
            design, piece.name), angle_arcsec=diameter_of(planet)) for piece in pieces]
        rows.append(AsideRow(planet.name, tuple(looks),
                             f"In the {pieces[strongest].name} {moon_words(looks[strongest].number / by_eye)}."))
    notes = [f"The Moon seen by eye is {by_eye:.0f}′ wide."]
    if len(pieces) < len(design.build.eyepieces):
        notes.append(f"Only the first {_MOST_EYEPIECES} eyepieces of the spec stand here.")
    return Aside("How large they look in each eyepiece", "Planet", tuple(AsideColumn(piece.name) for piece in pieces),
                 tuple(rows), tuple(notes))


def _power(design: Design, name: str) -> Result:
    return design.results[f"eyepiece.{slug(name)}.magnification"]


def moon_words(times: float) -> str:
    """How wide something looks against the Moon seen by eye."""
    if times < 0.1:
        return "less than a tenth as wide as the Moon by eye"
    return f"{times:.1f} times as wide as the Moon by eye"
