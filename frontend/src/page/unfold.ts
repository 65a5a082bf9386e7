/** The chosen row, unfolded beneath its words. */

import { StateEffect, StateField } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView, WidgetType } from "@codemirror/view";

export const setUnfolded = StateEffect.define<{ at: number; box: HTMLElement } | null>();

/** Notes that stand beneath their lines, where there is no room for a margin. */
export const setNotes = StateEffect.define<readonly { at: number; box: HTMLElement }[]>();

export const notesField = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(was, change) {
    let now = was.map(change.changes);
    for (const effect of change.effects) {
      if (!effect.is(setNotes)) continue;
      const { doc } = change.state;
      now = Decoration.set(
        effect.value.map(({ at, box }) => Decoration.widget({ widget: new Leaflet(box), block: true, side: 1 }).range(doc.lineAt(Math.min(at, doc.length)).to)),
        true,
      );
    }
    return now;
  },
  provide: (field) => EditorView.decorations.from(field),
});

class Leaflet extends WidgetType {
  readonly box: HTMLElement;

  constructor(box: HTMLElement) {
    super();
    this.box = box;
  }

  override eq(other: Leaflet): boolean {
    return other.box === this.box;
  }

  /** In a box that holds its margins in: the editor reckons the heights of lines without them. */
  override toDOM(): HTMLElement {
    const around = document.createElement("div");
    around.className = "beneath";
    around.append(this.box);
    return around;
  }

  override ignoreEvent(): boolean {
    return true;
  }
}

interface Unfolded {
  at: number | null;
  drawn: DecorationSet;
}

export const unfoldField = StateField.define<Unfolded>({
  create: () => ({ at: null, drawn: Decoration.none }),
  update(was, change) {
    let now = was;
    if (change.docChanged && was.at !== null) {
      now = { at: change.changes.mapPos(was.at, -1), drawn: was.drawn.map(change.changes) };
    }
    for (const effect of change.effects) {
      if (!effect.is(setUnfolded)) continue;
      const value = effect.value;
      if (!value) now = { at: null, drawn: Decoration.none };
      else {
        const end = change.newDoc.lineAt(value.at).to;
        const leaflet = Decoration.widget({ widget: new Leaflet(value.box), block: true, side: 1 });
        now = { at: value.at, drawn: Decoration.set([leaflet.range(end)]) };
      }
    }
    return now;
  },
  provide: (field) => EditorView.decorations.from(field, (unfolded) => unfolded.drawn),
});
