/** What is filled in for a plan, as the words of its answers; and what a proof of it says. */

import type { Choosable, PlanProof } from "../wire.ts";

/** A gauge in words; "" while a number lacks. */
export function gaugeWords(stitches: string, rows: string, over: string): string {
  const both = [stitches.trim(), rows.trim()];
  return both.every(Boolean) ? `${both[0]} sts and ${both[1]} rows to ${over}` : "";
}

/** Whom it is for: nothing for those who are usual, a whole table by its heading, else each by name. */
export function forWords(people: readonly Choosable[], chosen: ReadonlySet<string>): string {
  if (people.every((one) => one.usual === chosen.has(one.name))) return "";
  const words: string[] = [];
  const headings = new Set(people.map((one) => one.heading));
  for (const heading of headings) {
    const all = people.filter((one) => one.heading === heading);
    const taken = all.filter((one) => chosen.has(one.name));
    if (headings.size > 1 && taken.length === all.length) words.push(heading);
    else words.push(...taken.map((one) => one.name));
  }
  return words.join(", ");
}

/** Lines that say something, each an answer of its own. */
export function linesOf(words: string): string[] {
  return words.split("\n").map((line) => line.trim()).filter(Boolean);
}

export function proofWords(proof: PlanProof): string {
  const ways = `Knitted in ${proof.ways} ${proof.ways === 1 ? "way" : "ways"}`;
  if (proof.clean) return `${ways}, every size and option: nothing was found.`;
  const counted: [number, string][] = [[proof.errors, "error"], [proof.warnings, "warning"], [proof.notes, "note"]];
  const found = counted.filter(([many]) => many).map(([many, word]) => `${many} ${word}${many === 1 ? "" : "s"}`);
  return `${ways}: ${found.join(", ")}.`;
}

/** A number with its sign, as the trade writes how far a measure is off. */
export function off(value: number): string {
  return value === 0 ? "0" : `${value > 0 ? "+" : "\u2212"}${Math.abs(value)}`;
}
