"""Family J, order and completeness: markers known before they are used."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.subject import Subject, Way, at, serves

__all__ = ["JUDGES", "MarkerNeverUsed", "MarkerNotPlaced"]


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
    findings = subject.each_way(judge)
    return Answer(places=places, findings=tuple(findings), fails=gone, missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C108": judge_markers}
