/** "Something is wrong": one question at a time, then what most likely happened and what mends it. */

import { h } from "../dom.ts";
import type { RescueFound } from "../wire.ts";
import { lostLeaf } from "./lost.ts";

const SHOWN = 4;

export const rescueLeaf = lostLeaf<RescueFound>({
  address: "/api/rescue",
  title: "Something is wrong",
  lead: "A count that does not come out, a hole, a stitch that looks odd: answer what you can see. Do not pull anything out yet.",
  wait: "One moment: every slip that knitters make is being tried in every row.",
  told: (found, said) => [
    found.clash ? h("p", { class: "notice" }, h("span", {}, found.clash)) : null,
    ...found.notes.map((note) => h("p", {}, note)),
    said > 0 && found.found.length ? h("h3", {}, found.clear ? "What happened" : "What may have happened") : null,
    said > 0 && found.found.length ? h("ol", { class: "likely" }, ...found.found.slice(0, SHOWN).map(one)) : null,
  ],
});

function one(found: RescueFound["found"][number]): HTMLElement {
  const where = found.made_in?.name ? ` (${found.made_in.name})` : "";
  return h(
    "li",
    {},
    h("p", {}, h("b", {}, found.did || found.name), where, h("span", { class: "places" }, ` ${found.how_sure}`)),
    found.reasons.length ? h("p", { class: "places" }, found.reasons.join(" ")) : null,
    found.cures.length ? h("ul", {}, ...found.cures.map((cure) => h("li", {}, h("b", {}, `${cure.grade.charAt(0).toUpperCase()}${cure.grade.slice(1)}: `), cure.what, cure.shows ? h("span", { class: "places" }, ` ${cure.shows}`) : null))) : null,
  );
}
