"""The last word of a proof: whether every size can be knitted as written, in one sentence.

In: the sizes, what was found and what every check answered. Out: one sentence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from purlwright.findings import Finding, Result, Severity, Verdict
from purlwright.proof.said import ONE_SIZE, and_list, count
from purlwright.proof.sizes import CANNOT_WORK
from purlwright.text import Source

__all__ = ["last_word"]


def last_word(
    sizes: Sequence[str],
    findings: Iterable[Finding],
    verdicts: Iterable[Verdict],
    source: Source,
    *,
    knitted: bool,
    where: str = "; see above",
) -> str:
    """The sentence. ``knitted`` is false when no piece is begun; ``where`` says where the findings stand."""
    if not knitted:
        return "Nothing can be said of the knitting: no piece is begun in these words."
    errors = [f for f in findings if f.severity is Severity.ERROR]
    stuck = [f for f in errors if f.check in CANNOT_WORK or f.check is None]
    if stuck:
        return _stuck(stuck, errors, sizes, source)
    every = _all_sizes(sizes)
    if errors:
        many = len({(f.code, f.span) for f in errors})
        wrong = count(many, "thing printed is wrong", "things printed are wrong")
        return f"{every} can be knitted to the end, but {wrong}{where}."
    if any(v.check == "C049" and v.result is Result.UNDECIDED for v in verdicts):
        return f"{every} may be knitted, but part of the words could not be proved{where}."
    return f"{every} can be knitted as written."


def _all_sizes(sizes: Sequence[str]) -> str:
    if tuple(sizes) == (ONE_SIZE,):
        return "The pattern"
    return f"Size {sizes[0]}" if len(sizes) == 1 else "Every size"


def _stuck(stuck: Sequence[Finding], errors: Sequence[Finding], sizes: Sequence[str], source: Source) -> str:
    """Which sizes stop, and at which line the first error stands."""
    places = [source.place(f.span.start)[0] for f in errors if f.span.end >= 0]
    at = f": see line {min(places)}" if places else ""
    everywhere = any(not f.sizes for f in stuck)
    stopped = {size for f in stuck for size in f.sizes}
    rest = [s for s in sizes if s not in stopped]
    if tuple(sizes) == (ONE_SIZE,):
        return f"The pattern cannot be knitted as written{at}."
    if everywhere or not rest:
        none = "No size can" if len(sizes) > 1 else f"Size {sizes[0]} cannot"
        return f"{none} be knitted as written{at}."
    names = [s for s in sizes if s in stopped]
    return (
        f"{'Size' if len(names) == 1 else 'Sizes'} {and_list(names)} cannot be knitted as written{at}; "
        f"{'size' if len(rest) == 1 else 'sizes'} {and_list(rest)} can."
    )
