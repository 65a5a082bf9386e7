/** Notes in a margin: each beside its line, none over another. */

/** Tops of notes that want to stand at `wanted` and are `heights` high: kept in order, `gap` between two. */
export function stacked(wanted: readonly number[], heights: readonly number[], gap: number): number[] {
  let floor = Number.NEGATIVE_INFINITY;
  return wanted.map((want, n) => {
    const top = Math.max(want, floor);
    floor = top + (heights[n] ?? 0) + gap;
    return top;
  });
}
