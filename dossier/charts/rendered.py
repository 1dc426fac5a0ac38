"""What a picture comes as: SVG, a caption that says what to see, and its text alternative."""

from __future__ import annotations

import base64
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Medium

if TYPE_CHECKING:
    from dossier.design.model import Design

# On a sheet or a wide screen, and on a phone: the medium and the width in its unit.
MEDIA: Mapping[Form, tuple[Medium, float]] = {"wide": (ON_PAPER, 180.0), "upright": (ON_PHONE, 328.0)}
FOLDER = "pictures/"


@dataclass(frozen=True, slots=True)
class Rendered:
    """One picture in one form.

    ``linked`` is SVG that names its raster images as files in ``FOLDER``; ``images`` has those files. ``svg`` is the
    same with the images inside, for the packet and as a file to take along. Charts have no images: the two are alike.
    ``alt`` says in words what the picture shows, with its numbers; it is the SVG's own description too.
    """

    linked: str
    caption: str
    alt: str
    images: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def svg(self) -> str:
        text = self.linked
        for name, data in self.images.items():
            text = text.replace(f'"{FOLDER}{name}"', f'"data:image/png;base64,{base64.b64encode(data).decode()}"')
        return text


Make = Callable[["Design", Palette, Form], Rendered | None]


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that can be made of a design: its title, the beginning of the question it helps to answer, how it is
    made, and whether it is a simulated view. ``make`` gives None where the spec does not say enough for it."""

    key: str
    title: str
    question: str
    make: Make
    simulated: bool = False
