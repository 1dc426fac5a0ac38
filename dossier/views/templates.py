"""The sheet of templates: what each is for, how large, how its print is checked, and its files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from dossier.design import Design
from dossier.drawings.palette import SCREEN
from dossier.drawings.scene import Box
from dossier.drawings.svg import render
from dossier.drawings.templates.model import LAYERS, MEANING, Template, box_of_items
from dossier.drawings.templates.sheet import small
from dossier.views.downloads import size_words
from dossier.views.links import part_of
from dossier.views.markup import Html
from dossier.views.prose import Said
from dossier.views.safety import CautionView, caution_view
from dossier.views.site import Page

FOLDER = "templates/"
FORMS = {"pdf": "to print", "dxf": "for a cutter", "svg": "in one piece"}
CAUTIONS = ("power-tools", "hand-tools")


@dataclass(frozen=True, slots=True)
class TemplateFile:
    """One file of a template: its address, its form, what that is good for, its size."""

    href: str
    form: str
    use: str
    size: str


@dataclass(frozen=True, slots=True)
class TemplatePart:
    """A part of the list that a template is for: its reference and where that is, what it is and how many are needed.
    """

    href: str
    ref: str
    words: str


@dataclass(frozen=True, slots=True)
class TemplateLine:
    """One template: what it is for, a small picture, its size, on how many sheets it is printed, how it is used.
    ``tool`` tells that it is made for use with its parts, and not they after it."""

    key: str
    title: str
    use: str
    parts: tuple[TemplatePart, ...]
    tool: bool
    picture: Html
    extent: str
    sheets: str
    notes: tuple[str, ...]
    files: tuple[TemplateFile, ...]


@dataclass(frozen=True, slots=True)
class TemplatesView:
    """The sheet of templates. ``layers`` are the names of the layers with what is done with each."""

    page: Page
    intro: tuple[Said, ...]
    paper: str
    templates: tuple[TemplateLine, ...]
    layers: tuple[tuple[str, str], ...]
    cautions: tuple[CautionView, ...]


def templates_view(design: Design, page: Page, intro: tuple[Said, ...], templates: Sequence[tuple[Template, int]],
                   files: Mapping[str, bytes], paper: str) -> TemplatesView:
    """Templates, each with the number of its printed sheets; ``files`` holds their files by address."""
    lines = tuple(_line(design, template, number, count, files, paper)
                  for number, (template, count) in enumerate(templates, start=1))
    return TemplatesView(page, intro, paper, lines, tuple((layer, MEANING[layer]) for layer in LAYERS),
                         tuple(caution_view(topic) for topic in CAUTIONS if topic in design.cautions))


def what_each_is(templates: Sequence[tuple[Template, int]]) -> dict[str, str]:
    """Every file of these templates by its address, with what it is."""
    return {f"{FOLDER}{template.key}.{form}": f"{template.title}, {use}."
            for template, _ in templates for form, use in FORMS.items()}


def _line(design: Design, template: Template, number: int, count: int, files: Mapping[str, bytes],
          paper: str) -> TemplateLine:
    addresses = {form: f"{FOLDER}{template.key}.{form}" for form in FORMS}
    return TemplateLine(
        template.key, template.title, template.use, tuple(_parts(template)), template.tool,
        Html(render(small(template, number), SCREEN)),
        _extent(design, box_of_items(template.items)),
        f"one sheet of {paper}" if count == 1 else f"{count} sheets of {paper}, the first with a plan of the others",
        template.notes,
        tuple(TemplateFile(address, form.upper(), FORMS[form], size_words(len(files[address])))
              for form, address in addresses.items() if address in files))


def _parts(template: Template) -> Iterator[TemplatePart]:
    for part in template.parts:
        needed = "" if template.tool else f": {part.quantity} needed"
        yield TemplatePart(part_of(part.ref), part.ref, f"{part.words}{needed}")


def _extent(design: Design, box: Box) -> str:
    """Width by height, in whole millimetres or in tenths of an inch."""
    wide, high = box.right - box.left, box.bottom - box.top
    if design.build.readers.units == "inch":
        return f"{wide / 25.4:.1f} × {high / 25.4:.1f}\u202fin"
    return f"{wide:.0f} × {high:.0f}\u202fmm"
