"""Family J, making up: as many pieces as are used, an order that can be done, and a finishing that says
all.

In: the sections, what finishing says of pieces, and where seams and pick-ups stand. Out: C111, C112, C115.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Kind
from purlwright.pattern import tree
from purlwright.pattern.tokens import number_word
from purlwright.proof.answer import Answer
from purlwright.proof.subject import SectionLike, Subject
from purlwright.proof.watchwords import TextLine
from purlwright.text import Span

__all__ = [
    "JUDGES",
    "BlockingNotSpokenOf",
    "EndsNotSpokenOf",
    "PiecesDiffer",
    "SeamTooLate",
    "SeamsNotSpokenOf",
]


@dataclass(frozen=True, slots=True)
class PiecesDiffer:
    """Making up uses another number of a piece than the pattern makes.

    A knitter who follows the words finds a sleeve missing when she sews, or has one over.

    Example: `## Sleeve` without `(make 2)`, and `Set in both sleeves` under Finishing.

    Cure: say how often the piece is made, or correct the making up.
    """

    piece: str
    made: int
    used: int

    code = "pieces-differ"
    check = "C111"
    severity = Severity.WARNING

    def message(self) -> str:
        made = f"{self.made} {self.piece}{'' if self.made == 1 else 's'}"
        return f"The pattern makes {made}, and {self.used} are used here."

    def label(self) -> str:
        return f"{self.made} made"

    def help(self) -> str | None:
        return (
            f'Write "(make {self.used})" under the heading of the {self.piece}, or correct the number here.'
        )


@dataclass(frozen=True, slots=True)
class SeamTooLate:
    """Stitches are picked up round the neck before the shoulders are joined.

    There is no neck yet to go round: the knitter finds two loose pieces in her hands.

    Example: a neckband worked in the round, and `Sew the shoulder seams` under Finishing.

    Cure: join the shoulders before the neckband.
    """

    code = "seam-too-late"
    check = "C112"
    severity = Severity.WARNING

    def message(self) -> str:
        return "This neckband is joined in a round, and the shoulders are joined only later."

    def label(self) -> str:
        return "shoulders still open"

    def help(self) -> str | None:
        return "Say that the shoulders are joined before the neckband."


@dataclass(frozen=True, slots=True)
class EndsNotSpokenOf:
    """The finishing says nothing of ends or of blocking.

    A beginner puts the piece on with its ends hanging, and lace that was never pinned out.

    Example: `## Finishing` with `Sew the side seams.` and no more.

    Cure: add what is done with the ends, and how the piece is washed or blocked.
    """

    what: str

    code = "ends-not-spoken-of"
    check = "C115"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The finishing does not say {self.what}."

    def label(self) -> str:
        return "not said"

    def help(self) -> str | None:
        return f"Say {self.what}."


@dataclass(frozen=True, slots=True)
class BlockingNotSpokenOf(EndsNotSpokenOf):
    """The finishing does not say how the piece comes to the size that the pattern promises.

    Where a finished size is printed, or the gauge is measured after washing, the piece is that size only once
    it is washed and laid out to it. "Block" alone leaves her to guess how far to stretch it.

    Example: `Finished size: 40 cm wide`, and `## Finishing` with `Weave in ends. Block.`

    Cure: say to which measures it is blocked: "block to the finished size", "pin out to 40 cm".
    """

    code = "blocking-not-spoken-of"


@dataclass(frozen=True, slots=True)
class SeamsNotSpokenOf(EndsNotSpokenOf):
    """Several pieces are made, and the making up does not say which edges are sewn to which.

    "Sew up" is enough for a hat with one seam. With a back, fronts and sleeves in her hands the knitter must
    be told what is joined first, and to what.

    Example: `## Back`, `## Front`, `## Sleeves`, and `## Finishing` with `Weave in ends and sew together.`

    Cure: name each seam: shoulders, sleeves into armholes, sides and sleeve seams.
    """

    code = "seams-not-spoken-of"


_PIECES = (
    "sleeve",
    "front",
    "strap",
    "pocket",
    "ear",
    "leg",
    "wing",
    "flap",
    "square",
    "handle",
    "tie",
    "mitten",
    "sock",
)
_USED = re.compile(
    rf"\b(?P<n>both|(?:the )?(?:two|three|four|five|six|\d))\s+(?:finished |knitted |matching )?"
    rf"(?P<piece>{'|'.join(_PIECES)})s\b(?! of\b)",
    re.IGNORECASE,
)
_HEADS = re.compile(rf"\b(?:{'|'.join(_PIECES)})s?\b", re.IGNORECASE)


@lru_cache(maxsize=4096)
def _uses(text: str) -> tuple[tuple[int, int, str, int], ...]:
    """Where words use several of a piece: start, end, which piece, how many."""
    out = []
    for m in _USED.finditer(text):
        word = m["n"].lower().removeprefix("the ")
        n = 2 if word == "both" else int(word) if word.isdigit() else number_word(word)
        if n is not None:
            out.append((m.start(), m.end(), m["piece"].lower(), n))
    return tuple(out)


def _made(subject: Subject) -> dict[str, tuple[int, bool]]:
    """How many of each piece the sections make, and whether each has a section that casts on or begins it."""
    out: dict[str, tuple[int, bool]] = {}
    made = getattr(getattr(subject.pattern, "header", None), "make", 1)
    for section in subject.pattern.sections:
        heading = getattr(section, "heading", "")
        names = {m[0].lower().removesuffix("s") for m in _HEADS.finditer(heading)}
        if getattr(section, "kind", "") != "work" or len(names) != 1:
            continue
        (name,) = names
        copies = getattr(section, "copies", None) or 1
        both = 2 if copies == 1 and re.search(r"\bboth\b", heading, re.IGNORECASE) else 1
        begins = _begins(section)
        before, begun = out.get(name, (0, False))
        out[name] = (before + (copies * both * made if begins else 0), begun or begins)
    return out


def _begins(section: SectionLike) -> bool:
    """Whether the section begins a piece: it casts on, takes up, picks up, or is worked as another one."""
    for line in section.lines:
        for node in tree.walk(line.actions):
            if isinstance(node, tree.CastOn) and node.at == "start":
                return True
            if isinstance(node, (tree.Return, tree.Rejoin, tree.PickUp)):
                return True
            if isinstance(node, tree.RepeatRows) and node.rows.section:
                return True
    return False


def judge_pieces(subject: Subject) -> Answer:
    """C111."""
    finishing = [s for s in subject.pattern.sections if getattr(s, "kind", "") == "finishing"]
    if not finishing:
        return Answer()
    made = _made(subject)
    if not made:
        return Answer()
    findings: list[Finding] = []
    for section in finishing:
        for line in section.lines:
            for start, end, piece, used in _uses(line.text):
                count, begun = made.get(piece, (0, False))
                if begun and count != used and piece not in set(_copies_asked(subject)):
                    span = Span(line.offset + start, line.offset + end)
                    findings.append(Finding(problem=PiecesDiffer(piece, count, used), span=span))
    return Answer(places=len(made), findings=tuple(findings))


def _copies_asked(subject: Subject) -> Iterator[str]:
    """Pieces that some words ask for again without a heading: "make another sleeve", "second sleeve"."""
    for line in subject.watched.lines:
        if line.sort in {"words", "note"} and (
            "ther" in line.text or "econd" in line.text or "oth " in line.text
        ):
            for m in re.finditer(
                rf"\b(?:other|another|second|make both|work both|each)\s+(?P<piece>{'|'.join(_PIECES)})s?\b",
                line.text,
                re.IGNORECASE,
            ):
                yield m["piece"].lower()


def judge_order(subject: Subject) -> Answer:
    """C112. A seam, graft or pick-up on loops or edges that are not there is found while knitting."""
    seams = subject.nodes(tree.Close)
    picks = subject.nodes(tree.PickUp)
    places = len(seams) + len(picks)
    if not places:
        return Answer()
    fails = any(f.code in _IMPOSSIBLE for f in subject.findings)
    return Answer(places=places, findings=tuple(_neck_first(subject)), fails=fails)


_IMPOSSIBLE = frozenset({"nothing-held", "no-such-edge", "join-differs"})


def _neck_first(subject: Subject) -> Iterator[Finding]:
    """A neckband in the round before words that join the shoulders, where back and front are apart."""
    shoulders = [
        (line, h) for line, h in subject.watched.of("shoulder", sorts=("words", "heading")) if _joins(line)
    ]
    if not shoulders:
        return
    cast = [
        s
        for s in subject.pattern.sections
        if re.search(r"\b(?:back|front)\b", getattr(s, "heading", ""), re.IGNORECASE) and _begins(s)
    ]
    if len(cast) < 2:
        return
    first = min(line.number for line, _ in shoulders)
    for section in subject.pattern.sections:
        if not re.search(r"\b(?:neck|collar)", getattr(section, "heading", ""), re.IGNORECASE):
            continue
        picked = next(
            (ln for ln in section.lines for n in tree.walk(ln.actions) if isinstance(n, tree.PickUp)), None
        )
        joined = any(isinstance(n, tree.JoinRound) for ln in section.lines for n in tree.walk(ln.actions))
        rounds = (
            any(e.kind is Kind.ROUND and e.line >= section.line for _, e in subject.entries())
            if hasattr(section, "line")
            else False
        )
        if picked is not None and joined and rounds and picked.line < first:
            line, heard = shoulders[0]
            span = Span(picked.offset, picked.offset + len(picked.text))
            yield Finding(
                problem=SeamTooLate(), span=span, related=(Related(line.span(heard), "joined here"),)
            )
            return


def _joins(line: TextLine) -> bool:
    return any(h.kind == "sew" for h in line.heard) or "bind" in line.text.lower()


_TO_SIZE = re.compile(
    r"\b(?:size|measure\w*|dimensions?|schematic|drawing|shape|width|length|square|circumference|diameter|stretch\w*"
    r"|pin\w*|template|form|head|foot|plate|balloon|flat|over|lightly|gently|ball band|label)\b|\d",
    re.IGNORECASE,
)
"""How far a piece is blocked: to a size, on something, flat as it falls, or hardly at all."""
_SEWS = re.compile(
    r"\b(?:sew\w*|seams?|graft\w*|join\w*|set in|mattress|oversew\w*|back ?stitch\w*|stitch\w* up"
    r"|attach\w*|make up|bind\w* off .{0,40}together|three-needle)\b",
    re.IGNORECASE,
)
_SEAM_OF = re.compile(
    r"\b(?:shoulders?|sides?|sleeves?|underarms?|armholes?|raglans?|backs?|fronts?|neck\w*|bands?|collars?|hoods?"
    r"|pockets?|caps?|centre|center|cast|bound|edges?|tops?|legs?|gussets?|soles?|straps?|squares?|strips?"
    r"|pieces? [a-z] )\b",
    re.IGNORECASE,
)


def judge_finishing(subject: Subject) -> Answer:
    """C115: ends, blocking and seams, each spoken of once at most."""
    watched = subject.watched
    finishing = [s for s in subject.pattern.sections if getattr(s, "kind", "") == "finishing"]
    ends = watched.any("weave", sorts=("words", "note"))
    spoken = [line.text[heard.start :] for line, heard in watched.of("block", sorts=("words", "note"))]
    blocks = bool(spoken) or watched.any("block", sorts=("header",))
    places = len(finishing) or int(ends or blocks or bool(subject.nodes(tree.Close)))
    if not finishing:
        return Answer(places=places)
    problems: list[EndsNotSpokenOf] = []
    if not ends:
        alone = "what is done with the ends"
        problems.append(EndsNotSpokenOf(alone if blocks else f"{alone}, and how the piece is blocked"))
    elif _size_promised(subject) and not any(_TO_SIZE.search(text) for text in spoken):
        how = "to which size the piece is blocked"
        how = how if spoken else "how the piece is blocked to its finished size"
        problems.append(BlockingNotSpokenOf(how))
    if _pieces_to_sew(subject) and not any(
        _SEWS.search(line.text) and _SEAM_OF.search(line.text)
        for line in watched.lines
        if line.sort in {"words", "note", "heading"}
    ):
        problems.append(SeamsNotSpokenOf("which edges are sewn together"))
    findings = tuple(Finding(problem=problem, span=finishing[0].span) for problem in problems)
    return Answer(places=places, findings=findings)


def _size_promised(subject: Subject) -> bool:
    """Whether a size is printed, and the gauge is that of washed cloth: the piece comes to it by blocking."""
    header = subject.pattern.header
    gauges = getattr(subject.pattern, "gauges", ())
    return any(e.known == "Finished size" for e in header.entries) and any(g.washed for g in gauges)


def _pieces_to_sew(subject: Subject) -> bool:
    """Whether a back, a front or a sleeve is cast on apart from another of them, and nothing joins them."""
    if subject.nodes(tree.Close) or not subject.ways:
        return False
    begun = {
        piece.name
        for piece in subject.ways[0].knitted.ledger.pieces
        if piece.rows
        and piece.rows[0].kind is Kind.CAST_ON
        and not any(e.kind is Kind.ROUND for e in piece.rows)
    }
    garment = {m[0].lower().removesuffix("s") for name in begun for m in _OF_GARMENT.finditer(name)}
    return len(garment) > 1


_OF_GARMENT = re.compile(r"\b(?:back|fronts?|sleeves?)\b", re.IGNORECASE)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C111": judge_pieces,
    "C112": judge_order,
    "C115": judge_finishing,
}
