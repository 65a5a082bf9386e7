"""One pattern from its text to its cloth: its size, how it lies, its yarn, and pictures of it on the disk.

In: a pattern and a call. Out: what was reckoned and which files were written; or :class:`Unusable`. The
reckoning and the drawing are done in the rooms below.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from purlwright.files import Unusable, base_name, folder_for, picture_file, safe, slug, write_made
from purlwright.findings import Severity
from purlwright.several import options_asked, size_asked, unusual
from purlwright.wire import SheetFileOut
from purlwright.wire.cloth import (
    ClothCheckOut,
    ClothFigureOut,
    ClothInSizeOut,
    ClothLeftOut,
    ClothMeasureOut,
    ClothOut,
    ClothPieceOut,
    ClothRowOut,
    ClothSaidOut,
    ClothYarnOut,
    YarnPartOut,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from purlwright.cloth.loop_drawing import Look as LoopLook
    from purlwright.cloth.said import Said
    from purlwright.cloth.settled import Settled
    from purlwright.cloth.told import PieceTold
    from purlwright.cloth.yarn import YarnTaken, YarnUse
    from purlwright.drawing import Drawing
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry
    from purlwright.proof.beside import Beside
    from purlwright.terminal.arguments import Call
    from purlwright.workup import WorkUp

__all__ = ["cloths"]

_WHAT = {
    "svg": "picture in shapes",
    "png": "picture in dots",
    "glb": "solid, to be turned about in a 3D viewer",
}
_CLOSER = 2
"""How many times its own size a close-up is drawn."""
MOST_IN_A_SOLID = 20_000
"""More stitches than that are too many for a solid made of loops."""


def cloths(work: WorkUp, call: Call) -> ClothOut:
    """Reckon the cloth of one size, and write the pictures that are asked for. Raises Unusable."""
    size = size_asked(work, call.size)
    options = options_asked(work, call.options)
    knitted = work.knitted(size, options)
    if not knitted.fabric.n or not any(e.worked for e in knitted.ledger.entries):
        raise Unusable("Nothing is knitted in this pattern, so there is no cloth.")
    from purlwright.cloth.told import left_open, pieces_told
    from purlwright.cloth.twisted import twists_left_out

    taken = work.yarn(size, options)
    left = [_left(words, taken, knitted) for words in call.yarn_left]
    settled = work.settled(size, options)
    files = _write(work, call, size, options)
    return ClothOut(
        title=work.title,
        size=size,
        options={name: options.get(name, values[0]) for name, values in work.options},
        known=taken.known,
        pieces=[_piece(one) for one in pieces_told(knitted, settled)],
        measures=[_measure(one) for one in work.beside(options)],
        stated=list(_stated(work, size, options)),
        yarns=[_yarn(use, work, size) for use in taken.uses],
        rows=list(_rows(taken, knitted)),
        left=left,
        said=[
            _said(one, work)
            for one in (*taken.said, *left_open(knitted, settled.mesh), *twists_left_out(work.source))
        ],
        files=files,
        errors=sum(f.severity is Severity.ERROR for f in work.findings(size, options)),
    )


_MEASURES = ("C038", "C053", "C054", "C055", "C057", "C058", "C062", "C063", "C064", "C116", "C117")
"""The checks that set what the pattern says of its measures and its yarn beside what the rows give."""


def _piece(one: PieceTold) -> ClothPieceOut:
    return ClothPieceOut(
        name=one.name,
        lies=one.lies,
        told=list(one.told),
        figures=[
            ClothFigureOut(
                of=f.of,
                mm=round(f.mm, 1),
                least=round(f.mm - f.off_mm, 1),
                most=round(f.mm + f.off_mm, 1),
            )
            for f in one.figures
        ],
        area_mm2=round(one.area_mm2),
    )


def _measure(one: Beside) -> ClothMeasureOut:
    return ClothMeasureOut(
        words=one.words,
        line=one.line,
        made_of=one.made_of,
        sizes=[
            ClothInSizeOut(
                size=s.size,
                stated_mm=round(float(s.stated_cm) * 10, 1),
                ours_mm=None if s.ours_cm is None else round(float(s.ours_cm) * 10, 1),
            )
            for s in one.sizes
        ],
    )


def _stated(work: WorkUp, size: str, options: Mapping[str, str]) -> Iterator[ClothCheckOut]:
    """What the checks of measures answer, where the pattern says something that they can judge."""
    from purlwright.findings import Result
    from purlwright.proof.catalogue import CATALOGUE

    proved = work.proved(size, options)
    for verdict in proved.verdicts:
        if verdict.check not in _MEASURES or verdict.result not in {Result.HOLDS, Result.FAILS}:
            continue
        found = [f for f in proved.findings if f.check == verdict.check]
        yield ClothCheckOut(
            check=verdict.check,
            holds=CATALOGUE[verdict.check].title,
            result=str(verdict.result),
            places=verdict.places,
            line=min((work.source.place(f.span.start)[0] for f in found), default=None),
            words=[f.message for f in found],
        )


# --- yarn ------------------------------------------------------------------------------------------


def _yarn(use: YarnUse, work: WorkUp, size: str) -> ClothYarnOut:
    from purlwright.cloth.yarn_left import balls_for

    bounds = use.grams_least_most
    grams = use.grams(use.metres)
    ball = _ball_metres(use, work, size)
    return ClothYarnOut(
        name=use.name or _UNNAMED,
        metres=round(use.metres, 2),
        metres_least=round(use.least, 2),
        metres_most=round(use.most, 2),
        grams=None if grams is None else round(grams, 1),
        grams_least=None if bounds is None else round(bounds[0], 1),
        grams_most=None if bounds is None else round(bounds[1], 1),
        metres_to_have=round(use.to_have, 2),
        grams_to_have=None if grams is None else round(use.grams(use.to_have) or 0.0, 1),
        balls=None if ball is None else balls_for(use.most, ball),
        strands=use.strands,
        parts=[YarnPartOut(name=p.name, metres=round(p.metres, 2)) for p in use.parts],
    )


def _ball_metres(use: YarnUse, work: WorkUp, size: str) -> float | None:
    from purlwright.proof.balls import metres_of_a_ball

    if use.entry is None:
        return None
    yarn = work.pattern.header.yarns[use.entry]
    ball = metres_of_a_ball(yarn, len(work.sizes), work.sizes.index(size))
    return None if ball is None else float(ball)


def _rows(taken: YarnTaken, knitted: Knitted) -> Iterator[ClothRowOut]:
    """Every row that takes yarn, with what is gone after it and what is still needed."""
    entries = _entries(knitted)
    gone = taken.share
    most = [use.most / use.metres if use.metres else 1.0 for use in taken.uses]
    after = taken.metres.sum(axis=0) - taken.metres.cumsum(axis=0)
    for n, order in enumerate(taken.order.tolist()):
        piece, entry = entries[order]
        need = [max(float(m), 0.0) * much for m, much in zip(after[n], most, strict=True)]
        weigh = [use.grams(m) for use, m in zip(taken.uses, need, strict=True)]
        yield ClothRowOut(
            order=order,
            piece=piece,
            label=_name_of(entry),
            line=entry.line,
            time=entry.pass_,
            gone=round(float(gone[n]), 4),
            metres_needed=[round(m, 2) for m in need],
            grams_needed=[None if g is None else round(g, 1) for g in weigh],
        )


def _entries(knitted: Knitted) -> dict[int, tuple[str, Entry]]:
    return {e.order: (piece.name, e) for piece in knitted.ledger.pieces for e in piece.rows}


def _said(one: Said, work: WorkUp) -> ClothSaidOut:
    line = None if one.span is None else work.source.place(one.span.start)[0]
    return ClothSaidOut(basis=str(one.basis), words=one.words, source=one.source, line=line)


# --- what is left ----------------------------------------------------------------------------------

_AMOUNT = re.compile(
    r"(?:(?P<yarn>.*\S)\s*[:=]\s*)?(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>g|grams?|m|metres?|meters?|yd|yds|yards?|oz)",
    re.IGNORECASE,
)
_UNNAMED = "yarn"
"""What a yarn is called that has no letter or name."""
_METRES = {"m": 1.0, "y": 0.9144}
_GRAMS = {"g": 1.0, "o": 28.349523125}


def _left(words: str, taken: YarnTaken, knitted: Knitted) -> ClothLeftOut:
    """What an amount of yarn is enough for: "34 g", "B: 20 m". Raises Unusable."""
    found = _AMOUNT.fullmatch(words.strip())
    if found is None:
        raise Unusable(f'--yarn-left takes an amount, like "34 g" or "B: 20 m"; "{safe(words)}" is not that.')
    use = _named(found["yarn"], taken)
    number, unit = float(found["number"]), found["unit"][0].lower()
    per_metre = use.grams(1.0)
    if unit in _METRES:
        metres = number * _METRES[unit]
    elif per_metre is None:
        raise Unusable(
            "The pattern does not say how long its yarn is for its weight; give --yarn-left in metres, or "
            "write the yarn's length, like 200 m per 100 g."
        )
    else:
        metres = number * _GRAMS[unit] / per_metre
    return _answer(metres, use, taken, knitted)


def _named(name: str | None, taken: YarnTaken) -> YarnUse:
    names = ", ".join(use.name or _UNNAMED for use in taken.uses)
    if name is None:
        if len(taken.uses) != 1:
            raise Unusable(f'Several yarns are used; say which is left, like "{taken.uses[0].name}: 34 g".')
        return taken.uses[0]
    for use in taken.uses:
        if (use.name or _UNNAMED).casefold() == name.casefold():
            return use
    raise Unusable(f'No yarn is called "{safe(name)}"; there are {names}.')


def _answer(metres: float, use: YarnUse, taken: YarnTaken, knitted: Knitted) -> ClothLeftOut:
    from purlwright.cloth.yarn_left import last_repeat, needed_after, one_more

    entries = _entries(knitted)
    enough = next((o for o in taken.order.tolist() if needed_after(taken, use, o)[1] <= metres), None)
    words = []
    if enough is not None:
        _, entry = entries[enough]
        words.append(f"Enough to finish from the end of {_name_of(entry)} on (line {entry.line}).")
    more = ""
    again = last_repeat(knitted)
    if again is not None:
        answer = one_more(taken, use, again.rows, again.rows[-1], metres, again.growth)
        more = "yes" if answer.sure else "no" if answer.no else "perhaps"
        many = len(again.rows)
        label = f"the {many} rows up to {_name_of(entries[again.rows[-1]][1])}"
        words.append(
            f"To work {label if many > 1 else label[len('the 1 rows up to ') :]} once more takes about "
            f"{answer.repeat:.1f} m, and to end after it {answer.rest:.1f} m: {_MORE[more]}."
        )
    weigh = use.grams(metres)
    return ClothLeftOut(
        yarn=use.name or _UNNAMED,
        metres=round(metres, 2),
        grams=None if weigh is None else round(weigh, 1),
        enough_after=enough,
        one_more=more,
        words=words,
    )


_MORE = {
    "yes": "there is enough for both",
    "no": "there is not enough for both",
    "perhaps": "it may just do, and may not; weigh again before you begin it",
}


def _name_of(entry: Entry) -> str:
    return entry.label or str(entry.kind).replace("-", " ")


# --- pictures --------------------------------------------------------------------------------------


def _write(work: WorkUp, call: Call, size: str, options: Mapping[str, str]) -> list[SheetFileOut]:
    kinds = list(dict.fromkeys(call.kinds or ("svg",)))
    name = base_name(
        work.source.name,
        work.title,
        (size if call.size is not None else "", *unusual(work, options)),
        "pattern",
    )
    made: dict[str, bytes] = {}
    which: dict[str, str] = {}
    flat = [kind for kind in kinds if kind != "glb"]
    for picture, drawing, title, told in _pictures(work, call, size, options) if flat else ():
        for kind in flat:
            made[f"{name}.{picture}.{kind}"] = picture_file(drawing, kind, title, told)
            which[f"{name}.{picture}.{kind}"] = kind
    if "glb" in kinds:
        made[f"{name}.cloth.glb"] = _solid(work, size, options)
        which[f"{name}.cloth.glb"] = "glb"
    paths = write_made(folder_for(work.source.name, call.out), made)
    return [
        SheetFileOut(kind=which[n], file=path, what=_WHAT[which[n]], bytes=len(made[n]))
        for n, path in zip(made, paths, strict=True)
    ]


def _pictures(
    work: WorkUp, call: Call, size: str, options: Mapping[str, str]
) -> Iterator[tuple[str, Drawing, str, str]]:
    """Each picture with the word for its file, its title and what it shows."""
    from purlwright.cloth.portrait import NoWrongSide, lies_flat, portrait

    if call.rows is not None or call.section is not None:
        yield from _close_up(work, call, size, options)
        return
    settled = work.settled(size, options)
    if lies_flat(settled):
        settled = work.settled(size, options, lies="blocked")
    if call.outlines:
        yield from _outlines(work, work.knitted(size, options), settled)
        return
    wrong = call.seen_from == "wrong"
    try:
        drawing, told = portrait(
            work.knitted(size, options), settled, _look(work), side="wrong" if wrong else "right"
        )
    except NoWrongSide as why:
        raise Unusable(str(why)) from None
    yield "cloth-wrong-side" if wrong else "cloth", drawing, work.title or "Cloth", told


def _outlines(work: WorkUp, knitted: Knitted, settled: Settled) -> Iterator[tuple[str, Drawing, str, str]]:
    """Each piece to scale, with its measures; pieces of one name are numbered."""
    from purlwright.cloth.outlines import outlines

    found = list(outlines(knitted, settled, work.title))
    if not found:
        raise Unusable(
            "No gauge, yarn class or needle tells how large the cloth is, so nothing can be drawn to scale."
            if not settled.gauge.scaled
            else "No piece has enough rows for an outline."
        )
    for n, one in enumerate(found):
        alone = len(found) == 1
        name = "outline" if alone else f"outline-{slug(one.name) or n + 1}"
        yield name, one.drawing, f"{one.name}: outline", one.words


def _close_up(
    work: WorkUp, call: Call, size: str, options: Mapping[str, str]
) -> Iterator[tuple[str, Drawing, str, str]]:
    """Some rows, loop by loop: one picture a section that has them."""
    from purlwright.cloth.close_up import NoCloseUp, close_ups
    from purlwright.cloth.loop_drawing import draw_loops

    gauge = work.fabric_gauge(size, options)
    try:
        found = close_ups(
            work.knitted(size, options), gauge, section=call.section, rows=call.rows, columns=call.columns
        )
    except NoCloseUp as why:
        raise Unusable(str(why)) from None
    side: Literal["right", "wrong"] = "wrong" if call.seen_from == "wrong" else "right"
    across = "" if call.columns is None else "-".join(dict.fromkeys(str(n) for n in call.columns))
    numbers = "" if call.rows is None else "-".join(dict.fromkeys(str(n) for n in call.rows))
    for one in found:
        drawing = draw_loops(one.loops, _look(work), side=side, scale=_CLOSER)
        name = ["rows", numbers, slug(one.section) if len(found) > 1 or call.section else ""]
        title = one.section or work.title or "Rows"
        shows = f"row{'s' if '-' in numbers else ''} {numbers}" if numbers else "all rows"
        if across:
            name.append(f"sts-{across}")
            shows += f", stitch{'es' if '-' in across else ''} {across} from the right edge"
        yield (
            "-".join(filter(None, [*name, "wrong-side" if side == "wrong" else ""])),
            drawing,
            f"{title}: {shows}",
            f"The {side} side, {_CLOSER} times its size, each stitch as the loop of yarn it is.",
        )


def _look(work: WorkUp) -> LoopLook:
    from purlwright.cloth.portrait import look_for

    return look_for(work.pattern.header, work.knitted())


def _solid(work: WorkUp, size: str, options: Mapping[str, str]) -> bytes:
    from purlwright.cloth.gltf import to_glb
    from purlwright.cloth.portrait import loops_of

    knitted = work.knitted(size, options)
    if knitted.fabric.n > MOST_IN_A_SOLID:
        raise Unusable(
            f"The cloth has {knitted.fabric.n:,} stitches; a solid of more than {MOST_IN_A_SOLID:,} loops is "
            "too much for most viewers."
        )
    return to_glb(loops_of(knitted, work.settled(size, options)), _look(work), title=work.title)
