"""Charts that judge the mirror on its axis: contrast, gathered light, wavefront, depth of focus, the budget."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, Tick, listed_ticks, round_ticks
from dossier.charts.framing import chart, figure, height_of, said
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.charts.steps import Step, steps
from dossier.design import pictures
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import fixed, length_unit
from dossier.drawings.palette import Palette
from dossier.drawings.scene import HIDDEN, OUTLINE, THIN, Pen, Words
from dossier.notation import show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

REAL, SHADOWED, CLEAR = Pen(OUTLINE), Pen(HIDDEN), Pen(THIN)
_NAMES = {"real": "this mirror", "same_shadow": "perfect, same diagonal", "clear": "perfect, no diagonal"}


def contrast(design: Design, palette: Palette, form: Form) -> Rendered:
    """MTF of the real pupil, of a perfect mirror behind the same diagonal, and of one with nothing before it."""
    made = pictures.contrast_curves(design)
    medium, width = MEDIA[form]
    shares = (0.0, 0.25, 0.5, 0.75, 1.0)
    pairs: tuple[Tick, ...] = tuple(
        (share, show(1 / (share * made.cut_off), "arcsec").plain) for share in shares if share)
    x = Axis(0.0, 1.0, listed_ticks(shares, 2), "detail: share of the cut-off; width of a dark–light pair", pairs)
    y = Axis(0.0, 1.0, round_ticks(0, 1, 5), "contrast kept")
    plot = Plot(medium, width, height_of(form, 0.46), x, y)
    _compared(plot, made, made.shares)
    for share in (0.25, 0.5, 0.75):
        result = design.results[f"light.mtf_{round(100 * share)}"]
        plot.mark(result.id, share, result.number, Words(fixed(result.number, 2), result=result.id), on="real")
    at = {name: [float(value) for value in getattr(made, name)[8:25:8]] for name in _NAMES}
    alt = (f"MTF on the axis at {_wavelength(design)}, from 0 to the cut-off of {show(made.cut_off, '').plain} cycles "
           f"per arcsecond. At a quarter, half and three quarters of it this mirror keeps {_three(at['real'])}; a "
           f"perfect mirror behind the same diagonal {_three(at['same_shadow'])}; a perfect one with nothing before "
           f"it {_three(at['clear'])}.")
    caption = ("How much contrast is left of fine detail. The gap between the wide line and the dashed one is what "
               "the mirror’s curve costs, the gap between the dashed and the thin one what the diagonal’s shadow "
               "costs. Below the axis: how wide a pair of a dark and a light stripe is on the sky.")
    return chart(plot, "contrast", "Contrast against fineness of detail", caption, alt, form, palette)


def encircled_energy(design: Design, palette: Palette, form: Form) -> Rendered:
    """Share of a star's light inside a radius."""
    made = pictures.encircled_energy(design)
    medium, width = MEDIA[form]
    most = float(made.radii_um[-1])
    x = Axis(0.0, most, round_ticks(0, most, 6 if form == "wide" else 5), "radius in the star image, µm")
    y = Axis(0.0, 1.0, round_ticks(0, 1, 5), "share of the light inside")
    plot = Plot(medium, width, height_of(form, 0.44), x, y)
    plot.upright("airy", made.airy_um, "edge of the Airy disc")
    _compared(plot, made, made.radii_um)
    inside = design.results["light.airy_energy"]
    plot.mark(inside.id, made.airy_um, inside.number, Words(fixed(inside.number, 2), result=inside.id), on="real")
    at_airy = {name: _at(made.radii_um, getattr(made, name), made.airy_um) for name in _NAMES}
    alt = (f"Light gathered inside the Airy disc, {show(made.airy_um, 'um').plain} in radius, at "
           f"{_wavelength(design)}: this mirror {fixed(at_airy['real'], 2)}, a perfect mirror behind the same diagonal "
           f"{fixed(at_airy['same_shadow'], 2)}, a perfect one with nothing before it {fixed(at_airy['clear'], 2)}.")
    caption = ("How closely a star’s light is gathered. What the wide line lacks at the edge of the Airy disc lies in "
               "the rings, as a glow about every bright point.")
    return chart(plot, "encircled-energy", "Light gathered in the star image", caption, alt, form, palette)


def wavefront(design: Design, palette: Palette, form: Form) -> Rendered:
    """The wavefront from rim to rim at best focus, between an eighth of a wave up and down."""
    made = pictures.wavefront_profile(design)
    medium, width = MEDIA[form]
    factor, unit = length_unit(design.build.readers)
    half, least = made.light.mirror.aperture_mm / 2, 1 / 8
    reach = max(1.75 * least, 1.08 * float(abs(made.waves).max()))
    ticks = ((-0.25, "−1/4"), (-least, "−1/8"), (0.0, "0"), (least, "1/8"), (0.25, "1/4"))
    y = Axis(-reach, reach, tuple(tick for tick in ticks if abs(tick[0]) <= reach) if reach < 0.6
             else round_ticks(-reach, reach, 6), "wavefront, waves")
    x = Axis(-half, half, round_ticks(-half, half, 6 if form == "wide" else 4, factor),
             f"distance from the mirror’s middle, {unit}")
    plot = Plot(medium, width, height_of(form, 0.4), x, y)
    if made.shadow_mm:
        plot.shade("shadow", -made.shadow_mm, made.shadow_mm, "diagonal")
    plot.limit(least, "above", Words("an eighth of a wave"))
    plot.limit(-least, "below")
    valley = show_result(design.results["figure.wavefront_pv"], design.build.readers).plain
    for name, used, pen in (("left", made.heights_mm <= -made.shadow_mm, REAL),
                            ("shaded", abs(made.heights_mm) <= made.shadow_mm, CLEAR),
                            ("right", made.heights_mm >= made.shadow_mm, REAL)):
        label = valley + (" from peak to valley" if form == "wide" else " P–V") if name == "right" else ""
        plot.curve(Curve(name, made.heights_mm[used], made.waves[used], pen, label))
    rms = show_result(design.results["figure.wavefront_rms"], design.build.readers).plain
    alt = (f"Wavefront across the mirror at the focus where it is least, at {_wavelength(design)}: peak to valley "
           f"{valley}, RMS {rms}, over what the diagonal leaves open. Hatched: more than an eighth of a wave up or "
           f"down, which together are the quarter wave of Rayleigh’s limit. An eighth of a wave is "
           f"{show(made.light.wavelength_nm / 8, 'nm').plain}.")
    caption = ("How far the light lags or leads across the mirror. A line that stays between the hatched sides is "
               f"within a quarter of a wave from peak to valley; this one has {valley}.")
    return chart(plot, "wavefront", "The wavefront across the mirror", caption, alt, form, palette)


def strehl_against_focus(design: Design, palette: Palette, form: Form) -> Rendered:
    """Strehl ratio against focus, the three best foci marked, the goal as a hatched side."""
    made = pictures.strehl_curve(design)
    readers, result = design.build.readers, design.results["figure.strehl"]
    medium, width = MEDIA[form]
    factor, unit = length_unit(readers)
    low, high = float(made.focuses_mm[0]), float(made.focuses_mm[-1])
    x = Axis(low, high, round_ticks(low, high, 7 if form == "wide" else 5, factor),
             f"focus, from the paraxial one, towards the sky, {unit}")
    y = Axis(0.0, 1.0, round_ticks(0, 1, 5), "Strehl ratio")
    plot = Plot(medium, width, height_of(form, 0.44), x, y)
    if result.goal and result.goal.sense == "at_least":
        plot.limit(result.goal.limit, "below", Words(f"at least {fixed(result.goal.limit, 2)}"))
    plot.curve(Curve("strehl", made.focuses_mm, made.strehl, REAL))
    named = _foci(made)
    for names, focus, value in named:
        label = names[0] if form == "wide" and len(names) == 1 else _short(names)
        plot.mark(names[0], focus, value, Words(f"{label}, {show(focus, 'mm', readers=readers).plain}"),
                  on="strehl", down=True)
    told = "; ".join(f"{_joined(names)} at {show(focus, 'mm', readers=readers).plain}, Strehl ratio {fixed(value, 3)}"
                     for names, focus, value in named)
    depth = show(made.depth_mm, "mm", readers=readers).plain
    alt = (f"Strehl ratio against focus at {_wavelength(design)}, the polish included; focus counted from the "
           f"paraxial one. {told}. A shift of {depth} is a quarter of a wave of defocus.")
    caption = ("How exactly the focus must be set, and what “best focus” means. The smallest spot of rays, the "
               f"flattest wavefront and the brightest star need not lie at one place. {depth} away from its peak the "
               "curve has lost what a quarter of a wave of defocus takes.")
    return chart(plot, "strehl-focus", "Strehl ratio against focus", caption, alt, form, palette)


def budget(design: Design, palette: Palette, form: Form) -> Rendered:
    """What is left of the Strehl ratio after each thing that takes from it."""
    made = pictures.strehl_budget(design)

    goal = design.results["figure.strehl"].goal
    limit = goal.limit if goal and goal.sense == "at_least" else None
    told = "; ".join(f"{line.name} leaves {fixed(line.factor, 3)} of it" for line in made.lines)
    alt = (f"Strehl ratio on the axis at {_wavelength(design)}, from a perfect mirror’s 1: {told}. Together "
           f"{fixed(made.left, 3)}" + (f", where {fixed(limit, 2)} is the limit." if limit is not None else "."))
    caption = "What is paid for, one after the other, out of a perfect mirror’s 1." + _unsaid(made)
    shapes, box = steps([Step(said(line.name), line.left) for line in made.lines], limit, form, "Strehl ratio left")
    return figure(shapes, box, "strehl-budget", "What the Strehl ratio is spent on", caption, alt, form, palette)


def _compared(plot: Plot, made: pictures.ContrastCurves | pictures.EnergyCurves, x: pictures.Floats) -> None:
    """The mirror's curve and those of the two perfect ones; one name for two that no eye could tell apart."""
    alike = float(abs(made.real - made.same_shadow).max()) < 0.004
    plot.curve(Curve("clear", x, made.clear, CLEAR, _NAMES["clear"]))
    plot.curve(Curve("same_shadow", x, made.same_shadow, SHADOWED, "" if alike else _NAMES["same_shadow"]))
    plot.curve(Curve("real", x, made.real, REAL, "this mirror, as good as perfect" if alike else _NAMES["real"]))


def _unsaid(made: pictures.StrehlBudget) -> str:
    words = f" Not counted, because the plan does not say it: {_joined(made.unsaid)}."
    if made.seeing_in_discs is not None:
        words += (" Seeing comes on top: by itself it makes a star "
                  f"{show(made.seeing_in_discs, '').plain} Airy discs wide at half its brightness.")
    return words


def _foci(made: pictures.StrehlCurve) -> list[tuple[tuple[str, ...], float, float]]:
    """The best foci from the mirror outwards, those that no picture could tell apart under one name."""
    foci, best = made.foci, list[tuple[tuple[str, ...], float, float]]()
    span = float(made.focuses_mm[-1] - made.focuses_mm[0])
    named = zip(("least RMS wavefront", "highest Strehl ratio", "smallest spot"),
                (foci.least_wavefront_mm, foci.highest_strehl_mm, foci.smallest_spot_mm), made.at_foci, strict=True)
    for name, focus, value in sorted(named, key=lambda each: each[1]):
        if best and focus - best[-1][1] < 0.012 * span:
            names, at, known = best[-1]
            best[-1] = ((*names, name), at, known)
        else:
            best.append(((name,), focus, value))
    return best


_SHORT = {"least RMS wavefront": "wavefront", "highest Strehl ratio": "Strehl ratio", "smallest spot": "spot"}


def _short(names: tuple[str, ...]) -> str:
    """Foci under few words: they are told in full below the picture."""
    if len(names) == len(_SHORT):
        return "all best foci"
    return f"best {_joined(tuple(_SHORT[name] for name in names))}"


def _joined(names: tuple[str, ...]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _three(values: list[float]) -> str:
    low, middle, high = (fixed(value, 2) for value in values)
    return f"{low}, {middle} and {high}"


def _at(places: pictures.Floats, values: pictures.Floats, place: float) -> float:
    return float(values[int(abs(places - place).argmin())])


def _wavelength(design: Design) -> str:
    return show(design.build.conditions.wavelength, "nm").plain
