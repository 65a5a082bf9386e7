/** "Where am I?": from what can be seen of the work, the row, or every row that it could be. */

import { h } from "../dom.ts";
import { stitches } from "../pure/margin.ts";
import type { FoundRow, WhereFound } from "../wire.ts";
import { lostLeaf } from "./lost.ts";

const SHOWN = 12;

export const whereLeaf = lostLeaf<WhereFound>({
  address: "/api/where",
  title: "Where am I?",
  lead: "Answer what you can see of the work as you are about to begin the next row.",
  wait: "One moment.",
  told: (found, said) => {
    if (said === 0) return [];
    if (found.clash) return [h("p", { class: "lead" }, found.clash), near(found.near)];
    const count = found.rows.length;
    if (count === 0) return [h("p", { class: "lead" }, "No row of this pattern fits all of that."), near(found.near)];
    const words = count === 1 ? "One row fits." : `${count.toLocaleString("en")} rows fit.`;
    return [h("p", { class: "lead" }, words), h("ul", { class: "shelf" }, ...found.rows.slice(0, SHOWN).map(row)), count > SHOWN ? h("p", { class: "places" }, `and ${count - SHOWN} more`) : null];
  },
});

function row(one: FoundRow): HTMLElement {
  return h("li", {}, h("b", {}, `You have just finished ${one.name || `row ${one.row}`}`), h("span", { class: "places" }, [one.piece, `${stitches(one.stitches)} on the needle`].filter(Boolean).join(", ")), one.next ? h("span", {}, `Next: ${one.next}${one.next_words ? `: ${one.next_words}` : ""}`) : null);
}

function near(rows: readonly FoundRow[]): HTMLElement | null {
  return rows.length ? h("div", {}, h("p", {}, "Nearly right:"), h("ul", { class: "shelf" }, ...rows.slice(0, SHOWN).map(row))) : null;
}
