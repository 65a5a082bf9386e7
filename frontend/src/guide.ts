/** The first minutes: a short path along the sheet, on a slip of paper that ticks itself off. */

import type { Bench } from "./bench.ts";
import { button, clear, h, say } from "./dom.ts";

interface Step {
  name: string;
  words: string;
}

const STEPS: readonly Step[] = [
  { name: "margin", words: "Beside each line stand its side and the stitches on the needle after it. A tick says that your printed count is the same." },
  { name: "unfold", words: "Press the count beside Row 4. The row unfolds: the needles, the cloth so far, what to look for." },
  { name: "wrong", words: "Change a number in a count, 36 to 35 say. The words are marked as you type, and the right margin says what knitting it gives." },
  { name: "repair", words: "Press Accept beside the mark, or Undo at the head of the sheet. Both take it back." },
  { name: "size", words: "Choose another size at the head of the sheet. Every count follows." },
  { name: "cloth", words: "Turn to The whole cloth in the contents. Press a stitch there, and come back: its words are lit." },
];
const KEPT = "purlwright-guide";

function done(): Set<string> {
  return new Set((localStorage.getItem(KEPT) ?? "").split(" ").filter(Boolean));
}

/** Shown on the first leaf until it is put away, or all of it was done. */
export function guide(bench: Bench, box: HTMLElement): void {
  if (done().has("away")) return;
  const list = h("ol");
  const slip = h("aside", { class: "guide", "aria-labelledby": "guide-title" });
  const put = (name: string): void => {
    const have = done().add(name);
    localStorage.setItem(KEPT, [...have].join(" "));
  };
  const draw = (): void => {
    const have = done();
    clear(list, ...STEPS.map((step) => h("li", { class: have.has(step.name) ? "is-done" : "" }, have.has(step.name) ? h("span", { class: "unseen" }, "Done: ") : null, step.words)));
  };
  const tick = (name: string): void => {
    if (!slip.isConnected || done().has(name)) return;
    put(name);
    draw();
    if (STEPS.every((step) => done().has(step.name))) say("That was the whole path.");
  };
  const offs = [
    bench.on("worked", (worked) => {
      const wrong = worked.findings.some((mark) => mark.severity === "error");
      if (wrong) tick("wrong");
      else if (done().has("wrong")) tick("repair");
      if (worked.rows.length > 0) tick("margin");
    }),
    bench.on("changed", () => {
      if (bench.size !== null && bench.worked !== null && bench.size !== bench.worked.size) tick("size");
    }),
    bench.on("picked", () => put("cloth")),
  ];
  box.addEventListener("click", (event) => {
    if ((event.target as Element).closest(".beside")) tick("unfold");
  });
  clear(
    slip,
    h("h2", { id: "guide-title" }, "Six things to try"),
    list,
    button("Put this slip away", () => {
      put("away");
      for (const off of offs) off();
      slip.remove();
    }, { class: "plain" }),
  );
  draw();
  box.prepend(slip);
}
