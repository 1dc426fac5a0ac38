"""What a build that somebody else made can and cannot do: its paths, its expressions, its HTML, its size."""

from __future__ import annotations

import os
import re
import time
from pathlib import Path

import pytest

from dossier.errors import Unusable
from dossier.publish.packet import _BASE, _only
from dossier.spec.load import load_build
from tests.safety.conftest import SECRET, SPEC, Make, Publish, Refused, everything_in, tried

STEP = "---\ntitle: Look\n{more}\n---\n\n{body}\n"
PART = SPEC + "parts: [{ref: P1, name: One, MORE}]\n"
USERS = Path("/etc/passwd").read_bytes().splitlines()[0]
SOON = 10.0


def step(more: str = "tools: [eye]", body: str = "Look.") -> dict[str, str]:
    return {"pages/steps/01-look.md": STEP.format(more=more, body=body)}


WAYS_OUT = ["../../secret.png", "../../../../../../../../etc/passwd", "/etc/passwd", "images/../../../secret.png",
            "images/link.png", "folder/secret.png", "file:///etc/passwd", "%2e%2e/%2e%2e/secret.png",
            "..\\..\\secret.png", "\\\\host\\share", "~/secret.png"]
PLACES = {
    "a picture in prose": lambda path: (SPEC, {"pages/overview.md": f"![a picture](<{path}>)\n"}),
    "a link in prose": lambda path: (SPEC, {"pages/notes.md": f"[a link](<{path}>)\n"}),
    "a picture in a step": lambda path: (SPEC, step(body=f"![a picture](<{path}>)")),
    "a step's pictures": lambda path: (SPEC, step(f"pictures: ['{path}']")),
    "the build's picture": lambda path: (SPEC.replace("authors:", f"picture: '{path}', authors:"), {}),
    "a mesh": lambda path: (PART.replace("MORE", f"print: {{mesh: '{path}', material: petg}}"), {}),
    "a CAD source": lambda path: (PART.replace("MORE", f"cad: '{path}'"), {}),
}


@pytest.mark.parametrize("path", WAYS_OUT)
@pytest.mark.parametrize("place", PLACES)
def test_no_path_leads_out_of_the_folder(make: Make, tmp_path: Path, place: str, path: str) -> None:
    """It is refused with its file and line, or, where the page can do without the file, left out."""
    spec, files = PLACES[place](path)
    build = make(spec, **files)
    (build / "images").mkdir()
    (build / "images" / "link.png").symlink_to(tmp_path / "secret.png")
    (build / "folder").symlink_to(tmp_path)
    site, said = tried(build, tmp_path / "out")
    if site is None:
        assert SECRET not in said
        assert re.search(r"gift/\S+:\d+: ", said)
        assert not (tmp_path / "out").exists()
    else:
        written = everything_in(site)
        assert SECRET.encode() not in written
        assert USERS not in written


@pytest.mark.parametrize("place", ["pages/notes.md", "pages/overview.md", "pages/steps/01-look.md"])
def test_no_text_is_read_through_a_link_that_leads_out(make: Make, tmp_path: Path, refused: Refused,
                                                       place: str) -> None:
    build = make()
    (build / place).parent.mkdir(parents=True, exist_ok=True)
    (build / place).symlink_to(tmp_path / "secret.md")
    assert any(f"{place}: leads out of the build's folder" in text for text in refused(build))


@pytest.mark.parametrize("place", ["pages", "pages/steps"])
def test_no_folder_of_texts_may_lead_out(make: Make, tmp_path: Path, refused: Refused, place: str) -> None:
    outside = tmp_path / "elsewhere"
    outside.mkdir()
    (outside / "secret.md").write_text((tmp_path / "secret.md").read_text())
    build = make()
    (build / place).parent.mkdir(parents=True, exist_ok=True)
    (build / place).symlink_to(outside)
    assert any("leads out of the build's folder" in text for text in refused(build))


def test_a_link_within_the_folder_is_followed(make: Make, publish: Publish) -> None:
    build = make(**{"texts/first.md": "---\ntitle: First\n---\n\nWritten once.\n", "pages/one.md": "x"})
    (build / "pages" / "one.md").unlink()
    (build / "pages" / "one.md").symlink_to(build / "texts" / "first.md")
    assert "Written once." in (publish(build) / "one.html").read_text("utf-8")


def test_a_measured_file_may_lie_anywhere(make: Make, tmp_path: Path) -> None:
    """It is named on the command line: the user's own word, not the build's."""
    measured = tmp_path / "mine.yaml"
    measured.write_text("primary: {focal_length: 1190 mm}\n")
    assert load_build(make(), measured).build.primary.focal_length == 1190


ESCAPES = [
    "{{ ''.__class__.__mro__[1].__subclasses__() }}", "{{ optics.__init__.__globals__ }}", "{{ spec.__class__ }}",
    "{{ optics.focal_ratio.__class__.__init__.__globals__ }}",
    "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "{{ self._TemplateReference__context }}", "{{ request }}", "{{ config }}", "{{ lipsum.__globals__ }}",
    "{{ optics.focal_ratio.value.__class__ }}", "{{ optics['__class__'] }}", "{{ optics|attr('_known') }}",
    "{{ optics._known }}", "{{ optics._ask('optics.focal_ratio') }}", "{{ open('/etc/passwd').read() }}",
    "{{ optics.focal_ratio.written.format }}", "{{ ('{0.__class__}').format(1) }}", "{{ namespace(x=1) }}",
    "{% set x = 1 %}", "{% import 'os' as os %}", "{% include '/etc/passwd' %}", "{# {{ optics.focal_ratio }} #}",
    "{{ [].append(1) }}", "{{ 'x'|map('upper')|list }}", "{{ ''|e.__globals__ }}",
]
BOMBS = ["{{ 9**9**9 }}", "{{ 'a'*10**9 }}", "{{ 10**9*'a' }}", "{{ [0]*10**9 }}", "{{ range(10**9)|list }}",
         "{{ '%999999999d'%1 }}", "{{ 'a'|center(999999999) }}", "{{ optics.focal_ratio.value|round(9**9**9) }}",
         "{{ (1,)*999999999 }}", "{{ " + "(" * 400 + "1" + ")" * 400 + " }}", "{{ " + "-" * 5000 + "1 }}",
         "{{ " + "'a'~" * 20_000 + "'a' }}", "{{ " * 2000 + "1" + " }}" * 2000]
WHERE = {
    "prose": lambda text: (SPEC, {"pages/overview.md": f"{text}\n"}),
    "a step": lambda text: (SPEC, step(body=text)),
    "the spec": lambda text: (SPEC.replace("{name: Gift, authors: [Somebody]}",
                                           "\n  name: Gift\n  summary: |\n    " + text), {}),
}


@pytest.mark.parametrize("text", ESCAPES)
@pytest.mark.parametrize("where", WHERE)
def test_expressions_reach_nothing_but_results(make: Make, refused: Refused, where: str, text: str) -> None:
    spec, files = WHERE[where](text)
    said = refused(make(spec, **files))
    assert all(re.match(r"\S*gift/\S+:\d+: ", line) for line in said), said
    assert not any(word in line for line in said for word in ("<class", "<function", "root:", "0x"))


@pytest.mark.parametrize("text", BOMBS, ids=lambda text: text[:24])
@pytest.mark.parametrize("where", WHERE)
def test_expressions_take_no_time_and_no_room(make: Make, tmp_path: Path, where: str, text: str) -> None:
    spec, files = WHERE[where](text)
    began = time.monotonic()
    site, said = tried(make(spec, **files), tmp_path / "out")
    assert time.monotonic() - began < SOON
    assert len(said) < 20_000
    assert site is None or len(everything_in(site)) < 5_000_000


ACTIVE = ("<script>fetch('//example.org')</script><img src=x onerror=alert(1) alt=x><a href='javascript:alert(1)'>x</a>"
          "<iframe src=//example.org></iframe><form action=//example.org><button>x</button></form><base href=//x/>"
          "<link rel=stylesheet href=//example.org/a.css><meta http-equiv=refresh content=0>")


def test_no_html_of_a_build_is_active_anywhere(make: Make, publish: Publish) -> None:
    """In prose, in a step, and in every text of the spec: nothing of it is a tag of the page that could act."""
    name = "<script>alert(1)</script><img src=x onerror=alert(2)>"
    spec = SPEC.replace("{name: Gift, authors: [Somebody]}",
                        f"{{name: \"{name}\", summary: \"{name}\", authors: [\"{name}\"]}}")
    spec += f"parts: [{{ref: P1, name: \"{name}\", why: \"{name}\", group: \"{name}\"}}]\n"
    spec += f"goals: [{{result: optics.focal_ratio, at_least: 9, because: \"{name}\"}}]\n"
    build = make(spec, **{"pages/notes.md": f"{ACTIVE}\n\nEnd of notes.\n", **step(body=f"{ACTIVE}\n\nEnd of step.")},
                 **{"x": b"\x89PNG\r\n\x1a\n", "pages/x": b"\x89PNG\r\n\x1a\n"})
    site = publish(build)
    pages = [path.read_text("utf-8") for path in site.glob("*.html")]
    assert any("End of notes." in page for page in pages)
    assert any("End of step." in page for page in pages)
    for page in pages:
        assert not re.search(r"<script>(alert|fetch)|<img[^>]*onerror|javascript:|<iframe|<form|<base|=.?refresh", page)
        assert "example.org" not in page


def test_no_page_may_fetch_from_elsewhere_or_run_what_is_written_into_it(make: Make, publish: Publish) -> None:
    for path in publish(make()).glob("*.html"):
        page = path.read_text("utf-8").replace("&#39;", "'")
        policy = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)"', page)
        assert policy, path.name
        rules = dict(rule.strip().split(" ", 1) for rule in policy[1].split(";"))
        assert rules["default-src"] == "'none'"
        assert "unsafe-inline" not in rules["script-src"]
        assert not re.search(r"https?:|\*", policy[1])


@pytest.mark.parametrize("address", ["file:///etc/passwd", "http://127.0.0.1/", f"{_BASE}../../etc/passwd",
                                     f"{_BASE}build.yaml", _BASE, "data:text/plain,x", "/etc/passwd", "packet.css", ""])
def test_the_packets_engine_gets_nothing_but_what_it_is_handed(address: str) -> None:
    fetcher = _only({"packet.css": b"body {}"})
    assert fetcher.fetch(f"{_BASE}packet.css")
    with pytest.raises(ValueError, match="nothing from elsewhere"):
        fetcher.fetch(address)


BOMB = "a: &a [x,x,x,x,x,x,x,x,x]\n" + "".join(
    f"{name}: &{name} [{','.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdefg", "bcdefgh", strict=True))
TOO_MUCH = {"aliases": BOMB, "depth": "a: " + "[" * 2000 + "]" * 2000, "size": "# " + "x" * 2_000_000,
            "values": "a: [" + "1," * 200_000 + "1]", "keys": "".join(f"k{n}: 1\n" for n in range(60_000))}


@pytest.mark.parametrize("what", TOO_MUCH)
@pytest.mark.parametrize("where", ["spec", "page", "step", "measured"])
def test_no_text_of_a_build_is_too_much(make: Make, refused: Refused, tmp_path: Path, where: str, what: str) -> None:
    text = TOO_MUCH[what]
    front = f"---\n{text}\n---\n\nText.\n"
    began = time.monotonic()
    if where == "measured":
        (tmp_path / "mine.yaml").write_text(text)
        with pytest.raises(Unusable) as caught:
            load_build(make(), tmp_path / "mine.yaml")
        said = [str(problem) for problem in caught.value.problems]
    else:
        files = {"page": {"pages/notes.md": front}, "step": {"pages/steps/01-look.md": front}}.get(where, {})
        said = refused(make(SPEC + text if where == "spec" else SPEC, **files))
    assert said
    assert sum(map(len, said)) < 100_000
    assert time.monotonic() - began < SOON


def test_no_number_of_steps_is_too_much(make: Make, refused: Refused) -> None:
    build = make(**{f"pages/steps/{number:03}-x{number}.md": "---\ntitle: X\n---\n" for number in range(201)})
    assert any("holds more than 200 steps" in text for text in refused(build))


def test_what_is_no_ordinary_file_is_not_waited_for(make: Make, refused: Refused) -> None:
    build = make(**{"pages/one.md": "x"})
    os.mkfifo(build / "pages" / "two.md")
    assert any("is not an ordinary file" in text for text in refused(build))
