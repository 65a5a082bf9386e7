/** The proof: every size and every option, check by check. */

import { type Bench, placed } from "../bench.ts";
import { clear, h } from "../dom.ts";
import type { Mark, Proof } from "../wire.ts";
import type { Turns } from "./leaves.ts";

const RESULTS = [
  ["fails", "Fails"],
  ["undecided", "Cannot be decided"],
  ["holds", "Holds"],
  ["does not apply", "Does not apply"],
] as const;

export function proofLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const told = h("div");
    const draw = (): void => {
      if (bench.proof) clear(told, ...contents(bench.proof, turns));
      else clear(told, h("p", { class: "empty" }, "Every size and every option is being knitted."));
    };
    clear(box, h("h2", {}, "The proof"), told);
    draw();
    const offs = [bench.on("proved", draw), bench.on("opened", draw)];
    return () => offs.forEach((off) => off());
  };
}

function contents(proof: Proof, turns: Turns): HTMLElement[] {
  const out: HTMLElement[] = [h("p", { class: "lead" }, proof.summary)];
  if (proof.findings.length) out.push(h("ul", { class: "found" }, ...proof.findings.map((mark) => found(placed(mark), turns))));
  const known = new Set<string>();
  for (const [result, words] of RESULTS) {
    const these = proof.checks.filter((check) => sameResult(check.result, result));
    for (const check of these) known.add(check.check);
    if (these.length === 0) continue;
    const list = h(
      "ul",
      { class: "checks" },
      ...these.map((check) =>
        h("li", {}, sentence(check.title), check.places && result === "holds" ? h("span", { class: "places" }, ` at ${check.places === 1 ? "1 place" : `${check.places.toLocaleString("en")} places`}`) : null, check.missing ? h("span", { class: "places" }, `: ${check.missing}`) : null),
      ),
    );
    if (result === "does not apply") out.push(h("details", {}, h("summary", {}, `${words}: ${these.length}`), list));
    else out.push(h("h3", {}, `${words}: ${these.length}`), list);
  }
  return out;
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function sameResult(told: string, wanted: string): boolean {
  const plain = told.toLowerCase().replace(/[-_]/g, " ");
  if (wanted === "undecided") return plain.includes("decided");
  if (wanted === "does not apply") return plain.includes("appl");
  return plain === wanted;
}

function found(mark: Mark, turns: Turns): HTMLElement {
  const go = h("button", { type: "button", class: "to-words" }, `Line ${mark.line}`);
  go.addEventListener("click", () => {
    turns.toWords(mark);
  });
  const whom = [...mark.sizes, ...Object.entries(mark.options).map(([name, value]) => `${name} ${value}`)];
  return h("li", { class: `remark-${mark.severity}` }, go, `: ${mark.message}`, whom.length ? h("span", { class: "places" }, ` Only ${whom.join(", ")}.`) : null, mark.help ? h("p", {}, mark.help) : null);
}
