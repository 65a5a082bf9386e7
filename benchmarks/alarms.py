"""What a proof says of real patterns as they were printed, and how much of it is noise.

    python benchmarks/alarms.py FOLDER             the sums, by class and by code
    python benchmarks/alarms.py FOLDER --list      and each finding: pattern, line index, code, sentence
    python benchmarks/alarms.py FOLDER --new       only those that no one has read and classed yet
    python benchmarks/alarms.py FOLDER --write     and writes benchmarks/ALARMS.md

FOLDER holds patterns as JSON, as ``benchmarks/reading.py`` has them. Every error and warning is read by a
person and classed in ``alarms.toml``, by pattern, line index (from 0; -1 for the whole) and code: *fault*, a
true fault in print (or in the scan); *lost words*, a picture, table or line that the extract lacks;
*misread*, our reading or knitting is wrong or lacking; *noise*, the pattern is right and was rightly read,
and nothing should have been said. Notes are counted, not classed. The aim is under one noisy finding per 100
rows. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import json
import sys
import tomllib
from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from reading import as_text

from purlwright.findings import Severity
from purlwright.workup import WorkUp

HERE = Path(__file__).parent
CLASSES = ("fault", "lost words", "misread", "noise")
ABOUT = """# False alarms

Made by `python benchmarks/alarms.py FOLDER --write`: the errors and warnings that a proof gives for
{patterns} real patterns with {rows:,} lines of rows, printed between 1840 and now, each finding read and
classed by hand (`alarms.toml`, by pattern and line index; no words of the patterns are kept).

"""


class Alarm(NamedTuple):
    """One error or warning on a real pattern. ``index`` is the place of its line, -1 for the whole."""

    pattern: str
    index: int
    code: str
    grave: bool
    message: str


def alarms(raw: dict[str, Any]) -> Iterator[Alarm]:
    """Every finding of a pattern, notes included (``grave`` false)."""
    text, places = as_text(raw)
    starts = [line for line, _ in places]
    work = WorkUp(text)
    for f in work.proved().findings:
        line = work.source.place(f.span.start)[0] if f.span.end >= 0 else 0
        index = bisect_right(starts, line) - 1
        yield Alarm(raw["id"], index, f.code, f.severity is not Severity.NOTE, f.message)


def classes() -> dict[tuple[str, int, str], str]:
    """What a person said of each finding: class by pattern, line index and code."""
    path = HERE / "alarms.toml"
    known = tomllib.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    out: dict[tuple[str, int, str], str] = {}
    for name, of_class in known.items():
        for entry in of_class:
            pattern, index, code = entry.split()
            out[pattern, int(index), code] = name.replace("-", " ")
    return out


def main(argv: list[str]) -> int:
    """Prove every pattern of the folder and print what was said of them."""
    parser = argparse.ArgumentParser(prog="alarms.py")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--list", action="store_true")
    parser.add_argument("--new", action="store_true")
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args(argv)
    patterns = [json.loads(p.read_text(encoding="utf-8")) for p in sorted(asked.folder.glob("*.json"))]
    rows = sum(bool((line.get("label") or "").strip()) for raw in patterns for line in raw["lines"])
    known = classes()
    found = [alarm for raw in patterns for alarm in alarms(raw)]
    grave = [a for a in found if a.grave]
    by_code: dict[str, Counter[str]] = defaultdict(Counter)
    for a in grave:
        kind = known.get((a.pattern, a.index, a.code), "not classed")
        by_code[a.code][kind] += 1
        if asked.list or (asked.new and kind == "not classed"):
            print(f"{a.pattern} {a.index} {a.code}: {a.message} [{kind}]")
    names = [*CLASSES, "not classed"]
    lines = ["| finding | " + " | ".join(names) + " |", "|---|" + "---|" * len(names)]
    for code, counts in sorted(by_code.items(), key=lambda pair: -pair[1].total()):
        lines.append(f"| {code} | " + " | ".join(str(counts[n]) for n in names) + " |")
    sums = Counter(known.get((a.pattern, a.index, a.code), "not classed") for a in grave)
    lines.append("| **all** | " + " | ".join(str(sums[n]) for n in names) + " |")
    lines += [
        "",
        f"Noise: {sums['noise']} in {rows:,} rows = {100 * sums['noise'] / max(1, rows):.2f} per 100 rows.",
        f"Notes, not classed: {len(found) - len(grave)}.",
    ]
    print("\n".join(lines))
    if asked.write:
        about = ABOUT.format(patterns=len(patterns), rows=rows)
        (HERE / "ALARMS.md").write_text(about + "\n".join(lines) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
