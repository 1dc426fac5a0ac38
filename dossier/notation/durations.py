"""How long something takes, as people say it."""

from __future__ import annotations


def duration(minutes: float) -> str:
    """Minutes in hours and minutes: ``45 min``, ``1 h 30 min``, ``2 h``."""
    hours, rest = divmod(round(minutes), 60)
    return " ".join(filter(None, (f"{hours}\u202fh" if hours else "", f"{rest}\u202fmin" if rest or not hours else "")))


def roughly(minutes: float) -> str:
    """The same for what is only estimated: from ten hours on in whole hours."""
    return duration(minutes if minutes < 600 else 60 * round(minutes / 60))
