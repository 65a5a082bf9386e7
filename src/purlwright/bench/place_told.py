"""What the needles hold where the caret stands, and what could be written there.

In: the work on a pattern, a size and choice, a place in its words. Out: what remains on the left needle at
that place the first time the row is worked, and words that may follow. Counts are read off the moves of the
last knitting.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.wire import bench_looks as wire
from purlwright.wire.bench import Utf16, notes_out

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.stitches.kinds import Stitch
    from purlwright.workup import WorkUp

__all__ = ["complete", "meaning"]

_WORD = re.compile(r"[\w&/.'’-]*$")
_LABEL = re.compile(
    r"\s*(?:row|rnd|round|rows|rnds|rounds)\s+[\d, and–-]+(?:\([^)]*\))?\s*:\s*", re.IGNORECASE
)
_PARTS_WORDS = frozenset(",;.:()[]*{}")
_MOST_OFFERS = 60
_NOTE = (
    "These words are for the knitter to read: nothing is knitted from them. "
    "If they are to be worked, say it in other words, such as k2, p2."
)
_USUAL = (
    "k p yo k2tog ssk skp sl1 k3tog sssk s2kp sk2p p2tog m1 m1l m1r kfb kyok ktbl ptbl w&t bo 2/2 rc 2/2 lc"
).split()  # fmt: skip
"""Stitches that stand in most patterns, put before rarer ones; by experience, no source."""
_HEADINGS = (
    ("Abbreviations", "your own stitches, explained: NAME: what is worked"),
    ("Special stitches", "your own stitches, explained one by one"),
    ("Numbers", "names for numbers: width = 20 (24, 28)"),
    ("Notes", "what is to be known before the first row; nothing here is knitted"),
    ("Finishing", "seams, grafts, blocking"),
)
_MARKERS = (
    ("pm", "place a marker on the right needle"),
    ("sm", "slip the marker to the right needle"),
    ("rm", "take the marker away"),
)


@dataclass(frozen=True, slots=True)
class _Here:
    """The row that the caret stands in, and how far its first working has come there."""

    name: str
    side: str | None
    start: int
    taken: int
    marks: tuple[tuple[str, int], ...]
    star: int | None
    """Loops taken since the last open star; None where there is none."""

    @property
    def left(self) -> int:
        return self.start - self.taken


# --- where she is ------------------------------------------------------------------------------------------


def _here(work: WorkUp, knitted: Knitted, at: int) -> _Here | None:
    """The row at a place; None where nothing is knitted there."""
    line, _ = work.source.place(at)
    start = work.source.line_span(line).start
    entries = knitted.ledger.entries
    mine = [e for e in entries if e.line == line and not e.copied and e.span.start <= at]
    entry = next((e for e in mine if e.span.end >= at), mine[-1] if mine else None)
    before = None
    for e in entries:
        if entry is not None and e.order >= entry.order:
            break
        if e.line < line or (entry is not None and e.order < entry.order):
            before = e
    if entry is None:
        label = _LABEL.match(work.source.line(line))
        if before is None or not before.end or label is None or before.unread:
            return None
        turned = {"RS": "WS", "WS": "RS"}.get(str(before.side))
        side = str(before.side) if before.kind.value == "round" and before.side else turned
        return _Here(label[0].strip(" :"), side, before.end, 0, _marks(before), None)
    if entry.unread or entry.resumed:
        return None
    taken, star = _taken(knitted, entry, work.source.text[:at], _open_group(work.source.text, start, at))
    side = None if entry.side is None else str(entry.side)
    name = entry.label or str(entry.kind).replace("-", " ").capitalize()
    return _Here(name, side, entry.start, taken, _marks(before), star)


def _marks(before: Entry | None) -> tuple[tuple[str, int], ...]:
    return () if before is None else tuple((m.name, m.after) for m in before.markers)


def _open_group(text: str, start: int, at: int) -> tuple[int, bool] | None:
    """The group that is still open at a place of a line: where it begins, and whether with a star."""
    open_at: list[tuple[int, bool]] = []
    for place in range(start, at):
        match text[place]:
            case "[" | "(":
                open_at.append((place, False))
            case "]" | ")":
                if open_at and not open_at[-1][1]:
                    open_at.pop()
            case "*" if text[start:place].rstrip().casefold().endswith("from"):
                open_at = [one for one in open_at if not one[1]]
            case "*":
                open_at.append((place, True))
            case _:
                pass
    return open_at[-1] if open_at else None


def _taken(
    knitted: Knitted, entry: Entry, before: str, group: tuple[int, bool] | None
) -> tuple[int, int | None]:
    """Loops taken before a place the first time it is come to, and those of them since the open star.

    A group that is not closed yet is worked over and over in the knitting; only its first time counts.
    """
    import numpy as np

    at = len(before)
    moves, fabric = knitted.moves, knitted.fabric
    rows = moves.row_of_move
    first, end = (int(np.searchsorted(rows, entry.order, side)) for side in ("left", "right"))
    spans = np.maximum(moves.span_of_move[first:end], 0)
    if not len(spans) or not len(fabric.span_start):
        return 0, None
    starts, ends = fabric.span_start[spans], fabric.span_end[spans]
    taken = moves.taken_of_move[first:end].astype(int)
    later = np.flatnonzero(starts >= at)
    cut = int(later[0]) if len(later) else len(taken)
    if group is None:
        return int(taken[:cut].sum()), None
    inside = np.flatnonzero(starts[:cut] > group[0])
    if not len(inside):
        return int(taken[:cut].sum()), 0 if group[1] else None
    begun = int(inside[0])
    furthest = int(starts[begun:cut].max())
    reached = begun + int(np.flatnonzero(starts[begun:cut] == furthest)[0])
    closed = any(mark in before[int(ends[reached]) :] for mark in "])")
    again = starts[reached:cut] <= starts[begun] if closed else starts[reached:cut] != furthest
    back = np.flatnonzero(again)
    if len(back) and reached + int(back[0]) > begun:
        cut = reached + int(back[0])
    elif furthest == int(starts[begun]):  # one stitch is all there is in the group: it is taken once
        cut = reached + 1
    return int(taken[:cut].sum()), int(taken[begun:cut].sum()) if group[1] else None


def _told(here: _Here) -> wire.HereOut:
    ahead = next(((name, after - here.taken) for name, after in here.marks if after >= here.taken), None)
    many = f"{here.left} {'stitch remains' if here.left == 1 else 'stitches remain'}"
    words = f"{here.name}: {many} on the left needle"
    if ahead is not None:
        words += f", {ahead[1]} to the marker{f' {ahead[0]}' if ahead[0] else ''}"
    return wire.HereOut(
        row=here.name,
        sts_remain=here.left,
        worked=here.taken,
        side=here.side,
        marker=None if ahead is None else ahead[0],
        to_marker=None if ahead is None else ahead[1],
        words=f"{words}.",
    )


# --- what could be written ---------------------------------------------------------------------------------


def complete(work: WorkUp, size: str, options: Mapping[str, str], at_unit: int) -> wire.CompleteOut:
    """Words that may stand at a place, those that fit first."""
    units = Utf16(work.source.text)
    at = units.back(max(0, at_unit))
    at = min(at, len(work.source.text))
    line, _ = work.source.place(at)
    start = work.source.line_span(line).start
    before = work.source.text[start:at]
    begun = _WORD.search(before)
    typed = begun[0] if begun else ""
    if before.startswith("#"):
        heads = [h for h in _HEADINGS if h[0].casefold().startswith(before.lstrip("# ").casefold())]
        mark = len(before) - len(before.lstrip("# "))
        offers = [_offer(name, told, "section") for name, told in heads]
        return wire.CompleteOut(from_=units.to(start + mark), to=units.to(at), offers=offers, here=None)
    knitted = work.knitted(size, options)
    here = _here(work, knitted, at)
    if here is None and _in_header(work, line):
        return wire.CompleteOut(
            from_=units.to(start), to=units.to(at), offers=list(_header(before)), here=None
        )
    if re.search(r"\bto\s+[\w]*$", before):
        found = list(_places(here, typed))
    else:
        found = list(_repeats(here, typed)) if here is not None and here.left > 0 else []
        found += list(_stitches(work, knitted, typed, here))
    told = None if here is None else _told(here)
    return wire.CompleteOut(
        from_=units.to(at - len(typed)), to=units.to(at), offers=found[:_MOST_OFFERS], here=told
    )


def _offer(
    words: str, told: str, kind: str, takes: int | None = None, here: _Here | None = None
) -> wire.OfferOut:
    fits = None if here is None or takes is None else takes <= here.left
    return wire.OfferOut(words=words, told=told, kind=kind, takes=takes, fits=fits)


def _in_header(work: WorkUp, line: int) -> bool:
    worked = [s.line for s in work.pattern.sections if s.span.end >= 0 or s.kind == "work"]
    return line <= min(worked, default=work.source.line_count)


def _header(before: str) -> Iterator[wire.OfferOut]:
    from purlwright.pattern.header import KNOWN_KEYS

    told = {
        "Sizes": "small (medium, large)",
        "Gauge": "18 sts and 36 rows = 10 cm in garter stitch",
        "Yarn": "MC, wool, 200 m per 100 g",
        "Needles": "4.5 mm",
        "Options": "turns = wrapped (usual), double stitch",
        "Terms": "US, UK or old",
        "Finished size": "50 (54, 58) cm round",
        "To fit": "head 52 (56, 60) cm",
    }
    for key in KNOWN_KEYS:
        if key.casefold().startswith(before.strip().casefold()):
            yield _offer(f"{key}: ", told.get(key, ""), "header")


def _places(here: _Here | None, typed: str) -> Iterator[wire.OfferOut]:
    """Where "knit to ..." may stop."""
    listed = [("end", "to the end of the row or round"), ("last 2 sts", "until 2 stitches are left")]
    if here is not None and here.marks:
        listed.insert(1, ("m", "to the next marker"))
    listed += [("2 sts before m", "until 2 stitches are left before the marker")]
    listed += [("gap", "to where the last row turned")]
    for words, told in listed:
        if words.startswith(typed.casefold()):
            yield _offer(words, told, "place")


def _repeats(here: _Here, typed: str) -> Iterator[wire.OfferOut]:
    """What would use all that remains."""
    left = here.left
    listed: list[tuple[str, str, int]] = []
    if here.star:
        over = left % here.star
        times = left // here.star
        end = "end" if not over else f"last {over} st{'s' if over > 1 else ''}"
        told = f"{here.star} stitches each time, {times} times more"
        listed.append((f"rep from * to {end}", told, left - over))
    ahead = next((after - here.taken for _, after in here.marks if after > here.taken), None)
    if ahead is not None:
        listed.append(("k to m", f"knit the {ahead} stitches up to the marker", ahead))
    listed += [
        (f"k{left}", f"knit the {left} that remain", left),
        (f"p{left}", f"purl the {left} that remain", left),
        ("k to end", f"knit the {left} that remain, in every size", left),
        ("p to end", f"purl the {left} that remain, in every size", left),
    ]
    for words, told, takes in listed:
        if words.startswith(typed.casefold()):
            yield _offer(words, told, "repeat", takes, here)


def _stitches(work: WorkUp, knitted: Knitted, typed: str, here: _Here | None) -> Iterator[wire.OfferOut]:
    """Her own stitches, markers, and those of the dictionary: what the pattern uses already first."""
    from purlwright.pattern.words import steps_words
    from purlwright.stitches.load import dictionary

    wanted = typed.casefold()
    for d in work.pattern.definitions:
        if d.name.casefold().startswith(wanted):
            takes = knitted.own.get(d.name, (None, None))[0]
            told = d.meaning or steps_words(d.steps, "UK" if work.pattern.header.terms == "UK" else "US")
            yield _offer(d.name, told or "your own stitch", "own stitch", takes, here)
    for words, told in _MARKERS:
        if words.startswith(wanted):
            yield _offer(words, told, "marker")
    fabric = knitted.fabric
    used = Counter({fabric.ops[i]: int(n) for i, n in _counts(fabric.op_of_stitch)})
    uk = work.pattern.header.terms == "UK"
    ranked = []
    for n, (key, stitch) in enumerate(dictionary().stitches.items()):
        forms = (stitch.uk if uk else stitch.us, *stitch.aliases)
        if not any(form.casefold().startswith(wanted) for form in forms):
            continue
        usual = _USUAL.index(key) if key in _USUAL else len(_USUAL)
        ranked.append((-min(used[key], 1), usual, n, stitch))
    for *_, stitch in sorted(ranked, key=lambda one: one[:3]):
        words, name = (stitch.uk, stitch.name_uk) if uk else (stitch.us, stitch.name_us)
        yield _offer(words, name, "stitch", stitch.takes, here)


def _counts(values: object) -> list[tuple[int, int]]:
    import numpy as np

    kinds, many = np.unique(np.asarray(values), return_counts=True)
    return list(zip(kinds.tolist(), many.tolist(), strict=True))


# --- what a word means -------------------------------------------------------------------------------------


def meaning(work: WorkUp, at_unit: int) -> wire.HoverOut | None:
    """What the word at a place means; None for words that are plain English."""
    from purlwright.pattern.tokens import tokenize
    from purlwright.stitches.load import dictionary

    units = Utf16(work.source.text)
    at = units.back(max(0, at_unit))
    if at >= len(work.source.text):
        return None
    line, _ = work.source.place(at)
    start = work.source.line_span(line).start
    words = work.source.line(line)
    own = {d.name.casefold(): d for d in work.pattern.definitions}
    known = dictionary()
    tokens = tokenize(words, 0, {**known.compact, **dict.fromkeys(own, "")})
    here = at - start
    place = next((i for i, t in enumerate(tokens) if t.start <= here < t.end), None)
    if place is None:
        return None
    for wide in (4, 3, 2, 1):
        for first in range(max(0, place - wide + 1), place + 1):
            part = tokens[first : first + wide]
            if len(part) < wide or any(t.low in _PARTS_WORDS for t in part):
                continue
            text = words[part[0].start : part[-1].end]
            found = _meant(work, text, own.get(text.casefold()))
            if found is not None:
                name, told, takes, gives, also, source = found
                return wire.HoverOut(
                    from_=units.to(start + part[0].start),
                    to=units.to(start + part[-1].end),
                    name=name,
                    told=told,
                    takes=takes,
                    gives=gives,
                    also=also,
                    source=source,
                )
    return _kept_as_note(work, units, at)


def _kept_as_note(work: WorkUp, units: Utf16, at: int) -> wire.HoverOut | None:
    """That nothing is knitted from the words at a place, if so it is."""
    note = next((n for n in notes_out(work.pattern, units) if n.from_ <= units.to(at) < n.to), None)
    if note is None:
        return None
    return wire.HoverOut(
        from_=note.from_, to=note.to, name="A note", told=_NOTE, takes=None, gives=None, also=[], source=None
    )


def _meant(
    work: WorkUp, text: str, own: object
) -> tuple[str, str, int | None, int | None, list[str], str | None] | None:
    from purlwright.pattern import tree
    from purlwright.pattern.words import steps_words
    from purlwright.sheet.compose.abbreviations import shorts
    from purlwright.stitches.load import dictionary

    uk = work.pattern.header.terms == "UK"
    if isinstance(own, tree.Definition):
        steps = steps_words(own.steps, "UK" if uk else "US")
        told = f"Your own stitch{f', {own.meaning}' if own.meaning else ''}: {steps}."
        takes, gives = work.knitted().own.get(own.name, (own.takes, own.makes))
        return own.name, told, takes, gives, [], None
    if not re.search(r"[A-Za-z]", text):
        return None
    counted = dictionary().counted(text)
    if counted is not None:
        stitch, many = counted
        name = stitch.name_uk if uk else stitch.name_us
        also = [form for form in dict.fromkeys((stitch.us, stitch.uk, *stitch.aliases)) if form != text]
        times = f", {many} times" if many > 1 else ""
        return (
            f"{name}{times}", _does(stitch, many), stitch.takes * many, stitch.makes * many, also[:6],
            stitch.source or None,
        )  # fmt: skip
    for short in shorts():
        if text.casefold() in {short.name.casefold(), f"{short.name.casefold()}s"}:
            full = short.full_uk if uk and short.full_uk else short.full
            return short.name, f"{full[:1].upper()}{full[1:]}.", None, None, [], None
    return None


def _does(stitch: Stitch, many: int) -> str:
    """What a stitch does on the needles, in a sentence."""
    takes, makes = stitch.takes * many, stitch.makes * many
    if takes == makes:
        said = f"Works {_loops(takes)}; the count stays the same." if takes else "Changes no loop."
    elif takes > makes:
        said = f"Takes {_loops(takes)} and leaves {makes or 'none'}: {_loops(takes - makes)} fewer."
    else:
        taken = f"Takes {_loops(takes)}" if takes else "Takes none"
        said = f"{taken} and leaves {makes}: {_loops(makes - takes)} more."
    if str(stitch.lean) in {"left", "right"}:
        said += f" Seen from the right side it leans to the {stitch.lean}."
    return said


def _loops(many: int) -> str:
    return f"{many} loop{'' if many == 1 else 's'}"
