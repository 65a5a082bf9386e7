"""Which question would tell most.

In: the leading lines with their weights, and what is known. Out: the name of the question, or None. How it is
asked is left to the rooms above.

A question is worth the bits by which its answer narrows down what happened, on average, for the time it takes
to look. Counts are taken to tell a fifth less, for they may be out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from purlwright.rescue.observe import COUNTS, LOOKS, ODD_WORDS, Facts
from purlwright.rescue.questions import QUESTIONS
from purlwright.rescue.rank import Weighed
from purlwright.rescue.table import AT

__all__ = ["next_question"]

SURE_WITHIN = 8
"""About so many rows come after the last one she is sure of (rule of thumb)."""
LEAST = 0.02
"""A question that tells less, in bits, is not asked."""
_SETTLING = 60.0
"""Seconds that any question takes beside the looking (rule of thumb)."""
_OF_THE_ODD_PLACE = frozenset({"lies_in", "up", "marks_above", "above_mark"})
_OFTEN_OUT = frozenset({"sts", *COUNTS, "part_rows", "cast_on", "sure"})


def next_question(weighed: Sequence[Weighed], facts: Facts, asked: Iterable[str] = ()) -> str | None:
    """The fact that tells most for its effort; None if no question tells anything."""
    if not weighed:
        return None
    done = {*asked, *facts.known}
    seen, ids, made_in = _put_together(weighed)
    weight = np.concatenate([w.chance for w in weighed])
    weight = weight / weight.sum()
    _, what = np.unique(ids, return_inverse=True)
    before = _bits(np.bincount(what, weight))
    best: tuple[str, float] | None = None
    for name, question in QUESTIONS.items():
        if name in done or name == "column" or (name in _OF_THE_ODD_PLACE and not _points_at_it(facts)):
            continue
        if name in LOOKS and (facts.odd is not None or "odd" not in done):
            continue  # first a look at the whole
        if name in LOOKS:
            there = np.isin(seen[:, AT["odd"]], [int(ODD_WORDS[word]) for word in LOOKS[name]])
            values = np.where(there, _joint([seen[:, AT["odd"]], seen[:, AT["down"]]]), -1)
        elif name == "sure":
            values = made_in // SURE_WITHIN
        else:
            new = [part for part in question.facts if part not in facts.known]
            if not new:
                continue
            values = _joint([seen[:, AT[part]] for part in new])
        gain = (before - _left(what, values, weight)) * (0.8 if name in _OFTEN_OUT else 0.95)
        worth = gain / (question.effort + _SETTLING)
        if gain > LEAST and (best is None or worth > best[1]):
            best = (name, worth)
    return None if best is None else best[0]


def _points_at_it(facts: Facts) -> bool:
    """Whether she knows of a place to point at: something odd, or something missing."""
    missing = facts.holes == "one missing" or facts.outline == "shaping stops"
    return missing or facts.odd not in {None, "nothing"}


def _put_together(weighed: Sequence[Weighed]) -> tuple[Any, Any, Any]:
    """The leading lines of all tables: what is seen, a number for what shows the same, the mistake's row."""
    seen, ids, made_in = [], [], []
    base = 0
    before = dict.fromkeys(COUNTS, 0)
    for w in weighed:
        rows = w.table.seen[w.lines].astype(np.int64)
        for name in COUNTS:  # each table has numbers of its own
            rows[:, AT[name]] += before[name]
            before[name] += len(w.table.counts[name])
        seen.append(rows)
        ids.append(w.table.sorts[w.lines].astype(np.int64) + base)
        base += w.table.n
        made_in.append(w.table.made_in[w.lines])
    return np.concatenate(seen), np.concatenate(ids), np.concatenate(made_in)


def _joint(columns: list[Any]) -> Any:
    """One number for each different row of values."""
    out = np.zeros(len(columns[0]), np.int64) if columns else np.zeros(0, np.int64)
    for column in columns:
        out = out * 100_003 + column
    return out


def _left(what: Any, values: Any, weight: Any) -> float:
    """The bits that are left on average when the values are known."""
    _, value = np.unique(values, return_inverse=True)
    n = int(what.max()) + 1
    joint = np.bincount(value.astype(np.int64) * n + what, weight)
    joint = joint[joint > 0]
    per = np.bincount(value, weight)
    per = per[per > 0]
    return float(-(joint * np.log2(joint)).sum() + (per * np.log2(per)).sum())


def _bits(p: Any) -> float:
    p = p[p > 0]
    return float(-(p * np.log2(p)).sum())
