"""One pattern and what a knitter sees of it, from the words of the call to the answer.

In: a work-up and a call. Out: answers as they leave, and the letter to a teacher. Nothing is printed and no
file is written. The finding out is in ``rescue``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Protocol

from purlwright.files import Unusable, safe
from purlwright.findings import Severity
from purlwright.needles.columns import NO_MARK
from purlwright.needles.looks import LANDMARKS, RowLook
from purlwright.proof.said import ONE_SIZE
from purlwright.rescue.letter import NotALetter, read_choice, read_letter, write_letter
from purlwright.rescue.mistakes import LOST_PLACE, PATTERN
from purlwright.rescue.naming import name_of
from purlwright.rescue.observe import FACT_WORDS, LOOKS, NO_MARK_WORD, Facts, Said
from purlwright.rescue.questions import Question
from purlwright.rescue.verdict import tell
from purlwright.rescue.where import Clash
from purlwright.several import options_asked, size_asked
from purlwright.wire.rescue import AskOut, CureOut, DiagnosisOut, FoundOut, LeavesOut, RescueOut, WhereOut

if TYPE_CHECKING:
    from purlwright.rescue.desk import Desk
    from purlwright.rescue.verdict import Diagnosis
    from purlwright.workup import WorkUp

__all__ = ["Asked", "answer_of", "facts_of", "letter", "rescue", "take_choice", "where"]

MOST = 99_999


class Asked(Protocol):
    """The call, as far as it is about a knitter's work."""

    size: str | None
    options: list[tuple[str, str]]
    facts: list[tuple[str, str]]


_NUMBERS = {
    "--sts": "sts",
    "--unworked": "waiting",
    "--gaps": "gaps",
    "--left": "on_left",
    "--right": "on_right",
    "--down": "down",
    "--up": "up",
    "--cast-on": "cast_on",
    "--marks-above": "marks_above",
    "--above-mark": "above_mark",
    "--part-rows": "part_rows",
    "--row": "row",
    "--sure": "sure",
}
_PAIRS = {"--ridges": "ridges", "--chains": "chains"}
_WORDS = {
    "--holes": "holes",
    "--stacks": "stacks",
    "--outline": "outline",
    "--odd": "odd",
    "--lies-in": "lies_in",
    "--side": "side",
    "--yarn": "yarn",
    "--yarn-on": "yarn_on",
}


# --- reading what she says -------------------------------------------------------------------------


def take_choice(work: WorkUp, call: Asked, letter: str) -> None:
    """The size and options of a letter, where the call names none."""
    size, options = read_choice(letter)
    if call.size is None and size != ONE_SIZE:
        call.size = size
    if not call.options:
        call.options = [(name, value) for name, value in options if name in dict(work.options)]


def facts_of(work: WorkUp, call: Asked, letter: str | None = None) -> Facts:
    """The facts of the call, and of a letter. Raises Unusable where one is not understood."""
    facts = Facts()
    if letter is not None:
        try:
            facts = read_letter(letter, work.title, version_of(work))
        except NotALetter as e:
            raise Unusable(str(e)) from None
    for option, value in call.facts:
        facts = facts.with_({"piece": value} if option == "--piece" else _fact(option, value))
    if facts.piece is not None:
        facts = facts.with_({"piece": _piece(work, call, facts.piece)})
    return facts


def _piece(work: WorkUp, call: Asked, named: str) -> str:
    """The piece as the pattern names it; part of its name will do. Raises Unusable."""
    _, _, desk = _desk(work, call)
    names = [name for name, _ in desk.pieces]
    if names == [""]:
        return ""
    given = named.strip().casefold()
    found = [name for name in names if name.casefold() == given] or [
        name for name in names if given and given in name.casefold()
    ]
    if len(found) != 1:
        raise Unusable(f'--piece takes one of: {safe(", ".join(names))}; "{safe(named)}" is not that.')
    return found[0]


def _fact(option: str, value: str) -> dict[str, Said]:
    if option in _NUMBERS:
        return {_NUMBERS[option]: _whole(option, value)}
    if option == "--over":
        return {"off": _whole(option, value)}
    if option == "--short":
        return {"off": -_whole(option, value)}
    if option == "--looked":
        kinds = [name for name in LOOKS if name == f"look_{value.strip()}"]
        if not kinds:
            raise Unusable(f'--looked takes holes, stitches, rows or slowly; "{safe(value)}" is not that.')
        return {kinds[0]: "nothing"}
    if option in _PAIRS:
        right, left = _several(option, value, 2)
        return {f"{_PAIRS[option]}_right": right, f"{_PAIRS[option]}_left": left}
    if option == "--column":
        stitch, equals, above = value.partition("=")
        if not equals:
            raise Unusable("--column takes a stitch from the right edge, and how many above: --column 12=5.")
        return {"column": (_whole(option, stitch), _above(option, above))}
    if option in {"--between", "--intervals"}:
        return {option[2:]: _several(option, value, 0)}
    if option == "--since":
        what, _, rows = value.partition("=")
        if what.strip() not in {*LANDMARKS, "stripe"}:
            raise Unusable(f"--since takes {', '.join(LANDMARKS)} or stripe, and rows: --since hole=2.")
        return {f"since_{what.strip()}": _whole(option, rows)}
    return {_WORDS[option]: _word(option, _WORDS[option], value)}


def _whole(option: str, value: str) -> int:
    given = value.strip()
    if not (given.isascii() and given.isdecimal() and int(given[:6]) <= MOST and len(given) < 6):
        raise Unusable(f'{option} takes a whole number; "{safe(value)}" is not that.')
    return int(given)


def _above(option: str, value: str) -> int:
    """Stitches above the last mark of a column; :data:`NO_MARK_WORD` where it has no mark."""
    return NO_MARK if value.strip().casefold() == NO_MARK_WORD else _whole(option, value)


def _several(option: str, value: str, many: int) -> tuple[int, ...]:
    numbers = tuple(_whole(option, part) for part in value.split(","))
    if many and len(numbers) != many:
        raise Unusable(f"{option} takes two numbers with a comma between, for example 12,9.")
    return numbers


def _word(option: str, fact: str, value: str) -> str:
    known = FACT_WORDS[fact]
    given = " ".join(value.split()).casefold()
    found = [word for word in known if word.casefold() == given]
    found = found or [word for word in known if word.casefold().startswith(given) and given]
    if len(found) != 1:
        raise Unusable(f'{option} takes one of: {", ".join(known)}; "{safe(value)}" is not that.')
    return found[0]


def answer_of(question: Question, typed: str) -> dict[str, Said] | str:
    """What she typed to a question, as facts; none for "?" and for nothing. A sentence if it is no answer."""
    words = typed.strip()
    if words in {"", "?"}:
        return {}
    try:
        return _answered(question, words)
    except Unusable as e:
        return str(e)


def _choice(question: Question, words: str) -> str:
    """A word of the question's list, by its number or by itself."""
    given = words.strip()
    if given.isascii() and given.isdecimal() and 1 <= int(given[:4]) <= len(question.words):
        return question.words[int(given[:4]) - 1]
    known = [word for word in question.words if word.casefold() == " ".join(given.split()).casefold()]
    near = [word for word in question.words if given and word.casefold().startswith(given.casefold())]
    found = known or near
    if len(found) != 1:
        raise Unusable(
            f'Answer with a number from 1 to {len(question.words)}, or its word; "{safe(words)}" is neither.'
        )
    return found[0]


def _answered(question: Question, words: str) -> dict[str, Said]:
    if question.name == "odd" or question.name in LOOKS:
        what, comma, rows = words.rpartition(",")
        if not comma:
            odd = _choice(question, words)
            fact = question.name if odd == "nothing" else "odd"
            return {fact: odd}
        return {"odd": _choice(question, what), "down": _whole("The answer", rows)}
    if question.parts:
        numbers = _several("The answer", words, len(question.parts))
        return dict(zip(question.parts, numbers, strict=True))
    if question.name == "column":
        stitch, comma, above = words.partition(",")
        if not comma:
            raise Unusable("Answer with the stitch, a comma, and how many: 12, 5; or 12, none.")
        return {"column": (_whole("The answer", stitch), _above("The answer", above))}
    if question.numbers != 1:
        return {question.name: _several("The answer", words, question.numbers)}
    if question.words:
        return {question.name: _choice(question, words)}
    if question.name == "off" and words.startswith("-"):
        return {"off": -_whole("The answer", words[1:])}
    return {question.name: _whole("The answer", words)}


# --- answers ---------------------------------------------------------------------------------------


def where(work: WorkUp, call: Asked, facts: Facts | None = None) -> WhereOut:
    """Which rows the facts allow: those of the call, if no others are given."""
    size, options, desk = _desk(work, call)
    if facts is None:
        facts = facts_of(work, call)
    found = desk.where(facts)
    return WhereOut(
        title=work.title,
        size=size,
        options=options,
        facts=_told(facts),
        rows=[_found(work, desk, f.piece, f.look, f.worked) for f in found.rows],
        near=[_found(work, desk, f.piece, f.look, f.worked) for f in found.near],
        clash=None if found.clash is None else clash_words(found.clash, facts),
        next=_ask(found.next),
        leaves=[
            LeavesOut(answer=_answer(value), rows=[f.look.index + 1 for f in rows])
            for value, rows in found.answers
        ],
        errors=_errors(work, size, options),
    )


def rescue(work: WorkUp, call: Asked, facts: Facts, asked: Iterable[str] = ()) -> RescueOut:
    """What most likely happened."""
    size, options, desk = _desk(work, call)
    verdict = desk.rescue(facts, asked)
    return RescueOut(
        title=work.title,
        size=size,
        options=options,
        facts=_told(facts),
        notes=list(verdict.notes),
        found=[_diagnosis(work, desk, d) for d in verdict.found],
        clear=verdict.clear,
        clash=None if verdict.clash is None else clash_words(verdict.clash, facts),
        next=_ask(verdict.next),
        errors=_errors(work, size, options),
    )


def letter(work: WorkUp, call: Asked, facts: Facts) -> str:
    """The facts as a text to send on."""
    size, options, _ = _desk(work, call)
    return write_letter(work.title, version_of(work), size, options, facts)


def clash_words(clash: Clash, facts: Facts) -> str:
    """What cannot be, in one sentence."""
    known = facts.known
    said = [tell(name, known[name]) for name in clash.names if name in known]
    if len(clash.names) == 1:
        nearest = " or ".join(map(str, clash.nearest))
        return f"This cannot be: {said[0]}{f'; {nearest} can' if nearest else ''}. Count again in tens."
    together = " and ".join(said) if len(said) == 2 else f"{', '.join(said[:-1])} and {said[-1]}"
    return f"These cannot all be true: {together}. Count again in tens."


def version_of(work: WorkUp) -> str:
    """What the pattern calls its version; "" if it does not say."""
    entries = work.pattern.header.entries
    return next((e.value.strip() for e in entries if (e.known or e.key).casefold() == "version"), "")


def _desk(work: WorkUp, call: Asked) -> tuple[str, dict[str, str], Desk]:
    size = size_asked(work, call.size)
    asked = options_asked(work, call.options)
    options = {name: asked.get(name, values[0]) for name, values in work.options}
    desk = work.desk(size, options)
    if not desk.pieces:
        raise Unusable("Nothing is knitted in this pattern, so there is no row to be found.")
    return size, options, desk


def _errors(work: WorkUp, size: str, options: dict[str, str]) -> int:
    return sum(f.severity is Severity.ERROR for f in work.findings(size, options))


def _told(facts: Facts) -> dict[str, str]:
    return {name: _answer(value) for name, value in facts.known.items()}


def _answer(value: Said) -> str:
    return ",".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _ask(question: Question | None) -> AskOut | None:
    if question is None:
        return None
    return AskOut(fact=question.name, asks=question.asks, how=question.how, words=list(question.words))


def _found(work: WorkUp, desk: Desk, piece: str, look: RowLook, worked: int | None = None) -> FoundOut:
    name, number = name_of(look, piece)
    rows: Sequence[RowLook] = next(rows for p, rows in desk.pieces if p == piece and look.index < len(rows))
    # in mid-row it is this row's words that go on; else those of the next
    follows = look if worked is not None else rows[look.index + 1] if look.index + 1 < len(rows) else None
    words = "" if follows is None else work.source.text[follows.entry.span.start : follows.entry.span.end]
    return FoundOut(
        piece=piece,
        row=look.index + 1,
        name=name,
        number=number,
        side=None if look.side is None else look.side.value,
        stitches=look.stitches,
        worked=worked,
        next="" if follows is None else name_of(follows, piece)[0],
        next_words=" ".join(words.split()),
        line=0 if follows is None else follows.entry.line,
    )


def _after_which(d: Diagnosis, now: FoundOut | None) -> str:
    """Where there was no mistake of hers, its row is the one just done, or the one that cannot be done."""
    if d.code == LOST_PLACE.code:
        return ", after the cast-on" if now is None else f", after {now.name} ({now.number})"
    if d.code == PATTERN.code:
        return f" in {now.next}" if now is not None and now.next else ""
    return ""


def _diagnosis(work: WorkUp, desk: Desk, d: Diagnosis) -> DiagnosisOut:
    def at(row: int) -> FoundOut | None:
        rows = next(rows for piece, rows in desk.pieces if piece == d.piece)
        return _found(work, desk, d.piece, rows[row - 1]) if 0 < row <= len(rows) else None

    def name(row: int) -> str:
        found = at(row)
        return "The cast-on" if found is None else found.name

    return DiagnosisOut(
        code=d.code,
        name=d.name,
        did=d.did + _after_which(d, at(d.now_row)),
        likely=d.likely,
        how_sure=d.how_sure,
        now=at(d.now_row),
        made_in=None if "+" in d.code else at(d.made_row),  # two mistakes are told with their rows
        reasons=list(d.reasons),
        against=list(d.against),
        alike=list(d.alike),
        cures=[
            CureOut(
                grade=c.grade.value,
                what=c.what,
                shows=c.shows,
                cost=c.cost,
                stitches=c.then,
                row=c.row + 1,
                name=name(c.row + 1),
            )
            for c in d.cures
        ],
    )
