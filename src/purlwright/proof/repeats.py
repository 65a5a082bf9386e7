"""Family D, repeats and brackets: found while reading; counted here."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]

_OPENING = "([{"


def judge_brackets(subject: Subject) -> Answer:
    """C039: what does not close was found while reading, under a code that belongs to no check of its own."""
    words = "".join([line.text for line in subject.lines])
    places = sum(words.count(mark) for mark in _OPENING)
    return Answer(places=places, fails=any(f.code == "unclosed-bracket" for f in subject.findings))


def judge_stars(subject: Subject) -> Answer:
    """C040."""
    return Answer(places=sum(1 for _, node in subject.nodes(tree.Repeat) if node.star))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C039": judge_brackets, "C040": judge_stars}
