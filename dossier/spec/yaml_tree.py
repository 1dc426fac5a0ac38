"""YAML read into plain values that remember their lines.

The parser's events are followed here, rather than its objects, so that duplicate keys, depth, aliases and tags are
seen, and so that a value is what a maker would take it for: only ``true`` and ``false`` are truth values, ``010`` is
ten, ``12:30`` is a text.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, TypeAlias

import yaml

from dossier.errors import Problem, Unusable
from dossier.spec.quantities import shorten
from dossier.spec.text_file import control_character

DEEPEST, MOST_NODES = 24, 50_000
_PLAIN_NUMBER = re.compile(r"[-+−]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+−]?\d+)?")
_WHOLE = re.compile(r"[-+]?\d{1,15}")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_NOT_FINITE = {".nan": "nan", ".inf": "inf", "+.inf": "inf", "-.inf": "-inf"}
_NOTHING = {"", "~", "null"}
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written."""

    text: str
    quoted: bool
    line: int

    size = 1

    @property
    def value(self) -> Any:
        """The value, by the rules of this module."""
        return self.text if self.quoted else plain_value(self.text)


@dataclass(frozen=True, slots=True)
class Listing:
    """A list; ``size`` counts all nodes in it."""

    items: tuple[Node, ...]
    line: int
    size: int


@dataclass(frozen=True, slots=True)
class Mapping:
    """A map: key → (line of the key, node). ``again`` are the keys that stand in it once more, with their lines."""

    entries: dict[str, tuple[int, Node]]
    again: tuple[tuple[str, int], ...]
    line: int
    size: int


Node: TypeAlias = Scalar | Listing | Mapping


@dataclass(frozen=True, slots=True)
class Said:
    """Where a key stands and what was written there (empty for a list or map)."""

    line: int
    said: str


@dataclass(slots=True)
class Tree:
    """The plain values of a file, where each key stands, and what was wrong on the way."""

    values: dict[str, Any]
    places: dict[str, Said]
    problems: list[Problem] = field(default_factory=list)


def plain_value(text: str) -> Any:
    """What an unquoted scalar means."""
    if text in _NOTHING:
        return None
    if text in {"true", "false"}:
        return text == "true"
    if _WHOLE.fullmatch(text):
        return int(text)
    if _PLAIN_NUMBER.fullmatch(text):
        return float(text.replace("−", "-"))
    if text.casefold() in _NOT_FINITE:
        return float(_NOT_FINITE[text.casefold()])
    if _DATE.fullmatch(text):
        try:
            return datetime.date.fromisoformat(text)
        except ValueError:
            return text
    return text


def read(text: str, file: str, *, empty_values: bool = False) -> Tree:
    """The file's one map. Raises Unusable where the text is no YAML map at all; other problems are in the tree.

    ``empty_values`` lets a key stand without a value: it is then as if it were not there.
    """
    if not text.strip():
        raise Unusable([Problem(file, 0, "", "is empty; `dossier begin` writes a build to start from")])
    builder = _Builder(file)
    try:
        root = builder.document(yaml.parse(text, Loader=_LOADER))
    except yaml.MarkedYAMLError as error:
        raise Unusable([*builder.problems, *_syntax(error, text, file)]) from None
    except yaml.YAMLError as error:
        raise Unusable([Problem(file, 0, "", f"is not YAML: {shorten(error)}")]) from None
    if not isinstance(root, Mapping):
        line = root.line if root else 1
        raise Unusable([*builder.problems, Problem(file, line, "", "wants keys and values, such as 'format: 1'")])
    tree = Tree({}, {}, builder.problems)
    tree.values = _map_values(root, "", tree, file, empty_values)
    return tree


class _Builder:
    """Follows the parser's events and makes nodes of them."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.anchors: dict[str, Node] = {}
        self.nodes = 0

    def document(self, events: Iterator[Any]) -> Node | None:
        root: Node | None = None
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self.say(event, "holds a second document after ---; a build is one")
                    break
            elif isinstance(event, (yaml.ScalarEvent, yaml.AliasEvent, yaml.CollectionStartEvent)):
                root = self.node(event, events, 1)
        return root

    def node(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        if isinstance(event, yaml.AliasEvent):
            return self.counted(self.alias(event), event)
        if event.tag not in (None, "!"):
            self.say(event, f"has a tag, {shorten(event.tag)}; tags are not used here")
        if depth > DEEPEST:
            raise Unusable([*self.problems, Problem(self.file, line_of(event), "", f"is nested more than {DEEPEST} "
                                                                                    "deep")])
        node: Node
        if isinstance(event, yaml.ScalarEvent):
            if found := control_character(event.value):
                self.say(event, f"holds an invisible control character (U+{ord(found):04X}); remove it")
            node = Scalar(event.value, event.style not in (None, ""), line_of(event))
        elif isinstance(event, yaml.SequenceStartEvent):
            node = self.listing(event, events, depth)
        else:
            node = self.mapping(event, events, depth)
        if event.anchor:
            self.anchors[event.anchor] = node
        return self.counted(node, event) if isinstance(node, Scalar) else node

    def counted(self, node: Node, event: Any) -> Node:
        self.nodes += node.size
        if self.nodes > MOST_NODES:
            raise Unusable([*self.problems, Problem(self.file, line_of(event), "", f"holds more than {MOST_NODES} "
                                                                                    "values, with all that its aliases "
                                                                                    "repeat")])
        return node

    def alias(self, event: Any) -> Node:
        if event.anchor in self.anchors:
            return self.anchors[event.anchor]
        self.say(event, f"has an alias, *{shorten(event.anchor)}, to what is not there or not yet complete")
        raise Unusable(self.problems)

    def listing(self, event: Any, events: Iterator[Any], depth: int) -> Listing:
        items: list[Node] = []
        for inner in events:
            if isinstance(inner, yaml.SequenceEndEvent):
                break
            items.append(self.node(inner, events, depth + 1))
        return Listing(tuple(items), line_of(event), 1 + sum(item.size for item in items))

    def mapping(self, event: Any, events: Iterator[Any], depth: int) -> Mapping:
        entries: dict[str, tuple[int, Node]] = {}
        again: list[tuple[str, int]] = []
        size = 1
        for key_event in events:
            if isinstance(key_event, yaml.MappingEndEvent):
                break
            key = self.node(key_event, events, depth + 1)
            value = self.node(next(events), events, depth + 1)
            size += key.size + value.size
            if not self.good_key(key, key_event) or not isinstance(key, Scalar):
                continue
            if key.text in entries:
                again.append((key.text, key.line))
            else:
                entries[key.text] = (key.line, value)
        return Mapping(entries, tuple(again), line_of(event), size)

    def good_key(self, key: Node, event: Any) -> bool:
        if not isinstance(key, Scalar):
            self.say(event, 'has a key that is not a word; an expression needs quotes: "{{ … }}"')
            return False
        if key.text == "<<" and not key.quoted:
            self.say(event, "has a merge key, <<; write the keys out")
            return False
        if key.text in _NOTHING:
            self.say(event, "has a value without a key")
            return False
        return True

    def say(self, event: Any, message: str) -> None:
        self.problems.append(Problem(self.file, line_of(event), "", message))


def line_of(event: Any) -> int:
    """The line of a parser's event, from 1."""
    return int(event.start_mark.line) + 1


def _map_values(node: Mapping, path: str, tree: Tree, file: str, empty: bool) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, (line, inner) in node.entries.items():
        _enter(found, key, inner, _joined(path, key), line, tree, file, empty)
    for key, line in node.again:
        first = node.entries[key][0]
        tree.problems.append(Problem(file, line, shown_key(_joined(path, key)), f"stands twice, first in line {first}"))
    return found


def _joined(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def shown_key(key: str) -> str:
    """A key path short enough for one line of a message."""
    return shorten(key, 120) if key else ""


def _enter(
    into: dict[str, Any], key: str, node: Node, path: str, line: int, tree: Tree, file: str, empty: bool,
) -> None:
    value = _value(node, path, tree, file, empty)
    tree.places[path] = Said(line, node.text if isinstance(node, Scalar) else "")
    if value is not None:
        into[key] = value
    elif not empty:
        hint = "; is a decimal comma meant? write a point" if key[:1].isdigit() else ""
        tree.problems.append(Problem(file, line, shown_key(path), f"has no value; give one or remove the key{hint}"))


def _value(node: Node, path: str, tree: Tree, file: str, empty: bool) -> Any:
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Mapping):
        return _map_values(node, path, tree, file, empty)
    items: list[Any] = []
    for place, inner in enumerate(node.items):
        kept: dict[str, Any] = {}
        _enter(kept, "", inner, f"{path}[{place}]", inner.line, tree, file, empty)
        items.append(kept.get("", ""))
    return items


def _syntax(error: yaml.MarkedYAMLError, text: str, file: str) -> list[Problem]:
    """A syntax error in plain words. Tabs, where there are any, are what an author must mend first."""
    lines = text.splitlines()
    tabbed = [number for number, line in enumerate(lines, 1) if "\t" in line[: len(line) - len(line.lstrip())]]
    if tabbed:
        return [Problem(file, number, "", "is indented with a tab; use spaces") for number in tabbed[:50]]
    mark = error.problem_mark or error.context_mark
    line = mark.line + 1 if mark else 0
    began = error.context_mark.line + 1 if error.context_mark else line
    hint = ""
    if any(re.search(r":\s+\{\{", written) for written in lines[max(began - 1, 0):line]):
        hint = '; an expression needs quotes: "{{ … }}"'
    elif 0 < line <= len(lines) and re.search(r":\s[^'\"]*:\s", lines[line - 1]):
        hint = "; a text that holds a colon needs quotes"
    since = f", in what began in line {began}" if began != line else ""
    return [Problem(file, line, "", f"is not YAML: {error.problem or 'it cannot be read'}{since}{hint}")]
