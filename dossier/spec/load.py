"""A build folder read and checked: what its author said, and where."""

from __future__ import annotations

import copy
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec import keys, messages, nested, text_file, yaml_tree
from dossier.spec.defaults import slug
from dossier.spec.deferred import OPENS, Deferred
from dossier.spec.examine import examine
from dossier.spec.measured import Overlay
from dossier.spec.messages import Spot
from dossier.spec.model import Build

__all__ = ["BUILD_FILE", "Build", "Deferred", "Loaded", "Spot", "load_build", "slug", "with_values"]

BUILD_FILE = "build.yaml"


@dataclass(frozen=True)
class Loaded:
    """A build as its author said it.

    ``file`` is the spec as its user typed it. ``spots`` has a Spot for every key that is in the spec or in the
    measured file laid over it. ``expressions`` holds, by key, every text with an expression in it, braces included: of
    a value that is Deferred, or of a text that stays a text. ``sha256`` is of the spec file's bytes. ``raw`` holds the
    plain values; it must not be changed.
    """

    folder: Path
    file: Path
    build: Build
    spots: Mapping[str, Spot]
    expressions: Mapping[str, str]
    sha256: str
    raw: dict[str, Any]

    @property
    def name(self) -> str:
        """The folder's own name, under which the build is published, also where it was typed as a dot."""
        return self.folder.resolve().name

    def problem(self, key: str, message: str) -> Problem:
        """A Problem at the line of a key, for faults that only the working shows."""
        return messages.problem(key, message, self.spots, text_file.shown(self.file))


def load_build(path: Path, measured: Path | None = None) -> Loaded:
    """Read and check a build folder or its spec, with a measured file laid over it.

    Raises errors.Unusable with every problem.
    """
    file = _spec_file(Path(path))
    text, raw = text_file.read(file)
    name = text_file.shown(file)
    tree = yaml_tree.read(text, name)
    spots = {key: Spot(name, place.line, place.said) for key, place in tree.places.items()}
    found = list(tree.problems)
    if "bench" in tree.values:
        found.append(messages.problem("bench", "belongs in a measured file, not in the spec", spots, name))
        tree.values.pop("bench")
    if measured is not None:
        found += _lay_measured(Path(measured), tree.values, spots)
    build, more = examine(tree.values, spots, name)
    if build is None or found or more:
        raise Unusable([*found, *more])
    return _loaded(file, build, spots, hashlib.sha256(raw).hexdigest(), tree.values)


def with_values(loaded: Loaded, values: Mapping[str, Any]) -> Loaded:
    """The same build with other values put in, by key path, each as an author would write it; checked again.

    Raises errors.Unusable where they do not fit.
    """
    raw = copy.deepcopy(loaded.raw)
    found: list[Problem] = []
    for key, value in values.items():
        try:
            nested.put(raw, keys.nesting(key), value)
        except (KeyError, IndexError):
            found.append(loaded.problem(key, "is no place in this spec where a value can be put"))
    build, more = examine(raw, loaded.spots, text_file.shown(loaded.file))
    if build is None or found or more:
        raise Unusable([*found, *more])
    return _loaded(loaded.file, build, loaded.spots, loaded.sha256, raw)


def _spec_file(path: Path) -> Path:
    """The spec's path. Raises Unusable where there is none."""
    try:
        if not path.is_dir():
            return path
        file = path / BUILD_FILE
        if file.exists():
            return file
        beside = [entry.name for entry in path.iterdir()]
    except (OSError, ValueError) as error:
        raise Unusable([Problem(text_file.shown(path), 0, "", f"cannot be read: {error}")]) from None
    near = did_you_mean(BUILD_FILE, beside)
    raise Unusable([Problem(text_file.shown(path), 0, "", f"has no {BUILD_FILE}{near}; `dossier begin` writes one")])


def _lay_measured(path: Path, values: dict[str, Any], spots: dict[str, Spot]) -> list[Problem]:
    text, _ = text_file.read(path)
    name = text_file.shown(path)
    tree = yaml_tree.read(text, name, empty_values=True)
    found = {key: Spot(name, place.line, place.said, measured=True) for key, place in tree.places.items()}
    overlay = Overlay(values, spots, found, name)
    overlay.lay(tree.values)
    return [*tree.problems, *overlay.problems]


def _loaded(file: Path, build: Build, spots: Mapping[str, Spot], sha256: str, raw: dict[str, Any]) -> Loaded:
    expressions = {key: text for key, text in nested.texts(raw) if OPENS in text}
    return Loaded(file.parent, file, build, spots, expressions, sha256, raw)
