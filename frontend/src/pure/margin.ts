/** What stands in the margin beside a line: its side, the count after it, whether that is the printed one. */

import type { Row } from "../wire.ts";

export interface Beside {
  line: number;
  orders: number[];
  side: string;
  count: string;
  times: number;
  agrees: "as printed" | "not as printed" | "";
  told: string;
}

const SIDES: Record<string, string> = { RS: "right side", WS: "wrong side" };

/** One entry for each line that works rows, in the order of the lines. */
export function besides(rows: readonly Row[]): Beside[] {
  const byLine = new Map<number, Row[]>();
  for (const row of rows) {
    const here = byLine.get(row.line);
    if (here) here.push(row);
    else byLine.set(row.line, [row]);
  }
  return [...byLine.entries()].sort(([a], [b]) => a - b).map(([line, here]) => beside(line, here));
}

function beside(line: number, here: Row[]): Beside {
  const sides = new Set(here.map((row) => row.side).filter((side) => side !== null));
  const side = sides.size === 1 ? ([...sides][0] ?? "") : "";
  const first = here[0] as Row;
  const last = here[here.length - 1] as Row;
  const count = first.end === last.end ? `${last.end}` : `${first.end}\u2013${last.end}`;
  const judged = here.filter((row) => (row.said ?? null) !== null);
  const agrees = judged.length === 0 ? "" : judged.every((row) => row.said === row.end) ? "as printed" : "not as printed";
  return { line, orders: here.map((row) => row.order), side, count, times: here.length, agrees, told: told(here, side, agrees) };
}

function told(here: Row[], side: string, agrees: string): string {
  const first = here[0] as Row;
  const last = here[here.length - 1] as Row;
  const name = first.label || NAMES[first.kind] || "This line";
  const parts = [name];
  if (side) parts.push(SIDES[side] ?? side);
  if (here.length > 1) parts.push(`worked ${here.length} times`);
  parts.push(first.end === last.end ? `${stitches(last.end)} after it` : `${first.end} to ${stitches(last.end)} after it`);
  if (agrees) parts.push(agrees);
  return parts.join(", ");
}

export const NAMES: Record<string, string> = {
  "cast-on": "Cast on",
  "bind-off": "Bind off",
  "pick-up": "Pick up",
  join: "Join",
  graft: "Graft",
  seam: "Seam",
  row: "Row",
  round: "Round",
};

export function stitches(count: number): string {
  return count === 1 ? "1 stitch" : `${count.toLocaleString("en")} stitches`;
}
