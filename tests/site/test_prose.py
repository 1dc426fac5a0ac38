"""The author's words: live numbers, what is refused, and what becomes of links and pictures."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from dossier.errors import Unusable
from dossier.publish.book import Book
from dossier.views.prose import said

Problems = Callable[[Path], list[str]]
Publish = Callable[..., Path]
Reader = Callable[[Path], Any]
HtmlOf = Callable[[str], str]
ReadText = Callable[[str], Any]

# One pixel.
PNG = bytes.fromhex("89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c6360"
                    "f8cfc00000030101004a4d8d860000000049454e44ae426082")
SVG = "<svg xmlns='http://www.w3.org/2000/svg'>"


def say(build: Path, text: str, name: str = "notes") -> Path:
    """Give the build one more page."""
    page = build / "pages" / f"{name}.md"
    page.write_text(text, "utf-8")
    return page


@pytest.fixture
def html_of(small: Path, book: Callable[[Path], Book]) -> Callable[[str], str]:
    """A text as the site shows it, each block followed by the working that stands beside it."""
    def run(text: str) -> str:
        say(small, text)
        made = book(small)
        blocks = said(made.passage("notes.html").pieces, made.design)
        return "\n".join(block.html + "".join(f"\n{work.id}: {work.numbers}" for work in block.works)
                         for block in blocks)
    return run


def test_a_result_is_written_with_its_unit_and_leads_to_its_working(html_of: HtmlOf) -> None:
    html = html_of("The mirror is f/{{ optics.focal_ratio }}, its image at {{ optics.intercept }}.")
    assert re.search(r'<a class="number" href="working\.html#optics\.intercept">142\.0\u202fmm</a>', html)
    assert 'href="working.html#optics.focal_ratio">7.89</a>' in html


def test_its_working_stands_beside_it(html_of: HtmlOf) -> None:
    html = html_of("The image lies at {{ optics.intercept }}. Again: {{ optics.intercept }}.")
    assert html.count("\noptics.intercept: ") == 1
    assert "75 + 55 + 12" in html


def test_what_the_spec_says_is_written_as_it_was_given_and_leads_to_its_line(small: Path, html_of: HtmlOf) -> None:
    html = html_of("{{ spec.primary.aperture }}, {{ spec.eyepieces[1].name }}")
    line = 1 + (small / "build.yaml").read_text("utf-8").partition("aperture: 114 mm")[0].count("\n")
    assert f'<a class="number" href="spec.html#L{line}">114\u202fmm</a>' in html
    assert ">10 mm Plössl</a>" in html


def test_inches_where_the_readers_want_them(small: Path, publish: Publish) -> None:
    spec = small / "build.yaml"
    spec.write_text(spec.read_text("utf-8").replace("units: metric", "units: inch"), "utf-8")
    say(small, "{{ optics.intercept }}")
    assert ">5.591\u202fin</a>" in (publish(small) / "notes.html").read_text("utf-8")


def test_numbers_in_headings_and_alternative_texts_are_plain(small: Path, html_of: HtmlOf) -> None:
    (small / "dot.png").write_bytes(PNG)
    html = html_of("## At {{ optics.intercept }}\n\n![{{ optics.intercept }} away](dot.png)\n")
    assert 'alt="142.0\u202fmm away"' in html
    assert '<h2 id="at">' in html


@pytest.mark.parametrize(("said", "wanted"), [
    ("{{ diagonal.ofset }}", "did you mean 'diagonal.offset'?"),
    ("{{ optics }}", "is a group of numbers, not one"),
    ("{{ optics.focal_ratio", "cannot be read as an expression"),
    ("{{ bench.conic }}", "is not worked out"),
    ("{{ nothing_of_this_name }}", "'nothing_of_this_name'"),
])
def test_a_name_that_is_none_is_told_with_file_and_line(small: Path, problems: Problems, said: str,
                                                        wanted: str) -> None:
    page = say(small, f"---\ntitle: Notes\n---\n\nFirst.\n\nThen {said} and on.\n")
    found = [text for text in problems(small) if text.startswith(f"{page}:7: ")]
    assert len(found) == 1
    assert wanted in found[0]


def test_all_problems_of_all_pages_are_told_at_once(small: Path, problems: Problems) -> None:
    say(small, "{{ optics.a }}\n\n{{ optics.b }}\n", "one")
    say(small, "{{ optics.c }}\n![x](no.png)\n[y](nowhere.html)\n", "two")
    text = "\n".join(problems(small))
    assert all(place in text for place in ("one.md:1", "one.md:3", "two.md:1", "two.md:2", "two.md:3"))


@pytest.mark.parametrize("said", [
    "{{ ''.__class__ }}", "{{ optics.__class__ }}", "{{ optics.focal_ratio.__class__.__mro__ }}",
    "{{ self._TemplateReference__context }}", "{{ cycler.__init__.__globals__ }}",
    "{{ optics.focal_ratio.value.__class__.__base__.__subclasses__() }}", "{{ ().__class__.__bases__[0] }}",
    "{{ range(10**9) }}", "{{ lipsum() }}", "{{ 10**10**10 }}", "{{ 'a' * 1000000000 }}",
    "{{ [1] * 1000000000 }}", "{{ '%1000000000d' % 1 }}", "{{ 'x'|center(1000000000) }}",
    "{% for a in 'aaaa' %}{% endfor %}", "{% include '/etc/passwd' %}", "{% set x = 1 %}{{ x }}",
    "{{ optics.focal_ratio.written }}{{ optics.get('x') }}", "{{ dict(a=1) }}", "{{ namespace() }}",
    "{{ 'a'.format.__globals__ }}", "{{ '{0.__class__}'.format(1) }}", "{{ joiner() }}",
])
def test_expressions_cannot_reach_out(small: Path, problems: Problems, said: str) -> None:
    page = say(small, f"{said}\n")
    assert any(text.startswith(f"{page}:1: ") for text in problems(small))


@pytest.mark.parametrize("text", [
    "<script>alert(1)</script>", "<img src=x onerror=alert(1) alt=x>", "<svg onload=alert(1)></svg>",
    "[x](javascript:alert(1))", "<a href='java\nscript:alert(1)'>x</a>", "<iframe src='//example.org'></iframe>",
    "<a href='data:text/html,<script>alert(1)</script>'>x</a>", "<style>body{display:none}</style>",
    "<form action='https://example.org'><input name=a></form>", "<math><mi href='javascript:alert(1)'>x</mi></math>",
    "<div style='position:fixed;inset:0'>x</div>", "<base href='https://example.org/'>",
    "<meta http-equiv=refresh content='0;url=https://example.org'>", "<object data=x></object>",
    "<p id=sheet onclick=alert(1)>x</p>", "<!--><img src=x alt=x onerror=alert(1)>-->", "\ue000\ue010\ue001",
    "<details open ontoggle=alert(1)>x</details>",
    "<noscript><p title='</noscript><img src=x alt=x onerror=alert(1)>'>",
])
def test_nothing_active_comes_through(small: Path, book: Callable[[Path], Book], read_text: ReadText,
                                      text: str) -> None:
    (small / "x").write_bytes(PNG)
    say(small, f"Before.\n\n{text}\n\nAfter.\n")
    page = read_text("".join(piece.html for piece in book(small).passage("notes.html").pieces))
    assert not {tag for tag, _ in page.tags} & {"script", "style", "meta", "link", "svg", "iframe", "object", "form",
                                                "input", "base", "math", "details", "noscript"}
    assert not [name for _, values in page.tags for name in values if name.startswith("on") or name == "style"]
    assert not [link["href"] for link in page.links if re.match(r"\s*(javascript|data|vbscript):", link["href"], re.I)]
    assert not set(page.ids) & {"sheet"}
    assert "After." in page.said


@pytest.mark.parametrize(("said", "wanted"), [
    ("![a dot](../../secret.png)", "lies outside the build's folder"),
    ("![a dot](/etc/hostname)", "lies outside the build's folder"),
    ("[a](../../../../../../etc/passwd)", "lies outside the build's folder"),
    ("[a](%2e%2e/%2e%2e/secret.png)", "lies outside the build's folder"),
    ("![a dot](link.png)", "lies outside the build's folder"),
    ("![a dot](missing.png)", "there is no missing.png"),
    ("![](dot.png)", "needs a text"),
    ("![a dot](https://example.org/dot.png)", "lies elsewhere"),
    ("![a dot](//example.org/dot.png)", "lies elsewhere"),
    ("![a dot](.hidden.png)", "hidden file"),
    ("![a drawing](active.svg)", "holds a script"),
    ("![a drawing](fetching.svg)", "holds a script or fetches"),
    ("[a](nowhere.html)", "there is no nowhere.html"),
    ("[a](optic.md)", "did you mean 'optics.md'?"),
    ("[a](optics.html#no-such-place)", "there is no #no-such-place on optics.html"),
    ("[a](#no-such-place)", "there is no #no-such-place on notes.html"),
])
def test_links_stay_inside_the_folder(small: Path, problems: Problems, said: str, wanted: str) -> None:
    (small.parent / "secret.png").write_bytes(PNG)
    (small / "link.png").symlink_to(small.parent / "secret.png")
    (small / ".hidden.png").write_bytes(PNG)
    (small / "dot.png").write_bytes(PNG)
    (small / "active.svg").write_text(f"{SVG}<script>alert(1)</script></svg>")
    (small / "fetching.svg").write_text(f"{SVG}<image href='http://example.org/a'/></svg>")
    page = say(small, f"First.\n\n{said}\n")
    found = problems(small)
    assert len(found) == 1
    assert found[0].startswith(f"{page}:3: ")
    assert wanted in found[0]


def test_a_folder_of_pages_that_leads_out_is_refused(small: Path, problems: Problems, tmp_path: Path) -> None:
    outside = tmp_path / "outside.md"
    outside.write_text("Not ours.")
    (small / "pages" / "notes.md").symlink_to(outside)
    assert any("notes.md" in text and "out of the build's folder" in text for text in problems(small))


def test_pictures_and_files_are_copied_and_pages_are_found_by_their_markdown(small: Path, publish: Publish,
                                                                            read: Reader) -> None:
    (small / "images").mkdir()
    (small / "images" / "the cell.png").write_bytes(PNG)
    (small / "list.csv").write_text("a,b\n")
    say(small, '![The cell](<../images/the cell.png> "From behind")\n\n[list](list.csv), [optics](optics.md), '
               "[the first step](steps/01-measure-the-mirror.md), [there](https://example.org/a)\n")
    site = publish(small)
    page = read(site / "notes.html")
    assert (site / "files" / "images" / "the cell.png").read_bytes() == PNG
    assert (site / "files" / "list.csv").read_text() == "a,b\n"
    assert page.called("img")[0]["src"] == "files/images/the%20cell.png"
    assert "From behind" in page.text
    hrefs = [link["href"] for link in page.links]
    assert {"files/list.csv", "optics.html", "step-measure-the-mirror.html", "https://example.org/a"} <= set(hrefs)


def test_a_section_named_like_a_question_stands_with_it(small: Path, publish: Publish) -> None:
    (small / "pages" / "optics.md").write_text("Before all.\n\n## How much of the field is good?\n\nOur own words.\n\n"
                                               "## Something else\n\nElsewhere.\n")
    html = (publish(small) / "optics.html").read_text("utf-8")
    heading = html.index('id="question-field"')
    assert html.index("Elsewhere.") < heading < html.index("Our own words.") < html.index("Tangential coma", heading)
    assert html.count("How much of the field is good?</h2>") == 1


def test_numbers_in_the_texts_of_the_spec(small: Path, publish: Publish) -> None:
    spec = small / "build.yaml"
    text = spec.read_text("utf-8")
    spec.write_text(text.replace("summary: A 114 mm", 'summary: "f/{{ optics.focal_ratio }}: a 114 mm'
                                 ).replace("to begin from.", 'to begin from."'), "utf-8")
    overview = (publish(small) / "index.html").read_text("utf-8")
    assert 'href="working.html#optics.focal_ratio">7.89</a>: a 114 mm' in overview
    spec.write_text(spec.read_text("utf-8").replace("optics.focal_ratio", "optics.focal_ration"), "utf-8")
    with pytest.raises(Unusable, match=r"about\.summary: .*did you mean 'optics\.focal_ratio'"):
        publish(small)


def test_tables_and_footnotes_and_definitions(html_of: HtmlOf) -> None:
    html = html_of("| a | b |\n|---|--:|\n| c | 1 |\n\nNote[^1].\n\n[^1]: Below.\n\n"
                                   "Word\n: What it means\n")
    assert '<th scope="col" class="number">' in html or '<th class="number" scope="col">' in html
    assert "Below." in html
    assert "<dt>Word</dt>" in html.replace("\n", "")


@pytest.mark.parametrize(("front", "wanted"), [
    ("titel: A", "did you mean 'title'?"), ("order: first", "wants a number"), ("title: A\ntitle: B", "stands twice"),
])
def test_front_matter_is_checked(small: Path, problems: Problems, front: str, wanted: str) -> None:
    page = say(small, f"---\n{front}\n---\n\nText.\n")
    assert any(text.startswith(str(page)) and wanted in text for text in problems(small))


def test_front_matter_must_end(small: Path, problems: Problems) -> None:
    say(small, "---\ntitle: A\n\nText.\n")
    assert any("notes.md" in text for text in problems(small))
