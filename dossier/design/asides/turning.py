"""What the sky's turning does, in tables: through each eyepiece at rest, and to a field that is followed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.mechanics import tracking
from dossier.calc.optics import eyepieces
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.spec.defaults import slug
from dossier.working import Given, NoAnswer, Result

if TYPE_CHECKING:
    from dossier.design.model import Design

DECLINATIONS_DEG = (0.0, 45.0, 70.0)
# Hour angles that are told, the steps of declination, and how near to horizon and zenith a star may stand.
_HOURS = (0.0, 45.0)
_STEP_DEG, _LOWEST_DEG, _NEAR_ZENITH_DEG = 20.0, 10.0, 3.0


def crossing(design: Design) -> Aside | None:
    """How long a star takes across each eyepiece's field where nothing follows the sky."""
    if design.build.mount is None:
        return None
    rows = tuple(AsideRow(piece.name, tuple(_crossing(design, slug(piece.name), at) for at in DECLINATIONS_DEG))
                 for piece in design.build.eyepieces if f"eyepiece.{slug(piece.name)}.true_field" in design.results)
    columns = tuple(AsideColumn(f"Declination {at:.0f}°") for at in DECLINATIONS_DEG)
    return Aside("Time across each field, the telescope at rest", "Eyepiece", columns, rows,
                 ("From edge to edge through the middle. Declination counts from the celestial equator, north or "
                  "south; the planets and the Moon keep within 29° of it.",)) if rows else None


def _crossing(design: Design, name: str, declination: float) -> Result:
    return eyepieces.crossing_time_at_declination_s.work(
        f"crossing.{name}.{declination:.0f}", true_field_deg=design.results[f"eyepiece.{name}.true_field"],
        declination_deg=Given("declination", declination, "deg", "default"))


def turning(design: Design) -> Aside | None:
    """How fast the field turns, and how long an exposure that allows, for stars of several declinations."""
    known = rotation_inputs(design)
    if known is None:
        return None
    rows = tuple(row for row in (_turning(known, at) for at in _declinations(known.latitude_deg)) if row is not None)
    columns = tuple(AsideColumn(title) for title in (
        "Turns, on the meridian", "Exposure", "Turns, 3 h from it", "Exposure there"))
    return Aside("Field rotation of a drive in altitude and azimuth", "Declination of the star", columns, rows,
                 ("The exposure is the time in which a star at the edge of the judged field trails by "
                  f"{known.blurred}. The sign says which way the field turns.",), works=(0, 1)) if rows else None


@dataclass(frozen=True, slots=True)
class Rotation:
    """What field rotation is worked out from; ``blurred`` says in words what trail is borne."""

    latitude: Given
    blur: Given | Result
    radius: Result
    blurred: str

    @property
    def latitude_deg(self) -> float:
        return _one(self.latitude)


def _one(entry: Given | Result) -> float:
    return entry.value if not isinstance(entry.value, tuple) else entry.value[0]


def rotation_inputs(design: Design) -> Rotation | None:
    """None where the mount does not turn in altitude and azimuth, or where nobody says from what latitude. The trail
    that is borne is the seeing or, where none is said, what the telescope resolves."""
    from dossier.design import worksheet

    mount, conditions = design.build.mount, design.build.conditions
    if mount is None or mount.kind not in ("altaz", "rocker") or conditions.latitude is None:
        return None
    if abs(conditions.latitude) > 89.5:  # at a pole nothing turns, and every direction is south
        return None
    sheet = worksheet(design.loaded)
    blur: Given | Result = (sheet.given("conditions.seeing") if conditions.seeing is not None
                            else design.results["optics.rayleigh_limit"])
    words = "the seeing" if conditions.seeing is not None else "Rayleigh’s limit"
    radius = tracking.field_radius_deg.work("rotation.radius", judged_field_mm=design.results["field.judged"],
                                            focal_length_mm=sheet.given("primary.focal_length"))
    return Rotation(sheet.given("conditions.latitude"), blur, radius, words)


def _declinations(latitude: float) -> tuple[float, ...]:
    """Those that come well above the horizon, from the equator's side of the sky to the pole's."""
    steps = [step * _STEP_DEG for step in range(-1, 5)]
    signed = steps if latitude >= 0 else [0.0 - step for step in steps]
    return tuple(at for at in signed if tracking.altitude_deg(latitude, at, 0) > _LOWEST_DEG)


def _turning(known: Rotation, declination: float) -> AsideRow | None:
    entries: list[Entry] = []
    remark = ""
    for hours in _HOURS:
        if tracking.altitude_deg(known.latitude_deg, declination, hours) < _LOWEST_DEG:
            entries += [None, None]
            continue
        if tracking.altitude_deg(known.latitude_deg, declination, hours) > 90 - _NEAR_ZENITH_DEG:
            remark = "Too near the zenith, where the field turns without bound."
            entries += [None, None]
            continue
        entries += _rate_and_exposure(known, declination, hours)
    if all(entry is None for entry in entries) and not remark:
        return None
    return AsideRow(f"{declination:.0f}°".replace("-", "−"), tuple(entries), remark)


def _rate_and_exposure(known: Rotation, declination: float, hours: float) -> tuple[Result, Result | None]:
    own = f"rotation.{declination:.0f}.{hours:.0f}"
    rate = tracking.field_rotation_arcsec_per_s.work(
        f"{own}.rate", latitude_deg=known.latitude, declination_deg=Given("declination", declination, "deg", "default"),
        hour_angle_deg=Given("hour angle", hours, "deg", "default"))
    try:
        exposure = tracking.rotation_exposure_s.work(
            f"{own}.exposure", blur_arcsec=known.blur, field_rotation_arcsec_per_s=rate,
            field_radius_deg=known.radius)
    except NoAnswer:
        return rate, None
    return rate, exposure
