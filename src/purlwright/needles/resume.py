"""Knitting on from where a text was left unchanged, when it is knitted again after an edit.

In: the knitter before its first line, and the track of the last knitting of the same size and choice. Out:
the knitter as it stood at the last checkpoint before the first changed line, or as it was. Whatever might
make an earlier row come out otherwise (a reading tried on later words, a rule for rows in between) rules a
checkpoint out. Rows after the edit that come out as before are left to ``carried``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from purlwright.needles.carried import later_lines
from purlwright.needles.trial import restore, save
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.fabric.grow import Grower, Mark
    from purlwright.findings import Finding
    from purlwright.needles.carried import Later
    from purlwright.needles.hands import Edges
    from purlwright.needles.knit import Knitter
    from purlwright.needles.ledger import Entry
    from purlwright.needles.state import Row, State

__all__ = ["Checkpoint", "Track", "resume", "track_of"]

FEWEST_LINES = 4
"""So many lines at least stand between two checkpoints."""
MOST_CHECKPOINTS = 24


class Told(NamedTuple):
    """What the worker keeps in mind from row to row."""

    joined: int
    piece: int
    ribbed: int
    marked: int
    earlier: tuple[Edges, ...]
    said: int
    order: int


@dataclass(frozen=True, slots=True, eq=False)
class Checkpoint:
    """The knitter before queue line ``at``: its state, and how much had been entered until then.

    ``last_row`` is the row remembered last; later words may have put another in its place.
    """

    at: int
    state: State
    findings: int
    last_row: Row | None
    worker: Told
    bad: frozenset[int]
    taken_up: tuple[int, int]
    side_said: bool
    cast_over: int


@dataclass(slots=True, eq=False)
class Entered:
    """What a knitting has entered, in order: lists that only grow: a checkpoint is a place in them."""

    entries: list[Entry]
    marks: list[frozenset[str]]
    history: list[Row]
    pieces: list[tuple[str, int]]
    log: list[tuple[Any, ...]]
    findings: list[Finding]


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
    entered: Entered | None = None
    later: Later | None = None
    """The lines after the edit, while they are knitted again."""

    def take(self, k: Knitter, at: int, mark: Mark | None = None) -> None:
        """Keep the knitter's state before queue line ``at``, if it is time for one.

        mark : where the fabric stood then, if it is further on by now.
        """
        last = self.checkpoints[-1].at if self.checkpoints else 0
        if self.closed or k.trial or k.open or at - last < self.every:
            return
        here, k.at = k.at, at
        w = k.worker
        self.checkpoints.append(
            Checkpoint(
                at,
                save(k, mark),
                len(k.findings),
                k.history[-1] if k.history else None,
                Told(w.joined, w.piece, w.ribbed, w.marked, tuple(w.earlier), w.said, w.order),
                frozenset(k.bad),
                k.taken_up,
                k.side_said,
                k.cast_over,
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
    return old[0] == new[0] and (a is b or _alike(a, b))


def _alike(a: tree.Line, b: tree.Line) -> bool:
    return (
        (a.actions is b.actions or (a.text == b.text and a.actions == b.actions))
        and a.offset == b.offset
        and a.line == b.line
        and (a.label is b.label or a.label == b.label)
    )


def _reorders(line: tree.Line) -> bool:
    """Whether a line may put rows between those of the lines before it."""
    label = line.label
    if label is None or (label.rule is None and len(label.numbers) < 2):
        return False
    gaps = any(b - a != 1 for a, b in zip(label.numbers, label.numbers[1:], strict=False))
    return label.rule is not None or gaps


def resume(k: Knitter, old: Track | None, track: Track) -> None:
    """Bring the knitter to the last checkpoint of ``old`` that still holds for its own lines."""
    if old is not None and old.entered is not None and old.facts == track.facts:
        c = _last_good(old, track)
        if c is not None:
            _go_back(k, old, old.entered, c)
            track.grower = k.grower
        track.later = later_lines(k, old, track)
    track.entered = Entered(k.entries, k.marks, k.history, k.pieces, k.worker.log, k.findings.findings)


def _last_good(old: Track, track: Track) -> Checkpoint | None:
    """The last checkpoint before the first changed line; it and those before it are kept."""
    common = 0
    for a, b in zip(old.queue, track.queue, strict=False):
        if not _same(a, b) or (a[1].line in old.misread) != (b[1].line in track.misread):
            break
        common += 1
    changed = {q[common][0] for q in (old.queue, track.queue) if common < len(q)}
    unsafe = any(i in changed and _reorders(line) for q in (old.queue, track.queue) for i, line in q[common:])
    track.checkpoints = [
        c for c in old.checkpoints
        if c.at < common and not (unsafe and track.queue[c.at][0] in changed)
    ]  # fmt: skip
    return track.checkpoints[-1] if track.checkpoints else None


def _go_back(k: Knitter, old: Track, was: Entered, c: Checkpoint) -> None:
    w = k.worker
    entries, history, pieces, log = c.state.lengths
    k.grower = w.grower = old.grower.until(c.state.mark)
    k.entries, k.marks, k.history = was.entries[:entries], was.marks[:entries], was.history[:history]
    k.pieces, w.log = was.pieces[:pieces], was.log[:log]
    if c.last_row is not None:
        k.history[-1] = c.last_row
    for f in was.findings[: c.findings]:
        k.findings.report(f.problem, f.span, related=f.related, fix=f.fix)
    w.joined, w.piece, w.ribbed, w.marked, earlier, w.said, w.order = c.worker
    w.earlier = list(earlier)
    k.bad, k.taken_up, k.side_said, k.cast_over = set(c.bad), c.taken_up, c.side_said, c.cast_over
    restore(k, c.state)
