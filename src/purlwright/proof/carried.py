"""Which checks fail without words of their own, and whose findings tell what is wrong there.

In: the verdicts and all findings. Out: the codes that carry a verdict. One mistake gives one message: a
repeated row that comes out wrong the third time is told by what is wrong in it, and the check of repeated
rows fails with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from purlwright.findings import Finding, Severity

__all__ = ["CARRIED", "WITHOUT_OWN", "carriers"]

_AT_THE_NEEDLES = (
    *("C001", "C003", "C006", "C007", "C009", "C012", "C013", "C014", "C019", "C030", "C034", "C037", "C088"),
    *("not-read", "repeat-without-star", "unclosed-bracket"),
)
"""What keeps a row from coming out."""

CARRIED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "C001": ("C030", "C088"),
        "C007": ("C001", "C030"),
        "C008": (*_AT_THE_NEEDLES, "C002"),
        "C011": ("C019", "C001"),
        "C017": ("C002", "C001", "C034", "C037"),
        "C025": ("C021",),
        "C035": ("C032",),
        "C039": ("unclosed-bracket",),
        "C047": ("C001", "C002", "C012"),
        "C049": (*_AT_THE_NEEDLES, "C002", "C016", "C018", "C020", "C022"),
        "C071": ("C007",),
        "C072": ("C013",),
        "C078": ("C012", "C013", "C002"),
        "C081": ("C001", "C088", "C007"),
        "C082": ("C007", "C088"),
        "C083": ("C082",),
        "C090": ("C020",),
        "C108": ("C037",),
        "C112": ("C013",),
    }
)
"""By check: the checks, and the codes without one, whose findings tell what is wrong."""

WITHOUT_OWN = frozenset({"C008", "C011", "C017", "C083"})
"""Checks that never have a finding of their own."""


def carriers(check: str, findings: Iterable[Finding]) -> tuple[str, ...]:
    """The codes of the findings that tell why a check fails, in the order of the words."""
    by = CARRIED.get(check, ())
    codes = (
        f.code
        for f in findings
        if f.severity is not Severity.NOTE and not f.settled and (f.check in by or f.code in by)
    )
    return tuple(dict.fromkeys(codes))
