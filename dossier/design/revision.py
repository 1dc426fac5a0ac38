"""Which revision a build is at, and its date."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import UTC, date, datetime

from dossier.errors import Problem, Unusable
from dossier.spec.contents import contents
from dossier.spec.issued import Issued
from dossier.spec.load import Loaded

EPOCH = "SOURCE_DATE_EPOCH"


def standing(loaded: Loaded, issued: Sequence[Issued], today: date | None = None) -> tuple[str, str]:
    """The revision and its date, ISO 8601: those of the last issued one where nothing has changed since; else
    ``draft``, or ``draft after`` the last one's letter, with the draft's date."""
    last = issued[-1] if issued else None
    if last is None:
        return "draft", date_of(loaded, today)
    # The spec's own hash is known already; only where it is the same need the pages and files be read.
    if last.spec_sha256 == loaded.sha256 and last.contents_sha256 == contents(loaded.file).sha256:
        return last.letter, last.date
    return f"draft after {last.letter}", date_of(loaded, today)


def date_of(loaded: Loaded, today: date | None = None) -> str:
    """The draft's date, ISO 8601: the author's, else ``SOURCE_DATE_EPOCH``, else the clock's. Raises Unusable where
    that variable holds something else than seconds."""
    said = loaded.build.about.date
    if said is not None:
        return said.isoformat()
    epoch = os.environ.get(EPOCH, "")
    if not epoch:
        return (today or datetime.now(UTC).date()).isoformat()
    try:
        return datetime.fromtimestamp(int(epoch), UTC).date().isoformat()
    except (ValueError, OverflowError, OSError):
        raise Unusable([Problem(EPOCH, 0, "", "wants whole seconds since 1970, such as 1767225600, or nothing "
                                              f"(got {epoch})")]) from None
