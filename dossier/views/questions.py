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

    ``rows`` is the beginning of IDs that are shown as a table: ``eyepiece`` for ``eyepiece.<name>.<quantity>``, with
    a row for each name and a column for each quantity; ``parts.group_cost`` for ``parts.group_cost.<name>``.
    """

    page: str
    key: str
    heading: str
    results: tuple[str, ...]
    rows: str = ""
    row_heading: str = ""


QUESTIONS = (
    Question("optics.html", "mirror", "Is the mirror good enough?", ("figure.*", "spot.*")),
    Question("optics.html", "bench", "What did the test bench say?", ("bench.*",)),
    Question("optics.html", "sharpness", "How sharp is it, and how faint does it reach?",
             ("optics.focal_ratio", "optics.rayleigh_limit", "optics.dawes_limit", "optics.airy_diameter",
              "optics.image_scale", "optics.limiting_magnitude", "optics.throughput", "light.*", "optics.sagitta")),
    Question("optics.html", "diagonal", "How big is the diagonal, and where does it sit?",
             ("diagonal.*", "optics.obstruction", "optics.intercept", "spider.*")),
    Question("optics.html", "field", "How much of the field is good?",
             ("field.*", "front.*", "focuser.bore_field")),
    Question("optics.html", "stray", "Can stray light reach the eye?", ("stray.*",)),
    Question("optics.html", "eyepieces", "What does each eyepiece show?",
             ("eyepiece.*.magnification", "eyepiece.*.true_field", "eyepiece.*.exit_pupil", "eyepiece.*.crossing_time"),
             "eyepiece", "Eyepiece"),
    Question("optics.html", "focus", "Does every eyepiece reach focus?",
             ("focuser.*", "eyepiece.*.focus_position*", "eyepiece.*.spare_*"), "eyepiece", "Eyepiece"),
    Question("optics.html", "eyepieces-further", "What else is known of each eyepiece?", ("eyepiece.*",), "eyepiece",
             "Eyepiece"),
    Question("optics.html", "collimation", "How well must it be collimated?", ("collimation.*",)),
    Question("optics.html", "light-path", "What else is known of the light's path?", ("optics.*",)),
    Question("structure.html", "cell", "What holds the mirror, and does it pinch?", ("cell.*",)),
    Question("structure.html", "frame", "What holds it all, and does it stay true?", ("frame.*",)),
    Question("structure.html", "balance", "Does it balance, and does the mount cope?", ("balance.*", "mount.*")),
    Question("structure.html", "heat", "How long until the mirror has cooled?", ("thermal.*",)),
    Question("parts.html", "cost", "What does it cost?", ("parts.cost", "parts.cost_*", "parts.group_cost.*"),
             "parts.group_cost", "Group"),
    Question("parts.html", "mass", "What does it weigh?", ("parts.mass", "parts.*")),
    Question("parts.html", "cuts", "What is cut from what?", ("cut.*",), "cut", "Stock"),
    Question("safety.html", "sun", "What does the Sun do in this telescope?", ("sun.*",)),
    Question("working.html", "rest", "What else was worked out?", ("*",)),
)


def sorted_by_question(design: Design) -> dict[Question, tuple[Result, ...]]:
    """The results of each question that has any, in the order of its patterns and then of the working."""
    found: dict[Question, list[tuple[int, int, Result]]] = {}
    for place, result in enumerate(design.results.values()):
        question, rank = _question_of(result.id)
        found.setdefault(question, []).append((rank, place, result))
    return {question: tuple(result for _, _, result in sorted(found[question], key=lambda entry: entry[:2]))
            for question in QUESTIONS if question in found}


def _question_of(result_id: str) -> tuple[Question, int]:
    return next((question, rank) for question in QUESTIONS for rank, pattern in enumerate(question.results)
                if fnmatchcase(result_id, pattern))
