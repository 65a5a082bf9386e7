/**
 * The shape of one loop of yarn, as a tube, in a frame of its own: x in stitch widths, y in row heights, z out of
 * the cloth in stitch widths. The middle line is sin/cos in x and y and rises twice a loop; its ends meet the neighbours'.
 */

export interface Tube {
  position: Float32Array;
  normal: Float32Array;
  /** How far along the yarn, and how far round it, from 0 to 1. */
  turn: Float32Array;
  index: Uint16Array;
}

export interface Level {
  name: string;
  segments: number;
  sides: number;
  /** How thick the yarn is drawn: what is drawn with few corners is thicker, so that the cloth stays as close. */
  thick: number;
}

/** From far to near; each as many triangles a stitch as `segments * sides * 2`. */
export const LEVELS: readonly Level[] = [
  { name: "speck", segments: 2, sides: 2, thick: 1.7 },
  { name: "far", segments: 6, sides: 2, thick: 1.4 },
  { name: "middle", segments: 12, sides: 4, thick: 1.12 },
  { name: "near", segments: 22, sides: 6, thick: 1 },
];

export function triangles(level: Level): number {
  return level.segments * level.sides * 2;
}

const YARN = 0.16;
const SWAY = 0.72;
const RISE = 0.86;
const DEPTH = 0.14;

function middle(t: number, aspect: number): [number, number, number] {
  const x = (t + SWAY * Math.sin(2 * t)) / (2 * Math.PI) - 0.5;
  return [x, -Math.cos(t) * RISE * aspect, -Math.cos(2 * t) * DEPTH];
}

/** aspect : height of a row over the width of a stitch, in the cloth that is drawn; keeps the yarn round. */
export function tube(level: Level, aspect: number): Tube {
  const rings = level.segments + 1;
  const { sides } = level;
  const position = new Float32Array(rings * (sides + 1) * 3);
  const normal = new Float32Array(position.length);
  const turn = new Float32Array(rings * (sides + 1) * 2);
  const index = new Uint16Array(level.segments * sides * 6);
  let at = 0;
  for (let ring = 0; ring < rings; ring++) {
    const t = (ring / level.segments) * 2 * Math.PI;
    const here = middle(t, aspect);
    const ahead = unit(minus(middle(t + 0.01, aspect), middle(t - 0.01, aspect)));
    const side = unit(cross(ahead, [0, 0, 1]));
    const up = cross(side, ahead);
    for (let n = 0; n <= sides; n++) {
      const angle = (n / sides) * 2 * Math.PI;
      const out = [0, 1, 2].map((k) => Math.cos(angle) * (side[k] as number) + Math.sin(angle) * (up[k] as number));
      for (let k = 0; k < 3; k++) {
        const scale = k === 1 ? aspect : 1;
        position[at * 3 + k] = ((here[k] as number) + YARN * level.thick * (out[k] as number)) / scale;
        normal[at * 3 + k] = (out[k] as number) * scale;
      }
      turn[at * 2] = ring / level.segments;
      turn[at * 2 + 1] = n / sides;
      at++;
    }
  }
  let put = 0;
  for (let ring = 0; ring < level.segments; ring++) {
    for (let n = 0; n < sides; n++) {
      const a = ring * (sides + 1) + n;
      const b = a + sides + 1;
      for (const corner of [a, b, a + 1, b, b + 1, a + 1]) index[put++] = corner;
    }
  }
  return { position, normal, turn, index };
}

type Three = readonly number[];

function minus(a: Three, b: Three): number[] {
  return [0, 1, 2].map((k) => (a[k] as number) - (b[k] as number));
}

function cross(a: Three, b: Three): number[] {
  const [ax = 0, ay = 0, az = 0] = a;
  const [bx = 0, by = 0, bz = 0] = b;
  return [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
}

function unit(a: Three): number[] {
  const length = Math.hypot(...a) || 1;
  return a.map((k) => k / length);
}
