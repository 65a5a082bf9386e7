/** The short contents list at the spine of the binder. */

import type { Bench } from "./bench.ts";
import { h } from "./dom.ts";

export interface Leaf {
  name: string;
  words: string;
  /** What a figure beside it counts, once it is known. */
  figure?: (bench: Bench) => string;
  show: (box: HTMLElement, bench: Bench) => (() => void) | void;
}

export function contents(bench: Bench, leaves: readonly Leaf[], groups: readonly number[], at: (name: string) => string): HTMLElement {
  const lists: HTMLElement[] = [];
  const links = new Map<string, { link: HTMLAnchorElement; figure: HTMLElement; leaf: Leaf }>();
  let list = h("ol");
  leaves.forEach((leaf, n) => {
    if (n === 0 || groups.includes(n)) {
      list = h("ol");
      lists.push(list);
    }
    const figure = h("span", { class: "figure" });
    const link = h("a", { href: at(leaf.name) }, h("span", { class: "leaf-name" }, leaf.words), h("span", { class: "leader", "aria-hidden": "true" }), figure);
    links.set(leaf.name, { link, figure, leaf });
    list.append(h("li", {}, link));
  });
  const figures = (): void => {
    for (const { figure, leaf } of links.values()) figure.textContent = leaf.figure?.(bench) ?? "";
  };
  for (const what of ["worked", "proved", "opened"] as const) bench.on(what, figures);
  const summary = h("summary", {}, "Contents");
  const card = h("details", { class: "contents-card" }, summary, ...lists);
  const nav = h("nav", { class: "contents", "aria-label": "Contents" }, card);
  const wide = matchMedia("(min-width: 1180px)");
  const fold = (): void => {
    card.open = wide.matches;
  };
  wide.addEventListener("change", fold);
  fold();
  nav.addEventListener("leaf", (event) => {
    const now = (event as CustomEvent<string>).detail;
    fold();
    summary.textContent = `Contents: ${links.get(now)?.leaf.words ?? ""}`;
    for (const [name, { link }] of links) {
      link.href = at(name);
      if (name === now) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
  });
  return nav;
}
