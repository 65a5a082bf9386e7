/** The pattern on the sheet at another gauge: what moves, what it measures, and the new words. */

import { Fault, told as asked } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h } from "../dom.ts";
import { proofWords } from "../pure/plans.ts";
import type { Regauged } from "../wire.ts";
import { gaugeFields } from "./fill.ts";
import type { Turns } from "./leaves.ts";
import { newPattern } from "./patterns.ts";

type Found = Regauged["found"];

export function otherGaugeLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const stop = new AbortController();
    const { box: line, read, field } = gaugeFields("other");
    const state = h("p", { role: "alert", class: "copy-state" });
    const answer = h("div", { class: "planned" });
    const go = h("button", { class: "strong" }, "Work it out");
    const form = h("form", { class: "filling", novalidate: true }, h("fieldset", { class: "fill" }, h("legend", {}, "The other gauge"), h("span", { class: "fill-in" }, line)), h("p", { class: "fill-go" }, go), state);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (go.getAttribute("aria-disabled") === "true") return;
      const gauge = read();
      clear(answer);
      if (!gauge) {
        state.textContent = "Fill in the stitches and the rows of the other gauge.";
        field.focus();
        return;
      }
      state.textContent = "It is being knitted in every size. That takes a while.";
      go.setAttribute("aria-disabled", "true");
      const { path, version, text } = bench.asked;
      asked<Regauged>("/api/regauge", { path, version, text, gauge }, () => !stop.signal.aborted, stop.signal)
        .then(
          (done) => {
            state.textContent = "";
            if (!done) return;
            clear(answer, ...shown(done.found, text, bench, turns, state));
            answer.querySelector<HTMLElement>("h3")?.focus();
          },
          (fault: unknown) => {
            if (!stop.signal.aborted) state.textContent = fault instanceof Fault ? fault.message : String(fault);
          },
        )
        .finally(() => go.removeAttribute("aria-disabled"));
    });
    clear(
      box,
      h("h2", {}, "At another gauge"),
      h("p", { class: "lead" }, "The same size in other counts. Each number that counts stitches, rows or repeats moves to the nearest that comes out; the new words are knitted and proved before you get them."),
      form,
      answer,
    );
    return () => stop.abort();
  };
}

function shown(found: Found, before: string, bench: Bench, turns: Turns, state: HTMLElement): (HTMLElement | null)[] {
  const { pattern } = found;
  const toSheet = (words: string): void => {
    if (bench.text !== before) {
      state.textContent = "The sheet was changed meanwhile; work it out again.";
      return;
    }
    turns.write(words);
    turns.toWords();
  };
  const toFile = (words: string): void => {
    newPattern({ name: `${found.title} ${found.after.replace(/ to .*/, "")}`, from: null, text: words }).then(
      (made) => turns.open(made.path, "words"),
      (fault: unknown) => {
        state.textContent = fault instanceof Fault ? fault.message : String(fault);
      },
    );
  };
  return [
    h("h3", { tabindex: -1 }, `From ${found.before} to ${found.after}`),
    found.refused ? h("p", { class: "notice" }, h("span", {}, found.refused)) : null,
    found.proof ? h("p", { class: "lead" }, proofWords(found.proof)) : null,
    pattern === null ? null : h("p", { class: "fill-go" }, button("Put it into a new file", () => toFile(pattern), { class: "strong" }), " ", button("Put it on this sheet", () => toSheet(pattern))),
    found.moved.length ? h("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": "What moves" }, moved(found, bench, turns)) : null,
    yarn(found),
    same(found),
    told(found),
  ];
}

function moved(found: Found, bench: Bench, turns: Turns): HTMLElement {
  return h(
    "table",
    { class: "planned-table" },
    h("caption", {}, "What moves"),
    h("thead", {}, h("tr", {}, ...["Line", "What it counts", "Before", "After"].map((words) => h("th", { scope: "col" }, words)))),
    h(
      "tbody",
      {},
      ...found.moved.map((one) => {
        const at = bench.view.state.doc;
        const go = button(String(one.line), () => {
          if (one.line <= at.lines) turns.toWords({ from: at.line(one.line).from, to: at.line(one.line).to });
        }, { class: "to-words", "aria-label": `Line ${one.line}, to its words` });
        return h("tr", {}, h("th", { scope: "row" }, go), h("td", {}, one.counts), h("td", { class: "number" }, one.before), h("td", { class: "number" }, one.after));
      }),
    ),
  );
}

function yarn(found: Found): HTMLElement | null {
  const known = found.sizes.filter((one) => one.metres_before !== null && one.metres !== null);
  if (!known.length || found.pattern === null) return null;
  const words = known.map((one) => `${known.length > 1 ? `${one.size}: ` : ""}${one.metres} m, before ${one.metres_before} m`);
  return h("p", {}, h("b", {}, "Yarn: "), words.join("; "));
}

/** What the same counts come to, for one who would rather knit another size. */
function same(found: Found): HTMLElement | null {
  if (!found.measures.length) return null;
  const list = (values: readonly number[]): string => (values.length > 1 ? `${values[0]} (${values.slice(1).join(", ")})` : String(values[0]));
  return h("div", {}, h("h4", {}, "At the same counts it would measure"), h("ul", { class: "bare" }, ...found.measures.map((one) => h("li", {}, `${one.words}: ${list(one.same_counts_cm)} cm instead of ${list(one.cm)} cm`))));
}

function told(found: Found): HTMLElement | null {
  const lines = (many: readonly number[]): string => `${many.length === 1 ? "line" : "lines"} ${many.join(", ")}`;
  const words = [
    ...found.said,
    found.by_rows.length ? `What depends on the row gauge: ${lines(found.by_rows)}.` : "",
    found.left.length ? `Notes with numbers to read again: ${lines(found.left)}.` : "",
  ].filter(Boolean);
  return words.length ? h("ul", { class: "bare" }, ...words.map((one) => h("li", {}, one))) : null;
}
