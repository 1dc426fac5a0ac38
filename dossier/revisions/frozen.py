"""The frozen file of a revision, ``revisions/<letter>.yaml``: written from a design, and read whole again."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from dossier import __version__
from dossier.design import Design
from dossier.errors import Problem, Unusable
from dossier.spec import issued, text_file, yaml_tree
from dossier.spec.contents import Contents
from dossier.spec.issued import Issued
from dossier.working import UNITS, Goal, Result

FORMAT = 1
_SUM = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Kept:
    """A result as it was frozen: ``value`` in ``unit`` (as results.json writes it), and what its goal came to."""

    value: float | tuple[float, ...]
    unit: str
    label: str
    outcome: str


@dataclass(frozen=True)
class Frozen:
    """Everything in a frozen file: its head, the texts of spec and pages by path, the SHA-256 of every other file by
    path, the results, and the goals that were missed and accepted."""

    head: Issued
    texts: Mapping[str, str]
    files: Mapping[str, str]
    results: Mapping[str, Kept]
    accepted: tuple[str, ...]


def written(design: Design, kept: Contents, head: Mapping[str, Any], comment: str) -> bytes:
    """The bytes of a frozen file. ``head`` has a value for every key of ``issued.HEAD`` but the program's version."""
    whole = {**head, "program": __version__}
    body = "".join([f"format: {FORMAT}\n", issued.head_lines(whole), *_sections(design, kept)])
    return issued.sealed(comment, body.encode())


def read(head: Issued) -> Frozen:
    """A frozen file read whole. Its hash has been looked at already. Raises Unusable where it holds something else."""
    name = text_file.shown(head.file)
    tree = yaml_tree.read(issued.raw_of(head.file).decode(), name)
    values = tree.values
    if tree.problems or values.get("format") != FORMAT:
        why = f"is in format {values.get('format')}, and this version of dossier reads format {FORMAT}"
        raise Unusable(tree.problems or [Problem(name, 0, "format", why)])
    try:
        found = _frozen(head, values)
    except (KeyError, TypeError, ValueError, AttributeError):
        raise Unusable([Problem(name, 0, "", "is not as dossier freezes a revision")]) from None
    if strays := [path for path in (*found.texts, *found.files) if not _inside(path)]:
        raise Unusable(Problem(name, 0, "", f"holds a file outside the build's folder, {path}") for path in strays)
    return found


def _frozen(head: Issued, values: Mapping[str, Any]) -> Frozen:
    results = {result: Kept(_value(each["value"]), _text(each["unit"]), _text(each["label"]),
                            _text(each.get("outcome", ""))) for result, each in values["results"].items()}
    texts = {path: _text(text) for path, text in values["texts"].items()}
    files = {path: _sum(each["sha256"]) for path, each in values["files"].items()}
    return Frozen(head, texts, files, results, tuple(_text(each["result"]) for each in values["accepted_misses"]))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _sum(value: object) -> str:
    if not _SUM.fullmatch(_text(value)):
        raise ValueError(value)
    return _text(value)


def copy_name(path: str, sum_: str) -> str:
    """The name of a file's copy: its hash, with the ending that says what it is."""
    ending = path.rpartition("/")[2].rpartition(".")
    return f"{sum_}.{ending[2]}" if ending[0] and ending[2].isalnum() else sum_


def _inside(path: str) -> bool:
    return not path.startswith("/") and "\\" not in path and not {"", ".", ".."} & set(path.split("/"))


def _value(value: Any) -> float | tuple[float, ...]:
    return tuple(map(float, value)) if isinstance(value, list) else float(value)


def _sections(design: Design, kept: Contents) -> Iterator[str]:
    yield from _listed("accepted_misses", [_miss(result) for result in design.misses])
    yield from _listed("goals", [_goal(result.goal, result) for result in design.results.values() if result.goal])
    yield from _listed("parts", list(_parts(design)))
    yield from _listed("notes", [note.model_dump(mode="json", exclude_defaults=True) for note in design.build.notes])
    yield from _mapped("results", {result.id: _result(result, design) for result in design.results.values()})
    yield from _mapped("files", {path: {"sha256": kept.sums[path], "copy": copy_name(path, kept.sums[path])}
                                 for path in kept.files})
    yield "texts:\n"
    for path, raw in kept.texts.items():
        yield f"  {json.dumps(path, ensure_ascii=False)}: {_block(raw.decode())}"


def _result(result: Result, design: Design) -> dict[str, Any]:
    found: dict[str, Any] = {"value": _number(result.value), "unit": unit_of(result, design), "label": result.title}
    return found | ({"outcome": result.goal.outcome(result.number)} if result.goal else {})


def _miss(result: Result) -> dict[str, Any]:
    assert result.goal
    return _goal(result.goal, result)


def _goal(goal: Goal, result: Result) -> dict[str, Any]:
    return {"result": goal.result, goal.sense: goal.limit, "value": _number(result.value),
            "outcome": goal.outcome(result.number), "because": goal.because,
            "set_by": "author" if goal.authors else "trade"}


def _parts(design: Design) -> Iterator[dict[str, Any]]:
    for part, line in zip(design.build.parts, design.parts, strict=True):
        found = {"ref": part.ref, "name": part.name, "get": part.get, "quantity": part.quantity, "spares": part.spares,
                 "pack": part.pack, "packs": line.packs, "price": part.price, "cost": line.cost,
                 "mass_kg": line.mass_kg}
        yield {key: value for key, value in found.items() if value is not None}


def unit_of(result: Result, design: Design) -> str:
    """A result's unit as it is frozen: as results.json has it."""
    return (design.build.readers.currency or "1") if result.unit == "money" else UNITS[result.unit].text


def _number(value: float | tuple[float, ...]) -> float | list[float]:
    return list(value) if isinstance(value, tuple) else value


def _listed(name: str, items: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    yield f"{name}:\n" if items else f"{name}: []\n"
    for item in items:
        yield f"  - {_flow(item)}\n"


def _mapped(name: str, items: Mapping[str, Mapping[str, Any]]) -> Iterator[str]:
    yield f"{name}:\n" if items else f"{name}: {{}}\n"
    for key, item in items.items():
        yield f"  {json.dumps(key, ensure_ascii=False)}: {_flow(item)}\n"


def _flow(item: Mapping[str, Any]) -> str:
    return json.dumps(item, ensure_ascii=False, allow_nan=False)


def _block(text: str) -> str:
    """A text as a block that can be read, where YAML gives it back to the sign; else as one quoted line."""
    lines = text.split("\n")
    if "\r" in text or not text.strip():
        return json.dumps(text, ensure_ascii=False) + "\n"
    kept = "+" if text.endswith("\n") else "-"
    shown = lines[:-1] if kept == "+" else lines
    return f"|2{kept}\n" + "".join(f"    {line}\n" if line else "\n" for line in shown)
