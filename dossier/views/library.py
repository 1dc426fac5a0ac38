"""The index of several builds: what each is, what it costs and asks of its maker, what it shows; side by side.

What the index says of a build is plain data (``build_line``), which is kept with what was published, so that a build
that has not changed need not be worked out for the index either.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from dossier.design import Design
from dossier.design.difficulty import BY_HAND, MACHINES, SMALL_MACHINES, Difficulty, difficulty
from dossier.drawings import general_arrangement
from dossier.drawings.palette import SCREEN
from dossier.notation import duration, show
from dossier.spec.defaults import slug
from dossier.views.markup import Html, text
from dossier.views.overview import key_figures
from dossier.views.results import judged, verdict
from dossier.views.site import css_string
from dossier.views.spoken import Spoken

TITLE = "Telescope plans"
_LEVELS = {0: "not said", BY_HAND: "hand tools", SMALL_MACHINES: "hand tools and small machines",
           MACHINES: "machines that need training"}
_MOST_TOOLS = 4
_PRINTER = "printing in plastic"


@dataclass(frozen=True, slots=True)
class LibraryPage:
    """The head of the index."""

    lang: str
    title: str
    description: str
    print_line: str
    working_number: str


@dataclass(frozen=True, slots=True)
class Figure:
    """A label, a number, and where it comes from."""

    label: str
    number: Html
    href: str


@dataclass(frozen=True, slots=True)
class BuildLine:
    """One build of the library. The last six are what the index filters and sorts by: plain numbers or nothing."""

    key: str
    href: str
    name: str
    summary: str
    picture: Html
    figures: tuple[Figure, ...]
    verdict: str
    missed: str
    revision: str
    date: str
    asks: str
    skills: str
    shows: tuple[str, ...]
    aperture_mm: str
    mass_kg: str
    cost: str
    currency: str
    level: str
    printer: str


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the side-by-side table: what it tells, and for each build what it is there."""

    label: str
    cells: tuple[Html, ...]


@dataclass(frozen=True, slots=True)
class LibraryView:
    """The index of a library. ``levels`` are the kinds of tools that its builds ask for; ``currency`` is empty where
    prices are in several and cannot be compared."""

    page: LibraryPage
    builds: tuple[BuildLine, ...]
    rows: tuple[Row, ...]
    levels: tuple[tuple[str, str], ...]
    currency: str


def build_line(design: Design) -> dict[str, Any]:
    """What an index says of this design, as plain data."""
    about, results = design.build.about, design.results
    asked = difficulty(design)
    picture = general_arrangement.draw(design, form="wide", palette=SCREEN, dimensions=False,
                                       name=f"picture-{slug(design.loaded.name)}")
    mass = results.get("parts.mass")
    return {
        "lang": design.build.readers.language, "folder": design.loaded.name, "name": about.name,
        "summary": Spoken(design).of_spec_plain(about.summary, "about.summary"), "picture": picture,
        "figures": [[each.label, each.number, each.href] for each in key_figures(design)],
        "verdict": verdict(judged(design), design), "missed": len(design.misses),
        "revision": design.revision, "date": design.date, "asks": _asks(asked), "skills": ", ".join(asked.skills),
        "shows": list(_shows(design)), "aperture_mm": design.build.primary.aperture,
        "mass_kg": mass.number if mass else None,
        "cost": results["parts.cost"].number if "parts.cost" in results else None,
        "currency": design.build.readers.currency or "", "level": asked.level, "printer": _PRINTER in asked.skills,
    }


def library_view(lines: Sequence[Mapping[str, Any]]) -> LibraryView:
    """The index of these builds, by name."""
    builds = tuple(sorted(map(_build, lines), key=lambda build: build.name.casefold()))
    page = LibraryPage(lines[0]["lang"], TITLE, ", ".join(build.name for build in builds), css_string(TITLE), "")
    levels = sorted({int(build.level) for build in builds})
    currencies = {build.currency for build in builds if build.cost}
    return LibraryView(page, builds, tuple(_rows(builds)), tuple((str(each), _LEVELS[each]) for each in levels),
                       currencies.pop() if len(currencies) == 1 else "")


def _build(line: Mapping[str, Any]) -> BuildLine:
    folder = quote(line["folder"])
    figures = tuple(Figure(label, Html(number), f"{folder}/{href}") for label, number, href in line["figures"])
    plain = {name: "" if line[name] is None else f"{line[name]:.6g}" for name in ("aperture_mm", "mass_kg", "cost")}
    return BuildLine(
        key=slug(line["folder"]), href=f"{folder}/index.html", name=line["name"], summary=line["summary"],
        picture=Html(line["picture"]), figures=figures, verdict=line["verdict"], missed=str(line["missed"]),
        revision=line["revision"], date=line["date"], asks=line["asks"], skills=line["skills"],
        shows=tuple(line["shows"]), currency=line["currency"], level=str(line["level"]),
        printer="yes" if line["printer"] else "no", **plain)


def _rows(builds: Sequence[BuildLine]) -> Iterator[Row]:
    labels = dict.fromkeys(figure.label for build in builds for figure in build.figures)
    for label in labels:
        found = [{figure.label: figure.number for figure in build.figures}.get(label, Html("–")) for build in builds]
        yield Row(label, tuple(found))
    shows = ["; ".join(build.shows) for build in builds]
    for label, said in (("Shows", shows), ("Asks for", [build.asks for build in builds]),
                        ("Skills", [build.skills for build in builds]),
                        ("Limits missed", [build.missed for build in builds]),
                        ("Revision", [f"{build.revision}, {build.date}" for build in builds])):
        yield Row(label, tuple(text(each or "–") for each in said))


def _asks(asked: Difficulty) -> str:
    """What it takes to build: the tools that ask most, the hours, the hands."""
    if not asked.tools:
        return ""
    most = asked.most[:_MOST_TOOLS]
    named = ", ".join(tool.partition(",")[0] for tool in dict.fromkeys(most))
    more = " and others" if len(asked.most) > _MOST_TOOLS else ""
    told = [f"{_LEVELS[asked.level]}{f': {named}{more}' if named else ' only'}"]
    if asked.minutes is not None:
        told.append(f"{duration(asked.minutes)} of work")
    if asked.people > 1:
        told.append(f"{asked.people} people at some steps")
    return "; ".join(told)


def _shows(design: Design) -> Iterator[str]:
    """What it shows, from its own results: how faint, how fine, how large, how wide."""
    readers, results = design.build.readers, design.results

    def shown(name: str) -> str:
        result = results[name]
        return show(result.number, result.unit, result_id=name, readers=readers).plain

    yield f"stars down to {shown('optics.limiting_magnitude')}"
    yield f"double stars from {shown('optics.rayleigh_limit')}"
    powers = sorted((result.number, name) for name, result in results.items()
                    if name.startswith("eyepiece.") and name.endswith(".magnification"))
    if powers:
        least, most = shown(powers[0][1]), shown(powers[-1][1])
        yield f"{least} times" if least == most else f"{least} to {most} times"
    fields = [(result.number, name) for name, result in results.items()
              if name.startswith("eyepiece.") and name.endswith(".true_field")]
    if fields:
        yield f"a field of up to {shown(max(fields)[1])}"
