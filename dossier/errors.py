"""What can be wrong with a build, said so that its author can put it right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong: where it stands, what is wrong, what is wanted.

    ``file`` is the path as the user would write it; ``line`` counts from 1, or is 0 where no line applies;
    ``key`` is the dotted key (``primary.aperture``, ``parts[0].mass``) or empty.
    """

    file: str
    line: int
    key: str
    message: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return ": ".join(piece for piece in (place, self.key, self.message) if piece)


class Unusable(Exception):
    """The build cannot be worked out. Carries every problem found, so that all can be mended at once."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """`` — did you mean 'aperture'?`` for the nearest known word, or an empty string when none is near."""
    from difflib import get_close_matches

    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f" — did you mean '{near[0]}'?" if near else ""
