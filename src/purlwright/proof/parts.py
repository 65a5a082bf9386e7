"""The parts of a garment: which rows work the back, a front, a sleeve, the left mitten, a finger.

In: a subject. Out: for each way the :class:`Part` values, told from the headings and the ledger. What shapes
them is read in ``shaping``; whether they fit is left to the family modules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import SectionLike, Subject, Way

__all__ = ["ROWS", "Heading", "Part", "headings", "parts", "speaks_of", "sure", "wholes"]

ROWS = (Kind.ROW, Kind.ROUND)

_ROLES = re.compile(
    r"\b(?P<role>back|fronts?|sleeves?|cap|yoke|raglan|heel|gusset|flap|foot|toe|leg|thumb|fingers?|band|mittens?"
    r"|mitts?|gloves?|hands?|shoulders?|neck|socks?|slippers?|cuffs?|armholes?|body|hat|crown|brim|pocket)\b",
    re.IGNORECASE,
)
_SHARED_OUT = re.compile(
    r"\b(?:divid\w+|separat\w+|split\w*|join\w*)\b.*\b(?:body|sleeves?)\b"
    r"|\bbody and sleeves?\b|\bsleeves? and body\b",
    re.IGNORECASE,
)
"""A heading where body and sleeves part or meet: its rows are those of neither."""
_MANY = re.compile(r"\b(?P<one>sleeve|front|mitten|mitt|glove|sock|slipper)s$")
_HAND = re.compile(r"\b(?P<hand>left|right)\b(?![ -]+(?:sides?|needle|edge)\b)", re.IGNORECASE)
_BAND = re.compile(r"\bbands?\b", re.IGNORECASE)


class Heading(NamedTuple):
    """A heading with those above it.

    ``roles`` are the trade words in it and in those above, singular; ``hand`` is "left", "right" or "".
    ``own`` are the roles of the heading itself, ``twin`` its words and those above without left and right.
    """

    place: int
    words: str
    level: int
    roles: frozenset[str]
    own: frozenset[str]
    hand: str
    twin: str
    above: tuple[int, ...]


class Part(NamedTuple):
    """The entries of one piece under one heading, in order, of one copy.

    ``piece`` is the number of its piece in the ledger.
    """

    heading: Heading
    piece: int
    rows: tuple[Entry, ...]

    @property
    def name(self) -> str:
        """Its heading, as it is said in a sentence."""
        return _said(self.heading.words)

    @property
    def worked(self) -> tuple[Entry, ...]:
        """Its rows and rounds, without cast-ons, bind-offs and joins."""
        return tuple(e for e in self.rows if e.kind in ROWS)


def _said(words: str) -> str:
    """A heading as it is said in a sentence: "Sleeves (make 2)" is "the sleeve"."""
    plain = " ".join(re.sub(r"[(\[].*$", "", words).split()).strip(" .:").lower()
    plain = _MANY.sub(r"\g<one>", plain)
    return f"the {plain or 'piece'}"


def headings(subject: Subject) -> tuple[Heading, ...]:
    """Every section's heading, in the order of the text."""
    return subject.once("headings", lambda: tuple(_headings(subject.pattern.sections)))


def _headings(sections: Sequence[SectionLike]) -> Iterator[Heading]:
    outer: list[Heading] = []
    for place, section in enumerate(sections):
        words, level = section.heading, section.level
        while outer and outer[-1].level >= level:
            outer.pop()
        up = outer[-1] if outer else None
        own = frozenset(_role(m["role"]) for m in _ROLES.finditer(words))
        if _SHARED_OUT.search(words):
            own -= {"body", "sleeve"}
        hands = {m["hand"].lower() for m in _HAND.finditer(words)}
        hand = hands.pop() if len(hands) == 1 else ""
        twin = " ".join(_HAND.sub("", words).lower().split())
        got = Heading(
            place=place,
            words=words,
            level=level,
            roles=own | (up.roles if up else frozenset()),
            own=own,
            hand=hand or (up.hand if up else ""),
            twin=f"{up.twin}/{twin}" if up else twin,
            above=(*up.above, up.place) if up else (),
        )
        if level:
            outer.append(got)
        yield got


def _role(word: str) -> str:
    low = word.lower()
    return low.removesuffix("s")


def speaks_of(subject: Subject, *roles: str) -> bool:
    """Whether a heading speaks of any of these."""
    wanted = frozenset(roles)
    said: frozenset[str] | None = subject.of_work(speaks_of)
    if said is None:
        said = frozenset[str]().union(*(h.own for h in headings(subject)))
        subject.keep_of_work(speaks_of, said)
    return not wanted.isdisjoint(said)


def parts(subject: Subject, way: Way) -> tuple[Part, ...]:
    """The parts of one knitting, in the order worked."""
    return subject.once(("parts", way.size, way.options), lambda: tuple(_parts(subject, way)))


def _parts(subject: Subject, way: Way) -> Iterator[Part]:
    """An entry stands under the next heading of its name: the same words may head several sections."""
    known = headings(subject)
    places: dict[str, list[int]] = {}
    for heading in known:
        places.setdefault(heading.words, []).append(heading.place)
    last, at = "", 0
    for number, piece in enumerate(way.knitted.ledger.pieces):
        rows: list[Entry] = []
        here = at
        for entry in piece.rows:
            if entry.section != last:
                last = entry.section
                at = _next_place(places, last, at)
            if at != here and rows:
                yield Part(known[here], number, tuple(rows))
                rows = []
            here = at
            rows.append(entry)
        if rows and known:
            yield Part(known[here], number, tuple(rows))


_COPY = re.compile(r" \d+$")


def _next_place(places: dict[str, list[int]], words: str, at: int) -> int:
    """The first section of that name after ``at``, else the first of all: another copy has begun."""
    found = places.get(words) or places.get(_COPY.sub("", words))
    if not found:
        return at
    return next((n for n in found if n > at), found[0])


def sure(part: Part) -> bool:
    """Whether every entry was knitted as written."""
    return not any(e.unread or e.resumed or any(s.used for s in e.stated) for e in part.rows)


def wholes(subject: Subject, way: Way, *roles: str, hand: bool = False) -> list[Part]:
    """Parts with all that stands below their heading taken together, one for each piece worked there.

    The heading is the highest that speaks of one of ``roles``, or with ``hand`` the highest that says left or
    right; other parts are left out.
    """
    known = headings(subject)
    wanted = frozenset(roles)
    out: list[Part] = []
    for part in parts(subject, way):
        above = (known[n] for n in (*part.heading.above, part.heading.place))
        root = next((h for h in above if (h.hand if hand else not wanted.isdisjoint(h.own))), None)
        last = out[-1] if out else None
        if last is not None and last.piece == part.piece and _goes_on(last, part, root):
            out[-1] = last._replace(rows=(*last.rows, *part.rows))
        elif root is not None:
            out.append(Part(root, part.piece, part.rows))
    return out


_OF_A_PIECE = frozenset({"armhole", "shoulder", "neck", "cap", "raglan", "cuff", "yoke"})


def _goes_on(last: Part, part: Part, root: Heading | None) -> bool:
    """Whether a part goes on with the one before: under the same heading, or under one like "Armholes" beside
    it, on the same needle.
    """
    if root is last.heading:
        return True
    flat = all(e.kind is not Kind.ROUND for e in part.rows) and part.rows[0].kind in ROWS
    return root is None and flat and not part.heading.hand and part.heading.own <= _OF_A_PIECE
