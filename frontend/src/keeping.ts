/** Nothing she writes is lost: drafts, saving, what changed elsewhere, and two versions brought together. */

import { drop, Fault, get, put } from "./ask.ts";
import { newPattern } from "./leaves/patterns.ts";
import type { Bench } from "./bench.ts";
import { onlyChange } from "./pure/spans.ts";
import type { Opened, Refused } from "./wire.ts";

const DRAFT_AFTER_MS = 1000;
const LOOK_EVERY_MS = 2000;

/** The name of this window, so that two windows keep their drafts apart. */
function windowName(): string {
  const kept = sessionStorage.getItem("purlwright-window") ?? crypto.randomUUID();
  sessionStorage.setItem("purlwright-window", kept);
  return kept;
}

export interface Notices {
  notice(words: string, acts?: { words: string; does: () => void }[]): void;
  clash(refused: Refused): void;
}

export class Keeping {
  private readonly bench: Bench;
  private readonly notices: Notices;
  private draft: ReturnType<typeof setTimeout> | undefined;
  private watching: AbortController | undefined;
  private copying: Promise<void> | null = null;
  private saving = false;

  constructor(bench: Bench, notices: Notices) {
    this.bench = bench;
    this.notices = notices;
  }

  /** She wrote something. */
  changed(): void {
    clearTimeout(this.draft);
    const { bench } = this;
    if (!bench.dirty) {
      bench.state = "Saved";
    } else {
      bench.state = "Not yet saved";
      this.draft = setTimeout(() => void this.keepDraft(), DRAFT_AFTER_MS);
    }
    bench.tell("state", undefined);
  }

  private async keepDraft(): Promise<void> {
    const { bench } = this;
    try {
      if (bench.isExample) {
        await this.copyExample();
        return;
      }
      const kept = bench.text;
      const path = bench.path;
      await put("/api/draft", { path, text: kept, stamp: bench.stamp, window: windowName() });
      if (bench.path === path && bench.text === kept && bench.dirty) {
        bench.state = "Not yet saved; a draft is kept";
        bench.tell("state", undefined);
      }
    } catch (error) {
      this.say(error);
    }
  }

  /** She has begun to write on an example: her copy of it lies in her folder from now on. */
  private copyExample(): Promise<void> {
    this.copying ??= (async () => {
      const { bench } = this;
      const from = bench.path;
      const text = bench.text;
      const title = /^#\s+(.+)$/m.exec(text)?.[1] ?? from.replace("example:", "");
      const made = await newPattern({ name: title, from: null, text });
      if (bench.path !== from) return;
      bench.path = made.path;
      bench.stamp = made.stamp;
      bench.kept = text;
      this.watch();
      bench.tell("named", undefined);
      this.changed();
      this.notices.notice(`You write on your own copy now: ${made.path}. The example stays as it was.`);
    })().finally(() => {
      this.copying = null;
    });
    return this.copying;
  }

  async save(): Promise<void> {
    const { bench } = this;
    if (this.saving || !bench.path) return;
    clearTimeout(this.draft);
    this.saving = true;
    try {
      if (bench.isExample) {
        await this.copyExample();
        return;
      }
      const text = bench.text;
      const answer = await put<{ stamp: string; when: string }>("/api/pattern", { path: bench.path, text, stamp: bench.stamp, window: windowName() });
      bench.stamp = answer.stamp;
      bench.kept = text;
      this.changed();
      bench.state = bench.dirty ? "Not yet saved" : "Saved just now";
      bench.tell("state", undefined);
      this.watch();
    } catch (error) {
      if (error instanceof Fault && error.status === 409) this.notices.clash(error.body as Refused);
      else this.say(error);
    } finally {
      this.saving = false;
    }
  }

  /** What she made of two versions becomes the text on the sheet, ready to be saved over the newer file. */
  settle(text: string, stamp: string, theirs: string): void {
    const { bench } = this;
    bench.stamp = stamp;
    bench.kept = theirs;
    this.write(text);
    this.changed();
    this.watch();
  }

  /** Puts a text in place of the one that stands there, as one change that can be undone. */
  write(text: string): void {
    const { bench } = this;
    const change = onlyChange(bench.text, text.replace(/\r\n?/g, "\n"));
    if (change) bench.view.dispatch({ changes: change, userEvent: "input.replace", scrollIntoView: true });
  }

  /** Looks for changes made elsewhere, as long as this pattern lies on the bench and can be seen. */
  watch(): void {
    this.watching?.abort();
    const { bench } = this;
    if (bench.isExample || !bench.path) return;
    const stop = new AbortController();
    this.watching = stop;
    void (async () => {
      while (!stop.signal.aborted) {
        await new Promise((go) => setTimeout(go, LOOK_EVERY_MS));
        if (stop.signal.aborted || this.saving || document.visibilityState === "hidden") continue;
        try {
          const told = await get<{ stamp: string; changed: boolean; gone: boolean }>("/api/watch", { path: bench.path, stamp: bench.stamp, wait: "0" }, stop.signal);
          if (stop.signal.aborted || this.saving || !told.changed || told.stamp === bench.stamp) continue;
          if (told.gone) this.gone();
          else await this.fetched();
        } catch (error) {
          if (stop.signal.aborted) return;
          if (!(error instanceof Fault)) throw error;
        }
      }
    })();
  }

  private gone(): void {
    this.watching?.abort();
    this.notices.notice("The file of this pattern is no longer in the folder. Save, and it is there again.");
    this.bench.kept = "";
    this.changed();
  }

  /** She wants the saved one: what she had written becomes an earlier version. */
  letGo(): void {
    const { bench } = this;
    this.write(bench.kept);
    void drop("/api/draft", { path: bench.path }).catch((error: unknown) => this.say(error));
  }

  private async fetched(): Promise<void> {
    const { bench } = this;
    const there = await get<Opened>("/api/pattern", { path: bench.path });
    if (there.stamp === bench.stamp) return;
    if (there.text === bench.text) {
      bench.stamp = there.stamp;
      bench.kept = there.text;
      this.changed();
      return;
    }
    if (!bench.dirty) {
      bench.stamp = there.stamp;
      bench.kept = there.text;
      this.write(there.text);
      this.changed();
      this.notices.notice("This pattern was changed elsewhere. Here is how it stands now; Undo brings back what was here.");
      return;
    }
    this.watching?.abort();
    this.notices.notice("This pattern was changed elsewhere while you were writing. Nothing is lost: both are kept.", [
      { words: "Bring them together", does: () => void this.save() },
    ]);
  }

  stop(): void {
    clearTimeout(this.draft);
    this.watching?.abort();
  }

  /** When the page is left: what is not yet in a draft goes there now. */
  leave(): void {
    const { bench } = this;
    if (!bench.dirty || bench.isExample) return;
    const body = JSON.stringify({ path: bench.path, text: bench.text, stamp: bench.stamp, window: windowName() });
    void fetch("/api/draft", { method: "PUT", headers: { "Content-Type": "application/json" }, body, keepalive: body.length < 60_000 }).catch(() => null);
  }

  private say(error: unknown): void {
    if (!(error instanceof Fault)) throw error;
    this.notices.notice(error.message);
  }
}
