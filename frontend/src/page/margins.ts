/**
 * The two margins of the sheet. Left: side and count beside each line. Right: the editor's notes.
 * Both are ordinary lists beside the words, laid out to the heights that the lines have.
 */

import { foldedRanges } from "@codemirror/language";
import { type Extension } from "@codemirror/state";
import { type EditorView, ViewPlugin, type ViewUpdate } from "@codemirror/view";
import { button, clear, h } from "../dom.ts";
import { type Beside, besides } from "../pure/margin.ts";
import { stacked } from "../pure/stack.ts";
import type { Mark, Row } from "../wire.ts";
import { marksField } from "./marks.ts";
import { notesField, setNotes } from "./unfold.ts";

export interface Margins {
  left: HTMLElement;
  right: HTMLElement;
  unfold(line: number): void;
  unfolded(): number | null;
  fold(line: number): void;
  accept(mark: Mark, which: number): void;
  explain(mark: Mark): void;
}

const SEVERITY = { error: "Wrong", warning: "Look again", note: "Note" } as const;
const GAP = 10;
const MOST_REPAIRS = 3;
const NARROW = matchMedia("(max-width: 899px)");

interface Measured {
  lines: { one: Beside; top: number }[];
  heads: { line: number; name: string; top: number; folded: boolean }[];
  marks: number[];
  heights: number[];
}

function foldedAt(view: EditorView, at: number): boolean {
  let found = false;
  foldedRanges(view.state).between(at, at, () => {
    found = true;
  });
  return found;
}

export class MarginView {
  private readonly view: EditorView;
  private readonly margins: Margins;
  private beside: Beside[] = [];
  private readonly cells = new Map<number, HTMLElement>();
  private readonly folds = new Map<string, HTMLElement>();
  private notes: { mark: Mark; box: HTMLElement }[] = [];
  private shownMarks: readonly Mark[] | null = null;

  constructor(view: EditorView, margins: Margins) {
    this.view = view;
    this.margins = margins;
    NARROW.addEventListener("change", this.refit);
  }

  private readonly refit = (): void => {
    this.lay();
    this.ask();
  };

  destroy(): void {
    NARROW.removeEventListener("change", this.refit);
  }

  rows(rows: readonly Row[]): void {
    this.beside = besides(rows);
    this.cells.clear();
    this.folds.clear();
    this.margins.left.replaceChildren();
    this.ask();
  }

  ask(): void {
    this.view.requestMeasure({ key: this, read: () => this.read(), write: (found) => this.write(found) });
  }

  update(update: ViewUpdate): void {
    const marks = update.state.field(marksField).marks;
    if (marks !== this.shownMarks) this.draw(marks);
    if (update.docChanged && this.beside.length > 0) this.follow(update);
    if (update.docChanged || update.geometryChanged || update.viewportChanged || marks !== update.startState.field(marksField).marks) {
      this.ask();
    }
  }

  /** Counts stay beside their lines while she writes, until the next answer. */
  private follow(update: ViewUpdate): void {
    const before = update.startState.doc;
    const now: Beside[] = [];
    for (const one of this.beside) {
      if (one.line > before.lines) continue;
      const line = update.state.doc.lineAt(update.changes.mapPos(before.line(one.line).from, 1)).number;
      if (line !== one.line) {
        this.cells.get(one.line)?.remove();
        this.cells.delete(one.line);
      }
      now.push({ ...one, line });
    }
    this.beside = now;
  }

  private draw(marks: readonly Mark[]): void {
    this.shownMarks = marks;
    this.notes = marks.map((mark) => ({ mark, box: this.note(mark) }));
    this.lay();
  }

  /** The notes go where there is room: into the margin, or beneath their lines. */
  lay(): void {
    const beneath = NARROW.matches;
    clear(this.margins.right, ...(beneath ? [] : this.notes.map((note) => note.box)));
    const notes = beneath ? this.notes.map(({ mark, box }) => ({ at: this.current(mark).to, box })) : [];
    if (!beneath && this.view.state.field(notesField).size === 0) return;
    for (const { box } of this.notes) box.style.removeProperty("top");
    // Not while the editor is still taking in the change that brought the marks.
    queueMicrotask(() => this.view.dispatch({ effects: setNotes.of(notes) }));
  }

  private note(mark: Mark): HTMLElement {
    const whom = mark.sizes.length ? `Only size ${mark.sizes.join(", ")}.` : "";
    const box = h(
      "li",
      { class: `remark remark-${mark.severity}`, "data-code": mark.code, "data-from": mark.from },
      h("p", { class: "remark-words" }, h("b", {}, `${SEVERITY[mark.severity]}: `), mark.message, whom ? ` ${whom}` : ""),
      mark.help ? h("p", { class: "remark-help" }, mark.help) : null,
      ...mark.fixes.slice(0, MOST_REPAIRS).map((fix, n) =>
        h(
          "p",
          { class: "remark-acts" },
          button("Accept", () => this.margins.accept(this.current(mark), n), { class: "accept", "aria-label": `Accept: ${fix.words}` }),
          h("span", { class: "remark-fix" }, fix.words),
        ),
      ),
      h("p", { class: "remark-why" }, button("Why?", () => this.margins.explain(mark), { class: "plain", "aria-label": `Why? About: ${mark.message}` })),
    );
    box.addEventListener("click", (event) => {
      if ((event.target as Element).closest("button")) return;
      const here = this.current(mark);
      this.view.dispatch({ selection: { anchor: here.from, head: here.to }, scrollIntoView: true });
      this.view.focus();
    });
    return box;
  }

  /** The mark where it stands now. */
  private current(mark: Mark): Mark {
    const at = this.notes.findIndex((note) => note.mark === mark);
    return this.view.state.field(marksField).marks[at] ?? mark;
  }

  private read(): Measured {
    const { view } = this;
    const doc = view.state.doc;
    const { from, to } = view.viewport;
    const first = doc.lineAt(from).number;
    const last = doc.lineAt(to).number;
    const base = view.documentPadding.top;
    const lines = this.beside
      .filter((one) => one.line >= first && one.line <= last && one.line <= doc.lines)
      .map((one) => ({ one, top: base + view.lineBlockAt(doc.line(one.line).from).top }));
    const marks = view.state
      .field(marksField)
      .marks.map((mark) => base + this.topOf(Math.min(mark.from, doc.length)));
    const heads: Measured["heads"] = [];
    for (let n = first; n <= last; n++) {
      const line = doc.line(n);
      const name = /^#{2,6}\s+(.+)$/.exec(line.text)?.[1];
      if (name) heads.push({ line: n, name, top: base + view.lineBlockAt(line.from).bottom, folded: foldedAt(view, line.to) });
    }
    return { lines, heads, marks, heights: this.notes.map((note) => note.box.offsetHeight) };
  }

  private topOf(at: number): number {
    const block = this.view.lineBlockAt(at);
    const { from, to } = this.view.viewport;
    if (at < from || at > to) return block.top;
    const there = this.view.coordsAtPos(at, 1);
    return there ? Math.max(block.top, there.top - this.view.documentTop) : block.top;
  }

  private write(found: Measured): void {
    const wanted = new Set(found.lines.map(({ one }) => one.line));
    for (const [line, cell] of this.cells) {
      if (wanted.has(line)) continue;
      cell.remove();
      this.cells.delete(line);
    }
    const open = this.margins.unfolded();
    let before: Element | null = null;
    for (const { one, top } of found.lines) {
      let cell = this.cells.get(one.line);
      if (!cell) {
        cell = this.cell(one);
        this.cells.set(one.line, cell);
        if (before) before.after(cell);
        else this.margins.left.prepend(cell);
      }
      cell.style.top = `${top}px`;
      cell.firstElementChild?.setAttribute("aria-expanded", String(open === one.line));
      before = cell;
    }
    this.writeFolds(found.heads);
    const tops = stacked(found.marks, found.heights, GAP);
    if (NARROW.matches) return;
    this.notes.forEach((note, n) => {
      note.box.style.top = `${tops[n]}px`;
    });
    const lowest = Math.max(0, ...tops.map((top, n) => top + (found.heights[n] ?? 0)));
    this.margins.right.style.minHeight = `${lowest}px`;
  }

  /** At each heading, in the margin, what folds its section away. */
  private writeFolds(heads: Measured["heads"]): void {
    const wanted = new Set<string>();
    for (const { line, name, top, folded } of heads) {
      const key = `${line} ${name} ${folded}`;
      wanted.add(key);
      let cell = this.folds.get(key);
      if (!cell) {
        const words = folded ? "open" : "fold";
        cell = h("li", { class: "of-heading" }, h("button", { type: "button", class: "plain fold", "aria-label": `${folded ? "Open" : "Fold away"}: ${name}`, "aria-expanded": String(!folded), onclick: () => this.margins.fold(line) }, words));
        this.folds.set(key, cell);
        this.margins.left.append(cell);
      }
      cell.style.top = `${top}px`;
    }
    for (const [key, cell] of this.folds) {
      if (wanted.has(key)) continue;
      cell.remove();
      this.folds.delete(key);
    }
  }

  private cell(one: Beside): HTMLElement {
    const mark = one.agrees === "as printed" ? "\u2713" : one.agrees ? "\u2260" : "";
    return h(
      "li",
      { "data-line": one.line },
      h(
        "button",
        { type: "button", class: "beside", "aria-expanded": "false", "aria-label": `${one.told}. Unfold`, onclick: () => this.margins.unfold(this.lineOf(one)) },
        h("span", { class: `side side-${one.side.toLowerCase() || "none"}` }, one.side),
        h("span", { class: "times" }, one.times > 1 ? `${one.times}\u00d7` : ""),
        h("span", { class: "count" }, one.count),
        h("span", { class: one.agrees === "as printed" ? "agrees" : "differs" }, mark),
      ),
    );
  }

  private lineOf(one: Beside): number {
    return this.beside.find((now) => now.orders[0] === one.orders[0])?.line ?? one.line;
  }
}

export function margins(made: (view: EditorView) => MarginView): Extension {
  return ViewPlugin.define((view) => {
    const margin = made(view);
    return { update: (update) => margin.update(update), destroy: () => margin.destroy() };
  });
}
