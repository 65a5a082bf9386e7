"""The pattern's own stitches: "MB (make bobble): [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso".

In: the lines of Abbreviations and Special stitches sections. Out: names, found before any row is read so that
rows may use them, and then :class:`Definition` nodes. A plain explanation of an abbreviation that the
dictionary has ("k2tog: knit 2 together") defines nothing new. Reading the steps is left to ``read``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.pattern import tree
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from purlwright.stitches.kinds import Stitch

    ReadSteps = Callable[[str, int], tuple[tree.Step, ...]]

__all__ = ["Draft", "find_drafts", "headed_draft", "may_define", "settle", "without_lead"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A definition found and not yet read: its name, the name written out, and where its words stand."""

    name: str
    meaning: str
    words: str
    offset: int
    name_offset: int
    topic: str


_ENTRY = re.compile(
    r"\s*(?P<name>[A-Za-z0-9][^\s:=(,;]{0,15}(?:[ ][\w/'’-]{1,15}){0,3}?)"
    r"\s{0,8}(?:\((?P<meaning>[^()]{1,60})\))?\s{0,8}(?:[:=]|\s[-–—]{1,3}\s|\t)\s*(?P<words>\S.*)",
    re.DOTALL,
)
_NEXT = re.compile(r"[;.,]\s+(?=[A-Za-z0-9][\w/&-]{0,12}\s*(?:\([^()]{1,40}\)\s*)?=\s?\S)")
_KEYED = re.compile(r"[;.,]\s+(?=(?P<name>[A-Za-z0-9][\w/&-]{0,12})\s*(?:\([^()]{1,40}\)\s*)?:\s)")
_DASHED = re.compile(
    r"(?P<mark>[;.,])\s+(?=(?P<name>[A-Za-z0-9][\w/&-]{0,12}(?:[ ][\w/&-]{1,12})?)"
    r"\s*(?:\([^()]{1,40}\)\s*)?\s[-–—]{1,3}\s)"
)
_BETWEEN = re.compile(
    r"\b(?:strand|bar|thread|loop|yarn|ladder)\b.{0,40}\bbetween\b"
    r"|\bbetween the (?:needles|two|last|sts|stitches)\b",
    re.IGNORECASE,
)
"""Words that lift the strand between two stitches: no stitch of the needle is worked."""
_NOT_STITCHES = frozenset(
    """st sts stitch rs ws rem rep repeat mc cc cc1 cc2 beg begin foll cont patt pat alt dpn dpns cn tog
    approx in cm mm pm sm rm m rnd rnds round row rows tbl wyif wyib bor eor lh rh ln rn yds yd oz g
    ball col meas inc dec prev sk tail note notes needles needle gauge tension yarn size sizes st-st
    stst k p kwise pwise kw pw lhn rhn tip hint""".split()
)
_OVER = re.compile(
    r"\b(?:worked\s+)?over\s+(?P<n>\d{1,3})\s+(?:sts?|stitches)\b|\((?P<m>\d{1,3})-st\b", re.IGNORECASE
)
_LEAD = re.compile(
    r"(?:\((?:worked\s+)?over\s+\d{1,3}\s+(?:sts?|stitches)\)\s*[:;,.]?"
    r"|(?:worked\s+)?over\s+\d{1,3}\s+(?:sts?|stitches)\s*[:;,.])\s*",
    re.IGNORECASE,
)
_INC = re.compile(r"\(\s*(?P<n>\d{1,3})\s+(?:sts?|stitches)\s+(?:inc|increased|made|added)", re.IGNORECASE)


def find_drafts(text: str, offset: int, topic: str) -> tuple[Draft, ...]:
    """NAME ("(" MEANING ")")? (":" | "=" | "-") WORDS: one entry, or several in one line.

    "MB (make bobble): ...", "sl1wyif = slip 1 with yarn in front", "k = knit; MB = make bobble".
    """
    out: list[Draft] = []
    starts = sorted({0, *(m.end() for m in _NEXT.finditer(text)), *_keyed(text)})
    for n, start in enumerate(starts):
        end = starts[n + 1] if n + 1 < len(starts) else len(text)
        piece = text[start:end].rstrip().rstrip(";,") if len(starts) > 1 else text[start:end].rstrip()
        m = _ENTRY.match(piece)
        if m is None:
            continue
        name, meaning = " ".join(m["name"].split()), " ".join((m["meaning"] or "").split())
        name_at = m.start("name")
        if meaning and " " not in meaning and len(meaning) <= 8 and " " in name:
            name, meaning, name_at = meaning, name, m.start("meaning")
        out.append(
            Draft(
                name=name,
                meaning=meaning,
                words=m["words"],
                offset=offset + start + m.start("words"),
                name_offset=offset + start + name_at,
                topic=topic,
            )
        )
    return tuple(out)


def _keyed(text: str) -> list[int]:
    """Where further entries with a colon or a dash begin: "k: knit. k2tog: knit 2 together", "k - knit; p -
    purl".

    Only known names begin one, and after a dash and a semicolon what looks like an abbreviation ("MB", "T3").
    """
    out = [m.end() for m in _KEYED.finditer(text) if _known_name(m["name"])]
    for m in _DASHED.finditer(text):
        short = " " not in m["name"] and re.search(r"[A-Z0-9]", m["name"]) is not None
        if _known_name(m["name"]) or (m["mark"] == ";" and short):
            out.append(m.end())
    return out


def _known_name(name: str) -> bool:
    """Whether a name stands in the dictionary or is a word of every list: "k2tog", "rnd", "st st"."""
    low = name.lower()
    return low in dictionary().compact or all(word in _NOT_STITCHES for word in low.split())


def headed_draft(heading: str, heading_at: int, words: str, offset: int) -> Draft:
    """NAME ("(" MEANING ")")? as a heading, the words under it: "### Make bobble (MB)"."""
    m = re.match(r"\s*(?P<name>[^()]*[^()\s])\s*(?:\((?P<meaning>[^()]{1,60})\))?", heading)
    name, meaning = (" ".join(m["name"].split()), m["meaning"] or "") if m else (heading.strip(), "")
    name_at = m.start("name") if m else 0
    if m is not None and meaning and " " not in meaning and " " in name:
        name, meaning, name_at = meaning, name, m.start("meaning")
    return Draft(
        name=name,
        meaning=meaning,
        words=words,
        offset=offset,
        name_offset=heading_at + name_at,
        topic="stitches",
    )


def may_define(draft: Draft, compact: Mapping[str, str], stitches: Mapping[str, Stitch]) -> bool:
    """Whether the entry can give the pattern a stitch of its own.

    A stitch that the dictionary knows one meaning of keeps it; crossings, bobbles and stitches of several
    meanings are the designer's to define.
    """
    low = draft.name.lower()
    if low in _NOT_STITCHES or len(low) < 2 or not re.search(r"[a-z]", low):
        return False
    key = compact.get(low)
    if key is None and " " in low and (known := dictionary().find(low)) is not None:
        key = known.key
    if key is None or key.startswith("="):
        return draft.topic != "notes" or (len(low) <= 8 and " " not in low)
    stitch = stitches.get(key)
    if stitch is None:
        return False
    if stitch.family is Family.INCREASE and _BETWEEN.search(draft.words):
        return False
    return bool(stitch.readings) or stitch.family in {Family.CABLE, Family.TWIST, Family.GROUP}


def without_lead(words: str) -> str:
    """An explanation without the stitches it is worked over: "(worked over 4 sts) slip 2 sts ..."."""
    lead = _LEAD.match(words)
    return words[lead.end() :] if lead is not None else words


def settle(draft: Draft, read_steps: ReadSteps) -> tree.Definition | None:
    """The definition with its words read; None if they are words about the stitch and work nothing.

    Special stitches keep what could not be read as such; in other sections an entry that is not wholly read
    is only an explanation.
    """
    words = without_lead(draft.words)
    steps = read_steps(words, draft.offset + len(draft.words) - len(words))
    working = [s for s in steps if not isinstance(s, tree.Note | tree.Unread | tree.Stated)]
    if not working:
        return None
    if draft.topic != "stitches" and any(isinstance(n, tree.Unread) for n in tree.walk(steps)):
        return None
    over, more = _OVER.search(draft.meaning) or _OVER.search(draft.words), _INC.search(draft.words)
    takes = int(over["n"] or over["m"]) if over else None
    makes = _printed(steps)
    if more is not None:
        takes = takes if takes is not None else 1
        makes = takes + int(more["n"])
    kept = tuple(s for s in steps if not isinstance(s, tree.Stated))
    return tree.Definition(
        name=draft.name,
        steps=kept,
        meaning=draft.meaning,
        takes=takes,
        makes=makes,
        span=_span(draft),
    )


def _printed(steps: tuple[tree.Step, ...]) -> int | None:
    """How many stitches the words say are left of it: "k1, k2tog (1 st)"."""
    last = steps[-1]
    if isinstance(last, tree.Stated) and last.kind == "total" and last.total is not None:
        return last.total.at(0)
    return None


def _span(draft: Draft) -> Span:
    return Span(draft.name_offset, draft.offset + len(draft.words))
