"""How long something takes, as people say it."""

from __future__ import annotations


def duration(minutes: float) -> str:
    """Minutes in hours and minutes: ``45 min``, ``1 h 30 min``, ``2 h``."""
    hours, rest = divmod(round(minutes), 60)
    return " ".join(filter(None, (f"{hours}\u202fh" if hours else "", f"{rest}\u202fmin" if rest or not hours else "")))
