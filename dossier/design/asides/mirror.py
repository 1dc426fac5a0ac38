"""At what focal length a sphere of this aperture would do, by each limit: the ring left open, and the whole mirror."""

from __future__ import annotations

from dossier.calc.optics.sphere_limits import sphere_focal_length_quarter_wave_mm, sphere_focal_length_strehl_mm
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.working import Given, Result

_COLUMNS = (AsideColumn("By a quarter wave"), AsideColumn("By a Strehl ratio of 0.80"))
_NOTES = (
    "What a sphere’s curve alone allows; polish, support and air come on top. At one and the same focal length "
    "a narrower ring leaves a smaller error, so a larger diagonal is kinder to a sphere. It costs contrast elsewhere.",
)


def shortest_spheres(design: Design) -> tuple[Result, Result] | None:
    """The shortest focal length of a sphere by a quarter wave and by its Strehl ratio, over the ring left open."""
    pupil = _pupil(design)
    if pupil is None:
        return None
    return _by_both("ring", **pupil)


def table(design: Design) -> Aside | None:
    """Both limits over the ring and over the whole mirror, and this mirror's own focal length to compare."""
    pupil = _pupil(design)
    if pupil is None:
        return None
    whole = Given("no shadow", 0.0, "mm", "default", said="the whole mirror")
    own = design.results["figure.strehl"].inputs["focal_length_mm"]
    rows = (
        AsideRow("The ring that the diagonal leaves open", _by_both("ring", **pupil)),
        AsideRow("The whole mirror", _by_both("whole", **{**pupil, "obstruction_diameter_mm": whole})),
        AsideRow("This mirror", (own, own)),
    )
    return Aside("Shortest focal length at which a sphere of this aperture would do", "Over", _COLUMNS, rows, _NOTES)


def _pupil(design: Design) -> dict[str, Given | Result] | None:
    figure = design.results.get("figure.strehl")
    if figure is None:
        return None
    return {name: figure.inputs[name] for name in ("aperture_mm", "obstruction_diameter_mm", "wavelength_nm")}


def _by_both(name: str, **pupil: Given | Result) -> tuple[Result, Result]:
    return (sphere_focal_length_quarter_wave_mm.work(f"mirror.sphere_quarter_wave_{name}", **pupil),
            sphere_focal_length_strehl_mm.work(f"mirror.sphere_strehl_{name}", **pupil))
