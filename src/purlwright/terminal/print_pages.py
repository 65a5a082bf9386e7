"""The help pages in the terminal: one code, one check, or the list of all."""

from __future__ import annotations

import re
from collections.abc import Sequence

from purlwright.findings import Severity
from purlwright.proof.catalogue import CATALOGUE, FAMILIES, Entry
from purlwright.proof.pages import Page
from purlwright.terminal.look import Look, wrap

__all__ = ["show_all_pages", "show_check", "show_page"]

_SAID = {Severity.ERROR: "an error", Severity.WARNING: "a warning", Severity.NOTE: "a note"}


def _quoted(words: str) -> str:
    """A page's words of a pattern in quotation marks, as a terminal shows them; bare if they hold some."""
    return re.sub(r"``?([^`]+)``?", lambda m: m[1] if '"' in m[1] else f'"{m[1]}"', words)


def show_page(page: Page, look: Look) -> list[str]:
    """Code, check and severity; then the page, its paragraphs filled to the width."""
    check = f", of check {page.check}: {CATALOGUE[page.check].title}" if page.check in CATALOGUE else ""
    out = [look.strong(page.code), *wrap(f"This is {_SAID[page.severity]}{check}.", look.width), ""]
    wide = min(look.width, 92)
    for paragraph in re.split(r"\n\s*\n", _quoted(page.text)):
        lines = wrap(paragraph, wide)
        for head in ("Example:", "Cure:"):
            if lines and lines[0].startswith(head):
                lines[0] = look.strong(head) + lines[0][len(head) :]
        out += [*lines, ""]
    return out[:-1]


def show_check(entry: Entry, pages: Sequence[Page], look: Look, *, built: bool) -> list[str]:
    """What a check asks and what it is decided from; then a page for each of its findings."""
    needs = {
        "text": "the words alone",
        "gauge": "the words and the gauge",
        "sizes": "the words and the list of sizes",
        "a person": "a person; no program can",
    }[entry.needs]
    out = [
        look.strong(f"{entry.check}  {entry.title}"),
        *wrap(f"{FAMILIES[entry.family]}; decided from {needs}.", look.width),
    ]
    if not built and entry.needs != "a person":
        out += wrap("Purlwright does not make this check yet.", look.width)
    for page in pages:
        out += ["", *show_page(page, look)]
    return out


def show_all_pages(pages: Sequence[Page], look: Look) -> list[str]:
    """Every code under its check, one line each with the first sentence of its page."""
    out = [look.strong("Every kind of finding, by check"), ""]
    wide = max(len(page.code) for page in pages)
    family = None
    for page in pages:
        entry = CATALOGUE.get(page.check or "")
        here = entry.family if entry else ""
        if here != family:
            family = here
            out.append(look.strong(FAMILIES[here] if here else "Reading and the file"))
        first = re.split(r"(?<=[.?!])\s", " ".join(_quoted(page.text).split()), maxsplit=1)[0]
        lines = wrap(first, look.width - wide - 10)
        out.append(f"  {page.check or '    '}  {page.code:<{wide}}  {look.faint(lines[0] if lines else '')}")
        out += [f"{' ' * (wide + 10)}{look.faint(line)}" for line in lines[1:]]
    return [*out, "", "purlwright explain CODE tells more."]
