"""A theme is found, checked, and can be replaced without touching the program; its templates only print."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import jinja2
import pytest
from jinja2 import nodes

from dossier.errors import Unusable
from dossier.publish.html import environment
from dossier.publish.themes import load_theme

Publish = Callable[..., Path]
TEMPLATES = sorted(path for folder in load_theme().templates for path in folder.glob("*.j2"))


def test_the_theme_that_comes_with_the_program_is_whole() -> None:
    theme = load_theme()
    assert theme.name == "drawing-office"
    assert all(path.is_file() for path in theme.files())
    assert set(theme.theme_colours) == {"light", "dark", "night"}


@pytest.mark.parametrize(("text", "wanted"), [
    (None, "there is no theme of this name"), ("styles: []", "did you mean"), ("- a", "a map of names"),
    ("title: [", "cannot be read as YAML"), ("extends: drawing-offise", "did you mean 'drawing-office'?"),
    ("extends: drawing-office\nstylesheets: [gone.css]", "gone.css is named here"), ("extends: mine", "in a circle"),
])
def test_a_theme_that_is_not_right_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str | None,
                                              wanted: str) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine").mkdir()
    if text is not None:
        (tmp_path / "mine" / "theme.yaml").write_text(text)
    with pytest.raises(Unusable) as raised:
        load_theme("mine")
    assert wanted in str(raised.value)


def test_a_theme_takes_from_another_what_it_does_not_have(tmp_path: Path, small: Path, publish: Publish) -> None:
    theme = tmp_path / "mine"
    (theme / "templates").mkdir(parents=True)
    (theme / "theme.yaml").write_text("extends: drawing-office\nstylesheets: [own.css]\n")
    (theme / "own.css").write_text(":root { --ink: #123456 }")
    (theme / "templates" / "own.html.j2").write_text(
        '{% extends "base.html.j2" %}{% block body %}<p>Ours: {{ view.page.heading }}</p>{% endblock %}')
    (small / "pages" / "notes.md").write_text("---\ntitle: Notes\n---\n\nText.\n")
    site = publish(small, theme=str(theme))
    assert "<p>Ours: Notes</p>" in (site / "notes.html").read_text("utf-8")
    assert "#123456" in "".join(path.read_text("utf-8") for path in site.glob("assets/*.css"))


def test_a_template_that_asks_for_what_a_view_does_not_have_fails(tmp_path: Path, small: Path,
                                                                  publish: Publish) -> None:
    theme = tmp_path / "mine"
    (theme / "templates").mkdir(parents=True)
    (theme / "theme.yaml").write_text("extends: drawing-office\n")
    (theme / "templates" / "overview.html.j2").write_text("{{ view.no_such_field }}")
    with pytest.raises(jinja2.UndefinedError, match="no_such_field"):
        publish(small, theme=str(theme))


def test_every_template_escapes(tmp_path: Path) -> None:
    for name in ("a.html.j2", "a.svg", "a.txt"):
        (tmp_path / name).write_text("{{ view }}")
        assert environment((tmp_path,)).get_template(name).render(view="<b>") == "&lt;b&gt;"


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_templates_do_not_reckon_compare_or_format(path: Path) -> None:
    refused = (nodes.BinExpr, nodes.UnaryExpr, nodes.Compare, nodes.FilterBlock, nodes.Filter, nodes.Concat)
    tree = jinja2.Environment().parse(path.read_text("utf-8"))
    assert not [node for node in everything(tree) if isinstance(node, refused) and not is_logic(node)]


def is_logic(node: nodes.Node) -> bool:
    """and, or, not: whether something is there."""
    return isinstance(node, (nodes.And, nodes.Or, nodes.Not))


def everything(tree: nodes.Node) -> Iterator[nodes.Node]:
    yield from tree.find_all(nodes.Node)
