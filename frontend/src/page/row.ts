/** What a row is: its words in full, the needles with their loops, the cloth so far, its chart line, its clues. */

import { told as ask, Fault } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h, svg } from "../dom.ts";
import { inWords, type Run, shown } from "../pure/loops.ts";
import { NAMES, stitches } from "../pure/margin.ts";
import type { Clues, Row, RowTold } from "../wire.ts";

const ROOM = 44;

/** A box that fills itself with what the row of this order is; of the passes of a row, one is chosen. */
export function rowBox(bench: Bench, orders: readonly number[], close: () => void): HTMLElement {
  const told = h("div", { class: "leaflet-told" });
  const many = orders.length > 1;
  let at = 0;
  const which = h("span", { class: "leaflet-which" });
  const step = (by: number): void => {
    at = (at + by + orders.length) % orders.length;
    void fill();
  };
  const head = h(
    "p",
    { class: "leaflet-head" },
    which,
    many ? button("Earlier", () => step(-1), { class: "plain" }) : null,
    many ? button("Later", () => step(1), { class: "plain" }) : null,
    button("Fold up", close, { class: "plain" }),
  );
  const box = h("section", { class: "leaflet", "aria-label": "The row, unfolded" }, head, told);
  const fill = async (): Promise<void> => {
    const order = orders[at] as number;
    const entry = bench.rows.find((row) => row.order === order);
    which.textContent = entry ? `${entry.label || NAMES[entry.kind] || "This line"}${many ? `, time ${at + 1} of ${orders.length}` : ""}` : "";
    try {
      const asked = { ...bench.asked, order };
      const wanted = (): boolean => orders[at] === order && asked.version === bench.version;
      const row = await ask<RowTold>("/api/row", asked, wanted);
      if (!row) return;
      const clues = h("div", { class: "leaflet-clues" });
      clear(told, ...contents(row), clues);
      bench.view.requestMeasure();
      const more = await ask<Clues>("/api/clues", asked, wanted);
      if (more) clear(clues, cluesOf(row, more));
    } catch (fault) {
      clear(told, h("p", { class: "empty" }, fault instanceof Fault ? fault.message : "This row cannot be shown."));
    }
    bench.view.requestMeasure();
  };
  void fill();
  return box;
}

function contents(row: RowTold): (HTMLElement | null)[] {
  return [
    h("p", { class: "leaflet-full" }, row.words_full),
    h("p", { class: "leaflet-sum" }, sum(row.ledger)),
    row.after ? needles(row.after.left, row.after.right) : null,
    pictures(row),
    beats(row),
    ...row.why.map((why) => h("p", { class: "places" }, why)),
  ];
}

function cluesOf(row: RowTold, clues: Clues): (HTMLElement | null)[] {
  const words = [row.look_for, ...clues.here.map((clue) => clue.words)].filter(Boolean);
  const here = [...new Set(words)];
  return here.length ? [h("h3", {}, "What to look for"), h("ul", {}, ...here.slice(0, 6).map((clue) => h("li", {}, clue)))] : [];
}

function beats(row: RowTold): HTMLElement | null {
  const all = row.frames?.beats ?? [];
  if (all.length === 0) return null;
  const alike: { words: string; count: number }[] = [];
  for (const beat of all) {
    const last = alike[alike.length - 1];
    if (last && last.words === beat.words) last.count++;
    else alike.push({ words: beat.words, count: 1 });
  }
  return h(
    "details",
    {},
    h("summary", {}, "Stitch by stitch"),
    h("ol", { class: "beats" }, ...alike.map((one) => h("li", {}, one.words, one.count > 1 ? h("span", { class: "places" }, ` ${one.count} times`) : null))),
  );
}

/** "36 stitches at the start; 32 worked, 4 left unworked; 36 at the end." */
export function sum(row: Row): string {
  const middle = [
    `${row.worked} worked`,
    row.unworked ? `${row.unworked} left unworked` : "",
    row.made ? `${row.made} made` : "",
    row.lost ? `${row.lost} decreased or bound off` : "",
    row.held ? `${row.held} put on a holder` : "",
    row.returned ? `${row.returned} taken back from a holder` : "",
  ].filter(Boolean);
  return `${stitches(row.start)} at the start; ${middle.join(", ")}; ${row.end} at the end.`;
}

function pictures(row: RowTold): HTMLElement | null {
  const drawn = [
    [row.close_up, "The cloth so far"],
    [row.chart_line, "Its line of the chart"],
  ] as const;
  const figures = drawn.map(([words, said]) => {
    const picture = words ? svg(words) : null;
    return picture ? h("figure", {}, h("div", { class: "print", tabindex: 0, role: "group", "aria-label": said }, picture), h("figcaption", {}, said)) : null;
  });
  return figures.some(Boolean) ? h("div", { class: "leaflet-pictures" }, ...figures) : null;
}

const SVG = "http://www.w3.org/2000/svg";

/** Both needles after the row, tips together in the middle, with the loops nearest to the tips. */
export function needles(left: readonly Run[], right: readonly Run[]): HTMLElement {
  const one = (runs: readonly Run[], name: string, flip: boolean): HTMLElement => {
    const loops = shown(runs, ROOM);
    const drawing = document.createElementNS(SVG, "svg");
    const wide = Math.max(12, loops.length) * 9 + 30;
    drawing.setAttribute("viewBox", `0 0 ${wide} 34`);
    drawing.setAttribute("class", flip ? "needle flip" : "needle");
    drawing.setAttribute("aria-hidden", "true");
    drawing.append(path(`M2 12 L14 9.5 H${wide - 2} V14.5 H14 Z`, "needle-wood"));
    loops.forEach((loop, n) => {
      const x = 24 + n * 9;
      drawing.append(path(`M${x - 2.6} 31 C${x - 4.8} 20 ${x - 3.8} 5 ${x} 5 C${x + 3.8} 5 ${x + 4.8} 20 ${x + 2.6} 31`, loop.look === "over" ? "loop over" : "loop"));
      if (loop.look === "bump") drawing.append(path(`M${x - 3.4} 21 Q${x} 25 ${x + 3.4} 21`, "loop bump"));
    });
    const all = runs.reduce((sum, run) => sum + run.count, 0);
    return h(
      "figure",
      { class: "needle-box" },
      h("figcaption", {}, h("b", {}, `${name}: ${all ? stitches(all) : "empty"}`), all ? h("span", { class: "unseen" }, `, from the tip: ${inWords(runs)}`) : null),
      drawing as unknown as HTMLElement,
    );
  };
  return h("div", { class: "needles" }, one(left, "Left needle", true), one(right, "Right needle", false));
}

function path(d: string, kind: string): SVGPathElement {
  const made = document.createElementNS(SVG, "path");
  made.setAttribute("d", d);
  made.setAttribute("class", kind);
  return made;
}
