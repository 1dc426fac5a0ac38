"""The order of the working: every result, by which formula, from what."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.design import (
    bench,
    cell,
    collimation,
    cutting,
    eyepieces,
    first_order,
    frame,
    mount,
    parts,
    prints,
    stiffness,
    stray,
    threads,
    traced,
)
from dossier.design.worksheet import Work
from dossier.spec.load import Loaded


def plan_for(loaded: Loaded) -> Mapping[str, Work]:
    """Every result that a build of this kind may have, in the order in which pages tell them."""
    build = loaded.build
    chapters = (first_order, traced, stray, collimation, eyepieces, bench, cell, frame, stiffness, threads, prints,
                parts, mount, cutting)
    return {name: work for chapter in chapters for name, work in chapter.plan(build).items()}
