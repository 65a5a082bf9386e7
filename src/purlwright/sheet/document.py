"""The sheet before it has a look: blocks in reading order, drawings, and the rows to follow one by one.

In: nothing; these are the values that ``compose`` makes of a knitted pattern. Out: a frozen
:class:`Document`, which every output (print, web page, plain text, spoken) walks from first to last and to
which none of them adds a fact. Words are as they are to be read: no markup, no escapes. What a block looks
like is left to ``out``; each block keeps the span of the words it was made from, ``NOWHERE`` for our own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.drawing import Drawing

__all__ = [
    "Beat", "Block", "Caution", "Cautions", "Document", "Fact", "Facts", "Figure", "FollowAlong", "Glossary",
    "Heading", "Help", "HelpPiece", "HelpQuestion", "Items", "Note", "Paragraph", "Passes", "Photo",
    "PlayedRow", "Remedy", "Row", "Run", "Stamp", "Step", "Table", "Term", "Trouble", "Words", "one_line",
    "plain", "without_repeated_stamp",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Run:
    """A run of words that look alike. ``to`` is the anchor of the block it leads to, "" for none."""

    text: str
    strong: bool = False
    to: str = ""


Words: TypeAlias = tuple[Run, ...]


def plain(words: Words) -> str:
    """The words alone."""
    return "".join(run.text for run in words)


def one_line(words: str) -> str:
    """Words on one line, whatever line ends and spaces stand in them."""
    return " ".join(words.split())


# --- blocks --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """``level`` 1 is a part of the sheet; the title is not one. ``anchor`` is unique in the document."""

    text: str
    level: Literal[1, 2, 3] = 1
    anchor: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Plain words. ``hers`` is false for what the sheet says of itself (how it was made, what was chosen)."""

    words: Words
    hers: bool = True
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words to the knitter between rows: read, not worked; ``worked`` if they tell how it is finished."""

    words: Words
    worked: bool = False
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Items:
    """A short list, one line each, in no order of work."""

    items: tuple[Words, ...]
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing with its name: "Needles", "4.5 mm, and a spare one for the graft"."""

    label: str
    words: Words
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Named things set one under the other."""

    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Numbers by row and column. Every row has as many cells as ``head``; its first cell is its own head."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """An abbreviation in full. ``anchor`` is where a row's words may lead."""

    term: str
    meaning: Words
    anchor: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Glossary:
    """The abbreviations that the pattern uses, and no other."""

    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One printed line of instruction. It is never split over two pages.

    ``label`` is how the row is called ("Row 5", "Rows 2 and 4", "" for a line without one); ``side`` "RS",
    "WS" or ""; ``total`` the count to have afterwards as it is printed ("36 (42, 46) sts"; "" if none), and
    ``proved`` whether the pattern says it (false) or the knitting gave it (true). ``only`` says for whom the
    line is ("Size adult only"; "" for all). ``boxes`` is how many tick boxes it has: one a row it stands for,
    0 for a line that is no row. ``lifeline`` marks a row that a safety thread may be run through.
    """

    label: str
    words: Words
    side: Literal["RS", "WS", ""] = ""
    total: str = ""
    proved: bool = False
    only: str = ""
    boxes: int = 0
    lifeline: bool = False
    anchor: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Passes:
    """A repeat to tick off: how often it is worked, counting what stands above, and the count after each.

    ``counts`` has one entry a pass, in order, the first of them the pass already written out; empty if the
    number of stitches does not change.
    """

    words: Words
    first: int
    last: int
    counts: tuple[str, ...] = ()
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing in mm with its text alternative. ``beside`` (a chart's key) is set next to it if it fits.

    ``said`` is the same in words, for those who do not see it; empty only if other blocks have the words.
    ``larger`` is the same, with what goes on from it, in parts large enough for a large print; it is empty
    where the drawing is so already. ``goes_on`` is said of a further part of the chart before it.
    ``hangs_mm`` is how much of the drawing, at the left and at the right, is only the numbers of rows: that
    much may hang in a margin, so that the squares stand where words do.
    """

    drawing: Drawing
    alternative: str
    larger: tuple[Figure, ...] = ()
    goes_on: bool = False
    caption: Words = ()
    beside: Drawing | None = None
    beside_alternative: str = ""
    hangs_mm: tuple[float, float] = (0.0, 0.0)
    said: tuple[Words, ...] = ()
    anchor: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """Her own picture: the bytes of a JPEG or PNG, as they are in her file, and what it shows."""

    name: str
    data: bytes
    alternative: str
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A usual caution that fits what is made, never a promise of safety; ``source`` as it is cited, or ""."""

    words: Words
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """Cautions set together and apart from the rest."""

    cautions: tuple[Caution, ...]


Block: TypeAlias = (
    Heading | Paragraph | Note | Items | Facts | Table | Glossary | Row | Passes | Figure | Photo | Cautions
)


# --- rows one by one -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One row, round, cast-on or bind-off as it is really worked, in the order of work.

    ``words`` are hers for that row, with her own numbers for this size; ``in_full`` the same without an
    abbreviation. ``after`` is how many stitches there are afterwards and ``unworked`` how many of them wait
    beyond a turn; ``look_for`` one true thing to see, "" if there is none. ``pass_`` of ``passes`` says
    which working of a repeat it is (1 of 1 outside a repeat). ``row`` is the anchor of the printed line.
    """

    section: str
    piece: str
    kind: str
    label: str
    side: Literal["RS", "WS", ""]
    words: Words
    in_full: str
    before: int
    after: int
    unworked: int = 0
    look_for: str = ""
    note: str = ""
    pass_: int = 1
    passes: int = 1
    row: str = ""
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class HelpQuestion:
    """A question that tells rows of this size apart.

    ``facts`` are the facts of its answer, by the names they have in a letter to a teacher; ``effort`` is
    about how long it takes to look, in seconds. ``kind`` says what an answer is: a number, two numbers
    (right and left), several, a side, one of ``words``, or a number or "none" up the column of ``stitch``.
    """

    name: str
    asks: str
    how: str
    kind: Literal["count", "pair", "counts", "side", "word", "column"]
    facts: tuple[tuple[str, str], ...]
    effort: float
    words: tuple[str, ...] = ()
    stitch: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class HelpAlso:
    """Something quickly looked at that tells apart what a wrong count may mean. ``fact`` is its name in a
    letter, ``words`` the answers to choose from; none where the answer is a number.
    """

    fact: str
    asks: str
    how: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """What to do, what will be seen of it, and what she then has: stitches, and the row then done.

    ``row`` is a row of the piece by its place from 0, -1 for its beginning.
    """

    what: str
    shows: str
    stitches: int
    row: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """One thing that may have gone wrong. ``row`` is where it most likely did, by its place from 0.

    ``percent`` is how likely it is among all that show the same. ``sign`` is what looks odd then, "" if
    nothing does, ``down`` so many rows below the row just worked.
    """

    did: str
    row: int
    percent: int
    sign: str
    down: int
    remedy: Remedy | None
    seen: tuple[int, ...] = ()
    """What would be said of each of the help's ``also``: a number, or the place of a word; -1 for nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HelpPiece:
    """The rows of a piece, each by its step (from 1) and the step that comes after it.

    ``columns`` has for each fact what is truly seen after each row, -1 where there is nothing to tell; a
    side is 0 for RS and 1 for WS, and -2 up a column says that it has no mark. ``counts`` and ``off`` say
    what a wrong count means, by the place of the row just done (-1 for the beginning): the stitches on the
    needle, or those left over (above 0) or short (below 0) in the next row, 99 where it stops at a marker.
    """

    name: str
    steps: tuple[int, ...]
    nexts: tuple[int, ...]
    columns: dict[str, tuple[int, ...]]
    counts: dict[int, tuple[tuple[int, tuple[Trouble, ...]], ...]]
    off: dict[int, tuple[tuple[int, tuple[Trouble, ...]], ...]]
    worked_on: tuple[int, ...] = ()
    """The side that faces while each row is worked: 0 for RS, 1 for WS, -1 where nothing tells."""
    midway: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """What a page needs to answer where she is and what went wrong. ``letter`` is the head of the text for
    a teacher; ``names`` what its lines of facts are called. ``several`` has, for each
    fact that is several counts, those that the column of its name numbers.
    """

    letter: str
    names: dict[str, str]
    questions: tuple[HelpQuestion, ...]
    several: dict[str, tuple[tuple[int, ...], ...]]
    also: tuple[HelpAlso, ...]
    """What may be looked at besides, where a count has several meanings."""
    pieces: tuple[HelpPiece, ...]
    midways: tuple[tuple[tuple[int, int], ...], ...] = ()
    """What lies on the left and on the right needle after each stitch of a row but the last; a piece's
    ``midway`` tells which of these each row is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowAlong:
    """One size and one choice of options, row after row. ``played`` are its different rows, to be shown
    stitch by stitch, and ``played_of`` which of them each step is; -1 for one that cannot be shown.
    """

    size: str
    options: tuple[tuple[str, str], ...] = ()
    steps: tuple[Step, ...] = ()
    help: Help | None = None
    played: tuple[PlayedRow, ...] = ()
    played_of: tuple[int, ...] = ()


# --- rows stitch by stitch -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Beat:
    """One stitch of a row that is shown stitch by stitch, or the turn at its end.

    ``takes`` loops leave the left needle and ``makes`` come onto the right one, each by its look: "V",
    "bump", "over", or "" where it has none. ``yarn`` is where the working yarn lies; ``does`` what sort of
    stitch it is.
    """

    words: str
    takes: int
    makes: tuple[str, ...]
    yarn: Literal["front", "back", "over"]
    does: Literal["work", "slip", "cross", "close", "turn"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedRow:
    """A row to be shown stitch by stitch. ``left`` are the looks of the loops on the left needle, the next
    to be worked first; ``behind`` how many lie on the right needle before it begins.
    """

    label: str
    section: str
    side: Literal["RS", "WS", ""]
    left: tuple[str, ...]
    behind: int
    beats: tuple[Beat, ...]
    after: int


# --- the whole -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What every page says of itself: whose and which sheet this is. ``date`` is as she writes it, or ""."""

    name: str
    version: str = ""
    date: str = ""
    size: str = ""
    """The size of a one-size sheet, "" for a sheet of all sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole sheet. ``language`` is a BCP 47 tag. ``follow`` has one entry a size, read row by row;
    ``played`` are rows that a web page shows stitch by stitch.
    """

    title: str
    stamp: Stamp
    blocks: tuple[Block, ...]
    follow: tuple[FollowAlong, ...] = ()
    played: tuple[PlayedRow, ...] = ()
    language: str = "en"
    left_handed: bool = False
    title_span: Span = NOWHERE


def without_repeated_stamp(document: Document) -> tuple[Block, ...]:
    """Its blocks, less a close that has nothing but its version and date, which stand under its title."""
    blocks, stamp = document.blocks, document.stamp
    if len(blocks) < 2:
        return blocks
    heading, facts = blocks[-2:]
    if not isinstance(heading, Heading) or not isinstance(facts, Facts) or heading.anchor != "about":
        return blocks
    told = {stamp.version.strip(), stamp.date.strip()} - {""}
    known = all(plain(f.words).strip() in told for f in facts.facts)
    return blocks[:-2] if known else blocks
