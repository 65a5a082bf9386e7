"""Check C094, by what an explanation comes to: its words work the stitch that its name stands for.

In: the lists of abbreviations and special stitches. Out: findings where the words work another stitch than
the one of that name: a crossing held on the other side, a decrease or lifted strand that leans the other way,
another number of stitches. What an explanation leaves open is left to ``fullness``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Severity
from purlwright.needles.stitching import crossing_meant
from purlwright.pattern import tree
from purlwright.pattern.definitions import Draft, without_lead
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.stitches.kinds import Family, Lean, Stitch
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["ExplainedOtherwise", "explained_otherwise", "stitch_meant"]


@dataclass(frozen=True, slots=True)
class ExplainedOtherwise:
    """The words that explain an abbreviation work another stitch than its name stands for.

    A cable that is held in front where the name says back, an increase whose strand is lifted from the other
    side: the count stays right, and every place that has the stitch leans the wrong way, or leaves a hole.
    Some knitters follow the name, some the words.

    Example: `C4B: slip 2 sts to cable needle, hold in front, k2, k2 from cable needle.` Held in front the
    stitches cross to the left, which is C4F.

    Cure: correct the words, or the name.

    Source: names as in the stitch dictionary (`purlwright explain` tells each one's source); a name with
    several trade meanings is held only to what they have in common.
    """

    name: str
    does: str
    """What the words do, as "cross to the left (C4F)"."""
    usual: str
    """What the name stands for, as "crosses to the right"."""

    code = "explained-otherwise"
    check = "C094"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.name}" {self.usual}; the words that explain it {self.does}.'

    def label(self) -> str:
        return f"these words {self.does}"

    def help(self) -> str | None:
        return f'Correct these words, or the name "{self.name}".'


_SIDED = re.compile(r"(?:[blfr]|[lr]p|p[lr]|[lr]p?[ct]|front|back|left|right)(?: ?tbl)?$", re.IGNORECASE)
"""Names of crossings that end by saying which way: C4B, T3F, 2/2 RPC, RT, Tw2L."""
_BOTH_SIDES = re.compile(r"\b(?:WS|RS|wrong side|right side|or)\b(?! of (?:the )?work)", re.IGNORECASE)
_LEANS = frozenset({Lean.LEFT, Lean.RIGHT})
_OPEN = frozenset({"dec", "inc", "M1", "M1P", "yo"})
"""Stitches whose name leaves the lean open."""


def explained_otherwise(drafts: Iterable[Draft]) -> Iterator[Finding]:
    """Every explanation of ``drafts`` that works another stitch."""
    for draft in drafts:
        problem = _differs(draft.name, draft.words)
        if problem is not None:
            yield Finding(problem=problem, span=Span(draft.offset, draft.offset + len(draft.words)))


@lru_cache(maxsize=2048)
def _differs(name: str, words: str) -> ExplainedOtherwise | None:
    usual = _named(name)
    if not usual or _BOTH_SIDES.search(words) is not None:
        return None
    leans = {s.lean for s in usual}
    meant = stitch_meant(words)
    if meant is not None:
        found = _by_steps(name, usual, meant)
    elif usual[0].key in _LIFTED_KINDS and _lifted(words) == "open":
        found = ExplainedOtherwise(name, "leave a hole", "closes the lifted strand by a twist")
    else:
        found = None
    told = {m["way"] or m["to"] for m in _TOLD_LEAN.finditer(words.lower())}
    if found is None and len(leans) == len(told) == 1 and {*leans, *map(Lean, told)} == _LEANS:
        called = f"call it one that goes to the {told.pop()}"
        found = ExplainedOtherwise(name, called, _goes(usual[0]))
    return found


_TOLD_LEAN = re.compile(
    r"\b(?P<way>left|right)[ -](?:lean|slant|cross)\w*|\b(?:lean|slant|cross)\w* to(?:wards?)? the "
    r"(?P<to>left|right)\b"
)


def _by_steps(name: str, usual: tuple[Stitch, ...], meant: Stitch) -> ExplainedOtherwise | None:
    """What is wrong with an explanation whose steps come to the stitch ``meant``."""
    one = usual[0]
    counts = {(s.takes, s.makes) for s in usual}
    if (meant.takes, meant.makes) not in counts:
        if meant.family is not one.family or len(counts) != 1:
            return None
        return ExplainedOtherwise(name, f"take {_change(meant)}", f"takes {_change(one)}")
    if len({s.lean for s in usual}) == 1 and {one.lean, meant.lean} == _LEANS:
        called = meant.uk if name.lower() in {s.uk.lower() for s in usual} else meant.us
        does = f"{_verb(meant)} to the {meant.lean.value} ({called})"
        return ExplainedOtherwise(name, does, _goes(one))
    return None


def _goes(stitch: Stitch) -> str:
    """Says "crosses to the right"."""
    return f"{_verb(stitch)}{'es' if _verb(stitch) == 'cross' else 's'} to the {stitch.lean.value}"


def _verb(stitch: Stitch) -> str:
    return "cross" if stitch.family in {Family.CABLE, Family.TWIST} else "lean"


def _change(stitch: Stitch) -> str:
    made = f" and leave {stitch.makes}" if stitch.makes > 1 else ""
    return f"{stitch.takes} st{'s' if stitch.takes != 1 else ''}{made}"


@lru_cache(maxsize=512)
def _named(name: str) -> tuple[Stitch, ...]:
    """What a name may stand for; nothing where it says too little."""
    known = dictionary()
    found = known.find(name)
    if found is None or found.key in _OPEN or found.family not in _TOLD:
        return ()
    if found.family in {Family.CABLE, Family.TWIST} and _SIDED.search(name) is None:
        return ()
    if not found.readings:
        return (found,)
    return tuple(s for key in found.readings if (s := known.find(key)) is not None)


_TOLD = frozenset({Family.CABLE, Family.TWIST, Family.DECREASE, Family.INCREASE})
_LIFTED_KINDS = frozenset({"M1L", "M1R", "M1LP", "M1RP"})


_ASIDES = re.compile(r"\([^()]*\)")


@lru_cache(maxsize=2048)
def stitch_meant(words: str) -> Stitch | None:
    """The one stitch of the dictionary that some words work; None if they are more, or were not all read."""
    lifted = _lifted(words)
    if lifted is not None:
        return dictionary().find(lifted) if lifted != "open" else None
    working: list[tree.Action] = []
    bare = _ASIDES.sub(" ", without_lead(words))
    for action in read_line(bare, Context()).actions:
        if isinstance(action, tree.Unread):
            return None
        if not isinstance(action, tree.Note | tree.Stated):
            working.append(action)
    if len(working) != 1:
        return None
    one = working[0]
    if isinstance(one, tree.Cross):
        return crossing_meant(one, lambda n: 1 if n is None else n.at(0) or 0)
    if not isinstance(one, tree.Work) or one.own or one.readings or one.count.values != (1,):
        return None
    return dictionary().find(one.stitch)


# --- a strand lifted between two stitches -----------------------------------------------------------------

_STRAND = re.compile(r"\b(?:strand|bar|thread|yarn|ladder|loop)\b", re.IGNORECASE)
_LIFTING = re.compile(r"\b(?:lift(?:ing)?|pick(?:ing)? up|insert(?:ing)?)\b", re.IGNORECASE)
_FROM = re.compile(r"\bfrom (?:the )?(?P<side>front|back)\b", re.IGNORECASE)
_LEG = re.compile(
    r"\b(?P<how>k(?:nit)?|p(?:url)?)\b[^.;]*?\b(?:(?:through|into|in|thro|thru) (?:the |its )?"
    r"(?P<leg>front|back)\b|(?P<tbl>tbl)\b)",
    re.IGNORECASE,
)
_BY_RIGHT = re.compile(r"\b(?:right|rh)(?: hand| tip of)? needle\b", re.IGNORECASE)


@lru_cache(maxsize=2048)
def _lifted(words: str) -> str | None:
    """LIFT STRAND "from" SIDE, KNIT "through" LEG: "M1L", "M1R" or the like; "open" for one that is not
    twisted; None for other words.

    The strand lies on the left needle as it was lifted: from the front its leading leg is in front, so that
    the back leg twists it, to the left; from the back the other way round.
    """
    if not (_LIFTING.search(words) and _STRAND.search(words) and "between" in words.lower()):
        return None
    side = _FROM.search(words)
    if side is None or _BY_RIGHT.search(words):
        return None
    leg = _LEG.search(words, side.end())
    if leg is None:
        return None
    on = "back" if leg["tbl"] else leg["leg"].lower()
    if on == side["side"].lower():
        return "open"
    purl = "P" if leg["how"].lower().startswith("p") else ""
    return f"M1{'L' if on == 'back' else 'R'}{purl}"
