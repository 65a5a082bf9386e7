/** Two versions brought together, with her choice where they clash. */

import type { Merged } from "../wire.ts";

export type Choice = "hers" | "theirs" | "both";

export function chosenText(merged: Merged, choices: readonly Choice[]): string {
  let out = "";
  let at = 0;
  merged.clashes.forEach((clash, n) => {
    out += merged.text.slice(at, clash.from);
    const choice = choices[n] ?? "hers";
    if (choice === "both") out += clash.hers + (clash.hers && !clash.hers.endsWith("\n") && clash.theirs ? "\n" : "") + clash.theirs;
    else out += clash[choice];
    at = clash.to;
  });
  return out + merged.text.slice(at);
}
