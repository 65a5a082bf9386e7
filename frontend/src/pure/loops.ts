/** The loops on a needle in words and as a few shapes. */

export interface Run {
  count: number;
  look: string;
}

const LOOKS: Record<string, string> = { V: "as a V", bump: "as a bump", over: "yarn over", "": "" };

/** "12 as a V, 1 yarn over": runs of the same look are taken together. */
export function inWords(runs: readonly Run[]): string {
  const out: Run[] = [];
  for (const run of runs) {
    const last = out[out.length - 1];
    if (last && last.look === run.look) last.count += run.count;
    else if (run.count > 0) out.push({ ...run });
  }
  return out.map((run) => `${run.count} ${LOOKS[run.look] ?? run.look}`.trim()).join(", ");
}

/** Which loops are drawn when there is room for `room`: all, or the nearest to the tips with the number left out. */
export function shown(runs: readonly Run[], room: number): { look: string; left: number }[] {
  const loops: { look: string; left: number }[] = [];
  const all = runs.reduce((sum, run) => sum + run.count, 0);
  for (const run of runs) {
    for (let n = 0; n < run.count && loops.length < room; n++) loops.push({ look: run.look, left: 0 });
  }
  const last = loops[loops.length - 1];
  if (last && all > loops.length) last.left = all - loops.length;
  return loops;
}
