"""Which single change of the words makes everything that follows come true.

In: a text that does not hold, its lines, what was found, and a way to knit a changed text. Out: for each
cause of trouble the changes that mend it, likeliest first; none is made. A change counts only if the finding
is gone, in every size and option, and nothing new is found anywhere. What may be changed is left to
``edits``; how the answers look, to the rooms above.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from purlwright.findings import Edit, Finding, Fix, Severity
from purlwright.mend.edits import (
    Change,
    Words,
    changes,
    is_even,
    known_numbers,
    operations,
    repeats_evenly,
    runs,
    same_words,
)

if TYPE_CHECKING:
    from purlwright.text import Source

__all__ = ["MOST_SHOWN", "Line", "Repair", "Trial", "repairs"]

MOST_TRIED = 260
"""So many changes are knitted for one cause, likeliest first."""
MOST_PROVED = 24
"""So many of those that hold near the fault are knitted in every size and option."""
MOST_CAUSES = 3
MOST_SHOWN = 5
NEAR_LINES = 4
"""A stretch of knits or purls that was left out may be one that stands in so many lines up to the fault."""
MOST_BACK = 8
"""So many lines above the fault are changed, too."""
LONGEST = 2000
"""A line of more letters has too many changes to try."""
LOOK_AHEAD = 6
"""So many lines after the fault are knitted to judge a change, before all the rest is."""
MOST_ROWS = 12_000
"""So many rows, at most, are knitted to try the changes of one cause; at least ``FEWEST_TRIED`` are tried,
unless one knitting alone has over ``LONG_WORK`` rows."""
FEWEST_TRIED = 60
LONG_WORK = 2000

Trial: TypeAlias = Callable[[str, "Finding | None"], Iterable[Finding]]
"""Reads and knits a text and gives what was found: in a way in which a finding was met, or (None) in all."""


class Line(NamedTuple):
    """A line of the work: its words, where they begin, where its label ends in them, its number, and whether
    it only defines.
    """

    words: str
    offset: int
    label_end: int
    number: int
    defines: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """What would mend one finding: each of ``fixes`` by itself.

    ``all_tried`` is true if nothing likely was left out.
    """

    finding: Finding
    fixes: tuple[Fix, ...]
    all_tried: bool


_LEFT_OUT = frozenset(
    {"unknown-stitch", "line-too-long", "nested-too-deep", "nothing-knitted", "too-much-knitting"}
)
"""Findings that name their own cure, or that no single change mends."""


_OF_THE_CUT = frozenset({"left-live", "left-on-hold"})
"""What is found only because a text is cut off some lines after the fault: its ending is not there."""


_ONLY = {
    "repeat-without-star": frozenset({"star"}), "unclosed-bracket": frozenset({"bracket"}),
    "size-list-length": frozenset({"list", "bracket"}), "not-read": frozenset({"bracket"}),
}  # fmt: skip
"""Findings that one kind of change alone can mend, on their own line."""


def repairs(
    source: Source, lines: Sequence[Line], findings: Sequence[Finding], trial: Trial, *, rows: int, tail: int
) -> list[Repair]:
    """The repairs of the first few causes of trouble, in the order of the words.

    rows : how many rows one knitting has. tail : where the last sections that only define begin, or the end.
    Errors that the likeliest repair of an earlier one takes away are its consequences and get none of their
    own.
    """
    out: list[Repair] = []
    gone: set[tuple[str, int]] = set()
    errors = [
        f for f in findings
        if f.severity is Severity.ERROR and f.span.end >= 0 and f.code not in _LEFT_OUT
    ]  # fmt: skip
    for finding in errors:
        if len(out) == MOST_CAUSES:
            break
        if _key(finding, source.text) in gone:
            continue
        most = min(MOST_TRIED, MOST_ROWS // max(1, rows))
        if rows <= LONG_WORK:
            most = max(FEWEST_TRIED, most)
        search = _Search(source, lines, finding, _missed(finding, findings), trial, most, tail)
        found = search.fixes()
        out.append(Repair(finding=finding, fixes=tuple(found), all_tried=search.all_tried))
        gone |= search.gone
    return out


def _key(finding: Finding, text: str) -> tuple[str, int]:
    """A finding by its kind and line: places within a line move when the line is changed."""
    return finding.code, text.count("\n", 0, max(0, finding.span.start))


def _missed(finding: Finding, findings: Iterable[Finding]) -> list[int]:
    """By how many stitches the knitting missed, in each size in which this finding was met."""
    out = []
    for f in findings:
        if f.code == finding.code and f.span == finding.span:
            p = f.problem
            for want, got in (("stated", "knitted"), ("there", "uses"), ("left", "wanted")):
                a, b = getattr(p, want, None), getattr(p, got, None)
                if isinstance(a, int) and isinstance(b, int) and a != b:
                    out.append(a - b)
    return list(dict.fromkeys(out))


class _Search:
    """The search for what mends one finding."""

    def __init__(
        self,
        source: Source,
        lines: Sequence[Line],
        finding: Finding,
        off: Sequence[int],
        trial: Trial,
        most: int,
        tail: int,
    ) -> None:
        self.text = source.text
        self.most = most
        self.tail = tail
        self.lines = lines
        self.finding = finding
        self.off = off
        self.trial = trial
        self.all_tried = True
        self.gone: set[tuple[str, int]] = set()
        """The findings that the likeliest repair takes away."""
        self.place = next(
            (n for n in range(len(lines) - 1, -1, -1) if lines[n].offset <= finding.span.start), -1
        )

    def fixes(self) -> list[Fix]:
        """The changes that mend it, likeliest first; none if there is none."""
        if self.place < 0 or self.lines[self.place].defines:
            return []
        near = self._near()
        if not near:
            return []
        before = self._all(self.text)
        proved = []
        for change in near[:MOST_PROVED]:
            after = self._all(_changed(self.text, change.edit))
            if self._holds(before, after):
                proved.append((sum(after.values()), change, set(before - after)))
            if sum(left == 0 for left, _, _ in proved) == MOST_SHOWN:
                break
        if not proved:
            return []
        fewest = min(left for left, _, _ in proved)
        best = [(change, gone) for left, change, gone in proved if left == fewest]
        best.sort(key=lambda pair: pair[0].weight)
        self.gone = best[0][1]
        return _told_apart([self._fix(change) for change, _ in best[:MOST_SHOWN]])

    # --- knitting changed texts ---

    def _all(self, text: str) -> Counter[tuple[str, int]]:
        return self._grave(self.trial(text, None), text)

    def _grave(
        self, findings: Iterable[Finding], text: str, left_out: frozenset[str] = frozenset()
    ) -> Counter[tuple[str, int]]:
        return Counter(
            _key(f, text)
            for f in findings
            if (f.severity is not Severity.NOTE or f.check == "C041") and f.code not in left_out
        )

    def _holds(self, before: Counter[tuple[str, int]], after: Counter[tuple[str, int]]) -> bool:
        """Whether the finding is gone and nothing is found that was not found before."""
        return _key(self.finding, self.text) not in after and not after.keys() - before.keys()

    def _near(self) -> list[Change]:
        """The changes that hold as far as some lines after the fault, in the size where it was met."""
        here = self._cut(self.text, 0)
        left = frozenset() if here == self.text else _OF_THE_CUT
        before = self._grave(self.trial(here, self.finding), here, left)
        every = self._candidates()
        self.all_tried = len(every) <= self.most
        wanted = []
        for change in every[: self.most]:
            grown = len(change.edit.words) - (change.edit.span.end - change.edit.span.start)
            there = self._cut(_changed(self.text, change.edit), grown)
            if self._holds(before, self._grave(self.trial(there, self.finding), there, left)):
                wanted.append(change)
                if len(wanted) == MOST_PROVED:
                    self.all_tried = False
                    break
        return wanted

    def _cut(self, text: str, grown: int) -> str:
        """The text up to some lines after the fault, and the sections at its end that explain its words.

        grown : by how much a change before that place made the text longer.
        """
        last = self.lines[min(self.place + LOOK_AHEAD, len(self.lines) - 1)]
        end = last.offset + len(last.words)
        if end >= self.tail:
            return text
        return text[: end + grown] + "\n\n" + text[self.tail + grown :]

    # --- what may be changed ---

    def _candidates(self) -> list[Change]:
        """Changes of the line at fault and of those before it, likeliest first.

        A change that makes a row like another row of the pattern, or even from both ends, is likelier.
        """
        ops = operations(line.words for line in self.lines if not line.defines)
        near = [line.words for _, line in self._culprits()]
        ops = tuple(dict.fromkeys((*ops, *runs(near[:NEAR_LINES]))))
        known = known_numbers(line.words for line in self.lines)
        alike = Counter(same_words(line.words) for line in self.lines)
        out = []
        kinds = _ONLY.get(self.finding.code)
        for back, line in self._culprits():
            as_it_is = same_words(line.words)
            even, evenly = is_even(line.words), repeats_evenly(line.words)
            if kinds and back:
                break
            for change in changes(
                Words(text=line.words, offset=line.offset, label_end=line.label_end), ops, self.off, known
            ):
                if kinds and change.kind not in kinds:
                    continue
                start, end = change.edit.span.start - line.offset, change.edit.span.end - line.offset
                words = line.words[:start] + change.edit.words + line.words[end:]
                same = same_words(words)
                weight = change.weight + 0.35 * back
                mirrors = (not even and is_even(words)) or (not evenly and repeats_evenly(words))
                if (same != as_it_is and alike[same]) or mirrors:
                    weight -= 2
                out.append(replace(change, weight=weight))
        out.sort(key=lambda c: c.weight)
        return out

    def _culprits(self) -> Iterator[tuple[int, Line]]:
        """The line at fault, then the lines of the work above it."""
        back = 0
        for n in range(self.place, -1, -1):
            line = self.lines[n]
            if line.defines:
                continue
            if len(line.words) <= LONGEST:
                yield back, line
            back += 1
            if back > MOST_BACK:
                return

    def _fix(self, change: Change) -> Fix:
        line = self.text.count("\n", 0, change.edit.span.start) + 1
        return Fix(title=f"line {line}: {change.title}", edits=(change.edit,))


def _told_apart(fixes: list[Fix]) -> list[Fix]:
    """The same change at two places of a line is named with its place: ``16 for 18, the second time``."""
    out = []
    for fix in fixes:
        places = sorted(other.edits[0].span for other in fixes if other.title == fix.title)
        if len(places) > 1:
            nth = ("first", "second", "third", "fourth", "fifth")[places.index(fix.edits[0].span)]
            out.append(replace(fix, title=f"{fix.title}, the {nth} time"))
        else:
            out.append(fix)
    return out


def _changed(text: str, edit: Edit) -> str:
    return text[: edit.span.start] + edit.words + text[edit.span.end :]
