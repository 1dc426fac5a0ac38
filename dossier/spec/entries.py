"""What may stand behind a key: each kind of entry reads what the author wrote, or says plainly what is wanted.

An entry is put on a model's field with ``Annotated``; it carries the field's description, unit and example, so that
the model, its messages and its JSON Schema cannot disagree. ``read`` raises ValueError with a message that follows the
key: ``needs a unit, such as 150 mm (got 150)``. Entries are made on every start, so they go without what a dataclass
can do beyond its ``__init__``.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from dossier.errors import did_you_mean
from dossier.spec import quantities, unit_text
from dossier.spec.deferred import Deferred, holds_expression
from dossier.spec.quantities import shorten
from dossier.working import UNITS

Sign = Literal["", "above zero", "not negative"]
LONGEST_LINE, LONGEST_TEXT, MOST_ITEMS = 300, 20_000, 1000
KEY_TAG, MAP_TAG = "<key>", "<map>"  # no key of a spec looks like these, so they can be told from keys in a path
_EXPRESSION = r"\{\{"
_NUMBER = r"(\d+[ -]+\d+/\d+|\d+/\d+|\d*[½¼¾⅛⅜⅝⅞]|(\d+\.?\d*|\.\d+)([eE][-+−]?\d+)?)"


class ItemsWrong(ValueError):
    """Items of a list that cannot be read: (place from 0, message) of each."""

    def __init__(self, items: list[tuple[int, str]]) -> None:
        self.items = items
        super().__init__("; ".join(f"item {place + 1} {message}" for place, message in items))


@dataclass(eq=False, repr=False)
class Entry:
    """One field of the spec: what it means, and a text that it accepts."""

    doc: str
    example: Any

    def read(self, value: object) -> object:
        """The value as the program uses it. ValueError where it is not of this kind."""
        raise TypeError(f"{type(self).__name__} reads nothing")

    def schema(self) -> dict[str, Any]:
        """The JSON Schema of what ``read`` accepts, without description and examples."""
        return {"type": "string"}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)


@dataclass(eq=False, repr=False)
class Quantity(Entry):
    """A number with a unit, kept as a float in ``unit``; or an expression, kept as Deferred."""

    unit: str = "mm"
    sign: Sign = "above zero"
    least: float | None = None
    most: float | None = None

    def read(self, value: object) -> float:
        if isinstance(value, str) and holds_expression(value):
            return Deferred(value)
        number = quantities.parse(value, self.unit, self.example)
        check_range(number, value, self)
        return number

    def schema(self) -> dict[str, Any]:
        bare = self.unit in {"", "money"}
        sign = r"[-+−]?" if self.sign == "" else r"\+?"
        unit = "%?" if bare else r"[^\d\s.,].*|1/.*"
        text = {"type": "string", "pattern": rf"^\s*{sign}{_NUMBER}\s*(?:{unit})$|{_EXPRESSION}"}
        return {"anyOf": [{"type": "number", **_limits(self)}, text]} if bare else text


def mm(doc: str, example: str, sign: Sign = "above zero", most: float | None = None) -> Quantity:
    """A length in mm."""
    return Quantity(doc, example, "mm", sign, most=most)


def signed_mm(doc: str, example: str) -> Quantity:
    """A length or station in mm that may be negative."""
    return Quantity(doc, example, "mm", "")


def deg(doc: str, example: str, least: float | None = None, most: float | None = None) -> Quantity:
    """An angle in degrees."""
    return Quantity(doc, example, "deg", "", least, most)


def pure(
    doc: str, example: float, sign: Sign = "", least: float | None = None, most: float | None = None, unit: str = "",
) -> Quantity:
    """A pure number, written bare."""
    return Quantity(doc, example, unit, sign, least, most)


@dataclass(eq=False, repr=False)
class Limit(Entry):
    """The limit of a goal, kept as a float, or as the text with its unit: only the design knows the result's unit."""

    def read(self, value: object) -> float | str:
        if not isinstance(value, str):
            return quantities.parse(value, "", str(self.example))
        if holds_expression(value):
            return Deferred(value)
        number, unit = quantities.split(value, "wants a number, or a text with a unit")
        if not unit:
            return number
        unit_text.factors(unit)
        return value.strip()

    def schema(self) -> dict[str, Any]:
        return {"type": ["number", "string"]}


@dataclass(eq=False, repr=False)
class Whole(Entry):
    """A count of whole things."""

    least: int = 1
    most: int = 10_000
    among: tuple[int, ...] = ()

    def read(self, value: object) -> int | float:
        if isinstance(value, str) and holds_expression(value):
            return Deferred(value)
        if isinstance(value, str) and not re.fullmatch(r"\s*[-+−]?\d{1,9}(\.0*)?\s*", value):
            raise ValueError(f"wants a whole number such as {self.example} (got {shorten(value)})")
        found = quantities.parse(value, "", str(self.example))
        if found != int(found):
            raise ValueError(f"counts whole things, such as {self.example} (got {shorten(value)})")
        if self.among and found not in self.among:
            raise ValueError(f"wants {_listed(self.among)} (got {shorten(value)})")
        if found < self.least:
            raise ValueError(f"must be at least {self.least} (got {shorten(value)})")
        if found > self.most:
            raise ValueError(f"must be at most {self.most} (got {shorten(value)})")
        return int(found)

    def schema(self) -> dict[str, Any]:
        whole = {"enum": list(self.among)} if self.among else {"minimum": self.least, "maximum": self.most}
        return {"anyOf": [{"type": "integer", **whole}, {"type": "string", "pattern": rf"^\s*\d+\s*$|{_EXPRESSION}"}]}


@dataclass(eq=False, repr=False)
class Text(Entry):
    """Words. ``form`` is a pattern that the whole text matches, said in words by ``wants``."""

    form: str = ""
    wants: str = "text"
    longest: int = LONGEST_LINE

    def read(self, value: object) -> str:
        if isinstance(value, (int, float, datetime.date)):
            raise ValueError(f"wants {self.wants}; put it in quotes if it is meant so (got {shorten(value)})")
        if not isinstance(value, str) or not value.strip():
            raise ValueError(f"wants {self.wants} such as {shorten(self.example)} (got {shorten(value)})")
        if self.longest <= LONGEST_LINE and len(value.strip().splitlines()) > 1:
            raise ValueError(f"wants one line of {self.wants} (got {shorten(value)})")
        if len(value) > self.longest:
            raise ValueError(f"is longer than {self.longest} characters (got {shorten(value)})")
        if not self.form:
            holds_expression(value)
        elif not re.fullmatch(self.form, value):
            raise ValueError(f"wants {self.wants} such as {shorten(self.example)} (got {shorten(value)})")
        return value.strip()

    def schema(self) -> dict[str, Any]:
        bound = {"type": "string", "minLength": 1, "maxLength": self.longest}
        return {**bound, "pattern": f"^(?:{self.form})$"} if self.form else bound


def prose(doc: str, example: str) -> Text:
    """A text of any number of lines."""
    return Text(doc, example, longest=LONGEST_TEXT)


def web_address(doc: str, example: str) -> Text:
    """An address on the web."""
    return Text(doc, example, r"https?://[^\s<>\"'`\\]+", "an address that begins with https://")


def inside(doc: str, example: str) -> Text:
    """A path inside the build's folder. Whether the file is there is seen when the pages are written."""
    step = r"(?!\.\.?(?:/|$))[^/\\:\x00-\x1f]+"
    return Text(doc, example, rf"{step}(?:/{step})*", "a path inside the build's folder")


def shelf_key(doc: str, example: str) -> Text:
    """A key of one of the program's shelves."""
    return Text(doc, example, r"[a-z0-9]+(?:[-_.][a-z0-9]+)*", "a key of the shelf, in small letters and hyphens")


@dataclass(eq=False, repr=False)
class Choice(Entry):
    """One of a few words."""

    words: tuple[str, ...] = ()

    def read(self, value: object) -> str:
        if isinstance(value, str) and value in self.words:
            return value
        near = self.nearest(shorten(value))
        hint = f" — did you mean '{near}'?" if near else ""
        raise ValueError(f"wants {_listed(self.words)} (got {shorten(value)}){hint}")

    def nearest(self, said: str) -> str:
        """The word that was probably meant, or an empty text."""
        hint = did_you_mean(said.casefold(), [word.casefold() for word in self.words])
        return next((word for word in self.words if f"'{word.casefold()}'" in hint), "")

    def schema(self) -> dict[str, Any]:
        return {"enum": list(self.words)}


@dataclass(eq=False, repr=False)
class WordOr(Entry):
    """One of a few words, or else another kind of entry."""

    words: tuple[str, ...]
    other: Entry

    def read(self, value: object) -> object:
        if isinstance(value, str) and value in self.words:
            return value
        try:
            return self.other.read(value)
        except ItemsWrong:
            raise
        except ValueError as error:
            near = did_you_mean(value, self.words) if isinstance(value, str) else ""
            raise ValueError(f"{error}; {_listed(self.words)} will do as well{near}") from None

    def schema(self) -> dict[str, Any]:
        return {"anyOf": [{"enum": list(self.words)}, self.other.schema()]}


@dataclass(eq=False, repr=False)
class Flag(Entry):
    """True or false."""

    def read(self, value: object) -> bool:
        if isinstance(value, bool):
            return value
        raise ValueError(f"wants true or false (got {shorten(value)})")

    def schema(self) -> dict[str, Any]:
        return {"type": "boolean"}


@dataclass(eq=False, repr=False)
class Day(Entry):
    """A date of the calendar."""

    def read(self, value: object) -> datetime.date:
        if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
            return value
        try:
            if isinstance(value, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", value):
                return datetime.date.fromisoformat(value)
        except ValueError as error:
            raise ValueError(f"is no day of the calendar: {error} (got {value})") from None
        raise ValueError(f"wants a date such as {self.example} (got {shorten(value)})")

    def schema(self) -> dict[str, Any]:
        return {"type": "string", "format": "date", "pattern": r"^\d{4}-\d\d-\d\d$"}


@dataclass(eq=False, repr=False)
class Several(Entry):
    """A list of entries of one kind."""

    of: Entry
    least: int = 0

    def read(self, value: object) -> tuple[object, ...]:
        if not isinstance(value, (list, tuple)):
            raise ValueError(f"wants a list such as [{', '.join(map(str, self.example))}] (got {shorten(value)})")
        if not self.least <= len(value) <= MOST_ITEMS:
            raise ValueError(f"wants {self.least or 'at most'} {'or more' if self.least else MOST_ITEMS} in its list "
                             f"(got {len(value)})")
        found: list[object] = []
        wrong: list[tuple[int, str]] = []
        for place, item in enumerate(value):
            try:
                found.append(self.of.read(item))
            except ValueError as error:
                wrong.append((place, str(error)))
        if wrong:
            raise ItemsWrong(wrong)
        return tuple(found)

    def schema(self) -> dict[str, Any]:
        items = {**self.of.schema(), "description": self.of.doc, "examples": [self.of.example]}
        return {"type": "array", "items": items, "minItems": self.least, "maxItems": MOST_ITEMS}


@dataclass(eq=False, repr=False)
class ByKey(Entry):
    """A map from keys of this spec to what stands there instead, kept as it was written: each is read with its key."""

    def read(self, value: object) -> dict[str, object]:
        if isinstance(value, Mapping) and all(isinstance(key, str) for key in value):
            return dict(value)
        raise ValueError(f"wants a map of keys such as {{primary.conic: -1}} (got {shorten(value)})")

    def schema(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": {"type": ["string", "number", "boolean", "array", "object"]},
                "propertyNames": {"pattern": r"^[a-z_]+(\[\d+\])?(\.[a-z_]+(\[\d+\])?)*$"}}


@dataclass(eq=False, repr=False)
class ShelfOrMap(Entry):
    """A key of a shelf, or a map of the properties themselves."""

    model: type[BaseModel]

    def read(self, value: object) -> str:
        return shelf_key(self.doc, self.example).read(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.tagged_union_schema(
            {KEY_TAG: core_schema.no_info_plain_validator_function(self.read),
             MAP_TAG: handler.generate_schema(self.model)},
            discriminator=lambda value: MAP_TAG if isinstance(value, (dict, BaseModel)) else KEY_TAG,
        )


@dataclass(eq=False, repr=False)
class Section:
    """A field that holds another model, or a list of them. ``example`` is empty where the fields' own make one."""

    doc: str
    example: Any = None


def check_range(number: float, said: object, entry: Quantity) -> None:
    """ValueError where a number is on the wrong side of zero or of its limits."""
    unit = "" if entry.unit in {"", "money"} else f" {UNITS[entry.unit].text}"
    if entry.sign == "above zero" and not number > 0:
        raise ValueError(f"must be above zero (got {shorten(said)})")
    if entry.sign == "not negative" and not number >= 0:
        raise ValueError(f"must not be negative (got {shorten(said)})")
    if entry.least is not None and not number >= entry.least:
        raise ValueError(f"must be at least {entry.least:g}{unit} (got {shorten(said)})")
    if entry.most is not None and not number <= entry.most:
        raise ValueError(f"must be at most {entry.most:g}{unit} (got {shorten(said)})")


def _limits(entry: Quantity) -> dict[str, float]:
    limits: dict[str, float] = {}
    if entry.sign == "above zero":
        limits["exclusiveMinimum"] = 0
    if entry.sign == "not negative":
        limits["minimum"] = 0
    if entry.least is not None:
        limits["minimum"] = entry.least
    if entry.most is not None:
        limits["maximum"] = entry.most
    return limits


def _listed(words: tuple[Any, ...]) -> str:
    *most, last = map(str, words)
    return f"{', '.join(most)} or {last}" if most else last
