"""Reading the knitting: clues, stages, seams and grafts, rows stitch by stitch, all read off what was
knitted.
"""
