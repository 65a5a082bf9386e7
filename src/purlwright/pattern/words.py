"""The tree put back into words, in US or UK terms.

In: nodes of the tree. Out: the words a designer would print; reading them gives the same tree, spans aside.
Used for sheets and suggestions only: the designer's own file is never rewritten. The parts stand in
``words_numbers``, ``words_steps`` and ``words_rows``.
"""

from __future__ import annotations

from purlwright.pattern import tree
from purlwright.pattern.words_names import Terms, ground_words, stitch_words
from purlwright.pattern.words_numbers import length_words, number_words, place_words, times_words
from purlwright.pattern.words_rows import (
    action_words,
    actions_words,
    label_words,
    line_words,
    statement_words,
)
from purlwright.pattern.words_steps import step_words, steps_words

__all__ = [
    "Terms", "action_words", "actions_words", "definition_words", "ground_words", "label_words",
    "length_words", "line_words", "number_words", "place_words", "statement_words", "step_words",
    "steps_words", "stitch_words", "times_words",
]  # fmt: skip


def definition_words(definition: tree.Definition, terms: Terms = "US") -> str:
    """NAME ("(" MEANING ")")? ":" STEPS: "MB (make bobble): [k1, p1, k1] in next st, turn, p3, turn,
    sl1-k2tog-psso.".
    """
    meaning = f" ({definition.meaning})" if definition.meaning else ""
    return f"{definition.name}{meaning}: {steps_words(definition.steps, terms)}."
