"""An old pattern in present words: each line of work told again from what it means.

In: a pattern whose terms are old. Out: edits by line. They are tried on the needles like every other wording,
and a line that would knit otherwise, or that was not read whole, keeps the old words. So does a line that
would lose how she wants it worked, or on which needles: that is in no stitch, and so in no reading of one.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.pattern import tree
from purlwright.pattern.words import line_words
from purlwright.sheet.compose.wording import lines_of_work
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.asked import Work

__all__ = ["in_present_words"]

# "loosely", "very carefully", "rather tightly"
_MANNER = (
    r"(?:(?:very|quite|rather|fairly|somewhat|not too)\s+)?"
    r"(?:loose|slack|tight|firm|even|neat|careful|easi|gent|close)ly"
)
_HOW = re.compile(rf"\b{_MANNER}\b", re.IGNORECASE)
# "Cast off all sts", "Bind off 5 sts": what a manner may follow
_EDGE = re.compile(
    r"(?:cast|bind)(?:ing)? (?:on|off)(?: all sts| (?:the )?\d+(?: \([^)]*\))? sts?)?", re.IGNORECASE
)
# "Change to finer needles and", "With the larger needle,", "Using No. 8 needles,"
_FIRST = re.compile(
    r"(?:change|changing|using|with|taking|take|on)\b[^,;]*?\b(?:needles?|pins|wires)\b(?:,? and\b|,)?\s+",
    re.IGNORECASE,
)
# "... with a larger needle." at the end
_LAST = re.compile(r",?\s+(?:with|using|on|over)\b[^,;.]*\b(?:needles?|pins|wires)\b(?=\W*$)", re.IGNORECASE)
_NEEDLES = re.compile(r"\b(?:needles?|pins|wires|hook)\b", re.IGNORECASE)


def in_present_words(work: Work, terms: Terms) -> dict[int, list[Edit]]:
    """Every line that was read whole, in the words of today, by the number of its line."""
    out: dict[int, list[Edit]] = {}
    for line in lines_of_work(work):
        if any(isinstance(node, tree.Unread | tree.Choice) for node in tree.walk(line.actions)):
            continue
        words = _nothing_lost(line.text, line_words(line, terms))
        if words.strip() and not line.sizes and not line.options:
            span = Span(line.offset, line.offset + len(line.text))
            out.setdefault(line.line, []).append(Edit(span, words))
    for entry in work.pattern.header.entries:  # the header says which terms these are now
        if entry.known == "Terms":
            out.setdefault(entry.line, []).append(Edit(entry.value_span, terms))
    return out


def _nothing_lost(hers: str, words: str) -> str:
    """The new words with her manner and needles in them, or "" if they have no sure place there."""
    # "K. plain." is read as two fills of the row
    words = re.sub(r"\b([kp] to end), \1\b", r"\1", words, flags=re.IGNORECASE)
    # "Cast on 21 sts. Very loosely."
    words = re.sub(
        rf"\. ({_MANNER})\.", lambda m: f" {m[1][0].lower()}{m[1][1:]}.", words, flags=re.IGNORECASE
    )
    lost = [m[0].lower() for m in _HOW.finditer(hers) if m[0].lower() not in words.lower()]
    for manner in lost:
        words = _with_manner(words, manner)
    if re.search(rf"\. {_MANNER} \w", words, re.IGNORECASE):
        return ""
    if len(_NEEDLES.findall(words)) < len(_NEEDLES.findall(hers)):
        words = _with_needles(hers, words)
    return words


def _with_manner(words: str, manner: str) -> str:
    edge = _EDGE.findall(words)
    if len(edge) == 1:
        return _EDGE.sub(lambda m: f"{m[0]} {manner}", words)
    label, colon, work = words.rpartition(": ")
    if re.fullmatch(r"\w+(?: to end)?\.", work):  # "Purl.", "K to end."
        return f"{label}{colon}{work[:-1]} {manner}."
    return ""


def _with_needles(hers: str, words: str) -> str:
    label, colon, work = words.rpartition(": ") if ": " in hers else ("", "", words)
    said = hers.rpartition(": ")[2] if ": " in hers else hers
    first, last = _FIRST.match(said), _LAST.search(said)
    if work and first and not last:
        return f"{label}{colon}{first[0]}{work[0].lower()}{work[1:]}"
    if work and last and not first:
        head, stop, total = work.partition(".")  # a total follows the sentence
        return f"{label}{colon}{head}{last[0]}{stop}{total}"
    return ""
