"""What eye, air and aperture let each eyepiece show; how faint and how fine the telescope sees."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.calc.optics import magnitudes, powers
from dossier.calc.optics.targets import looks_arcmin
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.asides.bodies import least_crater
from dossier.design.asides.looking import EASY, EYE, SOFT, Looking, angle, looking, number
from dossier.design.model import Design
from dossier.spec.defaults import slug
from dossier.working import Given, Result

NAKED_EYE = Given("faintest star of the naked eye", 6.5, "mag", "default", said="a dark country sky, common practice")


def eyepieces(design: Design) -> Aside | None:
    """For each eyepiece what enters the eye, how large the finest detail and the air's blur look, and a sentence."""
    if not design.build.eyepieces:
        return None
    look = looking(design)
    columns = [AsideColumn("Magnification"), AsideColumn("Light into the eye"), AsideColumn("Finest detail looks"),
               AsideColumn("The usual air’s blur looks"), AsideColumn("Wants air of")]
    rows = [_eyepiece(design, look, piece.name) for piece in design.build.eyepieces]
    kept = [at for at in range(len(columns)) if any(row.entries[at] is not None for row in rows)]
    rows = [AsideRow(row.name, tuple(row.entries[at] for at in kept), row.remark) for row in rows]
    return Aside("What eye and air let each eyepiece show", "Eyepiece", tuple(columns[at] for at in kept), tuple(rows),
                 _eyepiece_notes(look), works=tuple(range(1, len(kept))))


def _eyepiece(design: Design, look: Looking, name: str) -> AsideRow:
    row, power = f"eyepiece.{slug(name)}", power_of(design, name)
    share = share_into_eye(design, look, name)
    finest = looks_arcmin.work(f"{row}.finest", magnification=power, angle_arcsec=look.rayleigh)
    blur = None if look.seeing is None else looks_arcmin.work(f"{row}.blur", magnification=power,
                                                              angle_arcsec=look.seeing)
    calm = calm_air(design, name)
    said = eyepiece_remark(finest.number, blur.number if blur else None, share.number if share else None,
                           calm.number, power.number / highest(look).number)
    return AsideRow(name, (power, share, finest, blur, calm), said)


def power_of(design: Design, name: str) -> Result:
    """The magnification of the eyepiece of this name."""
    return design.results[f"eyepiece.{slug(name)}.magnification"]


def share_into_eye(design: Design, look: Looking, name: str) -> Result | None:
    """How much of the light of this eyepiece enters the eye; None where the spec says no pupil."""
    row = f"eyepiece.{slug(name)}"
    return None if look.eye_pupil is None else powers.share_into_eye.work(
        f"{row}.share", exit_pupil_mm=design.results[f"{row}.exit_pupil"], eye_pupil_mm=look.eye_pupil)


def calm_air(design: Design, name: str) -> Result:
    """The seeing whose discs this eyepiece shows no larger than looks calm."""
    return powers.seeing_for_power_arcsec.work(f"eyepiece.{slug(name)}.calm", looks_arcmin=SOFT,
                                               magnification=power_of(design, name))


def eyepiece_remark(finest_arcmin: float, blur_arcmin: float | None, share: float | None, calm_arcsec: float,
                    of_highest: float) -> str:
    """What holds this eyepiece back, in sentences; ``of_highest`` is its power against the highest useful one."""
    said = []
    if share is not None and share < 1:
        lost = f"{100 * (1 - share):.0f}\u202f%"
        said.append(f"Its beam is wider than the eye’s pupil: {lost} of the light falls beside it.")
    if finest_arcmin < number(EYE):
        said.append("The image holds finer detail than the eye tells apart at this power.")
    elif finest_arcmin < number(EASY):
        said.append("The finest detail is just large enough for a sharp eye.")
    else:
        said.append("The finest detail is large enough for the eye.")
    if blur_arcmin is not None and blur_arcmin > number(SOFT):
        said.append(f"In the usual air it looks soft: keep it for nights steadier than {angle(calm_arcsec)}.")
    elif blur_arcmin is not None:
        said.append("The usual air allows it.")
    if of_highest > 1:
        said.append("Custom calls this more power than the aperture can use.")
    return " ".join(said)


def _eyepiece_notes(look: Looking) -> tuple[str, ...]:
    notes = ["The finest detail is Rayleigh’s limit. An eye tells 1′ apart (Young and Freedman, University Physics, "
             "exercise 36.40); 2′ is easy, and a view in which stars are discs of more than 4′ looks soft: common "
             "practice, no source."]
    if look.seeing is None:
        notes.append("The spec does not say conditions.seeing, so nothing is said of the usual air.")
    if look.eye_pupil is None:
        notes.append("The spec does not say conditions.eye_pupil, so nothing is said of light that misses the eye.")
    return tuple(notes)


def highest(look: Looking) -> Result:
    """The highest useful power by custom."""
    return powers.highest_useful_power.work("power.highest", aperture_mm=look.pupil["aperture_mm"])


def lowest(look: Looking) -> Result | None:
    """The lowest useful power; None where the spec says no pupil."""
    return None if look.eye_pupil is None else powers.lowest_useful_power.work(
        "power.lowest", aperture_mm=look.pupil["aperture_mm"], eye_pupil_mm=look.eye_pupil)


def finest_at(look: Looking, shown: Given) -> Result:
    """The power at which the aperture's finest detail looks so large."""
    return powers.power_to_show.work("power.finest", looks_arcmin=shown, angle_arcsec=look.rayleigh)


def air_power(look: Looking) -> Result | None:
    """The power at which the usual air's blur begins to look soft; None where the spec says no seeing."""
    return None if look.seeing is None else powers.power_to_show.work(
        "power.air", looks_arcmin=SOFT, angle_arcsec=look.seeing)


def eyepiece_for(look: Looking, power: Result) -> Result:
    """The focal length of the eyepiece that gives this power."""
    return powers.eyepiece_for_power_mm.work(f"{power.id}.eyepiece", focal_length_mm=look.pupil["focal_length_mm"],
                                             magnification=power)


def power_range(design: Design) -> Aside:
    """The powers worth having, and the eyepiece that gives each in this telescope."""
    look = looking(design)
    rows = tuple(AsideRow(name, (power, eyepiece_for(look, power)), remark)
                 for name, power, remark in sorted(_powers(look), key=lambda row: row[1].number))
    notes = ("Where a limit comes from an angle that the eye is shown, 1′ is published and 2′ and 4′ are custom.",)
    return Aside("Powers worth having", "Limit", (AsideColumn("Power"), AsideColumn("Eyepiece")), rows, notes,
                 works_by_row=True)


def _powers(look: Looking) -> Iterator[tuple[str, Result, str]]:
    low, air = lowest(look), air_power(look)
    if low is not None:
        yield "Lowest useful", low, "Below it the beam is wider than the eye’s pupil and part of the mirror is wasted."
    yield "Finest detail looks 1′", finest_at(look, EYE), "Below it a sharp eye misses detail that is there."
    yield "Finest detail looks 2′", finest_at(look, EASY), "From here on the eye sees all that there is."
    if look.seeing is not None and air is not None:
        soft = f"Above it the view is soft in seeing of {angle(number(look.seeing))}."
        yield "The usual air’s blur looks 4′", air, soft
    yield "Highest useful", highest(look), "Twice the millimetres of aperture: common practice, no source."


def faint(design: Design) -> Aside:
    """The faintest star by each form in print that the spec says enough for."""
    forms = tuple(_forms(design, looking(design)))
    found = [row.entries[0].number for row in forms if isinstance(row.entries[0], Result)]
    apart = max(found) - min(found)
    notes = (f"The forms that are in print lie {apart:.1f} magnitudes apart here: eyes, skies and what counts as seen "
             "differ by as much. This dossier uses the first wherever it says limiting magnitude. Compare telescopes "
             "by one and the same form.",)
    return Aside("The faintest star, by each form", "Form", (AsideColumn("Limiting magnitude"),), forms, notes,
                 works_by_row=True)


def _forms(design: Design, look: Looking) -> Iterator[AsideRow]:
    aperture = look.pupil["aperture_mm"]
    yield AsideRow("2 + 5 log D, D in mm", (design.results["optics.limiting_magnitude"],),
                   "A dark sky and a practised eye; the one this dossier uses.")
    yield AsideRow("9.1 + 5 log D, D in inches", (magnitudes.limiting_magnitude_inches_mag.work(
        "limit.inches", aperture_mm=aperture),), "For an eye that reaches 6.5 by itself with a pupil of 7.5\u202fmm.")
    yield AsideRow("4.5 + 4.4 log D, D in mm", (magnitudes.limiting_magnitude_observers_mag.work(
        "limit.observers", aperture_mm=aperture),), "Fitted to the faintest that observers report.")
    power, at = _most_power(design, look)
    yield AsideRow("5.5 + 2.5 log D + 2.5 log M, D in cm", (magnitudes.limiting_magnitude_at_power_mag.work(
        "limit.power", aperture_mm=aperture, magnification=power),),
        f"At {power.number:.0f} times, {at}: power darkens the sky behind the stars.")
    if look.eye_pupil is not None and "optics.throughput" in design.results:
        yield AsideRow("6.5 + 5 log D/p + 2.5 log τ, by the pupil", (magnitudes.limiting_magnitude_by_pupil_mag.work(
            "limit.pupil", aperture_mm=aperture, eye_pupil_mm=look.eye_pupil,
            throughput=design.results["optics.throughput"], naked_eye_limit_mag=NAKED_EYE),),
            "The light that mirror and diagonal pass on against the eye’s own, which reaches 6.5 unaided under a dark "
            "sky.")


def _most_power(design: Design, look: Looking) -> tuple[Result, str]:
    """The strongest eyepiece's power, or where there is none the highest useful one."""
    found = [(design.results[f"eyepiece.{slug(piece.name)}.magnification"], f"with the {piece.name}")
             for piece in design.build.eyepieces]
    return max(found, key=lambda each: each[0].number, default=(highest(look), "the highest useful power"))


def fine(design: Design) -> Aside:
    """The finest detail that aperture and air let through: on the sky, on the Moon, and the power it takes."""
    look = looking(design)
    told: list[tuple[str, Given | Result, str]] = [
        ("After Rayleigh", look.rayleigh, "Two equal stars with a clear dark gap between them, in still air."),
        ("After Dawes", design.results["optics.dawes_limit"], "Two equal stars that are just seen to be two."),
    ]
    if look.seeing is not None:
        told.append(("The usual air", look.seeing, air_remark(number(look.seeing), look.rayleigh.number)))
    rows = tuple(AsideRow(name, (entry, least_crater(str(at), entry), powers.power_to_show.work(
        f"fine.{at}.power", looks_arcmin=EASY, angle_arcsec=entry)), remark)
        for at, (name, entry, remark) in enumerate(told))
    return Aside("The finest detail", "Limit", (
        AsideColumn("On the sky"), AsideColumn("On the Moon"), AsideColumn("Looks 2′ at")), rows)


def air_remark(seeing_arcsec: float, rayleigh_arcsec: float) -> str:
    """Whether air or aperture decides."""
    times = seeing_arcsec / rayleigh_arcsec
    if times > 1:
        return (f"The air is {times:.1f} times as coarse as the aperture and decides on most nights. A larger mirror "
                "then shows fainter things, not finer ones.")
    return "The air is finer than the aperture: here the aperture decides, and a larger one shows more."
