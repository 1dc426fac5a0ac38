"""Which revision a build is at, and its date."""

from __future__ import annotations

import os
from datetime import UTC, date, datetime

from dossier.spec.load import Loaded


def revision_of(loaded: Loaded) -> str:
    """``draft`` before anything was issued, otherwise ``draft after`` the last issued revision's letters."""
    issued = sorted((path.stem for path in (loaded.folder / "revisions").glob("*.yaml")), key=lambda s: (len(s), s))
    return f"draft after {issued[-1]}" if issued else "draft"


def date_of(loaded: Loaded, today: date | None = None) -> str:
    """The draft's date, ISO 8601: the author's, else ``SOURCE_DATE_EPOCH``, else the clock's."""
    said = loaded.build.about.date
    if said is not None:
        return said.isoformat()
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if epoch.isdigit():
        return datetime.fromtimestamp(int(epoch), UTC).date().isoformat()
    return (today or datetime.now(UTC).date()).isoformat()
