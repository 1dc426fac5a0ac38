"""Known issues: the notes of a build, on a sheet of their own and beside the parts, steps and drawings they concern."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dossier.design import Design
from dossier.spec import letters, notes
from dossier.spec.issued_lines import part_names
from dossier.spec.model_about import Note
from dossier.spec.notes import Status
from dossier.views.links import PAST, issue_anchor, issue_on, part_of, step_page
from dossier.views.markup import Html
from dossier.views.markup import text as as_html
from dossier.views.prose import Said
from dossier.views.site import Page, Sheet
from dossier.views.spoken import Spoken


@dataclass(frozen=True, slots=True)
class PartLink:
    """A part that a note concerns; without an address where this revision has no such part."""

    ref: str
    name: Html
    href: str


@dataclass(frozen=True, slots=True)
class IssueView:
    """A note. ``href`` leads to it, ``anchor`` is its name on its sheet; ``name`` is its title without numbers to point
    at, for links. ``concerns`` says in words which revisions have it, ``here`` what it means to the revision that the
    page is of. What is ``planned`` is said while it is open."""

    id: str
    href: str
    anchor: str
    name: str
    title: Html
    text: Html
    workaround: Html
    planned: Html
    as_built: Html
    status: Status
    here: str
    concerns: str
    parts: tuple[PartLink, ...]
    steps: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class IssueGroup:
    """Notes that stand alike in this revision, under a heading."""

    key: str
    heading: str
    issues: tuple[IssueView, ...]


@dataclass(frozen=True, slots=True)
class KnownIssuesView:
    """The sheet of known issues. ``nothing`` is said where this revision has none that is open; ``since`` are those
    that were found in an earlier revision after it was issued, each an address and a title."""

    page: Page
    intro: tuple[Said, ...]
    nothing: str
    groups: tuple[IssueGroup, ...]
    since: tuple[tuple[str, str], ...] = ()


_HEADINGS: Sequence[tuple[Status, str]] = (
    ("open", "What is wrong with this revision?"), ("closed", "What has been put right?"),
    ("elsewhere", "What concerns other revisions only?"))


def known_issues_view(design: Design, page: Page, intro: tuple[Said, ...], spoken: Spoken, up: str = "",
                      since: tuple[tuple[str, str], ...] = ()) -> KnownIssuesView:
    """Every note of a design, the open ones first. ``up`` leads to the build's root; ``since`` is as in the view."""
    found = [_as_it_was(design, note, view, up)
             for note, view in zip(design.build.notes, issues(design, spoken), strict=True)]
    groups = tuple(IssueGroup(status, heading, chosen) for status, heading in _HEADINGS
                   if (chosen := tuple(each for each in found if each.status == status)))
    return KnownIssuesView(page, intro, _nothing(design, found, up, since), groups, since)


def _nothing(design: Design, found: Sequence[IssueView], up: str, since: tuple[tuple[str, str], ...]) -> str:
    if any(each.status == "open" for each in found):
        return ""
    if since:
        return f"None was known of {_named(design.revision)} when it was issued."
    return f"None is known of {_named(design.revision)}."


def _as_it_was(design: Design, note: Note, view: IssueView, up: str) -> IssueView:
    """A closed note with the parts of the last revision that had the flaw, as they were called there: today's parts may
    be the cure."""
    if view.status != "closed":
        return view
    had = [each for each in design.issued if (each.letter in note.touches if note.touches else
                                              letters.rank(each.letter) < letters.rank(note.closed_by or ""))]
    if not had:
        return view
    names = part_names(had[-1])
    there = f"{up}{PAST}/{had[-1].letter}/"
    return replace(view, parts=tuple(PartLink(ref, as_html(names[ref]), f"{there}{part_of(ref)}")
                                     if ref in names else PartLink(ref, Html(""), "") for ref in note.parts))


def issues(design: Design, spoken: Spoken) -> tuple[IssueView, ...]:
    """Every note of a design, in its author's order."""
    return tuple(_issue(design, note, f"notes[{place}]", spoken) for place, note in enumerate(design.build.notes))


def issues_of_part(design: Design, ref: str, spoken: Spoken) -> tuple[IssueView, ...]:
    """The open notes that concern a part, to stand beside it."""
    return _open(issues(design, spoken), {note.id for note in notes.of_part(design.build.notes, ref)})


def issues_of_step(design: Design, slug: str, spoken: Spoken) -> tuple[IssueView, ...]:
    """The open notes that concern a step, to stand in it."""
    return _open(issues(design, spoken), {note.id for note in notes.of_step(design.build.notes, slug)})


def issues_of_drawing(design: Design, spoken: Spoken, refs: Sequence[str] | None = None) -> tuple[IssueView, ...]:
    """The open notes to stand below a drawing: those of the parts that it names, or, of a drawing of the whole
    telescope, all that concern a part or say that the author's own differs."""
    shown = {note.id for note in design.build.notes
             if (note.parts or note.as_built if refs is None else {*note.parts} & {*refs})}
    return _open(issues(design, spoken), shown)


def _open(found: Sequence[IssueView], ids: set[str]) -> tuple[IssueView, ...]:
    return tuple(each for each in found if each.id in ids and each.status == "open")


def _issue(design: Design, note: Note, key: str, spoken: Spoken) -> IssueView:
    places = {part.ref: place for place, part in enumerate(design.build.parts)}
    named = tuple(PartLink(ref, spoken.of_spec(design.build.parts[places[ref]].name, f"parts[{places[ref]}].name"),
                           part_of(ref)) if ref in places else PartLink(ref, Html(""), "") for ref in note.parts)
    steps = tuple(Sheet(step_page(step.slug), step.title, str(step.number)) for step in design.steps
                  if notes.of_step([note], step.slug))
    status = notes.status(note, design.revision)
    text, workaround, planned, as_built = (spoken.of_spec(getattr(note, what), f"{key}.{what}")
                                           for what in ("text", "workaround", "planned", "as_built"))
    return IssueView(
        note.id, issue_on(note.id), issue_anchor(note.id), spoken.of_spec_plain(note.title, f"{key}.title"),
        spoken.of_spec(note.title, f"{key}.title"), text, workaround,
        planned if status == "open" else Html(""), as_built, status, _here(design.revision, status, note),
        _concerns(note), named, steps)


def _here(revision: str, status: Status, note: Note) -> str:
    where = _named(revision)
    if status == "open":
        return f"open in {where}"
    if status == "closed":
        mended = note.closed_by == notes.target(revision) and not letters.is_letter(revision)
        return f"will be closed by revision {note.closed_by}" if mended else f"closed by revision {note.closed_by}"
    return f"not in {where}"


def _concerns(note: Note) -> str:
    """Which revisions have the flaw: those named and, until it is closed, those that follow."""
    touched = sorted(note.touches, key=letters.rank)
    if not touched:
        return f"Every revision before {note.closed_by}" if note.closed_by else "Every revision"
    had = f"Revision{'s' if len(touched) > 1 else ''} {_listed(touched)}"
    return had if note.closed_by else f"{had}, and those that follow"


def _named(revision: str) -> str:
    if letters.is_letter(revision):
        return f"revision {revision}"
    after = revision.removeprefix("draft").removeprefix(" after ")
    return f"the draft after revision {after}" if after else "this draft"


def _listed(words: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""
