"""What can be wrong with a pattern's file: header, numbers, definitions, charts.

In: facts met while the file is read. Out: frozen problems for the collector.
Problems of a row's own words stand in ``read``; those of the knitting, in ``needles``.
"""

from __future__ import annotations

from dataclasses import dataclass

from purlwright.findings import Severity
from purlwright.text import Span

__all__ = [
    "ChartMarkUnknown",
    "ChartMarkUnused",
    "ChartNotRead",
    "ChartRepeatLines",
    "ChartRowNumber",
    "ChoiceUnknown",
    "FenceLeftOpen",
    "GaugeNotRead",
    "HeaderNotRead",
    "NumberNamedTwice",
    "NumberNotRead",
    "OptionUnclear",
    "OptionUnused",
    "SizeUnknown",
    "SizesNotNamed",
]


def _quoted(words: str) -> str:
    words = " ".join(words.split())
    return f'"{words if len(words) <= 60 else words[:57] + "..."}"'


def _list(words: tuple[str, ...]) -> str:
    """Says "a", "a and b", "a, b and c"."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1] if words else ""


@dataclass(frozen=True, slots=True)
class NumberNotRead:
    """A line of the Numbers section, or some arithmetic, that could not be worked out.

    Named numbers are plain: a name, an equals sign, and numbers or other names joined by `+`, `-`, `*`, `/`
    and round brackets. A list of one number for each size may stand wherever a number may.

    Example: `width = 20 (24, 28) plus a bit`.

    Cure: write `width = 20 (24, 28) + 2`.
    """

    words: str

    code = "number-not-read"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{_quoted(self.words)} could not be worked out."

    def label(self) -> str:
        return "stopped here"

    def help(self) -> str | None:
        return "Use numbers, names given above it, + - * / and round brackets."


@dataclass(frozen=True, slots=True)
class NumberNamedTwice:
    """Two named numbers with one name.

    The later line is used from there on, so that rows may mean another number than the designer thinks.

    Example: `width = 20` and, further down, `width = 24`.

    Cure: give one of them another name.
    """

    name: str

    code = "number-named-twice"
    check: str | None = None
    severity = Severity.WARNING

    def message(self) -> str:
        return f"A number is named {_quoted(self.name)} already; the later one is used."

    def label(self) -> str:
        return "named before"

    def help(self) -> str | None:
        return "Give one of the two another name."


@dataclass(frozen=True, slots=True)
class OptionUnused:
    """A choice offered in the Options line that no line of the pattern is for.

    Whoever chooses it gets the same rows as everybody else, or none where the other choice has some.

    Example: `Options: turns = wrapped (usual), double stitch` with no line or heading `double stitch only`.

    The usual choice may be what stands there anyway, with more lines for the other; then this is only a note.

    Cure: add the lines for that choice, or take it off the list.
    """

    option: str
    value: str
    usual: bool = False

    code = "option-unused"
    check: str | None = None

    @property
    def severity(self) -> Severity:
        return Severity.NOTE if self.usual else Severity.WARNING

    def message(self) -> str:
        if self.usual:
            return f"The usual choice {_quoted(self.value)} has no line of its own, only those for everybody."
        return f"No line is for {_quoted(self.value)}, though the option {_quoted(self.option)} offers it."

    def label(self) -> str:
        return "no line is for this"

    def help(self) -> str | None:
        return f"Begin the lines it needs with `{self.value} only:`, or take it off the Options line."


@dataclass(frozen=True, slots=True)
class OptionUnclear:
    """A line limited to a choice that two options offer.

    Example: `plain only:` where both `edge = plain, picot` and `cuff = plain, ribbed` stand in the header.

    Cure: name the option too: `edge plain only:`.
    """

    value: str
    options: tuple[str, ...]

    code = "option-unclear"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{_quoted(self.value)} is a choice of {_list(self.options)}; the first is taken."

    def label(self) -> str:
        return "which option?"

    def help(self) -> str | None:
        return f"Name the option too: `{self.options[0]} {self.value} only:`."


@dataclass(frozen=True, slots=True)
class ChoiceUnknown:
    """A line limited to something that is no size and no choice of the header.

    Nobody can tell whom the line is for, so everybody gets it.

    Example: `picto only:` in a pattern with `Options: edge = plain, picot`.

    Cure: use the words of the Options line.
    """

    name: str
    choices: tuple[str, ...]
    nearest: str = ""

    code = "choice-unknown"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{_quoted(self.name)} is none of the choices: {_list(self.choices)}."

    def label(self) -> str:
        return "no such choice"

    def help(self) -> str | None:
        if self.nearest:
            return f"Did you mean {_quoted(self.nearest)}?"
        return "Use the words of the Options line, or of the Sizes line."


@dataclass(frozen=True, slots=True)
class SizeUnknown:
    """A line limited to a size that the header does not name.

    Example: `Sizes XL only:` in a pattern with `Sizes: S (M, L)`.

    Cure: use the names of the Sizes line.
    """

    name: str
    sizes: tuple[str, ...]

    code = "size-unknown"
    check: str | None = "C048"
    severity = Severity.ERROR

    def message(self) -> str:
        if not self.sizes:
            return f"This is for size {_quoted(self.name)}, but the pattern names no sizes."
        return f"There is no size {_quoted(self.name)}: the sizes are {_list(self.sizes)}."

    def label(self) -> str:
        return "no such size"

    def help(self) -> str | None:
        if not self.sizes:
            return "Name the sizes in a Sizes line under the title."
        return "Use the names of the Sizes line."


@dataclass(frozen=True, slots=True)
class SizesNotNamed:
    """Lists of numbers for several sizes, and no line that names the sizes.

    The sizes are then called 1, 2, 3 in the order of the lists, which a printed sheet would show.

    Example: `Cast on 36 (42, 46) sts.` with no `Sizes:` line under the title.

    Cure: add a line such as `Sizes: child (adult, large)`.
    """

    sizes: int

    code = "sizes-not-named"
    check: str | None = "C044"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The numbers are for {self.sizes} sizes, which no line names."

    def label(self) -> str:
        return f"{self.sizes} sizes"

    def help(self) -> str | None:
        return "Add a Sizes line under the title."


@dataclass(frozen=True, slots=True)
class SizesLineDiffers:
    """The lists of the whole pattern have so many numbers, and the Sizes line names another number of sizes.

    Where every list agrees and the Sizes line alone does not, the Sizes line is what to mend: a name is
    missing there, one stands twice, or other words were taken for names.

    Example: `Sizes: S, M, L, XL` over rows that say `Cast on 36 (40, 44) sts.`

    Cure: name as many sizes as the lists have numbers.
    """

    found: int
    sizes: int
    lists: tuple[Span, ...] = ()
    """Where the lists stand."""

    code = "sizes-line-differs"
    check: str | None = "C044"
    severity = Severity.ERROR

    def message(self) -> str:
        names = "1 size is" if self.sizes == 1 else f"{self.sizes} sizes are"
        return f"{names} named here, and all {len(self.lists)} lists in the rows have {self.found} numbers."

    def label(self) -> str:
        return f"{self.sizes} named, {self.found} in each list"

    def help(self) -> str | None:
        return f"Name {self.found} sizes, like S (M, L); write measures in a line of their own, as To fit."


@dataclass(frozen=True, slots=True)
class HeaderNotRead:
    """A line under the title whose key is known and whose value is not.

    Example: `Make: a few`, `Terms: Scots`.

    Cure: see the expected words in the message.
    """

    key: str
    value: str
    expected: str

    code = "header-not-read"
    check: str | None = None
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.key}: {_quoted(self.value)} was not understood; {self.expected} is expected."

    def label(self) -> str:
        return "not understood"

    def help(self) -> str | None:
        return f"Write {self.expected}."


@dataclass(frozen=True, slots=True)
class GaugeNotRead:
    """A gauge line with no number of stitches over a length.

    Sizes, lengths and yarn are reckoned from the gauge; without it they cannot be proved.

    Example: `Gauge: not important`.

    Cure: write it as `Gauge: 18 sts and 36 rows = 10 cm in garter stitch, after washing`.
    """

    words: str

    code = "gauge-not-read"
    check: str | None = "C056"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"{_quoted(self.words)} gives no number of stitches over a length."

    def label(self) -> str:
        return "no gauge"

    def help(self) -> str | None:
        return "Write it as `18 sts and 36 rows = 10 cm in garter stitch, after washing`."


@dataclass(frozen=True, slots=True)
class FenceLeftOpen:
    """A fenced block that opens and never closes, so that everything to the end of the file is inside it.

    Example: a chart with three backticks above it and none below.

    Cure: put three backticks on a line of their own where the chart ends.
    """

    code = "fence-left-open"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return "This block is never closed: everything down to the end of the file is taken as part of it."

    def label(self) -> str:
        return "opens here"

    def help(self) -> str | None:
        return "Put the closing marks on a line of their own where the block ends."


@dataclass(frozen=True, slots=True)
class ChartNotRead:
    """A line in a chart that is neither squares nor a line of the key.

    Example: a sentence among the rows of a chart.

    Cure: move it out of the chart, or write it as a note (`>`) above.
    """

    words: str

    code = "chart-not-read"
    check: str | None = None
    severity = Severity.ERROR

    def message(self) -> str:
        return f"{_quoted(self.words)} is neither a row of squares nor a line of the key."

    def label(self) -> str:
        return "not understood"

    def help(self) -> str | None:
        return "Move it out of the chart."


@dataclass(frozen=True, slots=True)
class ChartMarkUnknown:
    """A mark drawn in a chart that its key does not explain.

    Charts have no letters of their own: every mark is the designer's and stands in the key under the chart.

    Example: a row `|o/..|3` with no line `/ = ...` in the key.

    Cure: add a line for the mark, with what to work on RS and, if it happens there, on WS.
    """

    mark: str

    code = "chart-mark-unknown"
    check: str | None = "C084"
    severity = Severity.ERROR

    def message(self) -> str:
        return f"The key does not say what {_quoted(self.mark)} means."

    def label(self) -> str:
        return "not in the key"

    def help(self) -> str | None:
        return f"Add a line `{self.mark} = ...` under the chart."


@dataclass(frozen=True, slots=True)
class ChartMarkUnused:
    """A line of a chart's key whose mark is drawn nowhere.

    Example: a key line `v = sl 1 / sl 1 wyif` and no `v` in the squares.

    Cure: take the line out, or look for the mark that was meant.
    """

    mark: str

    code = "chart-mark-unused"
    check: str | None = "C084"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The key explains {_quoted(self.mark)}, but no square shows it."

    def label(self) -> str:
        return "drawn nowhere"

    def help(self) -> str | None:
        return "Take the line out, or look for the mark that was meant."


@dataclass(frozen=True, slots=True)
class ChartRepeatLines:
    """A row of a chart with one upright line, or with more than two.

    Two upright lines stand round the squares that are worked over and over. With one, or three, nobody can
    tell which squares those are.

    Example: `. | o / . . 3`.

    Cure: put one line before the repeat and one after it, in every row.
    """

    found: int

    code = "chart-repeat-lines"
    check: str | None = "C082"
    severity = Severity.ERROR

    def message(self) -> str:
        lines = "one upright line" if self.found == 1 else f"{self.found} upright lines"
        return f"This row has {lines}; a repeat needs two, one at each side."

    def label(self) -> str:
        return "one at each side"

    def help(self) -> str | None:
        return "Put one line before the repeat and one after it."


@dataclass(frozen=True, slots=True)
class ChartRowNumber:
    """A row of a chart whose number is missing, or does not follow the one below it.

    The number stands on the side where the row starts: at the right for a row worked from right to left. A
    row without one is taken to start at the other end from the row below, one higher.

    Example: rows numbered 1, 2, 4 from the bottom up.

    Cure: number every row on its starting side, from the bottom up; say so if some are left out on purpose.
    """

    number: int | None
    before: int | None

    code = "chart-row-number"
    check: str | None = "C085"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.number is None:
            return "This row of the chart has no number, so the side it starts from is a guess."
        if self.before is None:
            return f"The bottom row of the chart is numbered {self.number}, not 1."
        return f"Row {self.number} of the chart stands on row {self.before}."

    def label(self) -> str:
        return "which side does it start from?" if self.number is None else f"numbered {self.number}"

    def help(self) -> str | None:
        return "Number the rows from the bottom up, each on the side where it starts."
