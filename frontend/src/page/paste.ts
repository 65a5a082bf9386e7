/** Text from a word processor or a PDF: put right on the way in, with before and after shown. */

import type { EditorView } from "@codemirror/view";
import { button, h } from "../dom.ts";

interface Pasted {
  text: string;
  changes: { from: number; to: number; before: string; after: string; why: string }[];
}

export async function beforeAndAfter(view: EditorView, text: string, post: <T>(path: string, body: unknown) => Promise<T>): Promise<void> {
  const { from, to } = view.state.selection.main;
  const put = (words: string): void => {
    const plain = words.replace(/\r\n?/g, "\n");
    view.dispatch({ changes: { from, to, insert: plain }, selection: { anchor: from + plain.length }, userEvent: "input.paste", scrollIntoView: true });
  };
  const right = await post<Pasted>("/api/paste", { text }).catch(() => null);
  if (!right || right.changes.length === 0) {
    put(right?.text ?? text);
    view.focus();
    return;
  }
  put(right.text);
  shownChanges(view, text, right, from);
}

function shownChanges(view: EditorView, text: string, right: Pasted, from: number): void {
  const close = (): void => {
    slip.close();
    slip.remove();
    view.focus();
  };
  const count = right.changes.length;
  const slip = h(
    "dialog",
    { class: "slip", "aria-labelledby": "pasted-title" },
    h("h2", { id: "pasted-title" }, count === 1 ? "One thing was put right" : `${count} things were put right`),
    h("p", {}, "Text from a word processor or a PDF brings marks and broken lines that no knitter wrote. This is what was changed:"),
    h(
      "div",
      { class: "scroll", tabindex: 0, role: "group", "aria-label": "What was changed" },
      h(
        "table",
        {},
        h("thead", {}, h("tr", {}, ...["Before", "After", "Why"].map((head) => h("th", { scope: "col" }, head)))),
        h("tbody", {}, ...right.changes.slice(0, 200).map((one) => h("tr", {}, h("td", {}, h("del", {}, visible(one.before))), h("td", {}, h("ins", {}, visible(one.after))), h("td", {}, one.why)))),
      ),
    ),
    h(
      "p",
      { class: "slip-acts" },
      button("Good", close, { class: "strong" }),
      button("Leave my text as it was", () => {
        const plain = text.replace(/\r\n?/g, "\n");
        const end = from + right.text.replace(/\r\n?/g, "\n").length;
        view.dispatch({ changes: { from, to: Math.min(end, view.state.doc.length), insert: plain }, userEvent: "input.paste" });
        close();
      }),
    ),
  );
  slip.addEventListener("cancel", () => slip.remove());
  document.body.append(slip);
  slip.showModal();
}

/** Ends of lines and blanks at the ends can be seen. */
function visible(words: string): string {
  return words.replace(/\n/g, "\u21b5 ").replace(/\u00a0/g, "\u2423").replace(/^ +| +$/g, (blank) => "\u2423".repeat(blank.length)) || "nothing";
}
