/** Help while writing: what fits here, and what a word means when she rests on it. */

import { autocompletion, type CompletionContext, type CompletionResult } from "@codemirror/autocomplete";
import type { Extension } from "@codemirror/state";
import { hoverTooltip, type Tooltip } from "@codemirror/view";
import { post } from "../ask.ts";
import type { Bench } from "../bench.ts";
import { h } from "../dom.ts";
import type { Hover, Offers } from "../wire.ts";

export function completion(bench: Bench): Extension {
  return autocompletion({
    override: [(context) => offered(bench, context)],
    icons: false,
    activateOnTypingDelay: 150,
    optionClass: (one) => (one.type === "not" ? "fits-not" : ""),
  });
}

async function offered(bench: Bench, context: CompletionContext): Promise<CompletionResult | null> {
  const word = context.matchBefore(/[\w&]+$/);
  if (!word && !context.explicit) return null;
  const line = context.state.doc.lineAt(context.pos);
  if (/^\s*[#>]/.test(line.text)) return null;
  const stop = new AbortController();
  context.addEventListener("abort", () => stop.abort());
  const asked = { path: bench.path, text: context.state.doc.toString(), at: context.pos, size: bench.size, options: bench.options };
  const answer = await post<Offers>("/api/complete", asked, stop.signal).catch(() => null);
  if (!answer || context.aborted || answer.offers.length === 0) return null;
  return {
    from: answer.from,
    to: answer.to,
    filter: false,
    options: answer.offers.map((offer) => ({
      label: offer.words,
      detail: offer.fits === false ? `${offer.told} (too many for here)` : offer.told,
      type: offer.fits === false ? "not" : "yes",
      section: { name: heading(answer), rank: 0 },
    })),
  };
}

function heading(answer: Offers): string {
  return answer.here?.words ?? "What may stand here";
}

export function meanings(bench: Bench): Extension {
  return hoverTooltip(
    async (view, at): Promise<Tooltip | null> => {
      const asked = { path: bench.path, text: view.state.doc.toString(), at, size: bench.size, options: bench.options };
      const found = await post<Hover | null>("/api/hover", asked).catch(() => null);
      if (!found) return null;
      return {
        pos: found.from,
        end: found.to,
        above: true,
        create: () => ({ dom: meaning(found) }),
      };
    },
    { hoverTime: 450 },
  );
}

export function meaning(found: Hover): HTMLElement {
  const also = found.also.length ? h("p", { class: "meaning-also" }, `Also: ${found.also.join(", ")}`) : null;
  return h("div", { class: "meaning" }, h("p", {}, h("b", {}, found.name)), h("p", {}, found.told), also);
}
