"""Knitting on from where a text was left unchanged, when it is knitted again after an edit.

In: the knitter before its first line, and the track of the last knitting of the same size and choice. Out:
the knitter as it stood at the last checkpoint before the first changed line, or as it was. Whatever might
make an earlier row come out otherwise (a reading tried on later words, a rule for rows in between) rules a
checkpoint out.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from purlwright.needles.trial import restore, save
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.fabric.grow import Grower
    from purlwright.findings import Finding
    from purlwright.needles.knit import Knitter
    from purlwright.needles.state import State

__all__ = ["Checkpoint", "Track", "resume", "track_of"]

FEWEST_LINES = 4
"""So many lines at least stand between two checkpoints."""
MOST_CHECKPOINTS = 24


@dataclass(frozen=True, slots=True, eq=False)
class Checkpoint:
    """The knitter before queue line ``at``: its state, and what had been entered until then."""

    at: int
    state: State
    entries: tuple[Any, ...]
    marks: tuple[Any, ...]
    history: tuple[Any, ...]
    pieces: tuple[Any, ...]
    log: tuple[Any, ...]
    findings: tuple[Finding, ...]
    worker: tuple[Any, ...]
    bad: frozenset[int]
    taken_up: tuple[int, int]
    side_said: bool


@dataclass(slots=True, eq=False)
class Track:
    """One knitting, to be gone back into: its lines, what it leaned on, and its checkpoints."""

    facts: tuple[Any, ...]
    queue: list[tuple[int, tree.Line]]
    misread: frozenset[int]
    grower: Grower
    checkpoints: list[Checkpoint] = field(default_factory=list)
    every: int = 4
    closed: bool = False
    """True once something looked at later lines: no checkpoint after that can be trusted."""

    def take(self, k: Knitter, at: int) -> None:
        """Keep the knitter's state before queue line ``at``, if it is time for one."""
        last = self.checkpoints[-1].at if self.checkpoints else 0
        if self.closed or k.trial or k.open or at - last < self.every:
            return
        here, k.at = k.at, at
        w = k.worker
        self.checkpoints.append(
            Checkpoint(
                at,
                save(k),
                tuple(k.entries),
                tuple(k.marks),
                tuple(k.history),
                tuple(k.pieces),
                tuple(w.log),
                tuple(k.findings.findings),
                (w.joined, w.piece, w.ribbed, w.marked, tuple(w.earlier), w.said),
                frozenset(k.bad),
                k.taken_up,
                k.side_said,
            )
        )
        k.at = here


def _facts(k: Knitter) -> tuple[Any, ...]:
    """Everything besides the lines in work that a row may lean on."""
    p = k.pattern
    defined = tuple(
        (section.heading, tuple((line.offset, _read_as(line)) for line in section.lines))
        for section in p.sections
        if section.kind == "define"
    )
    return (p.title, p.sizes, p.definitions, p.charts, p.gauges, defined, tuple(k.headings))


def _read_as(line: tree.Line) -> str | int:
    """What a line that defines says: its words if they are a note, else which reading of them this is."""
    return id(line.actions) if any(type(a) is not tree.Note for a in line.actions) else line.text


def track_of(k: Knitter) -> Track:
    """A new track for this knitting."""
    every = max(FEWEST_LINES, len(k.queue) // MOST_CHECKPOINTS)
    return Track(_facts(k), k.queue, k.misread, k.grower, every=every)


def _same(old: tuple[int, tree.Line], new: tuple[int, tree.Line]) -> bool:
    a, b = old[1], new[1]
    return (
        old[0] == new[0]
        and (a.actions is b.actions or (a.text == b.text and a.actions == b.actions))
        and a.offset == b.offset
        and a.line == b.line
        and (a.label is b.label or a.label == b.label)
    )


def _reorders(line: tree.Line) -> bool:
    """Whether a line may put rows between those of the lines before it."""
    label = line.label
    if label is None:
        return False
    gaps = any(b - a != 1 for a, b in zip(label.numbers, label.numbers[1:], strict=False))
    return label.rule is not None or gaps


def resume(k: Knitter, old: Track | None, track: Track) -> None:
    """Bring the knitter to the last checkpoint of ``old`` that still holds for its own lines."""
    if old is None or not old.checkpoints or old.facts != track.facts:
        return
    common = 0
    for a, b in zip(old.queue, track.queue, strict=False):
        if not _same(a, b) or (a[1].line in old.misread) != (b[1].line in track.misread):
            break
        common += 1
    changed = {q[common][0] for q in (old.queue, track.queue) if common < len(q)}
    unsafe = any(i in changed and _reorders(line) for q in (old.queue, track.queue) for i, line in q[common:])
    good = [
        c for c in old.checkpoints
        if c.at < common and not (unsafe and track.queue[c.at][0] in changed)
    ]  # fmt: skip
    if not good:
        return
    c = good[-1]
    w = k.worker
    k.grower = w.grower = track.grower = old.grower.until(c.state.mark)
    k.entries, k.marks, k.history = list(c.entries), list(c.marks), list(c.history)
    k.pieces, w.log = list(c.pieces), list(c.log)
    for f in c.findings:
        k.findings.report(f.problem, f.span, related=f.related, fix=f.fix)
    w.joined, w.piece, w.ribbed, w.marked, earlier, w.said = c.worker
    w.earlier = list(earlier)
    k.bad, k.taken_up, k.side_said = set(c.bad), c.taken_up, c.side_said
    restore(k, c.state)
    track.checkpoints = list(good)
