"""What a build asks of whoever makes it: the tools of its steps, the skills that these need, the hours."""

from __future__ import annotations

from dataclasses import dataclass

from dossier import shelf
from dossier.design.model import Design
from dossier.shelf.tables import Skill

BY_HAND, SMALL_MACHINES, MACHINES = 1, 2, 3


@dataclass(frozen=True, slots=True)
class Difficulty:
    """``level`` is that of the tool that asks most: 1 by hand, 2 small machines, 3 machines for trained people; 0 where
    no step names a tool. ``skills`` stand by level, the most demanding first; ``most`` are the tools of that level.
    ``people`` is the most that one step wants."""

    level: int
    skills: tuple[str, ...]
    most: tuple[str, ...]
    tools: int
    minutes: float | None
    people: int


def difficulty(design: Design) -> Difficulty:
    """How hard a design is to build, by what its steps say."""
    tools = tuple(dict.fromkeys(tool for step in design.steps for tool in step.tools))
    known = {tool: skill for tool in tools if (skill := skill_of(tool))}
    level = max([BY_HAND if tools else 0, *(skill.level for skill in known.values())])
    skills = sorted({skill.name: skill for skill in known.values()}.values(), key=lambda skill: -skill.level)
    times = [step.minutes for step in design.steps if step.minutes is not None]
    return Difficulty(
        level, tuple(skill.name for skill in skills),
        tuple(tool for tool, skill in known.items() if skill.level == level and level > BY_HAND), len(tools),
        sum(times) if times else None, max([step.people for step in design.steps], default=1))


def skill_of(tool: str) -> Skill | None:
    """The skill that a tool asks for; None for what is done by hand and needs no name."""
    return next((skill for skill in shelf.skills() if skill.when.named_in(tool)), None)
