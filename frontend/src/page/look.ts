/** The words set in type: headings, labels, repeats, counts and notes, each in its own way. */

import { type Extension, RangeSetBuilder, StateEffect, StateField } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView, ViewPlugin, type ViewUpdate } from "@codemirror/view";
import { onlyFor, rolesOf } from "../pure/roles.ts";

const LINE = Object.fromEntries(
  ["title", "heading", "note", "key", "row", "fence", "chart", "blank"].map((kind) => [
    kind,
    Decoration.line({ class: `line-${kind}` }),
  ]),
);
const ROLE = Object.fromEntries(
  ["only", "mark", "title", "heading", "note", "key", "label", "repeat", "count", "number", "fence"].map((role) => [
    role,
    Decoration.mark({ class: `is-${role}` }),
  ]),
);

/** Values of options that are not shown: their lines stand back. */
export const setAside = StateEffect.define<readonly string[]>();
const asideField = StateField.define<readonly string[]>({
  create: () => [],
  update: (was, change) => change.effects.reduce((now, effect) => (effect.is(setAside) ? effect.value : now), was),
});
const ASIDE = Decoration.line({ class: "line-aside" });

function set(view: EditorView): DecorationSet {
  const out = new RangeSetBuilder<Decoration>();
  const doc = view.state.doc;
  const aside = view.state.field(asideField);
  let fenced = false;
  let seen = 1;
  for (const { from, to } of view.visibleRanges) {
    const first = doc.lineAt(from).number;
    for (; seen < first; seen++) if (/^\s*(```|~~~)/.test(doc.line(seen).text)) fenced = !fenced;
    for (let at = from; at <= to; ) {
      const line = doc.lineAt(at);
      const set = rolesOf(line.text, fenced);
      if (set.kind === "fence") fenced = !fenced;
      out.add(line.from, line.from, LINE[set.kind] as Decoration);
      const only = aside.length ? onlyFor(line.text) : null;
      if (only && aside.some((value) => only === value || only.endsWith(` ${value}`))) out.add(line.from, line.from, ASIDE);
      for (const { from: a, to: b, role } of set.stretches) {
        if (b > a) out.add(line.from + a, line.from + b, ROLE[role] as Decoration);
      }
      seen = line.number + 1;
      at = line.to + 1;
    }
  }
  return out.finish();
}

export function inType(): Extension {
  return [asideField, ViewPlugin.fromClass(
    class {
      decorations: DecorationSet;

      constructor(view: EditorView) {
        this.decorations = set(view);
      }

      update(update: ViewUpdate): void {
        const aside = update.state.field(asideField) !== update.startState.field(asideField);
        if (update.docChanged || update.viewportChanged || aside) this.decorations = set(update.view);
      }
    },
    { decorations: (plugin) => plugin.decorations },
  )];
}
