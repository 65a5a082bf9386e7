"""What is asked of a plan in words: lengths of all sizes, ease, counts to be found and rules between them.

In: the words as typed. Out: exact values, or NoPlan with a sentence that shows how to write it.
"""

from __future__ import annotations

import re
from fractions import Fraction

from purlwright.sizing.unknowns import MOST_COUNT, NoPlan, Rule, Unknown
from purlwright.units import BY_GAUGE

__all__ = ["ease", "lengths_mm", "names", "numbers", "rule_of", "wanted"]

_NUMBER = r"\d{1,5}(?:\.\d{1,3})?(?:\s*[½¼¾])?|[½¼¾]"
_PART = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}
_LIST = re.compile(
    rf"(?P<all>(?:{_NUMBER}|[\s,()\[\]/-])+?)\s*(?P<unit>cm|mm|in|inches|inch|\"|”)\s*(?:round|wide|long)?",
    re.IGNORECASE,
)


def names(words: str) -> tuple[str, ...]:
    """Names with commas between."""
    return tuple(part.strip() for part in words.split(",") if part.strip())


def numbers(words: str) -> tuple[Fraction, ...]:
    """``88 (96, 104)`` as numbers; nothing if it is no such list."""
    if not re.fullmatch(rf"[\s,()\[\]]*(?:{_NUMBER})(?:[\s,()\[\]]+(?:{_NUMBER}))*[\s,()\[\]]*", words):
        return ()
    out = []
    for m in re.finditer(_NUMBER, words):
        total = Fraction(0)
        for piece in re.findall(r"\d+(?:\.\d+)?|[½¼¾]", m[0]):
            total += _PART[piece] if piece in _PART else Fraction(piece)
        out.append(total)
    return tuple(out)


def lengths_mm(words: str, option: str, *, one: bool = False) -> tuple[Fraction, ...]:
    """One length a size, in mm: "86 (92, 98) cm"; ``one``, a single length. Raises NoPlan."""
    m = _LIST.fullmatch(words.strip())
    found = numbers(m["all"]) if m is not None else ()
    if m is None or not found:
        how = (
            'a length with its unit, like "18 cm"'
            if one
            else 'lengths with their unit, like "86 (92, 98) cm"'
        )
        raise NoPlan(f'{option} takes {how}; "{words.strip()}" is not that.')
    if one and len(found) > 1:
        raise NoPlan(f"{option} takes one length here.")
    unit = "in" if m["unit"].lower() not in {"cm", "mm"} else m["unit"].lower()
    out = tuple(n * BY_GAUGE[unit] for n in found)
    if min(out) <= 0 or max(out) > 10_000:
        raise NoPlan(f'{option} takes lengths above 0 and up to 10 metres; "{words.strip()}" is not that.')
    return out


def ease(words: str) -> tuple[Fraction | None, Fraction | None]:
    """Ease as a length in mm or as a share: "5 cm", "-2 in", "-10 %". Raises NoPlan."""
    m = re.fullmatch(
        r"\s*(?P<sign>[+-]|\u2212)?\s*(?P<n>\d{1,3}(?:\.\d)?)\s*(?P<unit>cm|mm|in|%|percent)\s*", words
    )
    if m is None:
        raise NoPlan(
            '--ease takes a length or a share of the body, like "5 cm" or "-10 %"; '
            f'"{words.strip()}" is not that.'
        )
    value = Fraction(m["n"]) * (-1 if m["sign"] in {"-", "\u2212"} else 1)
    if m["unit"] in {"%", "percent"}:
        if not -50 <= value <= 100:
            raise NoPlan(f"An ease of {words.strip()} is beyond reason: between -50 % and 100 % of the body.")
        return None, value / 100
    mm = value * BY_GAUGE[m["unit"]]
    if not -300 <= mm <= 1000:
        raise NoPlan(f"An ease of {words.strip()} is beyond reason: between -30 cm and 100 cm.")
    return mm, None


_MULTIPLE = re.compile(
    r"(?:multiple\s+of\s+)?(?P<of>\d{1,4})\s*n?\s*(?:(?:\+|plus)\s*(?P<plus>\d{1,4}))?\s*", re.IGNORECASE
)


def wanted(words: str, per_mm: Fraction | None, sizes: int) -> Unknown:
    """A count to be found: "back: 45 (48, 52) cm; multiple of 4 plus 2; steps of 8; at most 120".

    per_mm : stitches to a millimetre; None where no gauge was given, and then targets are in stitches.
    What stands after the semicolons may be left out. Raises NoPlan.
    """
    name, colon, rest = words.partition(":")
    like = 'like "back: 45 (48, 52) cm; multiple of 4 plus 2; steps of 8; at most 120"'
    if not colon or not name.strip():
        raise NoPlan(f'--want takes a name and what it should be, {like}; "{words}" is not that.')
    target, *more = [part.strip() for part in rest.split(";")]
    targets: tuple[Fraction | None, ...]
    if not target or target in {"any", "free"}:
        targets = (None,) * sizes
    else:
        counts = numbers(
            re.sub(r"\s*(?:sts?|stitches|rows?|rnds?|rounds?)$", "", target, flags=re.IGNORECASE)
        )
        if not counts:
            if per_mm is None:
                raise NoPlan(f'"{target}" is a length: give the gauge too, or the stitches themselves.')
            counts = tuple(mm * per_mm for mm in lengths_mm(target, "--want"))
        targets = counts * sizes if len(counts) == 1 else counts
    of, plus, least, most = 1, 0, 0, MOST_COUNT
    steps: tuple[int, ...] = ()
    for part in more:
        low = part.lower()
        if low in {"even", "odd"}:
            of, plus = 2, int(low == "odd")
        elif m := re.fullmatch(r"at most (\d{1,5})(?: sts)?", low):
            most = int(m[1])
        elif m := re.fullmatch(r"at least (\d{1,5})(?: sts)?", low):
            least = int(m[1])
        elif m := re.fullmatch(r"steps? of (\d{1,3}(?: or \d{1,3})*)(?: sts)?", low):
            steps = tuple(int(n) for n in m[1].split(" or "))
        elif (m := _MULTIPLE.fullmatch(low)) and int(m["of"]):
            of, plus = int(m["of"]), int(m["plus"] or 0)
        else:
            raise NoPlan(f'"{part}" is not understood; write it {like}.')
    found = [t for t in targets if t is not None]
    if found and of + plus > max(found) * 2:
        raise NoPlan(
            f"{name.strip()}: a repeat of {of} sts{f' plus {plus}' if plus else ''} is wider than the "
            f"whole, which is "
            f"{float(max(found)):.0f} sts."
        )
    return Unknown(name=name.strip(), targets=targets, of=of, plus=plus, least=least, most=most, steps=steps)


_TERM = re.compile(
    r"\s*(?P<sign>[+-])?\s*(?:(?P<times>\d{1,4})\s*(?:x|times|\*)?\s*)?"
    r"(?P<name>[^\d+\-=<>][^+\-=<>]*?)?\s*(?=[+-]|$)"
)


def _sum(words: str, known: tuple[str, ...]) -> tuple[dict[str, int], int]:
    """The terms of one side, and the number that stands alone."""
    terms: dict[str, int] = {}
    alone = 0
    at = 0
    while at < len(words.rstrip()):
        m = _TERM.match(words, at)
        if m is None or m.end() == at or (m["times"] is None and m["name"] is None):
            raise NoPlan(
                f'"{words.strip()}" is not understood in a rule; '
                'write it like "yoke = body + 2 sleeve - 4 underarm".'
            )
        sign = -1 if m["sign"] == "-" else 1
        if m["name"]:
            name = next(
                (
                    k
                    for k in known
                    if k.lower() in {m["name"].lower(), m["name"].lower().rstrip("s")}
                    or f"{k.lower()}s" == m["name"].lower()
                ),
                None,
            )
            if name is None:
                raise NoPlan(f'The rule speaks of "{m["name"]}", and only {", ".join(known)} are wanted.')
            terms[name] = terms.get(name, 0) + sign * int(m["times"] or 1)
        else:
            alone += sign * int(m["times"])
        at = m.end()
    return terms, alone


def rule_of(words: str, known: tuple[str, ...]) -> Rule:
    """A rule: "front = back", "yoke = body + 2 sleeve - 4 underarm", "rows is even", "body >= 2 sleeve".
    Raises NoPlan.
    """
    said = " ".join(words.split())
    if m := re.fullmatch(
        r"(?P<sum>.+?) (?:is|are) "
        r"(?:(?P<parity>even|odd)|a multiple of (?P<of>\d{1,4})(?: plus (?P<plus>\d{1,4}))?)",
        said,
        re.IGNORECASE,
    ):
        terms, alone = _sum(m["sum"], known)
        of = int(m["of"] or 2)
        plus = int(m["plus"] or 0) if m["of"] else int(m["parity"].lower() == "odd")
        if of < 1 or not terms:
            raise NoPlan(f'The rule "{said}" says nothing that could be kept.')
        return Rule(terms=terms, equals=plus - alone, of=of, words=said)
    for sign in (">=", "="):
        left, found, right = said.partition(sign)
        if found:
            terms, alone = _sum(left, known)
            others, other = _sum(right, known)
            for name, times in others.items():
                terms[name] = terms.get(name, 0) - times
            terms = {name: times for name, times in terms.items() if times}
            if not terms:
                raise NoPlan(f'The rule "{said}" says nothing that could be kept.')
            return Rule(terms=terms, equals=other - alone, least=sign == ">=", words=said)
    raise NoPlan(f'A rule is written like "front = back" or "rows is even"; "{said}" is not that.')
