/** How finely each piece of the cloth is drawn: fine where one looks closely, within a bound for the whole. */

import { LEVELS, triangles } from "./loop.ts";

export const PIECES = 8;
export const MOST_TRIANGLES = 3_000_000;
/** A stitch of so many pixels across is worth the level of the same number. */
const WORTH_PX = [0, 1.5, 6, 15] as const;

export interface Piece {
  stitches: number;
  /** Width of a stitch on the screen, in pixels; 0 when the piece is out of sight. */
  px: number;
}

/** One level a piece, an index into LEVELS. The pieces that are looked at most closely come first. */
export function levelsOf(pieces: readonly Piece[], most = MOST_TRIANGLES): number[] {
  const out = pieces.map(() => 0);
  let sum = pieces.reduce((all, piece) => all + piece.stitches * triangles(LEVELS[0] as (typeof LEVELS)[number]), 0);
  const closest = pieces.map((_, n) => n).sort((a, b) => (pieces[b]?.px ?? 0) - (pieces[a]?.px ?? 0));
  for (let level = 1; level < LEVELS.length; level++) {
    for (const n of closest) {
      const piece = pieces[n] as Piece;
      if (out[n] !== level - 1 || piece.px < (WORTH_PX[level] ?? Number.POSITIVE_INFINITY)) continue;
      const more = piece.stitches * (triangles(LEVELS[level] as never) - triangles(LEVELS[level - 1] as never));
      if (sum + more > most) continue;
      sum += more;
      out[n] = level;
    }
  }
  return out;
}

export function trianglesOf(pieces: readonly Piece[], levels: readonly number[]): number {
  return pieces.reduce((all, piece, n) => all + piece.stitches * triangles(LEVELS[levels[n] ?? 0] as never), 0);
}
