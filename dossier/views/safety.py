"""Cautions: what can happen and to whom, what to do, who says so. They cannot be switched off."""

from __future__ import annotations

from dataclasses import dataclass

from dossier import shelf
from dossier.design import Design
from dossier.design.cautions import of_step
from dossier.views.links import caution_on, step_page
from dossier.views.prose import Said
from dossier.views.results import Answered
from dossier.views.site import Page, Sheet
from dossier.views.workings import Cited, cited


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution in full. ``sources`` are its authorities among the sources, ``authorities`` those in words."""

    topic: str
    href: str
    title: str
    can_happen: str
    protects: str
    do: tuple[str, ...]
    defer: str
    sources: tuple[Cited, ...]
    authorities: tuple[str, ...]
    steps: tuple[Sheet, ...] = ()


@dataclass(frozen=True, slots=True)
class SafetyView:
    """The sheet of cautions."""

    page: Page
    intro: tuple[Said, ...]
    cautions: tuple[CautionView, ...]
    answers: tuple[Answered, ...]


def caution_view(topic: str, steps: tuple[Sheet, ...] = ()) -> CautionView:
    """One caution of the shelf, with the steps it concerns."""
    caution, known = shelf.cautions()[topic], shelf.sources()
    return CautionView(topic, caution_on(topic), caution.title, caution.can_happen, caution.protects, caution.do,
                       caution.defer, tuple(cited(key) for key in caution.authority if key in known),
                       tuple(said for said in caution.authority if said not in known), steps)


def safety_view(design: Design, page: Page, intro: tuple[Said, ...], answers: tuple[Answered, ...]) -> SafetyView:
    """Every caution this build calls up."""
    topics = {step.slug: of_step(step, design.cautions) for step in design.steps}
    concerned = {topic: tuple(Sheet(step_page(step.slug), step.title, str(step.number)) for step in design.steps
                              if topic in topics[step.slug]) for topic in design.cautions}
    return SafetyView(page, intro, tuple(caution_view(topic, concerned[topic]) for topic in design.cautions), answers)
