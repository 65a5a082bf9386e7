/** Her words in the middle of the sheet. */

import { closeBrackets, closeBracketsKeymap, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, redo, redoDepth, undo, undoDepth } from "@codemirror/commands";
import { codeFolding, foldKeymap, foldService, foldedRanges, foldEffect, unfoldEffect } from "@codemirror/language";
import { search, searchKeymap } from "@codemirror/search";
import { EditorState, type Extension, Prec } from "@codemirror/state";
import { EditorView, keymap, type ViewUpdate } from "@codemirror/view";
import type { Bench } from "../bench.ts";
import { completion, meanings } from "./helps.ts";
import { inType } from "./look.ts";
import { litField, marksField, notedField } from "./marks.ts";
import { type MarginView, margins } from "./margins.ts";
import { notesField, unfoldField } from "./unfold.ts";

export interface Wanted {
  margin: (view: EditorView) => MarginView;
  unfoldHere: (view: EditorView) => boolean;
  save: () => void;
  updated: (update: ViewUpdate) => void;
  pasted: (text: string) => boolean;
}

export const COMMANDS = { undo, redo, undoDepth, redoDepth };

/** From one heading to the next of its rank: the section can be folded away. */
const sections = foldService.of((state, from) => {
  const line = state.doc.lineAt(from);
  const rank = /^(#{2,6})\s/.exec(line.text)?.[1]?.length;
  if (!rank) return null;
  let end = line.number;
  for (let n = line.number + 1; n <= state.doc.lines; n++) {
    const other = /^(#{1,6})\s/.exec(state.doc.line(n).text)?.[1]?.length;
    if (other && other <= rank) break;
    if (state.doc.line(n).text.trim()) end = n;
  }
  return end > line.number ? { from: line.to, to: state.doc.line(end).to } : null;
});

export function foldAt(view: EditorView, at: number): boolean {
  const line = view.state.doc.lineAt(at);
  let folded: { from: number; to: number } | null = null;
  foldedRanges(view.state).between(line.from, line.to, (from, to) => {
    folded = { from, to };
  });
  if (folded) {
    view.dispatch({ effects: unfoldEffect.of(folded) });
    return true;
  }
  for (const service of view.state.facet(foldService)) {
    const range = service(view.state, line.from, line.to);
    if (range) {
      view.dispatch({ effects: foldEffect.of(range) });
      return true;
    }
  }
  return false;
}

export function extensions(bench: Bench, wanted: Wanted): Extension[] {
  const nonce = document.querySelector<HTMLMetaElement>("meta[name=style-nonce]")?.content ?? "";
  return [
    EditorView.cspNonce.of(nonce),
    EditorView.lineWrapping,
    EditorView.contentAttributes.of({
      "aria-label": "The pattern, in your words",
      "aria-describedby": "how-to-leave",
      spellcheck: "false",
      autocapitalize: "off",
      lang: "en",
    }),
    EditorState.phrases.of(PHRASES),
    history(),
    codeFolding({ placeholderText: "\u2026", placeholderDOM: folded }),
    sections,
    search({ top: true }),
    closeBrackets(),
    completion(bench),
    meanings(bench),
    inType(),
    marksField,
    notedField,
    litField,
    unfoldField,
    notesField,
    margins(wanted.margin),
    Prec.high(
      keymap.of([
        { key: "Mod-s", run: () => (wanted.save(), true), preventDefault: true },
        { key: "Mod-Enter", run: wanted.unfoldHere },
        { key: "Alt-Enter", run: wanted.unfoldHere },
      ]),
    ),
    keymap.of([...closeBracketsKeymap, ...defaultKeymap, ...historyKeymap, ...foldKeymap, ...searchKeymap, ...completionKeymap]),
    EditorView.domEventHandlers({
      beforeinput: (event, view) => typedOver(event, view),
      paste: (event) => {
        const text = event.clipboardData?.getData("text/plain") ?? "";
        if (!wanted.pasted(text)) return false;
        event.preventDefault();
        return true;
      },
      drop: (event) => {
        const dropped = event.dataTransfer?.files[0];
        if (!dropped) return false;
        event.preventDefault();
        void dropped.text().then((text) => wanted.pasted(text));
        return true;
      },
    }),
    EditorView.updateListener.of(wanted.updated),
  ];
}

/**
 * What is typed over a selection is put in by the editor itself. A browser would keep the look of the words that go, with a style
 * in the markup, which the page's policy does not let in.
 */
function typedOver(event: InputEvent, view: EditorView): boolean {
  const { from, to, empty } = view.state.selection.main;
  const text = event.data;
  if (event.inputType !== "insertText" || !text || empty || view.composing || event.isComposing) return false;
  event.preventDefault();
  const usual = () => view.state.update(view.state.replaceSelection(text), { userEvent: "input.type", scrollIntoView: true });
  if (!view.state.facet(EditorView.inputHandler).some((handle) => handle(view, from, to, text, usual))) view.dispatch(usual());
  return true;
}

function folded(_view: EditorView, onclick: (event: Event) => void): HTMLElement {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "folded";
  made.textContent = "\u2026 folded away; open";
  made.onclick = onclick;
  return made;
}

const PHRASES = {
  Find: "Find",
  Replace: "Put instead",
  next: "Next",
  previous: "Previous",
  all: "Mark all",
  "match case": "Capitals matter",
  regexp: "By pattern of letters",
  "by word": "Whole words",
  replace: "Put instead",
  "replace all": "Put instead everywhere",
  close: "Close",
  Completions: "What may stand here",
};
