"""The single changes of one line that a misprint may have come from.

In: the words of a line, and what the pattern's other rows use. Out: changes of one number, one stitch, one
bracket, one word or one side, likeliest first. Which of them make the pattern come true is left to
``search``. The kinds and their order follow the faults that published corrections show; the weights are our
own, set by the planted mistakes of ``benchmarks/mutations.py``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from purlwright.findings import Edit
from purlwright.mend.size_lists import Entry, between, entries, steps_unlike, with_one_less, with_one_more
from purlwright.text import Span

__all__ = [
    "Change",
    "Words",
    "changes",
    "is_even",
    "known_numbers",
    "operations",
    "repeats_evenly",
    "runs",
    "same_words",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of the words: what stands there, what would stand there, and how unlikely it is."""

    edit: Edit
    title: str
    weight: float
    kind: str = "number"
    """What is changed: "number", "stitch", "more", "order", "bracket", "star", "side", "list" or "row"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line as it stands in the text: its words, where they begin, and where the label ends in them.

    sizes : how many sizes the pattern has. met : the places of the sizes in which the fault was met, None for
    all of them. marked : where the fault is marked in these words. lists : by how many numbers a list is too
    short; below 0 too long. known : lists that the pattern has elsewhere.
    """

    text: str
    offset: int
    label_end: int = 0
    sizes: int = 1
    met: frozenset[int] | None = None
    marked: Span | None = None
    lists: int = 0
    known: frozenset[tuple[int | None, ...]] = frozenset()


_NUMBER = re.compile(r"(?<![\w.½¼¾/])(?P<stitch>[A-Za-z]{0,3})(?P<n>\d{1,4})(?![\d½¼¾/]|\.\d)")
_ITEM = re.compile(r"[^,;:.()\[\]{}*]+")
_TOTAL = re.compile(r"\(\s*(?:\d|total|now)[^()]{0,60}(?:\([^()]*\)[^()]{0,40})?\)?\s*\.?$")
_OP = re.compile(
    r"(?:k|p|sl|sm|pm|ssk|ssp|skp?o?|sk2p|s2kp\d?|yo|yon|yrn|yfwd|m\d?[lrp]?|kfb|pfb|[kp]\d?tog(?:tbl)?|[kp]1)"
    r"(?:\s?1)?(?: wyi[fb])?",
    re.IGNORECASE,
)
_STITCHES = re.compile(
    r"(?:k|p|sl|knit|purl|slip|yo|yf|yrn|yon|m\d|ss|s[k2]|c\d|[rl]t|t\d|inc|dec|make|pm|sm|w&t|turn|work|m[lrp]"
    r"|mb|\d/\d )",
    re.IGNORECASE,
)
_FEW = re.compile(
    r"(?:[kp][1-3]|yo|pm|sm|[kp]\d?tog(?:tbl)?|ss[kp]|s[k2]\w+|sl1?|kfb|pfb|m\d?[lrp]?)", re.IGNORECASE
)
"""What a hand may put in once too often: a stitch or a few, not a stretch of them."""
_RUN = re.compile(r"[kp](?:[2-9]|1\d)")
_SPELT = re.compile(r"\b(?:once|twice|one|two|three|four|five|six|seven|eight|nine|ten)\b", re.IGNORECASE)
_SIDE = re.compile(r"\b(RS|WS)\b")
_TIMES = re.compile(
    r"\b(?:\d+|two|three|four|five|six|seven|eight|nine|ten|once|twice)(?P<times> times?)?(?P<more> more)?\b",
    re.IGNORECASE,
)
_MIRRORED = {
    "k2tog": "ssk", "ssk": "k2tog", "m1l": "m1r", "m1r": "m1l", "k3tog": "sssk", "sssk": "k3tog",
    "p2tog": "ssp", "ssp": "p2tog",
}  # fmt: skip
_SINGLE = {
    "k2tog": ("sk2p", "k3tog", "k1"), "ssk": ("sk2p", "sssk", "k1"), "skp": ("sk2p", "k1"),
    "sk2p": ("k2tog", "ssk"), "k3tog": ("k2tog", "ssk"), "sssk": ("ssk",), "s2kp": ("k2tog",),
    "p2tog": ("p3tog", "p1"), "p3tog": ("p2tog",), "kfb": ("k1",), "yo": ("k1",), "m1": ("k1",),
    "k1": ("kfb", "yo", "k2tog", "ssk"), "p1": ("pfb", "yo", "p2tog"), "m1l": ("k1",), "m1r": ("k1",),
}  # fmt: skip


def operations(lines: Iterable[str]) -> tuple[str, ...]:
    """The single stitches that stand between commas in these lines, commonest first: "yo", "k1", "ssk"."""
    seen: dict[str, int] = {}
    for line in lines:
        for item in _ITEM.findall(line):
            op = item.strip().lower()
            if _OP.fullmatch(op):
                seen[op] = seen.get(op, 0) + 1
    return tuple(sorted(seen, key=lambda op: (-seen[op], op))[:8])


def runs(lines: Iterable[str]) -> tuple[str, ...]:
    """The knits and purls over a number of stitches that stand between commas in these lines, commonest
    first: "k2", "p6".
    """
    seen: dict[str, int] = {}
    for line in lines:
        for item in _ITEM.findall(line):
            low = item.strip().lower()
            if _RUN.fullmatch(low):
                seen[low] = seen.get(low, 0) + 1
    return tuple(sorted(seen, key=lambda run: (-seen[run], run))[:5])


def known_numbers(lines: Iterable[str]) -> frozenset[str]:
    """Every number of more than one digit that the lines have, as it is written."""
    return frozenset(m["n"] for line in lines for m in _NUMBER.finditer(line) if len(m["n"]) > 1)


def same_words(text: str) -> str:
    """A row's words without its label and total, for telling rows alike."""
    body = text.partition(":")[2] or text
    return re.sub(r"[\s,.]+", " ", _TOTAL.sub("", body)).strip().lower()


def is_even(text: str) -> bool:
    """Whether a row of five stitches or more reads the same from both ends, leans turned over, or has two
    halves alike between its edges.
    """
    body = text.partition(":")[2] or text
    items = [
        m[0].strip().lower() for m in _ITEM.finditer(_TOTAL.sub("", body)) if _STITCHES.match(m[0].strip())
    ]
    n = len(items)
    if n < 5:
        return False
    if all(_MIRRORED.get(a, a) == b for a, b in zip(items, reversed(items), strict=True)):
        return True
    return n % 2 == 1 and n > 6 and items[0] == items[-1] and items[1 : n // 2] == items[n // 2 + 1 : -1]


_STARRED = re.compile(r"\*(?P<body>[^*]+?)[;,.]?\s*(?:rep|repeat) from \*", re.IGNORECASE)


def repeats_evenly(text: str) -> bool:
    """Whether a repeat of five steps or more is its own mirror somewhere, when it goes on for ever."""
    m = _STARRED.search(text)
    items = [item.strip().lower() for item in _ITEM.findall(m["body"])] if m is not None else []
    n = len(items)
    if n < 5 or all(_RUN.fullmatch(item) or item in {"k1", "p1"} for item in items):
        return False
    turned = [_MIRRORED.get(item, item) for item in reversed(items)]
    return any(items == turned[k:] + turned[:k] for k in range(n))


def changes(
    words: Words, ops: Sequence[str], off: Sequence[int], known: frozenset[str] = frozenset()
) -> list[Change]:
    """Every single change of a line, likeliest first, each text once.

    off : by how many stitches the knitting missed, in the sizes where it did; a number may be as wrong.
    known : numbers that the pattern has elsewhere; one of them may have lost a digit here.
    """
    made = (
        *_numbers(words, off),
        *_digits_back(words, known),
        *_items(words, ops),
        *_changed_over(words),
        *_more(words),
        *_brackets(words),
        *_sides(words),
        *_lists(words),
    )
    best: dict[tuple[Span, str], Change] = {}
    for change in made:
        key = (change.edit.span, change.edit.words)
        if key not in best or change.weight < best[key].weight:
            best[key] = change
    return sorted(best.values(), key=lambda c: c.weight)


def _change(
    words: Words, start: int, end: int, new: str, title: str, weight: float, kind: str = "number"
) -> Change:
    span = Span(words.offset + start, words.offset + end)
    return Change(edit=Edit(span, new), title=title, weight=weight, kind=kind)


# --- one number -------------------------------------------------------------------------------------------


def _numbers(words: Words, off: Sequence[int]) -> Iterator[Change]:
    """``k5`` for ``k6``; ``48`` for ``84``; ``19`` for ``9``."""
    by = sorted({abs(n) for n in off if n})
    listed = entries(words.text, words.sizes)
    for m in _NUMBER.finditer(words.text, words.label_end):
        n = int(m["n"])
        start, end = m.span("n")
        entry = listed.get(start)
        if not _may_mend(words, entry):
            continue
        tail = "" if m["stitch"] else _after(words.text, end)
        knitted = {n - k for k in off} if _within(words.marked, start, end) else set()
        if entry is not None:
            for even in between(entry):
                said = f"{m['stitch']}{even}{tail} for {m['stitch']}{n}{tail}"
                yield _change(words, start, end, str(even), said, 0.7)
        for new, weight in _other_numbers(n, by, knitted):
            said = f"{m['stitch']}{new}{tail} for {m['stitch']}{n}{tail}"
            weight += (
                _in_list(entry, new, words.known)
                if entry is not None
                else _OF_ONE_SIZE * (words.met is not None)
            )
            yield _change(words, start, end, str(new), said, weight)
    for m in _SPELT.finditer(words.text, words.label_end):
        yield from _number_words(words, m.start(), m[0])


_OF_ONE_SIZE = 0.6
"""What is wrong in some sizes only is less likely a number that stands for all."""


def _may_mend(words: Words, entry: Entry | None) -> bool:
    """Whether a number can be at fault: one of a list is only in its own size."""
    if entry is None:
        return True
    return words.met is not None and words.met == frozenset({entry.place})


def _within(marked: Span | None, start: int, end: int) -> bool:
    return marked is not None and marked.start <= start and end <= marked.end


def _in_list(entry: Entry, new: int, known: frozenset[tuple[int | None, ...]]) -> float:
    """Less than 0 if the pattern has the new list elsewhere, or its sizes step more evenly; more if less."""
    values = list(entry.values)
    before = steps_unlike(values)
    values[entry.place] = new
    after = steps_unlike(values)
    if tuple(values) in known:
        return -0.8
    return -0.5 if after < before else 0.3 * (after > before)


def _digits_back(words: Words, known: frozenset[str]) -> Iterator[Change]:
    """``144`` for ``14``, where the pattern has 144 elsewhere."""
    listed = entries(words.text, words.sizes)
    for m in _NUMBER.finditer(words.text, words.label_end):
        n = m["n"]
        if not _may_mend(words, listed.get(m.start("n"))):
            continue
        tail = "" if m["stitch"] else _after(words.text, m.end("n"))
        for other in known:
            if len(other) == len(n) + 1 and any(other[:i] + other[i + 1 :] == n for i in range(len(other))):
                said = f"{m['stitch']}{other}{tail} for {m['stitch']}{n}{tail}"
                yield _change(words, m.start("n"), m.end("n"), other, said, 0.8 if len(n) > 1 else 0.95)


def _after(text: str, end: int) -> str:
    """The word that says what a number counts: `` rows``; of a list of sizes the word after it."""
    m = re.match(r"(?:[\d, ()-]*\))?( [A-Za-z]+)", text[end:])
    return m[1] if m is not None else ""


_IN_WORDS = (
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


def _number_words(words: Words, at: int, word: str) -> Iterator[Change]:
    low = word.lower()
    pairs = {"once": ("twice", "3 times"), "twice": ("once", "3 times")}
    if low in pairs:
        others: Sequence[str] = pairs[low]
    else:
        n = _IN_WORDS.index(low)
        others = [_IN_WORDS[k] for k in (n - 1, n + 1) if 0 <= k < len(_IN_WORDS)]
    for other in others:
        yield _change(words, at, at + len(word), other, f"{other} for {word}", 1.3)


def _other_numbers(n: int, by: Sequence[int], knitted: Iterable[int] = ()) -> Iterator[tuple[int, float]]:
    """Numbers that a slip of the pen makes of ``n``, with how unlikely each is.

    by : by how much the knitting missed. knitted : what came out, where ``n`` is marked.
    """
    digits = str(n)
    near = [(k, 0.5) for k in knitted]
    near += [(n + 1, 1.0), (n - 1, 1.0), (n + 2, 1.2), (n - 2, 1.2)]
    near += [(n + k, 1.1) for k in by] + [(n - k, 1.1) for k in by]
    near += [(n + k // 2, 1.3) for k in by if k % 2 == 0] + [(n - k // 2, 1.3) for k in by if k % 2 == 0]
    if len(digits) > 1:
        near += [(int(digits[:i] + digits[i + 1 :] or 0), 1.3) for i in range(len(digits))]
        near += [
            (int(digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]), 1.3)
            for i in range(len(digits) - 1)
        ]
    near += [
        (n + 10, 1.4),
        (n - 10, 1.4),
        (n * 10, 1.6),
        (n + 3, 1.6),
        (n - 3, 1.6),
        (n + 4, 1.6),
        (n - 4, 1.6),
    ]
    seen = {n}
    for new, weight in near:
        if new > 0 and new not in seen:
            seen.add(new)
            yield new, weight


# --- one stitch -------------------------------------------------------------------------------------------


def _items(words: Words, ops: Sequence[str]) -> Iterator[Change]:
    """A stitch left out, put in or changed: ``k2, yo, k2`` for ``k2, k2``."""
    body_end = _body_end(words)
    items = [
        (m.start() + len(m[0]) - len(m[0].lstrip()), m.start() + len(m[0].rstrip()))
        for m in _ITEM.finditer(words.text, words.label_end, body_end)
        if m[0].strip()
    ]
    for n, (start, end) in enumerate(items):
        here = words.text[start:end]
        beside = {words.text[a:b].lower() for a, b in (*items[max(0, n - 1) : n], *items[n + 1 : n + 2])}
        if here.lower() in beside and not here.isdigit():
            yield from _without(words, items, n, -0.5)  # the same twice over
        if not _STITCHES.match(here):
            continue
        if (twice := re.search(r" (?:twice|2 times)$", here)) is not None:
            at = start + twice.start()
            yield _change(words, at, end, "", f"{here[: twice.start()]} for {here}", 1.2, "stitch")
        for op in ops:
            weight = 1.2 if op in {"yo", "yon", "yrn", "yfwd"} else 1.5
            yield _change(words, start, start, f"{op}, ", f"{op} before {here}", weight, "stitch")
        if n + 1 == len(items):
            for op in ops:
                yield _change(words, end, end, f", {op}", f"{op} after {here}", 1.5, "stitch")
        if here.lower() not in beside and _FEW.fullmatch(here):
            yield from _without(words, items, n, 1.6)
        for other in _SINGLE.get(here.lower(), ()):
            yield _change(words, start, end, other, f"{other} for {here}", 1.5, "stitch")


def _without(words: Words, items: Sequence[tuple[int, int]], n: int, weight: float) -> Iterator[Change]:
    """The line without its item ``n`` and one comma beside it."""
    start, end = items[n]
    here = words.text[start:end]
    after = re.match(r"\s*[,;]\s*", words.text[end:])
    before = re.search(r"\s*[,;]\s*$", words.text[:start])
    if after is not None:
        yield _change(words, start, end + after.end(), "", f"without {here}", weight, "stitch")
    elif before is not None:
        yield _change(words, before.start(), end, "", f"without {here}", weight, "stitch")


def _changed_over(words: Words) -> Iterator[Change]:
    """Two neighbours between commas, or the numbers of two neighbours, in the other order."""
    text = words.text
    items = [
        (m.start() + len(m[0]) - len(m[0].lstrip()), m.start() + len(m[0].rstrip()))
        for m in _ITEM.finditer(text, words.label_end, _body_end(words))
        if m[0].strip()
    ]
    for (a, b), (c, d) in pairwise(items):
        one, two, between = text[a:b], text[c:d], text[b:c]
        if one.lower() == two.lower() or between.strip() != ",":
            continue
        turns = two.lower().startswith(("turn", "w&t"))  # nothing is worked before it then
        if not turns and (_STITCHES.match(one) or _STITCHES.match(two)):
            said = f"{two} before {one}"
            yield _change(words, a, d, two + between + one, said, 1.4, "order")
    found = [m for m in _NUMBER.finditer(text, words.label_end, _body_end(words)) if m["stitch"]]
    for x, y in pairwise(found):
        if x["n"] != y["n"]:
            new = y["n"] + text[x.end("n") : y.start("n")] + x["n"]
            said = f"{x['stitch']}{y['n']} and {y['stitch']}{x['n']} for {x[0]} and {y[0]}"
            yield _change(words, x.start("n"), y.end("n"), new, said, 1.4)


def _body_end(words: Words) -> int:
    """Where the working words of a line end and its printed total begins."""
    m = _TOTAL.search(words.text, words.label_end)
    return m.start() if m is not None else len(words.text)


# --- one word, one bracket, one side ----------------------------------------------------------------------


def _more(words: Words) -> Iterator[Change]:
    """``3 times`` for ``3 times more``, and the other way."""
    for m in _TIMES.finditer(words.text, words.label_end):
        if m["more"]:
            bare = m[0].removesuffix(m["more"])
            yield _change(words, m.start("more"), m.end("more"), "", f"{bare} for {m[0]}", 1.0, "more")
        elif m["times"] or m[0].lower() in {"once", "twice"}:
            yield _change(words, m.end(), m.end(), " more", f"{m[0]} more for {m[0]}", 1.0, "more")


def _brackets(words: Words) -> Iterator[Change]:
    """The bracket that has lost its partner, or the star that is lost or misplaced, at each place between
    two stitches.
    """
    at = words.label_end
    text = words.text[at:]
    stitches = [(m.start() + len(m[0]) - len(m[0].lstrip()), m.start() + len(m[0].rstrip()))
                for m in _ITEM.finditer(text) if _STITCHES.match(m[0].strip())]  # fmt: skip
    for opening, closing in ("()", "[]"):
        missing = text.count(opening) - text.count(closing)
        if missing == 1:
            for _, end in stitches:
                said = f"{closing} after {_last(text[:end])}"
                yield _change(words, at + end, at + end, closing, said, 0.7, "bracket")
            for m in re.finditer(r"(?=\s(?:\d+ times|once|twice|into|in)\b)", text):
                said = f"{closing} after {_last(text[: m.start()])}"
                yield _change(words, at + m.start(), at + m.start(), closing, said, 0.5, "bracket")
        elif missing == -1:
            for start, _ in stitches:
                said = f"{opening} before {_first(text[start:])}"
                yield _change(words, at + start, at + start, opening, said, 0.6, "bracket")
    yield from _list_brackets(words, text)
    stars = [m.start() for m in re.finditer(r"(?<!from )(?<!to )\*", text)]
    star = stars[0] if stars else None
    again = len(re.findall(r"\brep(?:eat)?\b[^;.]{0,12}\*", text, re.IGNORECASE))
    if star is None and re.search(r"\brep(?:eat)?\b", text, re.IGNORECASE):
        for start, _ in stitches:
            yield _change(words, at + start, at + start, "*", f"* before {_first(text[start:])}", 0.5, "star")
    elif len(stars) < again:
        for start, _ in stitches:
            if start - 1 not in stars:
                said = f"* before {_first(text[start:])}"
                yield _change(words, at + start, at + start, "*", said, 0.5, "star")
    elif star is not None:
        for start, _ in stitches:
            if abs(start - star) > 1:
                bare = text[:star] + text[star + 1 :]
                to = start - (start > star)
                said = f"* before {_first(text[start:])}"
                yield _change(words, at, len(words.text), bare[:to] + "*" + bare[to:], said, 1.8, "star")


def _list_brackets(words: Words, text: str) -> Iterator[Change]:
    """The lost bracket of a list of sizes: ``24 (28`` and ``24 28)``."""
    at = words.label_end
    for m in re.finditer(r"\((?:\d+|-)(?:, ?(?:\d+|-))*(?![\d,)])", text):
        said = f") after {m[0][1:]}"
        yield _change(words, at + m.end(), at + m.end(), ")", said, 0.4, "bracket")
    for m in re.finditer(r"(?<=\d )(?=(?:\d+|-)(?:, ?(?:\d+|-))*\))", text):
        before = text[: m.start()]
        if before.count("(") == before.count(")"):
            said = f"( before {_first(text[m.start() :])}"
            yield _change(words, at + m.start(), at + m.start(), "(", said, 0.4, "bracket")


def _lists(words: Words) -> Iterator[Change]:
    """A list of sizes without one of its numbers, or with the one that it lacks."""
    if words.lists < 0:
        for start, end, number in with_one_less(words.text):
            yield _change(words, start, end, "", f"without the {number}", 0.8, "list")
    elif words.lists == 1:
        for start, end, new, said, weight in with_one_more(words.text, words.sizes, words.known):
            yield _change(words, start, end, new, said, weight, "list")


def _first(text: str) -> str:
    return re.split(r"[,;.]", text.strip(), maxsplit=1)[0][:24]


def _last(text: str) -> str:
    return re.split(r"[,;*(\[]", text.strip())[-1].strip()[:24]


def _sides(words: Words) -> Iterator[Change]:
    """``WS`` for ``RS`` in a label."""
    for m in _SIDE.finditer(words.text, 0, words.label_end or len(words.text)):
        other = "WS" if m[0] == "RS" else "RS"
        yield _change(words, m.start(), m.end(), other, f"{other} for {m[0]}", 1.2, "side")
