"""Family I, fullness: definitions that say all, and shaping words that say which kind.

In: the lists of abbreviations and special stitches, and the increases, decreases and slips of the rows.
Out: C094, C095.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.pattern.definitions import Draft, find_drafts
from purlwright.proof.answer import Answer
from purlwright.proof.explained_as import explained_otherwise
from purlwright.proof.subject import Subject, at
from purlwright.stitches.kinds import Family, Stitch
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["JUDGES", "DefinitionOpen", "KindNotSaid"]


@dataclass(frozen=True, slots=True)
class DefinitionOpen:
    """A definition leaves open a part of how its stitch is made.

    Two knitters who follow it get two different stitches, and no count can tell.

    Example: `C4: slip 2 sts to cable needle, k2, k2 from cable needle`, which does not say whether the
    needle is held in front or at the back.

    Cure: say it in the definition.
    """

    name: str
    what: str

    code = "definition-open"
    check = "C094"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'The definition of "{self.name}" does not say {self.what}.'

    def label(self) -> str:
        return "left open"

    def help(self) -> str | None:
        return f"Say {self.what}."


@dataclass(frozen=True, slots=True)
class KindNotSaid:
    """An increase, decrease or slip whose kind is nowhere said.

    Each kind changes the count alike, and looks different: a hole or none, a lean to the left or the right.
    Where several stand one above the other, that is a line in the fabric.

    Example: `Row 5: K3, inc, knit to last 4 sts, inc, k3`, and no list says which increase.

    Cure: name the stitch (`m1l`, `kfb`, `ssk`, `k2tog`), or explain the word once.
    """

    words: str
    sort: str
    places: int
    kinds: tuple[str, ...]

    code = "kind-not-said"
    check = "C095"
    severity = Severity.NOTE

    def message(self) -> str:
        where = f"in {self.places} places, first here" if self.places > 1 else "here"
        return f'"{self.words}" stands {where}, and nothing says which {self.sort} is meant.'

    def label(self) -> str:
        return f"which {self.sort}?"

    def help(self) -> str | None:
        return f"Name it ({' or '.join(self.kinds)}), or explain the word once."


# --- C094: definitions ------------------------------------------------------------------------------------

_ON_NEEDLE = re.compile(r"\bcable needle|\bcn\b|\bcable n\b|\bspare needle|\bdpn\b", re.IGNORECASE)
_HELD = re.compile(r"\b(?:front|back|behind|before|forward|right side|wrong side|rs|ws)\b", re.IGNORECASE)
_SAYS_AGAIN = frozenset(
    "make made one 1 a an stitch st sts increase increases increasing inc decrease decreases decreasing dec "
    "by new or".split()
)
_LIFTED = re.compile(
    r"\b(?:pick up|lift|insert)\b.*\b(?:strand|bar|loop|yarn|thread|ladder)\b", re.IGNORECASE
)
_TWISTED = re.compile(
    r"\b(?:back|behind|front|tbl|through|twist\w*|left|right|backwards?|knitwise|purlwise)\b", re.IGNORECASE
)


def _drafts(subject: Subject) -> Iterator[Draft]:
    """The entries of each list of abbreviations or special stitches."""
    sections = subject.pattern.sections
    for n, section in enumerate(sections):
        if getattr(section, "topic", "") not in {"abbreviations", "stitches"}:
            continue
        end = sections[n + 1].span.start if n + 1 < len(sections) else len(subject.source.text)
        start = section.span.end
        for words in subject.source.words(Span(section.span.end, end)).split("\n"):
            for draft in _drafts_of(words):
                yield Draft(
                    name=draft.name, meaning=draft.meaning, words=draft.words, offset=draft.offset + start,
                    name_offset=draft.name_offset + start, topic=draft.topic,
                )  # fmt: skip
            start += len(words) + 1


@lru_cache(maxsize=4096)
def _drafts_of(words: str) -> tuple[Draft, ...]:
    return find_drafts(words, 0, "abbreviations")


def _left_open(draft: Draft) -> str | None:
    """What a definition does not say, or None."""
    words = f"{draft.meaning} {draft.words}"
    stitch = dictionary().find(draft.name)
    if _ON_NEEDLE.search(words) and re.search(r"\bsl(?:ip)?\b|\bplace\b|\bhold\b", words, re.IGNORECASE):
        return None if _HELD.search(words) else "whether the cable needle is held in front or at the back"
    said = [w for w in re.findall(r"[a-z]+|\d+", words.lower()) if w not in _SAYS_AGAIN]
    if not said and draft.name.lower() in {"m1", "m", "inc", "dec"}:
        return "which decrease it is" if draft.name.lower() == "dec" else "which increase it is"
    if (
        stitch is not None and stitch.key.upper() in {"M1", "M1P"}
        and _LIFTED.search(words) and "between" in words and not _TWISTED.search(words)
    ):  # fmt: skip
        return "through which leg the lifted strand is worked"
    return None


def judge_definitions(subject: Subject) -> Answer:
    """C094. What a definition takes and makes is another check's."""
    drafts = list(_drafts(subject))
    if not drafts:
        return Answer()
    findings: list[Finding] = []
    for draft in drafts:
        what = _left_open(draft)
        if what is not None and not findings:
            span = Span(draft.offset, draft.offset + len(draft.words))
            findings.append(Finding(problem=DefinitionOpen(draft.name, what), span=span))
    findings += explained_otherwise(drafts)
    return Answer(places=len(drafts), findings=tuple(findings))


# --- C095: which kind ---------------------------------------------------------------------------------------


def judge_kinds(subject: Subject) -> Answer:
    """C095. One note a pattern: the kind that is left open most often."""
    besides = (_increases_and_the_like, tree.AtEdges)
    known: Answer | None = subject.of_work(judge_kinds, *besides) if subject.calm else None
    if known is not None:
        return known
    header = getattr(subject.pattern, "header", None)
    open_: dict[str, list[tuple[tree.Line, tree.Node, str, tuple[str, ...]]]] = {}
    places = 0
    for line, (of_kind, may) in zip(
        subject.lines, subject.told_each(subject.lines, _increases_and_the_like), strict=True
    ):
        places += of_kind
        for node, stitch in may:
            kinds = _kinds(line, node, stitch)
            if kinds is not None:
                open_.setdefault(kinds[0], []).append((line, node, *kinds))
    for line, edge in subject.nodes(tree.AtEdges):
        places += 1
        if edge.stitch is None and edge.inside is None:
            which = ("increase", ("m1", "kfb")) if edge.change > 0 else ("decrease", ("k2tog", "ssk"))
            open_.setdefault(which[0], []).append((line, edge, *which))
    if not open_ or (header is not None and header.terms == "old"):
        answer = Answer(places=places)
        return answer if open_ else subject.keep_of_work(judge_kinds, answer, *besides)
    explained = {word for draft in _drafts(subject) for word in re.findall(r"[a-z0-9]+", draft.name.lower())}
    explained |= _rules_said(subject)
    open_ = {
        sort: kept
        for sort, met in open_.items()
        if (kept := [m for m in met if not _first_word(m[0], m[1]) & explained])
    }
    if not open_:
        return Answer(places=places)
    met = max(open_.values(), key=len)
    where, open_node, sort, names = met[0]
    first = _WORD.match(where.text, max(0, open_node.span.start))
    span = Span(first.start(), first.end()) if first is not None else open_node.span
    problem = KindNotSaid(where.text[span.start : span.end], sort, len(met), names)
    return Answer(places=places, findings=(at(where, problem, span),))


_WORD = re.compile(r"make (?:1|one)\b|[A-Za-z]+\d*", re.IGNORECASE)


def _increases_and_the_like(
    actions: tuple[tree.Action, ...],
) -> tuple[int, tuple[tuple[tree.Work, Stitch], ...]]:
    """How many increases, decreases and slips a line has, and those whose name leaves a kind open, each with
    its entry in the dictionary.
    """
    works = [n for n in tree.walk(actions) if isinstance(n, tree.Work)]
    found = [(n, stitch) for n in works if (stitch := _found(n.stitch)) is not None]
    of_kind = [pair for pair in found if pair[1].family in _MANY_KINDS]
    may = [(n, s) for n, s in of_kind if not n.own and (n.readings or n.stitch.upper() == "M1")]
    return len(of_kind), tuple(may)


_MANY_KINDS = {Family.INCREASE, Family.DECREASE, Family.SLIP}


@lru_cache(maxsize=256)
def _found(key: str) -> Stitch | None:
    return dictionary().find(key)


def _first_word(line: tree.Line, node: tree.Node) -> set[str]:
    words = re.findall(r"[a-z0-9]+", line.text[max(0, node.span.start) : node.span.end].lower())
    first = words[0] if words else ""
    return {first, {"increase": "inc", "decrease": "dec", "make": "m1", "slip": "sl"}.get(first, first)}


def _kinds(line: tree.Line, node: tree.Work, stitch: Stitch) -> tuple[str, tuple[str, ...]] | None:
    """What sort of stitch is left open here, and the names that would settle it."""
    if len(line.actions) == 1 and line.label is None and line.text.rstrip(". ").lower() in {"dec", "inc"}:
        return None  # the name of a row that stands before its label
    if node.readings:
        readings = [r for r in map(_found, node.readings) if r is not None]
        if len({(r.takes, r.makes) for r in readings}) == 1 and len(readings) > 1:
            sort = "increase" if stitch.net > 0 else "decrease" if stitch.net < 0 else ""
            return (sort, tuple(r.us for r in readings)) if sort else None
    elif node.stitch.upper() == "M1" and node.span.end >= 0:
        words = line.text[node.span.start : node.span.end].lower().replace(" ", "")
        if re.fullmatch(r"(?:m1|make1|makeone)(?:st|stitch)?", words):
            return "increase", ("m1l", "m1r")
    return None


def _rules_said(subject: Subject) -> set[str]:
    """Words that a note or rule explains: "All increases are m1l", "Work decreases as k2tog"."""
    out: set[str] = set()
    for line in subject.watched.lines:
        if line.sort in {"note", "words"}:
            for m in _RULE.finditer(line.text):
                out.add((m["which"] or m["by"])[:3].lower())
    return out | ({"m1"} if "inc" in out else set())


_RULE = re.compile(
    r"\b(?P<by>increase|decrease|inc|dec)s?\s+(?:by|with|as|using|is|are)\s+[^.;]{0,30}?\b(?:k2tog|ssk|kfb|m1|yo|knit|purl|lift)"
    r"|\b(?:all|each|every|work(?: the| all)?|make(?: the| all)?)\s+"
    r"(?P<which>increases?|decreases?|incs?|decs?)\b"
    r"(?=[^.]*\b(?:m1|kfb|k2tog|ssk|lift|yo|yarn over|knit(?:ting)?|purl(?:ing)?|skp|sl)\b)",
    re.IGNORECASE,
)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C094": judge_definitions, "C095": judge_kinds}
