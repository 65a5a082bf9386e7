"""The loops of a fabric as a solid for 3D viewers: one binary glTF 2.0 file (GLB) that holds everything.

In: :class:`~purlwright.cloth.loops.Loops` and the colours of the yarns. Out: bytes. The yarn is a round cord
along the middle line of each loop, one mesh a colour; metres, y upwards, the right side towards +z, as the
standard has it. Every corner carries the number of its stitch (``_STITCH``), so that a viewer can tell which
was touched.

Source: Khronos Group, glTF 2.0 Specification (ISO/IEC 12113:2022), sections 3.6-3.9 and 4.4 (GLB).
"""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.loop_drawing import Look, strands
from purlwright.cloth.loops import Floats, Loops

__all__ = ["FINE", "to_glb"]

FINE = 4000
"""Up to so many stitches the cord has all its points and eight sides; beyond, every other point and four."""
_FLOAT, _UINT, _CORNERS, _INDICES = 5126, 5125, 34962, 34963
_Single: TypeAlias = NDArray[np.float32]


def to_glb(loops: Loops, look: Look | None = None, *, title: str = "") -> bytes:
    """The loops as one GLB file. Raises ValueError when there are none."""
    if not len(loops.stitch):
        raise ValueError("there are no stitches to show")
    look = look or Look()
    out = _File(title)
    fine = len(loops.stitch) <= FINE
    points, which = _along(loops, fine=fine)
    for yarn in np.unique(loops.yarn):
        mine = loops.yarn[which] == yarn
        corners, normals, triangles, stitch = _cord(points[mine], loops.thick_mm / 2, 8 if fine else 4)
        numbers = loops.stitch[which[mine]][stitch]
        colour = _linear(look.yarns[int(yarn) % len(look.yarns)])
        out.mesh((corners / 1000).astype(np.float32), normals, triangles, numbers, colour)
    return out.bytes()


def _along(loops: Loops, *, fine: bool) -> tuple[Floats, NDArray[np.int64]]:
    """The stretches of the middle line, (s, 2, 2, 3): both ends, each with its direction; and whose."""
    curves, _ = strands(loops)
    step = 1 if fine else 2
    begin, end = curves[:, ::step, :2], curves[:, step - 1 :: step, 2:]
    start, ahead = begin[:, :, 0], begin[:, :, 1] - begin[:, :, 0]
    stop, behind = end[:, :, 1], end[:, :, 1] - end[:, :, 0]
    stretches = np.stack([np.stack([start, ahead], 2), np.stack([stop, behind], 2)], 2)
    which = np.repeat(np.arange(len(loops.stitch)), stretches.shape[1])
    return stretches.reshape(-1, 2, 2, 3), which


def _cord(
    stretches: Floats, radius: float, sides: int
) -> tuple[_Single, _Single, NDArray[np.uint32], NDArray[np.int64]]:
    """A tube round each stretch: corners, normals, triangles (three places a row), whose each corner is."""
    way = stretches[:, :, 1]
    way = way / np.maximum(np.linalg.norm(way, axis=-1, keepdims=True), 1e-9)
    # One way across for both ends, or the tube would be twisted; the axis it leans on least is across enough.
    mean = way.sum(axis=1)
    lean = np.eye(3)[np.abs(mean).argmin(axis=1)]
    across = np.cross(way, lean[:, None, :])
    across /= np.maximum(np.linalg.norm(across, axis=-1, keepdims=True), 1e-9)
    other = np.cross(way, across)
    turn = np.arange(sides) * (2 * np.pi / sides)
    round_ = (
        across[:, :, None] * np.cos(turn)[None, None, :, None]
        + other[:, :, None] * np.sin(turn)[None, None, :, None]
    )
    corners = stretches[:, :, None, 0] + round_ * radius
    s = len(stretches)
    i = np.arange(sides)
    j = (i + 1) % sides
    one = np.concatenate([np.stack([i, j, i + sides], 1), np.stack([j, j + sides, i + sides], 1)])
    triangles = (np.arange(s)[:, None, None] * (2 * sides) + one[None]).reshape(-1, 3)
    return (
        corners.reshape(-1, 3).astype(np.float32),
        round_.reshape(-1, 3).astype(np.float32),
        triangles.astype(np.uint32),
        np.repeat(np.arange(s), 2 * sides),
    )


def _linear(colour: str) -> Sequence[float]:
    """A web colour as glTF wants it: linear light, and no see-through (IEC 61966-2-1)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [*(c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts), 1.0]


class _File:
    """The parts of the file as they come: bytes, what they mean, and the meshes made of them."""

    __slots__ = ("bin", "json")

    def __init__(self, title: str) -> None:
        self.bin = bytearray()
        self.json: dict[str, Any] = {
            "asset": {"version": "2.0", "generator": "Purlwright"},
            "scene": 0,
            "scenes": [{"name": title or "Cloth", "nodes": []}],
            "nodes": [], "meshes": [], "materials": [], "accessors": [], "bufferViews": [], "buffers": [],
        }  # fmt: skip

    def mesh(
        self, corners: _Single, normals: _Single, triangles: NDArray[np.uint32],
        stitch: NDArray[np.int32], colour: Sequence[float],
    ) -> None:  # fmt: skip
        n = len(self.json["meshes"])
        attributes = {
            "POSITION": self._part(corners, "VEC3", _CORNERS, ends=True),
            "NORMAL": self._part(normals, "VEC3", _CORNERS),
            "_STITCH": self._part(stitch.astype(np.float32), "SCALAR", _CORNERS),
        }
        indices = self._part(triangles.reshape(-1), "SCALAR", _INDICES)
        self.json["materials"].append(
            {
                "pbrMetallicRoughness": {
                    "baseColorFactor": list(colour),
                    "metallicFactor": 0,
                    "roughnessFactor": 0.9,
                },
            }
        )
        self.json["meshes"].append(
            {"primitives": [{"attributes": attributes, "indices": indices, "material": n}]}
        )
        self.json["nodes"].append({"mesh": n, "name": f"Yarn {n + 1}"})
        self.json["scenes"][0]["nodes"].append(n)

    def _part(self, values: NDArray[Any], kind: str, target: int, *, ends: bool = False) -> int:
        at = len(self.bin)
        self.bin += values.tobytes()
        self.bin += bytes(-len(self.bin) % 4)
        self.json["bufferViews"].append(
            {"buffer": 0, "byteOffset": at, "byteLength": values.nbytes, "target": target}
        )
        part: dict[str, Any] = {
            "bufferView": len(self.json["bufferViews"]) - 1,
            "componentType": _UINT if values.dtype == np.uint32 else _FLOAT,
            "count": len(values),
            "type": kind,
        }
        if ends:
            part["min"], part["max"] = values.min(axis=0).tolist(), values.max(axis=0).tolist()
        self.json["accessors"].append(part)
        return len(self.json["accessors"]) - 1

    def bytes(self) -> bytes:
        self.json["buffers"] = [{"byteLength": len(self.bin)}]
        words = json.dumps(self.json, separators=(",", ":")).encode()
        words += b" " * (-len(words) % 4)
        whole = 12 + 8 + len(words) + 8 + len(self.bin)
        return b"".join(
            [
                struct.pack("<4sII", b"glTF", 2, whole),
                struct.pack("<I4s", len(words), b"JSON"), words,
                struct.pack("<I4s", len(self.bin), b"BIN\0"), bytes(self.bin),
            ]
        )  # fmt: skip
