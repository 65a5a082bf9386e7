"""The options of ``plan`` and ``regauge``, and which of them go with which plan.

In: nothing. Out: a table like that of ``arguments``, which takes it in. What the words mean is read by
``plans``; nothing is imported here, so that ``--help`` opens at once.
"""

from __future__ import annotations

__all__ = ["PIECES", "PLAN_OPTIONS", "QUESTIONS", "options_of"]

_ONE = ("plan",)
_BOTH = ("plan", "regauge")

PLAN_OPTIONS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "--gauge": (_BOTH, "GAUGE", "Stitches and rows of your swatch: '22 sts and 30 rows to 10 cm'."),
    "--for": (_ONE, "NAMES", "Whom it is for, from the tables: 'child, woman' or 'woman M, woman L'."),
    "--sizes": (_ONE, "NAMES", "Names for the sizes: 'S, M, L'; of a table of your own, those to take."),
    "--to-fit": (_ONE, "LENGTHS", "Chest, head, hand or foot round, one a size: '86 (92, 98) cm'."),
    "--bodies": (_ONE, "FILE", "A table of measures of your own, as CSV: a line a size, in cm."),
    "--ease": (_ONE, "AMOUNT", "Larger or smaller than the body: '5 cm', '-10 %'."),
    "--across": (_ONE, "LENGTHS", "How wide a shawl, a mat, a neck or a circle is: '120 (160) cm'."),
    "--fabric": (_ONE, "WORDS", "The cloth of the gauge, such as garter stitch."),
    "--needle": (_ONE, "SIZE", "The needle of the gauge: '4 mm'; else what is usual at the gauge."),
    "--title": (_ONE, "WORDS", "The title of the pattern."),
    "--pattern": (_BOTH, "", "Print the pattern alone, ready for a file."),
    "--pockets": (_ONE, "", "Two patch pockets on the fronts of a cardigan."),
    "--want": (_ONE, "COUNT", "A count to find, again for each: 'back: 45 (48) cm; 4 plus 2; at most 120'."),
    "--rule": (_ONE, "RULE", "What holds between them, again for each: 'yoke = body + 2 sleeve'."),
    "--from": (_ONE, "N", "So many stitches to begin with."),
    "--to": (_ONE, "N", "So many stitches in the end."),
    "--edges": (_ONE, "1|2", "Shape at one edge or at both; both if it is not said."),
    "--right-side": (_ONE, "", "Shape on right-side rows only."),
    "--increase": (_ONE, "N", "So many increases, evenly across --stitches."),
    "--decrease": (_ONE, "N", "So many decreases, evenly across --stitches."),
    "--in-round": (_ONE, "", "Across a round, not a row."),
    "--many": (_ONE, "N", "So many buttonholes, or lines of increases."),
    "--wide": (_ONE, "N", "So many stitches to a buttonhole; 2 if it is not said."),
    "--end": (
        _ONE,
        "N",
        "So many stitches before the first buttonhole and after the last; 3 if it is not said.",
    ),
    "--underarm": (_ONE, "N", "So many stitches bound off on each side for a sleeve cap."),
    "--top": (_ONE, "N", "So many stitches at the top of a sleeve cap."),
    "--armhole": (_ONE, "LENGTH", "The whole edge of the armhole: '44 cm'."),
    "--body": (_ONE, "N", "So many raglan shapings of the body."),
    "--sleeve": (_ONE, "N", "So many raglan shapings of the sleeves."),
    "--step": (_ONE, "N", "So many stitches from turn to turn of a wedge."),
    "--rim": (_ONE, "N", "So many stitches outside the last turn of a wedge."),
}

_WHO = (
    "--gauge",
    "--for",
    "--to-fit",
    "--bodies",
    "--sizes",
    "--ease",
    "--length",
    "--needle",
    "--title",
    "--pattern",
)
_FLAT = ("--gauge", "--across", "--sizes", "--needle", "--title", "--pattern")

PIECES = {
    "hat": _WHO,
    "hat-from-crown": _WHO,
    "wedge-hat": _WHO,
    "mitten": tuple(o for o in _WHO if o != "--length"),
    "sock": tuple(o for o in _WHO if o != "--length"),
    "sock-from-toe": tuple(o for o in _WHO if o != "--length"),
    "triangle-shawl": _FLAT,
    "crescent-shawl": _FLAT,
    "half-round-shawl": _FLAT,
    "round-mat": (*_FLAT, "--fabric"),
    "drop-shoulder": _WHO,
    "set-in": _WHO,
    "cardigan": (*_WHO[:-1], "--pockets", "--pattern"),
    "raglan": _WHO,
    "round-yoke": _WHO,
}
"""Patterns to begin from, and the options each takes."""
QUESTIONS = {
    "counts": ("--gauge", "--sizes", "--want", "--rule"),
    "shaping": ("--from", "--to", "--rows", "--edges", "--right-side"),
    "evenly": ("--increase", "--decrease", "--stitches", "--in-round"),
    "buttonholes": ("--many", "--stitches", "--wide", "--end"),
    "pick-up": ("--rows", "--stitches", "--gauge"),
    "shoulder": ("--stitches", "--rows"),
    "heel": ("--stitches",),
    "cap": ("--gauge", "--from", "--underarm", "--top", "--armhole"),
    "armhole": ("--gauge", "--from", "--to", "--length"),
    "neck": ("--gauge", "--stitches", "--across", "--length"),
    "v-neck": ("--gauge", "--stitches", "--across", "--length"),
    "crescent": ("--gauge", "--across", "--length"),
    "dome": ("--gauge", "--across", "--many"),
    "cone": ("--gauge", "--across", "--length", "--many"),
    "raglan-rates": ("--body", "--sleeve", "--rows"),
    "circle": ("--gauge", "--across", "--fabric"),
    "wedges": ("--gauge", "--across", "--step", "--rim"),
    "body": ("--for", "--bodies"),
}
"""Questions, and the options each takes."""


def options_of(plan: str) -> tuple[str, ...]:
    """The options that go with a plan, beside ``--json`` and ``--help``."""
    return PIECES.get(plan, QUESTIONS.get(plan, ()))
