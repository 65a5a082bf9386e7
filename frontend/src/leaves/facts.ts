/** What a knitter can say of her work, asked for as a form. */

import { h } from "../dom.ts";
import type { Fact } from "../wire.ts";

export interface Form {
  box: HTMLElement;
  facts: () => Record<string, string | number>;
}

export function factForm(asks: readonly Fact[], before: Record<string, string | number>): Form {
  const fields = asks.map((ask) => {
    const id = `fact-${ask.name}`;
    const value = before[ask.name];
    if (ask.answers.length > 0) {
      const select = h("select", { id, name: ask.name }, h("option", { value: "" }, "not looked"), ...ask.answers.map((one) => h("option", { value: one.name, selected: one.name === value }, one.words)));
      return { ask, field: select, box: h("p", { class: "fact" }, h("label", { for: id }, ask.words), select) };
    }
    const input = h("input", { id, name: ask.name, type: "text", inputmode: "numeric", size: 6, autocomplete: "off", value: value ?? null });
    return { ask, field: input, box: h("p", { class: "fact" }, h("label", { for: id }, ask.words), input) };
  });
  return {
    box: h("div", { class: "facts" }, ...fields.map((one) => one.box)),
    facts: () => {
      const out: Record<string, string | number> = {};
      for (const { ask, field } of fields) {
        const said = field.value.trim();
        if (!said) continue;
        out[ask.name] = ask.answers.length === 0 && /^\d+$/.test(said) ? Number(said) : said;
      }
      return out;
    },
  };
}
