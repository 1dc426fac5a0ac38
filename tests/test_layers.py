"""The layers of DEVELOPERS.md, read off the imports: one direction of flow, and every exception with its reason."""

from __future__ import annotations

import ast
import fnmatch
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

PROJECT = Path(__file__).parents[1]
PACKAGE = PROJECT / "dossier"

# Layer → what it may use: the project's own layers, and packages from outside.
MAY_USE: dict[str, tuple[set[str], set[str]]] = {
    "rules": (set(), set()),
    "errors": (set(), set()),
    "working": (set(), set()),
    "expressions": ({"errors"}, {"jinja2"}),
    "calc": ({"working"}, {"numpy", "scipy"}),
    "spec": ({"errors", "working", "expressions", "shelf"},
             {"pydantic", "pydantic_core", "pint", "yaml", "numpy", "trimesh"}),
    "shelf": (set(), {"yaml"}),
    "design": ({"spec", "shelf", "calc", "working", "errors", "expressions"}, set()),
    "notation": ({"rules", "working", "shelf"}, set()),
    "drawings": ({"design", "working", "notation", "shelf"}, set()),
    "charts": ({"design", "working", "notation", "shelf", "drawings"}, {"PIL"}),
    "views": ({"design", "revisions", "working", "notation", "shelf", "drawings", "charts", "errors"}, set()),
    "publish": ({"views", "drawings", "charts", "design", "revisions", "notation", "shelf", "errors"},
                {"ezdxf", "jinja2", "markdown", "weasyprint", "markupsafe", "fontTools", "font_source_sans_pro", "nh3",
                 "pydyf", "pypdf", "segno", "watchfiles", "yaml"}),
    "revisions": ({"design", "spec", "notation", "working", "errors", "expressions"}, set()),
    "cli": ({"spec", "design", "revisions", "views", "publish", "errors"}, {"click"}),
    "__main__": ({"cli"}, set()),
}

# File (or pattern), import → why it may stand outside the table. One that nothing needs any more must go.
EXCEPTIONS: dict[tuple[str, str], str] = {
    ("drawings/*", "spec"): "an element of a drawing is measured from what the author said, in the resolved build",
    ("design/pictures/*", "numpy"): "a curve or a picture is worked out at many places at once",
    ("design/explore/*", "numpy"): "thousands of builders are drawn, counted and put in order at once",
    ("views/*", "spec"): "a page repeats the author's own words, and where they stand",
    ("views/*", "expressions"): "prose is resolved to strings before a page sees it",
    ("views/*", "rules"): "the working sheet prints a rule step by step",
    ("publish/*", "spec"): "publishing starts from a folder and the words in it",
}

# The standard library that a pure calculation may use: nothing that reaches a file, a clock, chance or the network.
PURE = {"__future__", "abc", "bisect", "cmath", "collections", "dataclasses", "enum", "fractions", "functools", "heapq",
        "itertools", "math", "operator", "statistics", "typing"}

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "dossier", "themes", "content", "tests", "site"}
VAGUE = {"utils", "util", "helpers", "helper", "common", "manager", "misc", "tools"}
HEAVY = {"ezdxf", "scipy", "weasyprint", "matplotlib", "jinja2", "rich", "trimesh", "markdown", "nh3", "fontTools",
         "astropy"}


@dataclass(frozen=True)
class Import:
    """One import: the file, its line, and what it names (``numpy``, or a layer such as ``calc``)."""

    file: str
    line: int
    layer: str
    outside: str
    inside: str


def _modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def _imports() -> Iterator[Import]:
    for path in _modules():
        file = path.relative_to(PACKAGE).as_posix()
        layer = file.split("/")[0].removesuffix(".py")
        for node in ast.walk(ast.parse(path.read_text())):
            for name in _named(node):
                top, _, rest = name.partition(".")
                inside = rest.split(".")[0] if top == "dossier" else ""
                yield Import(file, getattr(node, "lineno", 0), layer, "" if top == "dossier" else top, inside)


def _named(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        assert node.level == 0, f"line {node.lineno}: imports are absolute"
        module = node.module or ""
        return [f"dossier.{alias.name}" for alias in node.names] if module == "dossier" else [module]
    return []


def _excused(found: Import) -> tuple[str, str] | None:
    what = found.inside or found.outside
    return next((key for key in EXCEPTIONS if fnmatch.fnmatch(found.file, key[0]) and key[1] == what), None)


def _strays() -> Iterator[tuple[Import, tuple[str, str] | None]]:
    """Imports outside the table, each with its exception if it has one."""
    for found in _imports():
        if found.layer == "__init__" or found.inside in (found.layer, "__version__"):
            continue
        layers, packages = MAY_USE[found.layer]
        library = PURE if found.layer == "calc" else sys.stdlib_module_names
        if found.inside not in layers and found.outside not in packages | library:
            yield found, _excused(found)


def _called(path: Path) -> set[str]:
    """The plain names that a file calls."""
    return {node.func.id for node in ast.walk(ast.parse(path.read_text()))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}


def test_every_import_keeps_to_the_table() -> None:
    broken = [f"dossier/{found.file}:{found.line}: {found.layer} may not use {found.inside or found.outside}"
              for found, excuse in _strays() if excuse is None]
    assert not broken, "\n".join(broken)


def test_no_exception_has_outlived_its_use() -> None:
    used = {excuse for _, excuse in _strays()}
    assert not set(EXCEPTIONS) - used


def test_only_the_packet_imports_weasyprint() -> None:
    importers = {found.file for found in _imports() if found.outside == "weasyprint"}
    assert importers <= {"publish/packet.py"}


def test_a_calculation_reads_and_writes_nothing() -> None:
    for path in sorted((PACKAGE / "calc").rglob("*.py")):
        assert not _called(path) & {"open", "print", "input", "eval", "exec"}, path


def test_only_the_door_prints() -> None:
    assert not [path for path in _modules() if path.name != "cli.py" and "print" in _called(path)]


def test_the_door_opens_without_heavy_packages() -> None:
    """``dossier check`` has to answer at once, so nothing it stands on may load these before they are used."""
    code = ("import sys; import dossier.cli, dossier.design, dossier.spec.load, dossier.views.terminal; "
            "print(*sorted(set(name.split('.')[0] for name in sys.modules)))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PROJECT)
    assert not HEAVY & set(done.stdout.split())


@pytest.mark.parametrize("folder", ["dossier", "tests", "themes"])
def test_no_file_is_too_long(folder: str) -> None:
    kinds = {".py", ".j2", ".html", ".css", ".js"}
    found = [path for path in (PROJECT / folder).rglob("*") if path.suffix in kinds and "__pycache__" not in path.parts]
    long = {str(path.relative_to(PROJECT)): lines for path in found
            if (lines := len(path.read_text().splitlines())) > 400}
    assert found
    assert not long, "split by subject"


def test_every_module_is_named_for_its_subject() -> None:
    assert not {path.stem for path in _modules()} & VAGUE
    assert not {path.name for path in PACKAGE.rglob("*") if path.is_dir()} & VAGUE


def test_the_top_level_is_fixed() -> None:
    ignored = [line.strip("/") for line in (PROJECT / ".gitignore").read_text().splitlines()]
    found = {path.name for path in PROJECT.iterdir() if not path.name.startswith(".")}
    assert {name for name in found if not any(fnmatch.fnmatch(name, line) for line in ignored)} == TOP_LEVEL
