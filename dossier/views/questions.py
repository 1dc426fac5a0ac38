"""What each sheet answers, and which results answer it. A result added later falls into place by its ID.

The first question whose pattern fits a result has it; a result that fits none stands with the last one.
"""

from __future__ import annotations

from dataclasses import dataclass
from fnmatch import fnmatchcase

from dossier.design import Design
from dossier.working import Result


@dataclass(frozen=True, slots=True)
class Question:
    """A heading, the page it stands on, and the patterns of the results that answer it, the telling ones first.

    ``further`` are patterns of results that were only needed on the way. ``rows`` is the beginning of IDs that are
    shown as a table: ``eyepiece`` for ``eyepiece.<name>.<quantity>``, with a row for each name and a column for each
    quantity; ``parts.group_cost`` for ``parts.group_cost.<name>``. ``sum`` is the result that adds up such a table.
    """

    page: str
    key: str
    heading: str
    results: tuple[str, ...]
    further: tuple[str, ...] = ()
    rows: str = ""
    row_heading: str = ""
    sum: str = ""


QUESTIONS = (
    Question("optics.html", "mirror", "Is the mirror good enough?",
             ("optics.focal_ratio", "figure.wavefront_pv", "figure.wavefront_rms", "figure.strehl",
              "figure.strehl_budget", "figure.sphere_limit_focal_ratio", "figure.sag_difference",
              "figure.longitudinal_aberration", "figure.best_focus_shift", "spot.axis_rms_radius"),
             ("figure.*", "spot.*")),
    Question("testing.html", "star-test", "What should a star look like?", ()),
    Question("testing.html", "zones", "What will the knife edge read?", ()),
    Question("testing.html", "bench", "What did the test bench say?",
             ("bench.conic", "bench.conic_uncertainty", "bench.wavefront_pv", "bench.wavefront_pv_uncertainty",
              "bench.wavefront_rms", "bench.wavefront_rms_uncertainty", "bench.strehl", "bench.strehl_uncertainty",
              "bench.profile_pv", "bench.profile_rms", "bench.profile_strehl", "bench.surface_rms"), ("bench.*",)),
    Question("optics.html", "sharpness", "How sharp is it, and how faint does it reach?",
             ("optics.rayleigh_limit", "optics.dawes_limit", "optics.airy_diameter", "optics.limiting_magnitude",
              "optics.throughput", "light.*"), ("optics.image_scale", "optics.sagitta")),
    Question("optics.html", "diagonal", "How big is the diagonal, and where does it sit?",
             ("diagonal.least_minor_axis", "diagonal.offset", "diagonal.full_field", "diagonal.edge_light",
              "eyepiece.*.edge_light", "eyepiece.*.field_width",
              "optics.obstruction", "spider.light_loss"), ("diagonal.*", "optics.intercept", "spider.*"),
             rows="eyepiece", row_heading="Eyepiece"),
    Question("optics.html", "field", "How much of the field is good?",
             ("field.coma_free_radius", "field.coma_tangential", "field.edge_rms_radius", "field.edge_wavefront_rms",
              "front.least_opening", "focuser.bore_field"), ("field.*", "front.*")),
    Question("optics.html", "stray", "Can stray light reach the eye?",
             ("stray.shield_half_length", "stray.shield_beyond_front", "stray.widest_dark_bore", "stray.mirror_ring",
              "stray.shroud_top", "stray.shroud_length", "stray.wall_top"), ("stray.*",)),
    Question("shows.html", "eyepieces", "What does each eyepiece show?",
             ("eyepiece.*.magnification", "eyepiece.*.true_field", "eyepiece.*.exit_pupil", "eyepiece.*.crossing_time"),
             rows="eyepiece", row_heading="Eyepiece"),
    Question("shows.html", "limits", "How faint and how fine does it see?", ()),
    Question("shows.html", "moon", "What does it show of the Moon?", ()),
    Question("shows.html", "planets", "What does it show of the planets?", ()),
    Question("shows.html", "doubles", "Which double stars does it divide?", ()),
    Question("shows.html", "beside", "What would another aperture show?", ()),
    Question("optics.html", "focus", "Does every eyepiece reach focus?",
             ("focuser.spare_in", "focuser.spare_out", "eyepiece.*.focus_position", "eyepiece.*.spare_in",
              "eyepiece.*.spare_out", "eyepiece.*.focus_position*", "eyepiece.*.spare_*"), ("focuser.*",),
             rows="eyepiece", row_heading="Eyepiece"),
    Question("shows.html", "eyepieces-further", "What else is known of each eyepiece?", ("eyepiece.*",),
             rows="eyepiece", row_heading="Eyepiece"),
    Question("collimation.html", "collimation", "How well must it be collimated?", ("collimation.*",)),
    Question("collimation.html", "focusing", "How does a mask show the focus?", ()),
    Question("optics.html", "light-path", "What else is known of the light’s path?", ("optics.*",)),
    Question("mirror-cell.html", "cell", "What holds the mirror, and does it pinch?",
             ("cell.wavefront_rms", "cell.mirror_mass", "cell.support_radii", "cell.deflection_rms",
              "cell.deflection_pv", "cell.deflection_rms_unfocused", "cell.shear_factor"),
             ("cell.support_*", "cell.rigidity", "cell.blank_weight", "cell.centre_thickness", "cell.mirror_centroid")),
    Question("mirror-cell.html", "pinch", "How hard may it be pushed?",
             ("cell.pinch_wavefront_rms", "cell.pinch_force_limit", "cell.push_force", "cell.pinch_surface"),
             ("cell.pinch_*",)),
    Question("mirror-cell.html", "springs", "Are the springs right?",
             ("cell.spring_margin", "cell.spring_rate", "cell.adjuster_rate", "cell.needed_compression",
              "cell.travel_in_hand", "cell.stress_share", "cell.floating_shift", "cell.floating_frequency"),
             ("cell.*", "spring.*")),
    Question("structure.html", "frame", "What holds it all, and does it stay true?",
             ("frame.sag", "frame.tilt", "frame.collimation_share", "frame.frequency", "frame.focus_drift",
              "frame.pole_length", "frame.tube_length", "frame.sawn_length"), ("frame.*",)),
    Question("mount.html", "balance", "Does it balance, and does the mount cope?",
             ("balance.station", "balance.across", "balance.counterweight", "mount.load_share", "mount.load",
              "rocker.hold_share", "rocker.push"), ("balance.*", "rocker.*")),
    Question("mount.html", "tipping", "Can it tip over?",
             ("mount.tipping_margin", "mount.tipping_push", "mount.centre_stands_out"), ("mount.*",)),
    Question("mount.html", "tracking", "How long does an object stay in view, and what does tracking buy?", ()),
    Question("structure.html", "threads", "Do the threads hold?", ("thread.*", "fastener.*"), rows="thread",
             row_heading="Fastener"),
    Question("mirror-cell.html", "heat", "How long until the mirror has cooled?",
             ("thermal.settling_time", "thermal.time_constant"), ("thermal.*",)),
    Question("parts.html", "cost", "What does it cost?", ("parts.cost", "parts.cost_*", "parts.group_cost.*"),
             rows="parts.group_cost", row_heading="Group", sum="parts.cost"),
    Question("parts.html", "alternatives", "What else would do, and what would it change?", ()),
    Question("parts.html", "printed", "What is printed, and for how long?",
             ("parts.print_time", "parts.print_cost", "print.*.plastic", "print.*.mass", "print.*.filament",
              "print.*.time", "print.*.cost", "print.*"), rows="print", row_heading="Part"),
    Question("parts.html", "mass", "What does it weigh?", ("parts.mass", "parts.*")),
    Question("parts.html", "cuts", "What is cut from what?", ("cut.*",), rows="cut", row_heading="Stock"),
    Question("workshop.html", "sessions", "How many sessions does the workshop take?", ()),
    Question("workshop.html", "lending", "What is looked over before it is lent, and after?", ()),
    Question("measured.html", "measured", "What was measured, and what must change?", ()),
    Question("measured.html", "to-measure", "What should be measured?", ()),
    Question("safety.html", "sun", "What does the Sun do in this telescope?", ("sun.*",)),
    Question("working.html", "rest", "What else was worked out?", ("*",)),
)


@dataclass(frozen=True, slots=True)
class Group:
    """A question with the results that answer it, and those needed on the way."""

    question: Question
    results: tuple[Result, ...]
    further: tuple[Result, ...]


def sorted_by_question(design: Design) -> dict[Question, tuple[Result, ...]]:
    """The questions that have any results, each with all of them."""
    return {group.question: (*group.results, *group.further) for group in grouped(design)}


def grouped(design: Design) -> tuple[Group, ...]:
    """The questions that have any results, each with them in the order of its patterns and then of the working."""
    found: dict[Question, list[tuple[int, int, Result]]] = {}
    for place, result in enumerate(design.results.values()):
        question, rank = question_of(result.id)
        found.setdefault(question, []).append((rank, place, result))
    return tuple(_group(question, found[question]) for question in QUESTIONS if question in found)


def question_of(result_id: str) -> tuple[Question, int]:
    """The question a result answers, and the place of its pattern among that question's."""
    patterns = ((question, rank, pattern) for question in QUESTIONS
                for rank, pattern in enumerate((*question.results, *question.further)))
    return next((question, rank) for question, rank, pattern in patterns if fnmatchcase(result_id, pattern))


def _group(question: Question, found: list[tuple[int, int, Result]]) -> Group:
    ordered = sorted(found, key=lambda entry: entry[:2])
    told = len(question.results)
    telling = tuple(result for rank, _, result in ordered if rank < told)
    further = tuple(result for rank, _, result in ordered if rank >= told)
    # Where nothing telling could be worked out, the steps on the way are all there is to tell.
    return Group(question, telling, further) if telling else Group(question, further, ())
