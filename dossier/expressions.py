"""``{{ … }}`` in a build's own text: live numbers by the results' names, in a sandbox.

Only expressions are allowed, no statements; names are results (``diagonal.offset``,
``eyepiece['25-mm-plossl'].magnification``) and, below ``spec.``, what the author said. A name that is no result is a
``NameProblem`` with the nearest one. The caller says how a number is written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from dossier.errors import did_you_mean

LONGEST_TEXT = 200_000
LONGEST_EXPRESSION = 400
_EXPRESSION = re.compile(r"\{\{.*?(?:\}\}|$)")
_PLAIN = re.compile(r"\{\{\s*([A-Za-z_][A-Za-z0-9_]*(?:\.[A-Za-z_][A-Za-z0-9_]*)*)\s*\}\}")


class NameProblem(Exception):
    """An expression that cannot be worked out; the message says why in plain words. ``line`` counts in the text."""

    def __init__(self, message: str, line: int = 1) -> None:
        super().__init__(message)
        self.line = line


@dataclass(frozen=True, slots=True)
class Number:
    """A live number inside an expression: prints as the caller writes numbers; ``.value`` is the bare number."""

    name: str
    value: Any
    written: str

    def __str__(self) -> str:
        return self.written

    def __html__(self) -> str:
        return self.written


class Names:
    """The tree of names an expression sees: attribute or item access walks down to a Number."""

    __slots__ = ("_ask", "_known", "_path")

    def __init__(self, known: frozenset[str], ask: Callable[[str], Number], path: str = "") -> None:
        self._known, self._ask, self._path = known, ask, path

    def __getitem__(self, name: str) -> Names | Number:
        path = f"{self._path}.{name}" if self._path else str(name)
        if path in self._known:
            return self._ask(path)
        if any(known.startswith(f"{path}.") for known in self._known):
            return Names(self._known, self._ask, path)
        raise NameProblem(f"there is no {path!r}{did_you_mean(path, self._known)}")

    def __str__(self) -> str:
        raise NameProblem(f"{self._path!r} is a group of numbers, not one{did_you_mean(self._path, self._known)}")

    __html__ = __str__


def render(text: str, known: Iterable[str], ask: Callable[[str], Number], *, escape: bool = False) -> str:
    """The text with every expression worked out. NameProblem where one cannot be; other exceptions of ``ask`` pass."""
    if "{{" not in text and "{%" not in text and "{#" not in text:
        return text
    lines: list[str] = []
    names = frozenset(known)
    for number, line in enumerate(text.splitlines(keepends=True), start=1):
        lines.append(_line(line, number, names, ask, escape))
        if len(lines[-1]) > LONGEST_TEXT:
            raise NameProblem("an expression gives far too long a text", number)
    return "".join(lines)


def _line(line: str, number: int, known: frozenset[str], ask: Callable[[str], Number], escape: bool) -> str:
    if "{{" not in line and "{%" not in line and "{#" not in line:
        return line
    if "{%" in line or "{#" in line:
        raise NameProblem("only {{ … }} is worked out in a build's text; {% … %} and {# … #} are not", number)
    # Most expressions are one plain name: looked up at once, they do without the sandbox and the time it takes to load.
    if len(plain := _PLAIN.findall(line)) == line.count("{{") and all(name in known for name in plain):
        return _PLAIN.sub(lambda found: _written(ask(found[1]), escape), line)
    if any(len(found) > LONGEST_EXPRESSION for found in _EXPRESSION.findall(line)):
        raise NameProblem(f"an expression has at most {LONGEST_EXPRESSION} characters", number)
    from jinja2 import TemplateError
    from jinja2.exceptions import SecurityError, TemplateSyntaxError

    names = Names(known, ask)
    try:
        template = _sandbox(escape).from_string(line)
        return str(template.render({root: names[root] for root in _roots(known)}))
    except NameProblem as problem:
        raise NameProblem(str(problem), number) from None
    except TemplateSyntaxError as error:
        raise NameProblem(f"cannot be read as an expression: {error.message}", number) from None
    except SecurityError:
        raise NameProblem("does what no expression may", number) from None
    except (RecursionError, MemoryError, SyntaxError):
        raise NameProblem("is nested too deep to be worked out", number) from None
    except (TemplateError, ArithmeticError, TypeError, ValueError, LookupError, AttributeError) as error:
        raise NameProblem(f"cannot be worked out: {_plain(error, known)}", number) from None


@lru_cache(maxsize=16)
def _roots(known: frozenset[str]) -> frozenset[str]:
    """The first words of all names."""
    return frozenset(name.partition(".")[0] for name in known)


def _printable(value: Any) -> Any:
    """Only numbers and texts may come out of an expression; a group of numbers says so itself when it is printed."""
    from jinja2 import Undefined

    if isinstance(value, (str, int, float, Number, Names, Undefined)):
        return value
    raise NameProblem("gives neither a number nor a text")


def _written(number: Number, escape: bool) -> str:
    return number.__html__() if escape else str(number)


def _plain(error: Exception, known: frozenset[str]) -> str:
    text = str(error)
    if "'Number'" in text:
        return "a result is a number with its unit; to reckon with it take the bare number, its .value"
    word = text.split("'")[1] if text.count("'") >= 2 else ""
    return text + (did_you_mean(word, {name.partition(".")[0] for name in known}) if word else "")


@lru_cache(maxsize=2)
def _sandbox(escape: bool) -> Any:
    from jinja2 import StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    class Sandbox(ImmutableSandboxedEnvironment):
        """Attribute access walks the names, and of what they lead to gives the bare value alone; powers and
        repetition, which could run for ever, are not to be had."""

        intercepted_binops = frozenset(["**", "*", "%"])

        def getattr(self, obj: Any, attribute: str) -> Any:
            if isinstance(obj, Number) and attribute == "value":
                return obj.value
            return self.getitem(obj, attribute)

        def getitem(self, obj: Any, argument: Any) -> Any:
            if isinstance(obj, StrictUndefined):
                return super().getitem(obj, argument)  # says which name is none
            if isinstance(obj, Names) or (isinstance(obj, (tuple, list, dict)) and not isinstance(argument, str)):
                return obj[argument]
            if str(argument).startswith("_"):
                raise NameProblem("does what no expression may")
            raise NameProblem(f"has no {str(argument)[:40]!r} to give; a result has .value, the bare number")

        def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
            if not all(isinstance(side, (int, float)) for side in (left, right)) or operator == "**":
                raise NameProblem(f"{operator!r} is for plain numbers only; take a result's .value")
            return super().call_binop(context, operator, left, right)

        def call(self, *args: Any, **kwargs: Any) -> Any:
            raise NameProblem("an expression calls nothing")

    environment = Sandbox(autoescape=escape, undefined=StrictUndefined, keep_trailing_newline=True,
                          finalize=_printable)
    environment.globals.clear()
    keep = {"round", "abs", "upper", "lower", "capitalize"}
    environment.filters = {name: filter_ for name, filter_ in environment.filters.items() if name in keep}
    return environment
