"""Live numbers in the build's own words: what ``{{ diagonal.offset }}`` prints, as text and as a number to point at.

Numbers are first marked in the text by signs of a private range, so that Markdown and cleaning pass them by, and put in
afterwards as HTML of the program's own making. Problems are collected, so that all can be mended at once.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

from dossier.design import Design
from dossier.design.resolve import spoken_name
from dossier.errors import Problem
from dossier.expressions import NameProblem, Number, render
from dossier.notation import Shown, show_result
from dossier.notation.given import show_given
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.load import with_values
from dossier.spec.steps import Step
from dossier.views.links import spec_line, working_of
from dossier.views.markup import Html, text
from dossier.views.planned import planned_of_key, planned_words

_OPEN, _CLOSE, _ZERO = "\ue000", "\ue001", 0xE010
_MARK = re.compile(f"{_OPEN}([\ue010-\ue019]+){_CLOSE}")
_PRIVATE = re.compile("[\ue000-\uf8ff]")


@dataclass(frozen=True, slots=True)
class Mention:
    """A live number where it is said: the result's ID (or ``spec.…`` name), how it is shown, where its working is.

    ``beside`` is what was planned where this build was measured and differs.
    """

    name: str
    shown: Shown
    href: str
    is_result: bool
    beside: str = ""


Pointing = Callable[[Mention], Html]


def as_link(mention: Mention) -> Html:
    """The number as the site shows it: like any other word, but leading to its working."""
    link = f'<a class="number" href="{text(mention.href)}">{mention.shown.html}</a>'
    return Html(f'{link} <span class="planned">({text(mention.beside)})</span>' if mention.beside else link)


@dataclass
class Spoken:
    """Puts the live numbers of one design into its texts. ``pointing`` says how one is written in HTML."""

    design: Design
    pointing: Pointing = as_link
    problems: list[Problem] = field(default_factory=list)
    _mentions: list[Mention] = field(default_factory=list)
    _comparing: bool = True

    def __post_init__(self) -> None:
        build = self.design.build
        self._said = {spoken_name(key): key for key in self.design.loaded.spots
                      if isinstance(value_at(build, key), (int, float, str))}
        self._known = frozenset(self.design.results) | frozenset(self.design.left_out) | frozenset(self._said)

    def marked(self, said: str, file: str, line: int, key: str = "") -> str:
        """The text with every expression replaced by a mark. ``line`` is where the text begins in ``file``."""
        clean = _PRIVATE.sub("", said)
        kept = []
        for number, piece in enumerate(clean.splitlines(keepends=True)):
            try:
                kept.append(render(piece, self._known, self._ask))
            except NameProblem as problem:
                self.problems.append(Problem(file, line + number, key, str(problem)))
        return "".join(kept)

    def filled(self, html: str) -> Html:
        """HTML with the marks replaced by numbers to point at."""
        return Html(_MARK.sub(lambda found: self.pointing(self._mention(found)), html))

    def plain(self, marked: str) -> str:
        """Text with the marks replaced by plain numbers, for headings and alternative texts."""
        return _MARK.sub(lambda found: self._mention(found).shown.plain, marked)

    def mentioned(self, marked: str) -> tuple[Mention, ...]:
        """The numbers marked in a text, each once, in order."""
        return tuple({m.name: m for m in map(self._mention, _MARK.finditer(marked))}.values())

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Meanwhile numbers are said without what was planned beside them."""
        self._comparing = False
        yield
        self._comparing = True

    def of_spec(self, said: str | None, key: str) -> Html:
        """A text of the spec as HTML with its numbers put in, to point at."""
        return self.filled(text(self._marked_spec(said, key))) if said else Html("")

    def of_text(self, said: str, file: str, line: int, key: str = "") -> Html:
        """A text from anywhere in the build as HTML with its numbers put in."""
        return self.filled(text(self.marked(said, file, line, key)))

    def of_spec_plain(self, said: str | None, key: str) -> str:
        """A text of the spec as plain text with its numbers put in."""
        return self.plain(self._marked_spec(said, key)) if said else ""

    def _marked_spec(self, said: str, key: str) -> str:
        spot = self.design.loaded.spots.get(key)
        said = self.design.loaded.expressions.get(key, said)
        return self.marked(said, spot.file if spot else str(self.design.loaded.file), spot.line if spot else 0, key)

    def _mention(self, found: re.Match[str]) -> Mention:
        return self._mentions[int("".join(chr(ord(sign) - _ZERO + ord("0")) for sign in found[1]))]

    def _ask(self, name: str) -> Number:
        design = self.design
        if name in self._said:
            mention, value = self._of_what_was_said(name, self._said[name])
        elif name in design.results:
            result = design.results[name]
            mention = Mention(name, show_result(result, design.build.readers), working_of(name), True,
                              self._beside(planned_words(result, design)))
            value = result.value
        else:
            raise NameProblem(f"{name!r} is not worked out: {design.left_out[name]}")
        self._mentions.append(mention)
        digits = "".join(chr(int(digit) + _ZERO) for digit in str(len(self._mentions) - 1))
        return Number(name, value, f"{_OPEN}{digits}{_CLOSE}")

    def _of_what_was_said(self, name: str, key: str) -> tuple[Mention, object]:
        value = value_at(self.design.build, key)
        spot = self.design.loaded.spots[key]
        if isinstance(value, (str, bool)):
            word = value if isinstance(value, str) else ("yes" if value else "no")
            shown = Shown(word, "", word, text(word))
        else:
            shown = show_given(float(value), unit_of_key(key), self.design.build.readers)
        beside = self._beside(planned_of_key(key, self.design))
        return Mention(name, shown, spec_line(spot.line, measured=spot.measured), False, beside), value

    def _beside(self, planned: str) -> str:
        return planned if self._comparing else ""


def spelled_out(design: Design, spoken: Spoken) -> Design:
    """The design with plain numbers put into every text of its spec and into what its steps are called and need.

    ``spoken`` speaks for the design as it was, so that a text can still be had with its numbers to point at.
    """
    texts = {key: spoken.of_spec_plain(said, key) for key, said in design.loaded.expressions.items()
             if isinstance(value_at(design.build, key), str)}
    loaded = with_values(design.loaded, texts) if texts and not spoken.problems else design.loaded
    return replace(design, loaded=loaded, build=loaded.build,
                   steps=tuple(_step_spelled_out(step, spoken) for step in design.steps))


def _step_spelled_out(step: Step, spoken: Spoken) -> Step:
    def plain(key: str, said: str) -> str:
        return spoken.plain(spoken.marked(said, step.file, step.lines.get(key, 1), key))

    return replace(step, title=plain("title", step.title), tools=tuple(plain("tools", tool) for tool in step.tools),
                   consumables=tuple(plain("consumables", item) for item in step.consumables))
