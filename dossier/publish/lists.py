"""Lists as CSV after RFC 4180, in UTF-8, and the manifest by which others find an open design."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping

from dossier.design import Design
from dossier.views.links import step_page
from dossier.views.lists import Cell, List

# What a spreadsheet takes for the beginning of a formula or of a command.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
MANIFEST = "okh.toml"


def as_csv(each: List) -> bytes:
    """A list as a file that any spreadsheet opens and none runs."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(each.columns)
    writer.writerows([_cell(cell) for cell in row] for row in each.rows)
    return text.getvalue().encode("utf-8")


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    return harmless(cell) if isinstance(cell, str) else f"{cell:.10g}" if isinstance(cell, float) else str(cell)


def harmless(text: str) -> str:
    """A text that no spreadsheet takes for a formula: one that begins like one gets an apostrophe before it."""
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA) else text


def manifest(design: Design, files: Mapping[str, str], has_parts: bool) -> str:
    """The Open Know-How manifest of a design in TOML, or nothing where the spec lacks what it must say.

    ``files`` gives the address on the site of each file of the parts by its path in the build; ``has_parts`` is whether
    there is a list of parts.
    """
    about = design.build.about
    if not (about.site and about.licence and about.authors and about.summary):
        return ""
    head: dict[str, object] = {
        "okhv": "OKH-LOSHv1.0", "name": about.name, "repo": about.site, "version": design.revision,
        "license": about.licence, "licensor": ", ".join(about.authors),
        "documentation-language": design.build.readers.language, "function": about.summary,
    }
    if has_parts:
        head["bom"] = "lists/parts.csv"
    if design.steps:
        head["manufacturing-instructions"] = [step_page(step.slug) for step in design.steps]
    head["source"] = ["build.yaml"]
    head["export"] = ["results.json", "drawings/general-arrangement.svg"]
    tables = [_table(head), *(f"[[part]]\n{_table(part)}" for part in _own_parts(design, files))]
    return "\n".join(tables)


def _own_parts(design: Design, files: Mapping[str, str]) -> Iterator[dict[str, object]]:
    """The parts that a maker of this design has files for: what can be changed, and what can be printed."""
    for part in design.build.parts:
        source = _known([part.cad], files)
        export = _known([part.print.mesh if part.print else None], files)
        if source or export:
            told = {"name": f"{part.ref} {part.name}", "source": source, "export": export}
            yield {key: value for key, value in told.items() if value}


def _known(paths: Iterable[str | None], files: Mapping[str, str]) -> list[str]:
    return [files[path] for path in paths if path and path in files]


def _table(values: Mapping[str, object]) -> str:
    # A JSON string is a TOML basic string, and a list of them a TOML array.
    return "".join(f"{key} = {json.dumps(value, ensure_ascii=False)}\n" for key, value in values.items())
