/**
 * What each stretch of a line is, by its looks alone: enough to set it in type while she writes.
 * What the words mean is left to the reading.
 */

export type Role = "only" | "mark" | "title" | "heading" | "note" | "key" | "label" | "repeat" | "count" | "number" | "fence";

export interface Stretch {
  from: number;
  to: number;
  role: Role;
}

export interface Line {
  kind: "title" | "heading" | "note" | "key" | "row" | "fence" | "chart" | "blank";
  stretches: Stretch[];
}

const HEADING = /^(#{1,6})(\s+)(.*)$/;
const NOTE = /^(>)\s?(.*)$/;
const KEY = /^([A-Z][A-Za-z ]{1,24}):(?=\s|$)/;
const ONLY = /^(?:Sizes? )?[^:\n]{1,60}? only: */;
const LABEL =
  /^(?:(?:Rows?|Rnds?|Rounds?|Set-up row|Next (?:row|rnd|round)|\d+(?:st|nd|rd|th) (?:row|round))\b[^:\n]{0,60}:)/i;
const REPEAT = /\*|\[|\]|\b(?:rep(?:eat)?\b(?: from \*| (?:rows?|rnds?|rounds?)\b)?|\d+ times\b|(?:once|twice|\w+ times) more\b|times in all\b)/gi;
const COUNT = /\((?=[^()\n]*\d)(?:[^()\n]|\([^()\n]*\))*(?:sts?|stitches|decreased|increased|remain)[^()\n]*\)/gi;

/** Whose line it is when it is not for every way to work: "wrapped only:" names the value. */
export function onlyFor(text: string): string | null {
  const only = ONLY.exec(text)?.[0];
  return only ? only.replace(/ only: *$/, "") : null;
}

/** One line; `fenced` says whether it stands inside a fenced block. */
export function rolesOf(text: string, fenced = false): Line {
  if (/^\s*(```|~~~)/.test(text)) return { kind: "fence", stretches: [{ from: 0, to: text.length, role: "fence" }] };
  if (fenced) return { kind: "chart", stretches: [] };
  if (!text.trim()) return { kind: "blank", stretches: [] };
  const heading = HEADING.exec(text);
  if (heading) {
    const marks = (heading[1] ?? "").length;
    const start = marks + (heading[2] ?? "").length;
    const kind = marks === 1 ? "title" : "heading";
    return {
      kind,
      stretches: [
        { from: 0, to: start, role: "mark" },
        { from: start, to: text.length, role: kind },
      ],
    };
  }
  const note = NOTE.exec(text);
  if (note) {
    const start = text.length - (note[2] ?? "").length;
    return {
      kind: "note",
      stretches: [
        { from: 0, to: start, role: "mark" },
        { from: start, to: text.length, role: "note" },
      ],
    };
  }
  const only = ONLY.exec(text)?.[0] ?? "";
  const label = LABEL.exec(text.slice(only.length));
  const key = label || only ? null : KEY.exec(text);
  const stretches: Stretch[] = [];
  const start = only.length + (label ? label[0].length : key ? key[0].length : 0);
  if (only) stretches.push({ from: 0, to: only.length, role: "only" });
  if (start > only.length) stretches.push({ from: only.length, to: start, role: label ? "label" : "key" });
  if (!key) {
    const counts = [...text.slice(start).matchAll(COUNT)].map((m) => [start + m.index, start + m.index + m[0].length] as const);
    for (const found of text.slice(start).matchAll(REPEAT)) {
      const from = start + found.index;
      if (!counts.some(([a, b]) => from >= a && from < b)) stretches.push({ from, to: from + found[0].length, role: "repeat" });
    }
    for (const [from, to] of counts) stretches.push({ from, to, role: "count" });
    stretches.sort((a, b) => a.from - b.from);
  }
  return { kind: key ? "key" : "row", stretches };
}
