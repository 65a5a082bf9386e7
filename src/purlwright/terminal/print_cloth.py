"""The cloth of a pattern, as a page: size, how it lies, yarn, what the figures stand on, pictures.

In: the answer and the page to write on. Out: lines of text.
"""

from __future__ import annotations

from purlwright.pattern.words_numbers import ordinal_words
from purlwright.proof.said import count
from purlwright.terminal.look import Look, cut, pad, plain, width_of, wrap
from purlwright.units import length_words
from purlwright.wire.cloth import ClothMeasureOut, ClothOut, ClothPieceOut, ClothRowOut, ClothYarnOut

__all__ = ["show_cloth"]

_TOLD = {
    "stated": "Stated",
    "assumed": "Assumed",
    "rule of thumb": "Rules of thumb",
    "missing": "Not known",
}
_SEEN_MM, _SEEN = 2.5, 0.005
"""Less than so many mm, or than this share, is not seen on a tape measure."""
_QUARTERS = (0.25, 0.5, 0.75)


def show_cloth(done: ClothOut, look: Look, *, by_row: bool) -> list[str]:
    """Size, shape and yarn with their ranges, then what they stand on; with ``by_row`` every row too."""
    chosen = [f"{value} {name}" for name, value in done.options.items()]
    out = [f"{look.strong(plain(done.title))} ({plain(', '.join([f'size {done.size}', *chosen]))})"]
    if not done.known:
        out += ["", *wrap("Nothing says how large a stitch is, so only proportions are told.", look.width)]
    for piece in done.pieces:
        out += ["", *_piece(piece, look, known=done.known)]
    for measure in done.measures:
        out += ["", *_measure(measure, look)]
    if done.stated:
        out += ["", look.strong("What the pattern says of its measures and its yarn")]
    for check in done.stated:
        fails = f"does not hold, line {check.line}" if check.line is not None else "does not hold"
        answer = f"holds, {count(check.places, 'place')}" if check.result == "holds" else fails
        out += _indented(f"{check.holds[:1].upper()}{check.holds[1:]}: {answer}.", look, "  ")
        out += [line for words in check.words for line in _indented(plain(words), look, "    ")]
    if done.known:
        out += ["", look.strong("Yarn")]
        for yarn in done.yarns:
            out += _yarn(yarn, look)
    out += _gone(done, look)
    for left in done.left:
        of = f"{left.grams:.0f} g" if left.grams is not None else f"{left.metres:.0f} m"
        out += ["", look.strong(f"With {of} of {plain(left.yarn)} left")]
        said = left.words or ["Not enough to finish from any row on."]
        out += [line for words in said for line in _indented(plain(words), look, "  ")]
    if by_row:
        out += ["", *_by_row(done, look)]
    for basis, title in _TOLD.items():
        mine = [one for one in done.said if one.basis == basis]
        if mine:
            out += ["", look.strong(title)]
        for one in mine:
            where = f" (line {one.line})" if one.line is not None else ""
            source = f" Source: {one.source}" if one.source else ""
            out += _indented(f"{plain(one.words)}{where}{plain(source)}", look, "  - ")
    if done.files:
        wide = max(width_of(plain(f.file)) for f in done.files)
        out += ["", *(f"  {pad(plain(f.file), wide)}  {look.faint(f.what)}" for f in done.files)]
    if done.errors:
        errors = count(done.errors, "error")
        out += [
            "",
            look.bad(f"The pattern has {errors} in this size; this is what was knitted."),
        ]
    return out


def _piece(piece: ClothPieceOut, look: Look, *, known: bool) -> list[str]:
    """Its measures, one a line, and how it lies; of a size that is not known, each beside the largest."""
    out = [look.strong(plain(piece.name))]
    wide = max((width_of(plain(f.of)) for f in piece.figures), default=0)
    largest = max((f.mm for f in piece.figures), default=1.0)
    for f in piece.figures:
        if not known:
            out.append(f"  {pad(plain(f.of), wide)}  {f.mm / largest:>4.0%} of the largest measure")
            continue
        cm = length_words(f.mm, "cm")
        between = f"{length_words(f.least, 'cm')} to {length_words(f.most, 'cm')}"
        out.append(f"  {pad(plain(f.of), wide)}  {cm:>5} cm  {look.faint(between)}")
    return [*out, *(line for words in piece.told for line in _indented(plain(words), look, "  "))]


def _measure(measure: ClothMeasureOut, look: Look) -> list[str]:
    """A stated measure and ours, one size a line, with how much ours is more or less."""
    words = " ".join(measure.words.split()).strip(" ;:,.")
    out = [look.strong(cut(f'Line {measure.line}: "{plain(words)}"', look.width))]
    of = f"beside {plain(measure.made_of)}" if measure.made_of else "What makes it is not known."
    out += _indented(of, look, "  ")
    wide = max(width_of(plain(s.size)) for s in measure.sizes)
    for s in measure.sizes:
        stated = f"  {pad(plain(s.size), wide)}  stated {length_words(s.stated_mm, 'cm'):>5} cm"
        if s.ours_mm is None:
            out.append(stated)
            continue
        off = s.ours_mm - s.stated_mm
        share = abs(off) / s.stated_mm
        same = abs(off) < _SEEN_MM or share < _SEEN
        beside = "the same" if same else f"{share:.0%} {'more' if off > 0 else 'less'}"
        out.append(f"{stated}  knitted {length_words(s.ours_mm, 'cm'):>5} cm  {look.faint(beside)}")
    return out


def _yarn(yarn: ClothYarnOut, look: Look) -> list[str]:
    """How much in all, then what it goes into, largest first."""
    metres = f"{yarn.metres:.0f} m ({yarn.metres_least:.0f} to {yarn.metres_most:.0f})"
    amounts = [metres]
    if yarn.grams is not None and yarn.grams_least is not None and yarn.grams_most is not None:
        amounts.append(f"{yarn.grams:.0f} g ({yarn.grams_least:.0f} to {yarn.grams_most:.0f})")
    if yarn.balls is not None:
        amounts.append(count(yarn.balls, "ball"))
    if yarn.strands > 1:
        amounts.append(f"{yarn.strands} strands held together")
    out = _indented(f"{plain(yarn.name)}: {', '.join(amounts)}", look, "  ")
    parts = sorted(yarn.parts, key=lambda p: -p.metres)
    if len(parts) > 1:
        told = ", ".join(f"{plain(p.name)} {p.metres:.{0 if p.metres >= 10 else 1}f} m" for p in parts)
        out += [look.faint(line) for line in _indented(told, look, "    ")]
    have = f"{yarn.metres_to_have:.0f} m"
    if yarn.grams_to_have is not None:
        have += f", {yarn.grams_to_have:.0f} g"
    told = f"to have, with an eighth over: {have}"
    return [*out, *(look.faint(line) for line in _indented(told, look, "    "))]


def _gone(done: ClothOut, look: Look) -> list[str]:
    """After which row a quarter, half and three quarters of the yarn are gone."""
    told = []
    for share in _QUARTERS:
        row = next((r for r in done.rows if r.gone >= share), None)
        if row is not None:
            told.append(f"{share:.0%} after {_row(row)} (line {row.line})")
    return ["", *wrap(f"Gone: {', '.join(told)}.", look.width)] if told and done.rows else []


def _by_row(done: ClothOut, look: Look) -> list[str]:
    """Every row: how much is gone, and below how much of each yarn she should stop."""
    names = [plain(y.name) for y in done.yarns]
    out = [look.strong("After each row, what is gone, and stop here if less than this is left")]
    wide = min(max((width_of(_row(r)) for r in done.rows), default=0), 32)
    piece = ""
    for row in done.rows:
        if row.piece != piece:
            piece = row.piece
            out.append(look.faint(f"  {plain(piece)}"))
        need = [
            f"{name} {f'{g:.0f} g' if g is not None else f'{m:.0f} m'}"
            for name, m, g in zip(names, row.metres_needed, row.grams_needed, strict=True)
            if m >= 0.5
        ]
        out.append(f"  {pad(cut(_row(row), wide), wide)}  {row.gone:>4.0%}  {', '.join(need)}")
    return out


def _row(row: ClothRowOut) -> str:
    """``Row 5``, or ``Row 5, third time``."""
    again = f", {ordinal_words(row.time)} time" if row.time > 1 else ""
    return f"{plain(row.label)}{again}"


def _indented(words: str, look: Look, first: str) -> list[str]:
    """Words in lines, all of them set in as far as ``first`` is wide."""
    lines = wrap(words, look.width - len(first))
    return [f"{first if n == 0 else ' ' * len(first)}{line}" for n, line in enumerate(lines)]
