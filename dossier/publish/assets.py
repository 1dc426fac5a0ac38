"""A theme's style sheets, scripts and typeface as files of the site, under names that change with what is in them."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from dossier.publish import fonts
from dossier.publish.themes import Theme
from dossier.views.markup import NOTHING, Html


@dataclass(frozen=True, slots=True)
class Colour:
    """What the browser paints its own frame with while the device asks for ``own``; ``all`` by appearance."""

    own: str
    content: str
    light: str
    dark: str
    night: str


@dataclass(frozen=True, slots=True)
class Links:
    """What a page's head needs. ``policy`` is its content security policy: nothing from elsewhere, no other script."""

    stylesheets: tuple[str, ...]
    scripts: tuple[str, ...]
    first_script: Html
    first_style: Html
    colours: tuple[Colour, ...]
    policy: str
    last_script: Html = NOTHING


@dataclass(frozen=True, slots=True)
class Bundle:
    """The files, by address, and how pages link them."""

    files: dict[str, bytes]
    links: Links


def bundle(theme: Theme) -> Bundle:
    """The files of a theme for a site."""
    style, faces = joined(theme.stylesheets), typeface()
    script = joined(theme.scripts)
    sheet, face, code = (_named("sheet", style, "css"), _named("typeface", faces, "css"), _named("sheet", script, "js"))
    files = {sheet: style.encode(), face: faces.encode(), code: script.encode(),
             "assets/typeface-licence.txt": fonts.licence().encode()}
    return Bundle(files, _links(theme, (face, sheet), (code,)))


def inline(theme: Theme) -> Links:
    """The same for a page that stands alone: everything is in its head."""
    script = joined(theme.scripts)
    links = _links(theme, (), (), also=script)
    style = f"{typeface()}\n{joined(theme.stylesheets)}"
    return replace(links, first_style=Html(style), last_script=Html(script))


@lru_cache(maxsize=1)
def typeface() -> str:
    """The style sheet of the typeface, its faces written into it, so that it also loads from a local file."""
    return "\n".join(
        f'@font-face{{font-family:"{fonts.FAMILY}";font-weight:{face.weight};font-style:{face.style};font-display:block;'
        f'src:url(data:font/woff2;base64,{base64.b64encode(face.data).decode()}) format("woff2")}}'
        for face in fonts.faces()) + "\n"


def joined(files: Iterable[Path]) -> str:
    """Text files one after the other."""
    return "\n".join(file.read_text("utf-8") for file in files)


def _links(theme: Theme, stylesheets: tuple[str, ...], scripts: tuple[str, ...], also: str = "") -> Links:
    first = theme.first_script.read_text("utf-8") if theme.first_script else ""
    colours = dict(theme.theme_colours)
    shown = tuple(Colour(own, colours[own], colours["light"], colours["dark"], colours["night"])
                  for own in ("light", "dark") if own in colours)
    base = ("html{background:%s}@media (prefers-color-scheme:dark){html:not([data-appearance]){background:%s}}"
            'html[data-appearance="dark"]{background:%s}html[data-appearance="night"]{background:%s}')
    style = base % (colours["light"], colours["dark"], colours["dark"], colours["night"]) if shown else ""
    return Links(stylesheets, scripts, Html(first), Html(style), shown, _policy(first, also))


def _policy(*own_scripts: str) -> str:
    hashes = " ".join(f"'sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}'"
                      for script in own_scripts if script)
    return ("default-src 'none'; img-src 'self' file: data:; style-src 'self' file: 'unsafe-inline'; font-src data:; "
            f"script-src 'self' file: {hashes}; connect-src 'self'; base-uri 'none'; form-action 'none'")


def _named(stem: str, text: str, ending: str) -> str:
    return f"assets/{stem}.{hashlib.sha256(text.encode()).hexdigest()[:8]}.{ending}"
