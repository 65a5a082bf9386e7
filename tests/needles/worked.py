"""A pattern in words, read and knitted, and what to ask of it in one short line."""

from dataclasses import dataclass

import numpy as np

from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

__all__ = ["Worked", "ends", "work"]


@dataclass(frozen=True)
class Worked:
    """Everything that reading and knitting gave."""

    text: str
    pattern: object
    knitted: object

    @property
    def rows(self):
        return self.knitted.ledger.entries

    @property
    def fabric(self):
        return self.knitted.fabric

    @property
    def ends(self):
        """Stitches on the needle after each entry."""
        return [e.end for e in self.rows]

    @property
    def wrong(self):
        """What was said in reading or knitting, notes aside."""
        found = [*self.pattern.findings, *self.knitted.findings]
        return [f"{f.code}: {f.message}" for f in found if f.severity != "note"]

    def made(self, row):
        """The stitches of the entry in place ``row`` (from 0), in working order."""
        return np.flatnonzero(self.fabric.row_of_stitch == self.rows[row].order)

    def parents(self, stitch):
        f = self.fabric
        return f.parent[f.first_parent_of_stitch[stitch] : f.first_parent_of_stitch[stitch + 1]].tolist()

    def links(self, stitch):
        f = self.fabric
        return f.link[f.first_parent_of_stitch[stitch] : f.first_parent_of_stitch[stitch + 1]].tolist()

    def ops(self, row):
        return [self.fabric.ops[o] for o in self.fabric.op_of_stitch[self.made(row)]]

    def seen(self, row):
        """Faces on the right side: k, p or - for each stitch of the entry, in working order."""
        return "".join("kp-"[s] for s in self.fabric.seen_of_stitch[self.made(row)])

    def fan(self, row):
        """How many stitches each new one of the entry hangs on."""
        return [len(self.parents(s)) for s in self.made(row).tolist()]


def work(words, head=""):
    """Read and knit ``words`` as one piece; ``head`` stands before it."""
    text = f"# Quay Trial\n\n{head}\n## Piece\n{words.strip()}\n"
    pattern = read_pattern(Source(text))
    return Worked(text, pattern, knit(pattern))


def ends(words, head=""):
    """Counts after each entry of words that must be read and come out without a word of complaint."""
    w = work(words, head)
    assert w.wrong == []
    return w.ends
