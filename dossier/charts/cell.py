"""A pinched mirror: Strehl ratio against the force of a push, and the star that it makes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, round_ticks
from dossier.charts.framing import chart, height_of
from dossier.charts.panels import Bar, Panel, Row, Sheet, rendered
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.design import pictures
from dossier.design.pictures import cell
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import fixed, plain
from dossier.drawings.palette import Palette
from dossier.drawings.scene import CENTRE, HIDDEN, OUTLINE, THIN, Pen, Words
from dossier.notation import show
from dossier.notation.units import CUSTOMARY

if TYPE_CHECKING:
    from dossier.design.model import Design

_LOWEST_STREHL, _LIMIT = 0.6, 0.95
# Stars as elsewhere: over so many tens of brightness.
_DECADES = 4.0


def pinch_strehl(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Strehl ratio against the force of each push, in the planned arrangement and in others."""
    made = cell.pinch_curves(design)
    if made is None:
        return None
    medium, width = MEDIA[form]
    per_newton, unit = _unit(design)
    most = per_newton * float(made.forces_n[-1])
    x = Axis(0.0, most, round_ticks(0, most, 7 if form == "wide" else 5), f"force of each push, {unit}")
    y = Axis(_LOWEST_STREHL, 1.03, round_ticks(_LOWEST_STREHL, 1.0, 4), "Strehl ratio")
    plot = Plot(medium, width, height_of(form, 0.44), x, y)
    plot.limit(_LIMIT, "below", Words(f"at least {fixed(_LIMIT, 2)}"))
    own = made.arrangements[0]
    if made.own_n is not None:
        plot.upright("own-push", per_newton * made.own_n, f"this plan, {_force(made.own_n, design)}")
    for curve in [curve for curve in made.curves if curve.bends]:
        forces, strehl = cell.down_to(_LOWEST_STREHL, made.forces_n, curve.strehl)
        pen = _PENS.get(curve.key, Pen(THIN))
        plot.curve(Curve(curve.key, per_newton * forces, strehl, pen, _label(curve, design)))
    flat = [curve for curve in made.curves if not curve.bends]
    plot.curve(Curve("plate", per_newton * made.forces_n, flat[-1].strehl, Pen(OUTLINE, "faint"), "pushing on a plate"))
    if own.limit is not None:
        plot.mark("cell.pinch_force_limit", per_newton * own.limit.number, _LIMIT,
                  Words(_force(own.limit.number, design), result="cell.pinch_force_limit"), on="own")
    return chart(plot, "pinch-strehl", "Strehl ratio against the force of a push", _pinch_caption(made, flat),
                 _pinch_alt(design, made), form, palette)


def pinched_star(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """A star in focus under no push, the planned one, the largest and one too many."""
    made = cell.pinched_stars(design)
    if made is None:
        return None
    bar = _bar(made)
    rows, told = [], []
    for place, stars in enumerate(made.rows):
        heads = [Panel(f"pinched-{place}-none", _logarithmic(made.free), ("no push", _force(0.0, design)), bar)]
        heads += [Panel(f"pinched-{place}-{index}", _logarithmic(star.picture),
                        (_WHAT[star.what], _force(star.force_n, design)), bar) for index, star in enumerate(stars)]
        name = stars[0].arrangement
        rows += [Row(name, tuple(heads))] if form == "wide" else [
            Row(name if not start else "", tuple(heads[start:start + 2])) for start in range(0, len(heads), 2)]
        told.append(f"{name}: " + ", ".join(f"{_WHAT[star.what]} {_force(star.force_n, design)}, brightest point "
                                            f"{fixed(star.peak, 2)} of the unpushed mirror’s" for star in stars))
    alt = (f"Simulation: a star in focus in white light by this mirror, pushed by {_force(0.0, design)} and more. "
           f"{'. '.join(told)}. Pictures are {plain(2 * made.half_width_um, 'um')} wide.")
    caption = ("A star in still air by this mirror, on a logarithmic scale, while its adjusters push the glass against "
               "the clips. The thickness of the blank is counted in. The largest push leaves a Strehl ratio of 0.95 to "
               f"a perfect mirror; too much is {cell.TOO_FAR:.0f} times that, as a screw gives that is tightened by "
               "feel.")
    return rendered(Sheet("pinched-star", "What a pinched mirror makes of a star", caption, alt), rows, form, palette,
                    max(1 + len(stars) for stars in made.rows) if form == "wide" else 2)


_WHAT = {"now": "this plan", "largest": "largest push", "too much": "too much"}
_PENS = {"own": Pen(OUTLINE), "solid": Pen(HIDDEN), "between": Pen(CENTRE), "onto": Pen(CENTRE)}
_SHORT = {"solid": "the same, thick blank", "onto": "clips turned onto the pushes", "between": "clips half way between",
          "behind": "pushes right behind the clips"}


def _label(curve: cell.PinchCurve, design: Design) -> str:
    if curve.key == "own":
        return "on the glass, thin plate" if design.build.cell and design.build.cell.push and (
            design.build.cell.push.against == "plate") else "as planned, thin plate"
    return _SHORT.get(curve.key, curve.name[:1].lower() + curve.name[1:])


def _pinch_caption(made: cell.PinchCurves, flat: Sequence[cell.PinchCurve]) -> str:
    own, harmless = made.arrangements[0], [curve.name for curve in flat if curve.key not in ("plate", "own")]
    told = ("What pushing the glass against its clips costs, by the force of each push, for an otherwise perfect "
            "mirror. ")
    told += ("As planned the pushes stand right behind the clips and bend nothing; the other lines are thin plates. "
             if own.factor is None else
             "The wide line is a thin plate; the broken one counts in the thickness of this blank, which makes it "
             f"{fixed(own.factor.number, 1)} times worse. The other lines are thin plates too. ")
    if harmless:
        told += f"As harmless as a plate: {'; '.join(name[:1].lower() + name[1:] for name in harmless)}."
    return told.strip()


def _pinch_alt(design: Design, made: cell.PinchCurves) -> str:
    told = [f"{each.name}: {_force(each.limit.number, design)} for a thin plate" + (
        f", {_force(each.solid_limit.number, design)} for this thick blank" if each.solid_limit is not None else "")
        for each in made.arrangements if each.limit is not None]
    own = f" The pushes of this plan have {_force(made.own_n, design)}." if made.own_n is not None else ""
    return (f"Strehl ratio against the force of each push at {show(design.build.conditions.wavelength, 'nm').plain}. "
            f"It falls to {fixed(_LIMIT, 2)} at: {'; '.join(told)}. On a plate it stays at 1.{own}")


def _force(value: float, design: Design) -> str:
    return show(value, "n", readers=design.build.readers).plain


def _unit(design: Design) -> tuple[float, str]:
    """The readers' unit of force: how many of it are a newton, and its name."""
    if design.build.readers.units == "inch":
        return CUSTOMARY["n"].factor, CUSTOMARY["n"].text
    return 1.0, "N"


def _bar(made: cell.PinchedStars) -> Bar:
    width = 2 * made.half_width_um
    length = next(step for step in (100, 50, 20, 10, 5, 2, 1) if step <= 0.25 * width or step == 1)
    return Bar(length / width, plain(length, "um"))


def _logarithmic(picture: pictures.Floats) -> pictures.Floats:
    return (1 + pictures.tens(picture.clip(10.0**-_DECADES)) / _DECADES).clip(0, 1)
