/** Two versions of one pattern, hers and the file's: brought together, and asked about only where they clash. */

import { button, clear, h } from "../dom.ts";
import { chosenText, type Choice } from "../pure/clashes.ts";
import type { Refused } from "../wire.ts";

export function showBothVersions(box: HTMLElement, refused: Refused, done: (text: string | null) => void): () => void {
  const { merged } = refused;
  const choices: Choice[] = merged.clashes.map(() => "hers");
  const count = merged.clashes.length;
  const parts: HTMLElement[] = merged.clashes.map((clash, n) => {
    const pick = (choice: Choice, words: string): HTMLElement => {
      const input = h("input", { type: "radio", name: `clash-${n}`, value: choice, checked: choice === "hers" });
      input.addEventListener("change", () => {
        choices[n] = choice;
      });
      return h("label", {}, input, ` ${words}`);
    };
    return h(
      "fieldset",
      { class: "clash" },
      h("legend", {}, count === 1 ? "Here they differ" : `Place ${n + 1} of ${count}`),
      h("div", { class: "clash-both" }, version("What you wrote", clash.hers), version("What the file has now", clash.theirs)),
      h("p", { class: "clash-choose" }, pick("hers", "Take mine"), pick("theirs", "Take the other"), pick("both", "Take both, mine first")),
    );
  });
  clear(
    box,
    h("h2", {}, "Two versions of this pattern"),
    h(
      "p",
      {},
      count
        ? "The file was changed elsewhere since you opened it. What does not clash is already together. Choose where it does; nothing is saved yet."
        : "The file was changed elsewhere since you opened it. The changes do not clash, and both can stand. Nothing is saved yet.",
    ),
    ...parts,
    h(
      "p",
      { class: "slip-acts" },
      button("Put together on my sheet", () => done(chosenText(merged, choices)), { class: "strong" }),
      button("Not now", () => done(null), { class: "plain" }),
    ),
  );
  return () => undefined;
}

function version(name: string, words: string): HTMLElement {
  return h("div", {}, h("h3", {}, name), h("pre", { class: "sample", tabindex: 0 }, words || "(nothing)"));
}
