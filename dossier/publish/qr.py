"""A QR code as a picture: an address that a phone can read off a sheet of paper (ISO/IEC 18004, by segno)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dossier.views.markup import Html, text

_QUIET = 4  # modules of white all round that the standard asks for


def qr_code(address: str, side_mm: float) -> Html:
    """The address as an SVG of this width, quiet zone counted in; black on white whatever the page's colours are."""
    import segno

    code = segno.make(address, error="m", micro=False, boost_error=False)
    rows = [bytes(row) for row in code.matrix]
    side = len(rows) + 2 * _QUIET
    path = "".join(f"M{x + _QUIET} {y + _QUIET}h{width}v1h-{width}z" for y, row in enumerate(rows)
                   for x, width in _runs(row))
    return Html(f'<svg xmlns="http://www.w3.org/2000/svg" class="qr" role="img" '
                f'width="{side_mm}mm" height="{side_mm}mm" viewBox="0 0 {side} {side}" shape-rendering="crispEdges">'
                f'<title>Code that leads to {text(address)}</title>'
                f'<path fill="#ffffff" d="M0 0h{side}v{side}h-{side}z"/><path fill="#000000" d="{path}"/></svg>')


def _runs(row: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Where dark modules begin, and how many stand in a row."""
    start = None
    for place, module in enumerate((*row, 0)):
        if module and start is None:
            start = place
        elif not module and start is not None:
            yield start, place - start
            start = None
