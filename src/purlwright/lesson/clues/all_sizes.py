"""K28: whether a clue is the same in every size, so that it can stand in a note for all.

In: a clue and the clues of the same part in the other sizes. Out: yes if each of them has it in the same
words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from purlwright.lesson.clues.clue import Clue

__all__ = ["in_every_size"]


def in_every_size(clue: Clue, others: Iterable[Sequence[Clue]]) -> bool:
    """Whether every other size has a clue of this kind in these words, of these rows."""
    return all(
        any((c.kind, c.words, c.stops) == (clue.kind, clue.words, clue.stops) for c in cs) for cs in others
    )
