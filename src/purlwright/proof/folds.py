"""Checks C028 and C029: which face shows where work is folded back, and when a tube is turned inside out.

In: the words about folds and tubes, and the faces of the rows that are meant. Out: findings where the face
that comes to show is the one that the knitting hides, or where nobody says which is meant. Cloth that is
alike on both sides, such as garter stitch and ribs, may be folded at will.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.fabric.query import row_slice
from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS
from purlwright.proof.answer import Answer
from purlwright.proof.parts import headings, parts
from purlwright.proof.rates import ground_of
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES", "FoldShowsOtherFace", "TubeFaceNotSaid"]


@dataclass(frozen=True, slots=True)
class FoldShowsOtherFace:
    """A part is folded outwards, and what then shows is the side that was the inside while it was knitted.

    A brim that is turned up, a cuff that is turned back and a collar that falls over show their other face. A
    rib looks alike from both sides; plain knitting then shows its purl bumps, and a pattern its back.

    Example: `Knit 20 rounds.` for a brim, and then `Fold the brim up.` The purl side shows.

    Cure: work that part in a cloth that is alike on both sides, turn the work before or after it, or say that
    the purl side is meant to show.

    Source: geometry of a fold; how alike two sides must be is common practice.
    """

    part: str
    shows: str
    said: str

    code = "fold-shows-other-face"
    check = "C028"
    severity = Severity.WARNING

    def message(self) -> str:
        said = f"; the words want {self.said} to show" if self.said else ""
        return f"Folded so, the {self.part} shows {self.shows}{said}."

    def label(self) -> str:
        return f"shows {self.shows}"

    def help(self) -> str | None:
        return "Turn the work before the part that is folded, or say that this side is meant to show."


@dataclass(frozen=True, slots=True)
class TubeFaceNotSaid:
    """A tube is turned inside out, and no word says which face is the public one in the end.

    The two faces of the cloth differ. A knitter who is told to turn it inside out cannot know whether that
    is for good, or only for the next step.

    Example: `Turn the tube inside out.` after twelve rounds of plain knitting.

    Cure: say which side faces out when it is done: `turn inside out, so that the purl side shows`; or put
    `Public side: WS` under the title. (Common practice; no source.)
    """

    outside: str

    code = "tube-face-not-said"
    check = "C029"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"Turned inside out, this shows {self.outside}; no word says whether that is the public face, or "
            f"whether it is turned back."
        )

    def label(self) -> str:
        return "which face shows in the end?"

    def help(self) -> str | None:
        return "Say which side faces out when it is done."


# --- words ----------------------------------------------------------------------------------------

_PART = r"(?P<part>brims?|cuffs?|collars?|hems?|bands?|edg(?:e|ing)s?|ribbing|rib|tops?|turn-?ups?|lapels?|facings?)"  # noqa: E501 - one list of words
_FOLD = re.compile(
    r"\b(?:fold(?:s|ed|ing)?|turn(?:s|ed)?)\b(?P<mid>[^.;\n]{0,60}?)"
    r"\b(?P<way>up|back|over|outwards?|to (?:the )?(?:outside|right side|RS)|in half|inwards?|under"
    r"|to (?:the )?(?:inside|wrong side|WS)|along|at the (?:fold|purl|turning))\b",
    re.IGNORECASE,
)
_FOLDED = re.compile(r"\b(?P<way>folded|turned[- ](?:up|back)|turn-?up)\s+" + _PART, re.IGNORECASE)
_NAMED = re.compile(rf"\b{_PART}\b", re.IGNORECASE)
_OUT = re.compile(r"up|back|over|out", re.IGNORECASE)
_IN = re.compile(r"inside|inward|under|wrong|\bWS\b|hem|facing|\bsew|catch|stitch down|hidden", re.IGNORECASE)
_LATER = re.compile(
    r"\b(?:turn(?:ed)? (?:the )?work|inside[- ]out|wrong side (?:is )?(?:facing|out))\b", re.IGNORECASE
)
_TUBE = re.compile(
    r"\b(?:inside[- ]out|turn(?:ed)? (?:the )?(?:work|tube|piece) (?:inside|right side) out)\b", re.IGNORECASE
)
_SIDE = (
    r"(?P<side>right sides?|RS|wrong sides?|WS|purl(?:ed)? side|knit(?:ted)? side|smooth side|reverse side"
    r"|public side|bumpy side)"
)
_FACE = re.compile(
    rf"\b{_SIDE}\s*(?:is |are )?(?:the )?"
    r"(?:out|outside|outwards?|outermost|facing out|shows?|showing|public|inside|together|facing each other)"
    rf"|\b(?:show(?:s|ing)?|reveal(?:s|ing)?|see) (?:the )?{_SIDE.replace('side>', 'shown>')}",
    re.IGNORECASE,
)
_TURNED_BACK = re.compile(r"\bright[- ]side[- ]out\b|\bback (?:again|to the right side)\b", re.IGNORECASE)
_KNIT = re.compile(r"right|RS|knit|smooth|public", re.IGNORECASE)
_HINTS = ("fold", "turned", "turn up", "turn back", "turn the", "turn-up", "turnup")


class _Told(NamedTuple):
    """A fold that the words tell: where, of which part ("" if none is named), whether it goes outwards."""

    span: Span
    part: str
    outwards: bool | None


def _folds(subject: Subject) -> list[_Told]:
    """Every fold that the words tell; text without a hint is not gone through."""
    if not any(hint in subject.low for hint in _HINTS):
        return []
    text = subject.source.text
    out = []
    for m in _FOLD.finditer(text):
        named = _NAMED.search(m["mid"]) or _NAMED.search(text, m.end(), min(len(text), m.end() + 30))
        folds = m[0].lower().startswith("fold")
        if not folds and named is None:
            continue  # the work is turned, or a page is turned over
        sentence = _sentence(text, m.start())
        inwards = _IN.search(m["way"]) or _IN.search(sentence)
        outwards = None if m["way"].lower() == "in half" else _OUT.search(m["way"]) is not None
        out.append(_Told(Span(m.start(), m.end()), _one(named), False if inwards else outwards))
    for m in _FOLDED.finditer(text):
        if not any(told.span.start <= m.start() < told.span.end for told in out):
            inwards = _IN.search(m[0]) or _IN.search(_sentence(text, m.start()))
            out.append(_Told(Span(m.start(), m.end()), _one(m), not inwards))
    return sorted(out)


def _one(named: re.Match[str] | None) -> str:
    return named["part"].lower().removesuffix("s") if named is not None else ""


def _sentence(text: str, at: int) -> str:
    start = max(text.rfind(".", 0, at), text.rfind("\n", 0, at)) + 1
    end = min((n for n in (text.find(".", at), text.find("\n", at)) if n >= 0), default=len(text))
    return text[start:end]


def _face_said(subject: Subject, sentence: str) -> str:
    """Which face shows by a sentence, or by the header: "knit" or "purl"; "" if they do not say."""
    m = _FACE.search(sentence)
    if m is not None:
        side = m["side"] or m["shown"] or ""
        return "knit" if _KNIT.match(side) else "purl"
    public = next((e.value for e in subject.pattern.header.entries if e.known == "Public side"), "")
    return "" if not public else "knit" if _KNIT.match(public.strip()) else "purl"


# --- faces ----------------------------------------------------------------------------------------

_ALIKE = (0.35, 0.65)
"""A cloth of both stitches looks alike from both sides if so large a share are knits: common practice."""
_PLAIN = 0.9


def _rows_meant(subject: Subject, told: _Told) -> list[Entry]:
    """The rows of the part that is folded: under the heading that names it, else where the words stand."""
    way = subject.ways[0]
    known = headings(subject)
    sections = subject.pattern.sections
    place = max((n for n, s in enumerate(sections) if s.span.start <= told.span.start), default=-1)
    named = [h.place for h in known if told.part and re.search(rf"\b{told.part}", h.words, re.IGNORECASE)]
    wanted = set(named[:1] or ([place] if place >= 0 else []))
    return [e for p in parts(subject, way) if p.heading.place in wanted for e in p.rows if e.kind in ROWS]


def _shown(subject: Subject, rows: list[Entry]) -> str:
    """What the right side shows: "knit", "purl", "pattern", "alike" for both sides; "" if that is unsure."""
    if len(rows) < 2 or any(e.unread or e.resumed for e in rows):
        return ""
    way = subject.ways[0]
    ground = ground_of(way.knitted, rows)
    if ground == "garter":
        return "alike"
    fabric = way.knitted.fabric
    seen = np.concatenate([fabric.seen_of_stitch[row_slice(fabric, e.order)] for e in rows])
    plain = seen[seen <= Seen.PURL]
    if not len(plain):
        return ""
    knits = float(np.mean(plain == Seen.KNIT))
    if ground == "stockinette":
        return "knit" if knits >= _PLAIN else "purl" if knits <= 1 - _PLAIN else ""
    if len(plain) * 10 >= len(seen) * 9 and _ALIKE[0] <= knits <= _ALIKE[1]:
        return "alike"
    return "pattern"


_SAID_AS = {"knit": "its knit side", "purl": "its purl side", "pattern": "the back of its pattern"}
_OTHER = {"knit": "purl", "purl": "knit", "pattern": "pattern"}


def judge_folds(subject: Subject) -> Answer:
    """C028: places are the folds that the words tell; folded inwards a part hides its other face."""
    told = subject.kept(_folds)
    if not told or not subject.ways:
        return Answer()
    findings = []
    open_ = []
    for fold in told:
        sentence = _sentence(subject.source.text, fold.span.start)
        said = _face_said(subject, sentence)
        if fold.outwards is False or (fold.outwards is None and said):
            continue
        if fold.outwards is None:
            open_.append("a word on which way the work is folded")
            continue
        shown = _shown(subject, _rows_meant(subject, fold))
        if shown == "alike":
            continue
        if not shown:
            open_ += [] if said else ["which rows are folded, and what they show"]
            continue
        finding = _judged(subject, fold, shown, said)
        findings += [finding] if finding is not None else []
    return Answer(places=len(told), findings=tuple(findings[:1]), missing=open_[0] if open_ else None)


def _judged(subject: Subject, fold: _Told, shown: str, said: str) -> Finding | None:
    """A fold outwards, whose cloth shows its other face then."""
    comes = _OTHER[shown]
    turned = _LATER.search(subject.source.text) is not None
    if turned or (said and (shown == "pattern" or said == comes)):
        return None
    part = fold.part or "part"
    if not said and shown == "purl":
        return None  # the smooth side comes to show
    wants = f"its {said} side" if said else ""
    return Finding(problem=FoldShowsOtherFace(part, _SAID_AS[comes], wants), span=fold.span)


def judge_tubes(subject: Subject) -> Answer:
    """C029: places are the words that turn a tube inside out."""
    if "nside" not in subject.low or not subject.ways:
        return Answer()
    text = subject.source.text
    found = list(_TUBE.finditer(text))
    if not found:
        return Answer()
    said = any(_face_said(subject, s) for s in _beside(text, found)) or _FACE.search(text) is not None
    if said or _TURNED_BACK.search(text):
        return Answer(places=len(found))
    shown = _shown(subject, _rows_meant(subject, _Told(Span(found[0].start(), found[0].end()), "", None)))
    if shown == "alike":
        return Answer(places=len(found))
    if not shown:
        return Answer(places=len(found), missing="a word on which side of the tube is the public one")
    problem = TubeFaceNotSaid(_SAID_AS[_OTHER[shown]])
    span = Span(found[0].start(), found[0].end())
    return Answer(places=len(found), findings=(Finding(problem=problem, span=span),))


def _beside(text: str, found: Iterable[re.Match[str]]) -> Iterator[str]:
    return (_sentence(text, m.start()) for m in found)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C028": judge_folds, "C029": judge_tubes}
