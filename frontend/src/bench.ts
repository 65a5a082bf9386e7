/** What lies on the bench: one pattern, what she has written, what was knitted of it. */

import type { EditorView } from "@codemirror/view";
import type { Finding, Mark, Proof, Repairs, Row, Worked } from "./wire.ts";

export interface Happenings {
  opened: undefined;
  named: undefined;
  changed: undefined;
  worked: Worked;
  proved: Proof;
  state: undefined;
  picked: { from: number; to: number };
}

export class Bench {
  path = "";
  stamp = "";
  kept = "";
  version = 0;
  size: string | null = null;
  options: Record<string, string> = {};
  worked: Worked | null = null;
  proof: Proof | null = null;
  repairs: Repairs | null = null;
  /** What stands at the head of the sheet: saved, not saved, a draft kept. */
  state = "";
  view!: EditorView;
  private readonly heard = new EventTarget();

  get text(): string {
    return this.view.state.doc.toString();
  }

  get isExample(): boolean {
    return this.path.startsWith("example:");
  }

  get dirty(): boolean {
    return this.path !== "" && this.text !== this.kept;
  }

  get rows(): readonly Row[] {
    return this.worked?.rows ?? [];
  }

  /** What is asked about: the text as it stands, in the size and the way that are shown. */
  get asked(): { path: string; version: number; text: string; size: string | null; options: Record<string, string> } {
    return { path: this.path, version: this.version, text: this.text, size: this.size, options: this.options };
  }

  on<K extends keyof Happenings>(what: K, then: (told: Happenings[K]) => void): () => void {
    const hear = (event: Event): void => then((event as CustomEvent<Happenings[K]>).detail);
    this.heard.addEventListener(what, hear);
    return () => this.heard.removeEventListener(what, hear);
  }

  tell<K extends keyof Happenings>(what: K, told: Happenings[K]): void {
    this.heard.dispatchEvent(new CustomEvent(what, { detail: told }));
  }

  /** The marks beside the words: of the size that is shown, and of all of them once those are knitted too. */
  get marks(): readonly Mark[] {
    const proved = this.proof?.version === this.version;
    const found = (proved ? this.proof?.findings : this.worked?.findings) ?? [];
    const repairs = this.repairs?.version === this.version ? this.repairs.repairs : [];
    const mended = (one: Finding): Mark => {
      const more = repairs.find((repair) => repair.code === one.code && repair.from === one.from && repair.to === one.to);
      return { ...placed(one), fixes: one.fix ? [one.fix] : (more?.fixes ?? []) };
    };
    return found.map(mended).sort((a, b) => a.from - b.from || a.to - b.to);
  }
}

/** A finding about the whole stands at the top of the sheet. */
export function placed(found: Finding): Mark {
  return { ...found, fixes: [], from: found.from ?? 0, to: found.to ?? 0, line: found.line ?? 1 };
}
