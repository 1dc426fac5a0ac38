"""What all steps ask to lie on the bench, each thing once: ``drill bits, 3 mm and 4 mm`` is one tool in two sizes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from dossier.spec.steps import Step

# A size begins with a digit; several stand after a comma, and between them commas or "and".
_SIZES = re.compile(r"(?P<name>[^,]*[^,\s]),\s*(?P<sizes>\d[^,]*(?:,\s*(?:and\s+)?\d[^,]*)*)")
_BETWEEN = re.compile(r",\s*(?:and\s+)?|\s+and\s+(?=\d)")
_BEFORE_SIZE = re.compile(r"\s+(?:of\s+)?(?=\d)")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Gathered:
    """One thing, all sizes in which it is asked for, and the numbers of the steps that ask for it."""

    name: str
    sizes: tuple[str, ...]
    steps: tuple[int, ...]

    @property
    def text(self) -> str:
        """Name and sizes as an author would write them."""
        if not self.sizes:
            return self.name
        *first, last = self.sizes
        return f"{self.name}, {', '.join(first)} and {last}" if first else f"{self.name}, {last}"


def parted(text: str) -> tuple[str, tuple[str, ...]]:
    """The name and the sizes of a tool as a step writes it; no sizes where what follows the comma is none."""
    found = _SIZES.fullmatch(text.strip())
    return (found["name"], tuple(_BETWEEN.split(found["sizes"]))) if found else (text.strip(), ())


def gathered(asked: Iterable[tuple[int, Iterable[str]]]) -> tuple[Gathered, ...]:
    """Each thing once, in the order in which it is first asked for: from the numbers of steps and what they ask for.

    Letters' case and a plural do not make another thing; sizes stand in the order of their first numbers.
    """
    found: dict[str, list[tuple[int, str, tuple[str, ...]]]] = {}
    for number, texts in asked:
        for name, sizes in map(parted, texts):
            found.setdefault(_key(name), []).append((number, name, sizes))
    return tuple(Gathered(
        max((name for _, name, _ in same), key=len),
        tuple(sorted(dict.fromkeys(size for *_, sizes in same for size in sizes), key=_first_number)),
        tuple(dict.fromkeys(number for number, *_ in same))) for same in found.values())


def tools_of(steps: Iterable[Step]) -> tuple[Gathered, ...]:
    """Every tool of these steps."""
    return gathered((step.number, step.tools) for step in steps)


def consumables_of(steps: Iterable[Step]) -> tuple[Gathered, ...]:
    """All that these steps use up."""
    return gathered((step.number, step.consumables) for step in steps)


def alike(things: Iterable[Gathered]) -> Iterator[tuple[Gathered, Gathered]]:
    """Pairs that may be one thing under two names, the shorter name first: it is the end of the other, as ``square`` is
    of ``try square``, or the other goes on with a size without a comma, as ``spanners 7 mm`` does, or says with what. A
    choice of two, such as ``tin snips or hacksaw``, is not the second of them."""
    known = {_key(each.name): each for each in things}
    for key, each in known.items():
        if " or " in key:
            continue
        words = key.split()
        ends = (" ".join(words[at:]) for at in range(1, len(words)))
        starts = (_key(start) for start in (key.split(" with ")[0], _BEFORE_SIZE.split(key)[0]))
        for other in dict.fromkeys((*ends, *starts)):
            if other != key and other in known:
                yield known[other], each


def _key(name: str) -> str:
    plain = " ".join(name.lower().split())
    return plain[:-1] if plain.endswith("s") and not plain.endswith("ss") else plain


def _first_number(size: str) -> float:
    found = _NUMBER.search(size.rpartition("×")[2] if size.count("×") == 1 else size)
    return float(found[0]) if found else 0.0
