/** All patterns in the folder, the examples, and how to begin a new one. */

import { Fault, get, post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { clear, h } from "../dom.ts";
import { addressOf } from "../pure/address.ts";
import type { Binder } from "../wire.ts";
import type { Turns } from "./leaves.ts";

export function patternsLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): void => {
    const told = h("div");
    clear(box, h("h2", {}, "All patterns"), told);
    get<Binder>("/api/binder").then(
      (binder) => clear(told, ...contents(binder, bench, turns)),
      (fault: unknown) => clear(told, h("p", { class: "empty" }, fault instanceof Fault ? fault.message : String(fault))),
    );
  };
}

function contents(binder: Binder, bench: Bench, turns: Turns): HTMLElement[] {
  const mine = binder.patterns.length
    ? h(
        "ul",
        { class: "shelf" },
        ...binder.patterns.map((one) =>
          h("li", {}, h("a", { href: addressOf({ path: one.path, leaf: "words" }), "aria-current": one.path === bench.path ? "true" : null }, one.title || one.path), h("span", { class: "places" }, [one.path, one.sizes > 1 ? `${one.sizes} sizes` : "", when(one.changed)].filter(Boolean).join(", "))),
        ),
      )
    : h("p", { class: "empty" }, "There is no pattern in this folder yet. Begin one below, or open an example and write on it: your copy of it comes here.");
  return [
    h("p", { class: "lead" }, "In the folder ", h("bdi", {}, binder.folder)),
    mine,
    h("h3", {}, "Begin a new one"),
    begin(binder, turns),
    h("h3", {}, "Examples"),
    h("ul", { class: "shelf" }, ...binder.examples.map((one) => h("li", {}, h("a", { href: addressOf({ path: `example:${one.name}`, leaf: "words" }) }, one.title), h("span", { class: "places" }, one.told)))),
  ];
}

const BLANK = (title: string): string => `# ${title}\n\n`;

function begin(binder: Binder, turns: Turns): HTMLElement {
  const title = h("input", { type: "text", name: "title", required: true, autocomplete: "off", maxlength: 100, id: "new-title" });
  const from = h("select", { name: "from", id: "new-from" }, h("option", { value: "" }, "a blank sheet"), ...binder.examples.map((one) => h("option", { value: one.name }, one.title)));
  const state = h("p", { role: "status", class: "copy-state" });
  const form = h(
    "form",
    { class: "begin" },
    h("label", { for: "new-title" }, "Its name"),
    title,
    h("label", { for: "new-from" }, "Begin from"),
    from,
    h("button", { class: "strong" }, "Begin"),
    state,
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const name = title.value.trim();
    if (!name) return;
    const body = { name, from: from.value || null, text: from.value ? null : BLANK(name) };
    newPattern(body).then(
      (made) => turns.open(made.path, "words"),
      (fault: unknown) => {
        state.textContent = fault instanceof Fault ? fault.message : String(fault);
      },
    );
  });
  return form;
}

/** Begins a file; if its name is taken, under the next name that is free. */
export async function newPattern(asked: { name: string; from: string | null; text: string | null }): Promise<{ path: string; stamp: string }> {
  try {
    return await post("/api/new", asked);
  } catch (fault) {
    const body = fault instanceof Fault && fault.status === 409 ? (fault.body as { free?: string }) : {};
    if (!body.free) throw fault;
    return post("/api/new", { ...asked, name: body.free });
  }
}

export function when(told: number): string {
  const then = new Date(told);
  if (Number.isNaN(then.valueOf())) return "";
  const today = new Date().toDateString() === then.toDateString();
  const hour = then.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return today ? `today, ${hour}` : `${then.toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" })}, ${hour}`;
}
