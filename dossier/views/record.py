"""``results.json``: everything worked out, as plain data at full precision."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any

from dossier import shelf
from dossier.design import Design
from dossier.notation import rule_plain, working_plain
from dossier.working import UNITS, AnyFormula, Given, Goal, Result, Value


def record(design: Design) -> dict[str, Any]:
    """What ``results.json`` holds for this design; ``results.schema.json`` beside this module is its JSON Schema."""
    return {
        "format": 1,
        "build": design.loaded.folder.name,
        "revision": design.revision,
        "date": design.date,
        "spec_sha256": design.loaded.sha256,
        "kits": design.kits,
        "results": {name: _result(result, design) for name, result in design.results.items()},
        "left_out": dict(design.left_out),
    }


def as_json(design: Design) -> str:
    """The record as the text of ``results.json``."""
    return json.dumps(record(design), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


@lru_cache(maxsize=1)
def results_schema() -> dict[str, Any]:
    """The JSON Schema of ``results.json``."""
    text = (Path(__file__).parent / "results.schema.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def _result(result: Result, design: Design) -> dict[str, Any]:
    return {
        "value": _plain(result.value),
        "unit": _unit(result.unit, design),
        "label": result.title,
        "formula": rule_plain(result.formula),
        "working": working_plain(result, design.build.readers),
        "source": cited(result.formula),
        "inputs": {name: _input(entry, design) for name, entry in result.inputs.items()},
        "in_range": result.in_range,
        **({"out_of_range": list(result.strays)} if result.strays else {}),
        "goal": _goal(result.goal, result.number) if result.goal else None,
    }


def cited(formula: AnyFormula) -> str:
    """Where a formula comes from, in a line: author, title, year and place."""
    source = shelf.sources()[formula.source]
    return ", ".join(filter(None, (source.author, source.title, source.year, formula.where)))


def _input(entry: Given | Result, design: Design) -> dict[str, Any]:
    value = {"value": _plain(entry.value), "unit": _unit(entry.unit, design)}
    if isinstance(entry, Result):
        return {**value, "result": entry.id}
    # The file's name without its folder: where a build lies on somebody's disk is nobody else's business.
    place = {"file": Path(entry.file).name, "line": entry.line} if entry.line else {}
    source = {"source": entry.source} if entry.source else {}
    return {**value, "key": entry.key, "origin": entry.origin, **place, **source}


def _goal(goal: Goal, value: float) -> dict[str, Any]:
    return {"limit": goal.limit, "sense": goal.sense, "outcome": goal.outcome(value), "because": goal.because,
            "set_by": "author" if goal.authors else "trade"}


def _unit(ending: str, design: Design) -> str:
    if ending == "money":
        return design.build.readers.currency or "1"
    return UNITS[ending].text


def _plain(value: Value) -> float | int | list[float]:
    if isinstance(value, tuple):
        return list(value)
    return value
