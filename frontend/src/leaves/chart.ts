/** The charts, drawn from what was knitted; a square shows its words. */

import { Fault, post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h, svg } from "../dom.ts";
import { spanOf, toUnits } from "../pure/spans.ts";
import type { Turns } from "./leaves.ts";

interface ChartBlock {
  title: string;
  svg: string;
  key: string | null;
  words: string[];
}

export function chartLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const told = h("div");
    clear(box, h("h2", {}, "Charts"), told);
    let stop = new AbortController();
    const draw = async (): Promise<void> => {
      stop.abort();
      stop = new AbortController();
      const asked = bench.asked;
      try {
        const page = await post<{ blocks: ChartBlock[] }>("/api/page", { ...asked, page: "chart" }, stop.signal);
        if (asked.version !== bench.version) return;
        clear(told, ...(page.blocks.length ? page.blocks.map((block) => chart(block, asked.text, bench, turns)) : [empty()]));
      } catch (fault) {
        if (fault instanceof Fault) clear(told, h("p", { class: "empty" }, fault.message));
      }
    };
    clear(told, h("p", { class: "empty" }, "The charts are being drawn."));
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

function chart(block: ChartBlock, text: string, bench: Bench, turns: Turns): HTMLElement {
  const picture = svg(block.svg);
  const key = block.key ? svg(block.key) : null;
  const pressed = h("p", { class: "chart-words", role: "status" }, "Press a square to see the words it was worked from.");
  if (picture) {
    picture.addEventListener("click", (event) => {
      const span = spanOf((event.target as Element).closest("[data-span]")?.getAttribute("data-span") ?? undefined);
      if (!span) return;
      const [from = 0, to = 0] = toUnits(text, span);
      const line = bench.view.state.doc.lineAt(Math.min(from, bench.view.state.doc.length));
      bench.tell("picked", { from, to });
      clear(
        pressed,
        h("b", {}, text.slice(from, to)),
        ` in line ${line.number} `,
        button("To these words", () => {
          turns.toWords();
          requestAnimationFrame(() => bench.view.dispatch({ selection: { anchor: from, head: to }, scrollIntoView: true }));
        }, { class: "plain" }),
      );
    });
  }
  return h(
    "section",
    { class: "chart" },
    h("h3", {}, block.title),
    h("div", { class: "print wide", tabindex: 0, role: "group", "aria-label": `Chart: ${block.title}` }, picture),
    pressed,
    key ? h("div", { class: "print" }, key) : null,
    block.words.length ? h("details", {}, h("summary", {}, "The chart in words"), h("ol", { class: "bare" }, ...block.words.map((words) => h("li", {}, words)))) : null,
  );
}
