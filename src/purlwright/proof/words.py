"""Family I, words: abbreviations explained, those explained used, and one form of each."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.pattern.definitions import find_drafts
from purlwright.proof.answer import Answer
from purlwright.proof.listed import MirrorNeverUsed, StitchBesideTheList, mirror_in_use, taken_for
from purlwright.proof.subject import Subject, at
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["JUDGES", "AbbreviationNotExplained", "AbbreviationNotUsed", "CrossingUnclear", "TwoForms"]


@dataclass(frozen=True, slots=True)
class AbbreviationNotExplained:
    """An abbreviation is used that the pattern's own list does not explain.

    A knitter who meets it looks it up in the list, does not find it, and has to guess which of its trade
    meanings is meant.

    Example: the list explains k, p and k2tog; row 7 says `ssk`.

    Cure: add it to the list of abbreviations.
    """

    name: str

    code = "abbreviation-not-explained"
    check = "C093"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.name}" is used, and the list of abbreviations does not explain it.'

    def label(self) -> str:
        return "not in the list"

    def help(self) -> str | None:
        return f'Add "{self.name}" to the list of abbreviations.'


@dataclass(frozen=True, slots=True)
class AbbreviationNotUsed:
    """The list explains an abbreviation that the pattern never uses.

    It is a leftover, or the row that used it says it in another way. A knitter learns a stitch she will not
    need, or looks for the place where she missed it.

    Example: `MB = make bobble` in the list, and no bobble in any row.

    Cure: take it out of the list.
    """

    name: str

    code = "abbreviation-not-used"
    check = "C093"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.name}" is explained, and the pattern never uses it.'

    def label(self) -> str:
        return "never used"

    def help(self) -> str | None:
        return "Take it out of the list."


@dataclass(frozen=True, slots=True)
class TwoForms:
    """One thing is called by two forms of its name.

    A reader asks herself whether a `Rnd` differs from a `Round`.

    Example: `Rnd 4: Purl.` and, two lines on, `Round 5: Knit.`

    Cure: write one form throughout.
    """

    here: str
    there: str

    code = "two-forms"
    check = "C093"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'"{self.here}" stands here, and "{self.there}" elsewhere, for the same thing.'

    def label(self) -> str:
        return f'"{self.there}" elsewhere'

    def help(self) -> str | None:
        return "Write one form throughout."


@dataclass(frozen=True, slots=True)
class CrossingUnclear:
    """A crossing whose name leaves open which way it goes.

    Each reading works the same number of stitches, so no count can choose between them. The likeliest was
    knitted.

    Example: `K7, C6, k7`, where front or back is not said.

    Cure: write `C6F` or `C6B`, or explain the abbreviation under Special stitches.
    """

    name: str
    readings: tuple[str, ...]

    code = "crossing-unclear"
    check = "C093"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.name}" may be {" or ".join(self.readings)}; the counts fit each of them.'

    def label(self) -> str:
        return "which way?"

    def help(self) -> str | None:
        return f'Explain "{self.name}" under Special stitches, or use a name that says it.'


_CROSSED = frozenset({Family.CABLE, Family.TWIST})
_RUN = re.compile(r"[A-Za-z0-9]+(?:[-/&][A-Za-z0-9]+)*")


def _list_sections(subject: Subject) -> Iterator[Span]:
    """Where the words of each list of abbreviations or special stitches stand."""
    sections = subject.pattern.sections
    for n, section in enumerate(sections):
        if getattr(section, "topic", "") in {"abbreviations", "stitches"}:
            end = sections[n + 1].span.start if n + 1 < len(sections) else len(subject.source.text)
            yield Span(section.span.end, end)


def _has_list(subject: Subject) -> bool:
    """Whether a list of abbreviations stands there; special stitches alone are not meant to be all."""
    sections = [s for s in subject.pattern.sections if getattr(s, "topic", "") == "abbreviations"]
    return any("abbreviation" in subject.source.words(s.span).lower() for s in sections)


def _explained(subject: Subject) -> dict[str, Span]:
    """Each abbreviation explained, as written, with where."""
    out: dict[str, Span] = {}
    for span in _list_sections(subject):
        start = span.start
        for words in subject.source.words(span).split("\n"):
            for draft in find_drafts(words, start, "abbreviations"):
                name_end = draft.name_offset + len(draft.name)
                out.setdefault(draft.name, Span(draft.name_offset, name_end))
            start += len(words) + 1
    return out


def _used(subject: Subject) -> dict[str, tuple[str, tree.Line, Span]]:
    """Each abbreviation that rows use, with its dictionary key and first place; none spelled out."""
    compact = dictionary().compact
    out: dict[str, tuple[str, tree.Line, Span]] = {}
    for line, node in subject.nodes(tree.Work):
        run = _RUN.match(line.text, max(0, node.span.start)) if node.span.end >= 0 and not node.own else None
        if run is None:
            continue
        word = run[0]
        if word.lower() not in compact:
            word = word.rstrip("0123456789")
        if word.lower() in {"k", "p"} or word.lower() in compact:
            span = Span(node.span.start, node.span.start + len(word))
            out.setdefault(word.lower(), (node.stitch, line, span))
    return out


def _is_short(word: str) -> bool:
    return word in {"k", "p"} or word in dictionary().compact


def _any_used(subject: Subject) -> bool:
    """Whether any row uses an abbreviation, one letter included."""
    for line, node in subject.nodes(tree.Work):
        run = _RUN.match(line.text, max(0, node.span.start)) if node.span.end >= 0 and not node.own else None
        if run is not None:
            word = run[0].lower()
            if word in dictionary().compact or _is_short(word.rstrip("0123456789")):
                return True
    return False


def _key(name: str) -> str:
    stitch = dictionary().find(name)
    return stitch.key if stitch is not None else name.lower()


def judge_abbreviations(subject: Subject) -> Answer:
    """C093."""
    unclear = dict(_unclear(subject))
    findings = [*_two_forms(subject), *unclear.values()]
    explained = _explained(subject)
    complete = _has_list(subject)
    missing = None if complete or not _any_used(subject) else "the pattern has no list of abbreviations"
    if not explained:
        return Answer(findings=tuple(findings), missing=missing)
    used = _used(subject)
    listed = {_key(name) for name in explained}
    worked = [node.stitch for _, node in subject.nodes(tree.Work)]
    known = {name.lower() for name in explained} | {_key(name) for name in explained}
    for name, (key, line, span) in used.items():
        if complete and name not in known and key not in known and key not in unclear:
            words = line.text[span.start : span.end]
            meant = taken_for(key, listed, (k for k, _, _ in used.values()), worked.count(key))
            written = next((n for n in explained if _key(n) == meant), "")
            beside = StitchBesideTheList(words, written) if meant else AbbreviationNotExplained(words)
            findings.append(at(line, beside, span))
    elsewhere = _words_elsewhere(subject)
    keys = {key for key, _, _ in used.values()} | set(worked)
    idle = {
        name: where
        for name, where in explained.items()
        if name.lower() not in used and _key(name) not in keys and not _stands_in(name, elsewhere)
    }
    for name, where in idle.items():
        mirror = mirror_in_use(name, listed, keys) if len(idle) == 1 and complete else None
        written = next((n for n in explained if _key(n) == mirror), mirror or "")
        in_vain = MirrorNeverUsed(name, written) if mirror else AbbreviationNotUsed(name)
        findings.append(Finding(problem=in_vain, span=where, related=tuple(_uses(subject, mirror))))
    places = len(explained) + (len(used) if complete else 0)
    return Answer(places=places, findings=tuple(findings), missing=missing)


def _uses(subject: Subject, key: str | None) -> list[Related]:
    """Where a stitch is used, if it is in few lines."""
    lines = {line.offset: (line, node) for line, node in subject.nodes(tree.Work) if node.stitch == key}
    return [
        Related(Span(node.span.start + line.offset, node.span.end + line.offset), "or here?")
        for line, node in list(lines.values())[:3]
        if node.span.end >= 0
    ]


def _words_elsewhere(subject: Subject) -> str:
    """The text without its lists of abbreviations, lower case."""
    text = subject.source.text
    for span in reversed(list(_list_sections(subject))):
        text = text[: span.start] + "\n" + text[span.end :]
    return text.lower()


def _stands_in(name: str, text: str) -> bool:
    pattern = rf"(?<![a-z]){re.escape(name.lower())}(?:s|ped|ting)?(?![a-z])"
    return re.search(pattern, text) is not None


@lru_cache(maxsize=2048)
def _round_word(words: str) -> re.Match[str] | None:
    return re.search(r"\b(?:rnd|round)s?\b", words, re.IGNORECASE)


def _two_forms(subject: Subject) -> Iterator[Finding]:
    """A label "Rnd" where others say "Round"."""
    if subject.of_work(_two_forms):
        return
    first: dict[str, tuple[tree.Line, Span]] = {}
    for line in subject.lines:
        label = line.label
        head = _round_word(label.words) if label is not None else None
        if head is not None and label is not None:
            first.setdefault(head[0].lower().rstrip("s"), (line, label.span))
    if len(first) == 2:
        (_, (before, earlier)), (_, (line, span)) = first.items()
        names = [word.capitalize() for word in first]
        here = Span(earlier.start + before.offset, earlier.end + before.offset)
        yield at(line, TwoForms(names[1], names[0]), span, [Related(here, f'"{names[0]}" here')])
    else:
        subject.keep_of_work(_two_forms, told=True)


def _with_readings(actions: tuple[tree.Action, ...]) -> tuple[tree.Work, ...]:
    return tuple(n for n in tree.walk(actions) if isinstance(n, tree.Work) and n.readings)


def _unclear(subject: Subject) -> Iterator[tuple[str, Finding]]:
    """The first use of each crossing that the pattern leaves open, by the dictionary's key."""
    met: set[str] = set()
    readings = subject.told_each(subject.lines, _with_readings)
    for line, node in ((ln, n) for ln, some in zip(subject.lines, readings, strict=True) for n in some):
        if node.own or node.stitch in met or node.span.end < 0:
            continue
        met.add(node.stitch)
        found = [dictionary().find(reading) for reading in node.readings]
        stitches = [stitch for stitch in found if stitch is not None]
        if all(s.family in _CROSSED for s in stitches) and len({(s.takes, s.makes) for s in stitches}) == 1:
            words = line.text[node.span.start : node.span.end]
            names = tuple(stitch.us for stitch in stitches)
            yield node.stitch, at(line, CrossingUnclear(words, names), node.span)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C093": judge_abbreviations}
