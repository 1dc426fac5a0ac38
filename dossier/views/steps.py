"""Build steps: an index of all, and a sheet for each with what it needs, what it gives and what can hurt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from dossier.design import Design
from dossier.design.asides.workshop import LIGHT_WORDS
from dossier.design.bench_tools import Gathered, consumables_of, tools_of
from dossier.design.cautions import of_another_choice, of_step
from dossier.design.machines import attended_minutes, machine_minutes
from dossier.design.unused import unused_parts
from dossier.notation.durations import duration, roughly
from dossier.spec.model_parts import Part
from dossier.spec.steps import Check, Step
from dossier.views.known_issues import IssueView, issues_of_step
from dossier.views.links import part_of, step_page
from dossier.views.markup import Html, text
from dossier.views.prose import Said
from dossier.views.safety import CautionView, caution_view
from dossier.views.site import Page, Sheet
from dossier.views.spoken import Spoken


@dataclass(frozen=True, slots=True)
class Needed:
    """A part a step uses: how many, and its line in the parts list."""

    ref: str
    name: Html
    quantity: str
    href: str


@dataclass(frozen=True, slots=True)
class ToCheck:
    """Something to measure: what, what it should be, and how far off it may be."""

    what: Html
    target: Html
    tolerance: Html


@dataclass(frozen=True, slots=True)
class StepLine:
    """A step in the index."""

    href: str
    number: str
    title: str
    time: str
    people: str
    tools: str


@dataclass(frozen=True, slots=True)
class ToLayOut:
    """A thing that lies on the bench, with all its sizes, and the steps that want it."""

    text: str
    steps: tuple[StepNumber, ...]


@dataclass(frozen=True, slots=True)
class StepNumber:
    """A step by its number."""

    href: str
    number: str


@dataclass(frozen=True, slots=True)
class StepsView:
    """The index of the steps: all of them; the time they take one after the other, and in hours of all hands together
    where a step wants several; every tool and consumable, once, with the steps that want it; and the parts that no step
    names."""

    page: Page
    intro: tuple[Said, ...]
    steps: tuple[StepLine, ...]
    time: str
    hands: str
    tools: tuple[ToLayOut, ...]
    consumables: tuple[ToLayOut, ...]
    unused: tuple[Needed, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of a step: its address and what it shows."""

    src: str
    alt: str


@dataclass(frozen=True, slots=True)
class StepView:
    """One step on a sheet of its own. ``of_other_choices`` are cautions on what this build holds only where a part is
    chosen otherwise: they are told in short."""

    page: Page
    number: str
    time: str
    people: str
    when: str
    machine: str
    wait: str
    body: tuple[Said, ...]
    parts: tuple[Needed, ...]
    tools: tuple[str, ...]
    consumables: tuple[str, ...]
    needs: tuple[Sheet, ...]
    cautions: tuple[CautionView, ...]
    of_other_choices: tuple[CautionView, ...]
    issues: tuple[IssueView, ...]
    checks: tuple[ToCheck, ...]
    record: tuple[Html, ...]
    pictures: tuple[Picture, ...]


def steps_view(design: Design, page: Page, intro: tuple[Said, ...]) -> StepsView:
    """The index of a design's steps."""
    lines = tuple(StepLine(step_page(step.slug), str(step.number), step.title, time_of(step.minutes),
                           people(step.people), "; ".join(step.tools)) for step in design.steps)
    clock = sum(step.minutes or 0.0 for step in design.steps)
    hands = sum((step.minutes or 0.0) * step.people for step in design.steps)
    pages = {step.number: StepNumber(step_page(step.slug), str(step.number)) for step in design.steps}
    return StepsView(page, intro, lines, time_of(clock), time_of(hands) if hands > clock else "",
                     _to_lay_out(tools_of(design.steps), pages), _to_lay_out(consumables_of(design.steps), pages),
                     tuple(Needed(part.ref, text(part.name), str(part.quantity), part_of(part.ref))
                           for part in unused_parts(design)))


def step_view(design: Design, step: Step, page: Page, body: tuple[Said, ...], spoken: Spoken,
              pictures: tuple[Picture, ...]) -> StepView:
    """One step of a design."""
    parts = {part.ref: part for part in design.build.parts}
    titles = {other.slug: other for other in design.steps}
    topics = of_step(step, design.cautions)
    other_choices = [topic for topic in topics if of_another_choice(step, design.build, topic)]
    return StepView(
        page=page, number=str(step.number), time=time_of(step.minutes), people=people(step.people),
        when=LIGHT_WORDS.get(step.light, ""), machine=_machine(design, step),
        wait=time_of(step.wait_minutes), body=body,
        parts=tuple(_needed(parts[ref], spoken, index) for index, ref in _places(design, step) if ref in parts),
        tools=step.tools, consumables=step.consumables,
        needs=tuple(Sheet(step_page(slug), titles[slug].title, str(titles[slug].number)) for slug in step.needs
                    if slug in titles),
        cautions=tuple(caution_view(topic) for topic in topics if topic not in other_choices),
        of_other_choices=tuple(map(caution_view, other_choices)),
        issues=issues_of_step(design, step.slug, spoken),
        checks=tuple(_check(step, check, spoken) for check in step.checks),
        record=_texts(step, "record", step.record, spoken), pictures=pictures,
    )


def time_of(minutes: float | None) -> str:
    """How long a step takes; nothing where its author does not say."""
    return duration(minutes) if minutes else ""


def _machine(design: Design, step: Step) -> str:
    """For how long a machine works on by itself, and how long at a stretch where it is not left alone."""
    minutes, attended = machine_minutes(design, step), attended_minutes(design, step)
    if not minutes:
        return ""
    stretch = attended is not None and attended < minutes
    return f"about {roughly(minutes)}" + (
        f", at most {roughly(attended)} of each day while somebody looks after it" if stretch and attended else "")


def people(count: int) -> str:
    """How many pairs of hands."""
    return "one person" if count == 1 else f"{count} people"


def said_at(step: Step, key: str) -> int:
    """The line on which the front matter says this key."""
    return step.lines.get(key, 1)


def _places(design: Design, step: Step) -> list[tuple[int, str]]:
    order = [part.ref for part in design.build.parts]
    return sorted((order.index(ref), ref) for ref in step.parts if ref in order)


def _needed(part: Part, spoken: Spoken, index: int) -> Needed:
    return Needed(part.ref, spoken.of_spec(part.name, f"parts[{index}].name"), str(part.quantity), part_of(part.ref))


def _texts(step: Step, key: str, items: tuple[str, ...], spoken: Spoken) -> tuple[Html, ...]:
    return tuple(spoken.of_text(item, step.file, said_at(step, key), key) for item in items)


def _check(step: Step, check: Check, spoken: Spoken) -> ToCheck:
    line = said_at(step, "checks")
    return ToCheck(*(spoken.of_text(text, step.file, line, "checks")
                     for text in (check.what, check.target, check.tolerance)))


def _to_lay_out(things: Iterable[Gathered], pages: Mapping[int, StepNumber]) -> tuple[ToLayOut, ...]:
    return tuple(ToLayOut(each.text, tuple(pages[number] for number in each.steps)) for each in things)
