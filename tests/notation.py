"""Literate cases: prose, and a pattern with what is expected of it in ``//`` lines.

A case file is Markdown. Its pattern stands in a block fenced by four backticks and the word ``pattern``; a ``//`` line
speaks of the line under it and is taken out before the pattern is read:

    // error 8-24 count-differs "uses 20 of the 24"
    Row 5: [k3, p1] 5 times.

that is severity, first column and the one after the last, code, and words that the message must hold. Several may
stand above one line. A block without ``//`` lines expects a clean reading. ``//`` alone at the end speaks of nothing.
"""

import re
from dataclasses import dataclass
from pathlib import Path

CASES = Path(__file__).parent / "cases"

_BLOCK = re.compile(r"^````pattern\n(?P<body>.*?)^````$", re.MULTILINE | re.DOTALL)
_EXPECTED = re.compile(
    r'//\s*(?P<severity>error|warning|note)\s+(?P<start>\d+)-(?P<end>\d+)\s+(?P<code>[a-z-]+)(?:\s+"(?P<words>.*)")?\s*$'
)


@dataclass(frozen=True)
class Expected:
    """One finding that a case expects: line and columns from 1, the end column exclusive."""

    severity: str
    line: int
    start: int
    end: int
    code: str
    words: str = ""


@dataclass(frozen=True)
class Case:
    name: str
    text: str
    expected: tuple[Expected, ...]


def cases(room):
    """Every case of a room, in order."""
    out = []
    for path in sorted((CASES / room).glob("*.md")):
        for n, m in enumerate(_BLOCK.finditer(path.read_text(encoding="utf-8")), 1):
            text, expected = parse(m["body"])
            out.append(Case(f"{path.stem}-{n}", text, expected))
    return out


def parse(body):
    """The pattern without its ``//`` lines, and what they expect."""
    lines, waiting, expected = [], [], []
    for line in body.split("\n"):
        if line.startswith("//"):
            m = _EXPECTED.match(line)
            if m is None:
                raise ValueError(f"not an expectation: {line}")
            waiting.append(m)
            continue
        lines.append(line)
        expected += [
            Expected(m["severity"], len(lines), int(m["start"]), int(m["end"]), m["code"], m["words"] or "")
            for m in waiting
        ]
        waiting = []
    return "\n".join(lines), tuple(expected)


def differences(source, findings, expected):
    """What is expected and missing, and what was found and not expected; empty when all is as it should be."""
    left = list(expected)
    out = []
    for f in findings:
        line, start = source.place(f.span.start)
        end_line, end = source.place(f.span.end)
        if end_line != line:
            end = len(source.line(line)) + 1
        for e in left:
            if (e.severity, e.line, e.start, e.end, e.code) == (
                f.severity.value,
                line,
                start,
                end,
                f.code,
            ) and e.words in f.message:
                left.remove(e)
                break
        else:
            out.append(f'found on line {line}: // {f.severity.value} {start}-{end} {f.code} "{f.message}"')
    return [*out, *(f"missing: {e}" for e in left)]
