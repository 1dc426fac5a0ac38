"""What the bench found, with its uncertainty: nominal against measured, which limits it meets, and what to do."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.design import Design, pictures
from dossier.notation import show
from dossier.working import Result

QUARTER_WAVE, STREHL = 0.25, 0.80
# How surely a difference is one, in standard deviations; three zones leave a single reading to judge scatter by.
_SURE, _FEW = 2.0, 4
# An uncertainty of half the way from sphere to paraboloid cannot tell the one from the other.
_VAGUE = 0.5
# Shares of a paraboloid's conic within which a sign turned, or a source mistaken, explains a finding.
_NEAR = 0.15
# What the conic leaves of the surface counts where it costs this share of the Strehl ratio.
_WORTH = 0.01


def tell(design: Design) -> str:
    """The finding, the limits, the profile, and what follows; empty without readings."""
    if "bench.conic" not in design.results:
        return ""
    paragraphs = (_found(design), _wavefront(design), _surface(design), (*_judged(design), *_to_do(design)),
                  _scope(design))
    return "\n\n".join(text for each in paragraphs if (text := " ".join(each)))


def _found(design: Design) -> Iterator[str]:
    conic, spread, planned = _number(design, "conic"), _number(design, "conic_uncertainty"), _planned(design)
    said = _conic(planned)
    yield (f"The readings fit a conic of **{{{{ bench.conic }}}} ± {{{{ bench.conic_uncertainty }}}}** where the plan "
           f"has {said}.")
    off = abs(conic - planned)
    if off <= _SURE * spread:
        yield "Within two standard deviations that is the planned figure."
    else:
        times = (f"{off / spread:.2g} standard deviations" if spread and off < 100 * spread
                 else "far more than the scatter")
        side = "towards the paraboloid" if abs(conic + 1) < abs(planned + 1) else "away from the paraboloid"
        yield f"It lies {side}, by {times}." if planned != -1 else (
            f"It is {'undercorrected' if conic > -1 else 'overcorrected'}, by {times}.")
    if spread > _VAGUE:
        yield "So wide a spread tells little of the mirror."
    if hint := _slip(conic, spread, planned, moving=_moving(design)):
        yield hint
    if len(_zones(design)) < _FEW:
        yield ("Three zones leave one reading to judge the scatter by, so that the uncertainty is itself little more "
               "than a guess. Read more zones, or read them again.")


def _slip(conic: float, spread: float, planned: float, *, moving: bool) -> str:
    """A slip of the tester's that would explain what was found."""
    room = max(_NEAR * abs(planned), _SURE * spread)
    if planned == 0 or abs(conic - planned) <= room:
        return ""
    if abs(conic + planned) <= room:
        return ("**Were the readings positive away from the mirror?** With their signs turned they would give the "
                "planned figure.")
    if moving and abs(conic - 2 * planned) <= 2 * room:
        return "**Did the source move with the knife?** If it stood still, the same readings give the planned figure."
    if not moving and abs(conic - planned / 2) <= room / 2:
        return ("**Did the source stand still?** If it moved with the knife, the same readings give the planned "
                "figure.")
    return ""


def _wavefront(design: Design) -> Iterator[str]:
    yield ("Over its whole face, with the diagonal left aside, this conic leaves **{{ bench.wavefront_pv }} ± "
           "{{ bench.wavefront_pv_uncertainty }}** from peak to valley and {{ bench.wavefront_rms }} ± "
           "{{ bench.wavefront_rms_uncertainty }} RMS, a Strehl ratio of {{ bench.strehl }} ± "
           "{{ bench.strehl_uncertainty }}.")
    yield ("Taken zone by zone, no conic supposed, the surface makes {{ bench.profile_pv }} from peak to valley, "
           "{{ bench.profile_rms }} RMS and a Strehl ratio of {{ bench.profile_strehl }}.")


def _judged(design: Design) -> Iterator[str]:
    valley, strehl = _Limit.valley(design), _Limit.strehl(design)
    yield (f"Conic or zones, the worse of both counts: the quarter wave (Rayleigh) it **{valley}**, a Strehl ratio of "
           f"0.80 (Maréchal) it **{strehl}**.")
    if design.planned is None or "figure.strehl" not in design.planned.results:
        return
    before, after = (show(each.results["figure.strehl"].number, "", result_id="figure.strehl").plain
                     for each in (design.planned, design))
    yield f"Behind the diagonal, with its surface counted, the Strehl ratio is {after} where the plan has {before}."


@dataclass(frozen=True, slots=True)
class _Limit:
    """How far the conic and the surface, whichever is worse, stand on the right side of a limit, with the conic's
    uncertainty; ``curve`` is the conic alone."""

    curve: float
    surface: float
    spread: float

    @classmethod
    def valley(cls, design: Design) -> _Limit:
        return cls(QUARTER_WAVE - _number(design, "wavefront_pv"), QUARTER_WAVE - _number(design, "profile_pv"),
                   _number(design, "wavefront_pv_uncertainty"))

    @classmethod
    def strehl(cls, design: Design) -> _Limit:
        return cls(_number(design, "strehl") - STREHL, _number(design, "profile_strehl") - STREHL,
                   _number(design, "strehl_uncertainty"))

    @property
    def spare(self) -> float:
        return min(self.curve, self.surface)

    @property
    def open(self) -> bool:
        """Whether the readings cannot tell on which side of the limit the mirror stands."""
        return abs(self.spare) <= self.spread

    def __str__(self) -> str:
        return ("meets" if self.spare >= 0 else "misses") + (", by less than the uncertainty" if self.open else "")


def _surface(design: Design) -> Iterator[str]:
    made, used = pictures.bench_profile_of(design), design.results["figure.strehl"].inputs["surface_rms_nm"]
    if made is None:
        return
    yield "What the conic does not explain is {{ bench.surface_rms }} RMS of glass."
    if isinstance(used, Result):
        yield "That stands for the surface’s RMS error on every sheet, since nothing worse is said of it."
    elif used.origin == "measured":
        yield "For the surface’s RMS error the measured file’s own value is used."
    elif used.value:
        kept = show(used.value, used.unit).plain
        yield (f"The plan’s {kept} of surface error stays in the budget: a mask of {len(made.zones_mm)} zones sees no "
               "roughness finer than they are, and cannot show that the mirror is smoother.")
    if _left_counts(design):
        worst = max(range(len(made.left_nm)), key=lambda zone: abs(made.left_nm[zone]))
        yield (f"Zone {worst + 1} stands {show(abs(made.left_nm[worst]), 'nm').plain} "
               f"{'high' if made.left_nm[worst] > 0 else 'low'} of the conic.")


def _to_do(design: Design) -> Iterator[str]:
    conic, planned, limits = _number(design, "conic"), _planned(design), (_Limit.valley(design), _Limit.strehl(design))
    if any(limit.open for limit in limits):
        yield ("**Read it again before anything else.** A limit lies within the uncertainty; four times as many "
               "readings halve it.")
    elif all(limit.spare > 0 for limit in limits):
        yield "**Leave the mirror as it is.** No polishing would show at the eyepiece."
    elif all(limit.curve > 0 for limit in limits):
        yield ("**The curve is right; its zones are not.** What stands high can be brought down with small strokes "
               "over it alone; test between any two spells, cold. On a bought, coated mirror, send these readings to "
               "its maker.")
    elif planned == 0 and abs(conic) <= max(_NEAR, _SURE * _number(design, "conic_uncertainty")):
        yield ("**The mirror is the sphere that was ordered; the plan asks too much of a sphere.** A longer focal "
               "length, a smaller aperture or a paraboloid puts it right: [the optics sheet](optics.html) says how "
               "much.")
    else:
        yield _polish(conic)


def _polish(conic: float) -> str:
    if conic > -1:
        return ("**It is undercorrected: the middle must be deepened, or the rim lowered, towards the paraboloid.** "
                "On a finished, coated mirror that means new polish and a new coating; a bought mirror goes back to "
                "its maker with these readings.")
    return ("**It is overcorrected: the middle is too deep against the rim.** It is brought back with strokes that "
            "lead to the sphere; on a bought, coated mirror, send these readings to its maker.")


def _scope(design: Design) -> Iterator[str]:
    yield ("Every sheet of this dossier is worked out with the conic that was found. One mask along one diameter sees "
           "zones only: astigmatism and a mirror that bends in its cell it cannot see. The star test can.")


def _left_counts(design: Design) -> bool:
    """Whether what the conic leaves costs the Strehl ratio anything that a builder should mind."""
    surface = design.results["bench.surface_rms"].number
    wavelength = float(design.build.conditions.wavelength)
    return (4 * math.pi * surface / wavelength) ** 2 > _WORTH


def _zones(design: Design) -> tuple[float, ...]:
    """The radii that were read, mm."""
    return design.build.bench.zones if design.build.bench else ()


def _moving(design: Design) -> bool:
    return design.build.bench is not None and design.build.bench.source == "moving"


def _planned(design: Design) -> float:
    return design.build.primary.conic


def _conic(planned: float) -> str:
    names = {0.0: "0, a sphere", -1.0: "−1, a paraboloid"}
    return names.get(planned, show(planned, "").plain)


def _number(design: Design, name: str) -> float:
    return design.results[f"bench.{name}"].number
