"""Family J, edges: a rule for the edge stitches holds in every row.

In: the numbered rows of flat sections as trees, and the ledger for their sides. Out: C113, C114. What the
count says is another check's; here only the odd row out is looked for: all rows of a section but one
begin, or end, alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, of_the_work
from purlwright.proof.subject import Subject, at, here, stitches_in

__all__ = ["JUDGES", "EdgeRowOut", "FirstStitchOut"]


@dataclass(frozen=True, slots=True)
class FirstStitchOut:
    """Every row of a section slips its first stitch, but one.

    The chain at the edge has a bump there, and a knitter who counts ridges by the chain counts one too few.

    Example: rows 1 to 8 begin `sl1`, and row 5 begins `k1`.

    Cure: begin this row as the others, or say why it differs.
    """

    label_words: str
    others: int

    code = "first-stitch-out"
    check = "C113"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"{self.others} rows here slip their first stitch, and {self.label_words} does not."

    def label(self) -> str:
        return "not slipped"

    def help(self) -> str | None:
        return "Begin this row as the others, or say that it differs."


@dataclass(frozen=True, slots=True)
class EdgeRowOut:
    """Every row of a section keeps its edge stitches, but one.

    A border of garter stitch then has a smooth row in it, and curls there.

    Example: rows 2, 4, 6 and 8 are `K3, purl to last 3 sts, k3`, and row 10 is `Purl`.

    Cure: keep the edge stitches in this row too, or say why it differs.
    """

    label_words: str
    edge: str
    which: str
    others: int

    code = "edge-row-out"
    check = "C114"
    severity = Severity.NOTE

    def message(self) -> str:
        verb = "begin" if self.which == "beginning" else "end"
        return f"{self.others} rows here {verb} with {self.edge}, and {self.label_words} does not."

    def label(self) -> str:
        return "another edge"

    def help(self) -> str | None:
        return f"Keep the {self.edge} at the {self.which} of this row, or say that it differs."


_FEW = 4
"""So many rows alike make a rule; common practice, no source."""


_ALL = 10_000
"""More than any edge: the whole row is worked so."""


def _rows(subject: Subject) -> list[list[tree.Line]]:
    """The numbered rows worked flat, section by section, of patterns with one choice of options; ask through
    ``subject.kept``.
    """
    out: list[list[tree.Line]] = []
    flat: set[int] = set()
    for e in _first_way(subject):
        if e.kind is _ROW and not e.unread:
            flat.add(e.line)
    for section in subject.pattern.sections:
        lines = [ln for ln in section.lines if ln.line in flat and ln.label is not None and ln.label.numbers
                 and not ln.options and not ln.sizes]  # fmt: skip
        if len(lines) > _FEW:
            out.append(lines)
    return out


_ROW, _RS, _WS = Kind.ROW, tree.Side.RS, tree.Side.WS


def _first_way(subject: Subject) -> Iterator[Entry]:
    """The entries of one knitting: rows that all sizes and choices share stand on the same lines."""
    for piece in subject.ways[0].knitted.ledger.pieces if subject.ways else ():
        yield from piece.rows


def _outer(steps: Sequence[tree.Node], *, last: bool) -> tuple[str, int] | None:
    """The stitch at one end of a row, and how many of it; None if no plain stitch stands there."""
    seen = [
        s for s in steps if not isinstance(s, (tree.Stated, tree.Note, tree.Marker, tree.Yarn, tree.YarnTo))
    ]
    if not seen:
        return None
    step = seen[-1 if last else 0]
    if isinstance(step, tree.Work) and step.count.values[0]:
        return step.stitch, step.count.values[0] or 0
    if (
        isinstance(step, tree.Fill)
        and (last or len(seen) == 1)
        and step.body
        and step.to.kind is tree.PlaceKind.END
    ):
        inner = step.body[-1 if last else 0]
        if isinstance(inner, tree.Work) and step.to.before is None:
            return inner.stitch, _ALL if len(seen) == 1 else 0
    return None


def _first(actions: Sequence[tree.Node]) -> tuple[str, int] | None:
    return _outer(actions, last=False)


def _last(actions: Sequence[tree.Node]) -> tuple[str, int] | None:
    return _outer(actions, last=True)


@of_the_work(tree.RowRule, stitches_in, _first)
def judge_first_stitch(subject: Subject) -> Answer:
    """C113."""
    rules = [n for _, n in subject.nodes(tree.RowRule) if n.rule == "slip first"]
    if not any(stitch.startswith("sl") for stitch in subject.stitches):
        return Answer(places=len(rules))
    places = len(rules)
    findings: list[Finding] = []
    for lines in subject.kept(_rows):
        firsts = list(zip(lines, subject.told_each(lines, _first), strict=True))
        known = [(ln, f) for ln, f in firsts if f is not None]
        slipped = [ln for ln, f in known if f[0].startswith("sl") and f[1] == 1]
        if len(slipped) < _FEW or len(known) != len(lines):
            continue
        odd = [(ln, f) for ln, f in known if not (f[0].startswith("sl") and f[1] == 1)]
        places += len(lines)
        if len(odd) == 1 and odd[0][0] is not lines[0] and odd[0][1][0] in {"k", "p"}:
            line = odd[0][0]
            label = line.label.words if line.label is not None else "this row"
            findings.append(
                at(
                    line,
                    FirstStitchOut(label, len(slipped)),
                    line.actions[0].span,
                    [here(slipped[0], "slipped here")],
                )
            )
    return Answer(places=places, findings=tuple(findings))


@of_the_work(_first, _last)
def judge_edges(subject: Subject) -> Answer:
    """C114."""
    places = 0
    findings: list[Finding] = []
    if not subject.nodes(tree.Label):
        return Answer()
    side: dict[int, tree.Side | None] = {}
    for e in _first_way(subject):
        side.setdefault(e.line, e.side)
    for lines in subject.kept(_rows):
        facing = [side.get(ln.line) for ln in lines]
        ends = [subject.told_each(lines, tell) for tell in (_first, _last)]
        sided = [[s is of for s in facing] for of in (_RS, _WS)]
        key: Hashable = (*map(tuple, ends), *map(tuple, sided))
        before = subject.of_rows(judge_edges, key)
        if before is not None:
            places += before
            continue
        sides = [[ln for ln, s in zip(lines, facing, strict=True) if s is of] for of in (_RS, _WS)]
        odd = [_odd_row(subject, sides, last=last) for last in (False, True)]
        looked = sum(n for _, n in odd)
        places += looked
        met = [found for found, _ in odd if found is not None]
        findings += met
        if not met:  # nor will there be, wherever rows begin and end alike
            subject.keep_of_rows(judge_edges, key, looked)
    return Answer(places=places, findings=tuple(findings[:1]))


def _odd_row(subject: Subject, sides: list[list[tree.Line]], *, last: bool) -> tuple[Finding | None, int]:
    """The one row whose edge differs from all others, of both sides; and how many rows keep an edge."""
    rows = [ln for lines in sides for ln in lines]
    everything = list(zip(rows, subject.told_each(rows, _last if last else _first), strict=True))
    stitches = Counter(f for _, f in everything if f is not None and 0 < f[1] < _ALL)
    if not stitches:
        return None, 0
    (stitch, count), _ = stitches.most_common(1)[0]
    if stitch != "k":
        return None, 0
    fits = [ln for ln, f in everything if f is not None and f[0] == stitch and f[1] >= count]
    odd = [(ln, f) for ln, f in everything if f is None or f[0] != stitch or f[1] < count]
    if len(fits) < 2 * _FEW or len(odd) != 1:
        return None, len(fits) if len(fits) == len(everything) else 0
    line, found = odd[0]
    if found is None or found[0] == stitch or found[0] not in {"k", "p"} or line is everything[0][0]:
        return None, 0
    label = line.label.words if line.label is not None else "this row"
    problem = EdgeRowOut(label, f"{stitch}{count}", "end" if last else "beginning", len(fits))
    return at(line, problem, None, [here(fits[0], "kept here")]), len(everything)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C113": judge_first_stitch, "C114": judge_edges}
