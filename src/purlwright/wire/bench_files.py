"""What the bench's page and its server say to each other about files.

In: what the store tells. Out: msgspec structs whose field names are the contract with the page. Times are
ms since 1970, places UTF-16 units.
"""

from __future__ import annotations

from msgspec import Struct, field

__all__ = [
    "BinderOut",
    "ClashOut",
    "ConflictOut",
    "DraftOut",
    "ExampleOut",
    "ExampleTextOut",
    "HistoryOut",
    "InBinderOut",
    "KeptOut",
    "MergedOut",
    "NewIn",
    "NewOut",
    "PathIn",
    "PatternOut",
    "RefusedOut",
    "SaveIn",
    "SavedOut",
    "VersionOut",
    "VersionTextOut",
    "WatchedOut",
]


class PathIn(Struct, frozen=True, kw_only=True):
    """A pattern."""

    path: str


class SaveIn(Struct, frozen=True, kw_only=True):
    """Words for a pattern: into its file, or as a draft."""

    path: str
    text: str
    stamp: str
    """The stamp of the content that these words began from."""
    window: str = ""
    """Which window of the page types them, so that two do not take each other's drafts."""


class NewIn(Struct, frozen=True, kw_only=True):
    """A new pattern: its name, and the example or the words that it begins from."""

    name: str
    from_: str | None = field(name="from", default=None)
    text: str | None = None


class RefusedOut(Struct, frozen=True, kw_only=True):
    """Why there is no answer: one plain sentence."""

    message: str


class InBinderOut(Struct, frozen=True, kw_only=True):
    """One text of the folder."""

    path: str
    title: str
    """"" where it has none."""
    changed: int
    sizes: int


class ExampleOut(Struct, frozen=True, kw_only=True):
    """An example to begin from."""

    name: str
    title: str
    told: str


class BinderOut(Struct, frozen=True, kw_only=True):
    """What is in the folder."""

    folder: str
    patterns: list[InBinderOut]
    examples: list[ExampleOut]


class DraftOut(Struct, frozen=True, kw_only=True):
    """Words that were typed and never put into the file."""

    text: str
    stamp: str
    when: int


class PatternOut(Struct, frozen=True, kw_only=True):
    """The text of a pattern."""

    path: str
    text: str
    stamp: str
    draft: DraftOut | None


class ExampleTextOut(Struct, frozen=True, kw_only=True):
    """The text of an example."""

    name: str
    title: str
    text: str


class SavedOut(Struct, frozen=True, kw_only=True):
    """The words are in the file."""

    stamp: str
    when: int


class KeptOut(Struct, frozen=True, kw_only=True):
    """The words are kept beside the file."""

    when: int


class NewOut(Struct, frozen=True, kw_only=True):
    """A pattern that was made."""

    path: str
    stamp: str
    text: str


class ClashOut(Struct, frozen=True, kw_only=True):
    """Lines that both changed; in the merged text hers stand there."""

    from_: int = field(name="from")
    to: int
    hers: str
    theirs: str


class MergedOut(Struct, frozen=True, kw_only=True):
    """Both texts put together."""

    text: str
    clashes: list[ClashOut]


class ConflictOut(Struct, frozen=True, kw_only=True):
    """The file was changed elsewhere: what stands in it now, and both put together. Nothing was written."""

    message: str
    text: str
    stamp: str
    merged: MergedOut


class VersionOut(Struct, frozen=True, kw_only=True):
    """One version of a pattern."""

    id: str
    when: int
    lines: int
    changed: int
    """How many lines are not as in the version before."""
    draft: bool
    """Whether it was typed and never put into the file."""
    stamp: str


class HistoryOut(Struct, frozen=True, kw_only=True):
    """The versions of a pattern, the newest first."""

    versions: list[VersionOut]


class VersionTextOut(Struct, frozen=True, kw_only=True):
    """The text of one version."""

    text: str


class WatchedOut(Struct, frozen=True, kw_only=True):
    """Whether a file is as it was."""

    stamp: str
    """"" when the file is gone."""
    changed: bool
    gone: bool
