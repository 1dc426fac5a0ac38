"""The JSON Schema of ``build.yaml``, made from the same entries that read it, for editors that complete and check.

It knows the form of each value; what values must have in common is for ``dossier check`` to say.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from dossier.spec import keys
from dossier.spec.entries import ByKey, Entry, Several, ShelfOrMap, shelf_key
from dossier.spec.model import Build
from dossier.working import UNITS

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_MEASURED_ONLY = "bench"


def json_schema(*, measured: bool = False) -> dict[str, Any]:
    """The schema of a spec; or of a measured file, in which nothing is required and ``bench`` is known."""
    definitions: dict[str, Any] = {}
    root = _of_model(Build, definitions, measured)
    what = "What a builder measured, laid over a dossier build spec" if measured else "A dossier build spec"
    return {"$schema": DIALECT, "title": what, **root, "$defs": dict(sorted(definitions.items()))}


def _of_model(model: type[BaseModel], definitions: dict[str, Any], measured: bool) -> dict[str, Any]:
    known = {key: field for key, field in keys.known_keys(model).items() if measured or key != _MEASURED_ONLY}
    properties = {key: _property(model, field, definitions, measured) for key, field in known.items()}
    schema: dict[str, Any] = {"type": "object", "description": (model.__doc__ or "").strip(),
                              "additionalProperties": False, "properties": properties}
    required = [] if measured else [key for key, field in known.items() if field.required]
    return {**schema, "required": required} if required else schema


def _property(model: type[BaseModel], known: keys.Known, definitions: dict[str, Any], measured: bool) -> dict[str, Any]:
    unit = keys.unit_of_entry(known.entry)
    shape = {"description": known.entry.doc, **_shape(known, definitions, measured), "examples": [example(known)]}
    if unit:
        shape["x-unit"] = "readers.currency" if unit == "money" else UNITS[unit].text
    default = model.model_fields[known.attribute].default
    if isinstance(default, (str, int, float)) and not unit and not measured:
        shape["default"] = default
    return shape


def _shape(known: keys.Known, definitions: dict[str, Any], measured: bool) -> dict[str, Any]:
    if known.model is None:
        return known.entry.schema() if isinstance(known.entry, Entry) else {}
    name = known.model.__name__
    if name not in definitions:
        definitions[name] = {}  # stands for itself while its own fields are described
        definitions[name] = _of_model(known.model, definitions, measured)
    reference = {"$ref": f"#/$defs/{name}"}
    if isinstance(known.entry, ShelfOrMap):
        return {"anyOf": [shelf_key("", known.entry.example).schema(), reference]}
    return {"type": "array", "items": reference} if known.many else reference


def example(known: keys.Known) -> Any:
    """A value that the key accepts, as its author would write it: of a section, one of each of its keys."""
    entry = known.entry
    if known.model is None or isinstance(entry, (ShelfOrMap, ByKey, Several)) or entry.example is not None:
        return entry.example
    inner = example_of(known.model)
    return [inner] if known.many else inner


def example_of(model: type[BaseModel]) -> dict[str, Any]:
    """An example of every key of a section."""
    fields = keys.known_keys(model)
    return {key: example(known) for key, known in fields.items() if key != _MEASURED_ONLY}
