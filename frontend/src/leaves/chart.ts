/** The charts, drawn from what was knitted; a square shows its words. */

import { Fault, told } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h, svg } from "../dom.ts";
import { spanOf } from "../pure/spans.ts";
import type { PageMade } from "../wire.ts";
import type { Turns } from "./leaves.ts";

export function chartLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const list = h("div");
    clear(box, h("h2", {}, "Charts"), list);
    let stop = new AbortController();
    const draw = async (): Promise<void> => {
      stop.abort();
      stop = new AbortController();
      const asked = bench.asked;
      try {
        const page = await told<PageMade>("/api/page", { ...asked, page: "chart" }, () => asked.version === bench.version, stop.signal);
        if (!page) return;
        clear(list, ...(page.drawings.length ? page.drawings.map((drawing) => chart(drawing, asked.text, bench, turns)) : [empty()]));
      } catch (fault) {
        if (fault instanceof Fault) clear(list, h("p", { class: "empty" }, fault.message));
      }
    };
    clear(list, h("p", { class: "empty" }, "The charts are being drawn."));
    void draw();
    const off = bench.on("worked", () => void draw());
    return () => {
      stop.abort();
      off();
    };
  };
}

function empty(): HTMLElement {
  return h("p", { class: "empty" }, "There is nothing to chart here. A chart is drawn for rows that are more than plain knitting: yarn overs, decreases, cables, or knit and purl in a pattern.");
}

function chart(block: PageMade["drawings"][number], text: string, bench: Bench, turns: Turns): HTMLElement {
  const picture = svg(block.svg);
  const pressed = h("p", { class: "chart-words", role: "status" }, "Press a square to see the words it was worked from.");
  if (picture) {
    picture.addEventListener("click", (event) => {
      const span = spanOf((event.target as Element).closest("[data-span]")?.getAttribute("data-span") ?? undefined);
      if (!span) return;
      const [from, to] = span;
      const line = bench.view.state.doc.lineAt(Math.min(from, bench.view.state.doc.length));
      bench.tell("picked", { from, to });
      clear(
        pressed,
        h("b", {}, text.slice(from, to)),
        ` in line ${line.number} `,
        button("To these words", () => turns.toWords({ from, to }), { class: "plain" }),
      );
    });
  }
  return h(
    "section",
    { class: "chart" },
    h("h3", { class: "unseen" }, block.title),
    h("div", { class: "print wide", tabindex: 0, role: "group", "aria-label": `Chart: ${block.title}` }, picture),
    pressed,
    block.words.length ? h("details", {}, h("summary", {}, "The chart in words"), h("ol", { class: "bare" }, ...block.words.map((words) => h("li", {}, words)))) : null,
  );
}
