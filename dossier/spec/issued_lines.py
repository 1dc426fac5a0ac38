"""What a frozen revision says of its parts and goals, read by its lines alone: its head, parts, notes and misses are
written one to a line, as JSON, so that a page about the past need not read the whole of it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from dossier.spec.issued import Issued, raw_of

_SECTION = re.compile(r"[a-z_]+:")


def part_names(head: Issued) -> Mapping[str, str]:
    """The names of a revision's parts by reference; empty where live numbers stand in one, which are not frozen with
    it."""
    names = {str(each["ref"]): str(each["name"]) for each in _items(_text(head), "parts")}
    return {ref: "" if "{{" in name else name for ref, name in names.items()}


def note_ids(head: Issued) -> frozenset[str]:
    """The notes that the revision had when it was issued."""
    return frozenset(str(each["id"]) for each in _items(_text(head), "notes"))


def accepted_misses(head: Issued) -> tuple[str, ...]:
    """What the revision's results are called that missed their limits when it was issued all the same."""
    text = _text(head)
    return tuple(_label(text, str(each["result"])) for each in _items(text, "accepted_misses"))


@lru_cache(maxsize=8)
def _text(head: Issued) -> str:
    return raw_of(head.file).decode()


def _items(text: str, section: str) -> Iterator[Mapping[str, Any]]:
    inside = False
    for line in text.split("\n"):
        if inside and line.startswith("  - {"):
            yield json.loads(line[4:])
        elif _SECTION.match(line):
            inside = line.rstrip() == f"{section}:"


def _label(text: str, result: str) -> str:
    found = re.search(rf"^  {re.escape(json.dumps(result, ensure_ascii=False))}: (\{{.*\}})$", text, re.MULTILINE)
    return str(json.loads(found[1])["label"]) if found else result
