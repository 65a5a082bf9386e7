"""A pattern's text read as a whole: title, header, sections, and every line of them.

In: a source text. Out: a frozen :class:`Pattern`; findings beside it, never an exception. The text is cut by
``cut``, its header read by ``header``, its named numbers, charts and own stitches by the files of those
names, and each line alone by ``read``. What the lines do on the needles is left to ``needles``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple, cast, get_args

from msgspec.structs import replace as with_fields

from purlwright.findings import Collector, Edit, Finding, Fix, Related
from purlwright.pattern import tree
from purlwright.pattern.arrange import MOST_SIZES, Arranged, Raw, arrange, unnamed_sizes
from purlwright.pattern.cache import LineCache
from purlwright.pattern.charts import Chart, read_chart
from purlwright.pattern.copies import MAY_COPY, copies_of, is_mate_of_all
from purlwright.pattern.cut import Block, Sort, bullet, cut
from purlwright.pattern.definitions import Draft, settle
from purlwright.pattern.emphasis import unmarked
from purlwright.pattern.header import Entry, Gauge, Header, Option, YarnEntry, read_header
from purlwright.pattern.known import begins_named_row, chart_name, fingerprint, know, own_stitches
from purlwright.pattern.needlelines import join_needles, names_needle
from purlwright.pattern.numbers import NamedNumber, read_numbers
from purlwright.pattern.problems import FenceLeftOpen
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.label import row_starts
from purlwright.pattern.read.line import read_line
from purlwright.pattern.read.problems import NotRead
from purlwright.pattern.sections import (
    Limit,
    Section,
    may_limit,
    read_limit,
    read_limit_heading,
    report_unused,
)
from purlwright.pattern.sizesline import of_the_sizes_line
from purlwright.pattern.sources import source_in
from purlwright.text import NOWHERE, Source, Span

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

__all__ = [
    "Chart", "Entry", "Gauge", "Header", "LineCache", "NamedNumber", "Option", "Pattern", "Section",
    "YarnEntry", "read_pattern",
]  # fmt: skip

_WORDS, _NOTE, _FENCE = Sort.WORDS, Sort.NOTE, Sort.FENCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A written pattern, read. ``sizes`` is empty for a pattern of one size.

    ``sections`` stand in the order of the text; lines before the first heading stand in one without a
    heading.
    """

    source: Source
    title: str = ""
    title_span: Span = NOWHERE
    header: Header = field(default_factory=Header)
    sizes: tuple[str, ...] = ()
    options: tuple[Option, ...] = ()
    numbers: tuple[NamedNumber, ...] = ()
    sections: tuple[Section, ...] = ()
    definitions: tuple[tree.Definition, ...] = ()
    charts: tuple[Chart, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def description(self) -> tuple[str, ...]:
        return tuple(words for words, _ in self.header.description)

    @property
    def yarns(self) -> tuple[YarnEntry, ...]:
        return self.header.yarns

    @property
    def gauges(self) -> tuple[Gauge, ...]:
        return self.header.gauges

    @property
    def lines(self) -> Iterator[tree.Line]:
        """Every line of every section, in the order of the text."""
        return (line for section in self.sections for line in section.lines)


_CAST_ON = re.compile(r"\b(?:cast(?:ing)?[ -]?on|CO|c/o)\b", re.IGNORECASE)
_TAKES_UP = re.compile(r"\bpick(?:ing|ed)?[ -]?up\b|\bheld\b|\bholders?\b|\bwaste yarn\b", re.IGNORECASE)
_FINISHING = re.compile(
    r"\b(?:finishing|making up|make up|to make up|assembly|assembling|seams?|seaming|sewing up|to finish"
    r"|blocking)\b",
    re.IGNORECASE,
)
_LONG = 20_000
"""A line longer than this is taken as one row, however many labels stand in it."""
_STEPS = get_args(tree.Step)
_FOLLOWED = {
    tree.CastOn, tree.PickUp, tree.Rejoin, tree.Return, tree.JoinRound, tree.Resume, tree.BindOff,
    tree.Gather, tree.Close, tree.Hold,
}  # fmt: skip


def read_pattern(source: Source, cache: LineCache | None = None) -> Pattern:
    """Read a whole pattern. Never raises, whatever the text; the empty text gives a pattern with nothing in
    it.

    cache : lines read before, for a text that is read again after an edit. Time is linear in the length of
    the text.
    """
    words = unmarked(source.text)
    plain = source if words is source.text else Source(words, source.name)
    pattern = _Reader(plain, cache if cache is not None else LineCache()).read()
    return pattern if plain is source else replace(pattern, source=source)


class _Glance(NamedTuple):
    """What a first look at a line's words tells, before it is read."""

    casts_on: bool
    makes: bool
    limits: bool


def _glance(words: str) -> _Glance:
    return _Glance(_CAST_ON.search(words) is not None, MAY_COPY.search(words) is not None, may_limit(words))


def _as_note(words: str) -> tuple[tree.Note]:
    return (tree.Note(words=words, span=Span(0, len(words))),)


class _Reader:
    """One reading of one text."""

    def __init__(self, source: Source, cache: LineCache) -> None:
        self.source = source
        self.text = source.text
        self.cache = cache
        self.findings = Collector()
        self.ctx = Context()
        self.known = 0
        self.limits: list[Limit] = []
        self.charts: list[Chart] = []
        self.live = False
        self.title = ""
        self.pair = False

    # --- the whole ---

    def read(self) -> Pattern:
        parts = arrange(self.source, cut(self.source))
        raws = parts.sections
        self.title = parts.title
        header = self._header(parts)
        sizes = header.sizes if len(header.sizes) > 1 else ()
        if not header.sizes:
            sizes = unnamed_sizes(self.source, raws, self.findings)
        sizes = sizes[:MOST_SIZES]
        numbers = self._numbers(raws, sizes)
        drafts = own_stitches(self.source, raws, parts.entries)
        self.ctx = know(self.text, header, sizes, raws, numbers[1], drafts, self.cache)
        self.known = self.cache.place_of(fingerprint(self.ctx))
        definitions = self._definitions(drafts)
        for raw in raws:
            found = read_limit_heading(raw.heading, raw.span.start, sizes, header.options, self.findings)
            raw.limit = found if found is not None else Limit()
        sections = self._sections(raws, sizes, header.options)
        report_unused(header.options, self.limits, self.findings)
        if self.pair and header.make == 1:
            header = replace(header, make=2)
        return Pattern(
            source=self.source,
            title=parts.title,
            title_span=parts.title_span,
            header=header,
            sizes=header.sizes or sizes,
            options=header.options,
            numbers=numbers[0],
            sections=sections,
            definitions=definitions,
            charts=tuple(self.charts),
            findings=of_the_sizes_line(self.findings.sorted(), header, sections),
        )

    def _header(self, parts: Arranged) -> Header:
        """What the keys say; the header read last as long as it stays, word for word and where it was."""
        words = (parts.entries, parts.description)
        if self.cache.header is not None and self.cache.header[0] == words:
            return self.cache.header[1]
        before = len(self.findings)
        header = read_header(parts.entries, parts.description, self.findings)
        self.cache.header = (words, header) if len(self.findings) == before else None
        return header

    def words(self, block: Block) -> str:
        return self.text[block.start : block.end]

    def glance(self, words: str) -> _Glance:
        return self.cache.told("glance", words, _glance)

    # --- what is known before any line is read ---

    def _numbers(
        self, raws: list[Raw], sizes: tuple[str, ...]
    ) -> tuple[tuple[NamedNumber, ...], dict[str, tuple[int, ...]]]:
        lines = [
            (self.words(b), b.start)
            for raw in raws
            if raw.topic == "numbers"
            for b in raw.blocks
            if b.sort is _WORDS
        ]
        return read_numbers(lines, sizes, self.findings)

    # --- lines ---

    def _line(self, words: str, start: int) -> tree.Line:
        """A line read alone, spans from its own start; taken from the cache if it was read before."""
        ctx = self.ctx
        bodies = self.cache.bodies_of((ctx.round, self.known))

        def read() -> tuple[tree.Line, tuple[Finding, ...]]:
            got = read_line(words, ctx, bodies=bodies)
            return tree.Line(label=got.label, actions=got.actions, text=words), got.findings

        line, findings = self.cache.get((words, ctx.round, self.known), read)
        for f in findings:
            self.findings.report(
                f.problem, _moved(f.span, start), related=_related(f, start), fix=_fix(f, start)
            )
        return line

    def _steps(self, words: str, offset: int) -> tuple[tree.Step, ...]:
        """The steps that some words of a definition or a key say, at their place in the source."""
        line = self._line(words, offset)
        return tuple(cast("tree.Step", _shift(a, offset)) for a in line.actions if isinstance(a, _STEPS))

    def _definitions(self, drafts: Iterable[Draft]) -> tuple[tree.Definition, ...]:
        out: list[tree.Definition] = []
        for draft in drafts:
            kept = self.findings
            if draft.topic != "stitches":
                self.findings = Collector()  # an explanation in other words is no mistake
            definition = settle(draft, self._steps)
            self.findings = kept
            if definition is not None:
                out.append(definition)
        return tuple(out)

    # --- sections ---

    def _sections(
        self, raws: list[Raw], sizes: tuple[str, ...], options: tuple[Option, ...]
    ) -> tuple[Section, ...]:
        out: list[Section] = []
        outer: list[tuple[int, Limit]] = []
        for raw in raws:
            while outer and outer[-1][0] >= raw.level:
                outer.pop()
            limit = raw.limit.within(outer[-1][1]) if outer else raw.limit
            outer.append((raw.level, limit))
            if limit.sizes or limit.options:
                self.limits.append(limit)
            out.append(self._section(raw, limit, sizes, options))
        return tuple(out)

    def _section(
        self, raw: Raw, limit: Limit, sizes: tuple[str, ...], options: tuple[Option, ...]
    ) -> Section:
        starts = any(b.sort is _WORDS and self.glance(self.words(b)).casts_on for b in raw.blocks)
        defines = bool(raw.topic) and (
            raw.topic in {"numbers", "abbreviations", "stitches", "header"} or (not starts and not self.live)
        )
        lines: list[tree.Line] = []
        copies = copies_of(raw.heading, heading=True)
        kept_round = self.ctx.round
        for n, block in enumerate(raw.blocks):
            words = self.words(block)
            mate = False
            row_told = defines and raw.topic == "notes" and begins_named_row(words)
            if (
                block.sort is _NOTE
                or (block.sort is _WORDS and source_in(words))
                or (defines and raw.topic != "called" and block.sort is _WORDS and not row_told)
            ):
                note = self.cache.told("note", words, _as_note)  # the same as long as its words stay
                line = tree.Line(actions=note, text=words, line=block.line, offset=block.start)
                lines.append(_limited(line, limit))
            elif block.sort is _FENCE:
                self._fence(block, raw)
            elif (whole := self._known_line(block, words, limit)) is not None:
                line, by_itself = whole
                if by_itself:
                    lines.append(line)
                    continue
                join_needles(lines, line, self.text, around=self.ctx.round)
                if not defines:
                    self._follow(line)
            elif not defines and is_mate_of_all(words, raw.heading, self.title):
                self.pair = True
                lines.append(
                    _limited(
                        tree.Line(actions=_as_note(words), text=words, line=block.line, offset=block.start),
                        limit,
                    )
                )
            else:
                if copies is None and self.glance(words).makes:
                    begun = self._begun(raw, casts_on=starts)
                    after = any(begun[: n + 1]) and not any(begun[n + 1 :])
                    copies = copies_of(words, whole=after, begun=any(begun))
                    if copies is None and not defines and copies_of(words) is not None:
                        cure = "Say it under the heading where the piece is cast on, or write its rows out."
                        span = Span(block.start, block.start + len(words))
                        if raw.topic or _FINISHING.search(raw.heading) or len(raw.blocks) > 1:
                            self.findings.report(NotRead(words, "the cast-on of this piece", cure=cure), span)
                        else:
                            mate = True
                round_ = self.ctx.round
                read: list[tree.Line] = []
                for line in self._lines_of(block, words, limit, sizes, options):
                    read.append(line)
                    told = _as_the_first(line) if mate else line
                    join_needles(lines, told, self.text, around=self.ctx.round)
                    if not defines:
                        self._follow(line)
                self._keep_line(words, read, limit, round_)
        if defines:
            self.ctx.round = kept_round
        kind = "define" if defines else "finishing" if _FINISHING.search(raw.heading) else "work"
        return Section(
            heading=raw.heading,
            level=raw.level,
            span=raw.span,
            line=raw.line,
            kind=kind,  # type: ignore[arg-type]
            topic=raw.topic if defines else "",  # type: ignore[arg-type]
            lines=tuple(lines),
            sizes=limit.sizes,
            options=limit.options,
            copies=copies,
            unsure=bool(raw.topic == "called" and not defines and not starts),
        )

    def _begun(self, raw: Raw, *, casts_on: bool) -> list[bool]:
        """Which lines of a section begin a piece: they cast on or, if none does, take up loops."""
        if casts_on:
            return [b.sort is _WORDS and self.glance(self.words(b)).casts_on for b in raw.blocks]
        # a sleeve taken up round its armhole
        return [b.sort is _WORDS and _TAKES_UP.search(self.words(b)) is not None for b in raw.blocks]

    def _known_line(self, block: Block, words: str, limit: Limit) -> tuple[tree.Line, bool] | None:
        """The line of a block that was read before as one line about which there is nothing more to say; and
        whether it stands by itself.
        """
        if limit.sizes or limit.options:
            return None
        key = (words, self.ctx.round, self.known)
        known = self.cache.whole.get(key)
        if known is None:
            return None
        self.cache.kept += 1
        line, by_itself = known
        if line.offset != block.start or line.line != block.line:
            line = with_fields(line, line=block.line, offset=block.start)
            known = self.cache.whole[key] = (line, by_itself)
        return known

    def _keep_line(self, words: str, lines: Sequence[tree.Line], limit: Limit, round_: bool) -> None:
        """Keep the line of a block, if it is the whole of it and all that is told of it."""
        if len(lines) != 1 or lines[0].text != words or limit.sizes or limit.options:
            return
        glance = self.glance(words)
        if not (glance.makes or glance.limits or self.cache.found((words, round_, self.known))):
            if len(self.cache.whole) > self.cache.most:
                self.cache.whole.clear()
            line = lines[0]
            by_itself = _FOLLOWED.isdisjoint(map(type, line.actions)) and not names_needle(line)
            self.cache.whole[words, round_, self.known] = (line, by_itself)

    def _lines_of(
        self, block: Block, words: str, limit: Limit, sizes: tuple[str, ...], options: tuple[Option, ...]
    ) -> Iterator[tree.Line]:
        """LIMIT? ROW+: the line of a block, or its lines if several rows stand in it."""
        lead = bullet(words)
        mine, at = Limit(), 0
        if self.glance(words).limits:
            mine, at = read_limit(words[lead:], block.start + lead, sizes, options, self.findings)
        at += lead
        if mine.sizes or mine.options:
            self.limits.append(mine)
            limit = mine.within(limit)
        inner: tuple[int, ...] = ()
        if len(words) < _LONG:
            inner = self.cache.told(("row starts", self.known), words, self._row_starts)
        for first, last in pairwise((at, *(n for n in inner if n > at), len(words))):
            body = words[first:last].rstrip() if last < len(words) else words[first:]
            line = self._line(body, block.start + first)
            yield tree.Line(
                label=line.label,
                actions=line.actions,
                line=block.line,
                offset=block.start + first,
                text=body,
                sizes=limit.sizes,
                options=limit.options,
            )

    def _row_starts(self, words: str) -> tuple[int, ...]:
        return row_starts(words, self.ctx)

    def _follow(self, line: tree.Line) -> None:
        """Whether loops are live after the line, and whether the work goes round: told from its words."""
        for a in line.actions:
            if type(a) not in _FOLLOWED:
                continue
            if isinstance(a, tree.CastOn) and a.at == "start" and not self.live:
                self.live, self.ctx.round = True, max(a.each, len(a.needles)) > 1
            elif isinstance(a, tree.PickUp | tree.Rejoin | tree.Return | tree.CastOn):
                self.live = True
            elif isinstance(a, tree.JoinRound):
                self.ctx.round = True
            elif isinstance(a, tree.Resume) and a.flat is not None:
                self.ctx.round = not a.flat
            elif _leaves_nothing(a):
                self.live = False

    # --- charts ---

    def _fence(self, block: Block, raw: Raw) -> None:
        if not block.closed:
            at = max(0, block.start - 1)
            self.findings.report(FenceLeftOpen(), self.source.line_span(max(1, self.source.place(at)[0])))
        if not block.info.lower().startswith("chart"):
            return
        name = chart_name(block, raw)
        chart = read_chart(name, self.words(block), block.start, block.line, self._steps, self.findings)
        self.charts.append(chart)


# --- spans moved to their place ------------------------------------------------------------------


def _moved(span: Span, start: int) -> Span:
    return span if span.end < 0 else Span(span.start + start, span.end + start)


def _related(f: Finding, start: int) -> tuple[Related, ...]:
    return tuple(Related(_moved(r.span, start), r.words) for r in f.related)


def _fix(f: Finding, start: int) -> Fix | None:
    if f.fix is None:
        return None
    return replace(f.fix, edits=tuple(Edit(_moved(e.span, start), e.words) for e in f.fix.edits))


def _shift(node: object, start: int) -> object:
    """The same node with every span moved by ``start``."""
    if isinstance(node, Span):
        return _moved(node, start)
    if isinstance(node, tuple):
        return tuple(_shift(x, start) for x in node)
    if isinstance(node, tree.Node):
        return with_fields(node, **{f: _shift(getattr(node, f), start) for f in node.__struct_fields__})
    return node


def _as_the_first(line: tree.Line) -> tree.Line:
    """In words: ``Make the second one the same`` alone under its own heading: all that was told before."""
    span = Span(0, len(line.text))
    rows = tree.RowSet(section="first", all=True, span=span)
    again = tree.RepeatRows(rows=rows, said=tree.Said.OPEN, span=span)
    return with_fields(line, actions=(again,)) if line.actions else line


def _leaves_nothing(a: tree.Action) -> bool:
    """Whether no loop is live after it: all bound off, gathered, grafted, or put on hold."""
    match a:
        case tree.BindOff():
            return a.count is None and a.keep is None
        case tree.Hold():
            return a.count is None and a.of == "all"
        case tree.Close():
            return a.how != "seam"
        case _:
            return isinstance(a, tree.Gather)


def _limited(line: tree.Line, limit: Limit) -> tree.Line:
    if not limit.sizes and not limit.options:
        return line
    return with_fields(line, sizes=limit.sizes, options=limit.options)
