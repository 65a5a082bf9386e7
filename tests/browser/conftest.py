"""One Chromium for all, with the network off. A page that complains, or asks for anything from outside, fails its test."""

import os
import re
import shutil
import subprocess
import sys
import zlib
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from urllib.parse import quote

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")


def path_of_chromium():
    path = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        pytest.fail("the browser tests need Chromium; scripts/browser installs it or says how")
    return path


@pytest.fixture(scope="session")
def chromium():
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=path_of_chromium(), args=["--no-sandbox"] if is_root else []
        )
        yield browser
        browser.close()


@pytest.fixture
def complaints():
    """What the pages of a test have complained of, or asked for from outside: in the end, nothing."""
    return []


@pytest.fixture
def device(chromium, complaints):
    """Makes devices: a device keeps its own storage, is off the network, and opens pages."""
    made = []

    def make(*, width=390, height=844, dark=False, script=True, before="", **kind):
        context = chromium.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            java_script_enabled=script,
            **kind,
        )
        context.set_offline(True)
        context.set_default_timeout(30_000)  # a busy machine is slow, not wrong
        if before:
            context.add_init_script(before)
        context.on("request", lambda request: _asked(request.url, complaints))
        context.on(
            "console",
            lambda message: message.type in {"error", "warning"} and complaints.append(message.text),
        )
        context.on("weberror", lambda error: complaints.append(str(error.error)))
        made.append(context)
        return context

    yield make
    for context in made:
        context.close()
    assert complaints == []


def _asked(url, complaints):
    if not url.startswith(("file:", "data:", "about:")):
        complaints.append(f"asks for {url}")


@pytest.fixture
def saved(tmp_path):
    """Saves a page as a file and gives its address."""

    def save(html, name=""):
        path = tmp_path / (name or f"{zlib.crc32(html.encode('utf-8'))}.html")
        path.write_text(html, encoding="utf-8")
        return path.as_uri()

    return save


@pytest.fixture
def opened(device, saved):
    """Opens a page on a device of its own."""

    def open_(html, *, at="", **kind):
        page = device(**kind).new_page()
        page.goto(saved(html) + at)
        return page

    return open_


AXE = Axe()
RULES = {"resultTypes": ["violations"], "rules": {"target-size": {"enabled": True}}}


@pytest.fixture(scope="session")
def barriers():
    """What axe-core has against a page, every rule of it, the size of targets included."""

    def find(page):
        found = AXE.run(page, options=RULES).response["violations"]
        return [
            (rule["id"], [(node["html"][:200], node["failureSummary"]) for node in rule["nodes"]][:4])
            for rule in found
        ]

    return find


# --- the bench ------------------------------------------------------------------------------------

AWAY = "try { localStorage.setItem('purlwright-guide', 'away'); } catch { /* a frame that may not keep anything */ }"
NUMBERS = count(1)
LINK = re.compile(r"(http://127\.0\.0\.1:\d+)/open\?key=\S+")


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningBench:
    """A bench in a process of its own, on a folder of its own."""

    folder: Path
    home: str
    link: str

    def write(self, name, text):
        """A file of hers; its name is new, because what was written under an old one is kept."""
        path = self.folder / f"{name}-{next(NUMBERS)}.pattern.md"
        path.write_text(text, encoding="utf-8")
        return path.name


@pytest.fixture(scope="module")
def running_bench(tmp_path_factory):
    folder = tmp_path_factory.mktemp("patterns")
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "purlwright", "bench", str(folder), "--no-open"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    told = ""
    for line in process.stdout:
        told += line
        if found := LINK.search(line):
            break
    else:
        pytest.fail(f"the bench did not open: {told}")
    yield RunningBench(folder=folder, home=found[1], link=found[0])
    process.terminate()
    process.wait(20)
    process.stdout.close()


@pytest.fixture
def bench(running_bench):
    """The bench of this module, its folder emptied for the test."""
    for path in running_bench.folder.iterdir():
        if path.suffix == ".md":
            path.unlink()
    return running_bench


@pytest.fixture
def window(chromium, complaints, bench):
    """Opens windows of the bench; one that asks anything of any other place fails its test."""
    made = []

    def open_(
        path="", leaf="words", *, width=1280, height=900, dark=False, guide=False, context=None, **kind
    ):
        if context is None:
            context = chromium.new_context(
                viewport={"width": width, "height": height},
                color_scheme="dark" if dark else "light",
                accept_downloads=True,
                **kind,
            )
            made.append(context)
            context.set_default_timeout(60_000)
            if not guide:
                context.add_init_script(AWAY)
            context.on("request", lambda request: _asked_of_others(request.url, bench.home, complaints))
            context.on("console", lambda message: _complained(message, complaints))
            context.on("weberror", lambda error: complaints.append(str(error.error)))
        page = context.new_page()
        if path:  # the key by itself, so that the page is loaded once and only at the address that is wanted
            assert context.request.get(bench.link).ok
            page.goto(f"{bench.home}/#{quote(path, safe='')}/{leaf}")
            page.wait_for_selector(f".sheet .leaf-{leaf} > *")
        else:
            page.goto(bench.link)
        page.wait_for_selector(".sheet .leaf > *")
        return page

    yield open_
    for context in made:
        context.close()
    assert complaints == []


def _asked_of_others(url, home, complaints):
    if not url.startswith((home, "data:", "blob:", "about:")):
        complaints.append(f"asks for {url}")


def _complained(message, complaints):
    """What the page puts into words, a refusal or a lost line, is no complaint; anything else that it logs is."""
    known = ("the server responded with a status of 4", "net::ERR_INTERNET_DISCONNECTED", "GL Driver Message")
    refused = any(words in message.text for words in known)
    if message.type in {"error", "warning"} and not refused:
        complaints.append(message.text)
