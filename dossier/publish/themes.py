"""Themes: folders of templates, style sheets and scripts that say how a dossier looks.

A theme is found by its name among the project's ``themes/``, or by the path of its folder. ``theme.yaml`` names its
parts. A theme that ``extends`` another takes from it whatever it does not have itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dossier.errors import Problem, Unusable, did_you_mean

DEFAULT = "drawing-office"
THEME_FILE = "theme.yaml"
_KEYS = frozenset({"title", "extends", "stylesheets", "scripts", "first_script", "print_stylesheets", "theme_colours",
                   "print_colours"})


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme's parts as files. ``templates`` are folders to look in, the theme's own first.

    ``first_script`` stands in each page's head and runs before anything is drawn; ``theme_colours`` are the browser's
    own frame by appearance, ``print_colours`` the literal colours for paper by role.
    """

    name: str
    folder: Path
    templates: tuple[Path, ...]
    stylesheets: tuple[Path, ...]
    print_stylesheets: tuple[Path, ...] = ()
    scripts: tuple[Path, ...] = ()
    first_script: Path | None = None
    theme_colours: Mapping[str, str] = field(default_factory=dict)
    print_colours: Mapping[str, str] = field(default_factory=dict)

    def folders(self) -> tuple[Path, ...]:
        """The folders that it takes anything from: its own, and those of the themes that it extends."""
        return tuple(path.parent for path in self.templates)

    def files(self) -> tuple[Path, ...]:
        """Every file the theme names."""
        first = (self.first_script,) if self.first_script else ()
        return (*self.stylesheets, *self.print_stylesheets, *self.scripts, *first)


def theme_folder(named: str) -> Path:
    """The folder of the theme of this name or at this path. Raises Unusable where there is none."""
    shelf = _shelf()
    for folder in (shelf / named, Path(named)):
        if (folder / THEME_FILE).is_file():
            return folder
    known = [path.parent.name for path in sorted(shelf.glob(f"*/{THEME_FILE}"))]
    raise Unusable([Problem(named, 0, "", f"there is no theme of this name and no folder with a {THEME_FILE} at this "
                            f"path{did_you_mean(named, known) or '; there is ' + ', '.join(known)}")])


def load_theme(named: str = DEFAULT) -> Theme:
    """The theme of this name or at this path. Raises Unusable with everything that is wrong with it."""
    return _load(theme_folder(named), ())


def _shelf() -> Path:
    """Beside the package in a checkout, inside it where it is installed."""
    package = Path(__file__).parent.parent
    inside = package / "themes"
    return inside if inside.is_dir() else package.parent / "themes"


def _load(folder: Path, seen: tuple[Path, ...]) -> Theme:
    place = str(folder / THEME_FILE)
    if folder.resolve() in seen:
        raise Unusable([Problem(place, 0, "extends", "the themes extend one another in a circle")])
    said = _said(folder / THEME_FILE)
    base = _load(theme_folder(str(said["extends"])), (*seen, folder.resolve())) if "extends" in said else None
    theme = Theme(
        name=folder.name, folder=folder,
        templates=(folder / "templates", *(base.templates if base else ())),
        stylesheets=_files(folder, said, "stylesheets") or (base.stylesheets if base else ()),
        print_stylesheets=_files(folder, said, "print_stylesheets") or (base.print_stylesheets if base else ()),
        scripts=_files(folder, said, "scripts") or (base.scripts if base else ()),
        first_script=folder / said["first_script"] if "first_script" in said else (base.first_script if base else None),
        theme_colours=said.get("theme_colours") or (base.theme_colours if base else {}),
        print_colours=said.get("print_colours") or (base.print_colours if base else {}),
    )
    missing = [path for path in theme.files() if not path.is_file()]
    if missing:
        raise Unusable(Problem(place, 0, "", f"{path.name} is named here but is not in the theme") for path in missing)
    return theme


def _files(folder: Path, said: Mapping[str, Any], key: str) -> tuple[Path, ...]:
    return tuple(folder / str(name) for name in said.get(key) or ())


def _said(file: Path) -> dict[str, Any]:
    import yaml

    try:
        said = yaml.safe_load(file.read_text("utf-8"))
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        raise Unusable([Problem(str(file), 0, "", f"cannot be read as YAML: {error}")]) from error
    if not isinstance(said, dict):
        raise Unusable([Problem(str(file), 0, "", "a theme is a map of names to files")])
    unknown = [str(key) for key in said if key not in _KEYS]
    if unknown:
        raise Unusable(Problem(str(file), 0, key, f"no such key{did_you_mean(key, _KEYS)}") for key in unknown)
    return said
