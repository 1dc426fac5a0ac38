"""What takes from the Strehl ratio on the axis, one after the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.optics import wavefront
from dossier.design.pictures.light import Light, light_of

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One thing that costs: what it is, the result it comes from, the factor it leaves, the ratio after it."""

    name: str
    result: str
    factor: float
    left: float


@dataclass(frozen=True, slots=True)
class StrehlBudget:
    """From a perfect mirror's 1 to what all lines leave together.

    Small errors that have nothing to do with one another multiply. ``unsaid`` names what the spec says nothing of;
    ``seeing_in_discs`` is the width of a star in the air's unrest in Airy discs, None where no seeing is given.
    """

    light: Light
    lines: tuple[BudgetLine, ...]
    unsaid: tuple[str, ...]
    seeing_in_discs: float | None

    @property
    def left(self) -> float:
        return self.lines[-1].left


def strehl_budget(design: Design) -> StrehlBudget:
    """The budget of this design: its figure, and whatever else the spec says enough of."""
    light = light_of(design)
    lines: list[BudgetLine] = []
    for name, result, factor in _factors(design, light):
        lines.append(BudgetLine(name, result, factor, factor * (lines[-1].left if lines else 1.0)))
    said = {line.result for line in lines}
    unsaid = tuple(name for result, name in _SUPPORT.items() if result not in said)
    if not light.surface_rms_nm and design.build.primary.surface_rms is None:
        unsaid = ("the polish", *unsaid)
    seeing = design.build.conditions.seeing
    discs = seeing / (2 * design.results["optics.rayleigh_limit"].number) if seeing else None
    return StrehlBudget(light, tuple(lines), (*unsaid, "the diagonal’s own flatness"), discs)


_SUPPORT = {"cell.wavefront_rms": "the mirror’s support", "cell.pinch_wavefront_rms": "the pushes’ pinch"}


def _factors(design: Design, light: Light) -> Iterator[tuple[str, str, float]]:
    figure = wavefront.highest_strehl(light.mirror, light.wavelength_nm).value
    yield "the mirror’s curve", "figure.wavefront_rms", figure
    if light.surface_rms_nm:
        yield "the polish", "figure.strehl", wavefront.surface_loss(light.surface_rms_nm, light.wavelength_nm)
    for result, name in _SUPPORT.items():
        if result in design.results:
            # A wavefront of so many waves is a surface of half as many wavelengths.
            surface_nm = design.results[result].number * light.wavelength_nm / 2
            yield name, result, wavefront.surface_loss(surface_nm, light.wavelength_nm)
