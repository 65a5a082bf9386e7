"""The help pages: every kind of finding there is, with the text that ``purlwright explain`` prints.

In: nothing; the modules of the rooms below are looked through when first asked. Out: one :class:`Page`
a code, taken from the class that says it. A page is its class's docstring.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from importlib import import_module
from pkgutil import walk_packages
from types import ModuleType

from purlwright.findings import Severity

__all__ = ["Page", "near", "pages", "pages_of_check"]

_ROOMS = ("purlwright.pattern", "purlwright.needles", "purlwright.proof")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What there is to say about one kind of finding."""

    code: str
    check: str | None
    severity: Severity
    text: str
    kind: type


def _modules() -> Iterator[ModuleType]:
    for name in _ROOMS:
        room = import_module(name)
        yield room
        for found in walk_packages(room.__path__, prefix=f"{name}."):
            yield import_module(found.name)


def _fact(kind: type, name: str) -> object:
    """The value that a class gives to ``code``, ``check`` or ``severity``, as constant or as a default."""
    if is_dataclass(kind):
        for f in fields(kind):
            if f.name == name:
                return f.default
    return inspect.getattr_static(kind, name, None)


def _page(kind: type) -> Page | None:
    code, check, severity = (_fact(kind, name) for name in ("code", "check", "severity"))
    if not isinstance(code, str) or not callable(getattr(kind, "message", None)):
        return None
    return Page(
        code=code,
        check=check if isinstance(check, str) else None,
        severity=severity if isinstance(severity, Severity) else Severity.ERROR,
        text=inspect.cleandoc(kind.__doc__ or ""),
        kind=kind,
    )


@cache
def pages() -> tuple[Page, ...]:
    """Every page, by check, then by code; those without a check come last."""
    found = {
        page.kind: page
        for module in _modules()
        for kind in vars(module).values()
        if isinstance(kind, type) and kind.__module__ == module.__name__ and (page := _page(kind))
    }
    return tuple(sorted(found.values(), key=lambda p: (p.check or "~", p.code)))


def pages_of_check(check: str) -> tuple[Page, ...]:
    """The pages of one check."""
    return tuple(page for page in pages() if page.check == check)


def near(word: str, known: list[str]) -> str | None:
    """The known word nearest to ``word``, or None if none is near."""
    import difflib

    return next(iter(difflib.get_close_matches(word, known, n=1, cutoff=0.5)), None)
