"""What the checks look at: the words, the tree and every knitting of one pattern.

In: a source, a read pattern and its knittings. Out: one :class:`Subject` with the few indices that
checks share, made when first asked for. What the answers are is left to the family modules.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol, TypeAlias, TypeVar

from purlwright.findings import Finding, Problem, Related, Severity
from purlwright.pattern import tree
from purlwright.pattern.header import Header
from purlwright.proof.causes import at_their_cause
from purlwright.proof.keeping import Actions, ByKind, Kept, Laid, LastWork, nodes_by_kind, same_work
from purlwright.proof.onesize import on_its_number
from purlwright.proof.watchwords import Watched, watch
from purlwright.text import Source, Span

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.ledger import Entry, Ledger
    from purlwright.pattern.charts import Chart
    from purlwright.pattern.numbers import NamedNumber
    from purlwright.proof.answer import Answer
    from purlwright.proof.texture import Worked

__all__ = [
    "Besides",
    "Kept",
    "KnittedLike",
    "PatternLike",
    "SectionLike",
    "Subject",
    "Way",
    "at",
    "here",
    "merge",
    "serves",
    "stitches_in",
    "where_met",
    "with_colour",
]

_N = TypeVar("_N", bound=tree.Node)
_T = TypeVar("_T")


class SectionLike(Protocol):
    """A section of a read pattern, as far as checks look at it. ``span`` is its heading's words."""

    @property
    def heading(self) -> str: ...
    @property
    def level(self) -> int: ...
    @property
    def span(self) -> Span: ...
    @property
    def lines(self) -> tuple[tree.Line, ...]: ...


class PatternLike(Protocol):
    """A read pattern, as far as checks look at it."""

    @property
    def title(self) -> str: ...
    @property
    def header(self) -> Header: ...
    @property
    def sizes(self) -> tuple[str, ...]: ...
    @property
    def sections(self) -> Sequence[SectionLike]: ...
    @property
    def findings(self) -> Sequence[Finding]: ...
    @property
    def charts(self) -> Sequence[Chart]: ...
    @property
    def numbers(self) -> Sequence[NamedNumber]: ...


class KnittedLike(Protocol):
    """One knitting, as far as checks look at it."""

    @property
    def ledger(self) -> Ledger: ...
    @property
    def fabric(self) -> Fabric: ...
    @property
    def findings(self) -> Sequence[Finding]: ...
    @property
    def places(self) -> Mapping[str, int]: ...
    @property
    def log(self) -> Sequence[tuple[Any, ...]]: ...
    @property
    def own(self) -> Mapping[str, tuple[int, int]]: ...


class Way(NamedTuple):
    """One way to knit the pattern: a size, and a value for each option."""

    size: str
    options: tuple[tuple[str, str], ...]
    knitted: KnittedLike


class Met(NamedTuple):
    """A finding, and the way in which it was met; None for what reading alone finds."""

    finding: Finding
    way: Way | None


def serves(line: tree.Line, way: Way) -> bool:
    """Whether a line is for this size and these option values."""
    if line.sizes and way.size not in line.sizes:
        return False
    chosen = dict(way.options)
    wanted: dict[str, list[str]] = {}
    for name, value in line.options:
        wanted.setdefault(name, []).append(value)
    return all(chosen.get(name) in values for name, values in wanted.items())


def merge(met: Iterable[Met], ways: Sequence[Way]) -> list[Finding]:
    """The same thing said of the same words once, with the sizes and options it was met in.

    Sizes are named only if there are others in which it was not met; so are option values, and
    only those shared by every way in which it was met.
    """
    first: dict[tuple[str, Span, str], Finding] = {}
    where: dict[tuple[str, Span, str], list[Way] | None] = {}
    for finding, way in met:
        key = (finding.code, finding.span, finding.message)
        first.setdefault(key, finding)
        if way is None:
            where[key] = None
        else:
            ways_met = where.setdefault(key, [])
            if ways_met is not None:
                ways_met.append(way)
    return [where_met(first[key], ways_met, ways) for key, ways_met in where.items()]


def where_met(finding: Finding, met: list[Way] | None, ways: Sequence[Way]) -> Finding:
    """The finding with the sizes and options it was met in, of all ``ways``; None is met by reading alone."""
    if met is None or len(met) >= len(ways):
        return finding
    sizes = list(dict.fromkeys(w.size for w in met))
    all_sizes = {w.size for w in ways}
    shared = set(met[0].options).intersection(*(w.options for w in met[1:]))
    always = set(ways[0].options).intersection(*(w.options for w in ways[1:]))
    return Finding(
        problem=finding.problem,
        span=finding.span,
        related=finding.related,
        fix=finding.fix,
        sizes=() if set(sizes) == all_sizes else tuple(sizes),
        options=tuple(o for o in met[0].options if o in shared and o not in always),
    )


Besides: TypeAlias = "type | str | Callable[[Actions], Any]"
_MOST_KEPT = 20_000
_MOST_KEPT_ROWS = 256
_FEW = 4
"""If no more lines than this are others, what is laid open is put right and not made anew."""


class Subject:
    """One pattern, read and knitted, laid open for the checks."""

    def __init__(
        self,
        source: Source,
        pattern: PatternLike,
        ways: Sequence[Way],
        before: Kept | None = None,
        house: str = "",
    ) -> None:
        """``before`` is what was told of the text before an edit; it is added to.

        ``house`` are the words of a house style that stands beside the pattern, if there is one.
        """
        self.house = house
        self.source = source
        self.pattern = pattern
        self.ways = tuple(ways)
        self._before = before if before is not None else Kept()
        self._kept: dict[object, object] = {}
        self._nodes: dict[type, list[tuple[tree.Line, tree.Node]]] = {}
        self._line_at: dict[int, tree.Line | None] = {}

    def kept(self, make: Callable[[Subject], _T]) -> _T:
        """What ``make`` tells of this subject; worked out once, however many checks ask."""
        if make not in self._kept:
            self._kept[make] = make(self)
        return self._kept[make]  # type: ignore[return-value]

    def once(self, name: object, make: Callable[[], _T]) -> _T:
        """A fact that belongs to more than the subject (a way, a part), worked out once under its name."""
        if name not in self._kept:
            self._kept[name] = make()
        return self._kept[name]  # type: ignore[return-value]

    @cached_property
    def low(self) -> str:
        """The text in lower case, to tell quickly whether a word stands in it."""
        return self.source.text.lower()

    @cached_property
    def findings(self) -> list[Finding]:
        """What reading and knitting found, merged over all ways."""
        met = [Met(f, None) for f in self.pattern.findings]
        met += [Met(f, way) for way in self.ways for f in self._of_way(way)]
        return on_its_number(merge(met, self.ways), self.source, self.pattern.sizes)

    def _of_way(self, way: Way) -> Sequence[Finding]:
        """What knitting one way found, each at its cause."""
        charts = [chart.span for chart in self.pattern.charts]
        return at_their_cause(way.knitted.findings, way.knitted.ledger.pieces, charts)

    @cached_property
    def found(self) -> dict[str, list[Finding]]:
        """Findings of reading and knitting, by check; also those that are told at their cause.

        What only tells which reading the counts chose breaks no check.
        """
        out: dict[str, list[Finding]] = {}
        told = {f.span.start for f in self.findings}
        moved = [f for way in self.ways for f in way.knitted.findings if f.span.start not in told]
        for f in (*self.findings, *moved):
            if f.check and not f.settled:
                out.setdefault(f.check, []).append(f)
        return out

    @cached_property
    def lines(self) -> tuple[tree.Line, ...]:
        """Every line of every section, in order."""
        return tuple(line for section in self.pattern.sections for line in section.lines)

    @cached_property
    def _laid(self) -> Laid:
        """All lines laid open; from one text to the next only those that changed are looked at."""
        was = self._before.laid
        texts = [line.text for line in self.lines]
        labels: list[object] = [line.label for line in self.lines]
        actions = [line.actions for line in self.lines]
        changed = None
        if was is not None and len(was.actions) == len(actions):
            changed = [
                n
                for n, (a, b, c, d, e, f) in enumerate(
                    zip(labels, was.labels, actions, was.actions, texts, was.texts, strict=True)
                )
                if a is not b or c is not d or e != f
            ]
            if not changed:
                return was
        by_kind: dict[type, dict[int, tuple[tree.Node, ...]]] = {}
        if was is None or changed is None or len(changed) > _FEW:
            for n, line in enumerate(self.lines):
                for kind, nodes in self._walked(line.label, line.actions).items():
                    by_kind.setdefault(kind, {})[n] = nodes
            laid = Laid(self.lines, texts, labels, actions, by_kind, {}, {}, [])
        else:
            by_kind |= was.by_kind
            for n in changed:
                now = self._walked(self.lines[n].label, actions[n])
                before = self._walked(was.labels[n], was.actions[n])
                for kind in {*before, *now}:
                    of_kind = by_kind.get(kind, {})
                    if kind is tree.Label and before.get(kind) == now.get(kind):
                        continue  # the same label, read again
                    if kind not in now:
                        by_kind[kind] = {at: nodes for at, nodes in of_kind.items() if at != n}
                    else:
                        there = of_kind | {n: now[kind]}
                        by_kind[kind] = there if n in of_kind else dict(sorted(there.items()))
            laid = Laid(self.lines, texts, labels, actions, by_kind, {}, was.told, changed, was.mark)
        self._before.laid = laid
        return laid

    def _walked(self, label: object, actions: Actions) -> ByKind:
        """The nodes of a line by kind; walked once as long as it stays."""
        walked = self._before.walked
        key = (id(label), id(actions))
        known = walked.get(key)
        if known is None or known[0] is not label or known[1] is not actions:
            if len(walked) > _MOST_KEPT:
                walked.clear()
            known = walked[key] = (label, actions, nodes_by_kind(label, actions))
        return known[2]

    def told(self, line: tree.Line, tell: Callable[[tuple[tree.Action, ...]], _T]) -> _T:
        """What ``tell`` says of a line's actions; asked once as long as they stay the same."""
        return self.told_each((line,), tell)[0]

    def told_each(
        self, lines: Sequence[tree.Line], tell: Callable[[tuple[tree.Action, ...]], _T]
    ) -> Sequence[_T]:
        """What ``tell`` says of each line's actions; asked once as long as they stay the same."""
        known = self._before.of_actions.setdefault(tell, {})
        if len(known) > _MOST_KEPT:
            known.clear()

        def ask(actions: Actions) -> tuple[Actions, _T]:
            found = known[id(actions)] = (actions, tell(actions))
            return found

        # actions that are kept live on, so that no others have their number
        if lines is not self.lines:
            return [(known.get(id(line.actions)) or ask(line.actions))[1] for line in lines]
        laid = self._laid
        told = laid.told.get(tell)
        if told is None:
            earlier = laid.earlier.get(tell)
            if earlier is None:
                told = [(known.get(id(a)) or ask(a))[1] for a in laid.actions]
            else:
                now = [(n, (known.get(id(laid.actions[n])) or ask(laid.actions[n]))[1]) for n in laid.changed]
                told = earlier
                if any(earlier[n] != one for n, one in now):
                    told = earlier.copy()
                    for n, one in now:
                        told[n] = one
            laid.told[tell] = told
        return told

    def told_texts(self, tell: Callable[[str], _T]) -> Sequence[_T]:
        """What ``tell`` says of each line's text; asked once as long as they stay the same."""
        laid = self._laid
        told = laid.told.get(tell)
        if told is None:
            earlier = laid.earlier.get(tell)
            told = [tell(text) for text in laid.texts] if earlier is None else earlier.copy()
            for n in laid.changed if earlier is not None else ():
                told[n] = tell(laid.texts[n])
            laid.told[tell] = told
        return told

    def of_rows(self, judge: object, knitted: Hashable) -> int | None:
        """At how many places ``judge`` looked in rows that knit the same, if nothing was amiss there."""
        return self._before.of_rows.get((judge, knitted))

    def keep_of_rows(self, judge: object, knitted: Hashable, places: int) -> None:
        """Nothing is amiss in rows that knit this; where they stand, and what they are called, is no part of
        it.
        """
        if len(self._before.of_rows) > _MOST_KEPT_ROWS:
            self._before.of_rows.clear()
        self._before.of_rows[judge, knitted] = places

    @cached_property
    def same_work(self) -> bool:
        """Whether the same was knitted as of the text before, under the same labels and headings."""
        before, laid = self._before, self._laid
        same = same_work(self, before.worked, laid)
        before.worked = LastWork(laid, self.pattern, self.ways)
        if not same:
            before.of_work.clear()
        return same

    def of_work(self, tell: object, *besides: Besides) -> Any:
        """What was kept of what ``tell`` says of the same work; None if it is another, or was not told.

        besides : what else it looks at: kinds of nodes, ``Header``, kinds of words heard (``"needle"``: the
        lines that have one), and what is told of each line's actions.
        """
        known = self._before.of_work.get(tell) if self.same_work else None
        if known is None:
            return None
        told, looked = known
        for at, was in zip(besides, looked, strict=True):
            if self._looked(at) is not was:
                return None
        return told

    def keep_of_work(self, tell: object, told: _T, *besides: Besides) -> _T:
        """Keep what ``tell`` says as long as the same is knitted and what else it looks at stays."""
        _ = self.same_work  # what was kept of other work is let go
        self._before.of_work[tell] = (told, tuple(self._looked(at) for at in besides))
        return told

    def _looked(self, at: Besides) -> object:
        """What stays the same object as long as no node, no word heard, and nothing told is another."""
        if isinstance(at, str):
            return self._heard(at)
        if isinstance(at, type):
            return self.pattern.header if at is Header else self._laid.by_kind.get(at)
        return self.told_each(self.lines, at)

    def _heard(self, kind: str) -> object:
        """The lines in which a kind of word was heard: number, sort and text; None for none."""
        lines = self.watched.by_kind.get(kind)
        if lines is None:
            return None
        heard = tuple((line.number, line.sort, line.text) for line, _ in lines)
        before = self._before.heard.get(kind)
        if heard != before:
            before = self._before.heard[kind] = heard
        return before

    @cached_property
    def calm(self) -> bool:
        """Whether all was read and knitted without anything to say."""
        return not self.findings and not self.unread

    def of_header(self, tell: Callable[[Header, int], _T]) -> _T:
        """What ``tell`` says of the header and the number of sizes; asked once as long as they stay."""
        header, sizes = self.pattern.header, len(self.pattern.sizes)
        known = self._before.header.get(tell)
        if known is None or known[0] is not header or known[1] != sizes:
            known = self._before.header[tell] = (header, sizes, tell(header, sizes))
        return known[2]

    def nodes(self, kind: type[_N]) -> list[tuple[tree.Line, _N]]:
        """Every node of one kind, with its line, in the order of the words."""
        known = self._nodes.get(kind)
        if known is None:
            lines = self.lines
            of_kind = self._laid.by_kind.get(kind, {})
            known = self._nodes[kind] = [(lines[n], node) for n, nodes in of_kind.items() for node in nodes]
        return known  # type: ignore[return-value]

    @cached_property
    def stitches(self) -> frozenset[str]:
        """Every stitch that the lines name, by its key."""
        return frozenset[str]().union(*self.told_each(self.lines, stitches_in))

    @cached_property
    def coloured(self) -> list[tuple[tree.Line, tree.Work]]:
        """Every stitch that is told with its colour, and its line."""
        told = self.told_each(self.lines, with_colour)
        return [(self.lines[n], node) for n, nodes in enumerate(told) if nodes for node in nodes]

    def size_place(self, size: str) -> int:
        """The place of a size in lists of numbers, from 0."""
        return self.pattern.sizes.index(size) if size in self.pattern.sizes else 0

    @cached_property
    def _in_order(self) -> tuple[list[int], list[tree.Line]]:
        lines = sorted(self.lines, key=lambda line: line.offset)
        return [line.offset for line in lines], lines

    @property
    def in_order(self) -> list[tree.Line]:
        """Every line in the order of the text."""
        return self._in_order[1]

    @property
    def offsets(self) -> list[int]:
        """Where each of them begins."""
        return self._in_order[0]

    def line_of(self, entry: Entry) -> tree.Line | None:
        """The line whose words an entry works; None for entries that no words stand behind."""
        start, end = entry.span
        if end < 0:
            return None
        known = self._line_at
        if start not in known:
            offsets, lines = self._in_order
            place = bisect_right(offsets, start) - 1
            line = lines[place] if place >= 0 else None
            known[start] = line if line is not None and start <= line.offset + len(line.text) else None
        return known[start]

    def entries(self) -> Iterator[tuple[Way, Entry]]:
        """Every entry of every knitting."""
        for way in self.ways:
            for piece in way.knitted.ledger.pieces:
                for entry in piece.rows:
                    yield way, entry

    @cached_property
    def worked_rows(self) -> tuple[Worked, ...]:
        """Each line worked as a row, once, with what it does (:mod:`purlwright.proof.texture`)."""
        from purlwright.proof.texture import worked_rows

        return worked_rows(self)

    @cached_property
    def row_blocks(self) -> list[Sequence[Worked]]:
        """The worked rows of each section, and the drawn rows of each chart
        (:mod:`purlwright.proof.drawn`).
        """
        from purlwright.proof.drawn import make_blocks

        return make_blocks(self)

    @cached_property
    def knitted_blocks(self) -> list[Hashable | None]:
        """What is knitted in the rows of each block, wherever they stand; None where crossings tell of more
        than their row.
        """
        from purlwright.proof.texture import crosses

        return [
            None if any(crosses(row.key) for row in rows) else tuple(row.knitted for row in rows)
            for rows in self.row_blocks
        ]

    @cached_property
    def period(self) -> Answer:
        """Rows that break the rule of their neighbours (:mod:`purlwright.proof.period`)."""
        from purlwright.proof.period import find_period

        return find_period(self)

    @cached_property
    def unread(self) -> tuple[int, ...]:
        """Numbers of the lines that were not read, or could not be knitted as they stand."""
        found = {line.line for line, _ in self.nodes(tree.Unread)}
        if self.of_work("every row was read") is None:
            rows = {e.line for _, e in self.entries() if e.unread or e.resumed}
            if not rows:
                self.keep_of_work("every row was read", told=True)
            found |= rows
        return tuple(sorted(found))

    def amiss(self, way: Way) -> frozenset[int]:
        """Lines on which knitting this way found an error: what else seems wrong there comes of it."""
        if not way.knitted.findings:
            return frozenset()
        return frozenset(
            self.source.place(f.span.start)[0]
            for f in (*way.knitted.findings, *self._of_way(way))
            if f.severity is Severity.ERROR and f.span.end >= 0
        )

    @cached_property
    def watched(self) -> Watched:
        """The lines of the text, and the words heard in them that checks of wording and tools listen for."""
        header = getattr(self.pattern, "header", None)
        lines = frozenset(e.line for e in header.entries) if header is not None else frozenset()
        watched = self._before.watched = watch(self.source.text, lines, self._before.watched)
        return watched

    def places(self, check: str) -> int:
        """At how many places the knitting looked for a check, over all ways."""
        return sum(way.knitted.places.get(check, 0) for way in self.ways)

    def by_size(self, numbers: Iterable[tuple[Way, int]]) -> str:
        """Numbers of several sizes as a designer writes them: ``57 (63, 69)``, or ``57`` if they agree.

        Of a size met with several options the first is taken; a size that was not met is ``-``.
        """
        first: dict[str, int] = {}
        for way, number in numbers:
            first.setdefault(way.size, number)
        if len(set(first.values())) <= 1:
            return str(next(iter(first.values()), 0))
        head, *rest = (str(first.get(size, "-")) for size in dict.fromkeys(w.size for w in self.ways))
        return f"{head} ({', '.join(rest)})"

    def each_way(self, judge: Callable[[Way], Iterable[Finding]]) -> list[Finding]:
        """What ``judge`` finds in each way, merged."""
        return merge((Met(f, way) for way in self.ways for f in judge(way)), self.ways)


def _works(actions: Actions) -> Iterator[tree.Work]:
    return (n for n in tree.walk(actions) if isinstance(n, tree.Work))


def stitches_in(actions: Actions) -> frozenset[str]:
    """Every stitch that some actions name."""
    return frozenset(n.stitch for n in _works(actions))


def with_colour(actions: Actions) -> tuple[tree.Work, ...]:
    """Every stitch told with its colour."""
    return tuple(n for n in _works(actions) if n.colour)


def at(
    line: tree.Line, problem: Problem, span: Span | None = None, related: Iterable[Related] = ()
) -> Finding:
    """A finding on words of a line; ``span`` counts from the line's start, None is all of the line."""
    span = Span(0, len(line.text)) if span is None or span.end < 0 else span
    whole = Span(span.start + line.offset, span.end + line.offset)
    return Finding(problem=problem, span=whole, related=tuple(related))


def here(line: tree.Line, words: str) -> Related:
    """A line's label as a place that matters to a finding; the whole line if it has none."""
    span = line.label.span if line.label is not None else Span(0, len(line.text))
    return Related(Span(span.start + line.offset, span.end + line.offset), words)
