"""Rewordings as a page: the words as they are, the words offered, and in how many ways both were knitted.

In: suggestions. Out: lines of text. The designer's words stand uncut, so that they can be copied.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.proof.said import count
from purlwright.rewrite.suggestion import Suggestion
from purlwright.terminal.look import Look, plain, wrap

__all__ = ["show_suggestions"]


def show_suggestions(found: Sequence[Suggestion], title: str, look: Look) -> list[str]:
    """Every suggestion that knits the same, then those that do not, with the reason."""
    out = [look.strong(plain(title)), ""]
    good = [s for s in found if not s.refused]
    for s in good:
        ways = "knitted both ways" if s.ways == 1 else f"knitted both ways in {s.ways} sizes or choices"
        out += wrap(f"Line {s.line}: {plain(s.title)} ({ways}, the same).", look.width)
        out += [look.faint(f"  - {plain(words)}") for words in s.before]
        out += [look.cure(f"  + {plain(words)}") for words in s.after]
        out.append("")
    for s in found:
        if s.refused:
            out += wrap(f"Line {s.line}: {plain(s.title)}: not offered, for {plain(s.refused)}.", look.width)
            out.append("")
    out.append(
        f"{count(len(good), 'suggestion')}; your file is as it was." if found else "Nothing to suggest."
    )
    return out
