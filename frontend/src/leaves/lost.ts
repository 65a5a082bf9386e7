/** One who is lost is asked one question at a time; each answer can be taken back. */

import { Fault, told as asked } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h } from "../dom.ts";
import type { Lost, Question } from "../wire.ts";

interface Said {
  fact: string;
  asked: string;
  said: string;
}

interface Asking<Found> {
  address: string;
  title: string;
  lead: string;
  wait: string;
  told: (found: Found, said: number) => (HTMLElement | null)[];
}

const UNKNOWN = "?";

export function lostLeaf<Found extends { next: Question | null }>(asking: Asking<Found>) {
  return (box: HTMLElement, bench: Bench): (() => void) => {
    const answers: Said[] = [];
    const stop = new AbortController();
    let piece: string | null = null;
    let refused = "";
    const told = h("div");
    clear(box, h("h2", {}, asking.title), h("p", { class: "lead" }, asking.lead), told);

    const ask = async (): Promise<void> => {
      if (answers.length === 0) clear(told, h("p", { class: "empty", role: "status" }, asking.wait));
      const body = { ...bench.asked, piece, answers: answers.map(({ fact, said }) => ({ fact, said })) };
      try {
        const answer = await asked<Lost<Found>>(asking.address, body, () => !stop.signal.aborted, stop.signal);
        if (!answer) return;
        draw(answer);
        refused = "";
      } catch (fault) {
        if (stop.signal.aborted) return;
        const message = fault instanceof Fault ? fault.message : String(fault);
        if (fault instanceof Fault && fault.status === 422 && answers.length > 0) {
          // That was no answer: it is asked again, with what was the matter.
          refused = message;
          answers.pop();
          void ask();
        } else clear(told, saidList(), h("p", { class: "empty" }, message));
      }
    };

    const draw = (answer: Lost<Found>): void => {
      if (piece === null && answer.pieces.length > 1) {
        clear(told, pieces(answer.pieces));
      } else {
        clear(told, saidList(), ...asking.told(answer.found, answers.length), question(answer.found.next));
      }
      if (answers.length > 0 || piece !== null) told.querySelector<HTMLElement>(".question input, .question button")?.focus({ preventScroll: true });
    };

    const saidList = (): HTMLElement | null => {
      if (answers.length === 0) return null;
      const back = (): void => {
        answers.pop();
        void ask();
      };
      return h(
        "div",
        { class: "said" },
        h("ul", {}, ...answers.map((one) => h("li", {}, `${one.asked} `, h("b", {}, one.said === UNKNOWN ? "cannot tell" : one.said)))),
        button("Take the last answer back", back, { class: "plain" }),
      );
    };

    const pieces = (names: readonly string[]): HTMLElement => {
      const take = (name: string): void => {
        piece = name;
        void ask();
      };
      return h("fieldset", { class: "question" }, h("legend", {}, "Which piece is on your needles?"), h("p", { class: "answers" }, ...names.map((name) => button(name, () => take(name)))));
    };

    const question = (next: Question | null): HTMLElement | null => {
      if (!next) return null;
      const take = (said: string): void => {
        answers.push({ fact: next.fact, asked: next.asks, said });
        void ask();
      };
      const matter = refused ? h("p", { class: "notice", role: "alert" }, h("span", {}, refused)) : null;
      const how = next.how ? h("p", { class: "places" }, next.how) : null;
      const unsure = button("I cannot tell", () => take(UNKNOWN), { class: "plain" });
      if (next.words.length > 0 && !/how many rows below/i.test(next.asks)) {
        return h("fieldset", { class: "question" }, h("legend", {}, next.asks), matter, how, h("p", { class: "answers" }, ...next.words.map((word) => button(word, () => take(word))), unsure));
      }
      const list = h("datalist", { id: "answers" }, ...next.words.map((word) => h("option", { value: word })));
      const input = h("input", { id: "answer", type: "text", size: next.words.length ? 22 : 8, autocomplete: "off", required: true, list: next.words.length ? "answers" : null, inputmode: next.words.length ? "text" : "numeric" });
      const form = h("form", { class: "question" }, h("label", { for: "answer" }, next.asks), matter, how, next.words.length ? h("p", { class: "places" }, `Such as: ${next.words.join(", ")}`) : null, h("p", { class: "answers" }, input, list, h("button", { class: "strong" }, "Say so"), unsure));
      form.addEventListener("submit", (event) => {
        event.preventDefault();
        if (input.value.trim()) take(input.value.trim());
      });
      return form;
    };

    void ask();
    return () => stop.abort();
  };
}
