"""Questions asked at a terminal, one after the other, until it is clear.

In: a pattern, what is known already, and ways to print and to read a line. Out: the facts with her answers,
and which questions were asked. "?" or an empty line means that she does not know; "q" ends the questions.
"""

from __future__ import annotations

from collections.abc import Callable

from purlwright.rescue.observe import QUESTIONS, Facts, Question, Said
from purlwright.terminal.look import Look, plain, wrap

__all__ = ["Answerer", "interview"]

Answerer = Callable[[Facts, tuple[str, ...]], str | None]
"""Gives the name of the next question, or None when it is clear."""


def interview(
    following: Answerer,
    answer: Callable[[Question, str], dict[str, Said] | str],
    facts: Facts,
    look: Look,
    write: Callable[[str], None],
    read: Callable[[str], str],
) -> tuple[Facts, tuple[str, ...]]:
    """Ask until it is clear, or she has had enough; ``answer`` gives facts, or a sentence if it has none."""
    asked: tuple[str, ...] = ()
    write("Answer what you can; ? if you do not know, q to stop.\n\n")
    while (name := following(facts, asked)) is not None:
        question = QUESTIONS[name]
        asked = (*asked, name)
        write("\n".join(_asking(question, look)) + "\n")
        while True:
            try:
                typed = read("> ").strip()
            except EOFError:
                return facts, asked
            if typed.casefold() == "q":
                return facts, asked
            got = answer(question, typed)
            if isinstance(got, str):
                write("\n".join(wrap(plain(got), look.width)) + "\n")
                continue
            facts = facts.with_(got)
            break
        write("\n")
    return facts, asked


def _asking(question: Question, look: Look) -> list[str]:
    out = [look.strong(line) for line in wrap(question.asks, look.width)]
    out += [look.faint(line) for line in wrap(question.how, look.width)]
    if question.words:
        out += [f"  {line}" for line in wrap(", ".join(question.words), look.width - 2)]
    if question.name == "odd":
        out += wrap("With the rows after a comma: ladder, 2", look.width)
    return out
