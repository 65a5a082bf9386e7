"""Small changes of a text, as they are made at a desk: for laws about texts that are read again after an edit."""

import re

TYPED = "k2 p,;.()*w0a:\n>#"
MORE = (" (71 sts)", " Turn.", " Repeat row 2 once more.", " Place marker.")


def edited(text, chance):
    """The text with one small change.

    A line gone, twice, or exchanged with the next; a number; a word in full; a character more or less, as while
    one types; a sentence more.
    """
    lines = text.split("\n")
    at = chance.randrange(min(3, len(lines) - 1), len(lines))
    line = lines[at]
    kind = chance.randrange(9)
    numbers = list(re.finditer(r"\d+", line))
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(at, line)
    elif kind == 2 and at + 1 < len(lines):
        lines[at], lines[at + 1] = lines[at + 1], line
    elif kind == 3:
        lines[at] = re.sub(r"\b[Kk](?=\d)", "knit ", line, count=1)
    elif kind == 4:
        where = chance.randrange(len(line) + 1)
        lines[at] = line[:where] + chance.choice(TYPED) + line[where:]
    elif kind == 5 and line:
        where = chance.randrange(len(line))
        lines[at] = line[:where] + line[where + 1 :]
    elif kind == 6:
        lines[at] = line + chance.choice(MORE)
    elif numbers:
        m = chance.choice(numbers)
        lines[at] = line[: m.start()] + str(chance.randrange(1, 12)) + line[m.end() :]
    return "\n".join(lines)
