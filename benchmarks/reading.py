"""How much of real patterns is read: share of rows read word for word, and what was not.

In: a folder of patterns kept as JSON, one a file: ``{"id", "about", "old", "lines": [{"label", "text",
"stated_count", "sizes"}]}``. Out: shares, the unread phrases by frequency, or sums as JSON.

    python benchmarks/reading.py FOLDER            shares, and what was not read, commonest first
    python benchmarks/reading.py FOLDER --json     sums, one set for modern and one for old patterns
    python benchmarks/reading.py FOLDER --json --lines     and one record a line

Each line of a pattern is one of: a *row* (it has a label), an *instruction* (no label, but a word that works
something), a *note* (neither), a *heading*. Notes and headings are in no sum; lines that begin a piece by
casting on are counted apart. What class a line is in is told from its words by the expressions below, never
from how well it was read. A line is read if every word of it has a meaning in the tree: nothing unread, no
word left out, and nothing kept as a note that holds a stitch, number, edge or row word, or that is only a
scrap inside a sentence. (The size of a needle is none of these.)

Each pattern is knitted too, in its first size. A printed count agrees if its row was knitted and ended on it.
A count from which knitting went on after unread words never agrees; one never reached disagrees.

Spans count from the start of ``label + " " + text``.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

if TYPE_CHECKING:
    from collections.abc import Iterable

    from purlwright.pattern.file import Pattern

# --- which class a line is in, and which words work something ------------------------------------

_NUMBER = (
    r"\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen"
    r"|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|dozen"
    r"|once|twice|thrice|half"
)
_STITCH = (
    r"k|p|sl|s|yo|m1\w*|k\d\w*|p\d\w*|sl\d\w*|ssk|skp\w*|kfb|psso|tbl|tog|knit\w*|purl\w*|pearl\w*"
    r"|seam(?:ed)?|plain|slip(?!pers?\b)\w*|sts?|stitch(?:es)?|loops?|over|overs|narrow\w*|widen\w*|cast|bind|bound"
    r"|pick(?:ed)?|inc|dec|increas\w*|decreas\w*|rib|ribs|ribbing|garter|stockinette|stocking st\w*|wrap\w*"
    r"|w&t|turn(?:ed)?|graft\w*|cable"
)
_ROW = r"rows?|rnds?|rounds?|repeat\w*|rep|needles?|markers?|pm|sm|ridges?"
_EDGE = (
    r"edges?|selvedges?|selvages?|(?:to|at|of|each|both|till|until) (?:the )?ends?|(?:beginning|beg|end) of"
)

WORKING = re.compile(rf"\b(?:{_NUMBER}|{_STITCH}|{_ROW}|{_EDGE})\b", re.IGNORECASE)
"""A stitch, number, edge or row word."""
NOT_WORKING = re.compile(
    r"""(?:\b(?:size|sizes|no|nos|number|us|uk)\b\.?\s*\#?\s*\d+(?:[./]\d+)?(?:\s*mm)?
          (?:\s*,?\s*\d+\W{0,2}\s*(?:in|inch)?)?
          [ ,]*(?:circular|straight|steel|bone|double[- ]point\w*)*[ ]*(?:needles?|pins?|dpns?)?)
      | \b\d+(?:\.\d+)?[½¼¾]?\s*mm\b [ ]*(?:needles?|hook)?
      | \b(?:larger|smaller|circular|straight|spare|extra|double[- ]point\w*|steel|bone|darning|tapestry|yarn
          |large|other|right|left|right-hand|left-hand)
          (?:[ ](?:size|sized|double[- ]point\w*|circular))* [ ]needles?\b
      | \bturn(?:ing)?\b[ ](?:[a-z]+[ ]){0,3}?(?:inside|right|wrong)\b[a-z/ ]{0,16}[ ]out\b
      | \b(?:start|begin|take)(?:ing)?[ ](?:a[ ]|the[ ])?(?:new|next|fresh|free)[ ]needle\b
      | \b(?:the|this|that|each|other|no|any|some)[ ]one\b | \bone[ ](?:of|another|side)\b
      | \b(?:at|all)[ ]once\b | \bonce\b(?=[ ](?:you|the|it|all))
      | \b(?:over|pages?)[ ](?:page[ ])?\d+ | \bfig(?:ure|\.)?[ ]*\d+ | \b\d\.\B | \bmore[ ]or[ ]less\b""",
    re.IGNORECASE | re.VERBOSE,
)
"""Words that look like the above and work nothing: the size of a needle, "one of them", a page."""
CAST_ON = re.compile(
    r"""\W*(?:(?:us|uk)?\s*\#?\d+\s*:\s*|(?:with|using|on|for|in|commence)\b[^.;]{0,90}?[, ]\s*(?:i\s+)?
          |back:|front:|[A-Z][A-Z ]{3,40}\.?[-–—]+\s*)?
        (?:(?:long|german|provisional|loosely|knitted|cable|tubular|judy)\W[\w\s'’-]{0,30}?)?
        (?:cast[ -]?on|co|cast)\b(?!\s+off)""",
    re.IGNORECASE | re.VERBOSE,
)
_STARTS_WORK = re.compile(
    r"\W*(?:k|p|knit|purl|work|repeat|rep|sl|slip|cast|bind|turn|join|cont|continue|dec|inc|decrease|increase|place|pick|"
    r"change|with|using|make|rib|begin|cut|break|cover|draw|when|until|then|next|in|on|at|now|divide|proceed|finish)\b|\W*[kp]\d",
    re.IGNORECASE,
)
_BY_WORD = re.compile(r"[A-Za-z][\w'’]*")
_SMALL = set("a an the of for and or with in to no on two from by at".split())
_ORDERS = re.compile(
    r"\W*(?:work|continue|cont|proceed|repeat|rep|join|turn|graft|divide|commence|finish off|fasten off)\b",
    re.IGNORECASE,
)


def is_heading(text: str) -> bool:
    """Short, no command, and set as a title: a numeral, capitals, capital initials, or marked as emphasis."""
    plain = text.strip()
    marked = re.fullmatch(r"(?:\d+\.--)?[_*](?:[^_*]+)[_*]\.?", plain) is not None
    words = _BY_WORD.findall(plain)
    if len(words) > 12 or not words:
        return len(words) == 0
    if re.fullmatch(r"[IVXLC]+\.?", plain):
        return True
    if _STARTS_WORK.match(plain) or re.search(
        r"\b(?:sts?|stitches|rows?|rnds?|rounds?)\b", plain, re.IGNORECASE
    ):
        return False
    if marked:
        return True
    great = [w for w in words if w.lower() not in _SMALL]
    return bool(great) and all(w[0].isupper() for w in great) and not re.search(r"\.\s+\S", plain)


def works(text: str) -> bool:
    """Whether the words hold a stitch, number, edge or row word."""
    return WORKING.search(NOT_WORKING.sub(" ", text)) is not None


_MATERIALS = re.compile(
    r"\W*(?:materials?|needles?|yarns?)\b\s*[.:]"
    r"|(?=.*\b(?:hanks?|skeins?|ounces?|oz|pounds?|lbs?|balls?|colou?rs of)\b)"
    r"(?!.*\b(?:knit|purl|pearl|cast|rows?|rounds?|repeat|k\d|p\d|stitch(?:es)?|sts?)\b)",
    re.IGNORECASE | re.DOTALL,
)


def line_class(label: str, text: str) -> str:
    """row, instruction, note or heading."""
    if label.strip():
        return "row"
    if is_heading(text):
        return "heading"
    if _MATERIALS.match(text):
        return "note"
    return "instruction" if works(text) or _ORDERS.match(text) else "note"


def is_cast_on(label: str, text: str) -> bool:
    """A line labelled "Cast on", or one that begins a piece by casting on."""
    return label.strip().lower().rstrip(":") == "cast on" or (
        not label.strip() and CAST_ON.match(text) is not None
    )


# --- one line -------------------------------------------------------------------------------------

_JOINERS = set(
    "and then & , . ; : - -- ( ) [ ] the a an of to in on at for with as so now next or this that these by "
    "all each it is are you your st sts stitch stitches".split()
)
_WORD = re.compile(r"[A-Za-z0-9½¼¾⅓⅔⅛]+(?:['’][A-Za-z]+)?")


@dataclass(slots=True)
class Read:
    """What became of one line."""

    id: str
    index: int
    kind: str
    words: str
    cast_on: bool
    read: bool
    notes: list[tuple[int, int]] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    end: int | None = None
    stated: int | None = None
    resumed: bool = False

    def record(self) -> dict[str, Any]:
        return {
            "id": self.id,
            "index": self.index,
            "class": self.kind,
            "cast_on": self.cast_on,
            "read": self.read,
            "notes": [list(n) for n in self.notes],
            "end": self.end,
            "stated": self.stated,
            "resumed": self.resumed,
        }


def label_words(line: tree.Line) -> list[tuple[int, int]]:
    """Where the words stand that a label has taken besides its number: its side, colour, name in brackets."""
    label = line.label
    if label is None:
        return []
    first = min((a.span.start for a in line.actions), default=len(line.text))
    known = f"{label.colour or ''} {label.name or ''}".lower().split()
    known += "rs ws right wrong side facing inclusive row rows colour color with yarn".split()
    zone = _WORD.finditer(line.text, max(0, label.span.end), max(0, first))
    return [m.span() for m in zone if m[0].lower() in known]


_ORDERLY = re.compile(r"\b(?:until|till|every|alternate(?:ly)?|both|same)\b", re.IGNORECASE)


def is_fragment(text: str, start: int, end: int) -> bool:
    """A note that is no remark: a word or two inside a sentence, or a when or how often left out."""
    before = text[:start].rstrip(" _*")[-1:]
    apart = before in {"", ".", ";", ":", "(", "[", "-", "\N{EM DASH}", "!", "?"}
    words = text[start:end]
    return not apart and (len(_BY_WORD.findall(words)) <= 2 or _ORDERLY.search(words) is not None)


def judge(lines: Iterable[tree.Line], text: str, start: int) -> tuple[list[tuple[int, int]], list[str]]:
    """The spans kept as notes, and the words not read, of the lines read from ``text`` (which stands at
    ``start``).
    """
    notes: list[tuple[int, int]] = []
    unread: list[str] = []
    covered: list[tuple[int, int]] = []
    for line in lines:
        shift = line.offset - start
        parts: list[tree.Node] = [
            a for a in line.actions if a.span.start + shift < len(text) and a.span.end + shift > 0
        ]
        covered.append((0, max(0, shift)))  # a limit such as "Sizes M, L only:"
        if line.label is not None:
            parts.append(line.label)
            covered += [(a + shift, b + shift) for a, b in label_words(line)]
        for part in parts:
            covered.append((part.span.start + shift, part.span.end + shift))
            for node in tree.walk(part):
                if isinstance(node, tree.Unread):
                    unread.append(node.words)
                elif isinstance(node, tree.Note):
                    notes.append((node.span.start + shift, node.span.end + shift))
                    if works(node.words) or is_fragment(text, *notes[-1]):
                        unread.append(node.words)
    for m in _WORD.finditer(text):
        if m[0].lower() in _JOINERS:
            continue
        if not any(a <= m.start() and m.end() <= b for a, b in covered):
            unread.append(m[0])
    return notes, unread


# --- one pattern ----------------------------------------------------------------------------------


def as_text(raw: dict[str, Any]) -> tuple[str, list[tuple[int, str]]]:
    """The pattern as a designer would paste it, and where each of its lines stands: (first line of the file,
    words).
    """
    head = [f"# {raw.get('about') or raw.get('id') or 'Untitled'}"]
    if raw.get("old"):
        head.append("Terms: old")
    sizes = max((len(line.get("sizes") or ()) for line in raw["lines"]), default=0)
    if sizes > 1:
        names = [str(n) for n in range(1, sizes + 1)]
        head.append(f"Sizes: {names[0]} ({', '.join(names[1:])})")
    out = [*head, ""]
    places: list[tuple[int, str]] = []
    for line in raw["lines"]:
        label, text = (line.get("label") or "").strip(), " ".join((line.get("text") or "").split())
        if label.lower() == "cast on":
            label = ""
        words = f"{label} {text}".strip()
        places.append((len(out) + 1, words))
        out += [words, ""]
    return "\n".join(out), places


def defined_at(pattern: Pattern, start: int, end: int) -> list[str] | None:
    """The unread words of the stitch explained between two places of the file; None if none is."""
    for d in pattern.definitions:
        if start <= d.span.start < end:
            return [n.words for s in d.steps for n in tree.walk(s) if isinstance(n, tree.Unread)]
    return None


def read_lines(raw: dict[str, Any]) -> tuple[Pattern, list[Read], list[int]]:
    """Read a pattern and judge each of its lines; with each, the line of the file on which it stands."""
    text, places = as_text(raw)
    source = Source(text)
    pattern = read_pattern(source)
    by_line: dict[int, list[tree.Line]] = {}
    for section in pattern.sections:
        for line in section.lines:
            for n in range(line.text.count("\n") + 1):  # the needles of a round may stand in a line each
                by_line.setdefault(line.line + n, []).append(line)
    out: list[Read] = []
    for index, (given, (at, words)) in enumerate(zip(raw["lines"], places, strict=True)):
        label, body = given.get("label") or "", given.get("text") or ""
        kind = line_class("" if label.lower().strip() == "cast on" else label, body)
        cast_on = is_cast_on(label, body)
        if cast_on and kind in {"note", "heading"}:
            kind = "instruction"
        start = source.starts[at - 1]
        notes, unread = judge(by_line.get(at, ()), words, start)
        told = defined_at(pattern, start, start + len(words))
        if told is not None:  # a stitch of the pattern's own, explained
            unread = told
        out.append(
            Read(
                id=raw["id"],
                index=index,
                kind=kind,
                words=words,
                cast_on=cast_on,
                read=not unread,
                notes=notes,
                unread=unread,
                stated=None if cast_on else given.get("stated_count"),
            )
        )
    return pattern, out, [at for at, _ in places]


# --- knitting it ----------------------------------------------------------------------------------


@dataclass(slots=True)
class Knitting:
    """How far one pattern was knitted: rows worked, errors said, or our own fault."""

    id: str
    rows: int = 0
    errors: int = 0
    fault: str = ""


def knit_lines(pattern: Pattern, lines: list[Read], places: list[int]) -> Knitting:
    """Knit the first size, and put beside each line what stood on the needle after it."""
    from purlwright.findings import Severity

    out = Knitting(lines[0].id if lines else "")
    try:
        from purlwright.needles.knit import knit

        knitted = knit(pattern)
    except Exception as fault:  # noqa: BLE001 - a fault of ours is counted, not hidden
        out.fault = f"{type(fault).__name__}: {fault}"
        return out
    by_line: dict[int, list[Any]] = {}
    counts: dict[int, list[tuple[Any, Any]]] = {}
    for entry in knitted.ledger.entries:
        by_line.setdefault(entry.line, []).append(entry)
        for (
            count
        ) in entry.stated:  # a count printed after "repeat rows 1-2" stands on another line than its row
            counts.setdefault(pattern.source.place(count.span.start)[0], []).append((entry, count))
        out.rows += entry.kind.value in {"row", "round"}
    out.errors = sum(f.severity is Severity.ERROR for f in (*pattern.findings, *knitted.findings))
    for line, place in zip(lines, places, strict=True):
        ends = [
            (c.knitted, c.used or resumed(e)) for e, c in counts.get(place, ()) if c.stated == line.stated
        ]
        ends += [(e.end, resumed(e)) for e in by_line.get(place, ())]
        if not ends:
            continue
        agreeing = [end for end in ends if end == (line.stated, False)]
        line.end, line.resumed = agreeing[0] if agreeing else ends[-1]
    return out


def resumed(entry: Any) -> bool:
    """Whether the row's end was taken from a printed count, or left as it was, after words not read."""
    return bool(entry.resumed or entry.unread or any(s.used for s in entry.stated))


# --- a folder -------------------------------------------------------------------------------------

_SUMS = ("labelled", "labelled_read", "unlabelled", "unlabelled_read", "counts", "counts_agree")


def sums(lines: Iterable[Read]) -> dict[str, int]:
    """The sums over the lines of some patterns."""
    out = dict.fromkeys(_SUMS, 0)
    for r in lines:
        if r.stated is not None:
            out["counts"] += 1
            out["counts_agree"] += r.end == r.stated and not r.resumed
        if r.cast_on or r.kind not in {"row", "instruction"}:
            continue
        key = "labelled" if r.kind == "row" else "unlabelled"
        out[key] += 1
        out[f"{key}_read"] += r.read
    return out


def share(part: int, whole: int) -> str:
    return f"{part}/{whole} = {100 * part / whole:.1f} %" if whole else "none"


def show(name: str, lines: list[Read]) -> None:
    s = sums(lines)
    cast = [r for r in lines if r.cast_on]
    print(
        f"{name:7} labelled rows {share(s['labelled_read'], s['labelled'])};"
        f" unlabelled {share(s['unlabelled_read'], s['unlabelled'])};"
        f" cast-ons {share(sum(r.read for r in cast), len(cast))};"
        f" counts that agree {share(s['counts_agree'], s['counts'])}"
    )


def main(argv: list[str] | None = None) -> int:
    ask = argparse.ArgumentParser(description="How much of the patterns in a folder is read.")
    ask.add_argument("folder", type=Path)
    ask.add_argument("--json", action="store_true", help="print the sums as JSON")
    ask.add_argument(
        "--lines", action="store_true", help="with --json, one record a line too; else every unread line"
    )
    ask.add_argument("--no-knit", action="store_true", help="only read: every printed count then disagrees")
    ask.add_argument("--most", type=int, default=60, help="how many unread phrases to list (60)")
    asked = ask.parse_args(argv)
    modern: list[Read] = []
    old: list[Read] = []
    knittings: list[Knitting] = []
    for path in sorted(asked.folder.glob("*.json")):
        raw = json.loads(path.read_text(encoding="utf-8"))
        pattern, lines, places = read_lines(raw)
        if not asked.no_knit:
            knittings.append(knit_lines(pattern, lines, places))
        (old if raw.get("old") else modern).extend(lines)
    if asked.json:
        out: dict[str, Any] = {"modern": sums(modern), "old": sums(old)}
        if asked.lines:
            out["lines"] = [r.record() for r in [*modern, *old]]
        print(json.dumps(out, indent=1))
        return 0
    show("modern", modern)
    show("old", old)
    clean = sum(k.rows > 0 and not k.errors and not k.fault for k in knittings)
    print(f"patterns knitted to the end without an error {share(clean, len(knittings))}")
    for k in knittings:
        if k.fault:
            print(f"    {k.id}: a fault of ours: {k.fault}")
    counted = [r for r in [*modern, *old] if r.kind in {"row", "instruction"} and not r.read]
    if asked.lines:
        for r in counted:
            print(f"{r.id} {r.index} {r.kind}: {r.words}\n        {r.unread}")
    phrases = Counter(" ".join(u.lower().split()) for r in counted for u in r.unread)
    for phrase, n in phrases.most_common(asked.most):
        print(f"{n:4}  {phrase[:140]}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
