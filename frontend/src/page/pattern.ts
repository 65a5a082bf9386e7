/** The leaf with her words: the text in the middle, a margin on each side. */

import { EditorView, type ViewUpdate } from "@codemirror/view";
import type { Extension } from "@codemirror/state";
import { post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { h, say } from "../dom.ts";
import { besides } from "../pure/margin.ts";
import type { Mark } from "../wire.ts";
import { extensions, foldAt } from "./editor.ts";
import { setAside } from "./look.ts";
import { setLit } from "./marks.ts";
import { MarginView } from "./margins.ts";
import { beforeAndAfter } from "./paste.ts";
import { rowBox } from "./row.ts";
import { setUnfolded, unfoldField } from "./unfold.ts";

export interface PatternWants {
  save: () => void;
  changed: () => void;
  explain: (code: string) => void;
  replace: (text: string) => void;
}

const SAY_AFTER_MS = 500;

export class PatternLeaf {
  readonly view: EditorView;
  readonly extensions: Extension[];
  private readonly bench: Bench;
  private readonly wants: PatternWants;
  private readonly left = h("ol", { class: "margin margin-left", "aria-label": "Side and count after each row" });
  private readonly right = h("ol", { class: "margin margin-right", "aria-label": "Marks" });
  private readonly middle = h("div", { class: "middle" });
  private margin!: MarginView;
  private saying: ReturnType<typeof setTimeout> | undefined;
  private saidLine = 0;

  constructor(bench: Bench, wants: PatternWants) {
    this.bench = bench;
    this.wants = wants;
    this.extensions = extensions(bench, {
      margin: (view) => {
        this.margin = new MarginView(view, {
          left: this.left,
          right: this.right,
          unfold: (line) => this.unfold(line),
          unfolded: () => this.unfolded(),
          fold: (line) => {
            foldAt(view, view.state.doc.line(line).from);
          },
          accept: (mark, which) => this.accept(mark, which),
          explain: (mark) => wants.explain(mark.code),
        });
        return this.margin;
      },
      unfoldHere: (view) => {
        this.unfold(view.state.doc.lineAt(view.state.selection.main.head).number);
        return true;
      },
      save: wants.save,
      updated: (update) => this.updated(update),
      pasted: (text) => this.pasted(text),
    });
    this.view = new EditorView({ parent: this.middle, extensions: this.extensions });
    bench.on("worked", (worked) => {
      this.margin.rows(worked.rows);
      const aside = worked.options.flatMap((option) => option.values.filter((value) => value !== option.chosen));
      this.view.dispatch({ effects: setAside.of(aside) });
    });
    bench.on("opened", () => this.margin.rows([]));
  }

  show(box: HTMLElement): void {
    box.append(h("h2", { class: "unseen" }, "The pattern"), h("div", { class: "page" }, this.left, this.middle, this.right));
    this.view.requestMeasure();
    this.margin.ask();
  }

  light(span: { from: number; to: number }): void {
    this.view.dispatch({ effects: setLit.of(span) });
  }

  private updated(update: ViewUpdate): void {
    if (update.docChanged) this.wants.changed();
    if (update.selectionSet || update.docChanged) {
      clearTimeout(this.saying);
      this.saying = setTimeout(() => this.sayLine(), SAY_AFTER_MS);
    }
  }

  /** Those who listen hear side and count when they come to another line. */
  private sayLine(): void {
    if (!this.view.hasFocus) return;
    const line = this.view.state.doc.lineAt(this.view.state.selection.main.head).number;
    if (line === this.saidLine) return;
    this.saidLine = line;
    const here = besides(this.bench.rows.filter((row) => row.line === line))[0];
    const marks = this.bench.marks.filter((mark) => mark.line === line).map((mark) => mark.message);
    if (here || marks.length) say([here?.told, ...marks].filter(Boolean).join(". "));
  }

  private unfolded(): number | null {
    const at = this.view.state.field(unfoldField).at;
    return at === null ? null : this.view.state.doc.lineAt(at).number;
  }

  private unfold(line: number): void {
    const fold = (): void => {
      this.view.dispatch({ effects: setUnfolded.of(null) });
      this.margin.ask();
    };
    if (this.unfolded() === line) {
      fold();
      return;
    }
    const orders = this.bench.rows.filter((row) => row.line === line).map((row) => row.order);
    if (orders.length === 0) {
      say("Nothing is worked in this line.");
      return;
    }
    const box = rowBox(this.bench, orders, () => {
      fold();
      this.view.focus();
    });
    box.addEventListener("keydown", (event) => {
      if (event.key === "Escape") {
        fold();
        this.view.focus();
      }
    });
    this.view.dispatch({ effects: setUnfolded.of({ at: this.view.state.doc.line(line).from, box }) });
    this.margin.ask();
    say("Unfolded beneath the row.");
  }

  private accept(mark: Mark, which: number): void {
    const fix = mark.fixes[which];
    if (!fix) return;
    const changes = fix.edits;
    const first = changes[0];
    this.view.dispatch({ changes, userEvent: "input.repair", ...(first ? { selection: { anchor: first.from + first.insert.length } } : {}), scrollIntoView: true });
    this.view.focus();
    say(`Done: ${fix.words}`);
  }

  private pasted(text: string): boolean {
    const whole = this.view.state.doc.length === 0 || text.length > 400 || text.includes("\n");
    if (!whole || !text.trim()) return false;
    void beforeAndAfter(this.view, text, post);
    return true;
  }
}
