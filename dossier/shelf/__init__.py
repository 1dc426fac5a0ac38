"""The shelf: data with its source beside it, in YAML files in this folder, read once and never changed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import yaml

from dossier.shelf.records import (
    PROPERTIES,
    Caution,
    Datum,
    Limit,
    Material,
    Occasion,
    Source,
    SymbolEntry,
    Thread,
    ThreadTable,
)

if TYPE_CHECKING:
    from dossier.shelf.tables import Skill, SpringTable, Targets

__all__ = [
    "PROPERTIES", "Caution", "Datum", "Limit", "Material", "Occasion", "Source", "SymbolEntry", "Thread", "ThreadTable",
    "cautions", "display", "limits", "materials", "skills", "sources", "springs", "symbols", "targets", "threads",
]

_FOLDER = Path(__file__).parent
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@lru_cache(maxsize=1)
def sources() -> Mapping[str, Source]:
    """Every source by its key (``born-wolf-1999``)."""
    return MappingProxyType({key: Source(key=key, **_texts(entry)) for key, entry in _read("sources").items()})


@lru_cache(maxsize=1)
def materials() -> Mapping[str, Material]:
    """Every material by its key (``borosilicate``)."""
    return MappingProxyType({key: _material(key, entry) for key, entry in _read("materials").items()})


@lru_cache(maxsize=1)
def limits() -> tuple[Limit, ...]:
    """The trade's usual limits, in the order of the file."""
    return tuple(_limit(entry) for entry in _read("limits"))


@lru_cache(maxsize=1)
def cautions() -> Mapping[str, Caution]:
    """Every caution by its topic (``sun``), the gravest first."""
    return MappingProxyType({entry["topic"]: _caution(entry) for entry in _read("cautions")})


@lru_cache(maxsize=1)
def threads() -> ThreadTable:
    """Coarse ISO metric threads with their holes."""
    page = _read("threads")
    rows = {name: Thread(name, **{column: float(size) for column, size in row.items()})
            for name, row in page["threads"].items()}
    return ThreadTable(MappingProxyType(rows), MappingProxyType(page["sources"]))


@lru_cache(maxsize=1)
def springs() -> SpringTable:
    """Compression springs of common sizes, and what their wire bears."""
    from dossier.shelf import tables

    return tables.springs(_read("springs"))


@lru_cache(maxsize=1)
def symbols() -> Mapping[str, SymbolEntry]:
    """How each word of the printed rules is written."""
    return MappingProxyType({
        name: SymbolEntry(str(entry["symbol"]), str(entry.get("sub") or ""), str(entry["meaning"]))
        for name, entry in _read("symbols").items()
    })


@lru_cache(maxsize=1)
def display() -> Mapping[str, Any]:
    """How many digits each result and unit is shown with, as the file says it."""
    return MappingProxyType(_read("display"))


@lru_cache(maxsize=1)
def targets() -> Targets:
    """The Moon's craters, the planets and double stars."""
    from dossier.shelf import tables

    return tables.targets(_read("targets"))


@lru_cache(maxsize=1)
def skills() -> tuple[Skill, ...]:
    """What tools ask of whoever uses them."""
    from dossier.shelf import tables

    return tables.skills(_read("skills"))


def _read(name: str) -> Any:
    with (_FOLDER / f"{name}.yaml").open("rb") as file:
        return yaml.load(file, Loader=_LOADER)


def _texts(entry: Mapping[str, Any]) -> dict[str, Any]:
    """The entry with its scalars as text: a year is a name here, not a number."""
    return {name: str(value) for name, value in entry.items()}


def _material(key: str, entry: Mapping[str, Any]) -> Material:
    data = {name: _datum(entry[name]) for name in PROPERTIES if name in entry}
    return Material(key, entry["name"], entry["kind"], tuple(entry.get("notes", ())), **data)


def _datum(entry: Mapping[str, Any]) -> Datum:
    return Datum(float(entry["value"]), entry["source"], entry["known"], entry.get("note", ""))


def _limit(entry: Mapping[str, Any]) -> Limit:
    said = entry["limit"]
    one: Mapping[str, Any] = said if isinstance(said, dict) else {"number": float(said)}
    return Limit(
        entry["result"], entry["sense"], entry["because"], entry["source"], number=one.get("number"),
        key=one.get("key", ""), other=one.get("result", ""), times=float(one.get("times", 1)),
        when=MappingProxyType(entry.get("when", {})), cures=tuple(entry.get("cures", ())),
    )


def _caution(entry: Mapping[str, Any]) -> Caution:
    when = Occasion(**{name: tuple(words) for name, words in entry.get("when", {}).items()})
    return Caution(
        entry["topic"], entry["title"], entry["can_happen"], tuple(entry["do"]), entry["defer"],
        tuple(entry["authority"]), entry["protects"], entry.get("always", False), when,
    )
