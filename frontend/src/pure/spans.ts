/** Offsets as drawings carry them, and changes of a text. All count UTF-16 units, as the editor does. */

/** "12-30" as it stands in a drawing. */
export function spanOf(words: string | undefined): [number, number] | null {
  const found = /^(\d+)-(\d+)$/.exec(words ?? "");
  return found ? [Number(found[1]), Number(found[2])] : null;
}

/** The one change that makes `after` of `before`: what both have at the ends is left alone. */
export function onlyChange(before: string, after: string): { from: number; to: number; insert: string } | null {
  if (before === after) return null;
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < most - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  return { from: head, to: before.length - tail, insert: after.slice(head, after.length - tail) };
}
