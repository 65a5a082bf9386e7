"""The text she sends to her teacher, and how it is read again.

In: what she knows, or such a text. Out: the text, or the facts. One fact a line, "Name: value", under a first
line by which it is known; lines with other names are let be, so that she can write between them.
"""

from __future__ import annotations

from collections.abc import Mapping

from purlwright.needles.columns import NO_MARK
from purlwright.rescue.observe import COUNTS, FACT_WORDS, NO_MARK_WORD, Facts, Said

__all__ = ["NotALetter", "read_choice", "read_letter", "write_letter"]

FIRST = "Where I am in my knitting"
NAMES = {
    "piece": "Piece",
    "sts": "Stitches on the needle",
    "side": "Side facing me for the next row",
    "yarn": "Working yarn, right side facing me",
    "off": "Left over at the end of the row, or short with a minus",
    "waiting": "Stitches beyond the last turning place",
    "gaps": "Turning places",
    "between": "Stitches from marker to marker",
    "intervals": "Stitches from turning place to turning place, from the right",
    "part_rows": "Rows of this part up to the needle",
    "since_hole": "Rows since the last hole",
    "since_decrease": "Rows since the last decrease",
    "since_increase": "Rows since the last increase",
    "since_crossing": "Rows since the last crossing",
    "since_stripe": "Rows since a colour was begun",
    "column": "A stitch, from the right edge, and stitches in its column above the last mark",
    "ridges_right": "Ridges up the right edge",
    "ridges_left": "Ridges up the left edge",
    "chains_right": "Chains up the right edge",
    "chains_left": "Chains up the left edge",
    "holes": "Holes of the pattern",
    "odd": "Looks odd",
    "down": "Rows from there to the needle",
    "lies_in": "In the odd row",
    "up": "Rows from the beginning of the part up to there",
    "marks_above": "Rows with holes, shaping, crossings, a turn or a new colour above there",
    "above_mark": "Rows from the nearest pattern row below up to there",
    "look_holes": "Looked for holes and ladders",
    "look_stitches": "Looked for a single odd stitch",
    "look_rows": "Looked for an odd row",
    "look_slowly": "Looked row by row",
    "cast_on": "Stitches along the cast-on edge",
    "stacks": "Each stitch over its like",
    "outline": "Outline",
    "row": "Row I think I have finished",
    "sure": "Last row I was sure of",
    "on_left": "On the left needle",
    "on_right": "On the right needle",
    "yarn_on": "Needle with the stitch the yarn comes from",
}


class NotALetter(ValueError):  # noqa: N818 - said as the caller would
    """The text is no such letter, or is about another pattern, or a line of it is not understood."""


def write_letter(title: str, version: str, size: str, options: Mapping[str, str], facts: Facts) -> str:
    """The text: pattern, version, size, choices, then one line a fact."""
    lines = [FIRST, "", f"Pattern: {_one_line(title)}"]
    if version:
        lines.append(f"Version: {_one_line(version)}")
    lines.append(f"Size: {_one_line(size)}")
    lines += [f"Option: {_one_line(name)} = {_one_line(value)}" for name, value in options.items()]
    lines.append("")
    for name, said in facts.known.items():
        if said == "":
            continue  # the only piece has no name
        value = ", ".join(map(str, said)) if isinstance(said, tuple) else str(said)
        if name == "column" and isinstance(said, tuple) and said[1] == NO_MARK:
            value = f"{said[0]}, {NO_MARK_WORD}"
        lines.append(f"{NAMES[name]}: {_one_line(value)}")
    return "\n".join(lines) + "\n"


def read_letter(text: str, title: str, version: str) -> Facts:
    """The facts of a letter about this pattern. Raises NotALetter with one sentence."""
    lines = [line.strip() for line in text.splitlines()]
    if FIRST not in lines:
        raise NotALetter(f'This is no letter about knitting: it lacks the line "{FIRST}".')
    by_name = {name: fact for fact, name in NAMES.items()}
    facts: dict[str, Said] = {}
    for number, line in enumerate(lines, 1):
        name, colon, value = line.partition(": ")
        if not colon:
            continue
        if name == "Pattern" and value != _one_line(title):
            raise NotALetter(f'The letter is about "{value}", and this pattern is "{_one_line(title)}".')
        if name == "Version" and value != _one_line(version):
            raise NotALetter(
                f"The letter is about version {value}, and this is version {version or 'unnamed'}."
            )
        fact = by_name.get(name)
        if fact is not None:
            facts[fact] = _read(fact, value, number)
    return Facts().with_(facts)


def read_choice(text: str) -> tuple[str | None, list[tuple[str, str]]]:
    """The size and the option values that a letter is about; None and none where it does not say."""
    size: str | None = None
    options: list[tuple[str, str]] = []
    for line in text.splitlines():
        name, colon, value = line.strip().partition(": ")
        if colon and name == "Size":
            size = value
        elif colon and name == "Option" and " = " in value:
            option, _, chosen = value.partition(" = ")
            options.append((option, chosen))
    return size, options


def _read(fact: str, value: str, line: int) -> Said:
    if fact == "piece":
        return value
    if fact in FACT_WORDS:
        if value not in FACT_WORDS[fact]:
            raise NotALetter(f"Line {line} of the letter: write one of {', '.join(FACT_WORDS[fact])}.")
        return value
    parts = [part.strip() for part in value.split(",")]
    if fact == "column" and parts[1:] == [NO_MARK_WORD]:
        parts[1] = str(NO_MARK)
    if fact == "column" and (len(parts) != 2 or not all(_is_whole(part) for part in parts)):
        raise NotALetter(f"Line {line} of the letter: two numbers should stand after the colon: 12, 5.")
    several = fact in COUNTS or fact == "column"
    if not all(_is_whole(part) for part in parts) or (not several and len(parts) != 1):
        raise NotALetter(f"Line {line} of the letter: a whole number should stand after the colon.")
    return tuple(map(int, parts)) if several else int(parts[0])


def _is_whole(word: str) -> bool:
    digits = word.removeprefix("-")
    return digits.isascii() and digits.isdecimal() and len(digits) < 6


def _one_line(words: str) -> str:
    return " ".join(words.split())
