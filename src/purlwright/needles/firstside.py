"""The rows of the side of a divided piece that was worked first.

In: the lines of a piece up to words such as "Complete to match first side". Out: the lines that worked the
first side, or None where no side is found. Mirroring them is left to ``pattern.halves``.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from purlwright.pattern import tree

__all__ = ["first_side"]

_SOME = (tree.Note, tree.Stated, tree.Unread, tree.Yarn, tree.Resume, tree.Rejoin, tree.Return)


def first_side(lines: Sequence[tree.Line]) -> tuple[tree.Line, ...] | None:
    """The rows of the first side: from where the piece was divided to where those that waited were taken up.

    The row that divides is one of them where the second side has not been worked across yet.
    """
    begun = max((n for n, ln in enumerate(lines) if _starts(ln)), default=0)
    up = max((n for n in range(begun, len(lines)) if _takes_up(lines[n])), default=-1)
    divides = [n for n in range(begun, max(up, 0)) if _divides(lines[n])]
    if up < 0 or not divides:
        return None
    at = divides[-1]
    said = next(i for i, a in enumerate(lines[at].actions) if _parts(a))
    cut = next((i for i, a in enumerate(lines[at].actions) if isinstance(a, tree.Turn)), said)
    before: list[tree.Action] = [
        a for a in lines[at].actions[:cut] if not _parts(a) and not isinstance(a, tree.Turn)
    ]
    after = [a for a in lines[at].actions[max(cut, said) + 1 :] if not isinstance(a, tree.Turn)]
    if not before and not after and at:  # "K22, turn." and under it "Working on these sts only, ..."
        row = lines[at - 1]
        turn = next((i for i, a in enumerate(row.actions) if isinstance(a, tree.Turn)), None)
        before = [] if turn is None else list(row.actions[:turn])
        at = at if turn is None else at - 1
    crossed = any(
        any(not isinstance(a, tree.Note) for a in ln.actions) and not _only_moves(ln.actions)
        for ln in lines[up:]
    )
    out: list[tree.Line] = []
    if before and not crossed:
        out.append(replace(lines[at], actions=tuple(before)))
    if after:
        out.append(replace(lines[at], label=None, actions=tuple(after)))
    rest = lines[at + 1 : up]
    out += [replace(ln, actions=tuple(a for a in ln.actions if not _parts(a))) for ln in rest]
    return tuple(ln for ln in out if ln.actions) or None


def _starts(line: tree.Line) -> bool:
    return any(isinstance(a, tree.CastOn) and a.at == "start" for a in line.actions)


def _takes_up(line: tree.Line) -> bool:
    return any(isinstance(a, (tree.Rejoin, tree.Return)) for a in line.actions)


def _parts(a: tree.Action) -> bool:
    """Whether stitches are left to wait here."""
    return (isinstance(a, tree.Hold) and a.of != "all") or (isinstance(a, tree.Resume) and a.part != "")


def _divides(line: tree.Line) -> bool:
    return any(_parts(a) for a in line.actions)


def _only_moves(actions: Sequence[tree.Action]) -> bool:
    """Whether no stitch of a row is worked: the yarn is joined, stitches go on a holder or come back."""
    return all(isinstance(a, (*_SOME, tree.Hold)) for a in actions)
