/** The whole cloth: turned by hand or by key; a stitch shows its words, and words light their stitches. */

import { bytes, Fault } from "../ask.ts";
import type { Bench } from "../bench.ts";
import type { ClothView } from "../cloth/scene.ts";
import { type Cloth, decode, worked } from "../cloth/decode.ts";
import { button, clear, h } from "../dom.ts";
import { NAMES } from "../pure/margin.ts";
import type { Turns } from "./leaves.ts";

const SETTLED_MS = 500;
const LIES = [
  ["free", "as it lies by itself"],
  ["blocked", "pinned out"],
  ["pressed", "pressed flat"],
] as const;

export function clothLeaf(turns: Turns) {
  return (box: HTMLElement, bench: Bench): (() => void) => new ClothLeaf(box, bench, turns).open();
}

class ClothLeaf {
  private readonly bench: Bench;
  private readonly turns: Turns;
  private readonly box: HTMLElement;
  private readonly state = h("p", { class: "empty", role: "status" });
  private readonly told = h("div", { class: "cloth-told" });
  private readonly stitch = h("p", { class: "cloth-stitch", role: "status" });
  private readonly canvas = h("canvas", { class: "cloth", tabindex: 0, role: "application", "aria-label": "The cloth. Arrow keys turn it, plus and minus bring it nearer and further, full stop and comma go from stitch to stitch.", "aria-describedby": "cloth-told" });
  private readonly lies = h("select", { name: "lies" }, ...LIES.map(([value, words]) => h("option", { value }, words)));
  private view: ClothView | null = null;
  private cloth: Cloth | null = null;
  private chosen = -1;
  private stop = new AbortController();
  private later: ReturnType<typeof setTimeout> | undefined;
  private readonly watch = new ResizeObserver(() => this.view?.resize());

  constructor(box: HTMLElement, bench: Bench, turns: Turns) {
    this.box = box;
    this.bench = bench;
    this.turns = turns;
  }

  open(): () => void {
    this.told.id = "cloth-told";
    this.lies.addEventListener("change", () => void this.fetch(true));
    const act = (words: string, does: () => void): HTMLButtonElement => button(words, does);
    clear(
      this.box,
      h("h2", {}, "The whole cloth"),
      h("p", { class: "shown" }, h("label", { class: "choice" }, "Shown ", this.lies, ".")),
      this.state,
      h("div", { class: "cloth-frame" }, this.canvas),
      h(
        "p",
        { class: "cloth-acts" },
        act("Turn left", () => this.view?.turn(-20, 0)),
        act("Turn right", () => this.view?.turn(20, 0)),
        act("Tip up", () => this.view?.turn(0, -20)),
        act("Tip down", () => this.view?.turn(0, 20)),
        act("Nearer", () => this.view?.nearer(1.4)),
        act("Further", () => this.view?.nearer(1 / 1.4)),
        act("As at first", () => this.view?.home()),
      ),
      this.stitch,
      this.told,
    );
    this.hands();
    // What is shown is known once something was worked; before that, size and option are not.
    let first = true;
    if (this.bench.worked) {
      first = false;
      void this.fetch(true);
    } else this.state.textContent = "The cloth is being laid out.";
    const offs = [
      this.bench.on("worked", () => {
        clearTimeout(this.later);
        const anew = first;
        first = false;
        this.later = setTimeout(() => void this.fetch(anew), anew ? 0 : SETTLED_MS);
      }),
    ];
    return () => {
      offs.forEach((off) => off());
      clearTimeout(this.later);
      this.stop.abort();
      this.watch.disconnect();
      this.view?.dispose();
    };
  }

  private async fetch(anew: boolean): Promise<void> {
    this.stop.abort();
    const stop = new AbortController();
    this.stop = stop;
    const asked = this.bench.asked;
    const ask = async (level: "quick" | "settled"): Promise<Cloth> => decode(await bytes("/api/cloth", { ...asked, lies: this.lies.value, level }, stop.signal));
    const late = (cloth: Cloth): boolean => stop.signal.aborted || cloth.version !== this.bench.version;
    let settled = false;
    this.state.textContent = "The cloth is being laid out.";
    // Both are asked for at once; the quick one is shown only until the other is there.
    const quick = ask("quick").then(async (cloth) => {
      if (settled || late(cloth)) return;
      this.state.textContent = "It is settling.";
      await this.show(cloth, anew);
    });
    quick.catch(() => undefined); // whatever was wrong with it is wrong with the other, which says so
    try {
      const cloth = await ask("settled");
      settled = true;
      await quick.catch(() => undefined);
      if (late(cloth)) return;
      await this.show(cloth, anew);
    } catch (fault) {
      if (stop.signal.aborted) return;
      await quick.catch(() => undefined);
      this.state.textContent = fault instanceof Fault ? fault.message : "This browser cannot draw in three dimensions. A picture of the cloth can be had under Give it out.";
      if (!(fault instanceof Fault)) this.canvas.hidden = true;
      return;
    }
    this.state.textContent = "";
  }

  private async show(cloth: Cloth, anew: boolean): Promise<void> {
    if (!this.view) {
      const { ClothView } = await import("../cloth/scene.ts");
      this.view = new ClothView(this.canvas);
      this.watch.observe(this.canvas);
    }
    this.cloth = cloth;
    this.view.resize();
    this.view.put(cloth, anew);
    this.lightWords();
    clear(this.told, ...inWords(cloth));
    this.canvas.dataset.stitches = String(cloth.n);
  }

  /** The stitches of the words that are selected. */
  private lightWords(): void {
    const { from, to } = this.bench.view.state.selection.main;
    if (!this.cloth || !this.view || from === to) return;
    const lit = worked(this.cloth.span, from, to);
    this.view.lit(lit);
    if (lit.length) clear(this.stitch, h("b", {}, `${lit.length === 1 ? "1 stitch" : `${lit.length.toLocaleString("en")} stitches`}`), " of the words that you selected are lit.");
  }

  private choose(n: number): void {
    const { cloth, view, bench } = this;
    if (!cloth || !view || n < 0 || n >= cloth.n) return;
    this.chosen = n;
    const from = cloth.span[n * 2] as number;
    const to = cloth.span[n * 2 + 1] as number;
    view.lit([n]);
    this.canvas.dataset.chosen = String(n);
    const entry = bench.rows.find((row) => row.order === cloth.row[n]);
    const where = entry ? `${entry.label || NAMES[entry.kind] || entry.kind}${entry.section ? `, ${entry.section}` : ""}${entry.passes > 1 || entry.pass > 1 ? `, time ${entry.pass}` : ""}` : "";
    const words = bench.view.state.sliceDoc(from, to);
    bench.tell("picked", { from, to });
    bench.view.dispatch({ selection: { anchor: from, head: to } });
    clear(this.stitch, h("b", { class: "picked-words" }, words), where ? ` \u2014 ${where} ` : " ", button("To these words", () => this.turns.toWords({ from, to }), { class: "plain" }));
  }

  private hands(): void {
    const { canvas } = this;
    const down = new Map<number, { x: number; y: number }>();
    let moved = 0;
    canvas.addEventListener("pointerdown", (event) => {
      down.set(event.pointerId, { x: event.clientX, y: event.clientY });
      canvas.setPointerCapture(event.pointerId);
      if (down.size === 1) moved = 0;
    });
    canvas.addEventListener("pointermove", (event) => {
      const before = down.get(event.pointerId);
      if (!before) return;
      const x = event.clientX - before.x;
      const y = event.clientY - before.y;
      moved += Math.abs(x) + Math.abs(y);
      if (down.size === 2) {
        const other = [...down.entries()].find(([id]) => id !== event.pointerId)?.[1];
        if (other) {
          const was = Math.hypot(before.x - other.x, before.y - other.y);
          const now = Math.hypot(event.clientX - other.x, event.clientY - other.y);
          if (was > 0 && now > 0) this.view?.nearer(now / was);
          this.view?.slide(x / 2, y / 2);
        }
      } else if (event.shiftKey || event.buttons === 2) this.view?.slide(x, y);
      else this.view?.turn(x * 0.45, y * 0.45);
      down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    });
    const up = (event: PointerEvent): void => {
      const was = down.delete(event.pointerId);
      if (!was || moved > 6 || down.size > 0 || event.type === "pointercancel") return;
      const box = canvas.getBoundingClientRect();
      this.choose(this.view?.pick(event.clientX - box.left, event.clientY - box.top) ?? -1);
    };
    canvas.addEventListener("pointerup", up);
    canvas.addEventListener("pointercancel", up);
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());
    canvas.addEventListener(
      "wheel",
      (event) => {
        if (!event.ctrlKey && document.activeElement !== canvas) return;
        event.preventDefault();
        this.view?.nearer(Math.exp(-event.deltaY / 500));
      },
      { passive: false },
    );
    canvas.addEventListener("keydown", (event) => {
      const does: Record<string, () => void> = {
        ArrowLeft: () => this.view?.turn(-12, 0),
        ArrowRight: () => this.view?.turn(12, 0),
        ArrowUp: () => this.view?.turn(0, -12),
        ArrowDown: () => this.view?.turn(0, 12),
        "+": () => this.view?.nearer(1.25),
        "=": () => this.view?.nearer(1.25),
        "-": () => this.view?.nearer(0.8),
        Home: () => this.view?.home(),
        ".": () => this.choose(this.chosen + 1),
        ",": () => this.choose(Math.max(0, this.chosen - 1)),
        Enter: () => this.chosen >= 0 && this.view?.lookAt(this.chosen),
      };
      const act = does[event.key];
      if (!act) return;
      event.preventDefault();
      act();
    });
  }
}

/** What the cloth is, in words. */
function inWords(cloth: Cloth): (HTMLElement | null)[] {
  const parts = cloth.told.filter((part) => part.told.length > 0);
  return [
    ...parts.map((part) => h("section", {}, h("h3", {}, part.name || "In words"), h("ul", {}, ...part.told.map((line) => h("li", {}, line))))),
    cloth.said.length ? h("details", {}, h("summary", {}, "What it is reckoned from"), h("ul", {}, ...cloth.said.map((line) => h("li", {}, line)))) : null,
  ];
}
