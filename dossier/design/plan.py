"""The order of the working: every result, by which formula, from what."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.design import eyepieces, first_order, frame, parts
from dossier.design.worksheet import Work
from dossier.spec.load import Loaded


def plan_for(loaded: Loaded) -> Mapping[str, Work]:
    """Every result that a build of this kind may have, in the order in which pages tell them."""
    build = loaded.build
    return {**first_order.plan(build), **eyepieces.plan(build), **frame.plan(build), **parts.plan(build)}


# Results that have a name and a definition but are not worked out yet: a goal may already be set on one, and is shown
# as waiting.
NOT_YET = frozenset((
    "figure.longitudinal_aberration", "figure.best_focus_shift", "figure.wavefront_pv", "figure.wavefront_rms",
    "figure.strehl", "spot.axis_rms_radius", "field.edge_rms_radius", "field.edge_wavefront_rms",
    "diagonal.full_field", "diagonal.edge_light", "light.mtf_25", "light.mtf_50", "light.mtf_75", "light.airy_energy",
    "front.least_opening", "focuser.bore_field", "spider.light_loss", "stray.shield_half_length",
    "collimation.tilt_tolerance", "bench.conic", "bench.wavefront_pv", "bench.wavefront_rms", "cell.deflection_rms",
    "cell.deflection_pv", "cell.deflection_rms_unfocused", "cell.support_radii", "cell.shear_factor",
    "cell.wavefront_rms", "cell.pinch_wavefront_rms", "cell.pinch_force_limit", "cell.spring_margin", "frame.sag",
    "frame.tilt", "frame.collimation_share", "frame.frequency", "frame.focus_drift", "thermal.time_constant",
    "thermal.settling_time",
))
