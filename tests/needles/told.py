"""Everything a knitting says, to be compared with another."""

import numpy as np


def told(knitted):
    """Ledger, arrays, words, findings: spans as the words they stand for, whatever their numbers are."""
    fabric, moves = knitted.fabric, knitted.moves
    arrays = {
        (type(of), name): (getattr(of, name).dtype, getattr(of, name).tobytes())
        for of in (fabric, moves)
        for name in of.__slots__
        if isinstance(getattr(of, name), np.ndarray) and "span" not in name
    }
    spans = np.stack([fabric.span_start, fabric.span_end], axis=1)
    words = spans[fabric.span_of_stitch].tobytes(), spans[moves.span_of_move].tobytes()
    findings = [(f.code, f.span, f.message) for f in knitted.findings]
    return (
        knitted.ledger, arrays, fabric.yarns, words, findings, dict(knitted.places), knitted.unproved
    )  # fmt: skip


def bit_for_bit(knitted):
    """As ``told``, and the numbers of spans and the log with it."""
    fabric = knitted.fabric
    spans = [a.tobytes() for a in (fabric.span_start, fabric.span_end, fabric.span_of_stitch)]
    log = [tuple(x.tolist() if isinstance(x, np.ndarray) else x for x in item) for item in knitted.log]
    return *told(knitted), spans, log
