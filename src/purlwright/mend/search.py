"""Which single change of the words makes everything that follows come true.

In: a text that does not hold, its lines, what was found, and a way to knit a changed text. Out: for each
cause of trouble the changes that mend it, likeliest first; none is made. A change counts only if the finding
is gone, in every size and option, and nothing new is found anywhere. What may be changed is left to
``edits``; how the answers look, to the rooms above.
"""

from __future__ import annotations

import re
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
from purlwright.mend.rows_lost import lost_rows
from purlwright.mend.size_lists import known_lists
from purlwright.text import Span

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
MOST_BACK = 12
"""So many lines above the fault are changed, too, and the cast-on before them."""
FAR_BACK = 5
"""From so many lines above the fault on, only numbers are changed, and what stands twice over."""
MOST_JUDGED = 6
"""Of so many changes that mend it, the checks of the proof say which one leaves least to remark on."""
LONGEST = 2000
"""A line of more letters has too many changes to try."""
LOOK_AHEAD = 6
"""So many lines after the fault are knitted to judge a change, before all the rest is."""
MOST_ROWS = 20_000
"""So many rows, at most, are knitted to try the changes of one cause; at least ``FEWEST_TRIED`` are tried,
unless one knitting alone has over ``LONG_WORK`` rows."""
FEWEST_TRIED = 100
LONG_WORK = 2000

Trial: TypeAlias = Callable[[str, "Finding | None"], Iterable[Finding]]
"""Reads and knits a text and gives what was found: in a way in which a finding was met, or (None) in all."""
Judge: TypeAlias = Callable[[str], Iterable[Finding]]
"""Proves a text: what all checks find."""


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
    "size-list-length": frozenset({"list", "bracket"}), "not-read": frozenset({"bracket", "number"}),
}  # fmt: skip
"""Findings that one kind of change alone can mend, on their own line."""


_OF_COUNTS = frozenset({"total-differs", "count-differs", "change-differs", "held-differs", "repeat-uneven"})
"""Findings that neither a side nor the order of two steps has made, but seldom."""


def repairs(
    source: Source,
    lines: Sequence[Line],
    findings: Sequence[Finding],
    trial: Trial,
    judge: Judge,
    *,
    rows: int,
    tail: int,
    sizes: Sequence[str] = (),
) -> list[Repair]:
    """The repairs of the first few causes of trouble, in the order of the words.

    rows : how many rows one knitting has. tail : where the last sections that only define begin, or the end.
    sizes : the names of the sizes.
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
        fault = _Fault(
            finding, _missed(finding, findings), _met(source, finding, findings, sizes), max(1, len(sizes))
        )
        search = _Search(source, lines, fault, trial, judge, most, tail)
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


def _met(
    source: Source, finding: Finding, findings: Iterable[Finding], sizes: Sequence[str]
) -> frozenset[int] | None:
    """The places of the sizes in which this was met on this line; None if in all."""
    key = _key(finding, source.text)
    places: set[int] = set()
    for f in findings:
        if f.severity is Severity.ERROR and f.span.end >= 0 and _key(f, source.text) == key:
            if not f.sizes:
                return None
            places.update(sizes.index(size) for size in f.sizes if size in sizes)
    return frozenset(places) if 0 < len(places) < len(sizes) else None


class _Fault(NamedTuple):
    """What is to be mended: a finding, by how many stitches the knitting missed, in which sizes (None: all),
    of how many.
    """

    finding: Finding
    off: Sequence[int]
    met: frozenset[int] | None
    sizes: int

    @property
    def lists(self) -> int:
        """By how many numbers a list is too short; 0 if that is not what was found."""
        p = self.finding.problem
        if self.finding.code != "size-list-length":
            return 0
        return int(getattr(p, "sizes", 0)) - int(getattr(p, "found", 0))


class _Search:
    """The search for what mends one finding."""

    def __init__(
        self,
        source: Source,
        lines: Sequence[Line],
        fault: _Fault,
        trial: Trial,
        judge: Judge,
        most: int,
        tail: int,
    ) -> None:
        self.text = source.text
        self.most = most
        self.tail = tail
        self.lines = lines
        self.fault = fault
        self.finding = finding = fault.finding
        self.trial = trial
        self.judge = judge
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
        if len(best) > 1:
            left = [self._remarks(change) for change, _ in best[:MOST_JUDGED]]
            order = sorted(range(len(left)), key=lambda n: (left[n], n))
            best = [*(best[n] for n in order), *best[MOST_JUDGED:]]
        self.gone = best[0][1]
        return _told_apart([self._fix(change) for change, _ in best[:MOST_SHOWN]])

    # --- knitting changed texts ---

    def _remarks(self, change: Change) -> int:
        """How much the checks of the proof find to remark on when it is made."""
        found = self.judge(_changed(self.text, change.edit))
        return sum(f.severity is not Severity.NOTE for f in found)

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
        if here != self.text and not self._cut_is_sound(here):
            self.tail, here = 0, self.text
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

    def _cut_is_sound(self, here: str) -> bool:
        """Whether the words up to the fault are knitted the same when most of what follows is cut off."""
        line = self.lines[self.place].number

        def so_far(text: str) -> set[tuple[str, int, str]]:
            found = self.trial(text, self.finding)
            return {(*key, f.message) for f in found if (key := _key(f, text))[1] <= line - 1}

        return so_far(here) == so_far(self.text)

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
        lists = known_lists((line.words for line in self.lines), self.fault.sizes)
        alike = Counter(same_words(line.words) for line in self.lines)
        kinds = _ONLY.get(self.finding.code)
        out = [] if kinds else list(self._rows_back())
        for back, line in self._culprits():
            as_it_is = same_words(line.words)
            even, evenly = is_even(line.words), repeats_evenly(line.words)
            if kinds and back:
                break
            words_here = self._words(line, lists)
            for change in changes(words_here, ops, self.fault.off, known):
                if kinds and not self._may(change, kinds):
                    continue
                if back >= FAR_BACK and change.kind != "number" and change.weight > 0.5:
                    continue
                start, end = change.edit.span.start - line.offset, change.edit.span.end - line.offset
                words = line.words[:start] + change.edit.words + line.words[end:]
                same = same_words(words)
                weight = change.weight + 0.35 * min(back, FAR_BACK) + self._unlike(change)
                mirrors = (not even and is_even(words)) or (not evenly and repeats_evenly(words))
                if (same != as_it_is and alike[same]) or mirrors:
                    weight -= 2
                out.append(replace(change, weight=weight))
        out.sort(key=lambda c: c.weight)
        return out

    def _unlike(self, change: Change) -> float:
        """What is added for a change that seldom mends what was found: a side says nothing of a count."""
        return 1.0 if change.kind in {"side", "order"} and self.finding.code in _OF_COUNTS else 0.0

    def _may(self, change: Change, kinds: frozenset[str]) -> bool:
        """Whether this kind of change can mend what was found; a number only where it is marked."""
        span = self.finding.span
        inside = span.start <= change.edit.span.start and change.edit.span.end <= span.end
        return change.kind in kinds and (change.kind != "number" or inside)

    def _words(self, line: Line, lists: frozenset[tuple[int | None, ...]]) -> Words:
        fault, span = self.fault, self.finding.span
        start, end = span.start - line.offset, span.end - line.offset
        return Words(
            text=line.words,
            offset=line.offset,
            label_end=line.label_end,
            sizes=fault.sizes,
            met=fault.met,
            marked=Span(start, end) if 0 <= start < end <= len(line.words) else None,
            lists=fault.lists,
            known=lists,
        )

    def _rows_back(self) -> Iterator[Change]:
        """Rows that may have fallen out near the fault, or that the words send to."""
        worked = [line for line in self.lines if not line.defines]
        for lost in lost_rows([line.words for line in worked]):
            line = worked[lost.beside]
            at = line.offset if lost.before else line.offset + len(line.words)
            words = f"{lost.words}\n" if lost.before else f"\n{lost.words}"
            if abs(line.number - self.lines[self.place].number) <= MOST_BACK:
                edit = Edit(Span(at, at), words)
                yield Change(edit=edit, title=f'put in "{lost.words}"', weight=lost.weight, kind="row")

    def _culprits(self) -> Iterator[tuple[int, Line]]:
        """The line at fault, then the lines of the work above it, and the cast-on before them."""
        back = 0
        for n in range(self.place, -1, -1):
            line = self.lines[n]
            if line.defines:
                continue
            far = back > MOST_BACK
            if len(line.words) <= LONGEST and (not far or _CASTS_ON.match(line.words)):
                yield back, line
            back += 1
            if far and _CASTS_ON.match(line.words):
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


_CASTS_ON = re.compile(r"(?:with .{1,30}?,? )?cast on\b", re.IGNORECASE)


def _changed(text: str, edit: Edit) -> str:
    return text[: edit.span.start] + edit.words + text[edit.span.end :]
