/** The head of the sheet: which file, is it kept, undo and save; and in words what is shown of it. */

import type { Bench } from "./bench.ts";
import { button, clear, h } from "./dom.ts";
import { COMMANDS } from "./page/editor.ts";

export function head(bench: Bench, save: () => void, chosen: () => void): HTMLElement {
  const name = h("span", { class: "file", dir: "auto" });
  const state = h("span", { class: "state", role: "status" });
  const undo = button("Undo", () => COMMANDS.undo(bench.view), { class: "plain" });
  const redo = button("Redo", () => COMMANDS.redo(bench.view), { class: "plain" });
  const keep = button("Save", save, { class: "plain strong" });
  const shown = h("p", { class: "shown" });

  const stand = (): void => {
    name.textContent = bench.isExample ? "An example" : bench.path;
    state.textContent = bench.isExample ? "Write on it, and you have a copy of your own" : bench.state;
    undo.disabled = COMMANDS.undoDepth(bench.view.state) === 0;
    redo.disabled = COMMANDS.redoDepth(bench.view.state) === 0;
    keep.disabled = !bench.isExample && !bench.dirty;
  };
  for (const what of ["opened", "named", "changed", "state"] as const) bench.on(what, stand);
  bench.on("opened", () => clear(shown));

  let drawn = "";
  bench.on("worked", (worked) => {
    const now = JSON.stringify([worked.sizes, worked.size, worked.options]);
    if (now === drawn && shown.childNodes.length > 0) return;
    drawn = now;
    const parts: HTMLElement[] = [];
    if (worked.sizes.length > 1) {
      parts.push(
        choice("size", worked.sizes, worked.size, (size) => {
          bench.size = size;
          chosen();
        }),
      );
    }
    for (const option of worked.options) {
      parts.push(
        choice(option.name, option.values, option.chosen, (value) => {
          bench.options = { ...bench.options, [option.name]: value };
          chosen();
        }),
      );
    }
    parts.forEach((part, n) => part.append(n < parts.length - 1 ? "," : "."));
    clear(shown, parts.length ? ["Shown: ", ...parts] : []);
  });
  return h(
    "header",
    { class: "head" },
    h("p", { class: "running" }, h("span", { class: "running-file" }, name, state), h("span", { class: "acts" }, undo, redo, keep)),
    shown,
  );
}

function choice(name: string, values: readonly string[], chosen: string, then: (value: string) => void): HTMLElement {
  const select = h("select", { onchange: () => then(select.value), name }, ...values.map((value) => h("option", { value, selected: value === chosen }, value)));
  return h("label", { class: "choice" }, `${name} `, select);
}
