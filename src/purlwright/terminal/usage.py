"""How Purlwright is called, as text. Nothing heavy is loaded: this is what ``--help`` prints."""

from __future__ import annotations

from purlwright.terminal.arguments import OPTIONS, kinds_of

__all__ = ["usage"]

_HEAD = """\
Purlwright knits a written pattern stitch by stitch and says what came off the needles.
"""

_COMMANDS = """\
To prove it
  purlwright proof FILE...        what holds, what fails and where, what cannot be decided
  purlwright ledger FILE          every row as it was worked: side, counts, gaps
  purlwright suggest FILE         other words for the same knitting: totals, lists of rows, one size
  purlwright compare OLD NEW      what differs in meaning between two versions, and whom it touches
  purlwright explain CODE         what a finding or a check means, and its cure

To give it out
  purlwright sheet FILE           the finished sheet: print, web page, plain text
  purlwright chart FILE           its charts: squares, key and repeats, as pictures and print
  purlwright test-knit FILE       a pack for a test knitter; what her answers say of the pattern

To plan it
  purlwright plan WHAT            whole numbers for every size: patterns to begin from, rates
  purlwright regauge FILE         the same pattern at another gauge, and what moved
  purlwright gauge GAUGE          stitches and rows to lengths and back, your own gauge, a swatch
  purlwright cloth FILE           its size and shape, how it lies, how much yarn, and pictures of it

To teach it, and to help who is lost
  purlwright lesson FILE          a lesson on it: stages, practice, exercises, each stitch shown
  purlwright clues FILE           what tells you in the knitting where you are, and that all is well
  purlwright where FILE           where you are: the row, from what you can see of the work
  purlwright rescue FILE          what went wrong and where, and what mends it

All of it in one page
  purlwright bench [FOLDER]       in your web browser, on your own machine

  purlwright COMMAND --help       how a command is called, with its options
  purlwright --version
"""

_TAIL = """\
Every command takes --json: one JSON object, for other programs.
FILE is a pattern in plain text (*.pattern.md); - reads standard input. proof also takes a folder.
Answers: 0 no error, 1 an error in the pattern, 2 the call or the file cannot be used.
"""

_ONE = {
    "ledger": """\
purlwright ledger FILE

Knits one size of a pattern, the first unless you name another, and lists every row or round:
the stitches it starts with, works, leaves, makes and loses, and those it ends with.
""",
    "proof": """\
purlwright proof FILE_OR_FOLDER...

Knits every size and every option of each pattern and says what was proved: which checks hold and
at how many places, which fail and at which words, which cannot be decided and what is missing.
A folder stands for every *.pattern.md in it; several patterns are proved side by side.
""",
    "sheet": """\
purlwright sheet FILE

Writes the pattern sheet that a knitter holds, from what was really knitted: a print (A4, US Letter
or large print), a web page, a page that shows one row at a time, and plain text, to be read or to
be heard. They are put beside the pattern or in a folder. A sheet is for all sizes or one, and for
one choice of the pattern's options. A file that Purlwright did not write is not replaced.
""",
    "chart": """\
purlwright chart FILE

Draws the charts of a pattern from what was knitted, for one size: the charts you typed, with the
usual signs, your stitch patterns, and sections with lace, cables, colours, texture or short rows.
Repeats are framed once, and only if all their copies are the same. The files stand beside the
pattern, or in the folder of --out.
""",
    "clues": """\
purlwright clues FILE

Reads the knitted rows of each section and tells the few true things that keep a knitter on the
path: a count that tells the row, where the holes stand, how many wait beyond a turn. Each says for
which rows it holds and where it stops. At most three a section, those that show most for the least
counting first; --all tells every one.
""",
    "cloth": """\
purlwright cloth FILE

Says before a stitch is knitted how large one size will be, how it will lie, and how much yarn it
takes, reckoned from every stitch at the gauge, with how far each may be off. What is stated, what
is a rule of thumb and what was assumed is told apart. Draws the cloth as it takes its shape; with
--rows some rows loop by loop, from either side; --as glb a solid for a 3D viewer.
""",
    "lesson": """\
purlwright lesson FILE

Writes a lesson pack from what was knitted: the new moves in order, the stages to have ready on the
needles with their pictures and counts, checkpoints, a practice piece, exercises with a planted
mistake and their answers, grafts drawn, a kit for the class, a caption and a count for each row.
The web page shows each row stitch by stitch. With --play ROW, writes one row as frames (PNG) and
captions (WebVTT) for a film.
""",
    "test-knit": """\
purlwright test-knit FILE --size NAME

Writes what a test knitter of one size needs: the sheet, a log to write into at the needles, and a
form in plain text. With --answers FORM, once for each form that came back, sets gauge, stitches,
size, yarn and time beside what was reckoned, and says whether a difference is her gauge, her
knitting, or the pattern.
""",
    "suggest": """\
purlwright suggest FILE

Offers other words that knit the same: totals that are lacking, repeats with times in all and rows,
one list of rows for what happens at the same time, a mirrored half written out. Each is knitted
beside the pattern. With --size, prints the pattern for that size only. Your file is not changed.
""",
    "compare": """\
purlwright compare OLD NEW

Knits two versions of a pattern in every size and choice of options and says what differs: rows,
sizes, totals, yarn. Words that changed while every stitch stayed the same are told apart. For each
size it says from which row on a knitter is affected. --notice writes the corrections to send out.
""",
    "gauge": """\
purlwright gauge GAUGE

Converts between stitches, rows and lengths at a gauge such as "22 sts and 30 rows to 10 cm", and
between the pattern's gauge and yours. Give yours as --mine, or measure a swatch: --swatch, and
--washed for the same swatch after washing. With a swatch, GAUGE may be left out. Lengths are in cm,
mm or inches; 4 in are taken as 10 cm.
""",
    "plan": """\
purlwright plan WHAT

Gives whole numbers that work in every size, how far each is from what was wanted, and for a
piece the pattern text ready to paste, proved in all sizes. WHAT is a piece: hat, hat-from-crown,
wedge-hat, mitten, sock, sock-from-toe, triangle-shawl, crescent-shawl, half-round-shawl,
round-mat, drop-shoulder, set-in, cardigan, raglan or round-yoke; or a question: counts, shaping,
evenly, buttonholes, pick-up, shoulder, heel, neck, v-neck, armhole, cap, crescent, dome, cone,
raglan-rates, circle, wedges or body. plan alone lists them with an example each.
""",
    "regauge": """\
purlwright regauge FILE --gauge GAUGE

Writes the pattern for another gauge: the same size in other counts, repeats kept whole. It says
what moved, what depends on the row gauge and how much yarn it takes. The new pattern is knitted and
proved in every size first; where no numbers near enough come out, it says at which words. Your file
is not changed.
""",
    "where": """\
purlwright where FILE --sts 77 --side WS

Names the row you have just finished, or every row it could be, from what you can see of the work,
and the one thing to look at next. Say --left and --right if you are in mid-row.
""",
    "rescue": """\
purlwright rescue FILE --sts 76 --odd ladder

Says what most likely went wrong and in which row, or that the pattern itself is at fault, and what
mends it: quick, tidy or perfect, each with its cost and the count you will then have, and each
proved by knitting on. At a terminal it asks what it needs; elsewhere it names the next question.
""",
    "explain": """\
purlwright explain [CODE or CHECK]...

Tells what a finding means at the needles, with an example and the cure. CODE is the name in
brackets after a finding, such as count-differs; CHECK a number such as C002. Alone, lists all.
""",
    "bench": """\
purlwright bench [FOLDER]

Opens a page in your web browser in which you write the patterns of a folder, the one you work in
unless you name another: sides and counts stand in the margin as you type, and what is wrong is
marked at its words. It is answered by your own machine and cannot be reached from any other.
What you type is kept at once, and every version can be had again. Ctrl-C ends it.
""",
}


_WIDE, _INDENT = 100, 25
"""Columns of a help text, and where what an option does begins."""


def _option_lines(command: str) -> str:
    lines = []
    for option, (commands, value, does) in OPTIONS.items():
        if option == "--as":
            does = f"These only, with commas between: {', '.join(kinds_of(command))}."
        if command in commands:
            line = f"  {f'{option} {value}'.strip():<22}"
            for word in does.split():  # by hand: a module for it would slow down --help
                if len(line) + 1 + len(word) > _WIDE:
                    lines.append(line)
                    line = " " * (_INDENT - 1)
                line += f" {word}"
            lines.append(line)
    return "\n".join(lines) + "\n"


def usage(command: str = "") -> str:
    """The help text: of one command, or of all when ``command`` is ""."""
    if command:
        return f"{_ONE[command]}\n{_option_lines(command)}"
    return f"{_HEAD}\n{_COMMANDS}\n{_TAIL}"
