"""Text as it comes out of a word processor, a web page or a PDF, put right so that it reads like the
printed sheet.

In: text that was pasted. Out: the text put right, with each change told: what stood there, what stands
there now, and why. Words are never changed, only what copying did to them: hyphens and line ends, signs
that look alike, page numbers.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

__all__ = ["Change", "PutRight", "put_right"]


@dataclass(frozen=True, slots=True)
class Change:
    """One change: where the new words stand in the new text, in code points, the old words, and why."""

    start: int
    end: int
    before: str
    why: str


@dataclass(frozen=True, slots=True)
class PutRight:
    """The text and its changes, in order."""

    text: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class _Edit:
    start: int
    end: int
    words: str
    why: str


UNSEEN = "a sign that cannot be seen was taken out"
SPACE = "a space of another kind was made a plain one"
LIGATURE = "letters that the print joins were parted"
QUOTE = "a curly or slanted mark was made a plain one"
DASH = "a minus sign was made a hyphen"
FRACTION = "a fraction was put together again"
BULLET = "a list mark at the beginning of a line was taken out"
PAGE = "a page number was taken out"
RUNNING = "a line that stands on every page was taken out"
HYPHEN = "a word that was parted at the end of a line was joined"
COMPOUND = "a word with a hyphen at the end of a line was joined, and keeps it"
WRAPPED = "a line that the page was too narrow for was joined"
SPACES = "several spaces were made one"
EMPTY = "empty lines were made one"

_QUOTES = {**dict.fromkeys("‘’‚‛′´", "'"), **dict.fromkeys("“”„‟″", '"')}
_LIGATURES = {"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st"}
_GLYPHS = {
    (1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 3): "⅓", (2, 3): "⅔",
    (1, 8): "⅛", (3, 8): "⅜", (5, 8): "⅝", (7, 8): "⅞",
}  # fmt: skip
_UNSEEN = re.compile("[\u200b-\u200f\u2060\ufeff\x00-\x08\x0e-\x1f\x7f\ufffc]|\u00ad(?!\n)")
_SPACE = re.compile("[\u00a0\u2000-\u200a\u202f\u205f\u3000\t]")
_FRACTION = re.compile(r"(?<![\d⁄/])(\d*?)(\d)\s?⁄\s?(\d)(?!\d)")
_BULLET = re.compile(r"^[ ]*(?:[•▪◦‣●○■□▢☐❏·∙➢►\uf0b7\uf0a7]|[–—-](?=\s+[A-Z]))[ ]+", re.MULTILINE)
_PAGE_OF = re.compile(
    r"(?:-|–)?\s*(?:page|p\.)\s*(\d{1,3})(?:\s*(?:of|/)\s*\d{1,3})?\s*(?:-|–)?|(\d{1,3})\s*(?:of|/)\s*\d{1,3}",
    re.IGNORECASE,
)
_BARE = re.compile(r"[-–]?\s*(\d{1,3})\s*[-–]?")
_LABEL = re.compile(
    r"(?:\d+(?:st|nd|rd|th) (?:row|rnd|round)|(?:next|following|foll|first|last|every|each) "
    r"|(?:row|rnd|round)s?\b"
    r"|sizes?\b|note\b|work\b|cast\b|rep(?:eat)?\b|knit\b|purl\b|join\b|bind\b|using\b|with\b|cont(?:inue)?\b"
    r"|set[- ]?up\b|dec(?:rease)?\b|inc(?:rease)?\b|shape\b|piece\b|ws\b|rs\b|k\d|p\d|\*|>|#|```|\|)",
    re.IGNORECASE,
)
_FIRST = frozenset(
    "two three four five six seven eight nine ten self half well non multi single double".split()
)
"""Words after which a hyphen is nearly always meant."""
_EXPLAINS = re.compile(r"[^,.;:]{1,45}:\s")
_HANGS = re.compile(
    r"\b(?:from|to|the|of|and|or|with|at|in|on|each|every|last|next|a|an|as|until|rep|repeat|for|by)$",
    re.IGNORECASE,
)
_NAMED = re.compile(r"(?:row|rnd|round)s?\s*\d[^:.]{0,24}[:.–-]|\d{1,3}[.:)]\s", re.IGNORECASE)
"""The name of a row at the beginning of a line, which is never the end of the row before."""
_STITCH = re.compile(
    r"(?:[kp]\d|sl ?\d|yo\b|[kp]\d*tog|ssk\b|rep(?:eat)? (?:from|to|\[|\*)|\[|\*to)", re.IGNORECASE
)
_ENDED = (".", ":", "!", "?", ")", "]", ".”", '."')


class _Text:
    """A text with what was changed in it so far."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.changes: list[Change] = []

    def edit(self, edits: Iterable[_Edit]) -> None:
        """Make changes that do not overlap, in order; those made before move along."""
        listed = list(edits)
        if not listed:
            return
        out: list[str] = []
        new: list[Change] = []
        ends: list[int] = []
        moved: list[int] = []
        at = shift = 0
        for e in listed:
            out += [self.text[at : e.start], e.words]
            start = e.start + shift
            new.append(Change(start, start + len(e.words), self.text[e.start : e.end], e.why))
            shift += len(e.words) - (e.end - e.start)
            ends.append(e.end)
            moved.append(shift)
            at = e.end
        out.append(self.text[at:])

        def along(place: int, *, end: bool) -> int:
            before = bisect_right(ends, place)
            shifted = place + (moved[before - 1] if before else 0)
            if before < len(listed) and listed[before].start < place:  # within words that are no longer there
                return new[before].end if end else new[before].start
            return shifted

        self.text = "".join(out)
        kept = [
            Change(along(c.start, end=False), along(c.end, end=True), c.before, c.why) for c in self.changes
        ]
        self.changes = sorted([*kept, *new], key=lambda c: (c.start, c.end))

    def signs(self, found: re.Pattern[str], words: Callable[[re.Match[str]], str], why: str) -> None:
        """Change every place that is found."""
        self.edit(
            _Edit(m.start(), m.end(), new, why)
            for m in found.finditer(self.text)
            if (new := words(m)) != m[0]
        )


def put_right(text: str) -> PutRight:
    """The text as it was meant. Pasting what is right already changes nothing but its line ends."""
    out = _Text(
        text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2028", "\n").replace("\u2029", "\n\n")
    )
    out.signs(_UNSEEN, lambda _: "", UNSEEN)
    out.signs(_SPACE, lambda _: " ", SPACE)
    out.signs(re.compile(f"[{''.join(_LIGATURES)}]"), lambda m: _LIGATURES[m[0]], LIGATURE)
    out.signs(re.compile(f"[{''.join(_QUOTES)}]"), lambda m: _QUOTES[m[0]], QUOTE)
    out.signs(re.compile("[−‐‑]"), lambda _: "-", DASH)
    out.signs(_FRACTION, _fraction, FRACTION)
    _take_out_pages(out)
    out.signs(_BULLET, lambda _: "", BULLET)
    full = _full_width(out.text)
    out.edit(_parted(out.text))
    out.edit(_wrapped(out.text, full))
    out.signs(re.compile(r"(?<=\S)  +(?=\S)"), lambda _: " ", SPACES)
    out.signs(re.compile(r"[ ]+$", re.MULTILINE), lambda _: "", SPACES)
    out.signs(re.compile(r"\n{4,}"), lambda _: "\n\n", EMPTY)
    out.signs(re.compile(r"\A\s*\n|\s+\Z"), lambda _: "", EMPTY)
    seen = tuple(c for c in out.changes if not (c.start == c.end and not c.before.strip()))
    return PutRight(f"{out.text}\n" if out.text else "", seen)


def _fraction(m: re.Match[str]) -> str:
    """A fraction slash between figures: "1⁄2" is a half; in "31⁄2" the 3 is whole."""
    glyph = _GLYPHS.get((int(m[2]), int(m[3])))
    return m[0] if glyph is None else f"{m[1]}{glyph}"


# --- pages -------------------------------------------------------------------------------------------------


def _take_out_pages(out: _Text) -> None:
    """Page numbers, and lines above or below them that stand on several pages. Form feeds part pages."""
    lines = list(_lines(out.text))
    numbered = [(n, number) for n, (_, words) in enumerate(lines) if (number := _page_of(words)) is not None]
    bare = [
        (n, int(m[1])) for n, (_, words) in enumerate(lines) if (m := _BARE.fullmatch(words.strip("\f ")))
    ]
    # alone a number may be a count; numbers that go up by one from page to page are not
    in_turn = {n for (n, a), (_, b) in pairwise(bare) if b == a + 1}
    in_turn |= {n for (_, a), (n, b) in pairwise(bare) if b == a + 1}
    at_feeds = {
        n for n, _ in bare if "\f" in lines[n][1] or (n + 1 < len(lines) and lines[n + 1][1].startswith("\f"))
    }
    pages = {n for n, _ in numbered} | in_turn | at_feeds
    beside = Counter(
        lines[k][1].strip("\f ")
        for n in pages
        for k in (n - 1, n + 1)
        if 0 <= k < len(lines) and lines[k][1].strip("\f ")
    )
    edits = []
    met: set[str] = set()
    for n, (start, words) in enumerate(lines):
        plain = words.strip("\f ")
        # where it stands first it may be the title
        running = beside[plain] > 1 and plain in met and (n - 1 in pages or n + 1 in pages)
        met.add(plain)
        if n in pages or running:
            end = start + len(words)
            end += out.text[end : end + 1] == "\n"
            edits.append(_Edit(start, end, "", PAGE if n in pages else RUNNING))
    out.edit(edits)
    out.signs(re.compile(r"\f"), lambda _: "\n", EMPTY)


def _page_of(words: str) -> int | None:
    m = _PAGE_OF.fullmatch(words.strip("\f "))
    return None if m is None else int(m[1] or m[2])


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """Each line with where it begins."""
    at = 0
    for line in text.split("\n"):
        yield at, line
        at += len(line) + 1


# --- lines -------------------------------------------------------------------------------------------------


def _parted(text: str) -> Iterator[_Edit]:
    """Words that were parted at the end of a line."""
    whole = Counter(re.findall(r"[a-z][a-z'-]+", text.casefold()))
    for m in re.finditer(r"(?<=(\w))[-\u00ad][ ]*\n[ ]*(?=(\w))", text):
        before = re.search(r"[\w']+$", text[max(0, m.start() - 40) : m.start()])
        after = re.match(r"[\w']+", text[m.end() : m.end() + 40])
        if before is None or after is None:
            continue
        first, second = before[0].casefold(), after[0].casefold()
        if m[0].startswith("\u00ad"):
            keeps = False
        elif m[1].isdigit() or m[2].isdigit() or after[0][:1].isupper() or whole[f"{first}-{second}"]:
            keeps = True
        elif whole[f"{first}{second}"]:
            keeps = False
        else:
            keeps = first in _FIRST or (
                first in _trade_words() and not _trade_words().isdisjoint({second, second.removesuffix("s")})
            )
        yield _Edit(m.start(), m.end(), "-" if keeps else "", COMPOUND if keeps else HYPHEN)


@cache
def _trade_words() -> frozenset[str]:
    """Words that stand in the names of stitches, and a few that often have a hyphen; by experience."""
    from purlwright.stitches.load import dictionary

    found = {word for phrase in dictionary().words for word in phrase.split()}
    found |= set(dictionary().compact)
    found |= set(
        "back cast bind off on front left right hand side wrong up down under in out double pointed short "
        "row long tail three two four one self set half full edge top bottom end well non multi psso".split()
    )
    return frozenset(found)


def _full_width(text: str) -> float:
    """How many letters a line has that may have filled the width of the page."""
    widths = sorted(len(words) for _, words in _lines(text) if len(words) > 30)
    return widths[int(len(widths) * 0.9)] * 0.8 if len(widths) > 4 else 60.0


def _wrapped(text: str, full: float) -> Iterator[_Edit]:
    """Lines that go on in the next one because the page was too narrow."""
    from purlwright.pattern.header import known_key

    lines = list(_lines(text))
    fenced = False
    for (start, words), (_, after) in pairwise(lines):
        fenced ^= words.lstrip().startswith("```")
        here, there = words.rstrip(), after.lstrip()
        if fenced or not here or not there or here.startswith("#") or there.startswith("```"):
            continue
        key = there.partition(":")[0] if ":" in there else ""
        if key and (known_key(key) or re.fullmatch(r"[A-Z][\w&/ -]{0,24}", key)):
            continue
        if _EXPLAINS.match(there) and here.endswith(_ENDED):  # "ssk: slip 2 stitches ...", a line of its own
            continue
        if _goes_on(here, there, full):
            end = start + len(words) + 1 + (len(after) - len(there))
            yield _Edit(start + len(here), end, " ", WRAPPED)


def _goes_on(here: str, there: str, full: float) -> bool:
    """Whether a line goes on in the next one. ``full`` letters and more may have filled the page's width."""
    if _NAMED.match(there):
        return False
    long = len(here) >= full
    if _HANGS.search(here):  # "rep from" cannot end a row
        return len(here) >= full * 0.5
    if here.endswith(_ENDED):
        if re.fullmatch(r"[(\[]\d+[^()\[\]]*[)\]]\.?", there):  # a count by itself
            return True
        return long and (there[0].islower() or _STITCH.match(there) is not None)
    if _LABEL.match(there) is not None and not there[0].islower():
        return long and _STITCH.match(there) is not None
    if there[0].islower() or there[0] in "([,;&" or here.endswith((",", ";", "(", "[")):
        return len(here) >= full * 0.5
    return long
