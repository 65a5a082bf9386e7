/** From an idea to whole numbers: a pattern to begin from, or the counts and rates of one row or edge. */

import { Fault, get, post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h } from "../dom.ts";
import { off, proofWords } from "../pure/plans.ts";
import type { Fillable, Planned } from "../wire.ts";
import { fill, type Filled } from "./fill.ts";
import type { Turns } from "./leaves.ts";
import { newPattern } from "./patterns.ts";

interface Asking {
  title: string;
  lead: string;
  /** What the list of plans is called. */
  choose: string;
  pieces: boolean;
}

const IDEA: Asking = {
  title: "Begin from an idea",
  lead: "Say what you want to make, for whom, and your gauge. What you get is a pattern in whole numbers, knitted and proved in every size before it is yours.",
  choose: "What it is to be",
  pieces: true,
};
const RATES: Asking = {
  title: "Counts and rates",
  lead: "For one row or one edge: on which rows to shape, where to increase, how many to pick up. The answer is in the words of a pattern.",
  choose: "What is to be worked out",
  pieces: false,
};

/** What was filled in, kept while the page is open, so that one gauge need not be written twice. */
const KNOWN = new Map<string, string[]>();
const LAST = new Map<string, string>();

export const ideaLeaf = (turns: Turns) => planLeaf(IDEA, turns);
export const ratesLeaf = (turns: Turns) => planLeaf(RATES, turns);

function planLeaf(asking: Asking, turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const stop = new AbortController();
    const told = h("div");
    clear(box, h("h2", {}, asking.title), h("p", { class: "lead" }, asking.lead), told);
    get<{ plans: Fillable[] }>("/api/plans", {}, stop.signal).then(
      ({ plans }) => clear(told, ...form(plans.filter((one) => one.piece === asking.pieces), asking, bench, turns, stop.signal)),
      (fault: unknown) => {
        if (!stop.signal.aborted) clear(told, h("p", { class: "empty" }, wordsOf(fault)));
      },
    );
    return () => stop.abort();
  };
}

function wordsOf(fault: unknown): string {
  return fault instanceof Fault ? fault.message : String(fault);
}

function form(plans: readonly Fillable[], asking: Asking, bench: Bench, turns: Turns, signal: AbortSignal): HTMLElement[] {
  const groups = [...new Set(plans.map((one) => one.heading))].map((label) => {
    const own = plans.filter((one) => one.heading === label);
    return h("optgroup", { label }, ...own.map((one) => h("option", { value: one.name, selected: LAST.get(asking.title) === one.name }, one.words)));
  });
  const what = h("select", { id: "fill-what" }, ...groups);
  const fields = h("div", { class: "fills" });
  const state = h("p", { role: "alert", class: "copy-state" });
  const answer = h("div", { class: "planned" });
  const go = h("button", { class: "strong" }, "Work it out");
  let read: () => Filled = () => ({ answers: [], table: null, lacking: null });
  const draw = (): void => {
    const plan = plans.find((one) => one.name === what.value) as Fillable;
    LAST.set(asking.title, plan.name);
    const made = fill(plan, KNOWN);
    read = made.read;
    clear(fields, ...made.boxes);
    clear(answer);
    state.textContent = "";
  };
  what.addEventListener("change", () => {
    read(); // what was filled in so far is kept for the next
    draw();
  });
  draw();
  const whole = h("form", { class: "filling", novalidate: true }, h("p", { class: "fill" }, h("label", { for: "fill-what" }, asking.choose), what), fields, h("p", { class: "fill-go" }, go), state);
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    if (go.getAttribute("aria-disabled") === "true") return;
    const { answers, table, lacking } = read();
    clear(answer);
    if (lacking) {
      state.textContent = `Fill in "${lacking.label}".`;
      lacking.field.focus();
      return;
    }
    state.textContent = asking.pieces ? "It is being knitted in every size. That takes a while." : "One moment.";
    go.setAttribute("aria-disabled", "true");
    post<Planned>("/api/plan", { plan: what.value, answers, table }, signal)
      .then(
        (done) => {
          state.textContent = "";
          clear(answer, ...shown(done, bench, turns, state));
          answer.querySelector<HTMLElement>("h3")?.focus();
        },
        (fault: unknown) => {
          if (!signal.aborted) state.textContent = wordsOf(fault);
        },
      )
      .finally(() => go.removeAttribute("aria-disabled"));
  });
  return [whole, answer];
}

function shown(done: Planned, bench: Bench, turns: Turns, state: HTMLElement): (HTMLElement | null)[] {
  const { pattern } = done;
  const begin = (): void => {
    newPattern({ name: done.title, from: null, text: pattern }).then(
      (made) => turns.open(made.path, "words"),
      (fault: unknown) => {
        state.textContent = wordsOf(fault);
      },
    );
  };
  return [
    h("h3", { tabindex: -1 }, done.title),
    done.proof ? h("p", { class: done.proof.clean ? "lead" : "notice" }, h("span", {}, proofWords(done.proof))) : null,
    pattern === null ? null : h("p", { class: "fill-go" }, button("Put it into a new file", begin, { class: "strong" })),
    done.give_up.length ? h("div", { class: "notice" }, h("span", {}, h("b", {}, "This cannot be met."), " ", done.give_up.join(" "))) : null,
    done.words.length ? h("pre", { class: "sample", tabindex: 0 }, done.words.join("\n")) : null,
    done.words.length && done.plan !== "body" ? h("p", { class: "fill-go" }, button("Put these words on the sheet, where the caret stands", () => atTheCaret(done.words, bench, turns))) : null,
    numbers(done),
    measures(done),
    done.said.length ? h("ul", { class: "bare" }, ...done.said.map((sentence) => h("li", {}, sentence))) : null,
    pattern === null ? null : h("h4", {}, "The pattern"),
    pattern === null ? null : h("pre", { class: "sample", tabindex: 0 }, pattern),
  ];
}

/** A line of their own below the one in which the caret stands; they can be undone. */
function atTheCaret(words: readonly string[], bench: Bench, turns: Turns): void {
  const { view } = bench;
  const line = view.state.doc.lineAt(view.state.selection.main.head);
  const lead = line.length ? "\n" : "";
  const insert = `${lead}${words.map((one) => one.trim()).join("\n")}`;
  view.dispatch({ changes: { from: line.to, insert }, userEvent: "input.paste" });
  turns.toWords({ from: line.to + lead.length, to: line.to + insert.length });
}

function numbers(done: Planned): HTMLElement | null {
  if (!done.numbers.length) return null;
  const several = done.sizes.length > 1 && done.numbers.every((one) => one.counts.length === done.sizes.length);
  const heads = several ? done.sizes : [""];
  return table("Counts", heads, done.numbers.map((one) => ({ name: one.name, cells: several ? one.counts.map(String) : [one.words] })));
}

function measures(done: Planned): HTMLElement | null {
  if (!done.measures.length) return null;
  const many = Math.max(...done.measures.map((one) => one.cm.length));
  const heads = done.sizes.length === many && many > 1 ? done.sizes : Array.from({ length: many }, () => "");
  const rows = done.measures.map((one) => ({ name: one.name, cells: one.cm.map((cm, n) => `${cm} (${off(one.off_cm[n] ?? 0)})`) }));
  return table("Measures in cm, and by how much each is off what was wanted", heads, rows);
}

function table(caption: string, heads: readonly string[], rows: readonly { name: string; cells: string[] }[]): HTMLElement {
  const named = heads.some(Boolean);
  return h(
    "div",
    { class: "scroll", tabindex: 0, role: "group", "aria-label": caption },
    h(
      "table",
      { class: "planned-table" },
      h("caption", {}, caption),
      named ? h("thead", {}, h("tr", {}, h("th", { scope: "col" }, h("span", { class: "unseen" }, "what")), ...heads.map((one) => h("th", { scope: "col", class: "number" }, one)))) : null,
      h("tbody", {}, ...rows.map((row) => h("tr", {}, h("th", { scope: "row" }, row.name), ...row.cells.map((cell) => h("td", { class: "number" }, cell))))),
    ),
  );
}
