#!/usr/bin/env python3
"""Photograph the page of the bench for the README.

    scripts/bench_picture.py OUT.png PATTERN [--wide N] [--high N] [--at WORDS] [--unfold LABEL] [--dark]

A bench is opened on a folder that holds this one pattern, and closed again. Run it with the Python of .venv;
CHROMIUM names the browser (`scripts/browser` finds one).
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.parse import quote

INKS = 128
PATIENCE_MS = 120_000
LINK = re.compile(r"(http://127\.0\.0\.1:\d+)/open\?key=\S+")


def asked() -> argparse.Namespace:
    """What the line asks for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("out")
    parser.add_argument("pattern")
    parser.add_argument("--wide", type=int, default=1280)
    parser.add_argument("--high", type=int, default=760)
    parser.add_argument("--at", default="")
    parser.add_argument("--unfold", default="")
    parser.add_argument("--dark", action="store_true")
    return parser.parse_args()


def photographed(browser: Any, link: str, name: str, want: argparse.Namespace) -> bytes:
    """The page once all that is told of the pattern stands on it."""
    context = browser.new_context(
        viewport={"width": want.wide, "height": want.high}, color_scheme="dark" if want.dark else "light"
    )
    context.set_default_timeout(PATIENCE_MS)
    context.add_init_script("localStorage.setItem('purlwright-guide', 'away')")
    page = context.new_page()
    page.goto(link)
    page.goto(f"{link.partition('/open')[0]}/#{quote(name, safe='')}/words")
    page.reload()
    page.wait_for_selector(".margin-left li[data-line]")
    page.locator(".contents a", has_text="The proof").locator(".figure:not(:empty)").wait_for()
    if page.locator(".remark-error").count():
        page.wait_for_selector(".remark .accept")
    if want.at:
        page.evaluate("() => scrollTo(0, 1200)")
        page.wait_for_timeout(500)
        page.locator(".cm-line", has_text=want.at).first.evaluate(
            "line => scrollTo(0, scrollY + line.getBoundingClientRect().top - 60)"
        )
    if want.unfold:
        page.locator(f'.beside[aria-label^="{want.unfold},"]').first.click()
        page.wait_for_selector(".leaflet .needles")
        page.wait_for_selector(".leaflet figure .print")
    page.mouse.move(1, 1)
    page.evaluate("document.fonts.ready")
    page.wait_for_timeout(500)
    picture: bytes = page.screenshot()
    context.close()
    return picture


def main() -> None:
    """Draw one picture."""
    from PIL import Image
    from playwright.sync_api import sync_playwright

    want = asked()
    with tempfile.TemporaryDirectory() as folder:
        name = Path(want.pattern).name
        shutil.copy(want.pattern, Path(folder) / name)
        command = [sys.executable, "-u", "-m", "purlwright", "bench", folder, "--no-open"]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as bench:
            link = next(found[0] for line in bench.stdout or () if (found := LINK.search(line)))
            is_root = hasattr(os, "geteuid") and os.geteuid() == 0
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(
                    executable_path=os.environ["CHROMIUM"], args=["--no-sandbox"] if is_root else []
                )
                data = photographed(browser, link, name, want)
                browser.close()
            bench.terminate()
    view = Image.open(BytesIO(data)).convert("RGB")
    view.quantize(INKS, dither=Image.Dither.NONE).save(want.out, optimize=True)


if __name__ == "__main__":
    main()
