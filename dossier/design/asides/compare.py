"""This telescope beside other apertures: what a larger or a smaller one would show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dossier.calc.optics import first_order, powers
from dossier.calc.optics.targets import elements_across
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.asides.bodies import diameter_of, jupiter, least_crater
from dossier.design.asides.doubles import CLEAR, gaps, seen_from
from dossier.design.asides.looking import Looking, looking, number
from dossier.design.asides.sizes import size
from dossier.design.model import Design
from dossier.design.pictures.seen import other_apertures
from dossier.working import Given, Result


@dataclass(frozen=True, slots=True)
class Beside:
    """One telescope of the comparison. ``name`` is what its results' IDs begin with."""

    name: str
    aperture: Given | Result
    look: Looking


def beside(design: Design) -> Aside | None:
    """The same quantities for this aperture and others. None where there is no other to compare with."""
    telescopes = compared(design)
    if len(telescopes) < 2:
        return None
    others = telescopes[1:]
    columns = (AsideColumn("This telescope"), *(AsideColumn(size(design, number(each.aperture))) for each in others))
    rows = tuple(AsideRow(name, entries, remark) for name, entries, remark in (
        *_light(telescopes), *_detail(telescopes), *_divided(design, telescopes)) if any(entries))
    return Aside("This aperture and others", "Quantity", columns, rows, _notes(design), works_by_row=True)


def compared(design: Design) -> tuple[Beside, ...]:
    """This telescope, then those to compare it with: of the author's choice, or the usual ones."""
    own = looking(design)
    others = (_other(design, own, at, aperture) for at, aperture in enumerate(other_apertures(design)))
    return (Beside("own", own.pupil["aperture_mm"], own), *others)


def _other(design: Design, own: Looking, at: int, aperture_mm: float) -> Beside:
    """A perfect mirror of another aperture, of the same focal ratio and with its diagonal in proportion."""
    named = bool(design.build.compare_apertures)
    times = aperture_mm / number(own.pupil["aperture_mm"])
    aperture = Given("the other aperture", aperture_mm, "mm", "default",
                     said="compare_apertures of the spec" if named else "one that people build")
    scaled = {name: Given(f"the same times {times:.3g}", number(own.pupil[name]) * times, "mm", "default")
              for name in ("focal_length_mm", "obstruction_diameter_mm")}
    pupil = {**own.pupil, **scaled, "aperture_mm": aperture, "conic": Given("a paraboloid", -1.0, "", "default")}
    rayleigh = first_order.rayleigh_limit_arcsec.work(f"beside.{at}.rayleigh", aperture_mm=aperture,
                                                      wavelength_um=own.pupil["wavelength_nm"])
    return Beside(str(at), aperture, replace(own, pupil=pupil, rayleigh=rayleigh))


_Row = tuple[str, tuple[Entry, ...], str]


def light_against(own: Beside, other: Beside) -> Result:
    """How many times the light the other gathers."""
    return powers.light_gathered.work(f"beside.{other.name}.light", other_aperture_mm=other.aperture,
                                      aperture_mm=own.aperture)


def _light(telescopes: tuple[Beside, ...]) -> tuple[_Row, ...]:
    low = tuple(each.look.eye_pupil and powers.lowest_useful_power.work(
        f"beside.{each.name}.low", aperture_mm=each.aperture, eye_pupil_mm=each.look.eye_pupil) for each in telescopes)
    return (
        ("Light gathered", tuple(light_against(telescopes[0], each) for each in telescopes),
         "As the area of the mirror: nebulae and clusters gain by it under any air."),
        ("Limiting magnitude", tuple(first_order.limiting_magnitude_mag.work(
            f"beside.{each.name}.faint", aperture_mm=each.aperture) for each in telescopes),
         "By the form 2 + 5 log D. Half a magnitude is a quarter more aperture."),
        ("Lowest useful power", low, "The brightest view of nebulae; a larger mirror shows less sky at it."),
        ("Highest useful power", tuple(powers.highest_useful_power.work(
            f"beside.{each.name}.high", aperture_mm=each.aperture) for each in telescopes),
         "By custom, where the air allows it."),
    )


def _detail(telescopes: tuple[Beside, ...]) -> tuple[_Row, ...]:
    still, usual = ([each.look.rayleigh for each in telescopes], [each.look.coarser for each in telescopes])
    return (
        ("Resolution after Rayleigh", tuple(still), "In still air twice the aperture shows detail half as wide."),
        ("Resolution after Dawes", tuple(first_order.dawes_limit_arcsec.work(
            f"beside.{each.name}.dawes", aperture_mm=each.aperture) for each in telescopes),
         "Two equal stars that are just seen to be two."),
        ("Least crater in still air", _craters(telescopes, still, "still"), "As wide as Rayleigh’s limit."),
        ("Least crater in the usual air", _craters(telescopes, usual, "usual"), air_words(telescopes[0].look, still)),
        ("Elements across Jupiter in still air", _jupiters(telescopes, still, "still"), "At a mean opposition."),
        ("Elements across Jupiter in the usual air", _jupiters(telescopes, usual, "usual"),
         "In still moments each shows what still air allows."),
    )


_Finest = Sequence[Given | Result | None]


def _craters(telescopes: tuple[Beside, ...], finest: _Finest, air: str) -> tuple[Entry, ...]:
    return tuple(angle and least_crater(f"{each.name}_{air}", angle)
                 for each, angle in zip(telescopes, finest, strict=True))


def _jupiters(telescopes: tuple[Beside, ...], finest: _Finest, air: str) -> tuple[Entry, ...]:
    across = diameter_of(jupiter())
    return tuple(angle and elements_across.work(f"beside.{each.name}.jupiter_{air}", angle_arcsec=across,
                                                resolution_arcsec=angle)
                 for each, angle in zip(telescopes, finest, strict=True))


def air_words(look: Looking, still: Sequence[Result]) -> str:
    """Whether the usual air leaves a larger aperture anything to win in detail."""
    if look.seeing is None:
        return ""
    seeing, limits = number(look.seeing), [limit.number for limit in still]
    if seeing >= max(limits):
        return "The air sets the same limit to all of them: on most nights none shows finer detail than another."
    if seeing <= min(limits):
        return "The air is finer than every one of them: the larger shows more."
    return "The air limits the larger ones and the aperture the smaller."


def _divided(design: Design, telescopes: tuple[Beside, ...]) -> tuple[_Row, ...]:
    pairs = seen_from(design.build.conditions.latitude)
    if not pairs:
        return ()
    found = [[gaps("", each.look.pupil, pair, each.look.seeing) for pair in pairs] for each in telescopes]
    still = tuple(_count([gap.number for gap, _ in row]) for row in found)
    usual = tuple(_count([gap.number for _, gap in row if gap is not None]) for row in found)
    return (
        ("Double stars divided in still air", still, "Of the pairs in the table of double stars, with a clear gap."),
        ("Double stars divided in the usual air", usual if telescopes[0].look.seeing is not None else (),
         "In long looks."),
    )


def _count(gaps_found: Sequence[float]) -> str:
    return f"{sum(gap >= CLEAR for gap in gaps_found)} of {len(gaps_found)}"


def _notes(design: Design) -> tuple[str, ...]:
    named = design.build.compare_apertures
    return (
        "Each other aperture is taken as a perfect mirror of this focal ratio, with a diagonal in proportion; of this "
        "telescope the mirror is taken as it was traced." + ("" if named else " Others stand here where the spec names "
                                                             "them under compare_apertures."),
        "A larger mirror also weighs and costs more, cools more slowly, and brings its eyepiece higher above the "
        "ground. The telescope that is carried out shows more than the one that is not.",
    )
