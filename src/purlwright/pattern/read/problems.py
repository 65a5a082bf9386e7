"""What can be wrong with the words of a row.

In: facts met by the functions of this package. Out: frozen problems for the collector.
Problems of labels, of whole lines and of the file stand with their readers.
"""

from __future__ import annotations

from dataclasses import dataclass

from purlwright.findings import Severity

__all__ = [
    "BelowNothing",
    "LineTooLong",
    "NestedTooDeep",
    "NotRead",
    "NotWhole",
    "NumberTooLarge",
    "NumberUnknown",
    "RepeatFromNothing",
    "SizeListLength",
    "TimesNotSaid",
    "UnclosedRepeat",
]


def _quoted(words: str) -> str:
    """The designer's words in quotes, shortened to what fits a line."""
    words = " ".join(words.split())
    return f'"{words if len(words) <= 60 else words[:57] + "..."}"'


_OPENS = {")": "(", "]": "[", "}": "{"}


@dataclass(frozen=True, slots=True)
class NotRead:
    """Words of a row that could not be read.

    Each row is read alone. Where its words fit no instruction we know, the stretch up to the next comma,
    semicolon or bracket is left out, and the knitting goes on after it; the totals printed later may then
    not come out.

    Example: in `Row 3: K2, k2tgo, k2.` the words `k2tgo` are left out.

    Cure: write it as one of the usual abbreviations, or give its meaning under Special stitches.
    """

    words: str
    expected: str = "a stitch, a repeat or a place"
    nearest: str = ""
    cure: str = ""

    code = "not-read"
    check: str | None = None
    severity = Severity.ERROR

    def _closes(self) -> str:
        """A closing bracket that the words begin with, and none opens before it."""
        return self.words.lstrip()[:1] if self.words.lstrip()[:1] in set(_OPENS) else ""

    def message(self) -> str:
        if mark := self._closes():
            return f"This {mark} closes nothing: no {_OPENS[mark]} stands before it."
        return f"{_quoted(self.words)} was not understood: {self.expected} was expected here."

    def label(self) -> str:
        return "not understood"

    def help(self) -> str | None:
        if mark := self._closes():
            return f"Put {_OPENS[mark]} where the group begins, or take the {mark} out."
        if self.nearest:
            return f"Did you mean {_quoted(self.nearest)}?"
        if self.cure:
            return self.cure
        return "Say it with a usual abbreviation, or explain it under Special stitches."


@dataclass(frozen=True, slots=True)
class SizeListLength:
    """A list of numbers that has not one entry for each size.

    A list such as `88 (96, 104)` gives the first size and then the others in the order of the Sizes line.
    With an entry too few or too many, a knitter cannot tell which number is hers.

    Example: `Cast on 36 (42) sts.` in a pattern whose header says `Sizes: child (adult, large)`.

    Cure: give one number for each size, in the order of the Sizes line; `-` leaves a size out.
    """

    found: int
    sizes: int

    code = "size-list-length"
    check: str | None = "C044"
    severity = Severity.ERROR

    def message(self) -> str:
        sizes = "1 size" if self.sizes == 1 else f"{self.sizes} sizes"
        return f"This list has {self.found} numbers, but the pattern has {sizes}."

    def label(self) -> str:
        return f"{self.found} numbers"

    def help(self) -> str | None:
        if self.sizes == 1:
            return "Name the sizes in a Sizes line under the title, or keep one number."
        return f"Give {self.sizes} numbers, in the order of the Sizes line."


@dataclass(frozen=True, slots=True)
class NumberTooLarge:
    """A number larger than any knitting: over 1,000,000.

    Example: `Knit 10000000 sts.`

    Cure: look for a digit too many, or a comma lost between two numbers.
    """

    words: str

    code = "number-too-large"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{_quoted(self.words)} is more than a pattern can hold (1,000,000)."

    def label(self) -> str:
        return "too large"

    def help(self) -> str | None:
        return "Look for a digit too many."


@dataclass(frozen=True, slots=True)
class NumberUnknown:
    """A name in `{...}` that no Numbers section explains.

    Example: `K{width - 8}` where the Numbers section has no line `width = ...`.

    Cure: add the name to the Numbers section, or write the number itself.
    """

    name: str

    code = "number-unknown"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"No number is named {_quoted(self.name)}."

    def label(self) -> str:
        return "not named anywhere"

    def help(self) -> str | None:
        return f"Add a line `{self.name} = ...` under the heading Numbers."


@dataclass(frozen=True, slots=True)
class NotWhole:
    """A reckoning in `{...}` that gives no whole number of stitches.

    Example: `K{width / 2}` with `width = 21`.

    Cure: change the numbers so that it comes out whole in every size.
    """

    words: str
    value: str
    size: str = ""

    code = "not-whole"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        where = f" in size {self.size}" if self.size else ""
        return f"{_quoted(self.words)} gives {self.value}{where}, which is no whole number."

    def label(self) -> str:
        return f"gives {self.value}"

    def help(self) -> str | None:
        return "Change the numbers so that it comes out whole."


@dataclass(frozen=True, slots=True)
class BelowNothing:
    """A reckoning in `{...}` that gives fewer than no stitches.

    Example: `K{width - 72}` with `width = 60 (70, 80)`.

    Cure: change the numbers so that it comes to nothing or more in every size. The row is worked with none.
    """

    words: str
    value: int
    size: str = ""

    code = "below-nothing"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        where = f" in size {self.size}" if self.size else ""
        return f"{_quoted(self.words)} gives {self.value}{where}, which is less than nothing."

    def label(self) -> str:
        return f"gives {self.value}"

    def help(self) -> str | None:
        return "Change the numbers so that it comes to nothing or more in every size."


@dataclass(frozen=True, slots=True)
class NestedTooDeep:
    """Brackets within brackets, more than fifty deep.

    Example: a row of a hundred opening brackets, as a slip of the keyboard leaves them.

    Cure: write the row with fewer brackets.
    """

    depth: int = 50

    code = "nested-too-deep"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"Brackets and stars stand more than {self.depth} deep here, so what is inside was left out."

    def label(self) -> str:
        return f"more than {self.depth} deep"

    def help(self) -> str | None:
        return "Write the row with fewer brackets."


@dataclass(frozen=True, slots=True)
class LineTooLong:
    """A line with more instructions than are read of one line.

    Reading stopped where the words are underlined, and the row is not knitted further than that.

    Example: a row that prints `k1, ` six thousand times.

    Cure: say with brackets or a star what is repeated, or break the line into rows.
    """

    most: int

    code = "line-too-long"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"Reading stopped here: the line has more than {self.most:,} instructions."

    def label(self) -> str:
        return "not read from here on"

    def help(self) -> str | None:
        return "Say with brackets or a star what is repeated, or break the line into rows."


@dataclass(frozen=True, slots=True)
class UnclosedRepeat:
    """A bracket that opens and never closes.

    The words from the bracket to the end of the line are taken to be inside it.

    Example: `Row 5: [k3, p1 5 times.`

    Cure: put the closing bracket where the group ends.
    """

    mark: str

    code = "unclosed-bracket"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"This {self.mark} is never closed."

    def label(self) -> str:
        return "opens here"

    def help(self) -> str | None:
        close = {"(": ")", "[": "]", "{": "}"}.get(self.mark, self.mark)
        return f"Add {close} where the group ends."


@dataclass(frozen=True, slots=True)
class RepeatFromNothing:
    """Words that repeat from a mark which does not stand before them.

    Example: `Row 7: K2, p2; rep from * to end.`

    Cure: put the star before the first stitch of the repeat.
    """

    mark: str = "*"

    code = "repeat-without-star"
    check: str | None = "C040"
    severity = Severity.ERROR

    def message(self) -> str:
        return f"This says to repeat from {self.mark}, but no {self.mark} stands before it in the row."

    def label(self) -> str:
        return f"no {self.mark} before this"

    def help(self) -> str | None:
        return f"Put {self.mark} before the first stitch of the repeat."


@dataclass(frozen=True, slots=True)
class TimesNotSaid:
    """The word "times" with no number before it.

    How often the repeat is worked is not printed; it is worked as often as the stitches allow.

    Example: `Rnd 22: *Knit 5, make 1, knit 2 together, * times.`

    Cure: put the number before "times".
    """

    code = "times-not-said"
    check: str | None = "C040"
    severity = Severity.ERROR

    def message(self) -> str:
        return 'This says "times" without saying how many.'

    def label(self) -> str:
        return "how many times?"

    def help(self) -> str | None:
        return 'Put the number before "times"; until then the repeat goes on to the end of the row.'
