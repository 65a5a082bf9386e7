/** The questions of a plan, each with its field, and what was filled in. */

import { h } from "../dom.ts";
import { forWords, gaugeWords, linesOf } from "../pure/plans.ts";
import type { Answer, Ask, Choosable, Fillable } from "../wire.ts";

export interface Filled {
  answers: Answer[];
  table: string | null;
  /** The question that lacks its answer, and its field. */
  lacking: { label: string; field: HTMLElement } | null;
}

interface Asked {
  ask: Ask;
  box: HTMLElement;
  field: HTMLElement;
  /** What it says, an answer for each; none where nothing is filled in. */
  read: () => string[];
}

type Who = "tables" | "mine" | "table";

/** What belongs to whom it is for, and to which of the ways to say so. */
const WHO: Readonly<Record<string, readonly Who[]>> = { "--for": ["tables"], "--to-fit": ["mine"], "--bodies": ["table"], "--sizes": ["tables", "mine", "table"] };

/** Draws the questions of a plan; gives what was filled in. What the last plan was told is taken over where it is asked too. */
export function fill(plan: Fillable, known: Map<string, string[]>): { boxes: HTMLElement[]; read: () => Filled } {
  const asked = plan.asks.map((ask) => askFor(ask, plan.people, known));
  const inWho = plan.people.length ? asked.filter((one) => one.ask.option in WHO) : [];
  const others = asked.filter((one) => !inWho.includes(one));
  const { box: who, way } = inWho.length ? whoBox(inWho) : { box: null, way: () => "tables" as Who };
  const [first, ...rest] = others;
  const boxes = [first?.box ?? null, who, ...rest.map((one) => one.box)].filter((box): box is HTMLElement => box !== null);
  const read = (): Filled => {
    const answers: Answer[] = [];
    let table: string | null = null;
    let lacking: Filled["lacking"] = null;
    for (const one of asked) {
      if (inWho.includes(one) && !WHO[one.ask.option]?.includes(way())) continue;
      const words = one.read();
      known.set(one.ask.option, words);
      const must = one.ask.needed || (inWho.includes(one) && one.ask.option !== "--sizes");
      const all = one.ask.kind === "people" && words.length > 0;
      if (must && !all && words.length === 0) lacking ??= { label: one.ask.label, field: one.field };
      if (one.ask.kind === "table") table = words[0] ?? null;
      else answers.push(...words.filter((said) => said || one.ask.kind === "yes").map((said) => ({ option: one.ask.option, words: said })));
    }
    return { answers, table, lacking };
  };
  return { boxes, read };
}

/** Whom it is for, in one of three ways; only what belongs to the way that is chosen is shown. */
function whoBox(inWho: readonly Asked[]): { box: HTMLElement; way: () => Who } {
  let way: Who = "tables";
  const show = (): void => {
    for (const one of inWho) one.box.hidden = !WHO[one.ask.option]?.includes(way);
  };
  const pick = (value: Who, words: string): HTMLElement => {
    const input = h("input", { type: "radio", name: "who", value, checked: value === way });
    input.addEventListener("change", () => {
      way = value;
      show();
    });
    return h("label", {}, input, words);
  };
  const box = h(
    "fieldset",
    { class: "fill-who" },
    h("legend", {}, "For whom"),
    h("p", { class: "fill-ways" }, pick("tables", "sizes of the tables"), pick("mine", "my own measures"), pick("table", "a table of my own")),
    ...inWho.map((one) => one.box),
  );
  show();
  return { box, way: () => way };
}

function askFor(ask: Ask, people: readonly Choosable[], known: Map<string, string[]>): Asked {
  const before = known.get(ask.option) ?? [];
  const id = `fill${ask.option.replace(/^-+/, "-")}`;
  if (ask.kind === "gauge") return gaugeFor(ask, id, before);
  if (ask.kind === "people") return peopleFor(ask, people);
  if (ask.kind === "yes") {
    const field = h("input", { type: "checkbox", id, checked: before.length > 0 });
    return { ask, field, box: h("p", { class: "fill fill-yes" }, h("label", {}, field, ask.label)), read: () => (field.checked ? [""] : []) };
  }
  const how = ask.how ? h("span", { class: "places", id: `${id}-how` }, ask.how) : null;
  const values = { id, "aria-describedby": how ? how.id : null, "aria-required": ask.needed ? "true" : null };
  if (ask.kind === "choice") {
    const field = h("select", values, ...ask.choices.map((one) => h("option", { value: one.value, selected: before.includes(one.value) }, one.words)));
    return { ask, field, box: box(ask, id, field, how), read: () => [field.value] };
  }
  if (ask.kind === "lines" || ask.kind === "table") {
    const field = h("textarea", { ...values, rows: 4, spellcheck: "false" });
    field.value = before.join("\n");
    const read = (): string[] => (ask.kind === "lines" ? linesOf(field.value) : field.value.trim() ? [field.value] : []);
    return { ask, field, box: box(ask, id, field, how), read };
  }
  const whole = ask.kind === "whole";
  const field = h("input", { ...values, type: "text", size: whole ? 6 : 22, inputmode: whole ? "numeric" : null, autocomplete: "off", maxlength: 200 });
  field.value = before[0] ?? "";
  return { ask, field, box: box(ask, id, field, how), read: () => (field.value.trim() ? [field.value.trim()] : []) };
}

function box(ask: Ask, id: string, field: HTMLElement, how: HTMLElement | null): HTMLElement {
  return h("p", { class: "fill" }, h("label", { for: id }, ask.label), h("span", { class: "fill-in" }, field, how));
}

function gaugeFor(ask: Ask, id: string, before: readonly string[]): Asked {
  const [, stitches = "", rows = "", over = "10 cm"] = /^(\S+) sts and (\S+) rows to (.*)$/.exec(before[0] ?? "") ?? [];
  const { box: number, read, field } = gaugeFields(id, stitches, rows, over);
  const how = ask.how ? h("span", { class: "places" }, ask.how) : null;
  return { ask, field, box: h("fieldset", { class: "fill" }, h("legend", {}, ask.label), h("span", { class: "fill-in" }, number, how)), read: () => (read() ? [read()] : []) };
}

/** Stitches and rows over so much, in a line as one says it. */
export function gaugeFields(id: string, stitches = "", rows = "", over = "10 cm"): { box: HTMLElement; read: () => string; field: HTMLInputElement } {
  const number = (name: string, value: string): HTMLInputElement => {
    const made = h("input", { type: "text", id: `${id}-${name}`, size: 4, inputmode: "decimal", autocomplete: "off", maxlength: 6, "aria-required": "true" });
    made.value = value;
    return made;
  };
  const sts = number("stitches", stitches);
  const high = number("rows", rows);
  const of = h("select", { "aria-label": "to", id: `${id}-over` }, ...["10 cm", "4 in", "1 in"].map((one) => h("option", { selected: one === over }, one)));
  const line = h("span", { class: "fill-gauge" }, h("label", {}, sts, " sts"), " and ", h("label", {}, high, " rows"), " to ", of);
  return { box: line, field: sts, read: () => gaugeWords(sts.value, high.value, of.value) };
}

function peopleFor(ask: Ask, people: readonly Choosable[]): Asked {
  const boxes = new Map<string, HTMLInputElement>();
  const chosen = (): Set<string> => new Set([...boxes].filter(([, input]) => input.checked).map(([name]) => name));
  const groups = [...new Set(people.map((one) => one.heading))].map((heading) => {
    const own = people.filter((one) => one.heading === heading);
    const items = own.map((one) => {
      const input = h("input", { type: "checkbox", checked: one.usual });
      boxes.set(one.name, input);
      return h("li", {}, h("label", {}, input, h("span", {}, h("b", {}, one.words), " ", h("span", { class: "places" }, one.told))));
    });
    const list = h("ul", { class: "fill-people" }, ...items);
    if (own.length === people.length) return list;
    const any = own.some((one) => one.usual);
    const words = heading[0]?.toUpperCase() + heading.slice(1);
    return h("details", { open: any }, h("summary", {}, words), list);
  });
  const field = groups[0]?.querySelector<HTMLElement>("summary, input") ?? h("span");
  const box = h("div", {}, ...groups);
  return { ask, field, box, read: () => (chosen().size ? [forWords(people, chosen())] : []) };
}
