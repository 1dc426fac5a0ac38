"""How results become lines of a page."""

from __future__ import annotations

import pytest

from dossier.views.align import aligned
from dossier.views.questions import QUESTIONS, question_of
from dossier.views.site import css_string

PROMISED = [
    "optics.focal_ratio", "optics.image_scale", "optics.sagitta", "optics.intercept", "optics.rayleigh_limit",
    "optics.dawes_limit", "optics.airy_diameter", "optics.obstruction", "optics.throughput",
    "optics.limiting_magnitude", "figure.sag_difference", "figure.longitudinal_aberration",
    "figure.best_focus_shift", "figure.wavefront_pv", "figure.wavefront_rms", "figure.strehl",
    "figure.sphere_limit_focal_ratio", "spot.axis_rms_radius", "field.coma_tangential", "field.edge_rms_radius",
    "field.edge_wavefront_rms", "field.coma_free_radius", "diagonal.least_minor_axis", "diagonal.offset",
    "diagonal.full_field", "diagonal.edge_light", "light.mtf_25", "light.mtf_50", "light.mtf_75",
    "light.airy_energy", "front.least_opening", "focuser.bore_field", "spider.light_loss",
    "stray.shield_half_length", "collimation.tilt_tolerance", "bench.conic", "bench.wavefront_pv",
    "bench.wavefront_rms", "eyepiece.a.magnification", "eyepiece.a.exit_pupil", "eyepiece.a.true_field",
    "eyepiece.a.crossing_time", "cell.mirror_mass", "cell.deflection_rms", "cell.deflection_pv",
    "cell.deflection_rms_unfocused", "cell.support_radii", "cell.shear_factor", "cell.wavefront_rms",
    "cell.pinch_wavefront_rms", "cell.pinch_force_limit", "cell.spring_margin", "frame.sag", "frame.tilt",
    "frame.collimation_share", "frame.frequency", "frame.focus_drift", "balance.station", "mount.load",
    "mount.load_share", "thermal.time_constant", "thermal.settling_time", "parts.cost", "parts.mass",
    "cut.a.lengths",
]


@pytest.mark.parametrize("result_id", PROMISED)
def test_every_result_answers_a_question(result_id: str) -> None:
    question, _ = question_of(result_id)
    assert question.key not in ("rest", "light-path", "eyepieces-further")


def test_a_result_nobody_thought_of_is_still_told() -> None:
    assert question_of("dew.point")[0].key == "rest"


def test_questions_have_names_of_their_own() -> None:
    keys = [question.key for question in QUESTIONS]
    assert len(keys) == len(set(keys))
    assert all(question.heading.endswith("?") for question in QUESTIONS)


@pytest.mark.parametrize(("column", "pads"), [
    (["8", "0.92", "−1.172", "1032.0"], [".000", "0", "", "00"]),
    (["3", "12"], ["", ""]),
    (["1.5", "1.5 × 10⁻³", "", "2"], ["", "", "", ".0"]),
    ([], []),
])
def test_decimal_points_meet(column: list[str], pads: list[str]) -> None:
    assert [place.pad for place in aligned(column)] == pads


def test_a_css_string_cannot_be_left() -> None:
    assert css_string('a"}</style>') == "a\\000022\\00007d\\00003c\\00002fstyle\\00003e"
