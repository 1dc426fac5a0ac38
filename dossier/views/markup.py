"""HTML that the program itself made, told apart from text, which templates escape."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape


class Html(str):
    """A string that is HTML already. Templates print it as it is; every other string they escape."""

    __slots__ = ()

    def __html__(self) -> str:
        return self


NOTHING = Html("")


def text(said: str) -> Html:
    """Plain text as HTML."""
    return said if isinstance(said, Html) else Html(escape(said, quote=True))


def joined(pieces: Iterable[str], between: str = "") -> Html:
    """Pieces in a row; those that are text are escaped."""
    return Html(between.join(text(piece) for piece in pieces))
