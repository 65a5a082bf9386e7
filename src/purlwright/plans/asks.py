"""What each plan asks of a person, for a page on which she fills it in; refusals in the words of that page.

In: nothing; the plans and their options are known. Out: for each plan its questions, with a label and how the
answer is written, and the bodies to choose from, as they leave. What the words mean is left to ``plans``.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator, Mapping
from functools import cache

from purlwright.plans.said import EXAMPLES
from purlwright.sizing.bodies import GROUPS, Body, bodies, heads_hands_feet
from purlwright.sizing.starts.kinds import KINDS, Kind
from purlwright.terminal.plan_options import PIECES, QUESTIONS
from purlwright.wire.bench_plans import ChoiceOut, ChoosableOut, FillableAskOut, FillableOut

__all__ = ["fillable", "for_the_page"]


_HEADINGS = {"head": "For the head", "hand": "For hands and feet", "foot": "For hands and feet"}
_FLAT, _BODY = "Shawls and rounds", "For the body"

_QUESTIONS: Mapping[str, tuple[str, str]] = {
    "shaping": ("Along an edge", "Shaping over so many rows"),
    "pick-up": ("Along an edge", "Picking up along row ends"),
    "armhole": ("Along an edge", "An armhole"),
    "cap": ("Along an edge", "A sleeve cap"),
    "shoulder": ("Along an edge", "A sloped shoulder"),
    "neck": ("Along an edge", "A round neck"),
    "v-neck": ("Along an edge", "A V-neck"),
    "raglan-rates": ("Along an edge", "Raglan lines, body and sleeves"),
    "crescent": ("Along an edge", "A crescent from its straight edge"),
    "evenly": ("Across a row", "Increases or decreases, evenly"),
    "buttonholes": ("Across a row", "A row of buttonholes"),
    "counts": ("Across a row", "Counts that keep several repeats whole"),
    "circle": ("From the middle out", "A flat circle"),
    "wedges": ("From the middle out", "A flat round in short-row wedges"),
    "dome": ("From the middle out", "A dome"),
    "cone": ("From the middle out", "A cone"),
    "heel": ("From the middle out", "A short-row heel"),
    "body": ("Bodies", "The tables of bodies"),
}
"""Where each question stands, and what it is called."""

_LABELS: Mapping[str, str] = {
    "--gauge": "Gauge of your swatch",
    "--for": "Sizes of the tables",
    "--sizes": "Names of the sizes",
    "--to-fit": "Your own measures",
    "--bodies": "A table of your own",
    "--ease": "Ease",
    "--across": "How wide",
    "--length": "How long",
    "--fabric": "In which cloth",
    "--needle": "Needle",
    "--title": "Its name",
    "--pockets": "With two patch pockets",
    "--want": "Counts to find",
    "--rule": "What holds between them",
    "--from": "Stitches to begin with",
    "--to": "Stitches in the end",
    "--rows": "Over so many rows",
    "--edges": "Shape",
    "--right-side": "On right-side rows only",
    "--increase": "Increases",
    "--decrease": "Decreases",
    "--stitches": "Stitches",
    "--in-round": "In the round",
    "--many": "Lines of increases",
    "--wide": "Stitches to a buttonhole",
    "--end": "Stitches before the first and after the last",
    "--underarm": "Stitches bound off at each underarm",
    "--top": "Stitches at the top",
    "--armhole": "Edge of the armhole, all round",
    "--body": "Shapings of the body",
    "--sleeve": "Shapings of the sleeves",
    "--step": "Stitches from turn to turn",
    "--rim": "Stitches outside the last turn",
}
_OF_PLAN: Mapping[tuple[str, str], str] = {
    ("pick-up", "--rows"): "Rows along the edge",
    ("pick-up", "--stitches"): "Stitches to pick up",
    ("shoulder", "--rows"): "Rows that it rises by",
    ("shoulder", "--stitches"): "Stitches of the shoulder",
    ("raglan-rates", "--rows"): "Rounds or rows of the yoke",
    ("heel", "--stitches"): "Stitches of the sock, all round",
    ("evenly", "--stitches"): "Stitches there are",
    ("buttonholes", "--stitches"): "Stitches of the band",
    ("buttonholes", "--many"): "Buttonholes",
    ("neck", "--stitches"): "Stitches of the front",
    ("v-neck", "--stitches"): "Stitches of the front",
    ("neck", "--across"): "Width of the neck",
    ("v-neck", "--across"): "Width of the neck",
    ("neck", "--length"): "Depth of the neck",
    ("v-neck", "--length"): "Depth of the neck",
    ("armhole", "--length"): "Depth of the armhole",
    ("crescent", "--across"): "Along the straight edge",
    ("crescent", "--length"): "How high",
    ("cone", "--length"): "Along its side",
    ("cap", "--from"): "Stitches of the upper sleeve",
    ("armhole", "--from"): "Stitches of the back",
    ("armhole", "--to"): "Stitches between the armholes",
}
_HOW: Mapping[str, str] = {
    "--sizes": "with commas, such as S, M, L; if empty, they get usual ones",
    "--bodies": "a line of headings, such as: size, chest, upper arm; then a line a size, in cm",
    "--ease": "larger or smaller than the body: 5 cm, or -10 %; if empty, what is usual",
    "--needle": "such as 4 mm; if empty, what is usual at that gauge",
    "--title": "of the pattern; if empty, it gets a plain one",
    "--want": "one a line, such as back: 45 (50) cm; 4 plus 2; at most 120",
    "--rule": "one a line, such as yoke = body + 2 sleeve",
    "--wide": "if empty, 2",
    "--end": "if empty, 3",
    "--step": "if empty, what comes nearest",
    "--rim": "if empty, none",
}
_KINDS: Mapping[str, str] = {
    "--gauge": "gauge",
    "--for": "people",
    "--bodies": "table",
    "--want": "lines",
    "--rule": "lines",
    "--right-side": "yes",
    "--pockets": "yes",
    "--in-round": "yes",
    "--edges": "choice",
    "--fabric": "choice",
    **dict.fromkeys(
        (
            "--from", "--to", "--rows", "--increase", "--decrease", "--stitches", "--many", "--wide", "--end",
            "--underarm", "--top", "--body", "--sleeve", "--step", "--rim",
        ),
        "whole",
    ),
}  # fmt: skip
_CHOICES: Mapping[str, tuple[tuple[str, str], ...]] = {
    "--edges": (("2", "at both edges"), ("1", "at one edge")),
    "--fabric": (("stockinette stitch", "stockinette stitch"), ("garter stitch", "garter stitch")),
}
_OPEN = {"--increase", "--decrease", "--wide", "--end", "--step", "--rim", "--sizes", "--rule"}
"""What an example may give and a person may leave empty."""
_OPEN_IN = {("pick-up", "--stitches"), ("counts", "--gauge")}
"""The same, in one plan only."""


@cache
def fillable() -> tuple[FillableOut, ...]:
    """Every plan with its questions, pieces first."""
    return (*(_piece(kind) for kind in KINDS.values()), *(_question(name) for name in _QUESTIONS))


def _piece(kind: Kind) -> FillableOut:
    asks = [
        _ask(kind.name, option, _usual(kind, option), needed=option == "--gauge")
        for option in PIECES[kind.name]
        if option != "--pattern"
    ]
    return FillableOut(
        name=kind.name,
        piece=True,
        heading=_HEADINGS.get(kind.part, _BODY if kind.part else _FLAT),
        words=kind.told[:1].upper() + kind.told[1:],
        asks=asks,
        people=list(_people(kind)),
        whose={"body": "chest", "": ""}.get(kind.part, kind.part),
    )


_FIT = {"head": "52 (56, 60)", "hand": "18 (20, 23)", "foot": "20 (22, 24)", "body": "86 (92, 98)"}


def _usual(kind: Kind, option: str) -> str:
    if option == "--gauge":
        return "" if "--fabric" in PIECES[kind.name] else f"in {kind.fabric}"
    if option == "--to-fit":
        return f"one a size, such as {_FIT[kind.part]} cm"
    if option == "--across":
        return "one a size, such as 120 (160) cm; if empty, what is usual"
    if option == "--length":
        body = kind.part == "body"
        what = "from the underarm to the hem" if body else "from the brim to the top"
        return f"{what}, such as {'36 (38)' if body else '21 (23)'} cm; if empty, what is usual"
    return ""


def _question(name: str) -> FillableOut:
    given = shlex.split(EXAMPLES[name])[2:]
    heading, words = _QUESTIONS[name]
    asks = []
    for option in QUESTIONS[name]:
        there = option in given
        kind = _KINDS.get(option, "words")
        such = f"such as {given[given.index(option) + 1]}" if there and kind in {"whole", "words"} else ""
        needed = there and option not in _OPEN and kind not in {"yes", "people"}
        asks.append(_ask(name, option, such, needed=needed and (name, option) not in _OPEN_IN))
    return FillableOut(name=name, piece=False, heading=heading, words=words, asks=asks, people=[], whose="")


def _ask(plan: str, option: str, how: str, *, needed: bool) -> FillableAskOut:
    return FillableAskOut(
        option=option,
        label=_OF_PLAN.get((plan, option), _LABELS[option]),
        kind="words" if (plan, option) == ("body", "--for") else _KINDS.get(option, "words"),
        how=_how(plan, option) or how,
        needed=needed,
        choices=[ChoiceOut(value=value, words=words) for value, words in _CHOICES.get(option, ())],
    )


def _how(plan: str, option: str) -> str:
    if option in {"--increase", "--decrease"}:
        return "fill in one of the two, such as 8"
    if (plan, option) == ("pick-up", "--stitches"):
        return "such as 80; or leave it empty and give your gauge"
    if (plan, option) == ("body", "--for"):
        return "such as woman, or child, or foot; if empty, all of them"
    if option == "--many" and plan != "buttonholes":
        return "if empty, 8"
    if (plan, option) == ("counts", "--gauge"):
        return "for counts that are wanted in cm"
    return _HOW.get(option, "")


def _people(kind: Kind) -> Iterator[ChoosableOut]:
    """The bodies that a piece can be for, from small to large under each heading."""
    if kind.part == "body":
        for group in GROUPS:
            for body in bodies(group):
                usual = kind.usual == (group,)
                yield _choosable(kind, body, group, f"{group} {body.name}", body.name, usual=usual)
    elif kind.part:
        table = [b for b in heads_hands_feet(kind.part) if kind.measure in b.measures]
        for body in sorted(table, key=lambda b: (b.size(kind.measure).mm, b.name)):
            yield _choosable(kind, body, kind.part, body.name, body.name, usual=body.name in kind.usual)


def _choosable(kind: Kind, body: Body, heading: str, name: str, words: str, *, usual: bool) -> ChoosableOut:
    size = body.size(kind.measure)
    least, most = float(size.least_mm) / 10, float(size.most_mm) / 10
    cm = f"{least:g}" if least == most else f"{least:g} to {most:g}"
    memory = ", from memory" if size.from_memory else ""
    return ChoosableOut(heading=heading, name=name, words=words, told=f"{cm} cm{memory}", usual=usual)


# --- refusals ---------------------------------------------------------------------------------------

_EXAMPLE = re.compile(r"(?:, for example)?:? purlwright plan .*$", re.DOTALL)
_GIVE = re.compile(r"^Give (--[a-z-]+) too\b")


def for_the_page(sentence: str, plan: str) -> str:
    """A refusal with the labels of the page in place of the options of the command line."""
    words = _GIVE.sub(r"Fill in \1", _EXAMPLE.sub(".", sentence))
    words = words.replace("Give the gauge of your swatch: --gauge", "Fill in --gauge, such as")
    words = words.replace("takes one number or two, for example --rows 1-24", "takes a whole number")
    words = words.replace(
        "For plan, --rows takes one number above 0: --rows 64", "--rows takes a number above 0"
    )
    words = words.replace("shape --edges 1", "shape at one edge")
    return re.sub(r"--[a-z]+(?:-[a-z]+)*", lambda m: _label(plan, m[0]), words)


def _label(plan: str, option: str) -> str:
    label = _OF_PLAN.get((plan, option), _LABELS.get(option))
    return f'"{label}"' if label else option
