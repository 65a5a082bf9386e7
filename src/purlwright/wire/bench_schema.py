"""The schema of all that the bench's page and its server say to each other.

In: the structs of ``bench`` and its neighbours. Out: one JSON Schema with a definition for each, committed as
``schema/bench.schema.json`` and held current by a test; the page's own tests read it too.
"""

from __future__ import annotations

import json

import msgspec
from msgspec import Struct

from purlwright.wire import bench, bench_files, bench_looks, bench_lost, bench_plans, plan

__all__ = ["MESSAGES", "bench_schema"]

MESSAGES: tuple[type[Struct], ...] = tuple(
    kind
    for room in (bench_files, bench, bench_looks, bench_lost, bench_plans, plan)
    for name in room.__all__
    if isinstance(kind := getattr(room, name), type) and issubclass(kind, Struct)
)
"""Every message and every part of one."""


def bench_schema() -> str:
    """The JSON Schema: what is asked ends in ``In``, what is answered in ``Out``."""
    _, parts = msgspec.json.schema_components(MESSAGES, ref_template="#/$defs/{name}")
    whole = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "purlwright bench",
        "anyOf": [{"$ref": f"#/$defs/{kind.__name__}"} for kind in MESSAGES],
        "$defs": dict(sorted(parts.items())),
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"
