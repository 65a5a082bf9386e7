"""The patterns of one folder: opened, saved, told apart, put together; and no word lost.

In: names and texts from the page. Out: texts with their stamps. A file that was changed elsewhere since it
was opened is never written over. What a pattern says is left to other rooms; how bytes get to the disk to
``disk``.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path

from purlwright.bench import disk
from purlwright.bench.merge import Merged, merge
from purlwright.bench.paths import file_name, free_name, inside, place, shown
from purlwright.bench.refusals import Refused
from purlwright.bench.versions import Draft, Version, Versions, stamp_of

__all__ = ["MOST_BYTES", "Binder", "ChangedElsewhere", "Opened", "now_ms"]

MOST_BYTES = 1_000_000
_BOM = b"\xef\xbb\xbf"


def now_ms() -> int:
    """The time, in ms since 1970."""
    return time.time_ns() // 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A file as it is: its text with plain line ends, the stamp of its bytes, a newer draft if there is
    one.
    """

    path: str
    text: str
    stamp: str
    draft: Draft | None = None


class ChangedElsewhere(Exception):  # noqa: N818 - what was asked for cannot be done as asked
    """The file is not as it was when she opened it. Nothing was written."""

    def __init__(self, opened: Opened, merged: Merged) -> None:
        super().__init__(opened.path)
        self.opened = opened
        self.merged = merged


class Binder:
    """One folder of patterns."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self.versions = Versions(self.folder)

    def tidy(self) -> None:
        """Take away what an ended program left half written."""
        disk.sweep(self.versions.parts)

    def names(self) -> list[str]:
        """Every text in the folder, patterns first."""
        return list(inside(self.folder))

    def place(self, path: str) -> Path:
        """Where a pattern stands. Raises Refused."""
        return place(self.folder, path)

    def told(self, path: str) -> tuple[str, str]:
        """What the knitting is told of a path besides its words: the file's full name, and the house style.

        A path that is no file here, such as an example's, has neither.
        """
        from purlwright.files import Unusable, read_file

        try:
            at = self.place(path)
        except Refused:
            return "", ""
        for folder in at.parents:
            file = folder / "house-style.md"
            if file.is_file() and not file.is_symlink() and file != at:
                try:
                    return str(at), read_file(str(file))
                except Unusable:
                    return str(at), ""
            if folder == self.folder:
                break
        return str(at), ""

    def changed_ms(self, path: str) -> int:
        """When the file was last written."""
        return self.place(path).stat().st_mtime_ns // 1_000_000

    def open(self, path: str) -> Opened:
        """The text of a file, kept as a version; with words that were typed and never saved."""
        data = self._bytes(path)
        opened = Opened(path=path, text=_text(data, path), stamp=stamp_of(data))
        self.versions.keep(path, data, now_ms())
        return Opened(path=path, text=opened.text, stamp=opened.stamp, draft=self._newer_draft(path, opened))

    def _newer_draft(self, path: str, opened: Opened) -> Draft | None:
        """The newest draft that says something else than the file; those that do not are let go."""
        newest = None
        for draft in self.versions.drafts(path):
            if draft.text == opened.text:
                self.versions.drop_draft(draft)
            else:
                newest = draft
        return newest

    def stamp(self, path: str) -> str:
        """The stamp of the file as it is now; "" when it is no longer there."""
        try:
            return stamp_of(self._bytes(path))
        except Refused as why:
            if why.status == 404:
                return ""
            raise

    def save(self, path: str, text: str, stamp: str, window: str = "") -> str:
        """Put her words into the file; its new stamp. Raises ChangedElsewhere if it is not as she opened it.

        Both the words that stood there and hers are kept as versions first, so that either can be had again.
        """
        at = self.place(path)
        with disk.locked(self.versions.home):
            before = self._bytes(path)
            data = _like(before, text)
            self.versions.keep(path, before, now_ms())
            if stamp_of(before) != stamp and data != before:
                raise self._clash(path, before, text, stamp)
            if data != before:
                self.versions.keep(path, data, now_ms())
                disk.replace(at, data, self.versions.parts)
            for draft in self.versions.drafts(path):
                if draft.window == window or draft.text == text:
                    self.versions.drop_draft(draft)
        return stamp_of(data)

    def _clash(self, path: str, before: bytes, text: str, stamp: str) -> ChangedElsewhere:
        now = Opened(path=path, text=_text(before, path), stamp=stamp_of(before))
        base = self.versions.stamped(path, stamp)
        begun = "" if base is None else _text(base, path)
        return ChangedElsewhere(now, merge(begun, _plain(text), now.text))

    def put_draft(self, path: str, text: str, stamp: str, window: str = "") -> int:
        """Keep words that are being typed; when they were kept."""
        self.place(path)
        _measure(text)
        when = now_ms()
        self.versions.put_draft(Draft(path=path, text=_plain(text), stamp=stamp, when_ms=when, window=window))
        return when

    def let_go(self, path: str) -> None:
        """She wants none of the drafts of a pattern: their words become versions, and they go."""
        self.place(path)
        for draft in self.versions.drafts(path):
            self.versions.keep(path, draft.text.encode(), now_ms(), draft=True)
            self.versions.drop_draft(draft)

    def new(self, name: str, text: str) -> tuple[str, str]:
        """A new pattern, its path and stamp. Raises Refused, with a free name, where there is one already."""
        path = file_name(name)
        at = self.place(path)
        data = _plain(text).encode()
        _measure(text)
        with disk.locked(self.versions.home):
            try:
                disk.create(at, data, self.versions.parts)
            except FileExistsError:
                free = free_name(self.folder, path)
                raise Refused(
                    409, f'There is a pattern "{shown(path)}" already; "{shown(free)}" is free.', free=free
                ) from None
            self.versions.keep(path, data, now_ms())
        return path, stamp_of(data)

    def history(self, path: str) -> list[tuple[Version, str]]:
        """Every version with its text, the oldest first."""
        self.place(path)
        known = self.versions.listed(path)
        return [
            (one, _text(data, path))
            for one in known
            if (data := self.versions.bytes_of(path, one.id)) is not None
        ]

    def version(self, path: str, version: str) -> str:
        """The text of one version. Raises Refused."""
        self.place(path)
        data = self.versions.bytes_of(path, version)
        if data is None:
            raise Refused(404, f'There is no such version of "{shown(path)}".')
        return _text(data, path)

    def _bytes(self, path: str) -> bytes:
        at = self.place(path)
        try:
            with at.open("rb") as file:
                data = file.read(MOST_BYTES + 1)
        except FileNotFoundError:
            raise Refused(404, f'There is no file "{shown(path)}" in this folder any more.') from None
        except OSError as e:
            raise Refused(409, f'"{shown(path)}" cannot be read: {e.strerror or e}.') from None
        if len(data) > MOST_BYTES:
            raise Refused(413, f'"{shown(path)}" is over 1 MB; a pattern may have {MOST_BYTES:,} bytes.')
        return data


def _text(data: bytes, path: str) -> str:
    """The text in the bytes of a file. Raises Refused with what is wrong and how it is mended."""
    from purlwright.files import Unusable, decode

    try:
        return _plain(decode(data, f'"{shown(path)}"', empty=True))
    except Unusable as why:
        raise Refused(422, str(why)) from None


def _plain(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _like(before: bytes, text: str) -> bytes:
    """Her words as bytes, with the line ends and the mark at the beginning that the file had."""
    plain = _plain(text)
    _measure(plain)
    if before.count(b"\r\n") * 2 > before.count(b"\n"):
        plain = plain.replace("\n", "\r\n")
    return (_BOM if before.startswith(_BOM) else b"") + plain.encode()


def _measure(text: str) -> None:
    """Refuse what could not be read back."""
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        raise Refused(422, "There is a letter in these words that no file can hold.") from None
    if size > MOST_BYTES:
        raise Refused(413, f"These words are over 1 MB; a pattern may have {MOST_BYTES:,} bytes.")
    if "\0" in text:
        raise Refused(422, "There is a sign in these words that no text may hold: a zero byte.")
