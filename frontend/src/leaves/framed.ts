/** A page of the pattern as a knitter gets it, in a frame of its own. */

import { Fault, told } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { clear, h } from "../dom.ts";
import type { PageMade } from "../wire.ts";

const SETTLED_MS = 900;

export function framedLeaf(page: "sheet" | "lesson" | "follow", title: string, lead: string) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const frame = h("iframe", { class: "framed", title, sandbox: "allow-scripts" });
    const state = h("p", { class: "empty", role: "status" }, "It is being set.");
    clear(box, h("h2", {}, title), h("p", { class: "lead" }, lead), state, frame);
    let stop = new AbortController();
    let later: ReturnType<typeof setTimeout> | undefined;
    let last = "";
    const draw = async (): Promise<void> => {
      stop.abort();
      stop = new AbortController();
      const asked = bench.asked;
      const now = JSON.stringify(asked);
      if (now === last) return;
      last = now;
      try {
        const made = await told<PageMade>("/api/page", { ...asked, page }, () => asked.version === bench.version, stop.signal);
        if (!made?.url) return;
        frame.src = made.url;
        state.textContent = "";
      } catch (fault) {
        if (fault instanceof Fault) state.textContent = fault.message;
      }
    };
    void draw();
    const off = bench.on("worked", () => {
      clearTimeout(later);
      later = setTimeout(() => void draw(), SETTLED_MS);
    });
    return () => {
      clearTimeout(later);
      stop.abort();
      off();
    };
  };
}
