"""Family J, tools: what is used is listed, what is listed is used; enough markers.

In: the header's Needles and Notions, the words heard in rows and lists, and the markers on the needle.
Out: C106. Which needle a row is worked on is left to ``needle_changes``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.pattern.header import Entry, Header
from purlwright.pattern.tokens import number_word
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Besides, Subject
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["JUDGES", "ListedNotUsed", "MarkersTooFew", "UsedNotListed", "header_entries"]


@dataclass(frozen=True, slots=True)
class UsedNotListed:
    """A tool is called for in the rows, and the list of needles and notions does not have it.

    A knitter gathers what the list says and sits down away from home; at this row she has to stop.

    Example: `Place the next 30 sts on a holder` under `Notions: 2 stitch markers`.

    Cure: add it to the list of notions.
    """

    tool: str
    places: int

    code = "used-not-listed"
    check = "C106"
    severity = Severity.WARNING

    def message(self) -> str:
        where = f"in {self.places} places, first here" if self.places > 1 else "here"
        return f"{_a(self.tool)} is called for {where}, and neither Needles nor Notions lists it."

    def label(self) -> str:
        return "not listed"

    def help(self) -> str | None:
        return f"Add {_a(self.tool).lower()} to Notions."


@dataclass(frozen=True, slots=True)
class ListedNotUsed:
    """A tool is listed, and nothing in the pattern calls for it.

    A knitter buys it, or keeps looking for the step where she should have used it; often that step fell
    out.

    Example: `Notions: cable needle` for a pattern without a crossing.

    Cure: take it out of the list, or say where it is used.
    """

    tool: str

    code = "listed-not-used"
    check = "C106"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{_a(self.tool)} is listed, and nothing in the pattern calls for it."

    def label(self) -> str:
        return "never called for"

    def help(self) -> str | None:
        return "Take it out of the list, or say where it is used."


@dataclass(frozen=True, slots=True)
class MarkersTooFew:
    """More markers are on the needle at one time than the list has.

    A knitter who bought what is listed runs out in the middle of a row.

    Example: `Notions: 2 stitch markers`, and four on the needle after the set-up row.

    Cure: list as many as are on the needle at one time.
    """

    listed: int
    needed: int

    code = "markers-too-few"
    check = "C106"
    severity = Severity.WARNING

    def message(self) -> str:
        markers = "marker is" if self.listed == 1 else "markers are"
        return f"{self.listed} {markers} listed, and {self.needed} are on the needle at one time."

    def label(self) -> str:
        return f"{self.needed} needed"

    def help(self) -> str | None:
        return f"List {self.needed} markers."


_NO_NUMBER = frozenset({"waste yarn"})


def _a(tool: str) -> str:
    if tool in _NO_NUMBER:
        return tool.capitalize()
    return f"{'An' if tool[0] in 'aeio' else 'A'} {tool}"


@dataclass(frozen=True, slots=True)
class _Tool:
    name: str
    kind: str
    """What is heard where the rows call for it."""
    listed: re.Pattern[str]
    serves: tuple[str, ...] = ()
    """Other words heard that are reason enough to list it."""


def _tool(name: str, kind: str, listed: str, *serves: str) -> _Tool:
    return _Tool(name, kind, re.compile(listed, re.IGNORECASE), serves)


_TOOLS = (
    _tool("stitch marker", "marker", r"\bmarkers?\b|\bpins?\b"),
    _tool("stitch holder", "holder", r"\b(?:holders?|waste|scrap|spare|provisional)\b|\bstitch pins?\b"),
    _tool("cable needle", "cable needle", r"\bcable[- ]needle|\bcn\b"),
    _tool("button", "button", r"\bbuttons?\b"),
    _tool("crochet hook", "crochet hook", r"\bhook\b", "holder"),
    _tool("zip", "zip", r"\bzip(?:per)?s?\b"),
    _tool("ribbon", "ribbon", r"\bribbons?\b"),
    _tool("elastic", "elastic", r"\belastic\b"),
)
_LISTS = frozenset({"Needles", "Notions"})
_MORE_LISTS = frozenset({"Needles", "Notions", "Yarn"})
_NEEDLES = re.compile(r"\b(?:needles?|dpns?|circulars?)\b", re.IGNORECASE)
"""What makes a line of materials the list of all that is used: "DK wool; 4 mm needles; a holder"."""
_NUMBERED = re.compile(
    r"\b(?P<n>\d{1,2}|[a-z]+)[ -](?:(?:removable|locking|stitch|split|ring)[ -])*markers?\b", re.IGNORECASE
)
_PURPOSE = re.compile(r"[^;,.]*\b(?:for|to|as|if|optional(?:ly)?|or|when)\b", re.IGNORECASE)


def header_entries(subject: Subject, keys: frozenset[str]) -> list[Entry]:
    """The header's lines under these keys."""
    header = getattr(subject.pattern, "header", None)
    return [e for e in header.entries if e.known in keys] if header is not None else []


def judge_notions(subject: Subject) -> Answer:
    """C106. Where something is listed that no word heard calls for, any word may."""
    besides: tuple[Besides, ...] = (Header, "needle", *(tool.kind for tool in _TOOLS))
    known: Answer | None = subject.of_work(judge_notions, *besides) if subject.calm else None
    if known is not None:
        return known
    entries = header_entries(subject, _LISTS) or [
        e for e in header_entries(subject, _MORE_LISTS) if _NEEDLES.search(e.value)
    ]
    if not entries:
        wanted = subject.watched.any("needle", *(tool.kind for tool in _TOOLS))
        return Answer(missing="the pattern has no list of needles and notions" if wanted else None)
    lists = " ; ".join(e.value for e in header_entries(subject, _MORE_LISTS))
    notions = [e for e in entries if e.known == "Notions"]
    findings: list[Finding] = []
    places, by_words = 0, False
    for tool in _TOOLS:
        used = list(subject.watched.of(tool.kind))
        listed = tool.listed.search(lists) is not None
        places += bool(used) or listed
        if used and not listed and (notions or tool.kind != "marker"):
            line, heard = used[0]
            span = line.span(heard)
            name = _as_called(tool, subject.source.text[span.start : span.end])
            findings.append(Finding(problem=UsedNotListed(name, len(used)), span=span))
        elif listed and not used:
            by_words = True
            findings += [] if _wanted(subject, tool) else _never_used(tool, notions)
    findings += _too_few(subject, notions)
    answer = Answer(places=max(places, 1), findings=tuple(findings))
    if not (findings or by_words):
        subject.keep_of_work(judge_notions, answer, *besides)
    return answer


def _as_called(tool: _Tool, words: str) -> str:
    """What the rows call a holder: waste yarn holds stitches as well."""
    low = words.lower()
    if tool.kind == "holder" and re.search(
        r"\b(?:waste|scrap|spare|length of)\b.*\b(?:yarn|wool|thread)\b", low
    ):
        return "waste yarn"
    return tool.name


def _wanted(subject: Subject, tool: _Tool) -> bool:
    """Whether something else than its name calls for a tool."""
    watched = subject.watched
    everywhere = ("note", "heading", "words")
    if watched.any(tool.kind, *tool.serves, sorts=everywhere):
        return True
    if tool.kind == "cable needle":
        worked = [node for _, node in subject.nodes(tree.Work)]
        keys = (entry.rs for chart in subject.pattern.charts for entry in chart.key)
        worked += [n for steps in keys for n in tree.walk(steps) if isinstance(n, tree.Work)]
        crossed = any(_is_crossing(n.stitch) or n.own for n in worked) or bool(subject.nodes(tree.Cross))
        return crossed or re.search(r"\bcables?\b", _all_words(subject), re.IGNORECASE) is not None
    if tool.kind == "marker":
        return bool(subject.nodes(tree.JoinRound) or subject.nodes(tree.Marker))
    if tool.kind in {"holder", "crochet hook"}:
        return bool(subject.nodes(tree.Hold)) or any(c.provisional for _, c in subject.nodes(tree.CastOn))
    return bool(re.search(rf"\b{tool.kind}", _all_words(subject), re.IGNORECASE))


def _all_words(subject: Subject) -> str:
    return "\n".join(
        line.text for line in subject.watched.lines if line.sort in {"note", "heading", "words", "title"}
    )


def _is_crossing(stitch: str) -> bool:
    found = dictionary().find(stitch)
    return found is not None and found.family is Family.CABLE


def _never_used(tool: _Tool, notions: list[Entry]) -> Iterator[Finding]:
    """The listing itself, unless it says what the tool is for."""
    for entry in notions:
        for clause in re.finditer(r"[^;,.]+", entry.value):
            found = tool.listed.search(clause[0])
            if found is not None and _PURPOSE.match(clause[0]) is None:
                start = entry.value_span.start + clause.start() + found.start()
                yield Finding(problem=ListedNotUsed(tool.name), span=Span(start, start + len(found[0])))
                return


def _too_few(subject: Subject, notions: list[Entry]) -> Iterator[Finding]:
    """Fewer markers listed than lie on the needle at one time, if the list gives one number."""
    found = [(e, m) for e in notions for m in _NUMBERED.finditer(e.value)]
    if not found or len(re.findall(r"\bmarkers?\b", " ".join(e.value for e in notions), re.IGNORECASE)) > 1:
        return
    entry, m = found[0]
    listed = int(m["n"]) if m["n"].isdigit() else number_word(m["n"].lower())
    if m["n"].lower() in {"a", "one"}:
        listed = 1
    if listed is None:
        return
    needed = max((len(e.markers) for _, e in subject.entries() if e.markers and not e.unread), default=0)
    if needed > listed:
        start = entry.value_span.start
        yield Finding(problem=MarkersTooFew(listed, needed), span=Span(start + m.start(), start + m.end()))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C106": judge_notions}
