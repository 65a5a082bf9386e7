/** The page about a finding. */

import { Fault, get } from "../ask.ts";
import { button, clear, h } from "../dom.ts";
import type { Block } from "../wire.ts";

export function showExplained(box: HTMLElement, code: string, back: () => void): () => void {
  const told = h("div", { class: "prose" });
  clear(box, h("p", {}, button("Back to the pattern", back, { class: "plain strong" })), told);
  get<{ title: string; blocks: Block[] }>("/api/explain", { code }).then(
    (page) => clear(told, h("h2", {}, page.title), ...page.blocks.map(block)),
    (fault: unknown) => clear(told, h("p", {}, fault instanceof Fault ? fault.message : String(fault))),
  );
  const escape = (event: KeyboardEvent): void => {
    if (event.key === "Escape") back();
  };
  addEventListener("keydown", escape);
  return () => removeEventListener("keydown", escape);
}

function block(one: Block): HTMLElement {
  if (one.kind === "pattern") return h("pre", { class: "sample", tabindex: 0 }, one.text);
  if (one.kind === "head") return h("h3", {}, one.text);
  return h("p", {}, one.text);
}
