"""Front matter, checks C050, C051, C118, C120 and C121: what a header must tell, once there is one.

In: a subject. Out: at most one note a check, that lists what is lacking. A pattern whose header is no more
than its sizes is asked for nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.pattern.read.working import COLOURS
from purlwright.proof.answer import Answer
from purlwright.proof.measures import Said, stated
from purlwright.proof.subject import Subject
from purlwright.proof.trade import yarn_class
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.header import Entry, Header, YarnEntry

__all__ = [
    "JUDGES",
    "EaseNotGiven",
    "LevelTooLow",
    "SheetFactsLacking",
    "SizeFactsLacking",
    "YarnFactsLacking",
]


def has_front(subject: Subject, least: int = 2) -> bool:
    """Whether the header is a sheet's front matter: some of yarn, needles, gauge and finished size."""
    told = {e.known for e in subject.pattern.header.entries}
    return len(told & {"Yarn", "Needles", "Gauge", "Finished size"}) >= least


def _entry(subject: Subject, *known: str) -> Entry | None:
    return next((e for e in subject.pattern.header.entries if e.known in known), None)


def _whole(entry: Entry) -> Span:
    return Span(entry.key_span.start, entry.value_span.end)


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


# --- C118: yarns --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class YarnFactsLacking:
    """A yarn entry does not say all that a knitter needs to buy it, or to choose another in its place.

    Fibre, thickness, and metres in a weight let her find a substitute; the amount lets her buy enough; where
    there are several yarns, the colour tells them apart. Two of them at least must be lacking, for one may
    stand with the name of the yarn; or one, if every word of the entry is known and none is a name. Only a
    header that is a sheet's front matter is asked.

    Example: `Yarn: a soft green wool`

    Cure: write it like `Yarn: wool, 4 Medium, 200 m per 100 g; about 190 (250) m`.

    Source: the Craft Yarn Council's guidelines for publishers, and common practice of technical editors.
    """

    lacking: tuple[str, ...]

    code = "yarn-facts-lacking"
    check = "C118"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The yarn's {_and(list(self.lacking))} {'is' if len(self.lacking) == 1 else 'are'} not given."

    def label(self) -> str:
        return f"no {self.lacking[0]}"

    def help(self) -> str | None:
        return "Write it like: wool, 4 Medium, 200 m per 100 g; about 190 m."


_FIBRE = re.compile(
    r"wool|merino|cotton|alpaca|linen|silk|mohair|cashmere|acrylic|nylon|polyamide|polyester|bamboo|hemp|angora|yak"
    r"|viscose|rayon|tencel|lyocell|blend|shetland|bluefaced|corriedale|fib(?:re|er)|jute|ramie|camel|llama|possum",
    re.IGNORECASE,
)
_LENGTH = re.compile(r"\d\s*(?:m\b|met(?:re|er)s?\b|yds?\b|yards?\b)", re.IGNORECASE)
_WEIGHT = re.compile(
    r"\d\s*(?:g\b|gr\b|gms?\b|grams?\b|grammes?\b|oz\b|ounces?\b|lbs?\b|kg\b)", re.IGNORECASE
)
_AMOUNT = re.compile(
    r"(?:\b(?:about|approx\w*|total|in all|less than|up to)\b|~)\s*[\d,]+"
    r"|\d[\d,() ]*\s*(?:x\s*\d|\bballs?|\bskeins?|\bhanks?|\bcones?)|\)\s*(?:m|yds?|yards?|g|oz)\b"
    r"|\b(?:small amounts?|oddments?|scraps?|a few|one|two|three|four|five|six)\b"
    r"|;\s*\d[\d,]*\s*(?:m|g|kg|oz|yds?|yards?|met(?:re|er)s?)\b(?!\s*(?:per|/|=))",
    re.IGNORECASE,
)
_PLY = re.compile(r"\b\d{1,2}[- ]?ply\b|\bweight\b|\bwpi\b|\btex\b|\bthick\b", re.IGNORECASE)


def _yarn_lacks(yarn: YarnEntry) -> list[str]:
    words = yarn.words
    lacking = []
    if not _FIBRE.search(words):
        lacking.append("fibre")
    if yarn_class(words) is None and not _PLY.search(words) and not yarn.weight:
        lacking.append("thickness")
    if not _LENGTH.search(words) and not (_WEIGHT.search(words) and _AMOUNT.search(words)):
        lacking.append("length")
    if not _AMOUNT.search(words):
        lacking.append("amount")
    return lacking


def judge_yarns(subject: Subject) -> Answer:
    """C118: a later yarn may leave out what an earlier one of the same sheet has said."""
    return subject.of_header(_yarns) if has_front(subject, 3) else Answer()


def _yarns(header: Header, _sizes: int) -> Answer:
    yarns = header.yarns
    if not yarns:
        return Answer()
    lacking = [fact for fact in _yarn_lacks(yarns[0]) if all(fact in _yarn_lacks(y) for y in yarns[1:])]
    plain = [y for y in yarns if _nameless(y)]
    if len(lacking) < 2 and not (lacking and len(plain) == len(yarns)):
        lacking = []  # one fact may stand with the shop's name of the yarn
    findings = [Finding(problem=YarnFactsLacking(tuple(lacking)), span=yarns[0].span)] if lacking else []
    pale = [y for y in plain if not _coloured(y)]
    if not findings and pale and any(map(_coloured, yarns)):
        findings.append(Finding(problem=YarnFactsLacking(("colour",)), span=pale[0].span))
    return Answer(places=len(yarns), findings=tuple(findings))


_OTHER_WORDS = frozenset(
    """m metre metres meter meters yd yds yard yards g gram grams gr oz ounce ounces lb kg per about approx
    total in all for the and or of a an each with at least ball balls skein skeins hank hanks cone cones
    small amount amounts lace cobweb super fine light medium bulky jumbo dk double knitting aran worsted
    sport fingering sock baby chunky heavy ply weight yarn thread of this size sizes piece pieces part
    parts body sleeves yoke border here from main contrast contrasting colour color shade mc cc wpi
    tex""".split()
)


def _coloured(yarn: YarnEntry) -> bool:
    return any(word in COLOURS for word in _spoken(yarn))


def _nameless(yarn: YarnEntry) -> bool:
    """Whether every word of an entry is known, so that none can be the name of a yarn or of its shade."""
    return all(
        word in _OTHER_WORDS or word in COLOURS or _FIBRE.fullmatch(word) is not None or len(word) < 2
        for word in _spoken(yarn)
    )


def _spoken(yarn: YarnEntry) -> list[str]:
    return re.findall(r"[a-z]+", yarn.words.lower())


# --- C121: the sheet ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SheetFactsLacking:
    """Nothing on the sheet says which version it is, whose it is, or whom to ask.

    A knitter with a question cannot ask it, and when a fault is mended nobody can tell a mended copy from
    an old one. A pattern without front matter is not asked for any of this.

    Example: a header with yarn, needles and gauge, and neither `Version`, `Contact` nor `Licence`.

    Cure: add lines such as `Version: 1.0`, `Contact: ...`, `Licence: ...`.

    Source: common practice of technical editors, no single source.
    """

    code = "sheet-facts-lacking"
    check = "C121"
    severity = Severity.NOTE

    def message(self) -> str:
        return "The header gives no version or date, no rights and no contact."

    def label(self) -> str:
        return "no version, rights or contact"

    def help(self) -> str | None:
        return 'Add "Version: 1.0", "Contact: ..." and "Licence: ..." under the title.'


_RIGHTS = re.compile(r"©|\(c\)\s*\d{4}|copyright|licen[cs]e|\brights\b|\bcc[ -]by")
_CONTACT = re.compile(r"@\w|\bcontact\b|e-?mail\b|www\.|https?://")
_VERSION = re.compile(r"version|edition\b|revised|updated|\bv\d+\.\d|\b(?:19|20)\d\d\b")
_HEAD = 3000
_FOOT = 400
"""So much of the end of a text may be the foot of the sheet."""


def _foot_and_head(subject: Subject) -> str:
    """The header's words and the last ones of the text, in lower case."""
    text = subject.source.text
    head = min(max(e.value_span.end for e in subject.pattern.header.entries), _HEAD)
    return f"{text[:head]}\n{text[max(head, len(text) - _FOOT) :]}".lower()


def judge_sheet(subject: Subject) -> Answer:
    """C121: asked of a whole sheet only."""
    if not has_front(subject, 4):
        return Answer()
    text = _foot_and_head(subject)
    told = [rule.search(text) is not None for rule in (_VERSION, _RIGHTS, _CONTACT)]
    if all(told):
        return Answer(places=3)
    if any(told):
        return Answer(places=sum(told), missing="the printed sheet, whose foot may have the rest")
    first = subject.pattern.header.entries[0]
    return Answer(places=1, findings=(Finding(problem=SheetFactsLacking(), span=first.key_span),))


# --- C050, C051: sizes --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class EaseNotGiven:
    """The finished size is given, and neither the body it is for nor the ease.

    A knitter with a chest of 90 cm cannot tell whether the piece of 90 cm is hers.

    Example: `Finished size: chest 90 (95, 100) cm` and no `To fit`.

    Cure: add `To fit: chest 85 (90, 95) cm`, or say "worn with 5 cm of ease".

    Source: Craft Yarn Council, Ease & Fit (ease is the finished size less the body's).
    """

    part: str
    body: str

    code = "ease-not-given"
    check = "C050"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"The finished size of the {self.part} is given, and neither the {self.body} it is to fit nor "
            "the ease."
        )

    def label(self) -> str:
        return "for whom?"

    def help(self) -> str | None:
        return f'Add a line "To fit: {self.body} ...", or say with how much ease it is worn.'


_WORN = {part: part for part in ("chest", "head", "foot", "hand", "waist", "hip", "upper arm")} | {
    "brim": "head"
}
"""Parts of a piece, and the part of the body that each goes round."""
_EASE = re.compile(
    r"\bease\b|\bto fit\b|\bfits?\b|\bfor (?:a )?(?:head|chest|bust|foot|hand)\b", re.IGNORECASE
)


def judge_body(subject: Subject) -> Answer:
    """C050."""
    found = [m for m in subject.kept(stated) if m.source is not Said.TEXT and m.part in _WORN]
    finished = [m for m in found if m.source is Said.FINISHED and m.way != "length"]
    if not finished:
        return Answer()
    if any(m.source is Said.BODY for m in found) or _EASE.search(subject.source.text):
        return Answer(places=len(finished))
    problem = EaseNotGiven(finished[0].part, _WORN[finished[0].part])
    return Answer(places=len(finished), findings=(Finding(problem=problem, span=finished[0].span),))


@dataclass(frozen=True, slots=True)
class SizeFactsLacking:
    """The sizes have names, and the header does not say how large each one is, or how much yarn it takes.

    "S" is not the same in any two patterns; without a measure a knitter guesses.

    Example: `Sizes: S (M, L)` beside yarn, needles and gauge, and no `Finished size` or `To fit`.

    Cure: add `Finished size: 90 (100, 110) cm round the chest`, one number for each size.

    Source: common practice of technical editors, no single source.
    """

    lacking: str

    code = "size-facts-lacking"
    check = "C051"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The header names sizes and gives no {self.lacking} for each of them."

    def label(self) -> str:
        return f"no {self.lacking}"

    def help(self) -> str | None:
        return "Give one number for each size, like 90 (100, 110) cm."


def judge_each_size(subject: Subject) -> Answer:
    """C051."""
    sizes = subject.pattern.sizes
    header = subject.pattern.header
    if len(sizes) < 2 or not has_front(subject, 3):
        return Answer()
    if any(re.search(r"\d", name) for name in sizes):
        return Answer(places=len(sizes))  # the names are measures or ages
    measures = [m for m in subject.kept(stated) if m.source is not Said.TEXT]
    whole = any(len(m.amount.values) == len(sizes) and None not in m.amount.values for m in measures)
    if whole or _entry(subject, "For") is not None:
        return Answer(places=len(sizes))
    span = header.sizes_span
    return Answer(places=len(sizes), findings=(Finding(problem=SizeFactsLacking("measure"), span=span),))


# --- C120: the level ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LevelTooLow:
    """The sheet says it is for beginners, and the rows ask for more.

    A first-time knitter meets a cable or a short row that she was promised she would not, and thinks the
    fault is hers.

    Example: `Level: beginner` and `Row 5: K4, 2/2 RC, k4.`

    Cure: give the level that the hardest row needs, or put the technique into its own words.

    Source: Craft Yarn Council, project levels (basic: simple stitches, increases and decreases; cables,
    lace and short rows from intermediate on).
    """

    level: str
    technique: str

    code = "level-too-low"
    check = "C120"
    severity = Severity.NOTE

    def message(self) -> str:
        return f'The level is "{self.level}", and the rows have {self.technique}.'

    def label(self) -> str:
        return f"{self.technique} below"

    def help(self) -> str | None:
        return "Give the level that the hardest row needs."


_LEVEL_KEY = re.compile(r"(?:skill |project )?(?:level|skills?|difficulty)", re.IGNORECASE)
_EASIEST = re.compile(r"\b(?:basic|beginners?|first[- ]time|novice|level 1)\b", re.IGNORECASE)
_NOT_EASIEST = re.compile(
    r"\b(?:adventurous|confident|advanced|experienced|intermediate|beyond)\b", re.IGNORECASE
)


def _hard(subject: Subject) -> list[str]:
    """Techniques beyond simple stitches, in the order of their difficulty."""
    found = []
    stitches = dictionary().stitches
    families = {
        stitches[n.stitch].family for _, n in subject.nodes(tree.Work) if not n.own and n.stitch in stitches
    }
    if Family.CABLE in families or subject.nodes(tree.Cross):
        found.append("cables")
    if any(n.how in {tree.TurnHow.WRAP, tree.TurnHow.DOUBLE} for _, n in subject.nodes(tree.Turn)):
        found.append("short rows")
    if Family.BRIOCHE in families:
        found.append("brioche")
    if any(n.how == "graft" for _, n in subject.nodes(tree.Close)):
        found.append("grafting")
    return found


def judge_level(subject: Subject) -> Answer:
    """C120."""
    entry = next(
        (
            e
            for e in subject.pattern.header.entries
            if e.known is None and _LEVEL_KEY.fullmatch(e.key.strip())
        ),
        None,
    )
    if entry is None:
        return Answer()
    hard = _hard(subject)
    if not hard or not _EASIEST.search(entry.value) or _NOT_EASIEST.search(entry.value):
        return Answer(places=1)
    problem = LevelTooLow(entry.value.strip().rstrip("."), _and(hard))
    return Answer(places=1, findings=(Finding(problem=problem, span=_whole(entry)),))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C050": judge_body,
    "C051": judge_each_size,
    "C118": judge_yarns,
    "C120": judge_level,
    "C121": judge_sheet,
}
