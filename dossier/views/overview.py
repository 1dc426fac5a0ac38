"""The first sheet: what this telescope is, a picture of it, its key figures, and whether it does what is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier import shelf
from dossier.design import Design
from dossier.design.buying import unpriced_for
from dossier.notation import duration, show_result
from dossier.notation.given import show_given
from dossier.spec.keys import unit_of_key, value_at
from dossier.views.downloads import FileLine
from dossier.views.figures import Figure, figures
from dossier.views.known_issues import IssueView, issues_of_drawing
from dossier.views.links import spec_line, working_of
from dossier.views.markup import Html
from dossier.views.planned import planned_of_key, planned_words
from dossier.views.prose import Said
from dossier.views.results import Entry, entries_of, judged, verdict
from dossier.views.safety import CautionView, caution_view
from dossier.views.site import Page
from dossier.views.spoken import Spoken
from dossier.views.steps import Picture

# What is told first, as (label, key of the spec or ID of a result); those that a build does not have are left out.
KEY_FIGURES = (
    ("Aperture", "primary.aperture"), ("Focal length", "primary.focal_length"), ("Focal ratio", "optics.focal_ratio"),
    ("Central obstruction", "optics.obstruction"), ("Resolves", "optics.rayleigh_limit"),
    ("Faintest star", "optics.limiting_magnitude"), ("Strehl ratio", "figure.strehl"),
    ("Mass carried", "mount.load"), ("Cost of one kit", "parts.cost"),
)
SHARED_FIGURE = ("Cost of each kit, bought together", "parts.cost_per_kit")


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """A label, a number, and where it comes from; what was planned, where this build was measured and differs."""

    label: str
    number: Html
    href: str
    planned: str = ""


@dataclass(frozen=True, slots=True)
class Unjudged:
    """A goal that could not be judged, and why."""

    result: str
    because: str
    missing: str


@dataclass(frozen=True, slots=True)
class OverviewView:
    """The overview. ``pressing`` are the goals that are missed or closely met, ``met`` the others; ``issues`` are the
    notes on what is drawn."""

    page: Page
    summary: Html
    intro: tuple[Said, ...]
    figures: tuple[Figure, ...]
    issues: tuple[IssueView, ...]
    picture: Picture | None
    key_figures: tuple[KeyFigure, ...]
    verdict: str
    pressing: tuple[Entry, ...]
    met: tuple[Entry, ...]
    unjudged: tuple[Unjudged, ...]
    cautions: tuple[CautionView, ...]
    more_cautions: tuple[CautionView, ...]
    downloads: tuple[FileLine, ...]
    steps: str
    authors: str
    site: str

    @property
    def goals(self) -> tuple[Entry, ...]:
        """All of them, the missed ones first."""
        return (*self.pressing, *self.met)


def overview_view(design: Design, page: Page, summary: Html, intro: tuple[Said, ...], picture: Picture | None,
                  downloads: Sequence[FileLine], spoken: Spoken) -> OverviewView:
    """The overview of a design. Cautions that every telescope needs stand in full, the others by name."""
    always = [topic for topic in design.cautions if shelf.cautions()[topic].always]
    about, results = design.build.about, judged(design)
    goals = entries_of(results, design)
    return OverviewView(
        page=page, summary=summary, intro=intro, figures=figures(design, "index.html"),
        issues=issues_of_drawing(design, spoken), picture=picture,
        key_figures=key_figures(design), verdict=verdict(results, design),
        pressing=tuple(goal for goal in goals if goal.limit and goal.limit.outcome != "meets"),
        met=tuple(goal for goal in goals if goal.limit and goal.limit.outcome == "meets"),
        unjudged=tuple(Unjudged(unmet.goal.result, unmet.goal.because, unmet.missing) for unmet in design.unmet),
        cautions=tuple(caution_view(topic) for topic in always),
        more_cautions=tuple(caution_view(topic) for topic in design.cautions if topic not in always),
        downloads=tuple(downloads), steps=_steps(design), authors=", ".join(about.authors), site=about.site or "",
    )


def key_figures(design: Design) -> tuple[KeyFigure, ...]:
    """What is told first of a design."""
    wanted = (*KEY_FIGURES, SHARED_FIGURE) if design.kits > 1 else KEY_FIGURES
    found = (_key_figure(label, name, design) for label, name in wanted)
    return tuple(figure for figure in found if figure)


def _key_figure(label: str, name: str, design: Design) -> KeyFigure | None:
    readers = design.build.readers
    if name in design.results:
        result = design.results[name]
        if unpriced_for(design.build, name):
            label = f"{label}, at least"
        return KeyFigure(label, Html(show_result(result, readers).html), working_of(name),
                         planned_words(result, design))
    spot = design.loaded.spots.get(name)
    value = value_at(design.build, name) if spot else None
    if spot is None or not isinstance(value, float):
        return None
    return KeyFigure(label, Html(show_given(value, unit_of_key(name), readers).html),
                     spec_line(spot.line, measured=spot.measured), planned_of_key(name, design))


def _steps(design: Design) -> str:
    known = [step.minutes for step in design.steps if step.minutes is not None]
    if not design.steps:
        return ""
    return f"{len(design.steps)} steps" + (f", {duration(sum(known))} of work for one kit" if known else "")
