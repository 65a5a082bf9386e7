/** What can be given out: prints, pages, pictures. */

import { Fault, file } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { clear, h, keep } from "../dom.ts";

interface Copy {
  what: string;
  as: string;
  name: string;
  told: string;
}

const COPIES: readonly { head: string; copies: readonly Copy[] }[] = [
  {
    head: "The pattern",
    copies: [
      { what: "sheet", as: "pdf", name: "Print", told: "A PDF with boxes to tick, charts and measures." },
      { what: "sheet", as: "large", name: "Large print", told: "A PDF in letters of 22 points." },
      { what: "sheet", as: "html", name: "Page to read", told: "One file that any browser opens, without a network." },
      { what: "sheet", as: "follow", name: "Page to knit from", told: "One row at a time on a telephone; it keeps the place." },
      { what: "sheet", as: "text", name: "Plain text", told: "For a letter." },
      { what: "sheet", as: "spoken", name: "Text to listen to", told: "Every abbreviation in full, for a voice to read out." },
    ],
  },
  {
    head: "Pictures",
    copies: [
      { what: "chart", as: "pdf", name: "Charts, for print", told: "PDF." },
      { what: "chart", as: "png", name: "Charts, as pictures", told: "PNG." },
      { what: "cloth", as: "png", name: "The cloth, as a picture", told: "PNG." },
      { what: "cloth", as: "glb", name: "The cloth, as a solid", told: "A GLB file, to turn elsewhere." },
    ],
  },
  {
    head: "For teaching and editing",
    copies: [
      { what: "lesson", as: "pdf", name: "Lesson, for print", told: "PDF." },
      { what: "lesson", as: "html", name: "Lesson, as a page", told: "With rows shown stitch by stitch." },
      { what: "report", as: "pdf", name: "The editor's report", told: "Every finding, with what was and was not proved." },
    ],
  },
];

/** What is set on paper, A4 or Letter. */
const PAPER = new Set(["sheet", "report", "lesson"]);

export function giveOutLeaf(box: HTMLElement, bench: Bench): () => void {
  const sizes = h("select", { name: "size" });
  const terms = select("terms", [["", "as written"], ["us", "US"], ["uk", "UK"]]);
  const units = select("units", [["", "as written"], ["metric", "centimetres"], ["imperial", "inches"], ["both", "both"]]);
  const paper = select("paper", [["pdf", "A4"], ["letter", "Letter"]]);
  const hand = h("input", { type: "checkbox", name: "left" });
  const fill = (): void => {
    const chosen = sizes.value;
    clear(sizes, h("option", { value: "" }, "all sizes"), ...(bench.worked?.sizes ?? []).map((size) => h("option", { value: size, selected: size === chosen }, size)));
  };
  fill();
  const lists = COPIES.map(({ head, copies }) => {
    return h("section", {}, h("h3", {}, head), h("ul", { class: "copies" }, ...copies.map((copy) => one(copy))));
  });
  function one(copy: Copy): HTMLElement {
    const state = h("span", { class: "copy-state", role: "status" });
    const go = h("button", { type: "button" }, copy.name);
    go.addEventListener("click", () => {
      void (async () => {
        go.setAttribute("aria-disabled", "true");
        state.textContent = "It is being made.";
        try {
          const extra = { terms: terms.value, units: units.value, left_handed: hand.checked };
          const as = copy.as === "pdf" && PAPER.has(copy.what) ? paper.value : copy.as;
          const { blob, name } = await file("/api/export", { path: bench.path, text: bench.text, size: sizes.value || null, options: bench.options, what: copy.what, as, extra });
          keep(blob, name);
          state.textContent = `Made: ${name}`;
        } catch (fault) {
          state.textContent = fault instanceof Fault ? fault.message : String(fault);
        } finally {
          go.removeAttribute("aria-disabled");
        }
      })();
    });
    return h("li", {}, go, h("span", { class: "copy-told" }, copy.told), state);
  }
  clear(
    box,
    h("h2", {}, "Give it out"),
    h(
      "p",
      { class: "shown" },
      h("label", { class: "choice" }, "For ", sizes, ","),
      h("label", { class: "choice" }, "in terms ", terms, ","),
      h("label", { class: "choice" }, "lengths ", units, ","),
      h("label", { class: "choice" }, "on paper ", paper, ","),
      h("label", { class: "choice" }, hand, " for left-handed knitting."),
    ),
    ...lists,
  );
  return bench.on("worked", fill);
}

function select(name: string, values: readonly (readonly [string, string])[]): HTMLSelectElement {
  return h("select", { name }, ...values.map(([value, words]) => h("option", { value }, words)));
}
