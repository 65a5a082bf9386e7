/** Where each loop lies: its frame as sixteen numbers, a little changed by what kind of stitch it is. */

import type { Cloth } from "./decode.ts";

const LIT_GROWS = 1.22;

/** Writes the frame of stitch `n` at `put` in `into`, column by column. */
export function frame(cloth: Cloth, n: number, into: Float32Array, put: number, lit = false): void {
  const at = n * 3;
  const { across, along, out } = cloth;
  const wide = Math.hypot(across[at] as number, across[at + 1] as number, across[at + 2] as number);
  let wider = 1;
  let taller = 1;
  let deeper = 1;
  let lean = 0;
  let lift = 0;
  switch (cloth.shape[n]) {
    case 1: // purl: the same loop from behind
      wider = -1;
      deeper = -1;
      break;
    case 2: // yarn over: an open arch
      wider = 1.12;
      taller = 0.86;
      deeper = 0.7;
      break;
    case 3: // slipped: drawn up over the row above
      taller = 1.75;
      lift = 0.42;
      break;
    case 4:
      lean = -0.32;
      wider = 0.94;
      deeper = 1.25;
      break;
    case 5:
      lean = 0.32;
      wider = 0.94;
      deeper = 1.25;
      break;
    case 6:
      wider = 0.9;
      taller = 1.08;
      deeper = 1.35;
      break;
    case 7:
      deeper = 1.5;
      break;
    case 8:
    case 9: // the edges lie close, as a chain
      taller = 0.62;
      deeper = 1.15;
      break;
    default:
      break;
  }
  if (lit) {
    wider *= 1.04;
    deeper *= LIT_GROWS;
  }
  for (let k = 0; k < 3; k++) {
    const a = across[at + k] as number;
    const u = along[at + k] as number;
    into[put + k] = a * wider;
    into[put + 4 + k] = u * taller + a * lean;
    into[put + 8 + k] = (out[at + k] as number) * wide * deeper;
    into[put + 12 + k] = (cloth.at[at + k] as number) + u * lift + (lit ? (out[at + k] as number) * wide * 0.05 : 0);
  }
  into[put + 3] = into[put + 7] = into[put + 11] = 0;
  into[put + 15] = 1;
}

/** Height of a row over width of a stitch, as most stitches have it. */
export function aspectOf(cloth: Cloth): number {
  const all: number[] = [];
  const step = Math.max(1, Math.floor(cloth.n / 500));
  for (let n = 0; n < cloth.n; n += step) {
    const at = n * 3;
    const wide = Math.hypot(...cloth.across.subarray(at, at + 3));
    const high = Math.hypot(...cloth.along.subarray(at, at + 3));
    if (wide > 0 && high > 0) all.push(high / wide);
  }
  all.sort((a, b) => a - b);
  return all[all.length >> 1] ?? 0.75;
}

/** How to look at it when the server does not say: what most loops point up to is up, their faces to the front. */
export function guessedView(cloth: Cloth): { front: number[]; up: number[] } {
  const mean = (vectors: Float32Array): number[] => {
    const sum = [0, 0, 0];
    for (let n = 0; n < cloth.n; n++) {
      const length = Math.hypot(...vectors.subarray(n * 3, n * 3 + 3)) || 1;
      for (let k = 0; k < 3; k++) sum[k] = (sum[k] as number) + (vectors[n * 3 + k] as number) / length / cloth.n;
    }
    return sum;
  };
  const along = mean(cloth.along);
  const across = mean(cloth.across);
  const out = mean(cloth.out);
  const up = Math.hypot(...along) >= Math.hypot(...across) ? along : across;
  if (Math.hypot(...up) < 0.05) return { front: [0, 0, 1], up: [0, 1, 0] };
  const dot = up.reduce((sum, k, n) => sum + k * (out[n] as number), 0) / (Math.hypot(...up) ** 2 || 1);
  let front = out.map((k, n) => k - dot * (up[n] as number));
  if (Math.hypot(...front) < 0.05) {
    const [x = 0, y = 0, z = 0] = up;
    front = Math.abs(z) < 0.9 * Math.hypot(x, y, z) ? [0, 0, 1] : [1, 0, 0];
  }
  return { front, up };
}

/** The stitch nearest to a point of the screen, of those within `near` pixels the one nearest to the eye; else -1. */
export function picked(cloth: Cloth, projected: ArrayLike<number>, screen: { x: number; y: number; wide: number; high: number }, near: number): number {
  const m = projected;
  let best = -1;
  let bestDepth = Number.POSITIVE_INFINITY;
  for (let n = 0; n < cloth.n; n++) {
    const x = cloth.at[n * 3] as number;
    const y = cloth.at[n * 3 + 1] as number;
    const z = cloth.at[n * 3 + 2] as number;
    const w = (m[3] as number) * x + (m[7] as number) * y + (m[11] as number) * z + (m[15] as number);
    if (w <= 0) continue;
    const px = ((((m[0] as number) * x + (m[4] as number) * y + (m[8] as number) * z + (m[12] as number)) / w + 1) / 2) * screen.wide;
    const py = ((1 - ((m[1] as number) * x + (m[5] as number) * y + (m[9] as number) * z + (m[13] as number)) / w) / 2) * screen.high;
    const off = Math.hypot(px - screen.x, py - screen.y);
    if (off > near) continue;
    // Nearer to the eye wins; of those in one layer, nearer to the point.
    const depth = w + (off / near) * 0.004 * w;
    if (depth < bestDepth) {
      bestDepth = depth;
      best = n;
    }
  }
  return best;
}
