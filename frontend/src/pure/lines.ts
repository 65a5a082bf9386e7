/** Two texts line by line: which lines both have, which only one. */

export interface Differing {
  kind: "same" | "old" | "new";
  words: string;
}

/** The shortest list of lines taken away and put in (the greedy method of E. W. Myers, Algorithmica 1, 1986, 251-266). */
export function differ(old: readonly string[], now: readonly string[]): Differing[] {
  const most = old.length + now.length;
  const reach = new Map<number, number>([[1, 0]]);
  const walked: Map<number, number>[] = [];
  search: for (let steps = 0; steps <= most; steps++) {
    walked.push(new Map(reach));
    for (let k = -steps; k <= steps; k += 2) {
      const down = k === -steps || (k !== steps && (reach.get(k - 1) ?? 0) < (reach.get(k + 1) ?? 0));
      let x = down ? (reach.get(k + 1) ?? 0) : (reach.get(k - 1) ?? 0) + 1;
      let y = x - k;
      while (x < old.length && y < now.length && old[x] === now[y]) {
        x++;
        y++;
      }
      reach.set(k, x);
      if (x >= old.length && y >= now.length) break search;
    }
  }
  return traced(old, now, walked);
}

function traced(old: readonly string[], now: readonly string[], walked: Map<number, number>[]): Differing[] {
  const out: Differing[] = [];
  let x = old.length;
  let y = now.length;
  const same = (toX: number, toY: number): void => {
    while (x > toX && y > toY) {
      out.push({ kind: "same", words: old[--x] as string });
      y--;
    }
  };
  for (let steps = walked.length - 1; steps > 0; steps--) {
    const reach = walked[steps] as Map<number, number>;
    const k = x - y;
    const down = k === -steps || (k !== steps && (reach.get(k - 1) ?? 0) < (reach.get(k + 1) ?? 0));
    const fromX = down ? (reach.get(k + 1) ?? 0) : (reach.get(k - 1) ?? 0);
    const fromY = fromX - (down ? k + 1 : k - 1);
    same(down ? fromX : fromX + 1, down ? fromY + 1 : fromY);
    if (down) out.push({ kind: "new", words: now[--y] as string });
    else out.push({ kind: "old", words: old[--x] as string });
  }
  same(0, 0);
  return out.reverse();
}

/** Only what differs, with a line of the surroundings on each side; null stands for lines left out. */
export function aroundChanges(all: readonly Differing[], beside = 1): (Differing | null)[] {
  const shown = all.map((_, n) =>
    all.slice(Math.max(0, n - beside), n + beside + 1).some((near) => near.kind !== "same"),
  );
  const out: (Differing | null)[] = [];
  all.forEach((line, n) => {
    if (shown[n]) out.push(line);
    else if (out.length === 0 || out[out.length - 1] !== null) out.push(null);
  });
  return out;
}
