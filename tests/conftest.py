"""What several folders of tests share: a browser, and the demo published once."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

PROJECT = Path(__file__).parents[1]
TEASEL = PROJECT / "content" / "teasel-150"
CHROMIUM_FLAGS = [
    "--no-sandbox",  # needed where the tests run as root; every page shown is the project's own
    "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]


MOST_PROCESSES = 4  # each has a browser and a published site of its own


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """The whole ordinary suite uses the machine's cores. What is picked out of it starts at once, and the long tests,
    which measure times, have the machine to themselves."""
    option = config.option
    whole = option.markexpr == "not long" and not option.keyword and config.args == config.getini("testpaths")
    return min(os.cpu_count() or 1, MOST_PROCESSES) if whole else 0


def system_chromium() -> str | None:
    """The system's Chromium or Chrome; None leaves playwright to its own. A snap cannot be driven from here."""
    names = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
    found = (shutil.which(name) for name in names)
    return next((path for path in found if path and "snap" not in os.path.realpath(path)), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One headless Chromium for all tests."""
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=system_chromium(), args=CHROMIUM_FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A fresh page 1280 px wide that remembers nothing of earlier ones."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def teasel_site(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The demo published once, without its packet: the folder with its index.html. Do not write into it."""
    return _published_once(tmp_path_factory, worker_id, "teasel-site", "--no-packet")


@pytest.fixture(scope="session")
def teasel_with_packet(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The same with its packet, which takes a minute: for tests that are marked long."""
    return _published_once(tmp_path_factory, worker_id, "teasel-with-packet")


def _published_once(factory: pytest.TempPathFactory, worker_id: str, name: str, *how: str) -> Path:
    """Where tests run on several cores their processes share it: the first to ask publishes, the others wait."""
    base = factory.getbasetemp()
    out = (base if worker_id == "master" else base.parent) / name
    out.parent.mkdir(exist_ok=True)
    with (out.parent / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (out / TEASEL.name).is_dir():
            run_dossier("publish", str(TEASEL), "--out", str(out), *how)
    return out / TEASEL.name


def run_dossier(*words: str) -> subprocess.CompletedProcess[str]:
    """``dossier`` with these words, from the project's root. Fails the test where it does not exit with 0."""
    done = subprocess.run([sys.executable, "-m", "dossier", *words], cwd=PROJECT, capture_output=True, text=True,
                          check=False)
    assert done.returncode == 0, done.stderr
    return done
