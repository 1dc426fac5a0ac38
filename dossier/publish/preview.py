"""``dossier preview``: the pages on the loopback, published again and reloaded whenever something is saved."""

from __future__ import annotations

import contextlib
import json
import sys
import tempfile
import threading
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from dossier.errors import Problem, Unusable

# Asks once a second for the number of the last publication and loads the page again when it has changed. A file of its
# own, since the pages' content security policy lets no script run that is written into them.
RELOAD = b"""(function () {
  var shown = document.currentScript.dataset.edition;
  setInterval(function () {
    fetch('/-/edition').then(function (answer) { return answer.json(); }).then(function (edition) {
      if (String(edition) !== shown) location.reload();
    }).catch(function () {});
  }, 1000);
})();
"""
RELOAD_FILE, EDITION_FILE = "/-/reload.js", "/-/edition"
_LOADS_IT = f'<script src="{RELOAD_FILE}" data-edition="%d" defer></script></body>'

Say = Callable[[str], Any]


class Edition:
    """Counts the publications, so that a browser can tell that there is a newer one."""

    def __init__(self) -> None:
        self.number = 0


class Handler(SimpleHTTPRequestHandler):
    """Serves the published folder; adds the reload script to pages; tells the edition."""

    def __init__(self, *args: Any, edition: Edition, hosts: frozenset[str], **kwargs: Any) -> None:
        self._edition, self._hosts = edition, hosts
        super().__init__(*args, **kwargs)

    def do_GET(self) -> None:
        if self._is_foreign():
            return
        edition = self._edition.number  # before the page is read: a page newer than its number only loads once more
        if self.path == EDITION_FILE:
            self._send(json.dumps(edition).encode(), "application/json")
        elif self.path == RELOAD_FILE:
            self._send(RELOAD, "text/javascript; charset=utf-8")
        elif (page := self._page()) is not None:
            self._send(page.replace(b"</body>", (_LOADS_IT % edition).encode()), "text/html; charset=utf-8")
        else:
            super().do_GET()

    def do_HEAD(self) -> None:
        if not self._is_foreign():
            super().do_HEAD()

    def _is_foreign(self) -> bool:
        """Refuse what does not ask for this machine: a page elsewhere must not read the draft through a name of its own
        that it points here."""
        foreign = self.headers.get("Host", "") not in self._hosts
        if foreign:
            self.send_error(403, "Ask for 127.0.0.1")
        return foreign

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Requests are not worth a line each."""

    def _page(self) -> bytes | None:
        path = Path(self.translate_path(self.path))
        if path.is_dir() and self.path.split("?")[0].endswith("/"):
            path /= "index.html"
        try:
            return path.read_bytes() if path.suffix == ".html" else None
        except OSError:  # there is none, or the folder was swapped in between
            return None

    def _send(self, body: bytes, kind: str) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


class Server(ThreadingHTTPServer):
    """A server on the loopback that does not mind a browser that leaves in the middle of an answer."""

    def handle_error(self, request: Any, client_address: Any) -> None:
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def serve(build: Path, *, port: int, theme: str, measured: Path | None, say: Say,
          complain: Callable[[Unusable], None], stop: threading.Event | None = None) -> None:
    """Publish into a folder of its own, serve it on 127.0.0.1 and publish again on every change, until Ctrl-C.

    A change that makes the spec unusable is complained of, and the last good pages stay. ``stop`` ends it as well.
    """
    from watchfiles import watch

    from dossier.publish.themes import theme_folder

    with contextlib.suppress(KeyboardInterrupt), tempfile.TemporaryDirectory(prefix="dossier-preview-") as scratch:
        out, edition = Path(scratch), Edition()
        watched = _watched(build, theme_folder(theme), measured)
        again = partial(_publish_once, build, out, theme, measured, edition, complain)
        with _server(out, port, edition) as server:
            seen = _stamps(watched)
            again()
            name = (build.parent if build.is_file() else build).resolve().name
            say(f"http://127.0.0.1:{server.server_port}/{name}/  (Ctrl-C ends)")
            threading.Thread(target=server.serve_forever, daemon=True).start()
            try:
                # Woken by a change, and each second for one that came before there was somebody to wake.
                for _ in watch(*watched, stop_event=stop, rust_timeout=1000, yield_on_timeout=True):
                    if (now := _stamps(watched)) != seen:
                        seen = now
                        again()
            finally:
                server.shutdown()


def _server(out: Path, port: int, edition: Edition) -> Server:
    try:
        server = Server(("127.0.0.1", port), SimpleHTTPRequestHandler)
    except OSError as error:
        why = f"cannot be served from: {(error.strerror or str(error)).lower()}; choose another --port"
        raise Unusable([Problem(f"127.0.0.1:{port}", 0, "", why)]) from None
    hosts = frozenset(f"{name}:{server.server_port}" for name in ("127.0.0.1", "localhost"))
    server.RequestHandlerClass = partial(Handler, directory=str(out), edition=edition, hosts=hosts)
    return server


def _publish_once(build: Path, out: Path, theme: str, measured: Path | None, edition: Edition,
                  complain: Callable[[Unusable], None]) -> None:
    from dossier.publish import Options, publish_all

    try:
        publish_all((build,), out, Options(theme=theme, measured=measured, no_packet=True), _quiet, _quiet)
        edition.number += 1
    except Unusable as error:
        complain(error)
    except OSError as error:  # an editor is still at it: a picture was there and is being written anew
        complain(Unusable([Problem(str(error.filename or build), 0, "", error.strerror or str(error))]))


def _quiet(_: str) -> None:
    """A preview says only where it is and what is wrong."""


def _watched(build: Path, theme: Path, measured: Path | None) -> tuple[Path, ...]:
    folder = build.parent if build.is_file() else build
    return (folder, theme) if measured is None else (folder, theme, measured)


def _stamps(watched: tuple[Path, ...]) -> dict[str, tuple[int, int]]:
    """When each file was last written, in ns, and its size, by its path."""
    files = (file for path in watched for file in ([path] if path.is_file() else path.rglob("*")))
    found = {}
    for file in files:
        with contextlib.suppress(OSError):  # an editor's own files come and go
            about = file.stat()
            found[str(file)] = (about.st_mtime_ns, about.st_size)
    return found
