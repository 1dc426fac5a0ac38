"""The build steps: Markdown files whose front matter says what a step needs and what it must give."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Check:
    """Something to measure in a step: what, the value to reach, how far off it may be. Text may hold expressions."""

    what: str
    target: str = ""
    tolerance: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One build step. ``minutes`` is for one kit; ``needs`` are slugs of earlier steps; ``body`` is the author's
    Markdown, which begins at ``body_line`` of ``file``; ``lines`` tells the line of each key of the front matter."""

    slug: str
    number: int
    title: str
    file: str
    body: str
    body_line: int
    lines: dict[str, int]
    parts: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    consumables: tuple[str, ...] = ()
    minutes: float | None = None
    people: int = 1
    cautions: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    checks: tuple[Check, ...] = ()
    record: tuple[str, ...] = ()
    pictures: tuple[str, ...] = ()
