"""The help pages in the terminal: one code, one check, or the list of all."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from purlwright.findings import Severity
from purlwright.proof.carried import CARRIED, WITHOUT_OWN
from purlwright.proof.catalogue import CATALOGUE, FAMILIES, Entry
from purlwright.proof.pages import Page
from purlwright.proof.said import and_list
from purlwright.proof.two_examples import Examples
from purlwright.proof.unseen import UNSEEN
from purlwright.terminal.look import Look, plain, wrap

__all__ = ["show_all_pages", "show_check", "show_mistake", "show_page"]

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


def show_mistake(title: str, paragraphs: Iterable[str], look: Look) -> list[str]:
    """A mistake at the needles."""
    wide = min(look.width, 92)
    return [look.strong(title), "", *(line for words in paragraphs for line in wrap(words, wide, "  "))]


_NEEDS = {
    "text": "from the words alone",
    "gauge": "from the words and the gauge",
    "sizes": "from the words and the list of sizes",
    "a person": "by a person; no program can",
}


def _examples(both: Examples | None) -> Iterator[tuple[str, str]]:
    """Each small pattern with what is said of it."""
    if both is None:
        return
    for head, text in (
        ("It does not hold in this pattern:", both.fails),
        ("It cannot be decided in this one:", both.undecided),
        ("It holds in this one:", both.holds),
    ):
        if text is not None:
            yield head, text


def show_check(
    entry: Entry, pages: Sequence[Page], look: Look, *, built: bool, both: Examples | None = None
) -> list[str]:
    """What a check asks and is decided from, small patterns in which it fails and holds, what it can find."""
    wide = min(look.width, 92)
    out = [
        look.strong(f"{entry.check}  {entry.title}"),
        *wrap(f"{FAMILIES[entry.family]}; decided {_NEEDS[entry.needs]}.", look.width),
        "",
        *wrap(f"When it holds: {entry.title}. What it looks at: {entry.noun}.", wide),
    ]
    if entry.needs == "a person":
        out += wrap(
            "Purlwright does not judge it; every proof names it among what is left for a person.", wide
        )
    elif built:
        unseen = f" It leaves to the reader: {UNSEEN[entry.check]}." if entry.check in UNSEEN else ""
        out += wrap(f"Purlwright makes this check in every proof.{unseen}", wide)
    else:
        out += wrap("Purlwright does not make this check yet; every proof says so.", wide)
    if entry.check in WITHOUT_OWN:
        by = and_list([name for name in CARRIED[entry.check] if name in CATALOGUE])
        out += wrap(
            "It has no finding of its own: what is wrong is told once, where it shows, by the findings of "
            f"{by}, and the proof names the one that tells it.",
            wide,
        )
    for head, text in _examples(both):
        out += ["", look.strong(head), ""]
        out += [f"    {plain(line)}".rstrip() for line in text.splitlines()]
    if pages:
        out += ["", *wrap("What it can find:" if len(pages) > 1 else "What it finds:", wide)]
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
