"""``dossier preview``: on the loopback only, newer pages by themselves, the last good ones while a spec is broken."""

from __future__ import annotations

import http.client
import json
import re
import signal
import socket
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Self

import pytest
from playwright.sync_api import Page, expect

from tests.cli.conftest import BROKEN, DOSSIER, SOUND, environment, run, write
from tests.conftest import PROJECT

WAIT = 30.0


class Preview:
    """A running preview of one build: its address, what it said, and what a browser would get."""

    def __init__(self, build: Path, *words: str) -> None:
        self.process = subprocess.Popen([*DOSSIER, "preview", str(build), "--port", "0", *words], cwd=PROJECT,
                                        env=environment(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.said: list[str] = []
        assert self.process.stderr
        self._reader = threading.Thread(target=self._read, args=(self.process.stderr,), daemon=True)
        self._reader.start()
        assert self.process.stdout
        found = re.match(r"http://127\.0\.0\.1:(\d+)(/\S*)", self.process.stdout.readline())
        assert found, self.said
        self.port, self.path = int(found[1]), found[2]

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.process.kill()
        self.process.wait()
        self._reader.join(WAIT)
        for stream in (self.process.stdout, self.process.stderr):
            assert stream
            stream.close()

    def _read(self, stream: Any) -> None:
        self.said.extend(stream)

    def get(self, path: str | None = None, *, host: str | None = None, how: str = "GET") -> tuple[int, str]:
        """Status and text of an answer; ``host`` is what the browser says it asks for."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=WAIT)
        connection.request(how, path or self.path, headers={"Host": host or f"127.0.0.1:{self.port}"})
        answer = connection.getresponse()
        text = answer.read().decode()
        connection.close()
        return answer.status, text

    @property
    def edition(self) -> int:
        number: int = json.loads(self.get("/-/edition")[1])
        return number

    def end(self) -> int:
        """The exit status after Ctrl-C."""
        self.process.send_signal(signal.SIGINT)
        status = self.process.wait(WAIT)
        self._reader.join(WAIT)
        return status


def until(true: Callable[[], bool]) -> None:
    """Wait until this holds; fail where it does not in half a minute."""
    end = time.monotonic() + WAIT
    while not true():
        assert time.monotonic() < end, "did not come true"
        time.sleep(0.05)


PROSE = {"pages/overview.md": "It shows {{ optics.focal_ratio }}.\n"}


@pytest.fixture
def build(tmp_path: Path) -> Path:
    return write(tmp_path / "sound", SOUND, **PROSE)


@pytest.fixture
def preview(build: Path) -> Iterator[Preview]:
    with Preview(build) as running:
        yield running


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Preview]:
    """One that nothing is done to but asking."""
    with Preview(write(tmp_path_factory.mktemp("served") / "sound", SOUND, **PROSE)) as running:
        yield running


def test_serves_the_pages_and_ends_on_ctrl_c(preview: Preview) -> None:
    status, page = preview.get()
    assert status == 200
    assert preview.path == "/sound/"
    assert "Sound" in page
    assert "/-/reload.js" in page
    assert preview.get("/-/reload.js")[0] == 200
    assert preview.get("/sound/results.json")[0] == 200
    assert preview.get("/sound/nowhere.html")[0] == 404
    for _ in range(5):
        leave_early(preview.port)
    assert preview.get()[0] == 200
    assert preview.end() == 0
    assert preview.said == []


def leave_early(port: int) -> None:
    """Ask for a page and close with a reset before the answer."""
    connection = socket.create_connection(("127.0.0.1", port), timeout=WAIT)
    connection.sendall(f"GET /sound/ HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
    connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, b"\1\0\0\0\0\0\0\0")
    connection.close()


def test_listens_on_the_loopback_address_and_no_other(served: Preview) -> None:
    """127.0.0.2 is this machine as well: a server on every address would answer there."""
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", served.port), timeout=WAIT)


@pytest.mark.parametrize("how", ["GET", "HEAD"])
@pytest.mark.parametrize("host", ["evil.example.org", "evil.example.org:{port}", "127.0.0.1", "192.168.1.2:{port}"])
def test_refuses_a_foreign_host(served: Preview, how: str, host: str) -> None:
    """A page elsewhere that points a name of its own at this machine."""
    for path in ("/sound/", "/sound/results.json", "/-/edition", "/"):
        status, text = served.get(path, host=host.format(port=served.port), how=how)
        assert status == 403
        assert "Sound" not in text
    assert served.get(host=f"localhost:{served.port}")[0] == 200


@pytest.mark.parametrize("path", ["/../build.yaml", "/sound/../../build.yaml", "/%2e%2e/%2e%2e/etc/passwd",
                                  "//etc/passwd"])
def test_serves_nothing_outside_its_folder(served: Preview, path: str) -> None:
    assert served.get(path)[0] == 404


def test_follows_spec_and_prose_and_keeps_the_last_good_pages(tmp_path: Path) -> None:
    """Begun with a broken spec, which is mended, changed, broken and mended again."""
    build = write(tmp_path / "sound", BROKEN, **PROSE)

    def focal_ratio() -> float:
        status, text = preview.get("/sound/results.json")
        value: float = json.loads(text)["results"]["optics.focal_ratio"]["value"] if status == 200 else 0.0
        return value

    with Preview(build) as preview:
        until(lambda: bool(preview.said))
        assert preview.get()[0] == 404
        write(build, SOUND)
        until(lambda: focal_ratio() == 8)
        first = preview.edition
        write(build, SOUND.replace("1200 mm", "1350 mm"))
        until(lambda: focal_ratio() == 9 and preview.edition > first)
        second = preview.edition
        (build / "pages" / "overview.md").write_text("A new first page.\n")
        until(lambda: preview.edition > second and "A new first page." in preview.get()[1])
        preview.said.clear()
        third = preview.edition
        write(build, BROKEN)
        until(lambda: bool(preview.said))
        assert "build.yaml:3: primary.aperture: needs a unit" in preview.said[0]
        assert (focal_ratio(), preview.edition) == (9, third)
        write(build, SOUND)
        until(lambda: focal_ratio() == 8 and preview.edition > third)
        assert preview.end() == 0


def test_a_taken_port_is_said(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ended = run("preview", write(tmp_path / "x", SOUND), "--port", str(port))
    assert ended.returncode == 2
    assert f"127.0.0.1:{port}" in ended.stderr
    assert "--port" in ended.stderr


def test_no_build_and_no_theme_are_said(tmp_path: Path, sound: Path) -> None:
    assert run("preview", tmp_path / "nowhere", "--port", "0").returncode == 2
    ended = run("preview", sound, "--port", "0", "--theme", "drawing-ofice")
    assert ended.returncode == 2
    assert "did you mean 'drawing-office'?" in ended.stderr


def test_a_browser_shows_the_newer_page_by_itself(preview: Preview, build: Path, page: Page) -> None:
    """Through the pages' own content security policy, which lets no script in a page run."""
    noise: list[str] = []
    page.on("console", lambda message: noise.append(message.text))
    page.on("pageerror", lambda error: noise.append(str(error)))
    page.goto(f"http://127.0.0.1:{preview.port}{preview.path}")
    expect(page.locator("body")).to_contain_text("It shows")
    (build / "pages" / "overview.md").write_text("Written while you were looking.\n")
    expect(page.locator("body")).to_contain_text("Written while you were looking.", timeout=1000 * WAIT)
    assert noise == []
