"""The revisions of a build: a list of them, and for each step what changed and what leads from one to the next."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from dossier.design import Design
from dossier.drawings import overlay
from dossier.drawings.palette import SCREEN
from dossier.notation import Readers, duration, show
from dossier.revisions.difference import Difference, ResultChange, is_day_of_price
from dossier.revisions.materialise import Drift
from dossier.revisions.upgrade import Kit
from dossier.spec import letters
from dossier.spec.issued import Issued
from dossier.spec.issued_lines import accepted_misses
from dossier.views import comparison
from dossier.views.figures import Figure
from dossier.views.links import PAST
from dossier.views.markup import Html, text
from dossier.views.prose import Said
from dossier.views.results import label_of
from dossier.views.site import Notice, Page, Pointer, css_string

FEED, LATEST = "revisions.atom", f"{PAST}/latest/index.html"
Label = Callable[[ResultChange], str]
_KINDS = {"added": "added", "removed": "no longer there", "changed": "changed"}


@dataclass(frozen=True, slots=True)
class Place:
    """Where a site stands among the revisions of its build: ``issued`` are all of them, oldest first; ``up`` leads from
    its pages to those of the build's root, and is empty there. ``since`` are the flaws that were found in this revision
    after it was issued: where each is told, and its title."""

    issued: tuple[Issued, ...] = ()
    up: str = ""
    since: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A revision in the list: its permanent address, the page that tells what changed with it, and the limits that it
    was issued without meeting."""

    letter: str
    date: str
    note: str
    href: str
    change: str
    since: str
    latest: bool
    current: bool
    missed: str


@dataclass(frozen=True, slots=True)
class HistoryView:
    """The list of revisions, newest first. ``draft`` says in words what has changed since, with the page that tells."""

    page: Page
    intro: tuple[Said, ...]
    lines: tuple[Line, ...]
    feed: str
    draft: str
    draft_href: str


@dataclass(frozen=True, slots=True)
class ChangeTable:
    """Rows under a heading. Of a list of one column ``heads`` is empty."""

    key: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Html, ...], ...]


@dataclass(frozen=True, slots=True)
class ChangeView:
    """What changed in one step of the history, and the kit that leads from the older telescope to the newer."""

    page: Page
    lede: tuple[str, ...]
    note: str
    figure: Figure
    changes: tuple[ChangeTable, ...]
    kit_words: tuple[str, ...]
    kit: tuple[ChangeTable, ...]


def permanent(letter: str, up: str = "") -> str:
    """The address at which a revision stays readable."""
    return f"{up}{PAST}/{letter}/index.html"


def web_address(design: Design) -> str:
    """Where the pages of this revision are on the web: of a draft those of the latest; empty where the build says no
    address."""
    home = home_address(design)
    return f"{home}{PAST}/{design.revision}/" if home and letters.is_letter(design.revision) else home


def home_address(design: Design) -> str:
    """Where the build's pages are on the web, with a slash at the end; empty where nobody says."""
    home = design.build.about.site or ""
    return home if home.endswith("/") or not home else f"{home}/"


def change_page(old: str, new: str) -> str:
    """The address of the page that tells what changed."""
    return f"change-{old}-{new if letters.is_letter(new) else 'draft'}.html"


def change_title(old: str, new: str) -> str:
    """What that page is called."""
    return f"From {old} to {new}" if letters.is_letter(new) else f"Since {old}"


def steps_of(design: Design) -> tuple[tuple[str, str], ...]:
    """The steps of the history as pairs of names, oldest first; the last may lead to the draft."""
    names = [each.letter for each in design.issued]
    if names and design.revision != names[-1]:
        names.append(design.revision)
    return tuple(pairwise(names))


def notice(design: Design, place: Place) -> Notice | None:
    """How this revision stands to the last one issued; None where none was."""
    if not place.issued:
        return None
    last, up = place.issued[-1], place.up
    if not up:
        if design.revision == last.letter:
            return Notice(f"Revision {last.letter}, the latest. It stays readable at", permanent(last.letter),
                          f"{PAST}/{last.letter}/")
        return Notice("A draft that has not been issued. The latest issued revision is", permanent(last.letter),
                      f"{last.letter} of {last.date}")
    more = (Pointer("Found in it since it was issued:", place.since),) if place.since else ()
    if design.revision == last.letter:
        return Notice(f"Revision {last.letter}, the latest that was issued. With it belong the packet and the list of "
                      "revisions", f"{up}index.html", "of this build", more)
    return Notice(f"Revision {design.revision} has been followed by others. The latest is",
                  permanent(last.letter, up), f"{last.letter} of {last.date}", (*more, _onward(design, place)))


def _onward(design: Design, place: Place) -> Pointer:
    """The pages that lead from an earlier revision to the latest."""
    letters_ = [each.letter for each in place.issued]
    steps = pairwise(letters_[letters_.index(design.revision):])
    return Pointer("What a telescope that was built to it needs:", tuple(
        (f"{place.up}{change_page(*step)}", change_title(*step)[:1].lower() + change_title(*step)[1:])
        for step in steps))


def history_view(design: Design, place: Place, page: Page, intro: tuple[Said, ...]) -> HistoryView:
    """The revisions that this design knows of. Changes are told on pages of the build's root."""
    known = list(place.issued)
    lines = tuple(_line(each, design, place) for each in reversed(known))
    is_draft = bool(known) and not letters.is_letter(design.revision)
    return HistoryView(
        page, intro, lines, f"{place.up}{FEED}",
        f"These pages are a draft after revision {known[-1].letter}, not issued yet." if is_draft else "",
        change_page(known[-1].letter, design.revision) if is_draft else "")


@dataclass(frozen=True, slots=True)
class LatestView:
    """The page at the address that always leads to the latest revision. ``page`` is its head."""

    page: Head
    words: str
    href: str


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a page that is no numbered sheet."""

    lang: str
    title: str
    description: str
    print_line: str
    working_number: str


def latest_view(design: Design, last: Issued) -> LatestView:
    """Where the latest revision is, seen from ``LATEST``."""
    name = design.build.about.name
    words = f"The latest revision of {name} is {last.letter} of {last.date}."
    head = Head(design.build.readers.language, f"{name}: the latest revision", words, css_string(name), "")
    return LatestView(head, words, f"../{last.letter}/index.html")


def _line(each: Issued, design: Design, place: Place) -> Line:
    change = f"{place.up}{change_page(each.previous, each.letter)}" if each.previous else ""
    return Line(each.letter, each.date, each.note, permanent(each.letter, place.up), change, each.previous,
                each is place.issued[-1], each.letter == design.revision,
                "; ".join(_lower(label) for label in accepted_misses(each)))


def change_view(page: Page, found: Difference, kit: Kit, old: Design, new: Design, note: str) -> ChangeView:
    """A step of the history as its page shows it."""
    readers = new.build.readers
    name = page.href.removesuffix(".html")
    figure = Figure(
        "overlay", f"{found.new.name} in full lines, {found.old.name} in light ones, at one scale, the mirrors’ "
        "vertices on one point. Where there is one line only, nothing has moved.",
        Html(overlay.draw(old, new, form="wide", palette=SCREEN, name=f"{name}-wide")),
        Html(overlay.draw(old, new, form="upright", palette=SCREEN, name=f"{name}-upright")), "")
    changes, needed = change_tables(found, kit, old, new)
    return ChangeView(page, tuple(_lede(found, readers, _label(old, new))), note, figure, changes,
                      tuple(kit_words(kit, found, readers)), needed)


def change_tables(found: Difference, kit: Kit, old: Design, new: Design,
                  ) -> tuple[tuple[ChangeTable, ...], tuple[ChangeTable, ...]]:
    """What changed in the plan, and what a telescope built before needs, as tables."""
    readers = new.build.readers
    return _tables(_changes(found, readers, _label(old, new))), _tables(_kit(kit, readers))


def _label(old: Design, new: Design) -> Label:
    """What a result is called with what it is of."""

    def label(change: ResultChange) -> str:
        of = new if change.id in new.results else old
        return label_of(of.results[change.id], of)

    return label


def _lede(found: Difference, readers: Readers, label: Label) -> Iterator[str]:
    """The change in a few sentences: goals first, then money and mass, then how much of the rest."""
    crossed = [change for change in found.results if change.crossed]
    better = [label(change) for change in crossed if change.old_outcome == "misses"]
    worse = [label(change) for change in crossed if change.new_outcome == "misses"]
    if better:
        yield f"No longer missed: {'; '.join(_lower(each) for each in better)}."
    if worse:
        yield f"Missed now: {'; '.join(_lower(each) for each in worse)}."
    for change in found.sums:
        old, new = (comparison.value_words(value, change, readers) for value in (change.old, change.new))
        yield f"{change.title}: {old} before, {new} now." if old != new else f"{change.title}: {new}, as before."
    if found.nothing:
        yield "Nothing has changed but the words that go with it."
    for side, drifted in ((found.old, found.old_drift), (found.new, found.new_drift)):
        if drifted:
            yield _drift_words(side.name, drifted)


def _drift_words(name: str, drifted: Sequence[Drift]) -> str:
    ids = ", ".join(each.result_id for each in drifted[:6]) + (" and others" if len(drifted) > 6 else "")
    return (f"Revision {name} is worked out here by a newer version of dossier than the one it was issued with, and "
            f"{len(drifted)} of its results come out otherwise than they were frozen: {ids}.")


def _upper(title: str) -> str:
    return f"{title[:1].upper()}{title[1:]}"


def _lower(title: str) -> str:
    return title if title[:2].isupper() else f"{title[:1].lower()}{title[1:]}"


Tables = Iterator[tuple[str, str, tuple[str, ...], Sequence[Sequence[str]]]]


def _tables(tables: Tables) -> tuple[ChangeTable, ...]:
    return tuple(ChangeTable(key, title, heads, tuple(tuple(text(cell) for cell in row) for row in rows))
                 for key, title, heads, rows in tables if rows)


def _changes(found: Difference, readers: Readers, label: Label) -> Tables:
    crossed = [change for change in found.results if change.old_outcome != change.new_outcome]
    others = [change for change in found.results if change not in crossed and change not in found.sums]
    yield ("goals", "Goals that came to something else", ("Result", found.old.name, found.new.name, "Goal"),
           [(label(change), comparison.value_words(change.old, change, readers),
             comparison.value_words(change.new, change, readers), comparison.outcome_change(change))
            for change in crossed])
    yield ("parts", "Parts", ("Part", "Change", f"Cost in {found.old.name}", f"Cost in {found.new.name}"),
           [*((f"{change.ref} {change.name}",
               comparison.part_words(change, readers) if change.kind == "changed" else _KINDS[change.kind],
               comparison.money(change.old_cost, readers), comparison.money(change.new_cost, readers))
              for change in found.parts),
            *([(comparison.priced_words(found), "prices looked up again", "", "")] if found.priced_again else [])])
    yield ("spec", "Build spec", ("Key", found.old.name, found.new.name),
           [(change.key, *comparison.pair_words(change, readers)) for change in found.spec
            if not (change.key.startswith("notes[") or is_day_of_price(change))])
    yield ("results", "Results", ("Result", found.old.name, found.new.name),
           [(label(change), comparison.value_words(change.old, change, readers),
             comparison.value_words(change.new, change, readers)) for change in others])
    yield ("cuts", "Pieces of one kit", ("Piece", f"In {found.old.name}", f"In {found.new.name}"),
           [(f"{change.ref} {change.stock}, {comparison.length(change.length_mm, readers, change.width_mm)}",
             str(change.old), str(change.new)) for change in found.cuts])
    yield ("notes", "Known issues", ("Issue", f"In {found.old.name}", f"In {found.new.name}"),
           [(change.title, comparison.status_words(change.old, found.old.name),
             comparison.status_words(change.new, found.new.name)) for change in found.notes])
    yield ("pages", "Pages and files", ("File", "Change"),
           [(change.path, _KINDS[change.kind]) for change in (*found.pages, *found.files)])


def kit_words(kit: Kit, found: Difference, readers: Readers) -> Iterator[str]:
    """What the kit comes to, in sentences."""
    todo = (kit.buy, kit.from_packs, kit.prints, kit.saw, kit.rework, kit.make, kit.at_hand, kit.steps, kit.checks)
    if not any(todo):
        yield f"Whoever has built {found.old.name} has nothing to do{' but to read' if kit.read else ''}."
        return
    cost = show(kit.cost, "money", readers=readers).plain
    bought = f"What has to be bought costs {cost}, whole packs counted." if kit.buy else "Nothing has to be bought."
    if kit.once_more:
        bought = f"{bought[:-1]}; what steps done again use once more comes on top."
    yield f"For one telescope that was built as {found.old.name} says, to make it what {found.new.name} says. {bought}"
    if kit.unpriced:
        yield f"The plan has no price for {', '.join(kit.unpriced)}."
    yield from (f"{_upper(words)}." for words in comparison.not_counted(kit, readers))


def _kit(kit: Kit, readers: Readers) -> Tables:
    yield ("buy", "Buy", ("Part", "How many", "Cost"),
           [(f"{line.ref} {line.name}", comparison.buy_words(line), comparison.money(line.cost, readers))
            for line in kit.buy])
    yield ("from-packs", _upper(comparison.PACKS), ("Part", "How many"),
           [(f"{line.ref} {line.name}", str(line.pieces)) for line in kit.from_packs])
    yield ("print", "Print", ("Part", "How many", "Plastic", "Time, an estimate"),
           [(f"{line.ref} {line.name}", str(line.pieces), _mass(line.mass_kg, readers),
             "" if line.time_h is None else duration(line.time_h * 60)) for line in kit.prints])
    yield ("cut", "Cut", ("Part", "Pieces", "From"),
           [(f"{line.ref} {line.stock}",
             f"{line.pieces} of {comparison.length(line.length_mm, readers, line.width_mm)}",
             "new stock" if line.from_mm is None else f"the old piece of {comparison.length(line.from_mm, readers)}")
            for line in kit.saw])
    yield ("rework", "Rework", ("Part", "How many", "Old piece", "How"),
           [(f"{line.ref} {line.name}", str(line.pieces), line.old_name, line.how) for line in kit.rework])
    yield ("make", "Make", ("Part", "How many", "Why"),
           [(f"{line.ref} {line.name}", str(line.pieces), comparison.WHY[line.why]) for line in kit.make])
    yield ("at-hand", "Have at hand", ("Part", "How many"),
           [(f"{line.ref} {line.name}", str(line.pieces)) for line in kit.at_hand])
    yield ("once-more", _upper(comparison.ONCE_MORE), ("Part", "Used up, or fixed to what is replaced, in"),
           [(f"{line.ref} {line.name}", comparison.once_words(line)) for line in kit.once_more])
    yield ("left-over", "Left over", ("Part", "How many", "Why"),
           [(f"{line.ref} {line.name}", str(line.pieces), comparison.over_words(line)) for line in kit.left_over])
    yield ("steps", "Do again", ("Step", "Why"),
           [(f"{step.number} {step.title}", comparison.again_words(step)) for step in kit.steps])
    yield ("read", "Read again", ("Step", "Why"),
           [(f"{step.number} {step.title}", comparison.again_words(step)) for step in kit.read])
    yield "steps-gone", "Steps no longer there", (), [(title,) for title in kit.steps_gone]
    yield ("checks", "Check again", ("Step", "What", "Target", "Within"),
           [(str(check.number), check.what, check.target, check.tolerance) for check in kit.checks])


def _mass(value: float | None, readers: Readers) -> str:
    return "" if value is None else show(value, "kg", readers=readers).plain
