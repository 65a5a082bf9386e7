#!/usr/bin/env python3
"""Photograph the web pages of a sheet for the README: light, and beside it dark if asked for.

    scripts/photograph.py OUT.png PATTERN --as html|follow [--wide N] [--high N]
                          [--at HEADING] [--tick N] [--dark-too]

The picture carries the words that can be seen in it, so that a test can hold them against today's page.
Run it with the Python of .venv; CHROMIUM names the browser (`scripts/browser` finds one).
"""

from __future__ import annotations

import argparse
import os
import tempfile
from io import BytesIO
from pathlib import Path
from typing import Any

GAP, INKS = 24, 128
# The words that lie in the window, in reading order.
SEEN = """() => {
  const seen = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text = texts.nextNode(); text; text = texts.nextNode()) {
    const range = document.createRange();
    range.selectNodeContents(text);
    const box = range.getBoundingClientRect();
    const inWindow = box.width > 2 && box.bottom > 0 && box.top < innerHeight;
    if (inWindow && text.data.trim()) seen.push(text.data.trim());
  }
  return seen.join(" ");
}"""


def asked(line: list[str] | None = None) -> argparse.Namespace:
    """What a line asks for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("out")
    parser.add_argument("pattern")
    parser.add_argument("--as", dest="kind", choices=["html", "follow"], required=True)
    parser.add_argument("--wide", type=int, default=390)
    parser.add_argument("--high", type=int, default=700)
    parser.add_argument("--at", default="")
    parser.add_argument("--tick", type=int, default=0)
    parser.add_argument("--dark-too", action="store_true")
    return parser.parse_args(line)


def page_of(pattern: Path, kind: str) -> str:
    """The page, as the command `purlwright sheet` writes it."""
    from purlwright.sheet.out.follow import to_follow
    from purlwright.sheet.out.html import to_html
    from purlwright.workup import work_up

    document = work_up(pattern.read_text(encoding="utf-8"), pattern.name).sheet(
        follow=kind == "follow", cloth=kind == "html"
    )
    return to_html(document) if kind == "html" else to_follow(document)


def photographed(browser: Any, html: str, want: argparse.Namespace, *, dark: bool) -> tuple[bytes, str]:
    """One picture as PNG, and the words in it."""
    context = browser.new_context(
        viewport={"width": want.wide, "height": want.high}, color_scheme="dark" if dark else "light"
    )
    try:
        page = context.new_page()
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "page.html"
            file.write_text(html, encoding="utf-8")
            page.goto(file.as_uri())
        page.evaluate("document.fonts.ready")
        if want.kind == "follow":
            if page.locator("#_choose").is_visible():
                page.locator("#_sizes button").first.click()
            page.evaluate("n => { while (n-- > 0) document.getElementById('_done').click(); }", want.tick)
        if want.at:
            page.get_by_role("heading", name=want.at, exact=True).evaluate("head => head.scrollIntoView()")
        return page.screenshot(), page.evaluate(SEEN)
    finally:
        context.close()


def main() -> None:
    """Draw one picture."""
    from PIL import Image, PngImagePlugin
    from playwright.sync_api import sync_playwright

    want = asked()
    html = page_of(Path(want.pattern), want.kind)
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ["CHROMIUM"], args=["--no-sandbox"] if is_root else []
        )
        taken = [photographed(browser, html, want, dark=dark) for dark in (False, True)[: 1 + want.dark_too]]
        browser.close()
    views = [Image.open(BytesIO(data)).convert("RGB") for data, _ in taken]
    whole = Image.new("RGB", (sum(v.width for v in views) + GAP * (len(views) - 1), want.high), "white")
    for n, view in enumerate(views):
        whole.paste(view, (n * (view.width + GAP), 0))
    told = PngImagePlugin.PngInfo()
    told.add_itxt("Words", taken[0][1])
    whole.quantize(INKS, dither=Image.Dither.NONE).save(want.out, optimize=True, pnginfo=told)


if __name__ == "__main__":
    main()
