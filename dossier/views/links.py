"""Where things stand on the site. Pages lie beside one another, so that an address holds wherever the site is moved."""

from __future__ import annotations

WORKING, SYMBOLS, SOURCES, SPEC, SAFETY, DOWNLOADS = (
    "working.html", "symbols.html", "sources.html", "spec.html", "safety.html", "downloads.html")
KNOWN_ISSUES, REVISIONS = "known-issues.html", "revisions.html"
PAST = "r"  # below it lies a folder for each revision


def working_of(result_id: str) -> str:
    """The working of a result."""
    return f"{WORKING}#{result_id}"


def source_of(key: str) -> str:
    """A source's entry."""
    return f"{SOURCES}#{key}"


def key_of_source(href: str) -> str:
    """The key of the source that such an address leads to."""
    return href.partition("#")[2]


def symbol_of(name: str) -> str:
    """A symbol's entry."""
    return f"{SYMBOLS}#{name}"


def caution_on(topic: str) -> str:
    """A caution in full."""
    return f"{SAFETY}#{topic}"


def part_of(ref: str) -> str:
    """A part's line in the parts list."""
    return f"parts.html#{part_anchor(ref)}"


def part_anchor(ref: str) -> str:
    """The name of a part's line on its page."""
    return f"part-{ref}"


def issue_on(note_id: str) -> str:
    """A note's place on the sheet of known issues."""
    return f"{KNOWN_ISSUES}#{issue_anchor(note_id)}"


def issue_anchor(note_id: str) -> str:
    """The name of a note's place on its page."""
    return f"note-{note_id}"


def step_page(slug: str) -> str:
    """A build step's own sheet."""
    return f"step-{slug}.html"


def spec_line(line: int, *, measured: bool = False) -> str:
    """A line of the author's spec, or of the builder's measured file, on the sheet that prints them."""
    return f"{SPEC}#{'M' if measured else 'L'}{line}" if line else SPEC
