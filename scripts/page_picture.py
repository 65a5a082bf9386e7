#!/usr/bin/env -S .venv/bin/python
"""Draws one page of a printed sheet as a picture for the documents.

    scripts/page_picture.py docs/pictures/sheet.png --page 2 examples/skerry-hat.pattern.md
    scripts/page_picture.py docs/pictures/large.png --page 2 --large examples/skerry-hat.pattern.md

The sheet is composed and set as `purlwright sheet` does it, of all sizes, on A4.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from purlwright.sheet.out.pdf import to_pages
from purlwright.workup import work_up


def main() -> None:
    call = argparse.ArgumentParser(description="One page of a printed sheet as PNG.")
    call.add_argument("picture", type=Path)
    call.add_argument("pattern", type=Path)
    call.add_argument("--page", type=int, default=1)
    call.add_argument("--large", action="store_true", help="in large print")
    call.add_argument("--across", type=int, default=620, help="width of the picture in pixels")
    asked = call.parse_args()
    sheet = work_up(asked.pattern.read_text(encoding="utf-8"), str(asked.pattern)).sheet(cloth=True)
    pages = to_pages(sheet, large=asked.large, pixels_per_mm=asked.across / 210)
    asked.picture.write_bytes(pages[asked.page - 1])


if __name__ == "__main__":
    main()
