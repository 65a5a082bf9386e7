/** The editor's marks: words underlined where something is wrong, and words lit because a picture points at them. */

import { type ChangeDesc, StateEffect, StateField } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView } from "@codemirror/view";
import type { Edit, Mark } from "../wire.ts";

export const setMarks = StateEffect.define<readonly Mark[]>();
export const setLit = StateEffect.define<{ from: number; to: number } | null>();

export const setNoted = StateEffect.define<readonly { from: number; to: number }[]>();

export interface Kept {
  marks: readonly Mark[];
  drawn: DecorationSet;
}

/** The marks move with the words until the next answer is there. */
export const marksField = StateField.define<Kept>({
  create: () => ({ marks: [], drawn: Decoration.none }),
  update(kept, change) {
    let { marks, drawn } = kept;
    if (change.docChanged) {
      drawn = drawn.map(change.changes);
      marks = marks.map((mark) => moved(mark, change.changes));
    }
    for (const effect of change.effects) {
      if (!effect.is(setMarks)) continue;
      const end = change.newDoc.length;
      marks = effect.value.filter((mark) => mark.from <= end && mark.to <= end);
      drawn = Decoration.set(
        marks
          .filter((mark) => mark.to > mark.from)
          .map((mark) => Decoration.mark({ class: `marked marked-${mark.severity}` }).range(mark.from, mark.to)),
        true,
      );
    }
    return marks === kept.marks && drawn === kept.drawn ? kept : { marks, drawn };
  },
  provide: (field) => EditorView.decorations.from(field, (kept) => kept.drawn),
});

/** Words from which nothing is knitted are set as notes. */
export const notedField = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(noted, change) {
    let now = noted.map(change.changes);
    for (const effect of change.effects) {
      if (!effect.is(setNoted)) continue;
      const spans = effect.value.filter(({ from, to }) => to > from && to <= change.newDoc.length);
      now = Decoration.set(spans.map(({ from, to }) => Decoration.mark({ class: "noted" }).range(from, to)), true);
    }
    return now;
  },
  provide: (field) => EditorView.decorations.from(field),
});

/** The mark and its repair where their words stand now. */
function moved(mark: Mark, changes: ChangeDesc): Mark {
  const from = changes.mapPos(mark.from, 1);
  const to = Math.max(from, changes.mapPos(mark.to, -1));
  const edited = (edit: Edit): Edit => {
    const start = changes.mapPos(edit.from, 1);
    return { from: start, to: Math.max(start, changes.mapPos(edit.to, -1)), insert: edit.insert };
  };
  return { ...mark, from, to, fixes: mark.fixes.map((fix) => ({ words: fix.words, edits: fix.edits.map(edited) })) };
}

export const litField = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(lit, change) {
    let now = lit.map(change.changes);
    for (const effect of change.effects) {
      if (!effect.is(setLit)) continue;
      const span = effect.value;
      now =
        span && span.to > span.from && span.to <= change.newDoc.length
          ? Decoration.set([Decoration.mark({ class: "lit" }).range(span.from, span.to)])
          : Decoration.none;
    }
    return now;
  },
  provide: (field) => EditorView.decorations.from(field),
});
