/** "Where am I?": from what can be seen of the work, the row, or every row that it could be. */

import { Fault, post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { clear, h } from "../dom.ts";
import type { Where } from "../wire.ts";
import { factForm } from "./facts.ts";

export function whereLeaf(box: HTMLElement, bench: Bench): void {
  const told = h("div", { class: "answer", role: "status" });
  const form = h("form", {}, h("p", { class: "empty" }, "One moment."));
  clear(box, h("h2", {}, "Where am I?"), h("p", { class: "lead" }, "Say what you see of the work as you are about to begin the next row. Leave out what you have not looked at."), form, told);
  const ask = async (facts: Record<string, string | number>, first: boolean): Promise<void> => {
    try {
      const answer = await post<Where>("/api/where", { path: bench.path, text: bench.text, size: bench.size, options: bench.options, facts });
      const made = factForm(answer.asks, facts);
      if (first) {
        clear(form, made.box, h("button", { class: "strong" }, "Find my row"));
        form.onsubmit = (event) => {
          event.preventDefault();
          void ask(made.facts(), false);
        };
        return;
      }
      clear(
        told,
        h("p", { class: "lead" }, answer.words),
        answer.rows.length ? h("ul", {}, ...answer.rows.slice(0, 40).map((row) => h("li", {}, typeof row === "string" ? row : `${row.label}${row.words ? `: ${row.words}` : ""}`))) : null,
        answer.best_next ? h("p", {}, `Look at this next: ${answer.best_next}`) : null,
      );
    } catch (fault) {
      clear(told, h("p", { class: "empty" }, fault instanceof Fault ? fault.message : String(fault)));
      if (first) clear(form);
    }
  };
  void ask({}, true);
}
