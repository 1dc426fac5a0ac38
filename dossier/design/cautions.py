"""Which cautions a build needs: those every telescope has, and those that its parts and steps call up."""

from __future__ import annotations

from collections.abc import Iterator

from dossier import shelf
from dossier.errors import Problem, did_you_mean
from dossier.shelf import Caution
from dossier.spec.model import Build
from dossier.spec.model_parts import Part
from dossier.spec.steps import Step


def chosen(build: Build, steps: tuple[Step, ...]) -> tuple[str, ...]:
    """The topics of the cautions this build needs, in the shelf's order. No spec can switch one off."""
    asked = {topic for step in steps for topic in step.cautions}
    text = " ".join((*map(_said, build.parts or ()), *(_told(step) for step in steps)))
    return tuple(topic for topic, caution in shelf.cautions().items()
                 if caution.always or topic in asked or _called_up(caution, build, text))


def unknown_topics(steps: tuple[Step, ...]) -> Iterator[Problem]:
    """Topics that a step names and the shelf does not have."""
    topics = shelf.cautions()
    for step in steps:
        for topic in step.cautions:
            if topic not in topics:
                why = f"there is no caution on {topic!r}{did_you_mean(topic, topics)}"
                yield Problem(step.file, step.lines["cautions"], "cautions", why)


def of_step(step: Step, chosen_topics: tuple[str, ...]) -> tuple[str, ...]:
    """The topics to show beside a step: those it names, and those its own words and tools call up and mean."""
    text = _told(step)
    return tuple(topic for topic in chosen_topics
                 if topic in step.cautions or shelf.cautions()[topic].when.meant_in(text))


def of_another_choice(step: Step, build: Build, topic: str) -> bool:
    """Whether a caution beside this step is on a material that this build does not hold and only another choice of its
    parts would bring, and the step speaks of it without naming the caution."""
    materials = set(shelf.cautions()[topic].when.materials)
    offered = {value for part in build.parts or () for other in part.instead for value in (other.set or {}).values()
               if isinstance(value, str)}
    return topic not in step.cautions and bool(materials & offered) and not materials & _materials(build)


def _called_up(caution: Caution, build: Build, text: str) -> bool:
    when = caution.when
    parts = build.parts or ()
    return (
        when.named_in(text)
        or any(part.get in when.gets or part.group in when.groups for part in parts)
        or any(material in when.materials for material in _materials(build))
    )


def _materials(build: Build) -> set[str]:
    named = {build.primary.glass, build.frame.material if build.frame else None}
    named |= {part.print.material for part in build.parts or () if part.print}
    return {material for material in named if isinstance(material, str)}


def _said(part: Part) -> str:
    return " ".join(filter(None, (part.name, part.why)))


def _told(step: Step) -> str:
    return " ".join((step.title, step.body, *step.tools, *step.consumables))
