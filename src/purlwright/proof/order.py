"""Family J, order and completeness: markers known before they are used."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.subject import Subject, Way, at, serves

__all__ = ["JUDGES", "MarkerLeftOver", "MarkerNeverUsed", "MarkerNotPlaced"]


@dataclass(frozen=True, slots=True)
class MarkerNotPlaced:
    """A marker is slipped, removed or moved before any row has placed it.

    A knitter looks for a ring that is not on her needle, and goes back through her rows to find where she
    missed it.

    Example: `Row 3: Knit to end, slipping marker A.` when no row places marker A.

    Cure: place the marker in an earlier row, by the same name.
    """

    name: str

    code = "marker-not-placed"
    check = "C108"
    severity = Severity.WARNING

    def message(self) -> str:
        which = f'marker "{self.name}"' if self.name else "a marker"
        return f"This needs {which}, and no earlier row has placed it."

    def label(self) -> str:
        return "not placed yet"

    def help(self) -> str | None:
        return "Place the marker in an earlier row, by the same name."


@dataclass(frozen=True, slots=True)
class MarkerNeverUsed:
    """A marker with a name is placed, and no later row speaks of it.

    A ring that is never used keeps a knitter waiting for its purpose; often the row that should use it names
    another, or fell out.

    Example: `Place marker B after 12 sts.`, and B is not mentioned again.

    Cure: say what the marker is for, or leave it out.
    """

    name: str

    code = "marker-never-used"
    check = "C108"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'Marker "{self.name}" is placed here, and no later row speaks of it.'

    def label(self) -> str:
        return "never used"

    def help(self) -> str | None:
        return "Say what the marker is for, or leave it out."


_ROUND_BEGINS = "beg"
"""The marker of the round's beginning: the round itself uses it."""


@dataclass(frozen=True, slots=True)
class MarkerLeftOver:
    """A marker is placed in the middle of a row that is repeated, and nothing else speaks of a marker.

    Every repeat of the row would hang one more ring at the same place. It is a leftover of an earlier version
    of the pattern, or of another one.

    Example: `Row 3: K5, pm, p3, k5.` in four rows that are repeated, and no marker in any other row.

    Cure: take it out, or say in the other rows what it is for. (Common practice; no source.)
    """

    times: int

    code = "marker-left-over"
    check = "C108"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"A marker is placed here {self.times} times over, and no other row speaks of a marker."

    def label(self) -> str:
        return "left over?"

    def help(self) -> str | None:
        return "Take it out, or say in the other rows what the marker is for."


def _left_over(subject: Subject) -> Iterable[Finding]:
    """The one marker of the pattern, placed anew each time its row comes."""
    found = subject.nodes(tree.Marker)
    if len(found) != 1 or subject.nodes(tree.JoinRound):
        return
    line, node = found[0]
    others = subject.watched.of("marker", sorts=("words", "note", "header", "heading"))
    if (
        node.act != "place"
        or node.name
        or line.label is None
        or len(list(others)) > 1
        or any(n.kind is tree.PlaceKind.MARKER for _, n in subject.nodes(tree.Place))
        or not (line.actions and line.actions[0].span.start < node.span.start < line.actions[-1].span.end)
    ):
        return
    for way in subject.ways[:1]:
        times = sum(
            subject.line_of(e) is line or e.line == line.line
            for piece in way.knitted.ledger.pieces for e in piece.rows if e.kind in ROWS
        )  # fmt: skip
        if times > 1:
            yield at(line, MarkerLeftOver(times), node.span)


@dataclass(slots=True)
class _Rings:
    """Markers as the words have them so far: name (lower case, "" for one without) -> where placed."""

    placed: dict[str, tuple[tree.Line, tree.Marker]] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)
    round: bool = False
    """True once the work was joined: the start of the round has a marker, said or not."""

    def knows(self, name: str) -> bool:
        if not name:
            return bool(self.placed) or self.round
        return name in self.placed or "" in self.placed or (self.round and not self.placed)


def _marker_findings(lines: Iterable[tree.Line]) -> Iterable[Finding]:
    rings = _Rings()
    for line in lines:
        for node in tree.walk(line.actions):
            if isinstance(node, tree.JoinRound):
                rings.round = True
            elif isinstance(node, tree.Marker):
                name = (node.name or "").lower()
                if node.act == "place":
                    rings.placed.setdefault(name, (line, node))
                    continue
                rings.used.add(name)
                if not rings.knows(name):
                    rings.placed[name] = (line, node)  # said once is enough
                    yield at(line, MarkerNotPlaced(node.name or ""), node.span)
            elif isinstance(node, tree.Place) and node.kind is tree.PlaceKind.MARKER:
                rings.used.add((node.name or "").lower())
    if "" in rings.used:
        return  # "slip markers" speaks of all of them
    for name, (line, node) in rings.placed.items():
        if name and name != _ROUND_BEGINS and name not in rings.used:
            yield at(line, MarkerNeverUsed(node.name or ""), node.span)


def judge_markers(subject: Subject) -> Answer:
    """C108. Words that go to a marker which is not on the needle are found while knitting."""
    places = len(subject.nodes(tree.Marker))
    places += sum(1 for _, node in subject.nodes(tree.Place) if node.kind is tree.PlaceKind.MARKER)
    if not places:
        return Answer()

    def judge(way: Way) -> Iterable[Finding]:
        return _marker_findings(line for line in subject.lines if serves(line, way))

    gone = any(f.code == "no-marker" for f in subject.findings)
    findings = [*subject.each_way(judge), *_left_over(subject)]
    return Answer(places=places, findings=tuple(findings), fails=gone, missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C108": judge_markers}
