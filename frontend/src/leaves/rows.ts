/** The ledger: every row that is worked, with its counts. */

import type { Bench } from "../bench.ts";
import { clear, h } from "../dom.ts";
import { NAMES } from "../pure/margin.ts";
import type { Row } from "../wire.ts";
import type { Turns } from "./leaves.ts";

const AT_ONCE = 400;

export function rowsLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const table = h("div");
    const draw = (): void => clear(table, bench.rows.length ? ledger(bench, turns) : empty());
    clear(box, h("h2", {}, "Row by row"), h("p", { class: "lead" }, "Each row as it is worked, in the order of work. Press a row to see its words."), table);
    draw();
    return bench.on("worked", draw);
  };
}

function empty(): HTMLElement {
  return h("p", { class: "empty" }, "Nothing is knitted yet. A pattern begins with a cast-on, such as \u201cCast on 24 sts.\u201d, and rows, such as \u201cRow 1 (RS): Knit.\u201d");
}

const HEADS = ["Row", "Side", "At start", "Worked", "Left", "Made", "Lost", "At end", "", "Words"];

function ledger(bench: Bench, turns: Turns): HTMLElement {
  const bodies: HTMLElement[] = [];
  let section: string | null = null;
  let body = h("tbody");
  const more = bench.rows.length > AT_ONCE;
  for (const row of bench.rows.slice(0, AT_ONCE)) {
    if (row.section !== section) {
      section = row.section;
      body = h("tbody", {}, h("tr", { class: "of-section" }, h("th", { colspan: HEADS.length, scope: "rowgroup" }, section || "Beginning")));
      bodies.push(body);
    }
    body.append(entry(row, bench, turns));
  }
  const table = h(
    "table",
    { class: "ledger" },
    h("caption", { class: "unseen" }, "Every row, with its side and its counts"),
    h("thead", {}, h("tr", {}, ...HEADS.map((head) => (head ? h("th", { scope: "col" }, head) : h("th", { scope: "col" }, h("span", { class: "unseen" }, "As printed")))))),
    ...bodies,
  );
  const rest = h("button", { type: "button" }, `Show the other ${bench.rows.length - AT_ONCE} rows`);
  rest.addEventListener("click", () => {
    for (const row of bench.rows.slice(AT_ONCE)) {
      if (row.section !== section) {
        section = row.section;
        body = h("tbody", {}, h("tr", { class: "of-section" }, h("th", { colspan: HEADS.length, scope: "rowgroup" }, section || "Beginning")));
        table.append(body);
      }
      body.append(entry(row, bench, turns));
    }
    rest.remove();
  });
  return h("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": "Every row" }, table, more ? rest : null);
}

function entry(row: Row, bench: Bench, turns: Turns): HTMLElement {
  const name = row.label || NAMES[row.kind] || row.kind;
  const again = row.pass > 1 ? `time ${row.pass}` : "";
  const go = h("button", { type: "button", class: "to-words" }, name, again ? h("span", { class: "places" }, ` ${again}`) : null);
  go.addEventListener("click", () => {
    const at = row.from ?? 0;
    bench.tell("picked", { from: at, to: row.to ?? at });
    turns.toWords({ from: at, to: at });
  });
  const number = (count: number, quiet = false): HTMLElement => h("td", { class: quiet && count === 0 ? "number none" : "number" }, String(count));
  const printed = row.said ?? null;
  const agrees = printed === null ? "" : printed === row.end ? "\u2713" : `\u2260 ${printed}`;
  const said = printed === null ? "" : printed === row.end ? "as printed" : `printed: ${printed}`;
  return h(
    "tr",
    {},
    h("th", { scope: "row" }, go),
    h("td", {}, row.side ? h("span", { class: `side side-${row.side.toLowerCase()}` }, row.side) : null),
    number(row.start),
    number(row.worked, true),
    number(row.unworked, true),
    number(row.made, true),
    number(row.lost, true),
    number(row.end),
    h("td", { class: row.said === row.end ? "agrees" : "differs" }, agrees ? h("span", { "aria-hidden": "true" }, agrees) : null, said ? h("span", { class: "unseen" }, said) : null),
    h("td", { class: "of-words" }, words(row, bench)),
  );
}

/** Her words for this row, without its name, which stands there already. */
function words(row: Row, bench: Bench): string {
  if (row.copied) return `as ${row.copied}`;
  if (row.from === null || row.to === null) return "";
  return bench.view.state.sliceDoc(row.from, row.to).replace(/^[^:\n]{0,60}?\d\s*(?:\((?:RS|WS)\))?\s*:\s*/i, "");
}
