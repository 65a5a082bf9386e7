/** Keeps what is known of the pattern up with what is written: one question at a time, old answers dropped. */

import { Fault, told } from "./ask.ts";
import type { Bench } from "./bench.ts";
import { setMarks, setNoted } from "./page/marks.ts";
import type { Proof, Repairs, Worked } from "./wire.ts";

const PROOF_AFTER_MS = 700;

export class Work {
  private readonly bench: Bench;
  private readonly fault: (fault: Fault | null) => void;
  private running = false;
  private again = false;
  private later: ReturnType<typeof setTimeout> | undefined;

  constructor(bench: Bench, fault: (fault: Fault | null) => void) {
    this.bench = bench;
    this.fault = fault;
  }

  /** Something changed: words, size or option. */
  async ask(): Promise<void> {
    const { bench } = this;
    clearTimeout(this.later);
    if (this.running) {
      this.again = true;
      return;
    }
    this.running = true;
    do {
      this.again = false;
      await this.once();
    } while (this.again);
    this.running = false;
    if (bench.worked?.version === bench.version) this.later = setTimeout(() => void this.prove(), PROOF_AFTER_MS);
  }

  private isCurrent(asked: { version: number; path: string }): boolean {
    return asked.version === this.bench.version && asked.path === this.bench.path;
  }

  private async once(): Promise<void> {
    const { bench } = this;
    const asked = bench.asked;
    try {
      const worked = await told<Worked>("/api/work", asked, () => this.isCurrent(asked));
      this.fault(null);
      if (!worked) return;
      bench.worked = worked;
      bench.size = worked.size || null;
      bench.options = Object.fromEntries(worked.options.map((option) => [option.name, option.chosen]));
      bench.tell("worked", worked);
      bench.view.dispatch({ effects: [setMarks.of(bench.marks), setNoted.of(worked.notes)] });
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      if (error.status >= 400 && error.status < 500 && (bench.size !== null || Object.keys(bench.options).length > 0)) {
        // The size or option that was shown is no longer in the words: show the usual one.
        bench.size = null;
        bench.options = {};
        this.again = asked.version === bench.version && (asked.size !== null || Object.keys(asked.options).length > 0);
        if (this.again) return;
      }
      this.fault(error);
    }
  }

  /** Repairs are looked for once the rest is known: each is knitted before it is offered. */
  private async mend(): Promise<void> {
    const { bench } = this;
    const asked = bench.asked;
    const repairs = await told<Repairs>("/api/repairs", asked, () => this.isCurrent(asked));
    if (!repairs) return;
    bench.repairs = repairs;
    bench.view.dispatch({ effects: setMarks.of(bench.marks) });
  }

  private async prove(): Promise<void> {
    const { bench } = this;
    const asked = bench.asked;
    try {
      const proof = await told<Proof>("/api/proof", asked, () => this.isCurrent(asked));
      if (!proof) return;
      bench.proof = proof;
      bench.view.dispatch({ effects: setMarks.of(bench.marks) });
      bench.tell("proved", proof);
      if (proof.findings.some((one) => one.severity === "error" && !one.fix)) await this.mend();
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      this.fault(error);
    }
  }
}
