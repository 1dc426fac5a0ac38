"""The sheet of what would be if: the spec's studies, and what builders drawn at random reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dossier.charts import builders as crowd
from dossier.charts import studies as plots
from dossier.design import Design
from dossier.design.asides.builders import met, spread
from dossier.design.explore import Axis, Drawn, Point, Study, builders_of, studies_of
from dossier.drawings.palette import SCREEN
from dossier.notation import show_result
from dossier.notation.units import unit_text
from dossier.spec.defaults import slug
from dossier.views.align import aligned
from dossier.views.asides import AsideTable, aside_table
from dossier.views.exploring import (
    centre_words,
    drawn_list,
    goal_words,
    setting_words,
    study_list,
    tolerance_words,
    unchanging,
)
from dossier.views.figures import FORMS, Figure
from dossier.views.goals import key_words, outcome_words, sentence
from dossier.views.lists import List
from dossier.views.markup import Html
from dossier.views.prose import Said
from dossier.views.shares import idle_keys, share_words, worst_of
from dossier.views.site import Page
from dossier.views.tables import Column
from dossier.views.workings import Cited, cited
from dossier.working import Result

HREF = "choices.html"
BUILDERS = f"{HREF}#builders"
_BUILDERS = "lists/builders.csv"
VARIANCE = "saltelli-2008"
# A longer table is folded away below its plots.
_LONG = 16


@dataclass(frozen=True, slots=True)
class Cell:
    """A number of a study: its padding, whether its limit is met, close or missed (or nothing asked), and by how
    much in words."""

    text: str
    pad: str
    outcome: str
    words: str


@dataclass(frozen=True, slots=True)
class Row:
    """A point: its settings in words, a cell for each result; or why there is no such build. ``planned`` is the point
    that is the plan itself."""

    settings: tuple[str, ...]
    cells: tuple[Cell, ...]
    unusable: str
    planned: bool


@dataclass(frozen=True, slots=True)
class StudyView:
    """A study: its question, why it is asked, what was done in words, its rows, its plots, its file."""

    anchor: str
    heading: str
    because: str
    words: tuple[str, ...]
    axes: tuple[Column, ...]
    columns: tuple[Column, ...]
    column_count: str
    rows: tuple[Row, ...]
    span: str
    is_long: bool
    figures: tuple[Figure, ...]
    href: str


@dataclass(frozen=True, slots=True)
class BuildersView:
    """The builders: what was drawn, what share meets each limit, how the results spread, and what spoils most."""

    words: tuple[str, ...]
    tolerances: tuple[str, ...]
    tables: tuple[AsideTable, ...]
    spoilers: tuple[tuple[str, str], ...]
    measure: Cited
    figures: tuple[Figure, ...]
    href: str


@dataclass(frozen=True, slots=True)
class ChoicesView:
    """The whole sheet."""

    page: Page
    intro: tuple[Said, ...]
    studies: tuple[StudyView, ...]
    builders: BuildersView | None


def has_choices(design: Design) -> bool:
    """Whether the spec asks what would be if."""
    return bool(design.build.explore or design.build.tolerances)


def choices_view(design: Design, page: Page, intro: tuple[Said, ...]) -> ChoicesView:
    """The sheet of the studies and of the builders."""
    drawn = builders_of(design)
    return ChoicesView(page, intro, tuple(_study(each, at, design) for at, each in enumerate(studies_of(design))),
                       _builders(drawn, design) if drawn else None)


def choice_lists(design: Design) -> tuple[List, ...]:
    """The same as files."""
    currency = design.build.readers.currency
    found = [study_list(each, _file(each, at), currency) for at, each in enumerate(studies_of(design))]
    drawn = builders_of(design)
    return (*found, drawn_list(drawn, _BUILDERS, currency)) if drawn else tuple(found)


def builder_tables(design: Design) -> tuple[AsideTable, ...]:
    """The tables of the builders, which lean on sources as results do."""
    drawn = builders_of(design)
    return _tables(drawn, design) if drawn else ()


def _tables(drawn: Drawn, design: Design) -> tuple[AsideTable, ...]:
    return tuple(aside_table(aside, design) for aside in (met(drawn), spread(drawn)) if aside)


def _file(study: Study, at: int) -> str:
    return f"lists/what-if-{at + 1}-{slug(study.name)[:40].strip('-')}.csv".replace("-.csv", ".csv")


def _study(study: Study, at: int, design: Design) -> StudyView:
    readers, same = design.build.readers, unchanging(study)
    shown = [name for name in study.shown if name not in same]
    columns = tuple(_head(name, study, design) for name in shown)
    anchor = f"what-if-{at + 1}"
    figures = tuple(_plotted(study, name, f"{anchor}-{slug(name)}", design) for name in plots.pictured(study))
    return StudyView(
        anchor, study.name, sentence(study.because), tuple(_words(study, shown, design)),
        tuple(Column(_axis_title(axis), unit_text(axis.unit, readers.currency), not axis.part) for axis in study.axes),
        columns, str(len(columns)), tuple(_rows(study, shown, design)), str(len(study.axes) + len(columns)),
        len(study.points) > _LONG,
        figures, _file(study, at))


def _head(name: str, study: Study, design: Design) -> Column:
    known = next((each.results[name] for each in study.points if name in each.results), study.planned.get(name))
    return Column(known.title, show_result(known, design.build.readers).unit) if known else Column(name)


def _axis_title(axis: Axis) -> str:
    said = (axis.part and f"{axis.key}, {axis.part}") or key_words(axis.key).removeprefix("the ")
    return said[:1].upper() + said[1:]


def _rows(study: Study, shown: Sequence[str], design: Design) -> Iterator[Row]:
    readers = design.build.readers
    columns = [_cells([point.results.get(name) for point in study.points], design) for name in shown]
    for at, point in enumerate(study.points):
        settings = tuple(setting_words(setting, axis, readers)
                         for setting, axis in zip(point.settings, study.axes, strict=True))
        yield Row(settings, tuple(column[at] for column in columns), point.unusable, _is_planned(point, study))


def _is_planned(point: Point, study: Study) -> bool:
    return all(not setting.values if axis.part else setting.number == axis.planned
               for setting, axis in zip(point.settings, study.axes, strict=True))


def _cells(results: Sequence[Result | None], design: Design) -> list[Cell]:
    places = aligned([show_result(each, design.build.readers).number if each else "" for each in results])
    return [Cell(place.number or "–", place.pad, each.goal.outcome(each.number) if each and each.goal else "",
                 outcome_words(each) if each and each.goal and each.goal.outcome(each.number) != "meets" else "")
            for each, place in zip(results, places, strict=True)]


def _words(study: Study, shown: Sequence[str], design: Design) -> Iterator[str]:
    readers, count = design.build.readers, len(study.points)
    lost = sum(bool(point.unusable) for point in study.points)
    judged = [point for point in study.points if any(result.goal for result in point.results.values())]
    good = [point for point in judged if all(result.goal is None or result.goal.outcome(result.number) != "misses"
                                             for result in point.results.values())]
    if judged:
        which = "limit shown is" if sum(bool(each.goal) for each in judged[0].results.values()) == 1 else (
            "limits shown are all")
        yield f"At {len(good)} of {count} points the {which} met."
    if lost:
        yield f"{lost} of the {count} points cannot be built; the table says why."
    for name in study.shown:
        result = study.planned.get(name)
        if result and result.goal and name in shown:
            yield f"{result.title}: {goal_words(result.goal, result, readers)}; as planned {_judged(result, design)}."
    for result in unchanging(study).values():
        yield f"{result.title} is the same at every point: {_judged(result, design)}."


def _judged(result: Result, design: Design) -> str:
    outcome = f" ({outcome_words(result)})" if result.goal else ""
    return show_result(result, design.build.readers).plain + outcome


def _plotted(study: Study, name: str, key: str, design: Design) -> Figure:
    wide, upright = (plots.plot(study, name, key, design.build.readers, SCREEN, form) for form in FORMS)
    return Figure(key, wide.caption, Html(wide.linked), Html(upright.linked), "")


def _builders(drawn: Drawn, design: Design) -> BuildersView:
    readers = design.build.readers
    both = [crowd.spread(drawn, readers, SCREEN, form) for form in FORMS]
    figures = tuple(Figure("builders", f"How far builders’ telescopes lie from each limit. {wide.caption}",
                           Html(wide.linked), Html(upright.linked), "")
                    for wide, upright in [both] if wide and upright)
    tolerances = tuple(f"{_key(each.key)}: {centre_words(each, centre, readers)} ± {tolerance_words(each, readers)}"
                       for each, centre in zip(drawn.tolerances, drawn.centres, strict=True))
    spoilers = tuple((share.planned.title, worst_of(share, _key)) for share in drawn.shares)
    return BuildersView(tuple(_crowd_words(drawn, design)), tolerances, _tables(drawn, design), spoilers,
                        cited(VARIANCE), figures, _BUILDERS)


def _key(key: str) -> str:
    said = key_words(key).removeprefix("the ")
    return said[:1].upper() + said[1:]


def _crowd_words(drawn: Drawn, design: Design) -> Iterator[str]:
    yield (f"{drawn.count} builders were drawn at random (seed {drawn.seed}), each value by itself, as near to the "
           "plan as the tolerances say. All saw and drill to the drawing; what lies off in the focal length or in the "
           "poles, the drawtube makes up for.")
    if any(share.met is not None for share in drawn.shares):
        yield f"Every limit that the tolerances touch is met by {share_words(drawn)} of them."
    for reason, count in drawn.unusable.items():
        yield f"{count} of them cannot build it and count as missing every limit: {reason}."
    if drawn.untouched:
        named = "; ".join(f"{result.title}, {_judged(result, design)}" for result in drawn.untouched)
        yield f"No tolerance touches: {named}."
    if idle := idle_keys(drawn):
        yield f"None of these limits is moved by: {'; '.join(_key(key) for key in idle)}."
