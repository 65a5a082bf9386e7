/** Earlier versions: what was saved, and what has changed since. */

import { Fault, get } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h } from "../dom.ts";
import { aroundChanges, differ } from "../pure/lines.ts";
import type { Turns } from "./leaves.ts";
import { when } from "./patterns.ts";

interface Version {
  id: string;
  when: number;
  lines: number;
  changed: number;
  draft?: boolean;
}

export function versionsLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): void => {
    const list = h("div");
    const told = h("div", { class: "version-told" });
    clear(box, h("h2", {}, "Earlier versions"), list, told);
    if (bench.isExample) {
      clear(list, h("p", { class: "empty" }, "An example has no earlier versions. Once you write on it, your copy has."));
      return;
    }
    get<{ versions: Version[] }>("/api/history", { path: bench.path }).then(
      ({ versions }) => {
        if (versions.length === 0) clear(list, h("p", { class: "empty" }, "Nothing yet. Each time you save, what was there before is kept here, and you can walk back to it."));
        else clear(list, h("ol", { class: "shelf", reversed: true }, ...versions.map((one, n) => version(one, n === versions.length - 1, told, bench, turns))));
      },
      (fault: unknown) => clear(list, h("p", { class: "empty" }, fault instanceof Fault ? fault.message : String(fault))),
    );
  };
}

function version(one: Version, oldest: boolean, told: HTMLElement, bench: Bench, turns: Turns): HTMLElement {
  const look = async (): Promise<void> => {
    const { text } = await get<{ text: string }>("/api/history/one", { path: bench.path, id: one.id });
    const changes = aroundChanges(differ(text.split("\n"), bench.text.split("\n")));
    const same = changes.every((line) => line === null);
    clear(
      told,
      h("h3", { tabindex: -1 }, `As it was ${when(one.when)}`),
      same
        ? h("p", {}, "It is the same as what lies on the sheet now.")
        : h("ol", { class: "differing" }, ...changes.map((line) => (line === null ? h("li", { class: "left-out" }, h("span", { class: "unseen" }, "lines that are the same")) : h("li", { class: line.kind }, h("span", { class: "unseen" }, SAID[line.kind]), line.kind === "old" ? h("ins", {}, line.words || " ") : line.kind === "new" ? h("del", {}, line.words || " ") : line.words)))),
      same ? null : h("p", { class: "places" }, "Struck out: on the sheet now. Underlined: as it was."),
      same
        ? null
        : button("Put this version on the sheet", () => {
            turns.write(text);
            turns.toWords();
          }, { class: "strong" }),
    );
    told.querySelector<HTMLElement>("h3")?.focus();
  };
  const changed = one.changed === 1 ? "1 of them changed since the one before" : `${one.changed} changed since the one before`;
  const words = oldest ? "the oldest that is kept" : changed;
  return h("li", {}, h("button", { type: "button", class: "to-words", onclick: () => void look() }, when(one.when)), h("span", { class: "places" }, `${one.draft ? "A draft, never saved: " : ""}${one.lines} lines, ${words}`));
}

const SAID = { same: "", old: "was: ", new: "is now: " } as const;
