"""Names of stitches and fabrics in US and UK terms.

In: keys of the dictionary. Out: the abbreviation or name that a designer would print.
"""

from __future__ import annotations

from typing import Literal

from purlwright.stitches.kinds import Loose, Stitch
from purlwright.stitches.load import dictionary, grounds

__all__ = ["Terms", "ground_words", "printed", "stitch_words"]

Terms = Literal["US", "UK"]


def ground_words(key: str, terms: Terms) -> str:
    """The printed name of a ground: "garter st", "k2, p2 rib"."""
    ground = grounds().find(key)
    if ground is None:
        return key
    return ground.us if terms == "US" else ground.uk


def stitch_words(key: str, terms: Terms) -> str:
    """The abbreviation of one stitch of the dictionary; a key it does not have stands as it is."""
    stitch = dictionary().stitches.get(key)
    return key if stitch is None else printed(stitch, terms)


def printed(stitch: Stitch, terms: Terms) -> str:
    """The US or UK form; where the UK form has several meanings ("inc 1"), the US one, which has not.

    UK "yfwd" stays: what stands on either side tells which of its meanings it has.
    """
    if terms == "US" or stitch.uk == stitch.us:
        return stitch.us
    named = dictionary().find(stitch.uk)
    unclear = named is not None and named.key != stitch.key and bool(named.readings)
    return stitch.us if unclear and stitch.loose is not Loose.OVER else stitch.uk
