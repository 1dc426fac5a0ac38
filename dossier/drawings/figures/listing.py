"""Lists beside a view: what each sign stands for, in lines that are broken between words and keep their links."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from dossier.drawings.dimension import line_height
from dossier.drawings.figures.measures import Runs
from dossier.drawings.lettering import CAPITALS, width_of
from dossier.drawings.scene import Group, Medium, Point, Shape, Text, Words

# Room of a sign at the head of an entry, and between entries, in type sizes.
SIGN, BETWEEN = 1.8, 0.25


@dataclass(frozen=True, slots=True)
class Entry:
    """A sign, drawn about a point of the drawing, and the words that belong to it; no sign where there is none."""

    runs: Runs
    sign: Callable[[Point], Sequence[Shape]] | None = None


def listed(entries: Sequence[Entry], at: Point, width: float, medium: Medium) -> tuple[Shape, ...]:
    """The entries below one another from their upper left corner, lines no longer than ``width``."""
    size, line = medium.lettering, line_height(medium)
    signed = any(entry.sign for entry in entries)
    left = at[0] + (SIGN * size if signed else 0.0)
    base = at[1] + CAPITALS * size + 0.1 * size
    shapes: list[Shape] = []
    for entry in entries:
        if entry.sign:
            shapes += entry.sign((at[0] + 0.6 * size, base - CAPITALS * size / 2))
        for runs in broken(entry.runs, at[0] + width - left, size):
            shapes.append(Text((left, base), runs))
            base += line
        base += BETWEEN * size
    return (Group(tuple(shapes), {"list": str(len(entries))}),) if shapes else ()


@lru_cache(maxsize=2048)
def broken(runs: Runs, width: float, size: float) -> tuple[Runs, ...]:
    """A phrase in lines of at most this width, broken at spaces; a figure stays whole. The same notes are broken again
    and again while a scale and an arrangement of tables are looked for."""
    lines: list[list[Words]] = [[]]
    used = 0.0
    for word in _words(runs):
        text = "".join(piece.text for piece in word)
        taken = width_of(text, size)
        space = width_of(" ", size) if lines[-1] else 0.0
        if lines[-1] and used + space + taken > width:
            lines.append([])
            used = space = 0.0
        if space:
            lines[-1].append(Words(" "))
        lines[-1] += word
        used += space + taken
    return tuple(_joined(line) for line in lines if line)


def _words(runs: Runs) -> list[list[Words]]:
    """Pieces of runs that stand between two spaces."""
    words: list[list[Words]] = [[]]
    for run in runs:
        for index, text in enumerate(run.text.split(" ")):
            if index:
                words.append([])
            if text:
                words[-1].append(Words(text, run.result, run.key))
    return [word for word in words if word]


def _joined(line: Sequence[Words]) -> Runs:
    """Neighbours that print the same thing as one run."""
    runs: list[Words] = []
    for piece in line:
        if runs and (runs[-1].result, runs[-1].key) == (piece.result, piece.key):
            runs[-1] = Words(runs[-1].text + piece.text, piece.result, piece.key)
        else:
            runs.append(piece)
    return tuple(runs)
