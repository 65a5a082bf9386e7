"""Questions asked at a terminal, one after the other, until it is clear.

In: a pattern, what is known already, and ways to print and to read a line. Out: the facts with her answers,
and which questions were asked. "?" or an empty line means that she does not know; "q" ends the questions.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from purlwright.rescue.observe import LOOKS, Facts, Said
from purlwright.rescue.questions import Question
from purlwright.terminal.look import Look, plain, wrap

__all__ = ["Answerer", "ask_piece", "interview"]

Answerer = Callable[[Facts, tuple[str, ...]], Question | None]
"""Gives the next question, or None when it is clear."""


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
    while (question := following(facts, asked)) is not None:
        asked = (*asked, question.name)
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


def ask_piece(
    pieces: Sequence[tuple[str, object]],
    facts: Facts,
    look: Look,
    write: Callable[[str], None],
    read: Callable[[str], str],
) -> Facts:
    """Which piece she is knitting, if there are several and she did not say."""
    if len(pieces) < 2 or facts.piece is not None:
        return facts
    write(look.strong("Which piece are you knitting?") + "\n")
    write("\n".join(f"  {n}  {plain(name)}" for n, (name, _) in enumerate(pieces, 1)) + "\n")
    while True:
        try:
            typed = read("> ").strip()
        except EOFError:
            return facts
        if typed in {"", "?"} or typed.casefold() == "q":
            return facts
        if typed.isascii() and typed.isdecimal() and 1 <= int(typed[:4]) <= len(pieces):
            return facts.with_({"piece": pieces[int(typed[:4]) - 1][0]})
        write(f"Answer with a number from 1 to {len(pieces)}, or ?.\n")


def _asking(question: Question, look: Look) -> list[str]:
    out = [look.strong(line) for line in wrap(question.asks, look.width)]
    out += [look.faint(line) for line in wrap(question.how, look.width)]
    out += _columns(question.words, look.width)
    if question.name == "odd" or question.name in LOOKS:
        out += wrap("Answer with the number or the word, and the rows after a comma: ladder, 2", look.width)
    return out


def _columns(words: Sequence[str], width: int) -> list[str]:
    """Numbered words in columns, down the first, then the next."""
    said = [f"{n:>2} {word}" for n, word in enumerate(words, 1)]
    wide = max(map(len, said), default=0) + 2
    rows = -(-len(said) // max(1, (width - 2) // max(wide, 1)))
    return ["  " + "".join(word.ljust(wide) for word in said[r::rows]).rstrip() for r in range(rows)]
