"""The form that a test knitter fills in, and how it is read again.

In: what is expected, or such a text. Out: the text, with nothing in it of what is expected; or
:class:`Answers`. One answer a line, after the colon; empty lines and words of her own are let be, and rows
that were not asked for may be added. A length may be in cm, mm or inches, a weight in g or oz, a time in
minutes or hours.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from purlwright.testknit.expected import Expected, GaugeAsked

__all__ = ["Answers", "NotAForm", "read_form", "write_form"]

FIRST = "Test knit"
_HARD = "Hard to follow, and where"
_KNITTER, _NEEDLE = "Your name, or any word to know the form by", "Needle you used, mm"
_Take = Callable[[str, str, int], None]
_SWATCH, _PIECE = "your swatch, washed", "the finished piece, washed"


class NotAForm(ValueError):  # noqa: N818 - said as the caller would
    """The text is no such form, or is about another pattern, or a line of it is not understood."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What one test knitter found. Keys are the names in :class:`Expected`.

    swatch, piece : stitches and rows to 10 cm, for each gauge; None for what she did not tell. counts : by
    piece and row. measures : mm. metres : of each yarn, as she told it or by its weight. grams : of each
    yarn, where its length is not known. minutes : of each stretch. hard : in her own words.
    """

    knitter: str = ""
    swatch: Mapping[str, tuple[float | None, float | None]] = field(default_factory=dict)
    piece: Mapping[str, tuple[float | None, float | None]] = field(default_factory=dict)
    counts: Mapping[tuple[str, int], int] = field(default_factory=dict)
    measures: Mapping[str, float] = field(default_factory=dict)
    metres: Mapping[str, float] = field(default_factory=dict)
    grams: Mapping[str, float] = field(default_factory=dict)
    minutes: Mapping[str, float] = field(default_factory=dict)
    hard: tuple[str, ...] = ()


def write_form(expected: Expected) -> str:
    """The form, empty."""
    lines = [FIRST, "", f"Pattern: {_one_line(expected.title)}"]
    if expected.version:
        lines.append(f"Version: {_one_line(expected.version)}")
    lines.append(f"Size: {_one_line(expected.size)}")
    lines += [f"Option: {_one_line(name)} = {_one_line(value)}" for name, value in expected.options.items()]
    lines += [
        "",
        "Write after the colons. Leave empty what you do not know; a guess helps less than nothing.",
        "Write numbers as you find them, also where the sheet has others.",
        "",
        f"{_KNITTER}:",
        f"{_NEEDLE}:",
    ]
    if expected.gauges:
        lines += ["", "GAUGE, over 10 cm (4 inches)"]
        for g in expected.gauges:
            lines += [f"{name}:" for name, _, _ in _of_gauge(g)]
    if expected.counts:
        lines += ["", "STITCHES ON THE NEEDLE AFTER THESE ROWS. Other rows may be added in the same way."]
        lines += [f"{c.name} ({_one_line(c.called)}):" for c in expected.counts]
    if expected.measures:
        lines += ["", "SIZE after washing, dry, laid flat without pulling (cm or in)"]
        lines += [f"{_one_line(m.name)}:" for m in expected.measures]
    if expected.yarns:
        lines += ["", "YARN used, without the swatch: weigh what you had before, and what is left"]
        for y in expected.yarns:
            lines += [f"{_used(y.name)}:", f"{_band(y.name)}:"]
    if expected.stretches:
        lines += ["", "TIME at the needles (minutes, or hours such as 2 h 30)"]
        lines += [f"{_time(s.name)}:" for s in expected.stretches]
    lines += ["", "WORDS. As many lines as you like.", f"{_HARD}:", f"{_HARD}:"]
    return "\n".join(lines) + "\n"


def _of_gauge(g: GaugeAsked) -> Iterator[tuple[str, str, int]]:
    """Name of each line of a gauge, which work it is of, and 0 for stitches, 1 for rows."""
    where = f" {_one_line(g.name)}" if g.name else ""
    for work in (_SWATCH, _PIECE):
        for n, (what, value) in enumerate((("Stitches", g.stitches), ("Rows", g.rows))):
            if value is not None:
                yield f"{what}{where}, {work}", work, n


def _used(yarn: str) -> str:
    return f"{_one_line(yarn)} used (g, oz or m)"


def _band(yarn: str) -> str:
    return f"{_one_line(yarn)}: length on its band for its weight, such as 200 m per 100 g"


def _time(stretch: str) -> str:
    return f"Time for {_one_line(stretch)}"


# --- reading ---------------------------------------------------------------------------------------


def read_form(text: str, expected: Expected) -> Answers:
    """The answers of a form about this pattern and size. Raises NotAForm with one sentence."""
    lines = [" ".join(line.split()) for line in text.splitlines()]
    if FIRST not in lines:
        raise NotAForm(f'This is no form of a test knit: it lacks the line "{FIRST}".')
    for line in lines:
        _is_ours(line, expected)
    reader = _Reader(expected)
    for number, line in enumerate(lines, 1):
        reader.line(line, number)
    return reader.answers()


def _is_ours(line: str, expected: Expected) -> None:
    name, colon, value = line.partition(": ")
    if not colon:
        return
    known = {"Pattern": expected.title, "Version": expected.version, "Size": expected.size}
    if name in known and value != _one_line(known[name]):
        ours = _one_line(known[name]) or "unnamed"
        raise NotAForm(f'The form is about {name.lower()} "{value}", and this is "{ours}".')


class _Reader:
    """Takes line by line what is told."""

    def __init__(self, expected: Expected) -> None:
        self.expected = expected
        self.knitter = ""
        self.gauge: dict[str, dict[str, list[float | None]]] = {_SWATCH: {}, _PIECE: {}}
        self.counts: dict[tuple[str, int], int] = {}
        self.measures: dict[str, float] = {}
        self.used: dict[str, tuple[float, str]] = {}
        self.bands: dict[str, float] = {}
        self.minutes: dict[str, float] = {}
        self.hard: list[str] = []
        self.rows = {c.name.casefold(): at for at, c in expected.every.items()}

    def line(self, line: str, number: int) -> None:
        """One line; one that has no answer is let be."""
        if self._row(line, number):
            return
        for name, take, key in self._names():
            if line.casefold().startswith(f"{name}:".casefold()):
                value = line[len(name) + 1 :].strip()
                if value:
                    take(key, value, number)
                return
        if line.startswith(f"{_HARD}:") and (words := line[len(_HARD) + 1 :].strip()):
            self.hard.append(words)
        elif line.startswith(f"{_KNITTER}:"):
            self.knitter = line[len(_KNITTER) + 1 :].strip()

    def _row(self, line: str, number: int) -> bool:
        found = re.match(r"((?:row|round) \d+ from the .+)", line, re.IGNORECASE)
        if not found or ":" not in line:
            return False
        head, _, value = line.rpartition(":")
        name = head.casefold()
        known = [n for n in self.rows if name == n or name.startswith(f"{n} (")]
        if not known:
            raise NotAForm(f'Line {number} of the form: there is no such row in this size: "{head}".')
        if value.strip():
            self.counts[self.rows[max(known, key=len)]] = _whole(value, number)
        return True

    def _names(self) -> Iterator[tuple[str, _Take, str]]:
        """The name of each line, what takes its answer, and the key that it is kept under."""
        e = self.expected
        for g in e.gauges:
            for name, work, n in _of_gauge(g):
                yield name, self._gauge, f"{work}|{n}|{g.name}"
        for m in e.measures:
            yield _one_line(m.name), self._measure, m.name
        for y in e.yarns:
            yield _used(y.name), self._used, y.name
            yield _band(y.name), self._band, y.name
        for s in e.stretches:
            yield _time(s.name), self._time, s.name

    def _gauge(self, key: str, value: str, line: int) -> None:
        work, n, name = key.split("|", 2)
        self.gauge[work].setdefault(name, [None, None])[int(n)] = _number(value, line)

    def _measure(self, key: str, value: str, line: int) -> None:
        self.measures[key] = _mm(value, line)

    def _used(self, key: str, value: str, line: int) -> None:
        self.used[key] = _amount(value, line)

    def _band(self, key: str, value: str, line: int) -> None:
        self.bands[key] = _per_100_g(value, line)

    def _time(self, key: str, value: str, line: int) -> None:
        self.minutes[key] = _minutes(value, line)

    def answers(self) -> Answers:
        """What was told."""
        metres, grams = {}, {}
        for y in self.expected.yarns:
            if y.name not in self.used:
                continue
            amount, unit = self.used[y.name]
            per = self.bands.get(y.name, y.metres_per_100_g)
            if unit == "m":
                metres[y.name] = amount
            elif per:
                metres[y.name] = amount * per / 100
            else:
                grams[y.name] = amount
        return Answers(
            knitter=self.knitter,
            swatch={name: (a, b) for name, (a, b) in self.gauge[_SWATCH].items()},
            piece={name: (a, b) for name, (a, b) in self.gauge[_PIECE].items()},
            counts=self.counts,
            measures=self.measures,
            metres=metres,
            grams=grams,
            minutes=self.minutes,
            hard=tuple(self.hard),
        )


_FIGURE = r"(\d{1,5}(?:[.,]\d{1,3})?)"


def _found(pattern: str, value: str, line: int, wanted: str) -> re.Match[str]:
    found = re.fullmatch(pattern, value.strip(), re.IGNORECASE)
    if found is None:
        raise NotAForm(f'Line {line} of the form: {wanted} should stand after the colon, not "{value}".')
    return found


def _float(digits: str) -> float:
    return float(digits.replace(",", "."))


def _whole(value: str, line: int) -> int:
    return int(_found(r"(\d{1,5})(?: ?(?:sts?|stitch(?:es)?)\.?)?", value, line, "a whole number")[1])


def _number(value: str, line: int) -> float:
    return _float(_found(rf"{_FIGURE}(?: ?(?:sts?|stitches|rows?|rounds?))?", value, line, "a number")[1])


_LENGTHS = {"cm": Fraction(10), "mm": Fraction(1), "in": Fraction(127, 5), "inches": Fraction(127, 5),
            "inch": Fraction(127, 5), '"': Fraction(127, 5), "": Fraction(10)}  # fmt: skip


def _mm(value: str, line: int) -> float:
    found = _found(rf'{_FIGURE} ?(cm|mm|in|inch|inches|"|)', value, line, "a length such as 42.5 cm")
    return _float(found[1]) * float(_LENGTHS[found[2].casefold()])


def _amount(value: str, line: int) -> tuple[float, str]:
    found = _found(
        rf"{_FIGURE} ?(g|grams?|oz|m|metres?|meters?|yd|yards?|)", value, line, "an amount such as 54 g"
    )
    number, unit = _float(found[1]), found[2].casefold()
    if unit.startswith("y"):
        return number * 0.9144, "m"
    if unit.startswith("m"):
        return number, "m"
    return (number * 28.349523125 if unit == "oz" else number), "g"


def _per_100_g(value: str, line: int) -> float:
    found = _found(
        rf"{_FIGURE} ?(m|metres?|meters?|yd|yards?) ?(?:per|to|/|=) ?{_FIGURE} ?(g|grams?|oz)",
        value, line, "a length for a weight, such as 200 m per 100 g",
    )  # fmt: skip
    metres = _float(found[1]) * (0.9144 if found[2].casefold().startswith("y") else 1.0)
    grams = _float(found[3]) * (28.349523125 if found[4].casefold() == "oz" else 1.0)
    if not grams or not metres:
        raise NotAForm(
            f"Line {line} of the form: a length and a weight above 0 should stand after the colon."
        )
    return metres * 100 / grams


def _minutes(value: str, line: int) -> float:
    found = _found(
        rf"(?:{_FIGURE} ?h(?:ours?)?)? ?(?:{_FIGURE} ?(?:min(?:utes?)?\.?)?)?", value, line,
        "minutes, or hours such as 2 h 30,",
    )  # fmt: skip
    hours, minutes = (0.0 if part is None else _float(part) for part in found.groups())
    return hours * 60 + minutes


def _one_line(words: str) -> str:
    return " ".join(words.split())
