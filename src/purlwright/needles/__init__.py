"""The knitting: live loops, needles, holders and markers; trees become fabric, moves and a ledger."""
