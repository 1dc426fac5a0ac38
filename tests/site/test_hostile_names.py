"""What an author calls things is text, whatever it looks like."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml

NAME = "<script>alert('x')</script> \"A\" & B' </style> ]]> {x}"


def named_badly(build: Path) -> None:
    """Put the name wherever a spec or a step takes a text."""
    spec = yaml.safe_load((build / "build.yaml").read_text("utf-8"))
    spec["about"] |= {"name": NAME, "summary": NAME, "authors": [NAME]}
    spec["eyepieces"].append({"name": NAME, "focal_length": "8 mm", "apparent_field": "50 deg"})
    for part in spec["parts"]:
        part |= {"name": NAME, "why": NAME, "supplier": NAME, "group": NAME}
        part["instead"] = [{"name": NAME, "because": NAME, "price": 1}]
    spec["goals"] = [{"result": "optics.focal_ratio", "at_least": 9, "because": NAME},
                     {"result": "optics.obstruction", "at_most": 0.9, "because": NAME}]
    (build / "build.yaml").write_text(yaml.safe_dump(spec, allow_unicode=True), "utf-8")
    front = {"title": NAME, "tools": [NAME], "consumables": [NAME], "record": [NAME],
             "checks": [{"what": NAME, "target": NAME, "tolerance": NAME}]}
    (build / "pages" / "steps" / "09-last.md").write_text(f"---\n{yaml.safe_dump(front)}---\n\nText.\n", "utf-8")
    (build / "pages" / "notes.md").write_text(f"---\n{yaml.safe_dump({'title': NAME})}---\n\nText.\n", "utf-8")


def test_names_are_text_on_every_page(small: Path, publish: Callable[..., Path], read: Callable[[Path], Any]) -> None:
    named_badly(small)
    site = publish(small)
    for path in site.glob("*.html"):
        page = read(path)
        scripts = page.called("script")
        assert len(scripts) == 2, path.name
        assert [script.get("src", "").startswith("assets/") for script in scripts] == [False, True]
        assert "<script>alert" not in page.text, path.name
        assert NAME in page.said or path.name in ("working.html", "symbols.html", "sources.html"), path.name


def test_drawings_and_printed_feet_hold_no_markup_of_theirs(small: Path, publish: Callable[..., Path]) -> None:
    named_badly(small)
    site = publish(small)
    for path in site.glob("drawings/*.svg"):
        assert "<script" not in path.read_text("utf-8")
    feet = (site / "index.html").read_text("utf-8").partition("@bottom-left")[2].partition("</style>")[0]
    assert "script" in feet
    assert not set("<>'&") & set(feet.replace("sans-serif", ""))
