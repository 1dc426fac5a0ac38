"""``dossier preview``: the pages on the loopback, published again and reloaded whenever something is saved."""

from __future__ import annotations

import json
import tempfile
import threading
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from dossier.errors import Unusable

# Asks once a second for the number of the last publication and loads the page again when it has changed.
RELOAD = b"""<script>(function () {
  var seen = null;
  setInterval(function () {
    fetch('/-/edition').then(function (answer) { return answer.json(); }).then(function (edition) {
      if (seen !== null && edition !== seen) location.reload();
      seen = edition;
    }).catch(function () {});
  }, 1000);
})();</script>"""

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
        # A page elsewhere must not read the draft through a name that it points at this machine.
        if self.headers.get("Host", "") not in self._hosts:
            self.send_error(403, "Ask for 127.0.0.1")
        elif self.path == "/-/edition":
            self._send(json.dumps(self._edition.number).encode(), "application/json")
        elif (page := self._page()) is not None:
            self._send(page.replace(b"</body>", RELOAD + b"</body>"), "text/html; charset=utf-8")
        else:
            super().do_GET()

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Requests are not worth a line each."""

    def _page(self) -> bytes | None:
        path = Path(self.translate_path(self.path))
        if path.is_dir() and self.path.split("?")[0].endswith("/"):
            path /= "index.html"
        return path.read_bytes() if path.suffix == ".html" and path.is_file() else None

    def _send(self, body: bytes, kind: str) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


def serve(build: Path, *, port: int, theme: str, measured: Path | None, say: Say,
          complain: Callable[[Unusable], None], stop: threading.Event | None = None) -> None:
    """Publish into a folder of its own, serve it on 127.0.0.1 and publish again on every change, until Ctrl-C.

    A change that makes the spec unusable is complained of, and the last good pages stay. ``stop`` ends it as well.
    """
    from watchfiles import watch

    from dossier.publish.themes import theme_folder

    with tempfile.TemporaryDirectory(prefix="dossier-preview-") as scratch:
        out = Path(scratch)
        edition = Edition()
        again = partial(_publish_once, build, out, theme, measured, edition, complain)
        again()
        with _server(out, port, edition) as server:
            name = (build.parent if build.is_file() else build).resolve().name
            say(f"http://127.0.0.1:{server.server_port}/{name}/  (Ctrl-C ends)")
            threading.Thread(target=server.serve_forever, daemon=True).start()
            try:
                for _ in watch(*_watched(build, theme_folder(theme), measured), stop_event=stop,
                               raise_interrupt=False):
                    again()
            finally:
                server.shutdown()


def _server(out: Path, port: int, edition: Edition) -> ThreadingHTTPServer:
    server = ThreadingHTTPServer(("127.0.0.1", port), SimpleHTTPRequestHandler)
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


def _quiet(_: str) -> None:
    """A preview says only where it is and what is wrong."""


def _watched(build: Path, theme: Path, measured: Path | None) -> tuple[Path, ...]:
    folder = build.parent if build.is_file() else build
    return (folder, theme) if measured is None else (folder, theme, measured)
