/** "Something is wrong": one question at a time, then what most likely happened and what mends it. */

import { Fault, post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { button, clear, h } from "../dom.ts";
import type { Rescued } from "../wire.ts";

type Said = { name: string; asked: string; answer: string | number; words: string };

export function rescueLeaf(box: HTMLElement, bench: Bench): void {
  const said: Said[] = [];
  const told = h("div");
  const ask = async (): Promise<void> => {
    const facts = Object.fromEntries(said.map((one) => [one.name, one.answer]));
    try {
      const answer = await post<Rescued>("/api/rescue", { path: bench.path, text: bench.text, size: bench.size, options: bench.options, facts });
      clear(told, saidList(), ...likely(answer), question(answer));
      told.querySelector<HTMLElement>("input, select, .answers button")?.focus({ preventScroll: true });
    } catch (fault) {
      clear(told, saidList(), h("p", { class: "empty" }, fault instanceof Fault ? fault.message : String(fault)));
    }
  };
  const answered = (one: Said): void => {
    said.push(one);
    void ask();
  };
  function saidList(): HTMLElement | null {
    if (said.length === 0) return null;
    return h(
      "div",
      { class: "said" },
      h("ul", {}, ...said.map((one) => h("li", {}, `${one.asked} `, h("b", {}, one.words)))),
      button("Take the last answer back", () => {
        said.pop();
        void ask();
      }, { class: "plain" }),
    );
  }
  function question(answer: Rescued): HTMLElement | null {
    const asked = answer.question;
    if (!asked) return said.length ? null : h("p", { class: "empty" }, "There is nothing to ask about: nothing is knitted yet.");
    const unsure = button("I cannot tell", () => answered({ name: asked.name, asked: asked.words, answer: "unknown", words: "cannot tell" }), { class: "plain" });
    if (asked.answers.length) {
      return h(
        "fieldset",
        { class: "question" },
        h("legend", {}, asked.words),
        asked.how ? h("p", { class: "places" }, asked.how) : null,
        h("p", { class: "answers" }, ...asked.answers.map((one) => button(one.words, () => answered({ name: asked.name, asked: asked.words, answer: one.name, words: one.words }))), unsure),
      );
    }
    const input = h("input", { id: "the-count", type: "text", inputmode: "numeric", size: 6, autocomplete: "off", required: true });
    const form = h("form", { class: "question" }, h("label", { for: "the-count" }, asked.words), asked.how ? h("p", { class: "places" }, asked.how) : null, h("p", { class: "answers" }, input, h("button", { class: "strong" }, "That many"), unsure));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const value = input.value.trim();
      if (value) answered({ name: asked.name, asked: asked.words, answer: /^\d+$/.test(value) ? Number(value) : value, words: value });
    });
    return form;
  }
  clear(box, h("h2", {}, "Something is wrong"), h("p", { class: "lead" }, "A count that does not come out, a hole, a stitch that looks odd: answer what you can see. Do not pull anything out yet."), told);
  clear(told, h("p", { class: "empty" }, "One moment: every slip that knitters make is being tried in every row."));
  void ask();
}

function likely(answer: Rescued): (HTMLElement | null)[] {
  return [
    answer.clash ? h("p", { class: "notice" }, answer.clash) : null,
    answer.likely.length ? h("h3", {}, answer.sure ? "What happened" : "What may have happened") : null,
    answer.likely.length
      ? h(
          "ol",
          { class: "likely" },
          ...answer.likely.map((one) =>
            h(
              "li",
              {},
              h("p", {}, h("b", {}, one.words), one.row && !one.words.includes(one.row) ? ` (${one.row})` : "", h("span", { class: "places" }, ` ${chance(one.chance)}`)),
              one.cures.length ? h("ul", {}, ...one.cures.map((cure) => h("li", {}, h("b", {}, cure.name ? `${cure.name}: ` : ""), cure.words, cure.cost ? h("span", { class: "places" }, ` ${cure.cost}`) : null))) : null,
            ),
          ),
        )
      : null,
  ];
}

function chance(of: number): string {
  if (of >= 0.9) return "almost certain";
  if (of >= 0.6) return "likely";
  if (of >= 0.25) return "may well be";
  return "less likely";
}
