"""The whole work on one pattern: text in, everything else on demand.

In: the text of a pattern and its name. Out: a :class:`WorkUp` that reads once, knits a size and a
choice of options when first asked, proves, and keeps what it has made. No files, no clock: the same
text always gives the same answers. How answers look or leave is left to the rooms above.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product
from typing import TYPE_CHECKING, Literal

from purlwright.findings import Finding, Severity, Verdict
from purlwright.proof.said import ONE_SIZE
from purlwright.text import Source

if TYPE_CHECKING:
    from purlwright.chart.told import Charted
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.settled import Settled
    from purlwright.cloth.yarn import YarnTaken
    from purlwright.mend.search import Repair
    from purlwright.needles.knit import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.pattern.words import Terms
    from purlwright.proof.beside import Beside
    from purlwright.proof.registry import Judge
    from purlwright.proof.report import Report
    from purlwright.rescue.desk import Desk
    from purlwright.revision.compare import Version
    from purlwright.rewrite.suggestion import Read, Suggestion
    from purlwright.sheet.document import Document

__all__ = ["ALL_WAYS", "ONE_SIZE", "Kept", "NoSuchOption", "NoSuchSize", "Proved", "WorkUp", "work_up"]

ALL_WAYS = 64
"""Up to so many combinations of option values are all knitted; beyond, every pair of values."""

Options = tuple[tuple[str, str], ...]


class NoSuchSize(ValueError):  # noqa: N818 - said as the caller would
    """A size was asked for that the pattern does not have; the message lists those it has."""


class NoSuchOption(ValueError):  # noqa: N818
    """An option or value was asked for that the pattern does not have; the message lists those it has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """What a proof knitted, found and judged."""

    sizes: tuple[str, ...]
    options: tuple[tuple[str, tuple[str, ...]], ...]
    """Each option with the values knitted."""
    choices: tuple[Options, ...]
    """Each combination of option values that was knitted, the usual one first."""
    every: bool
    knitted: tuple[Knitted, ...]
    """One a size and choice: all choices of the first size, then of the next."""
    findings: tuple[Finding, ...]
    verdicts: tuple[Verdict, ...]

    @property
    def errors(self) -> int:
        """How many findings are errors."""
        return sum(f.severity is Severity.ERROR for f in self.findings)


class Kept:
    """What is kept from one text to the next while it is edited: lines read and rows knitted before."""

    __slots__ = ("lines", "rows", "told")

    def __init__(self) -> None:
        from purlwright.needles.shape import Memory
        from purlwright.pattern.cache import LineCache
        from purlwright.proof.subject import Kept as Told

        self.lines = LineCache()
        self.rows = Memory()
        self.told = Told()


class WorkUp:
    """One pattern, read; knitted and proved on demand. Nothing is worked twice."""

    def __init__(self, text: str, name: str = "", kept: Kept | None = None, house: str = "") -> None:
        """``house`` are the words of a house style that stands beside the pattern."""
        from purlwright.pattern.file import read_pattern

        self.source = Source(text, name)
        self._house = house
        self._kept = kept if kept is not None else Kept()
        self.pattern: Pattern = read_pattern(self.source, self._kept.lines)
        self._knitted: dict[tuple[str, Options], Knitted] = {}
        self._proved: dict[tuple[str | None, Options, bool], Proved] = {}
        self._desks: dict[tuple[str, Options], Desk] = {}
        self._repairs: tuple[Repair, ...] | None = None
        self._meshes: dict[tuple[str, Options], Mesh] = {}
        self._gauges: dict[tuple[str, Options], FabricGauge] = {}
        self._settled: dict[tuple[str, Options, str], Settled] = {}

    @property
    def title(self) -> str:
        return self.pattern.title

    @property
    def sizes(self) -> tuple[str, ...]:
        """The size names in order; ``("one size",)`` when the header names none."""
        return tuple(self.pattern.sizes) or (ONE_SIZE,)

    @property
    def options(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Each option with its values, the usual one first."""
        return tuple(
            (o.name, (o.usual, *(v for v in o.values if v != o.usual))) for o in self.pattern.options
        )

    def size_named(self, name: str | None) -> str:
        """The size as the pattern writes it; the first for None. Raises NoSuchSize."""
        if name is None:
            return self.sizes[0]
        for size in self.sizes:
            if size.casefold() == name.strip().casefold():
                return size
        raise NoSuchSize(f'There is no size "{name}"; {_list("the size is", "the sizes are", self.sizes)}.')

    def option_values(self, asked: Mapping[str, str]) -> Options:
        """The asked values as the pattern writes them, in its order. Raises NoSuchOption."""
        known = {name.casefold(): (name, values) for name, values in self.options}
        chosen: dict[str, str] = {}
        for asked_name, asked_value in asked.items():
            if asked_name.strip().casefold() not in known:
                names = tuple(name for name, _ in self.options)
                has = _list("the option is", "the options are", names) if names else "the pattern has none"
                raise NoSuchOption(f'There is no option "{asked_name}"; {has}.')
            name, values = known[asked_name.strip().casefold()]
            value = next((v for v in values if v.casefold() == asked_value.strip().casefold()), None)
            if value is None:
                has = _list("its value is", "its values are", values)
                raise NoSuchOption(f'The option "{name}" has no value "{asked_value}"; {has}.')
            chosen[name] = value
        return tuple((name, chosen[name]) for name, _ in self.options if name in chosen)

    def knitted(self, size: str | None = None, options: Mapping[str, str] | None = None) -> Knitted:
        """One size (None: the first) with these option values, the usual ones where none is given."""
        named = self.size_named(size)
        asked = dict(self.option_values(options or {}))
        return self._knit(named, tuple((name, asked.get(name, values[0])) for name, values in self.options))

    def settled(
        self,
        size: str | None = None,
        options: Mapping[str, str] | None = None,
        *,
        lies: Literal["free", "blocked", "pressed"] = "free",
        quick: bool = False,
    ) -> Settled:
        """One size in the shape that it takes at its gauge: net, rest lengths, flatness and positions.

        quick : a first look, in which only patches of stitches have settled; not for measuring.
        Takes far longer than a proof: about half a second for 10,000 stitches. What was settled is kept.
        """
        from purlwright.cloth.mesh import mesh_of
        from purlwright.cloth.relax.shape import Lies
        from purlwright.cloth.settled import settle

        knitted = self.knitted(size, options)
        way = (knitted.size, knitted.options)
        key = (*way, f"{lies}, quick" if quick else lies)
        if key not in self._settled:
            if way not in self._meshes:
                self._meshes[way] = mesh_of(knitted)
            gauge = self.fabric_gauge(size, options)
            self._settled[key] = settle(
                knitted, gauge, lies=Lies(lies), mesh=self._meshes[way], quick=quick,
                blocked=lambda: self.settled(size, options, lies="blocked"),
            )  # fmt: skip
        return self._settled[key]

    def findings(self, size: str | None = None, options: Mapping[str, str] | None = None) -> list[Finding]:
        """What reading, and knitting this size and choice, found; in the order of the words."""
        knitted = self.knitted(size, options)
        return sorted((*self.pattern.findings, *knitted.findings), key=_in_order_of_words)

    def proved(
        self, size: str | None = None, options: Mapping[str, str] | None = None, *, sheet: bool = False
    ) -> Proved:
        """The proof of every size and choice; of one size, or with given values, if named.

        sheet : with the checks that look at the finished sheet, which has to be made for them.
        """
        named = None if size is None else self.size_named(size)
        asked = self.option_values(options or {})
        key = (named, asked, sheet)
        if key not in self._proved:
            self._proved[key] = self._prove(named, dict(asked), sheet=sheet)
        return self._proved[key]

    def repairs(self) -> tuple[Repair, ...]:
        """For the first causes of trouble, the single changes of the words that make all the rest come true.

        Every change is knitted, so this takes far longer than a proof: some seconds for a long pattern. None
        is made.
        """
        from purlwright.mend.search import Line, repairs

        if self._repairs is None:
            lines = [
                Line(
                    line.text,
                    line.offset,
                    line.label.span.end if line.label is not None and line.label.span.end > 0 else 0,
                    line.line,
                    defines=section.kind == "define",
                )
                for section in self.pattern.sections
                for line in section.lines
            ]
            kept = Kept()

            def trial(text: str, met: Finding | None) -> list[Finding]:
                work = WorkUp(text, self.source.name, kept)
                if met is not None:
                    size = next((s for s in work.sizes if not met.sizes or s in met.sizes), work.sizes[0])
                    chosen = {n: v for n, v in met.options if (n, v) in _pairs(work.options)}
                    return work.findings(size, chosen)
                return [*work.pattern.findings, *(f for k in work._every_way() for f in k.findings)]

            def judge(text: str) -> Iterable[Finding]:
                return WorkUp(text, self.source.name, kept).proved().findings

            proved = self._proved.get((None, (), True)) or self.proved()
            rows = max(sum(len(p.rows) for p in k.ledger.pieces) for k in proved.knitted)
            self._repairs = tuple(
                repairs(
                    self.source,
                    lines,
                    proved.findings,
                    trial,
                    judge,
                    rows=rows,
                    tail=self._tail(),
                    sizes=self.sizes,
                )
            )
        return self._repairs

    def report(self, proved: Proved, repairs: Iterable[Repair] = ()) -> Report:
        """The editor's report on what was proved, with the repairs that were found."""
        from purlwright.proof.report import compose

        return compose(
            self.pattern,
            sizes=proved.sizes,
            options=proved.options,
            every=proved.every,
            knitted=proved.knitted,
            findings=proved.findings,
            verdicts=proved.verdicts,
            repairs={(r.finding.code, r.finding.span): r.fixes for r in repairs},
        )

    def charts(
        self,
        size: str | None = None,
        options: Mapping[str, str] | None = None,
        *,
        section: str | None = None,
        rows: tuple[int, int] | None = None,
        terms: Terms = "US",
        left_handed: bool = False,
    ) -> tuple[Charted, ...]:
        """The charts of one size and choice: of a section, of rows by their numbers, or all worth one.

        Raises :class:`~purlwright.chart.charts.NoSuchRows` if there is no such section or row.
        """
        from purlwright.chart.told import told_charts

        return told_charts(
            self.pattern, self.knitted(size, options), section=section, rows=rows, terms=terms,
            left_handed=left_handed,
        )  # fmt: skip

    def desk(self, size: str | None = None, options: Mapping[str, str] | None = None) -> Desk:
        """Where am I, and what went wrong: one size and choice, ready to answer. Raises NoSuchSize."""
        from purlwright.needles.knit import knit
        from purlwright.rescue.desk import Desk

        named = self.size_named(size)
        asked = dict(self.option_values(options or {}))
        choice = tuple((name, asked.get(name, values[0])) for name, values in self.options)
        if (named, choice) not in self._desks:
            place = self.sizes.index(named)
            self._desks[named, choice] = Desk(
                self._knit(named, choice),
                lambda watch: knit(self.pattern, size=place, options=dict(choice), watch=watch),
                [(other, self._knit(other, choice).ledger) for other in self.sizes if other != named],
            )
        return self._desks[named, choice]

    def fabric_gauge(self, size: str | None = None, options: Mapping[str, str] | None = None) -> FabricGauge:
        """How wide and high each stitch of one size and choice is."""
        from purlwright.cloth.gauge import gauge_of_fabric

        knitted = self.knitted(size, options)
        way = (knitted.size, knitted.options)
        if way not in self._gauges:
            self._gauges[way] = gauge_of_fabric(self.pattern.header, knitted)
        return self._gauges[way]

    def yarn(self, size: str | None = None, options: Mapping[str, str] | None = None) -> YarnTaken:
        """The yarn that one size and choice takes, by colour and by row."""
        from purlwright.cloth.yarn import yarn_taken

        return yarn_taken(
            self.pattern.header, self.knitted(size, options), self.source.text,
            gauge=self.fabric_gauge(size, options),
        )  # fmt: skip

    def beside(self, options: Mapping[str, str] | None = None) -> tuple[Beside, ...]:
        """Each stated width and length beside what the knitting gives, in every size, with these options."""
        from purlwright.proof.lengths import lengths_beside
        from purlwright.proof.subject import Subject, Way
        from purlwright.proof.widths import widths_beside

        asked = dict(self.option_values(options or {}))
        choice = tuple((name, asked.get(name, values[0])) for name, values in self.options)
        ways = [Way(size, choice, self._knit(size, choice)) for size in self.sizes]
        subject = Subject(self.source, self.pattern, ways, self._kept.told, self._house)
        found = [*widths_beside(subject), *lengths_beside(subject)]
        return tuple(sorted(found, key=lambda one: one.span))

    def suggestions(self) -> tuple[Suggestion, ...]:
        """Rewordings, each knitted beside the pattern; of use only for one in which no error was found."""
        from purlwright.rewrite.offers import offers

        return offers(self._read(), self.proved().findings)

    def for_one_size(self, size: str) -> Suggestion:
        """The pattern's text for one size only, knitted beside it. Raises NoSuchSize."""
        from purlwright.rewrite.onesize import one_size

        return one_size(self._read(), self.size_named(size))

    def version(self, size: str | None = None) -> Version:
        """The pattern as one of two versions to compare, in every size or in one. Raises NoSuchSize."""
        from purlwright.revision.compare import Version

        proved = self.proved(size)
        return Version(
            pattern=self.pattern,
            sizes=proved.sizes,
            choices=proved.choices,
            knitted=proved.knitted,
            errors=proved.errors,
        )

    def sheet(
        self,
        size: str | None = None,
        options: Mapping[str, str] | None = None,
        *,
        terms: Literal["", "US", "UK"] = "",
        units: Literal["", "metric", "imperial", "both"] = "",
        pictures: Mapping[str, bytes] | None = None,
        left_handed: bool = False,
        spoken: bool = False,
        unproved: bool = False,
        follow: bool = False,
        cloth: bool = False,
        drawn: bool = True,
    ) -> Document:
        """The sheet of all sizes, or of one, with these option values, the usual ones where none is given.

        terms, units : "" leaves them as she writes them.
        pictures : the bytes of the pictures that the header names, by the name it has for them.
        left_handed : mirrored, for one who knits from the left to the right.
        spoken : in words that are to be heard, for one size.
        unproved : make a sheet although the pattern has errors; it says so.
        follow : with the rows one by one, for each size: for the follow-along page.
        cloth : with a picture of the finished piece, if it does not lie flat and is not too large.
        drawn : with charts and outlines, and the yarn that is reckoned.
        Raises NoSuchSize, NoSuchOption, and NoSheet where no such sheet can be made.
        """
        from purlwright.sheet.compose import Asked, compose

        chosen = dict(self.option_values(options or {}))
        asked = Asked(
            size=None if size is None else self.size_named(size),
            options=tuple((name, chosen.get(name, values[0])) for name, values in self.options),
            terms=terms,
            units=units,
            pictures=dict(pictures or {}),
            left_handed=left_handed,
            spoken=spoken,
            unproved=unproved,
            follow=follow,
            cloth=cloth,
            drawn=drawn,
        )
        return compose(self, asked, lambda text: WorkUp(text, self.source.name, self._kept))

    def _of_the_sheet(self, size: str | None, asked: dict[str, str]) -> Mapping[str, Judge]:
        """The checks that look at the sheet."""
        from purlwright.sheet.checks import checks

        return checks(
            self,
            self.sizes if size is None else (size,),
            asked,
            lambda: self.sheet(size, asked, drawn=False),
            lambda text: WorkUp(text, self.source.name, self._kept),
        )

    def _read(self) -> Read:
        """The pattern and its knittings, with a way to knit other words."""
        from purlwright.rewrite.suggestion import Read

        kept = Kept()

        def knit(text: str) -> tuple[Pattern, tuple[Knitted, ...]]:
            work = WorkUp(text, self.source.name, kept)
            return work.pattern, work._every_way()

        return Read(self.source.text, self.pattern, self.proved().knitted, knit)

    def _every_way(self) -> tuple[Knitted, ...]:
        """Every size with every choice of options that a proof knits."""
        choices, _ = option_choices(list(self.options))
        return tuple(self._knit(size, choice) for size in self.sizes for choice in choices)

    def _tail(self) -> int:
        """Where the last sections that only define begin in the text; its end if there are none."""
        at = len(self.source.text)
        for section in reversed(self.pattern.sections):
            if section.kind != "define" or section.span.end < 0:
                break
            at = self.source.line_span(section.line).start
        return at

    def _knit(self, size: str, options: Options) -> Knitted:
        from purlwright.needles.knit import knit

        key = (size, options)
        if key not in self._knitted:
            place = self.sizes.index(size)
            self._knitted[key] = knit(self.pattern, size=place, options=dict(options), memory=self._kept.rows)
        return self._knitted[key]

    def _prove(self, size: str | None, asked: dict[str, str], *, sheet: bool) -> Proved:
        from purlwright.proof.registry import prove
        from purlwright.proof.subject import Subject, Way

        sizes = self.sizes if size is None else (size,)
        values = [(n, (asked[n],) if n in asked else vs) for n, vs in self.options]
        choices, every = option_choices(values)
        ways = [Way(s, choice, self._knit(s, choice)) for s in sizes for choice in choices]
        more: dict[str, Judge] = {}
        if self.pattern.charts:  # what only a drawn chart can answer
            from purlwright.chart.check import JUDGES

            more |= JUDGES
        if self.pattern.header.yarns:  # what only counted stitches can answer
            from purlwright.cloth.check import JUDGES as OF_CLOTH

            more |= OF_CLOTH
        from purlwright.sizing.fit import JUDGES as OF_BODIES  # what only tables of bodies can answer

        more |= OF_BODIES
        if sheet:
            more |= self._of_the_sheet(size, asked)
        subject = Subject(self.source, self.pattern, ways, self._kept.told, self._house)
        proof = prove(subject, more)
        return Proved(
            sizes=sizes,
            options=tuple(values),
            choices=choices,
            every=every,
            knitted=tuple(self._knit(way.size, way.options) for way in ways),
            findings=proof.findings,
            verdicts=proof.verdicts,
        )


def _pairs(options: tuple[tuple[str, tuple[str, ...]], ...]) -> set[tuple[str, str]]:
    return {(name, value) for name, values in options for value in values}


def option_choices(options: list[tuple[str, tuple[str, ...]]]) -> tuple[tuple[Options, ...], bool]:
    """The combinations of values to knit, the usual one first; and whether those are all there are."""
    names = [name for name, _ in options]
    total = 1
    for _, values in options:
        total *= len(values)
    if total <= ALL_WAYS:
        every = product(*(values for _, values in options))
        return tuple(tuple(zip(names, values, strict=True)) for values in every), True
    return tuple(_every_pair(options)), False


def _every_pair(options: list[tuple[str, tuple[str, ...]]]) -> Iterator[Options]:
    """Combinations in which every two values of different options meet at least once.

    Each new one is built round the first pair still missing; every other option takes the value
    that brings most missing pairs with it. The usual choice comes first.
    """
    pairs = {
        frozenset({(a, va), (b, vb)}): None
        for (a, a_values), (b, b_values) in combinations(options, 2)
        for va in a_values
        for vb in b_values
    }
    made = tuple((name, values[0]) for name, values in options)
    while True:
        yield made
        for two in combinations(made, 2):
            pairs.pop(frozenset(two), None)
        if not pairs:
            return
        made = _round_a_pair(options, next(iter(pairs)), pairs)


def _round_a_pair(
    options: list[tuple[str, tuple[str, ...]]],
    pair: frozenset[tuple[str, str]],
    missing: Mapping[frozenset[tuple[str, str]], None],
) -> Options:
    chosen = dict(pair)
    for name, values in options:
        if name not in chosen:
            brings = [
                sum(frozenset({(name, v), other}) in missing for other in chosen.items()) for v in values
            ]
            chosen[name] = values[brings.index(max(brings))]
    return tuple((name, chosen[name]) for name, _ in options)


def _list(one: str, many: str, words: tuple[str, ...]) -> str:
    quoted = [f'"{w}"' for w in words]
    return f"{one} {quoted[0]}" if len(quoted) == 1 else f"{many} {', '.join(quoted[:-1])} and {quoted[-1]}"


def _in_order_of_words(finding: Finding) -> tuple[bool, int, int, str]:
    span = finding.span
    return span.end < 0, span.start, span.end, finding.code


@lru_cache(maxsize=8)
def work_up(text: str, name: str = "", house: str = "") -> WorkUp:
    """The work on a pattern; the same text under the same name and house style is worked once."""
    return WorkUp(text, name, house=house)
