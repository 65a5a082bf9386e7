"""What differs in meaning between two versions of a pattern, and which size is touched from which row on.

In: two versions, each read, and knitted in every size and choice of options. Out: one :class:`Comparison`.
Words that changed while the knitting stayed the same are told apart from words that changed the knitting.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from itertools import groupby
from typing import TYPE_CHECKING

from purlwright.needles.ledger import ROWS
from purlwright.pattern import tree
from purlwright.pattern.words import line_words
from purlwright.revision.rows import Pair, side_by_side
from purlwright.rewrite.onesize import number_for

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.pattern.file import Pattern

__all__ = ["QUIET_KEYS", "Changed", "Comparison", "Fact", "FirstRow", "Touched", "Version", "compare"]


QUIET_KEYS = frozenset({"Version", "Contact", "Licence", "Picture", "Terms"})
"""Header keys that no knitter's work depends on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One version of a pattern: the sizes and choices of options that were knitted, each knitting (all
    choices of the first size, then of the next), and how many errors a proof finds in it.
    """

    pattern: Pattern
    sizes: tuple[str, ...]
    choices: tuple[tuple[tuple[str, str], ...], ...]
    knitted: tuple[Knitted, ...]
    errors: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A header line that was changed, put in ("" for ``was``) or taken out ("" for ``now``)."""

    key: str
    was: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """Lines of instruction that were changed, put in or taken out.

    ``heading`` is what they stand under in the newer version, or in the older one if they are gone.
    ``sizes`` are those in which a row that these lines work is not the same: none if only the words differ.
    """

    heading: str
    was: tuple[str, ...]
    now: tuple[str, ...]
    old_lines: tuple[int, ...]
    new_lines: tuple[int, ...]
    sizes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstRow:
    """The first row that is not the same. ``number`` counts the worked rows of the older version, from 1."""

    number: int
    section: str
    label: str
    pass_: int
    start: int
    """How many stitches are on the needle before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Touched:
    """One size with one choice of options. ``first`` is None when every stitch is as it was.

    ``changed``, ``put_in`` and ``taken_out`` count worked rows, cast-ons and bind-offs among them;
    ``made_was`` and ``made_now`` all stitches knitted.
    """

    size: str
    options: tuple[tuple[str, str], ...]
    first: FirstRow | None
    changed: int = 0
    put_in: int = 0
    taken_out: int = 0
    made_was: int = 0
    made_now: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """The whole. ``gone`` and ``added`` are sizes that only one version has."""

    old: Version
    new: Version
    facts: tuple[Fact, ...]
    lines: tuple[Changed, ...]
    notes: tuple[Changed, ...]
    """Headings, notes and other words that are not worked."""
    touched: tuple[Touched, ...]
    gone: tuple[str, ...]
    added: tuple[str, ...]
    options_differ: bool
    """Whether the choices offered differ, so that only those in both could be set side by side."""

    @property
    def same(self) -> bool:
        """Whether nothing differs at all, in the words or in the knitting."""
        return not (self.facts or self.lines or self.notes or self.gone or self.added or self.options_differ)

    @property
    def must_be_told(self) -> bool:
        """Whether a knitter with the older version has to know: there is a notice to write."""
        facts = any(f.key not in QUIET_KEYS for f in self.facts)
        return facts or any(c.sizes for c in self.lines) or bool(self.gone or self.added)

    @property
    def knits_the_same(self) -> bool:
        """Whether every size and choice in both versions is stitch for stitch as it was."""
        return all(t.first is None for t in self.touched)


def compare(old: Version, new: Version) -> Comparison:
    """Set two versions side by side. Either may have errors: what could be knitted is compared."""
    pairs = {
        (a.size, a.options): (a, b, side_by_side(a, b))
        for a in old.knitted
        for b in new.knitted
        if _same_way(a, b, old, new)
    }
    was, now = _Worked(old.pattern), _Worked(new.pattern)
    for (size, _), (_, _, rows) in pairs.items():
        for pair in rows:
            was.meet(pair.old, size, same=pair.same)
            now.meet(pair.new, size, same=pair.same)
    touched = tuple(_touched(a, b, rows) for a, b, rows in pairs.values())
    moved = {t.size for t in touched if t.first is not None}
    blocks = [_with_sizes(block, old, new, was, now, moved) for block in _changed_blocks(old, new)]
    return Comparison(
        old=old,
        new=new,
        facts=tuple(_facts(old.pattern, new.pattern)),
        lines=tuple(block for block in blocks if block.sizes or _is_work(block, was, now)),
        notes=tuple(block for block in blocks if not block.sizes and not _is_work(block, was, now)),
        touched=touched,
        gone=tuple(s for s in old.sizes if s not in new.sizes),
        added=tuple(s for s in new.sizes if s not in old.sizes),
        options_differ=set(old.choices) != set(new.choices),
    )


def _same_way(a: Knitted, b: Knitted, old: Version, new: Version) -> bool:
    """Whether two knittings are of one size and choice; where each version has one size, its name is free."""
    sizes = a.size == b.size or (len(old.sizes) == 1 and len(new.sizes) == 1)
    return sizes and a.options == b.options


class _Worked:
    """Which lines of a version are worked, and in which sizes a row of theirs is not the same."""

    def __init__(self, pattern: Pattern) -> None:
        self.lines = {
            line.line: line
            for section in pattern.sections
            if section.kind != "define"
            for line in section.lines
            if not all(isinstance(action, tree.Note) for action in line.actions)
        }
        self.have_rows: set[int] = set()
        self.differing: dict[int, set[str]] = {}

    def meet(self, entry: Entry | None, size: str, *, same: bool) -> None:
        """Note a worked row under its own line and under that of the row it copies."""
        if entry is None:
            return
        for line in (entry.line,) if entry.copied is None else (entry.line, entry.copied.line):
            self.have_rows.add(line)
            if not same:
                self.differing.setdefault(line, set()).add(size)

    def said(self, lines: Sequence[int], place: int, count: int) -> list[str]:
        """What lines mean for one size, in the same words however they were worded."""
        return [number_for(line_words(self.lines[n]), place, count) for n in lines if n in self.lines]


def _is_work(block: Changed, was: _Worked, now: _Worked) -> bool:
    return any(n in was.lines for n in block.old_lines) or any(n in now.lines for n in block.new_lines)


def _with_sizes(
    block: Changed, old: Version, new: Version, was: _Worked, now: _Worked, moved: set[str]
) -> Changed:
    """The block with the sizes that it touches.

    A line that works rows touches those in which one of them is not the same. A line that only says how
    often, or how far, touches those for which it says something else, if anything in them is not the same.
    """
    if any(n in was.have_rows for n in block.old_lines) or any(n in now.have_rows for n in block.new_lines):
        touched = set().union(
            *(was.differing.get(n, ()) for n in block.old_lines),
            *(now.differing.get(n, ()) for n in block.new_lines),
        )
    elif not _is_work(block, was, now):
        touched = set()
    else:
        touched = {
            size
            for size in moved
            if size not in old.sizes
            or size not in new.sizes
            or was.said(block.old_lines, old.sizes.index(size), len(old.sizes))
            != now.said(block.new_lines, new.sizes.index(size), len(new.sizes))
        }
    return replace(block, sizes=tuple(s for s in dict.fromkeys((*new.sizes, *old.sizes)) if s in touched))


def _touched(a: Knitted, b: Knitted, rows: Sequence[Pair]) -> Touched:
    numbers = 0
    first: FirstRow | None = None
    for pair in rows:
        entry = pair.old or pair.new
        if entry is None:
            continue
        if pair.old is not None and pair.old.kind in ROWS:
            numbers += 1
        if not pair.same and first is None:
            counts = pair.old is not None and pair.old.kind in ROWS
            first = FirstRow(
                number=max(numbers if counts else numbers + 1, 1),
                section=entry.section,
                label=entry.label or entry.kind.value.replace("-", " "),
                pass_=entry.pass_,
                start=entry.start,
            )
    odd = [pair for pair in rows if not pair.same]
    return Touched(
        size=a.size,
        options=a.options,
        first=first,
        changed=sum(p.old is not None and p.new is not None for p in odd),
        put_in=sum(p.old is None for p in odd),
        taken_out=sum(p.new is None for p in odd),
        made_was=a.fabric.n,
        made_now=b.fabric.n,
    )


# --- the words -----------------------------------------------------------------------------------


def _facts(old: Pattern, new: Pattern) -> Iterator[Fact]:
    """Header lines that differ; those with one key are matched in their order."""
    was, now = _by_key(old), _by_key(new)
    if old.title != new.title:
        yield Fact(key="Title", was=old.title, now=new.title)
    for key in dict.fromkeys((*was, *now)):
        mine, theirs = was.get(key, []), now.get(key, [])
        left = [v for v in mine if v not in theirs]
        right = [v for v in theirs if v not in mine]
        for n in range(max(len(left), len(right))):
            yield Fact(
                key=key,
                was=left[n] if n < len(left) else "",
                now=right[n] if n < len(right) else "",
            )


def _by_key(pattern: Pattern) -> dict[str, list[str]]:
    out: dict[str, list[str]] = {}
    for entry in pattern.header.entries:
        out.setdefault(entry.known or entry.key, []).append(" ".join(entry.value.split()))
    return out


@dataclass(frozen=True, slots=True)
class _Said:
    """One line of the text as it is compared."""

    words: str
    line: int
    heading: str
    worked: bool


def _said(pattern: Pattern) -> list[_Said]:
    """Every line of the text below the header that says something, those over several lines as one."""
    source = pattern.source
    header = {e.line for e in pattern.header.entries}
    heads = {s.line: s for s in pattern.sections if s.heading}
    worked = {line.line: (line, s) for s in pattern.sections for line in s.lines if s.kind != "define"}
    defined = {line.line: (line, s) for s in pattern.sections for line in s.lines if s.kind == "define"}
    out: list[_Said] = []
    heading, number = "", 0
    while number < source.line_count:
        number += 1
        words = source.line(number)
        if number in heads:
            heading = heads[number].heading
        known = worked.get(number) or defined.get(number)
        if known is not None:
            line = known[0]
            last = max(number, source.place(line.offset + max(len(line.text) - 1, 0))[0])
            words = " ".join(source.line(n) for n in range(number, last + 1))
            out.append(_Said(_even(words), number, heading, worked=number in worked))
            number = last
        elif words.strip() and number not in header and words.strip("# \t") != pattern.title:
            out.append(_Said(_even(words), number, heading, worked=False))
    return out


def _even(words: str) -> str:
    return " ".join(words.split())


def _changed_blocks(old: Version, new: Version) -> Iterator[Changed]:
    """Stretches of lines that are not in both, cut where a heading ends and where work begins or ends."""
    a, b = _said(old.pattern), _said(new.pattern)
    match = SequenceMatcher(None, [s.words for s in a], [s.words for s in b], autojunk=False)
    for what, i, i_end, j, j_end in match.get_opcodes():
        if what == "equal":
            continue
        for gone, come in _matched(a[i:i_end], b[j:j_end]):
            yield Changed(
                heading=(come or gone)[0].heading,
                was=tuple(s.words for s in gone),
                now=tuple(s.words for s in come),
                old_lines=tuple(s.line for s in gone),
                new_lines=tuple(s.line for s in come),
                sizes=(),
            )


def _matched(gone: list[_Said], come: list[_Said]) -> Iterator[tuple[list[_Said], list[_Said]]]:
    """Lines of one stretch, each old one beside the new one with its label, the others alone or together."""
    if len(gone) == len(come):
        yield from (([a], [b]) for a, b in zip(gone, come, strict=True))
        return
    by_label = {_label(s.words): s for s in come if _label(s.words)}
    taken = set()
    for said in gone:
        other = by_label.get(_label(said.words)) if _label(said.words) else None
        if other is not None and other.line not in taken:
            taken.add(other.line)
            yield [said], [other]
        else:
            yield [said], []
    for _, run in groupby((s for s in come if s.line not in taken), key=lambda s: (s.heading, s.worked)):
        yield [], list(run)


_LABEL = re.compile(r"(?:[^:]{1,60}only:\s*)?(?P<label>[A-Za-z][^:.(]{0,40}?)(?:\s*\([^)]*\))?\s*:")


def _label(words: str) -> str:
    m = _LABEL.match(words)
    return m["label"].casefold() if m else ""
