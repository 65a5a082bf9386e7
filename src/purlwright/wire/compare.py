"""Two versions set side by side, as they leave.

In: a comparison. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.revision.compare import Changed, Comparison
from purlwright.revision.notice import edition, notice

__all__ = [
    "ChangedOut",
    "ComparisonOut",
    "FactChangedOut",
    "FirstRowOut",
    "TouchedOut",
    "comparison_out",
]


class FactChangedOut(Struct, frozen=True, kw_only=True):
    """A header line that differs; ``was`` or ``now`` is null where one version has none."""

    key: str
    was: str | None
    now: str | None


class ChangedOut(Struct, frozen=True, kw_only=True):
    """Lines that differ, with their numbers in each version."""

    heading: str
    was: list[str]
    now: list[str]
    old_lines: list[int]
    new_lines: list[int]
    sizes: list[str]
    """Those whose knitting they change; empty when only the words differ."""


class FirstRowOut(Struct, frozen=True, kw_only=True):
    """The first worked row that is not the same."""

    number: int
    """Among all worked rows of the older version, from 1."""
    section: str
    label: str
    pass_: int
    start: int
    """Stitches on the needle before it."""


class TouchedOut(Struct, frozen=True, kw_only=True):
    """One size with one choice of options."""

    size: str
    options: dict[str, str]
    first: FirstRowOut | None
    """Null when every stitch is as it was."""
    rows_changed: int
    rows_put_in: int
    rows_taken_out: int
    stitches_was: int
    stitches_now: int


class ComparisonOut(Struct, frozen=True, kw_only=True):
    """Answer of ``compare --json``."""

    title: str
    was: str
    now: str
    """What the older and the newer version call themselves; "" if they do not say."""
    same: bool
    """Whether nothing differs, in the words or in the knitting."""
    knits_the_same: bool
    facts: list[FactChangedOut]
    lines: list[ChangedOut]
    notes: list[ChangedOut]
    touched: list[TouchedOut]
    sizes_gone: list[str]
    sizes_added: list[str]
    options_differ: bool
    errors_now: int
    notice: list[str] | None
    """The corrections notice, line by line; null when there is nothing to correct."""


def comparison_out(found: Comparison) -> ComparisonOut:
    """A comparison as it leaves."""
    return ComparisonOut(
        title=found.new.pattern.title,
        was=edition(found.old),
        now=edition(found.new),
        same=found.same and found.knits_the_same,
        knits_the_same=found.knits_the_same,
        facts=[FactChangedOut(key=f.key, was=f.was or None, now=f.now or None) for f in found.facts],
        lines=[_changed_out(c) for c in found.lines],
        notes=[_changed_out(c) for c in found.notes],
        touched=[
            TouchedOut(
                size=t.size,
                options=dict(t.options),
                first=None
                if t.first is None
                else FirstRowOut(
                    number=t.first.number,
                    section=t.first.section,
                    label=t.first.label,
                    pass_=t.first.pass_,
                    start=t.first.start,
                ),
                rows_changed=t.changed,
                rows_put_in=t.put_in,
                rows_taken_out=t.taken_out,
                stitches_was=t.made_was,
                stitches_now=t.made_now,
            )
            for t in found.touched
        ],
        sizes_gone=list(found.gone),
        sizes_added=list(found.added),
        options_differ=found.options_differ,
        errors_now=found.new.errors,
        notice=notice(found) if found.must_be_told else None,
    )


def _changed_out(block: Changed) -> ChangedOut:
    return ChangedOut(
        heading=block.heading,
        was=list(block.was),
        now=list(block.now),
        old_lines=list(block.old_lines),
        new_lines=list(block.new_lines),
        sizes=list(block.sizes),
    )
