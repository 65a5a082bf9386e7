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
  /** The label of the row whose words it works again. */
  copied?: string;
}

export interface Edit {
  from: number;
  to: number;
  insert: string;
}

export interface Fix {
  words: string;
  edits: Edit[];
}

/** Single changes of the words, each tried by knitting: for a finding of this code at this place. */
export interface Repairs {
  version: number;
  repairs: { code: string; from: number | null; to: number | null; fixes: Fix[]; all_tried: boolean }[];
}

export type Severity = "error" | "warning" | "note";

/** A finding as it comes; one that stands nowhere in the words has no place. */
export interface Finding extends Omit<Placed, "from" | "to" | "line"> {
  from: number | null;
  to: number | null;
  line: number | null;
}

export interface Mark extends Placed {
  fixes: Fix[];
}

interface Placed {
  code: string;
  check: string | null;
  severity: Severity;
  from: number;
  to: number;
  line: number;
  message: string;
  help: string | null;
  related: { from: number | null; to: number | null; words: string }[];
  fix: Fix | null;
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
  offers: { words: string; told: string; kind: string; takes: number | null; fits: boolean | null }[];
  here: { words: string } | null;
}

export interface Hover {
  from: number;
  to: number;
  name: string;
  told: string;
  takes: number | null;
  gives: number | null;
  also: string[];
  source: string | null;
}

export interface Block {
  kind: string;
  text: string;
}

export interface Loops {
  count: number;
  /** "V", "bump", "over", or "" where it is not known. */
  look: string;
}

export interface Needles {
  left: Loops[];
  right: Loops[];
}

export interface RowTold {
  version: number;
  order: number;
  words_full: string;
  look_for: string;
  ledger: Row;
  before: Needles | null;
  after: Needles | null;
  frames: { beats: { words: string; takes: number; makes: string[]; does: string }[] } | null;
  close_up: string | null;
  chart_line: string | null;
  why: string[];
}

export interface Clues {
  version: number;
  order: number;
  here: { words: string; rows: string }[];
  section: { words: string; rows: string }[];
}

export interface PageMade {
  version: number;
  url: string | null;
  title: string;
  said: string[] | string;
  drawings: { title: string; svg: string; words: string[] }[];
}

export interface Question {
  fact: string;
  asks: string;
  how: string;
  words: string[];
}

export interface FoundRow {
  piece: string;
  row: number;
  name: string;
  side: string | null;
  stitches: number;
  next: string;
  next_words: string;
  line: number;
}

export interface WhereFound {
  rows: FoundRow[];
  near: FoundRow[];
  clash: string | null;
  next: Question | null;
}

export interface RescueFound {
  notes: string[];
  found: {
    name: string;
    did: string;
    likely: number;
    how_sure: string;
    made_in: FoundRow | null;
    reasons: string[];
    cures: { grade: string; what: string; shows: string; cost: number; stitches: number; name: string }[];
  }[];
  clear: boolean;
  clash: string | null;
  next: Question | null;
}

export interface Lost<Found> {
  version: number;
  pieces: string[];
  found: Found;
}

export interface Ask {
  option: string;
  label: string;
  kind: string;
  how: string;
  needed: boolean;
  choices: { value: string; words: string }[];
}

/** A body of the tables that a piece can be for. */
export interface Choosable {
  heading: string;
  name: string;
  words: string;
  told: string;
  usual: boolean;
}

export interface Fillable {
  name: string;
  piece: boolean;
  heading: string;
  words: string;
  asks: Ask[];
  people: Choosable[];
  whose: string;
}

export interface Answer {
  option: string;
  words: string;
}

export interface PlanProof {
  clean: boolean;
  sizes: string[];
  ways: number;
  errors: number;
  warnings: number;
  notes: number;
}

export interface Planned {
  plan: string;
  title: string;
  sizes: string[];
  numbers: { name: string; counts: number[]; words: string }[];
  measures: { name: string; wanted_cm: number[]; cm: number[]; off_cm: number[]; off_in: number[] }[];
  words: string[];
  give_up: string[];
  said: string[];
  pattern: string | null;
  proof: PlanProof | null;
}

export interface Regauged {
  version: number;
  found: {
    title: string;
    before: string;
    after: string;
    moved: { line: number; counts: string; before: string; after: string }[];
    sizes: { size: string; wider: number; longer: number; metres_before: number | null; metres: number | null }[];
    measures: { words: string; made_of: string; cm: number[]; same_counts_cm: number[]; same_counts_in: number[] }[];
    by_rows: number[];
    left: number[];
    refused: string | null;
    said: string[];
    pattern: string | null;
    proof: PlanProof | null;
  };
}
