"""How earlier turns are closed: wraps and double stitches worked with their stitches.

In: a cursor at "working wraps ...", "knit the wrapped st together with its wrap" and the like.
Out: ``Resolve``, and the stitch itself where the words work one.
"""

from __future__ import annotations

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE
from purlwright.pattern.read.working import Handler, Steps
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Resolve, TurnHow, Work

__all__ = ["WORDS", "parse_wrapped"]

_WRAP = "wrap|wraps"
_TOGETHER = "tog|together"
_OWN = "its|the|both|all|their|it|it's"
_ST = "st|stitch"
_STS = "st|sts|stitch|stitches"

_VERB = "k|knit|p|purl|work|working|knitting|purling"
_NEXT = "next|wrapped|following|turned|last|that|this?"

_ONE_STITCH = (
    f"it {_TOGETHER}? with {_OWN}? {_OWN}? {_WRAP}",
    f"the? {_NEXT} wrapped|turned? {_ST} {_TOGETHER}? with {_OWN} {_OWN}? {_WRAP}",
    f"the? next? wrapped? {_ST} and|& {_OWN}? {_OWN}? {_WRAP} {_TOGETHER}",
    f"it and|& {_OWN}? {_WRAP} {_TOGETHER}",
    f"the? {_WRAP} and|& {_OWN}? wrapped? {_ST} {_TOGETHER}",
    f"the? {_WRAP} {_TOGETHER} with {_OWN}? wrapped? {_ST}",
    f"up? {_OWN}? {_OWN}? {_WRAP} and k|knit|p|purl|work it|them {_TOGETHER} with {_OWN}? wrapped? {_ST}",
    f"up? {_OWN}? {_OWN}? {_WRAP} and|, k|knit|p|purl|work it|them {_TOGETHER}? with {_OWN}? wrapped? {_ST}",
    "the? next? double stitch|st as one|1 stitch|st?",
    "the? next? double stitch|st as a? single stitch|st",
)
"""What one wrapped stitch is worked as: the verb works it."""
_RULE = (
    f"it|them|each|every {_TOGETHER} with {_OWN}? {_WRAP}",
    f"it|them with {_OWN} {_OWN}? {_WRAP}",
    f"each|every|all|any|the? wrapped|turned? {_STS} {_TOGETHER}? with {_OWN} {_OWN}? {_WRAP}",
    f"each|every|the? wrapped {_STS} and|& {_OWN}? {_WRAP} {_TOGETHER}",
    f"each|every|all|any|the|both? {_WRAP} {_TOGETHER} with {_OWN}? wrapped? {_STS}",
    f"up? each|every|all|any|the? last? {_WRAP} and {_VERB} it|them {_TOGETHER} with {_OWN}? wrapped? {_STS}",
    f"{_WRAP} and|& wrapped? {_STS} {_TOGETHER}",
)
_DOUBLE_RULE = (
    "each|every|all|the|any|both? double stitch|st|stitches|sts as one|single|1 stitch|st|stitches|sts?",
    "each|every|all|the|any|both? double stitch|st|stitches|sts as a single? stitch|st",
    "both? legs|loops|strands of each|every|the|all double stitch|st|stitches|sts together|tog? as? one?",
    "the? two|2? legs|loops|strands of each|every|the|all double stitch|st|stitches|sts together|tog? as?",
    "each|every|all ds as one|1|single stitch|st?",
)
_COME = (
    "as|when|whenever you|they come|go|reach|meet|get|pass to|across? them|it|each?",
    "as you come to them|it",
    "when you come to them|it",
    "as you go",
    "as you reach them|it",
)
_WRAPS = (
    "all|any|each|every|both? the? wraps|wrap|wrapped",
    "all|any? wrapped sts|stitches|st",
    "the? double sts|stitches|st|stitch",
    "all|any|each double sts|stitches|st|stitch",
    "ds",
    "dss",
    "all ds",
    "up all|any|each? the? wraps|wrap|wrapped sts|stitches?",
    "up? the? last|remaining|final|other wrap|wraps",
    "up the? wraps|wrap",
    "up wraps",
)


def parse_wrapped(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Wrapped := verb ("the wrapped st" | "next st" | "it") "together"? "with" "its" "wrap"

    "knit the wrapped st together with its wrap", "p next st with its wraps", "lift the wrap and knit it
    together with the st": that stitch is worked, with its wrap
    """
    del ctx, depth
    if not cur.kept.get("wrap"):
        return None
    here = cur.at
    verb = cur.next().low
    at = cur.at
    if cur.any_phrase(*_ONE_STITCH) is None or verb.endswith("ing"):
        cur.at = here
        return None
    said = [t.low for t in cur.tokens[at : cur.at]]
    if verb in {"lift", "pick", "work"}:
        verb = next((w for w in said if w in {"k", "knit", "p", "purl"}), verb)
        if verb in {"lift", "pick", "work"}:
            cur.at = here
            return None
    stitch = "p" if verb in {"p", "purl"} else "k"
    span = cur.span_from(here)
    how = TurnHow.DOUBLE if "double" in said else TurnHow.WRAP
    return (Resolve(how=how, span=span), Work(stitch=stitch, count=ONE, span=span))


def parse_resolve(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Resolve := ("working" | "picking up" | "knitting" | "closing" | "hiding") ("wraps" | "double sts")
    ("together" "with" ... )?

    "working wraps together with sts", "picking up wraps as you go", "closing the double sts", "work each
    wrap together with its stitch", "leaving wraps as they are"
    """
    del ctx, depth
    here = cur.at
    t = cur.next()
    if cur.any_phrase(*_DOUBLE_RULE):
        cur.any_phrase(*_COME)
        return (Resolve(how=TurnHow.DOUBLE, span=cur.span_from(here)),)
    if cur.any_phrase(*_ONE_STITCH, *_RULE):
        cur.any_phrase(*_COME)
        return (Resolve(how=TurnHow.WRAP, span=cur.span_from(here)),)
    found = cur.any_phrase(*_WRAPS)
    if found is None:
        cur.at = here
        return None
    how = TurnHow.DOUBLE if "double" in found or "ds" in found else TurnHow.WRAP
    cur.any_phrase(
        "tog|together with|& the? their? wrapped? sts|st|stitches|stitch",
        "and working|knitting|purling them it? tog|together with the? sts|st|stitches",
        "and work|knit|purl them|it tog|together with the? their? sts|st|stitches|stitch",
        "as one|1 st|stitch?",
        "tog|together as one|you?",
        "tog|together",
        "with the? their? st|sts|stitches",
        "and stitch|st|sts|stitches tog|together",
        "and the? sts|st|stitch|stitches together|tog",
    )
    cur.any_phrase("they|that wrap|wrapped", "they are wrapped around")
    cur.any_phrase("as they appear|are", *_COME)
    return (
        Resolve(how=how, left=t.low in {"leaving", "ignoring", "leave", "ignore"}, span=cur.span_from(here)),
    )


_RES = (parse_resolve,)
WORDS: dict[str, tuple[Handler, ...]] = dict.fromkeys(
    (
        "working",
        "picking",
        "hiding",
        "closing",
        "resolving",
        "knitting",
        "purling",
        "lifting",
        "leaving",
        "ignoring",
        "pick",
        "lift",
        "work",
        "knit",
        "purl",
        "k",
        "p",
        "concealing",
    ),
    _RES,
)
