"""The revisions that were issued, each as a site of its own at its permanent address below the build's."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from dossier.design import Design
from dossier.errors import Unusable
from dossier.publish import kept
from dossier.publish.book import Book
from dossier.publish.html import Site
from dossier.publish.packet import NoPacket, packet_pdf
from dossier.publish.write import MARK, Order, Tell
from dossier.revisions.materialise import design_of
from dossier.spec import notes
from dossier.spec.issued import Issued
from dossier.spec.issued_lines import note_ids
from dossier.views.history import Place
from dossier.views.links import PAST, issue_on
from dossier.views.spoken import Spoken

_UP = "../../"


@dataclass(frozen=True, slots=True)
class Earlier:
    """The files of one revision's site, and those to be copied, by their address below the build's."""

    files: Mapping[str, bytes]
    copies: Mapping[str, Path]


def earlier_sites(order: Order, design: Design, step: Tell, remark: Tell) -> Iterator[Earlier]:
    """The site of every revision issued. One that stands there as it would be made is copied from there.

    A revision that the program of today cannot work out any more is remarked upon and left out.
    """
    for head in design.issued:
        place = Place(design.issued, _UP, tuple(_since(design, head)))
        key = _key(order, head, place)
        there = order.target / PAST / head.letter
        made = None if order.options.fresh else kept.still_there(there, key, MARK)
        if made is not None:
            yield Earlier({}, {_at(head, name): there / name for name in (*made.files, kept.RECORD)})
            continue
        step(f"working out revision {head.letter}")
        try:
            yield _made(order, design, head, place, key)
        except Unusable as error:
            remark(f"revision {head.letter} is left out: {error.problems[0]}")


def _since(design: Design, head: Issued) -> Iterator[tuple[str, str]]:
    """The flaws that this revision has and did not know of, as the build names them now: where each is told, its
    title."""
    known, spoken = note_ids(head), Spoken(design)
    for place, note in enumerate(design.build.notes):
        if note.id not in known and notes.status(note, head.letter) == "open":
            yield f"{_UP}{issue_on(note.id)}", spoken.of_spec_plain(note.title, f"notes[{place}].title")


def _key(order: Order, head: Issued, place: Place) -> str:
    """The frozen file holds every text, and every other file by its hash; its pages name the latest revision."""
    return kept.key_of(f"revision {order.name} {head.letter}", order.theme.folders(), [head.file], {
        "latest": place.issued[-1].letter, "since": place.since, "kits": order.options.kits,
        "packet": order.options.paper if order.options.past_packets else ""})


def _made(order: Order, design: Design, head: Issued, place: Place, key: str) -> Earlier:
    with design_of(design.loaded.folder, head.letter, kits=order.options.kits) as past:
        site = Site(Book(past, order.theme, place))
        files = {**site.files(_packet(site.book, order)),
                 **{name: path.read_bytes() for name, path in site.copies().items()}}
    record = kept.Made(key, kept.sums(files, {})).as_bytes()
    return Earlier({_at(head, name): data for name, data in {**files, kept.RECORD: record}.items()}, {})


def _packet(book: Book, order: Order) -> bytes | None:
    if not order.options.past_packets:
        return None
    try:
        return packet_pdf(book, paper=order.options.paper)
    except NoPacket:  # said already of the build's own
        return None


def _at(head: Issued, name: str) -> str:
    return f"{PAST}/{head.letter}/{name}"
