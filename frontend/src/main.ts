/** Opens the binder: the sheet with her words, and the leaves behind it. */

import { EditorState } from "@codemirror/state";
import { Fault, get } from "./ask.ts";
import { Bench } from "./bench.ts";
import { contents, type Leaf } from "./contents.ts";
import { button, clear, h, say } from "./dom.ts";
import { guide } from "./guide.ts";
import { head } from "./head.ts";
import { Keeping } from "./keeping.ts";
import { showExplained } from "./leaves/explained.ts";
import { LEAVES, NEW_GROUPS } from "./leaves/leaves.ts";
import { showBothVersions } from "./leaves/two.ts";
import { PatternLeaf } from "./page/pattern.ts";
import { addressOf, placeOf } from "./pure/address.ts";
import type { Binder, Opened, Refused } from "./wire.ts";
import { Work } from "./work.ts";

const FIRST = "skerry-hat";

class Page {
  readonly bench = new Bench();
  private readonly notices = h("div", { class: "notices", role: "status" });
  private readonly title = h("h1", { class: "unseen" }, "Purlwright");
  private readonly leafBox = h("section", { class: "leaf" });
  private readonly keeping = new Keeping(this.bench, {
    notice: (words, acts) => this.notice(words, acts),
    clash: (refused) => this.both(refused),
  });
  private readonly work = new Work(this.bench, (fault) => this.fault(fault));
  private readonly pattern = new PatternLeaf(this.bench, {
    save: () => void this.keeping.save(),
    changed: () => this.written(),
    explain: (code) => this.explain(code),
    replace: (text) => this.keeping.write(text),
  });
  private readonly leaves: readonly Leaf[] = [
    { name: "words", words: "The pattern", figure: (b) => marksFigure(b), show: (box) => this.pattern.show(box) },
    ...LEAVES({ open: (path, leaf) => this.go(path, leaf), write: (text) => this.keeping.write(text), toWords: (span) => this.toWords(span) }),
  ];
  private readonly nav = contents(this.bench, this.leaves, NEW_GROUPS, (name) => addressOf({ path: this.bench.path, leaf: name }));
  private readonly sheet = h("main", { class: "sheet", id: "sheet", tabindex: "-1" });
  private leave: (() => void) | void = undefined;
  private shown = "";
  private wanted: { from: number; to: number } | null = null;
  private faulty: HTMLElement | null = null;

  build(): void {
    this.bench.view = this.pattern.view;
    const top = head(this.bench, () => void this.keeping.save(), () => this.chosen());
    this.sheet.append(
      this.title,
      top,
      this.notices,
      this.leafBox,
      h("div", { id: "said", class: "unseen", "aria-live": "polite" }),
      h("p", { id: "how-to-leave", class: "unseen" }, "Tab leaves the words. Control and Enter unfold the row you are in."),
    );
    document.body.append(
      h("a", { class: "skip", href: "#sheet", onclick: (event) => this.skip(event) }, "To the sheet"),
      h("div", { class: "binder" }, h("header", { class: "spine" }, h("p", { class: "maker" }, "Purlwright"), this.nav), this.sheet),
    );
    this.bench.on("named", () => this.renamed());
    this.bench.on("picked", (span) => this.pattern.light(span));
    addEventListener("hashchange", () => void this.arrive());
    addEventListener("pagehide", () => this.remember());
    document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && this.remember());
    addEventListener("keydown", (event) => {
      if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s" && !event.defaultPrevented) {
        event.preventDefault();
        void this.keeping.save();
      }
    });
  }

  private skip(event: Event): void {
    event.preventDefault();
    this.sheet.focus();
  }

  /** Goes where the address says. Answers take time: whoever has gone elsewhere meanwhile stays there. */
  async arrive(): Promise<void> {
    const { hash } = location;
    const stillWanted = (): boolean => location.hash === hash;
    const place = placeOf(hash);
    if (!place || !place.path) {
      await this.begin(stillWanted);
      return;
    }
    if (place.path !== this.bench.path && !(await this.open(place.path, stillWanted))) return;
    this.turnTo(place.leaf);
  }

  /** Without an address: what lay on the bench last, else her newest pattern, else a finished example. */
  private async begin(stillWanted: () => boolean): Promise<void> {
    const binder = await get<Binder>("/api/binder");
    if (!stillWanted()) return;
    const last = localStorage.getItem("purlwright-last");
    if (binder.patterns.length === 0 && binder.examples.length === 0) {
      this.turnTo("patterns");
      return;
    }
    const known = last !== null && (binder.patterns.some((p) => p.path === last) || binder.examples.some((e) => `example:${e.name}` === last));
    const path = known ? last : (binder.patterns[0]?.path ?? `example:${(binder.examples.find((e) => e.name === FIRST) ?? binder.examples[0])?.name ?? ""}`);
    location.replace(addressOf({ path, leaf: "words" }));
  }

  private go(path: string, leaf: string): void {
    location.hash = addressOf({ path, leaf });
  }

  private async open(path: string, stillWanted: () => boolean): Promise<boolean> {
    let there: Opened;
    this.remember();
    try {
      if (this.bench.dirty && !this.bench.isExample) this.keeping.leave();
      there = await opened(path);
      if (!stillWanted()) return false;
    } catch (error) {
      if (!stillWanted()) return false;
      this.notice(error instanceof Fault ? error.message : String(error), [{ words: "To all patterns", does: () => this.go(this.bench.path || `example:${FIRST}`, "patterns") }]);
      localStorage.removeItem("purlwright-last");
      if (!this.bench.path) this.go(`example:${FIRST}`, "patterns");
      return false;
    }
    const { bench } = this;
    this.keeping.stop();
    const before = remembered(path);
    const text = there.text.replace(/\r\n?/g, "\n");
    bench.path = there.path;
    bench.stamp = there.stamp;
    bench.kept = text;
    bench.version++;
    bench.size = before.size;
    bench.options = before.options;
    bench.worked = null;
    bench.proof = null;
    bench.repairs = null;
    const at = Math.min(before.at, text.length);
    bench.view.setState(EditorState.create({ doc: text, selection: { anchor: at }, extensions: this.pattern.extensions }));
    bench.state = "Saved";
    clear(this.notices);
    localStorage.setItem("purlwright-last", path);
    this.entitle(text);
    bench.tell("opened", undefined);
    if (there.draft && there.draft.text !== text) this.found(there.draft);
    void this.work.ask();
    this.keeping.watch();
    return true;
  }

  /** A draft that is newer than the file: it is put on the sheet at once, and can be undone. */
  private found(draft: { text: string; when: number }): void {
    this.keeping.write(draft.text);
    this.notice("What you had written and not yet saved is here again.", [
      { words: "Go back to the saved one", does: () => this.keeping.letGo() },
    ]);
  }

  private toWords(span?: { from: number; to: number }): void {
    this.wanted = span ?? null;
    this.go(this.bench.path, "words");
  }

  private focusOn(leaf: string): void {
    const span = this.wanted;
    this.wanted = null;
    if (leaf !== "words" || !span) {
      this.sheet.focus({ preventScroll: true });
      return;
    }
    const { view } = this.bench;
    const end = view.state.doc.length;
    view.focus();
    view.dispatch({ selection: { anchor: Math.min(span.from, end), head: Math.min(span.to, end) }, scrollIntoView: true });
  }

  /** The same words have another name now: the address and the contents follow. */
  private renamed(): void {
    const { path } = this.bench;
    localStorage.setItem("purlwright-last", path);
    this.entitle(this.bench.text);
    history.replaceState(null, "", addressOf({ path, leaf: this.shown || "words" }));
    this.nav.dispatchEvent(new CustomEvent("leaf", { detail: this.shown || "words" }));
    void this.work.ask();
  }

  private turnTo(name: string): void {
    const leaf = this.leaves.find((one) => one.name === name) ?? (this.leaves[0] as Leaf);
    if (this.shown === leaf.name && name === leaf.name) return;
    this.leave?.();
    const first = this.shown === "";
    this.shown = leaf.name;
    this.leafBox.className = `leaf leaf-${leaf.name}`;
    clear(this.leafBox);
    this.leave = leaf.show(this.leafBox, this.bench);
    this.nav.dispatchEvent(new CustomEvent("leaf", { detail: leaf.name }));
    if (!first) {
      scrollTo({ top: 0 });
      say(leaf.words);
      this.focusOn(leaf.name);
    }
    if (leaf.name === "words") guide(this.bench, this.leafBox);
  }

  private entitle(text: string): void {
    const title = /^#\s+(.+)$/m.exec(text)?.[1] ?? this.bench.path;
    this.title.textContent = title;
    document.title = `${title} \u00b7 Purlwright`;
  }

  private written(): void {
    this.bench.version++;
    this.bench.tell("changed", undefined);
    this.keeping.changed();
    void this.work.ask();
  }

  private chosen(): void {
    this.bench.version++;
    this.bench.tell("changed", undefined);
    void this.work.ask();
    this.remember();
  }

  private remember(): void {
    const { bench } = this;
    if (!bench.path) return;
    const kept = { size: bench.size, options: bench.options, at: bench.view.state.selection.main.head };
    sessionStorage.setItem(`purlwright ${bench.path}`, JSON.stringify(kept));
    this.keeping.leave();
  }

  notice(words: string, acts: { words: string; does: () => void }[] = []): void {
    const box: HTMLElement = h(
      "p",
      { class: "notice" },
      h("span", {}, words),
      ...acts.map((act) =>
        button(act.words, () => {
          box.remove();
          act.does();
        }),
      ),
      button("Put away", () => box.remove(), { class: "plain" }),
    );
    clear(this.notices, box);
  }

  private fault(fault: Fault | null): void {
    if (!fault) {
      this.faulty?.remove();
      this.faulty = null;
      return;
    }
    this.faulty ??= h("p", { class: "notice notice-fault" });
    this.faulty.textContent = fault.message;
    if (!this.faulty.isConnected) this.notices.append(this.faulty);
  }

  private both(refused: Refused): void {
    this.leave?.();
    this.shown = "two";
    this.leafBox.className = "leaf leaf-two";
    this.leave = showBothVersions(this.leafBox, refused, (text) => {
      if (text !== null) this.keeping.settle(text, refused.stamp, refused.text);
      this.shown = "";
      this.turnTo("words");
      if (text !== null) this.notice("Both are together on the sheet. Look it over, then save.");
    });
    this.sheet.focus({ preventScroll: true });
    scrollTo({ top: 0 });
  }

  private explain(code: string): void {
    this.leave?.();
    this.shown = "explained";
    this.leafBox.className = "leaf leaf-explained";
    const top = scrollY;
    this.leave = showExplained(this.leafBox, code, () => {
      this.shown = "";
      this.turnTo("words");
      requestAnimationFrame(() => scrollTo({ top }));
    });
    this.sheet.focus({ preventScroll: true });
    scrollTo({ top: 0 });
  }
}

/** A pattern of hers, or an example to look at, which has no file. */
async function opened(path: string): Promise<Opened> {
  if (!path.startsWith("example:")) return get<Opened>("/api/pattern", { path });
  const example = await get<{ text: string }>("/api/example", { name: path.slice("example:".length) });
  return { path, text: example.text, stamp: "", draft: null };
}

function marksFigure(bench: Bench): string {
  if (!bench.worked) return "";
  const count = bench.marks.length;
  return count === 0 ? "no marks" : count === 1 ? "1 mark" : `${count} marks`;
}

function remembered(path: string): { size: string | null; options: Record<string, string>; at: number } {
  const kept: unknown = JSON.parse(sessionStorage.getItem(`purlwright ${path}`) ?? "null");
  if (typeof kept !== "object" || kept === null) return { size: null, options: {}, at: 0 };
  return { size: null, options: {}, at: 0, ...kept };
}

const page = new Page();
page.build();
page.arrive().catch((error: unknown) => {
  if (!(error instanceof Fault)) throw error;
  page.notice(error.message);
});
