"""One line of instruction: its label, and what it says to do, in order.

In: the text of one line and what is known of the file. Out: a :class:`ReadLine`: label, actions (steps and
statements), findings with spans in the line's own text. How the file was cut into lines is left to ``file``;
what the actions do to loops, to ``needles``.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, MutableMapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from msgspec.structs import replace as changed

from purlwright.findings import Finding
from purlwright.pattern.read.afterwards import (
    WORKED,
    cast_on_first,
    ending_restated,
    held_before_turn,
    rows_in_turn,
    says_nothing,
    too_large,
    up_to_the_rest,
)
from purlwright.pattern.read.aloud import as_written
from purlwright.pattern.read.amounts import until_mark
from purlwright.pattern.read.asfor import may_be_as_for, parse_as_for
from purlwright.pattern.read.borders import parse_bordered_rows, take_border
from purlwright.pattern.read.byneedle import again_on_needle, on_the_needle
from purlwright.pattern.read.caston import take_method_told
from purlwright.pattern.read.copied import copies_ahead, copy_ahead, exception_ahead
from purlwright.pattern.read.counts import parse_count_before
from purlwright.pattern.read.customs import (
    take_aside,
    take_hanging,
    take_heading,
    take_remark,
    take_row_rule,
)
from purlwright.pattern.read.direction import take_headed
from purlwright.pattern.read.follow import STATEMENTS, again, bare_repeat, run_beside
from purlwright.pattern.read.gloss import explained
from purlwright.pattern.read.handling import handling_end
from purlwright.pattern.read.joined import bound_at_both_ends, worked_from
from purlwright.pattern.read.label import read_label, split_label
from purlwright.pattern.read.leads import take_lead
from purlwright.pattern.read.loopcount import take_loop_counted
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.oldrows import opens_old
from purlwright.pattern.read.openers import opens, parse_one
from purlwright.pattern.read.otherside import OPENS_SIDE, parse_other_side
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.problems import LineTooLong, NotRead
from purlwright.pattern.read.prose import aside_end, is_talk, talk_ahead, tells_the_round
from purlwright.pattern.read.reminders import EARLY, take_reminder
from purlwright.pattern.read.rowrules import parse_rule
from purlwright.pattern.read.shaping import same_time
from purlwright.pattern.read.steps import is_knitting_word
from purlwright.pattern.read.stretch import take_stretch
from purlwright.pattern.read.tails import (
    along,
    held_behind,
    in_yarn,
    put,
    same_in_yarn,
    shape_within,
    take_tail,
)
from purlwright.pattern.tokens import Cursor, Token, tokenize
from purlwright.pattern.tree import (
    Action,
    BindOff,
    CastOn,
    Close,
    Gather,
    Hold,
    InGround,
    Label,
    Marker,
    Note,
    Repeat,
    RepeatRows,
    RowRef,
    Shaping,
    Stated,
    Unread,
    WorkRows,
    Yarn,
)
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context

__all__ = ["Bodies", "ReadLine", "read_line"]

_MOST = 5000
"""No line holds more actions than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLine:
    """What one line says. ``note`` is true when the whole line is talk. Spans count from the start of the
    line.
    """

    label: Label | None = None
    actions: tuple[Action, ...] = ()
    findings: tuple[Finding, ...] = ()
    note: bool = False


Bodies: TypeAlias = MutableMapping[Hashable, tuple[tuple[Action, ...], tuple[Finding, ...], bool]]
"""What stands after labels, read: by its words, where they begin, and what of the label they lean on."""


def read_line(text: str, ctx: Context, *, label: str | None = None, bodies: Bodies | None = None) -> ReadLine:
    """LINE: LABEL? (STATEMENT | STEP | COUNT | NOTE)*: "Row 2 (WS): P to last 3 sts, k3. (24 sts)".

    label : the label's words when they stand apart from ``text``; its span is then ``NOWHERE``.
    bodies : what stood after other labels, read with the same ``ctx``; it is added to. "Row 2: Purl." and
    "Row 4: Purl." then say one and the same.
    Returns label, actions and findings; an empty text gives none of them. Never raises, reads nothing but its
    arguments.
    """
    marks = _place_marks(text)
    for mark in marks:
        text = f"{text[: mark.span.start]}{' ' * len(mark.words)}{text[mark.span.end :]}"
    if label is None:
        head, at = _inner_label(*split_label(text, ctx), text, ctx)
    else:
        head, at = (read_label(label, ctx) if label.strip() else None), 0
        if head is not None:
            head, at = _more_of_label(head, text, ctx)
    leans = None if head is None else _leans_on(head, ctx)
    if bodies is None:
        actions, findings, note = _read_body(text, at, leans, ctx)
    else:
        key = (text[at:], at, leans)
        known = bodies.get(key)
        if known is None:
            known = bodies[key] = _read_body(text, at, leans, ctx)
        actions, findings, note = known
    if head is not None and len(head.numbers) > 1:
        actions = rows_in_turn(actions, len(head.numbers))
    if marks:
        actions = (*marks[:1], *actions, *marks[1:])
    return ReadLine(label=head, actions=actions, findings=findings, note=note)


_TOPIC = re.compile(r"(?P<topic>Shap(?:e|ing) [a-z ]{2,24})[.:] ?[-\u2013\u2014]+ ?(?=\d|[A-Z])")


def _inner_label(head: Label | None, at: int, text: str, ctx: Context) -> tuple[Label | None, int]:
    """INNER: "Toe: Rnd 1: ...", "Top: Dec rnd: ...", "Shape top.-1st row: ...": the part, and then the row's
    own label, which counts.
    """
    if head is None and (m := _TOPIC.match(text)) is not None:
        head, at = Label(words=m["topic"], name=m["topic"].lower(), span=Span(0, m.end("topic"))), m.end()
    if head is None or head.numbers or head.next is not None or head.rule or head.unit is not None:
        return head, at
    inner, end = split_label(text[at:], ctx)
    if inner is None or inner.unit is None:
        return head, at
    return changed(inner, span=Span(inner.span.start + at, inner.span.end + at)), at + end


class _Leans(NamedTuple):
    """What the words after a label lean on: whether its row is one of several, belongs to a needle, or has a
    number.
    """

    later: bool
    of_needle: bool
    numbered: bool
    several: bool


def _leans_on(head: Label, ctx: Context) -> _Leans:
    later = head.next is not None or (bool(head.numbers) and min(head.numbers) > 1)
    several = head.next is not None and head.next.at(0) != 1
    return _Leans(later, _of_needle(head, ctx), bool(head.numbers) and not head.rule, several)


def _read_body(
    text: str, at: int, leans: _Leans | None, ctx: Context
) -> tuple[tuple[Action, ...], tuple[Finding, ...], bool]:
    """What stands from ``at`` on: its actions, what is wrong with it, and whether it is all talk.

    leans : None if no label stands before it.
    """
    mine = ctx.afresh()
    cur = Cursor(as_written(tokenize(text[at:], at, ctx.compact)))
    if leans is None and _opens_section(cur):
        span = Span(cur.tokens[0].start, cur.tokens[-1].end)
        return (Note(words=text.strip(), span=span),), (), True
    actions = _Reading(cur, mine, text, in_row=leans is not None).actions()
    actions = held_before_turn([too_large(a, mine, text) for a in actions])
    actions = bound_at_both_ends(worked_from(actions, text), text, in_row=leans is not None)
    actions = up_to_the_rest(ending_restated(actions), text)
    if leans is not None:
        actions = cast_on_first(actions, later=leans.later)
        if leans.of_needle:
            actions = [on_the_needle(a) for a in actions]
        if (leans.numbered or leans.several) and not mine.findings.findings:
            actions = says_nothing(actions, mine, text)
    found = tuple(mine.findings)
    talk = leans is None and bool(actions) and all(isinstance(a, Note) for a in actions)
    return tuple(actions), found, talk and not found and is_talk(cur.tokens)


_OPENING_MARK = re.compile(r"\s*(?P<mark>\*{2,4})(?=[^*])")
_OVER_ROWS = re.compile(r"\b(?:cast|co|rows?|rnds?|rounds?|cm|inch|inches|until|off)\b", re.IGNORECASE)
_AGAIN_SAID = re.compile(r"\b(?:rep|repeat\w*)\b", re.IGNORECASE)


def _place_marks(text: str) -> tuple[Note, ...]:
    """PLACE-MARK: "** Cast on 20 sts.": stars that open no repeat are a place to come back to.

    "**Cast on 20 sts. Knit 9 rows.**" has such a mark at its end too.
    """
    m = _OPENING_MARK.match(text)
    if m is None:
        return ()
    mark = m["mark"]
    at = [x.start() for x in re.finditer(rf"(?<!\*){re.escape(mark)}(?!\*)", text)]
    if len(at) > 2 or not _OVER_ROWS.search(text) or _AGAIN_SAID.search(text):
        return ()
    if len(at) == 2 and not (at[1] == len(text.rstrip(" .")) - len(mark) and ". " in text):
        return ()
    return tuple(Note(words=mark, span=Span(a, a + len(mark))) for a in at)


_PARTS_SHAPED = frozenset(
    "heel toe crown thumb gusset armhole armholes neck neckline shoulder shoulders leg foot cuff body yoke"
    " sleeve sleeves border edging brim hem shaping flap decreases increases instep hood ribbing band".split()
)


def _named_part(tokens: Sequence[Token]) -> bool:
    """PART: "Crown Decreases (change to dpns when necessary)", "SHORT-ROW HEEL": capitals, no verb first."""
    at = next((i for i, t in enumerate(tokens) if t.low == "("), len(tokens))
    head, aside = tokens[:at], tokens[at:]
    words = [t for t in head if t.kind in {"w", "s"}]
    return (
        0 < len(words) <= 5
        and len(words) + sum(t.low == "-" for t in head) == len(head)
        and words[-1].low in _PARTS_SHAPED
        and all(t.text[:1].isupper() for t in words)
        and not opens(words[0].low)
        and (not aside or (aside[-1].low == ")" and sum(t.low == "(" for t in aside) == 1))
        and (bool(aside) or len(words) > 1)
    )


def _chart_told(tokens: Sequence[Token]) -> bool:
    """CHART-TOLD: "Chart A in words", "Chart A (written)": its rows stand under it."""
    lows = [t.low for t in tokens if t.low not in {"(", ")", "-", ":"}]
    return (
        2 < len(lows) < 7
        and "chart" in lows
        and (lows[-1] in {"written", "text"} or lows[-2:] in (["in", "words"], ["written", "out"]))
    )


def _opens_section(cur: Cursor) -> bool:
    """OPENS: a line of a few words, none of them a number, that ends in a colon: "Decrease for crown:".

    "Turn heel" alone is a heading too: what it takes is told in the rows under it.
    """
    tokens = cur.tokens
    if len(tokens) < 4 and [t.low for t in tokens] in (["turn", "heel"], ["turn", "the", "heel"]):
        return True
    if _named_part(tokens) or _chart_told(tokens):
        return True
    return (
        1 < len(tokens) <= 8
        and tokens[-1].low == ":"
        and all(t.kind in {"w", "s"} or t.low in {"-", "'", '"', "*", "_", "/", "&"} for t in tokens[:-1])
    )


def _of_needle(head: Label, ctx: Context) -> bool:
    """Whether the label names a needle of a round, so that "to end" is the end of that needle."""
    low = head.words.lower()
    return (head.name or "").startswith("needle ") or (ctx.round and low.endswith(("needle", "needles")))


def _more_of_label(head: Label, text: str, ctx: Context) -> tuple[Label, int]:
    """A side that stands in front of the row's words: label "Row 2", text "(WS) K3, p32"."""
    if head.side is None and text.lstrip()[:1] in {"(", "["}:
        joined, at = split_label("Row 1: " + text, ctx)
        if joined is not None and joined.side is not None and at > 7:
            return changed(head, side=joined.side, colour=head.colour or joined.colour), at - 7
    return head, 0


# --- the line, from left to right ------------------------------------------------------------------------


def _orders(t: Token) -> bool:
    """Whether a word tells what to work."""
    return t.kind == "s" or t.low in _STRONG or t.low in {"take", "narrow", "seam"}


def _names_rows(cur: Cursor, n: int) -> bool:
    """Whether a chart or rows by their numbers are named next: "now work rows 1-4 of chart A"."""
    return any(cur.peek(n + i).low in {"chart", "rows", "rnds", "rounds"} for i in range(3))


def _cut_ahead(cur: Cursor) -> int:
    """How many words stand before ", cut yarn" or ", cast on" in this sentence; 0 if neither does."""
    for n in range(1, 24):
        low = cur.peek(n).low
        if low in {"", ".", ";"}:
            return 0
        if low in {"cut", "break", "co", "cast"} and cur.peek(n - 1).low in {",", "and"}:
            return n
    return 0


_PAUSES = frozenset({",", ":", "-", "--", "!", "?", "…", "_", "~", "&", '"', "'", "/"})
_DASHES = frozenset({"-", "--", "="})
_SIZED = frozenset({"(", "["})
_BEGINS = Phrases(
    "begin|start to decrease|increase|narrow|widen|shape|dec|inc",
    "begin|start decreasing|increasing|shaping",
    "begin|start the? edging|border|heel|toe|crown|thumb|gusset|yoke|body|foot|leg|cuff|lace|cable|colourwork"
    " pattern|sequence|section|shaping?",
)  # fmt: skip
_JOINERS = frozenset("and then now also but so again lastly finally afterwards next".split())
_STOPS = frozenset({",", ";", ".", "(", ")", "[", "]", ":", "--"})
_STRONG = frozenset(
    "cast bind knit purl pearl repeat rep work turn slip join co bo k p decrease increase dec inc"
    " graft".split()
)
_PLAIN = frozenset(
    "the a an of for to as you it this that is are be in on at with from by if when thus etc again too"
    " all before"
    " follows following usual above below back forth out up down over here there away first second third last"
    " please only just well still even plain tight loose firm left right both neat work note page"
    " pattern".split()
)
"""Words of plain talk, which are no slip of the pen within a row."""

_LATE = (Stated, BindOff, CastOn, Gather, Close, Note, Hold)
"""After these, words within a labelled row may be talk."""
_TOOLS = frozenset("needle needles pin pins".split())
_OFTEN = re.compile(r"(?<!\ball )(?<!\bat )(?<!\bother )\btimes\b|\bas (?:many|often)\b")
_SIZES = frozenset({"size", "sizes"})
_NEVER = frozenset({"not", "never", "without", "don't"})


class _Reading:
    """A line while it is read.

    ``out`` is what was read; ``since`` where in it the sentence began; ``fresh`` is true at the start of a
    sentence; ``lead`` is the first of the joining words just passed ("and again"), or -1.
    """

    __slots__ = ("ctx", "cur", "fresh", "in_row", "lead", "out", "since", "text")

    def __init__(self, cur: Cursor, ctx: Context, text: str, *, in_row: bool) -> None:
        self.cur = cur
        self.ctx = ctx
        self.text = text
        self.in_row = in_row
        self.out: list[Action] = []
        self.since = 0
        self.fresh = True
        self.lead = -1

    def actions(self) -> list[Action]:
        """ACTIONS: (PAUSE | JOINER | TAIL | STATEMENT | STEP | COUNT | UNTIL | NOTE | anything)*."""
        cur = self.cur
        while not cur.done and len(self.out) < _MOST:
            here = cur.at
            if self.fresh and take_heading(cur):
                self.lead = here if self.lead < 0 else self.lead
                continue
            if self.out and again_on_needle(cur, self.out):
                self._sentence(fresh=False)
                continue
            if self.fresh and (bordered := parse_bordered_rows(cur, self.ctx)) is not None:
                self.out += bordered
                self._sentence(fresh=False)
                continue
            if same_in_yarn(cur, self.ctx, self.out):
                self._sentence(fresh=False)
                continue
            if self._pause() or self._copied(here) or self._beside(here) or self._talk(here, first=True):
                continue
            if (end := handling_end(cur)) > here:
                cur.at = end
                self.out.append(self._note(here))
                self.lead = -1
                continue
            if self._joined(here):
                continue
            if take_headed(cur, self.ctx, self.out):
                self._sentence(fresh=True)
                continue
            if not self.fresh and take_loop_counted(cur, self.out):
                continue
            if not self.fresh and take_border(cur, self.ctx, self.out):
                self.lead = -1
                continue
            if not self.fresh and take_stretch(cur, self.ctx, self.out):
                self.lead = -1
                self._sentence(fresh=False)
                continue
            if self._hanging() or self._explained() or self._ruled(here) or self._read(here):
                continue
            self.lead = -1
            cur.at = here
            if bare_repeat(cur, self.ctx, self.out) or again(cur, self.ctx, self.out, self.since):
                self._sentence(fresh=False)
                continue
            cur.at = here
            if take_remark(cur, self.out) or take_reminder(cur, self.out):
                continue
            cur.at = here
            if not self._talk(here, first=False):
                self._left_over(here)
                self.fresh = False
        self._stopped()
        return self.out

    def _stopped(self) -> None:
        """STOPPED: what stands after the most that a line holds is reported once, and left out."""
        cur = self.cur
        while not cur.done and cur.peek().low in _PAUSES | {".", ";"}:
            cur.at += 1
        if cur.done:
            return
        here = cur.at
        cur.at = len(cur.tokens)
        span = cur.span_from(here)
        self.ctx.findings.report(LineTooLong(_MOST), span)
        self.out.append(Unread(words=self.text[span.start : span.end][:200], span=span))

    def _sentence(self, *, fresh: bool) -> None:
        self.since = len(self.out)
        self.fresh = fresh

    def _pause(self) -> bool:
        """PAUSE: a mark between instructions; a full stop or semicolon ends the sentence."""
        low = self.cur.peek().low
        if low in _DASHES and self._total_after():
            return True
        if low in {".", ";"}:
            self.cur.at += 1
            self._sentence(fresh=True)
            return True
        if low in _PAUSES:
            self.cur.at += 1
            return True
        return False

    def _total_after(self) -> bool:
        """TOTAL-AFTER: "K1, (k10, k2tog) 8 times, k1 - 90": a number alone that ends a row of stitches."""
        cur = self.cur
        number, after = cur.peek(1), cur.peek(2)
        if not self.out or number.kind != "n" or not isinstance(self.out[-1], WORKED):
            return False
        if after.low not in _SIZED and not self._ends_here(number):
            return False
        here = cur.at
        cur.at += 1
        total = parse_number(cur, self.ctx)
        if total is None or not self._ends_here(cur.peek(-1)):
            cur.at = here
            return False
        self.out.append(Stated(total=total, span=cur.span_from(here)))
        return True

    def _ends_here(self, t: Token) -> bool:
        """Whether a sentence or a line of the text ends with this token."""
        after = self.text[t.end : t.end + 80]
        return not after.strip(" ") or after.lstrip(" ")[0] in ".\n"

    def _beside(self, here: int) -> bool:
        """BESIDE: "at the same time" and a statement."""
        cur = self.cur
        if same_time(cur):
            at = cur.at
            run_beside(cur, self.ctx, self.out, here, in_row=self.in_row)
            if cur.at > at:
                self._sentence(fresh=False)
                return True
        cur.at = here
        return False

    def _copied(self, here: int) -> bool:
        """COPIED: a part made like another, or a row like another but for something: its rows are not told,
        so it is reported and not guessed at.
        """
        cur = self.cur
        alone = all(isinstance(a, BindOff | Note | Close | Gather) for a in self.out)
        if (
            cur.pad[here].low in OPENS_SIDE
            and (self.fresh or cur.peek(-1).low in {"and", "then", ","})
            and (side := parse_other_side(cur)) is not None
        ):
            self.out.append(side)
            self._sentence(fresh=False)
            return True
        if (
            self.fresh
            and (end := copies_ahead(cur, self.text, alone=alone and not self.in_row))
            and not (self.in_row and self.since == 0 and not self.out)
        ):
            cur.at = end
            self.out.append(self._note(here))
            return True
        if self.fresh and may_be_as_for(cur) and (as_for := parse_as_for(cur, self.ctx)) is not None:
            self.out.append(as_for)
            self._sentence(fresh=False)
            return True
        last = self.out[-1] if len(self.out) > self.since else None
        if isinstance(last, RowRef):
            end = exception_ahead(cur, self.ctx)
            expected = "a row worked just as another"
        else:
            end = copy_ahead(cur)
            expected = "a row of this part"
        if not end:
            return False
        cur.at = end
        span = cur.span_from(here)
        words = self.text[span.start : span.end]
        self.ctx.findings.report(
            NotRead(words, expected, cure="Write its rows out, or repeat them by row numbers."),
            span,
        )
        self.out.append(Unread(words=words, span=span))
        self._sentence(fresh=False)
        return True

    def _talk(self, here: int, *, first: bool) -> bool:
        """TALK: a sentence that does nothing; asked first where no instruction can begin, else when none
        was read.
        """
        cur = self.cur
        t = cur.peek()
        if not self.fresh or (
            first and (t.kind == "n" or opens(t.low) or opens_old(cur) or is_knitting_word(t))
        ):
            return False
        end = talk_ahead(cur)
        if end <= cur.at:
            return False
        tokens = cur.tokens[cur.at : end]
        cur.at = end
        if tells_the_round(tokens) and {"round", "rnd"} & {x.low for x in tokens}:
            # "Mark join as the beginning of the round."
            self.out.append(Marker(act="place", span=cur.span_from(here)))
        else:
            self.out.append(self._note(here))
        return True

    def _joined(self, here: int) -> bool:
        """JOINED: words that lead to the next instruction or hang on the last one."""
        cur = self.cur
        low = cur.peek().low
        if (
            low == "next"
            and cur.peek(1).low in {"row", "rnd", "round"}
            and cur.peek(2).low in {":", "-", "--", ","}
        ):
            # "Knit 3 rounds. Next round: ..." within a line: what follows is a row of its own
            self.lead = here if self.lead < 0 else self.lead
            cur.at += 3
            self._sentence(fresh=True)
            return True
        if take_lead(cur):
            self.lead = here if self.lead < 0 else self.lead
            return True
        if low in {"begin", "start"} and _BEGINS.take(cur) is not None:
            cur.any_phrase("for the toe|thumb|heel|instep|top|crown|calf|ankle")
            if cur.peek().low in {"", ".", ";", ":"}:
                # "then begin to decrease": the rows that follow say how
                last = self.out[-1] if self.out else None
                if last is None or isinstance(last, Unread):
                    self.out.append(self._note(here))
                else:
                    self.out[-1] = changed(last, span=last.span.cover(cur.span_from(here)))
                return True
            cur.at = here
        if low in {"using", "use", "with"} and self.fresh and take_method_told(cur):
            self.lead = here if self.lead < 0 else self.lead
            return True
        if low == "leaving" and self.fresh and (n := _cut_ahead(cur)):
            # "Leaving a 5 inch tail, cut yarn and draw through rem sts": the tail is told before the cut
            self.lead = here if self.lead < 0 else self.lead
            cur.at += n
            return True
        taken = take_tail(cur, self.ctx, self.out, fresh=self.fresh)
        if taken is not None:
            if taken:
                self.since = len(self.out)
            if isinstance(self.out[-1], Yarn):
                self.lead = -1  # "and" led to the yarn, not to what comes next
            return True
        if low == "when" and cur.peek(1).low == "you" and _orders(cur.peek(2)):
            # "plain to within 3 of the end, when you knit 2 together"
            self.lead = here if self.lead < 0 else self.lead
            cur.at += 2
            return True
        if low in _JOINERS and not (low == "now" and cur.peek(1).low == "work" and not _names_rows(cur, 2)):
            self.lead = here if self.lead < 0 else self.lead
            cur.at += 1
            return True
        return False

    def _hanging(self) -> bool:
        """HANGING: words that only say more of what stands before: "without narrowing", "knit these
        together", "to the end".
        """
        low = self.cur.peek().low
        fresh = self.fresh and low not in {"knit", "purl", "pearl"}
        if (
            not self.fresh
            and (low in EARLY or low in {"no", "nos", "pins", "needles"})
            and take_reminder(self.cur, self.out)
        ):
            return True
        return not fresh and take_hanging(self.cur, self.out, self.since)

    def _explained(self) -> bool:
        """EXPLAINED: a bracket that tells which loops are meant, and works none: "(the loop made in the last
        row)".
        """
        last = self.out[-1] if self.out else None
        cur = self.cur
        whole = isinstance(last, WorkRows) or (
            isinstance(last, InGround) and (last.count, last.to) == (None, None)
        )
        if whole and cur.peek().low == "(" and cur.peek(-1).low != "," and explained(cur):
            return True
        return cur.peek().low in {"(", "["} and (
            take_aside(self.cur, self.out, strict=True) or (self.in_row and take_row_rule(self.cur, self.out))
        )

    def _ruled(self, here: int) -> bool:
        """RULED: a rule that holds of many rows, where it stands as a clause of its own."""
        del here
        rule = parse_rule(self.cur)
        if rule is None:
            return False
        self.out.append(rule)
        self.lead = -1
        return True

    def _read(self, here: int) -> bool:
        """READ: a statement, a count, or steps."""
        cur, out = self.cur, self.out
        led = self.fresh or cur.peek(-1).low == ","
        got = (parse_count_before(cur, self.ctx) if led else None) or parse_one(cur, self.ctx)
        if got is None or cur.at <= here:
            return False
        if self.lead >= 0 and not (isinstance(got[0], Note) and len(got) == 1):
            got = (changed(got[0], span=cur.tokens[self.lead].span.cover(got[0].span)), *got[1:])
            self.lead = -1
        got = held_behind(out[self.since :], got)
        if not self.fresh and shape_within(out, got):
            self.since = min(self.since, len(out))
            return True
        if len(out) > self.since and self.ctx.terms == "old" and not isinstance(got[0], Note):
            # "with the finer needles, knit 10 rounds": one instruction
            tool = out[-1]
            if isinstance(tool, Note) and _TOOLS.intersection(tool.words.lower().split()):
                out.pop()
                got = (changed(got[0], span=tool.span.cover(got[0].span)), *got[1:])
        turned = bool(out) and any(
            t.low == "turns" for t in cur.tokens[:here] if t.start >= out[-1].span.start
        )
        if not self.fresh and here and cur.tokens[here - 1].kind != "p" and in_yarn(out, got):
            return True
        if self.fresh or not along(out, got, cur.tokens[here], turned=turned):
            put(out, got, self.since, cur.tokens[here].low)
        if any(isinstance(a, STATEMENTS) for a in got):
            self.since = len(out)
        self.fresh = False
        return True

    def _note(self, here: int) -> Note:
        span = self.cur.span_from(here)
        return Note(words=self.text[span.start : span.end], span=span)

    def _left_over(self, here: int) -> None:
        """LEFT-OVER: the shortest stretch nobody reads, up to a mark or an instruction: a note, or unread
        words.
        """
        cur = self.cur
        end = aside_end(cur)
        if end > 0 and is_talk(cur.tokens[here:end]):
            cur.at = end
            self.out.append(self._note(here))
            return
        cur.at += 1
        while not cur.done and cur.peek().low not in _STOPS:
            at = cur.at
            if cur.peek().low in _NEVER:
                # what is not to be done is no instruction
                cur.at += until_mark(cur, 30)
                if cur.at > at:
                    continue
            got = parse_one(cur, self.ctx) if cur.peek().low in _STRONG else None
            if got is not None and cur.at > at:
                far = cur.at
                cur.at = at
                self._skipped(here)
                cur.at = far
                self.out.extend(got)
                return
            cur.at = at + 1
        self._skipped(here)

    def _slip(self, skipped: list[Token]) -> bool:
        """SLIP: a word or two among the stitches of a row that are no plain words: "k2, frobnicate, k2"."""
        if len(skipped) > 2 or any(t.low in _PLAIN or t.low.endswith("ly") for t in skipped):
            return False
        last = self.out[-1] if self.out else None
        return isinstance(last, WORKED) if not self.in_row else not isinstance(last, _LATE)

    def _how_often(self, skipped: list[Token]) -> bool:
        """HOW-OFTEN: words after a repeat that say how often, but not with a number: "umpteen times more"."""
        last = self.out[-1] if self.out else None
        if not isinstance(last, (RepeatRows, Repeat, RowRef, Shaping)) or getattr(last, "until", None):
            return False
        lows = " ".join(t.low for t in skipped)
        return getattr(last, "times", None) is None and _OFTEN.search(lows) is not None

    def _skipped(self, here: int) -> None:
        """The words from ``here`` to the cursor: a note if they are talk, else unread, with one finding."""
        cur, out, text = self.cur, self.out, self.text
        span = cur.span_from(here)
        words = text[span.start : span.end]
        skipped = cur.tokens[here : cur.at]
        often = self._how_often(skipped)
        some = bool(out) and {"only"} < {t.low for t in skipped} and any(t.low in _SIZES for t in skipped)
        if (
            is_talk(skipped)
            and not some
            and not any(t.kind == "n" for t in skipped)
            and not (often or self._slip(skipped))
        ):
            if words.strip("*()[]{}.,;:!?- "):
                out.append(self._note(here))
            return
        found = self.ctx.findings.findings
        last = out[-1] if out else None
        if (
            isinstance(last, Unread)
            and last.span.end >= span.start - 2
            and found
            and found[-1].span == last.span
        ):
            # two stretches side by side are one
            span = last.span.cover(span)
            words = text[span.start : span.end]
            found.pop()
            out.pop()
        problem = NotRead(words, "how many times", cure="Say it with a number.") if often else NotRead(words)
        if some:  # "inc 1 st at each end on 2nd size only": not for all the others
            problem = NotRead(words, "no size here", cure="Name the sizes first, like: Size M only: ...")
        self.ctx.findings.report(problem, span)
        out.append(Unread(words=words, span=span))
