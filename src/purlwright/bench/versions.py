"""Every version of a pattern that was ever on the disk or in a draft, kept in the folder itself.

In: a pattern's name and its bytes. Out: versions to walk back, and drafts that outlive a crash. They stand in
``.purlwright/`` in the chosen folder, as plain text that can be read without us. Which version belongs in the
pattern's own file is left to ``store``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

import msgspec

from purlwright.bench import disk
from purlwright.bench.paths import HIDDEN

__all__ = ["Draft", "Version", "Versions", "stamp_of"]

_MOST = 400
"""So many versions of a pattern are kept; beyond that, of each day that is past the last one."""
_ID = re.compile(r"(\d{13})-([0-9a-f]{64})(-draft)?\.txt")
_DAY_MS = 86_400_000


def stamp_of(data: bytes) -> str:
    """What tells one content of a file from every other."""
    return sha256(data).hexdigest()


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """Words that were typed and not yet put into the file: from which content they began, and when."""

    path: str
    text: str
    stamp: str
    when_ms: int
    window: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One version: its name here, when it was met (ms since 1970), its stamp, and whether it was a draft."""

    id: str
    when_ms: int
    stamp: str
    draft: bool


class Versions:
    """The versions and drafts of every pattern in a folder."""

    def __init__(self, folder: Path) -> None:
        self.home = folder / HIDDEN
        self.parts = self.home / "parts"

    def _of(self, kind: str, path: str) -> Path:
        name = re.sub(r"[^\w-]+", "-", path.rpartition("/")[2].partition(".")[0])[:40]
        return self.home / kind / f"{name}-{stamp_of(path.encode())[:16]}"

    # --- versions --------------------------------------------------------------------------------

    def keep(self, path: str, data: bytes, when_ms: int, *, draft: bool = False) -> None:
        """Keep this content, unless it is the newest one already."""
        stamp = stamp_of(data)
        known = self.listed(path)
        if known and known[-1].stamp == stamp:
            return
        if draft and any(one.stamp == stamp for one in known):
            return
        after = max(when_ms, known[-1].when_ms + 1) if known else when_ms
        folder = self._of("versions", path)
        name = f"{after:013d}-{stamp}{'-draft' if draft else ''}.txt"
        folder.mkdir(parents=True, exist_ok=True)
        disk.replace(folder / name, data, self.parts)
        self._thin(folder, [*known, Version(id=name[:-4], when_ms=after, stamp=stamp, draft=draft)])

    def listed(self, path: str) -> list[Version]:
        """The versions, the oldest first."""
        folder = self._of("versions", path)
        names = sorted(file.name for file in folder.glob("*.txt")) if folder.is_dir() else []
        return [
            Version(id=name[:-4], when_ms=int(m[1]), stamp=m[2], draft=bool(m[3]))
            for name in names
            if (m := _ID.fullmatch(name))
        ]

    def bytes_of(self, path: str, version: str) -> bytes | None:
        """The content of one version; None where there is none of that name."""
        if not _ID.fullmatch(f"{version}.txt"):
            return None
        file = self._of("versions", path) / f"{version}.txt"
        return file.read_bytes() if file.is_file() and not file.is_symlink() else None

    def stamped(self, path: str, stamp: str) -> bytes | None:
        """The content with this stamp, if it was ever met."""
        for version in reversed(self.listed(path)):
            if version.stamp == stamp:
                return self.bytes_of(path, version.id)
        return None

    def _thin(self, folder: Path, known: list[Version]) -> None:
        """Of old days keep the last version each, once there are very many."""
        if len(known) <= _MOST:
            return
        old = known[: len(known) - _MOST // 2]
        last_of_day = {one.when_ms // _DAY_MS: one.id for one in old}
        for one in old:
            if last_of_day[one.when_ms // _DAY_MS] != one.id:
                (folder / f"{one.id}.txt").unlink(missing_ok=True)

    # --- drafts ----------------------------------------------------------------------------------

    def put_draft(self, draft: Draft) -> None:
        """Keep the words of one window; they replace what it kept before."""
        folder = self._of("drafts", draft.path)
        folder.mkdir(parents=True, exist_ok=True)
        disk.replace(folder / self._draft_file(draft.window), msgspec.json.encode(draft), self.parts)

    def drafts(self, path: str) -> list[Draft]:
        """The drafts of every window, the newest last."""
        folder = self._of("drafts", path)
        found = []
        for file in folder.glob("*.json") if folder.is_dir() else ():
            try:
                draft = msgspec.json.decode(file.read_bytes(), type=Draft)
            except (OSError, msgspec.DecodeError):
                continue  # not one of ours: it is left as it is
            if draft.path == path:
                found.append(draft)
        return sorted(found, key=lambda one: one.when_ms)

    def drop_draft(self, draft: Draft) -> None:
        """Its words are in the file, or among the versions."""
        (self._of("drafts", draft.path) / self._draft_file(draft.window)).unlink(missing_ok=True)

    @staticmethod
    def _draft_file(window: str) -> str:
        return f"{stamp_of(window.encode())[:16]}.json"
