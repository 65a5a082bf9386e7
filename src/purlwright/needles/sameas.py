"""Parts that are worked as another part: their lines are those of the other, up to where the words say.

In: the sections of a pattern and one of its lines ("Work as for back to armholes"). Out: the lines to be
knitted there, under which heading each. A part that is not found, or whose end is not, keeps its line, and
working it says so. Rows that are repeated by number are left to ``again``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.needles.firstside import first_side
from purlwright.pattern import tree
from purlwright.pattern.halves import mirrored_lines
from purlwright.pattern.mirrored import NoMirror
from purlwright.pattern.read.otherside import FIRST_SIDE

if TYPE_CHECKING:
    from purlwright.pattern.sections import Section

__all__ = ["Part", "as_told", "is_part_named"]

MOST_DEEP = 6
"""So many parts at most are told one as the other."""
MOST_AGAIN = 500
"""Rows between two marks are worked no more often."""


@dataclass(frozen=True, slots=True)
class Part:
    """Lines under one heading."""

    heading: str
    lines: tuple[tree.Line, ...]


_CHARTED = frozenset({"chart", "charts", "pattern", "patt", "panel", "motif", "repeat", "lace"})
_STARS = re.compile(r"\*{1,4}")


def is_part_named(a: tree.Action) -> bool:
    """Whether an action sends to another part of the pattern, and to no chart: "as for back"."""
    return (
        type(a) is tree.RepeatRows
        and a.rows.section is not None
        and a.rows.all
        and a.times is None
        and not a.define
        and a.said is tree.Said.OPEN
        and not _STARS.fullmatch(a.rows.section)
        and not _CHARTED.intersection(a.rows.section.lower().split())
    )


def as_told(sections: Sequence[Section], at: int, heading: str, deep: int = 0) -> Iterator[Part]:
    """The lines of section ``at``, under ``heading``, those of other parts put where it sends to them."""
    section = sections[at]
    repeats = [ln for ln in section.lines if tree.RepeatRows in map(type, ln.actions)]
    if deep > MOST_DEEP or not any(_sends(a) for ln in repeats for a in ln.actions):
        yield Part(heading, section.lines)
        return
    here: list[tree.Line] = []
    for n, line in enumerate(section.lines):
        i = next((i for i, a in enumerate(line.actions) if _sends(a)), None)
        copied = None if i is None else _copied(sections, at, n, line.actions[i], deep)  # type: ignore[arg-type]
        if i is None or copied is None:
            here.append(line if i is None else _not_found(sections, at, n, line, i, deep))
            continue
        if _works(line.actions[:i]):
            here.append(replace(line, actions=line.actions[:i]))
        if _begins(here):  # "cast on 90 sts and work as for back": the other cast-on is not worked
            copied = [Part(copied[0].heading, _less_cast_on(copied[0].lines)), *copied[1:]]
        here += copied[0].lines
        if len(copied) > 1:
            yield Part(heading, tuple(here))
            yield from copied[1:]
            here = []
        if _works(line.actions[i + 1 :]):
            here.append(replace(line, label=None, actions=line.actions[i + 1 :]))
    yield Part(heading, tuple(here))


def _not_found(sections: Sequence[Section], at: int, n: int, line: tree.Line, i: int, deep: int) -> tree.Line:
    """The line as it stands; rows that are not there at all are not said to have no mirror."""
    a = line.actions[i]
    if not isinstance(a, tree.RepeatRows) or not a.rows.mirrored or _source(sections, at, n, a, deep):
        return line
    a = replace(a, rows=replace(a.rows, mirrored=False))
    return replace(line, actions=(*line.actions[:i], a, *line.actions[i + 1 :]))


def _works(actions: Sequence[tree.Action]) -> bool:
    return any(not isinstance(a, tree.Note) for a in actions)


def _copied(
    sections: Sequence[Section], at: int, before: int, a: tree.RepeatRows, deep: int
) -> list[Part] | None:
    """The lines of the part that is named, cut and mirrored as the words say; None if they are not found."""
    if _marked(a):
        return _again(sections[at].lines[:before], a)
    source = _source(sections, at, before, a, deep)
    if source is not None and a.rows.rest:
        source = _rest(source, sections[at].lines[:before])
    if source is not None and a.until is not None:
        source = _cut(source, a.until)
    if source is None or not any(p.lines for p in source):
        return None
    if not a.rows.mirrored:
        return source
    try:
        lines = mirrored_lines([p.lines for p in source])
    except NoMirror:
        return None
    return [Part(p.heading, mirrored) for p, mirrored in zip(source, lines, strict=True)]


def _rest(source: list[Part], here: Sequence[tree.Line]) -> list[Part]:
    """In words: ``Complete as for first finger``: what comes there after a line such as was worked last here.

    All of it, where no line there is like that one.
    """
    last = next((ln for ln in reversed(here) if _works(ln.actions)), None)
    if last is None:
        return source
    like = [
        (p, n)
        for p, part in enumerate(source)
        for n, line in enumerate(part.lines)
        if _sorts(line) == _sorts(last)
    ]
    if not like:
        return source
    p, n = like[-1]
    rest = [Part(source[p].heading, source[p].lines[n + 1 :]), *source[p + 1 :]]
    if not any(_works(ln.actions) for part in rest for ln in part.lines):
        return source
    return [Part(part.heading, tuple(_without_totals(ln) for ln in part.lines)) for part in rest]


def _without_totals(line: tree.Line) -> tree.Line:
    """The totals printed there are those of the other part."""
    if not any(isinstance(a, tree.Stated) for a in line.actions):
        return line
    return replace(line, actions=tuple(a for a in line.actions if not isinstance(a, tree.Stated)))


def _sorts(line: tree.Line) -> tuple[type, ...]:
    """What sorts of instruction a line has, one after the other."""
    return tuple(type(a) for a in line.actions if not isinstance(a, tree.Note | tree.Stated))


def _source(
    sections: Sequence[Section], at: int, before: int, a: tree.RepeatRows, deep: int
) -> list[Part] | None:
    """The lines that are sent to, whole and as they stand; None if they are not found."""
    if a.rows.section == FIRST_SIDE and a.rows.mirrored:
        line = sections[at].lines[before]
        here = replace(line, actions=line.actions[: line.actions.index(a)])
        side = first_side([*(ln for s in sections[:at] if s.kind == "work" for ln in s.lines),
                           *sections[at].lines[:before], here])  # fmt: skip
        if side is not None:
            return [Part(sections[at].heading, side)]
        if not any(_words(s.heading) == _words(FIRST_SIDE) for s in sections[:at]):
            return None
    return _part(sections, at, before, a.rows.section or "", deep)


def _marked(a: tree.Action) -> bool:
    """In words: ``Repeat from ** to ** twice more``: marks that stand in lines before."""
    return (
        type(a) is tree.RepeatRows
        and a.rows.section is not None
        and _STARS.fullmatch(a.rows.section) is not None
        and a.until is None
        and (a.times is None or len(a.times.values) == 1)
    )


def _sends(a: tree.Action) -> bool:
    return is_part_named(a) or _marked(a)


def _again(lines: tuple[tree.Line, ...], a: tree.RepeatRows) -> list[Part] | None:
    """What stands between two marks before, as often as the words say; None if no two marks stand there."""
    between = _between_stars([Part("", lines)], a.rows.section or "", begins=True)
    if between is None:
        return None
    n = 1 if a.times is None else (a.times.values[0] or 0)
    n = min(n - (a.said is tree.Said.IN_ALL), MOST_AGAIN)
    return [Part("", between[0].lines * max(n, 0))]


# --- which part ---


def _words(name: str) -> list[str]:
    """The words of a name or heading, without what stands in brackets and the plural."""
    bare = re.sub(r"[(\[].*?[)\]]", " ", name.lower())
    return [w.removesuffix("s") if len(w) > 3 else w for w in re.findall(r"[a-z0-9]+", bare) if w != "the"]


_FIRST = frozenset({"first", "1st", "other", "one", "last"})


def _part(sections: Sequence[Section], at: int, before: int, name: str, deep: int) -> list[Part] | None:
    """The part of this name: a section before this one with what stands under it, or what this one told."""
    want = _words(name)
    earlier = [i for i in range(at) if sections[i].kind == "work" and sections[i].lines]
    found = [i for i in earlier if _words(sections[i].heading) == want]
    found = found or [i for i in earlier if want and set(want) <= set(_words(sections[i].heading))]
    if not found and _FIRST.intersection(want) and want != ["first"]:
        rest = set(want) - _FIRST
        found = [
            i for i in earlier if rest <= set(_words(sections[i].heading)) and _begins(sections[i].lines)
        ]
    if found:
        return _with_those_below(
            sections, min(found, key=lambda i: (len(_words(sections[i].heading)), -i)), deep
        )
    if want == ["first"] and any(_begins(sections[i].lines) for i in earlier):
        first = next(i for i in earlier if _begins(sections[i].lines))
        return [p for i in earlier if i >= first for p in as_told(sections, i, sections[i].heading, deep + 1)]
    lines = sections[at].lines[:before]
    if _FIRST.intersection(want) and _begins(lines):
        return [Part("", lines)]
    return None


def _begins(lines: Sequence[tree.Line]) -> bool:
    return any(isinstance(a, tree.CastOn | tree.PickUp | tree.Return) for ln in lines for a in ln.actions)


def _less_cast_on(lines: tuple[tree.Line, ...]) -> tuple[tree.Line, ...]:
    """The lines without the cast-on they begin with."""
    if not lines:
        return lines
    first, *rest = lines
    at = next((i for i, a in enumerate(first.actions) if isinstance(a, tree.CastOn)), None)
    if at is None or _works(first.actions[:at]):
        return lines
    left = first.actions[at + 1 :]
    return (replace(first, actions=left), *rest) if left else tuple(rest)


def _with_those_below(sections: Sequence[Section], first: int, deep: int) -> list[Part]:
    out = list(as_told(sections, first, sections[first].heading, deep + 1))
    for i in range(first + 1, len(sections)):
        if sections[i].level <= sections[first].level:
            break
        if sections[i].kind == "work":
            out += as_told(sections, i, sections[i].heading, deep + 1)
    return out


# --- up to where ---


def _cut(parts: list[Part], until: tree.Until) -> list[Part] | None:
    """The lines up to a landmark; None if it does not stand in them."""
    if until.stitches is not None:
        return _up_to_count(parts, until)
    if until.length is not None:
        return _up_to_length(parts, until)
    told = " ".join((until.things or "").lower().split()).strip(" .")
    if _STARS.fullmatch(told):
        return _between_stars(parts, told, begins=bool(until.since))
    row = re.fullmatch(r"(?:the )?(?:end of )?(?:row|rnd|round) (\d+)", told)
    flat = [(p, n) for p, part in enumerate(parts) for n in range(len(part.lines))]
    if row is not None:
        last = int(row[1])
        labels = [(at, parts[at[0]].lines[at[1]].label) for at in flat]
        ends = [at for at, label in labels if label is not None and label.numbers[-1:] == (last,)]
        return None if not ends else _up_to(parts, ends[-1][0], ends[-1][1] + 1)
    to = re.search(r"\b(?:same|match(?:es)?|corresponds?)\b.* to (?P<place>.+)$", told)
    stems = {_STEMS.get(w, w) for w in _words(to["place"] if to is not None else told)} - _LOOSE
    if len(stems) != 1:
        return None
    (stem,) = stems
    if told.startswith(("end of", "the end of")):
        after = [p for p, part in enumerate(parts) if stem in _stems(part.heading)]
        return None if not after or not after[0] else _up_to(parts, after[0] + 1, 0)
    for p, n in flat[1:]:
        if (p and not n and stem in _stems(parts[p].heading)) or _tells(parts[p].lines[n], stem):
            return _up_to(parts, p, n)
    if stem == "armhole":  # unnamed, it begins where stitches are first bound off at the edges
        for p, n in flat[1:]:
            bound = [a for a in tree.walk(parts[p].lines[n].actions) if isinstance(a, tree.BindOff)]
            if bound and bound[0].count is not None:
                return _up_to(parts, p, n)
    return None


def _up_to_count(parts: list[Part], until: tree.Until) -> list[Part] | None:
    """In words: ``Work as for back until 28 sts rem``: up to the decreases that went to another count."""
    for p in range(len(parts) - 1, -1, -1):
        for n in range(len(parts[p].lines) - 1, -1, -1):
            line = parts[p].lines[n]
            at = [
                i for i, a in enumerate(line.actions) if getattr(getattr(a, "until", None), "stitches", None)
            ]
            if at:
                last = replace(line.actions[at[-1]], until=until)
                cut = replace(line, actions=(*line.actions[: at[-1]], last))
                return [*parts[:p], Part(parts[p].heading, (*parts[p].lines[:n], cut))]
    return None


def _up_to_length(parts: list[Part], until: tree.Until) -> list[Part] | None:
    """In words: ``Work as for back until piece measures 40 cm``: up to the rows that went so far."""
    for p, part in enumerate(parts):
        for n, line in enumerate(part.lines):
            for i, a in enumerate(line.actions):
                other = a.until if isinstance(a, tree.WorkRows | tree.RepeatRows) else None
                if other is not None and _reaches(other, until):
                    last = replace(a, until=until)
                    cut = replace(line, actions=(*line.actions[:i], last))
                    return [*parts[:p], Part(part.heading, (*part.lines[:n], cut))]
    return None


def _reaches(other: tree.Until, until: tree.Until) -> bool:
    """Whether one length, measured from the same place, is as far as another in every size."""
    a, b = other.length, until.length
    if a is None or b is None or a.unit != b.unit or other.since != until.since or a.less or b.less:
        return False
    many = max(len(a.values), len(b.values))
    if not a.values or not b.values:
        return False
    pairs = [(a.values[min(i, len(a.values) - 1)], b.values[min(i, len(b.values) - 1)]) for i in range(many)]
    return all(x is not None and y is not None and x >= y for x, y in pairs)


def _up_to(parts: list[Part], p: int, n: int) -> list[Part]:
    out = parts[:p]
    if n:
        out = [*out, Part(parts[p].heading, parts[p].lines[:n])]
    return out


_STEMS = {"underarm": "armhole", "neckline": "neck", "ribbing": "rib"}
_LOOSE = frozenset(
    "beginning begin beg start of shaping shape where are is with end shapings before point".split()
)
_OPENS = re.compile(r"^\W*(?:shape|begin|start|divide|work|make|next\b.{0,30}?:?\s*shape)\b", re.IGNORECASE)


def _stems(text: str) -> set[str]:
    return {_STEMS.get(w, w) for w in _words(text)}


def _tells(line: tree.Line, stem: str) -> bool:
    """Whether the line opens what the landmark names: "Shape armholes:", "Armhole shaping"."""
    label = line.label.words if line.label is not None else ""
    head = line.text.split(":")[0] if ":" in line.text else line.text.split(".")[0]
    if stem not in _stems(f"{label} {head}"):
        return False
    return len(head.split()) <= 4 or _OPENS.match(line.text) is not None or stem in _stems(label)


def _between_stars(parts: list[Part], star: str, *, begins: bool) -> list[Part] | None:
    """The lines up to a mark of stars; from the first such mark to the second where ``begins`` is true."""
    marks = [
        (p, n, i)
        for p, part in enumerate(parts)
        for n, line in enumerate(part.lines)
        for i, a in enumerate(line.actions)
        if isinstance(a, tree.Note) and a.words.strip() == star
    ]
    if not marks or (begins and len(marks) < 2):
        return None
    leads = len(marks) > 1 and not any(
        _works(line.actions[: marks[0][2]] if (p, n) == marks[0][:2] else line.actions)
        for p, part in enumerate(parts[: marks[0][0] + 1])
        for n, line in enumerate(part.lines)
        if (p, n) <= marks[0][:2]
    )
    first = marks[0] if begins else None
    end = marks[1] if begins or leads else marks[0]
    out: list[Part] = []
    for p, part in enumerate(parts):
        lines: list[tree.Line] = []
        for n, line in enumerate(part.lines):
            if (p, n) > end[:2] or (first is not None and (p, n) < first[:2]):
                continue
            actions = line.actions
            if (p, n) == end[:2]:
                actions = actions[: end[2]]
            if first is not None and (p, n) == first[:2]:
                actions = actions[first[2] + 1 :]
            if actions:
                lines.append(line if actions == line.actions else replace(line, actions=actions))
        if lines:
            out.append(Part(part.heading, tuple(lines)))
    return out or None
