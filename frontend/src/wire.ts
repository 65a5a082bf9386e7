/** What the server and the page say to each other. Offsets are UTF-16 units in the text that was sent. */

export interface Binder {
  folder: string;
  patterns: { path: string; title: string; changed: number; sizes: number }[];
  examples: { name: string; title: string; told: string }[];
}

export interface Opened {
  path: string;
  text: string;
  stamp: string;
  draft: { text: string; when: number } | null;
}

export interface Clash {
  from: number;
  to: number;
  hers: string;
  theirs: string;
}

export interface Merged {
  text: string;
  clashes: Clash[];
}

export interface Refused {
  text: string;
  stamp: string;
  merged: Merged;
}

export interface Row {
  line: number;
  from: number | null;
  to: number | null;
  order: number;
  kind: string;
  label: string;
  section: string;
  pass: number;
  passes: number;
  side: string | null;
  start: number;
  worked: number;
  unworked: number;
  made: number;
  lost: number;
  held: number;
  returned: number;
  end: number;
  gaps: { from_right_rs: number; turned_on: number }[];
  said?: number | null;
}

export interface Edit {
  from: number;
  to: number;
  insert: string;
}

export type Severity = "error" | "warning" | "note";

/** A finding as it comes; one that stands nowhere in the words has no place. */
export interface Finding extends Omit<Mark, "from" | "to" | "line"> {
  from: number | null;
  to: number | null;
  line: number | null;
}

export interface Mark {
  code: string;
  check: string | null;
  severity: Severity;
  from: number;
  to: number;
  line: number;
  message: string;
  help: string | null;
  related: { from: number | null; to: number | null; words: string }[];
  fix: { words: string; edits: Edit[] } | null;
  sizes: string[];
  options: Record<string, string>;
}

export interface Worked {
  version: number;
  title: string;
  sizes: string[];
  size: string;
  options: { name: string; values: string[]; chosen: string }[];
  rows: Row[];
  findings: Finding[];
  sections: { name: string; from: number; to: number }[];
  notes: { from: number; to: number }[];
  stitches: number;
  took_ms: number;
}

/** No answer: a newer text came before this one was begun. */
export interface Stale {
  version: number;
  stale: true;
}

export interface Proof {
  version: number;
  findings: Finding[];
  checks: { check: string; title: string; result: string; places: number | null; missing: string | null }[];
  summary: string;
}

export interface Offers {
  from: number;
  to: number;
  offers: { words: string; told: string; kind: string; fits: boolean | null }[];
  here: { sts_remain: number | null; marker: string | null; side: string | null } | null;
}

export interface Hover {
  from: number;
  to: number;
  name: string;
  told: string;
  takes: number | null;
  gives: number | null;
}

export interface Block {
  kind: string;
  text: string;
}

export interface Needle {
  runs?: { count: number; kind: string }[];
  count?: number;
  kind?: string;
}

export interface RowTold {
  version: number;
  words_full: string;
  needles: {
    left: { count: number; kind: string }[];
    right: { count: number; kind: string }[];
    gaps: number[];
    markers: (number | { at: number; name: string })[];
  } | null;
  close_up: string | null;
  chart_line: string | null;
  clues: string[];
  ledger: Row;
}

export interface Fact {
  name: string;
  words: string;
  kind: string;
  answers: { name: string; words: string }[];
}

export interface Rescued {
  question: { name: string; words: string; answers: { name: string; words: string }[]; how?: string } | null;
  likely: {
    words: string;
    row: string;
    chance: number;
    cures: { name: string; words: string; cost: string }[];
  }[];
  sure: boolean;
  clash: string | null;
  asks: Fact[];
}

export interface Where {
  rows: (string | { label: string; words?: string; order?: number })[];
  best_next: string | null;
  words: string;
  asks: Fact[];
}
