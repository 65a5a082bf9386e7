/** The leaves behind the pattern, in the order of the contents list. */

import type { Bench } from "../bench.ts";
import type { Leaf } from "../contents.ts";
import { chartLeaf } from "./chart.ts";
import { clothLeaf } from "./cloth.ts";
import { giveOutLeaf } from "./giveout.ts";
import { ideaLeaf, ratesLeaf } from "./idea.ts";
import { otherGaugeLeaf } from "./othergauge.ts";
import { patternsLeaf } from "./patterns.ts";
import { proofLeaf } from "./proof.ts";
import { rescueLeaf } from "./rescue.ts";
import { rowsLeaf } from "./rows.ts";
import { framedLeaf } from "./framed.ts";
import { versionsLeaf } from "./versions.ts";
import { whereLeaf } from "./where.ts";

export interface Turns {
  open: (path: string, leaf: string) => void;
  write: (text: string) => void;
  /** Back to the pattern, with these words selected. */
  toWords: (span?: { from: number; to: number }) => void;
}

/** Where a gap stands in the list, counted with the pattern itself as the first. */
export const NEW_GROUPS = [5, 7, 9, 12];

export function LEAVES(turns: Turns): Leaf[] {
  return [
    { name: "rows", words: "Row by row", figure: rowCount, show: rowsLeaf(turns) },
    { name: "proof", words: "The proof", figure: proofFigure, show: proofLeaf(turns) },
    { name: "chart", words: "Charts", show: chartLeaf(turns) },
    { name: "cloth", words: "The whole cloth", figure: clothFigure, show: clothLeaf(turns) },
    { name: "sheet", words: "The sheet", show: framedLeaf("sheet", "The sheet", "What a knitter gets, as a page to read. Give it out as a print, too: see Give it out.") },
    { name: "lesson", words: "A lesson", show: framedLeaf("lesson", "A lesson", "Stages, practice and exercises, made from this pattern.") },
    { name: "wrong", words: "Something is wrong", show: rescueLeaf },
    { name: "where", words: "Where am I?", show: whereLeaf },
    { name: "idea", words: "Begin from an idea", show: ideaLeaf(turns) },
    { name: "rates", words: "Counts and rates", show: ratesLeaf(turns) },
    { name: "other-gauge", words: "At another gauge", show: otherGaugeLeaf(turns) },
    { name: "give", words: "Give it out", show: giveOutLeaf },
    { name: "versions", words: "Earlier versions", show: versionsLeaf(turns) },
    { name: "patterns", words: "All patterns", show: patternsLeaf(turns) },
  ];
}

function rowCount(bench: Bench): string {
  const rows = bench.rows.filter((row) => row.kind === "row" || row.kind === "round").length;
  return bench.worked ? rows.toLocaleString("en") : "";
}

function proofFigure(bench: Bench): string {
  if (!bench.proof) return "";
  const wrong = bench.proof.findings.filter((mark) => mark.severity === "error").length;
  return wrong ? `${wrong} wrong` : "holds";
}

function clothFigure(bench: Bench): string {
  return bench.worked?.stitches ? `${bench.worked.stitches.toLocaleString("en")} sts` : "";
}
