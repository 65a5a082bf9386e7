/** Elements made in one line; words are always words, never markup. */

export type Child = Node | string | null | undefined | false;
type Values = Record<string, string | number | boolean | null | undefined | ((event: Event) => void)>;

export function h<K extends keyof HTMLElementTagNameMap>(
  kind: K,
  values: Values = {},
  ...children: (Child | Child[])[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(kind);
  for (const [name, value] of Object.entries(values)) {
    if (typeof value === "function") made.addEventListener(name.replace(/^on/, ""), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== null && value !== undefined && value !== false) made.setAttribute(name, String(value));
  }
  for (const child of children.flat()) if (child) made.append(child);
  return made;
}

export function button(words: string, does: () => void, values: Values = {}): HTMLButtonElement {
  return h("button", { type: "button", onclick: () => does(), ...values }, words);
}

/** Takes an SVG in that came as words: shapes and letters only, no script, no way out. */
export function svg(words: string): SVGSVGElement | null {
  const read = new DOMParser().parseFromString(words, "image/svg+xml").documentElement;
  if (read.nodeName !== "svg") return null;
  for (const node of [read, ...read.querySelectorAll("*")]) {
    if (!SHAPES.has(node.nodeName)) {
      node.remove();
      continue;
    }
    for (const { name, value } of [...node.attributes]) {
      const leads = name === "href" || name === "xlink:href";
      if (name.startsWith("on") || name === "style" || (leads && !value.startsWith("#"))) node.removeAttribute(name);
    }
  }
  return document.importNode(read, true) as unknown as SVGSVGElement;
}

const SHAPES = new Set(
  "svg g defs title desc path rect circle ellipse line polyline polygon text tspan use clipPath marker symbol".split(" "),
);

export function clear(box: Element, ...children: (Child | Child[])[]): void {
  box.replaceChildren(...children.flat().filter((child): child is Node | string => Boolean(child)));
}

/** Says a sentence to those who listen, without moving anything that can be seen. */
export function say(words: string): void {
  const box = document.getElementById("said");
  if (box) box.textContent = words;
}

export function keep(blob: Blob, name: string): void {
  const link = h("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
