/** The cloth as it comes from the server: a header in words, and behind it plain numbers. */

export interface Cloth {
  version: number;
  n: number;
  colours: string[];
  /** Piece by piece, what was measured. */
  told: Part[];
  /** What was stated, assumed or taken by a rule of thumb. */
  said: string[];
  view: { front: number[]; up: number[] } | null;
  at: Float32Array;
  along: Float32Array;
  across: Float32Array;
  out: Float32Array;
  shape: Uint8Array;
  colour: Uint8Array;
  row: Uint32Array;
  span: Uint32Array;
}

export interface Part {
  name: string;
  lies: string;
  told: string[];
}

interface Header {
  version: number;
  n: number;
  colours: string[];
  told?: Part[];
  said?: string[];
  view?: { front: number[]; up: number[] } | null;
  arrays: { name: string; dtype: string; shape: number[]; offset: number }[];
}

const KINDS = {
  f32: Float32Array,
  float32: Float32Array,
  "<f4": Float32Array,
  u8: Uint8Array,
  uint8: Uint8Array,
  "|u1": Uint8Array,
  u32: Uint32Array,
  uint32: Uint32Array,
  "<u4": Uint32Array,
} as const;

/** Offsets count from the first byte behind the header, which begins on a multiple of eight. */
export function decode(bytes: ArrayBuffer): Cloth {
  const length = new DataView(bytes).getUint32(0, true);
  const header = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, 4, length))) as Header;
  const base = Math.ceil((4 + length) / 8) * 8;
  const array = (name: string): Float32Array | Uint8Array | Uint32Array => {
    const told = header.arrays.find((one) => one.name === name);
    if (!told) throw new Error(`the cloth came without "${name}"`);
    const Kind = KINDS[told.dtype as keyof typeof KINDS];
    if (!Kind) throw new Error(`"${name}" came in a way that is not known: ${told.dtype}`);
    const count = told.shape.reduce((product, side) => product * side, 1);
    return new Kind(bytes, base + told.offset, count);
  };
  return {
    version: header.version,
    n: header.n,
    colours: header.colours,
    told: header.told ?? [],
    said: header.said ?? [],
    view: header.view ?? null,
    at: array("at") as Float32Array,
    along: array("along") as Float32Array,
    across: array("across") as Float32Array,
    out: array("out") as Float32Array,
    shape: array("shape") as Uint8Array,
    colour: array("colour") as Uint8Array,
    row: array("row") as Uint32Array,
    span: array("span") as Uint32Array,
  };
}

/** The stitches that were worked from words of this stretch. */
export function worked(span: Uint32Array, from: number, to: number): number[] {
  const out: number[] = [];
  for (let n = 0; n * 2 < span.length; n++) {
    const a = span[n * 2] as number;
    const b = span[n * 2 + 1] as number;
    if (a < b && a < to && b > from) out.push(n);
    else if (from === to && a <= from && b >= from && a < b) out.push(n);
  }
  return out;
}
