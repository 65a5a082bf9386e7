/** The page's own arithmetic: everything that can be tried without a browser. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { decode, worked } from "../src/cloth/decode.ts";
import { aspectOf, frame, guessedView, picked } from "../src/cloth/frames.ts";
import { levelsOf, MOST_TRIANGLES, PIECES, trianglesOf } from "../src/cloth/levels.ts";
import { LEVELS, triangles, tube } from "../src/cloth/loop.ts";
import { addressOf, placeOf } from "../src/pure/address.ts";
import { chosenText } from "../src/pure/clashes.ts";
import { aroundChanges, differ } from "../src/pure/lines.ts";
import { inWords, shown } from "../src/pure/loops.ts";
import { besides } from "../src/pure/margin.ts";
import { onlyFor, rolesOf } from "../src/pure/roles.ts";
import { forWords, gaugeWords, linesOf, off, proofWords } from "../src/pure/plans.ts";
import { onlyChange, spanOf } from "../src/pure/spans.ts";
import { stacked } from "../src/pure/stack.ts";
import type { Row } from "../src/wire.ts";

/** A small, known sequence of numbers from 0 to 1, the same at every run. */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
}

function row(more: Partial<Row>): Row {
  return {
    line: 1, from: 0, to: 1, order: 1, kind: "row", label: "Row 1", section: "", pass: 1, passes: 1, side: "RS", start: 4, worked: 4, unworked: 0,
    made: 0, lost: 0, held: 0, returned: 0, end: 4, gaps: [], said: null, ...more,
  };
}

// --- places --------------------------------------------------------------------------------------

test("a span of a drawing is read, and nothing else is", () => {
  assert.deepEqual(spanOf("12-30"), [12, 30]);
  for (const words of [undefined, "", "12", "a-b", "1-2-3"]) assert.equal(spanOf(words), null);
});

test("the one change between two texts makes the second of the first", () => {
  const any = chance(7);
  const text = (): string => Array.from({ length: Math.floor(any() * 12) }, () => "ab\n"[Math.floor(any() * 3)]).join("");
  for (let n = 0; n < 500; n++) {
    const [before, after] = [text(), text()];
    const change = onlyChange(before, after);
    if (change) assert.equal(before.slice(0, change.from) + change.insert + before.slice(change.to), after);
    else assert.equal(before, after);
  }
});

test("an address leads back to its place", () => {
  for (const path of ["hat.pattern.md", "shawls/fine lace #2.pattern.md", "example:skerry-hat", "\u00e9\u{1F9F6}"]) {
    assert.deepEqual(placeOf(addressOf({ path, leaf: "words" })), { path, leaf: "words" });
  }
  for (const hash of ["", "#", "#x", "#%/words", "#a/b/c"]) assert.equal(placeOf(hash), null);
});

// --- lines ---------------------------------------------------------------------------------------

test("taking old lines away and putting new ones in gives the new text, in the fewest steps", () => {
  const any = chance(3);
  const lines = (): string[] => Array.from({ length: Math.floor(any() * 9) }, () => "abc"[Math.floor(any() * 3)] as string);
  for (let n = 0; n < 500; n++) {
    const [old, now] = [lines(), lines()];
    const all = differ(old, now);
    assert.deepEqual(all.filter((line) => line.kind !== "new").map((line) => line.words), old);
    assert.deepEqual(all.filter((line) => line.kind !== "old").map((line) => line.words), now);
    assert.equal(all.filter((line) => line.kind === "same").length, common(old, now));
  }
});

/** How many lines two texts have in common, by the slow and plain way. */
function common(a: string[], b: string[]): number {
  if (a.length === 0 || b.length === 0) return 0;
  if (a[0] === b[0]) return 1 + common(a.slice(1), b.slice(1));
  return Math.max(common(a.slice(1), b), common(a, b.slice(1)));
}

test("only the surroundings of changes are shown", () => {
  const all = differ(["a", "b", "c", "d", "e"], ["a", "b", "c", "d", "x"]);
  assert.deepEqual(aroundChanges(all).map((line) => line && `${line.kind} ${line.words}`), [null, "same d", "old e", "new x"]);
  assert.deepEqual(aroundChanges([]), []);
});

test("two versions come together as she chooses", () => {
  const merged = { text: "one\nmine\nend\n", clashes: [{ from: 4, to: 9, hers: "mine\n", theirs: "other\n" }] };
  assert.equal(chosenText(merged, ["hers"]), "one\nmine\nend\n");
  assert.equal(chosenText(merged, ["theirs"]), "one\nother\nend\n");
  assert.equal(chosenText(merged, ["both"]), "one\nmine\nother\nend\n");
  assert.equal(chosenText({ text: "x", clashes: [] }, []), "x");
});

// --- the words in type ---------------------------------------------------------------------------

test("a line shows what it is by its looks", () => {
  const roles = (text: string): string[] => rolesOf(text).stretches.map(({ from, to, role }) => `${role}:${text.slice(from, to)}`);
  assert.deepEqual(roles("# Skerry Hat"), ["mark:# ", "title:Skerry Hat"]);
  assert.deepEqual(roles("## Wedge"), ["mark:## ", "heading:Wedge"]);
  assert.deepEqual(roles("> Count here."), ["mark:> ", "note:Count here."]);
  assert.deepEqual(roles("Sizes: child (adult, large)"), ["key:Sizes:"]);
  assert.deepEqual(roles("Row 1 (RS): Knit."), ["label:Row 1 (RS):"]);
  assert.deepEqual(roles("wrapped only: Row 2 (WS): Knit."), ["only:wrapped only: ", "label:Row 2 (WS):"]);
  assert.deepEqual(roles("Row 4: Knit. (36 (42, 46) sts)"), ["label:Row 4:", "count:(36 (42, 46) sts)"]);
  assert.deepEqual(roles("Rnd 1: *K2, p2; rep from * to end."), ["label:Rnd 1:", "repeat:*", "repeat:rep from *"]);
  assert.deepEqual(roles("1st row: Knit 2."), ["label:1st row:"]);
  assert.deepEqual(roles("Bind off."), []);
  assert.deepEqual([onlyFor("turns wrapped only: Knit."), onlyFor("Row 1: Knit.")], ["turns wrapped", null]);
  assert.equal(rolesOf("").kind, "blank");
  assert.equal(rolesOf("|.o.|", true).kind, "chart");
});

test("whatever a line holds, its stretches lie in it, in order", () => {
  const any = chance(11);
  const letters = "Row 1:()*[]# >k2tog`~,;36sts\u{1F9F6}";
  for (let n = 0; n < 2000; n++) {
    const text = Array.from({ length: Math.floor(any() * 40) }, () => letters[Math.floor(any() * letters.length)]).join("");
    let last = 0;
    for (const { from, to } of rolesOf(text).stretches) {
      assert.ok(from >= last && to >= from && to <= text.length, JSON.stringify(text));
      last = to;
    }
  }
});

// --- margins -------------------------------------------------------------------------------------

test("notes stand beside their lines, in order, none over another", () => {
  assert.deepEqual(stacked([0, 5, 100], [20, 20, 20], 10), [0, 30, 100]);
  assert.deepEqual(stacked([], [], 10), []);
});

test("a line worked many times says from what to what", () => {
  const [one] = besides([row({ order: 2, end: 9 }), row({ order: 4, end: 13 })]);
  assert.equal(one?.count, "9\u201313");
  assert.equal(one?.told, "Row 1, right side, worked 2 times, 9 to 13 stitches after it");
});

test("a tick stands only where every printed count agrees", () => {
  const told = (rows: Row[]): string | undefined => besides(rows)[0]?.agrees;
  assert.equal(told([row({})]), "");
  assert.equal(told([row({ said: 4 })]), "as printed");
  assert.equal(told([row({ said: 5 })]), "not as printed");
  assert.equal(told([row({ said: 4 }), row({ said: 5 })]), "not as printed");
});

test("lines come in their order, and sides that differ are not shown as one", () => {
  const all = besides([row({ line: 9 }), row({ line: 3, side: "WS" }), row({ line: 9, side: "WS" })]);
  assert.deepEqual(all.map((one) => [one.line, one.side]), [[3, "WS"], [9, ""]]);
});

test("a needle in words and in loops", () => {
  assert.equal(inWords([{ count: 2, look: "V" }, { count: 1, look: "V" }, { count: 1, look: "over" }]), "3 as a V, 1 yarn over");
  assert.equal(inWords([{ count: 4, look: "" }]), "4");
  assert.equal(inWords([]), "");
  assert.equal(shown([{ count: 100, look: "V" }], 10).at(-1)?.left, 90);
  assert.deepEqual(shown([{ count: 1, look: "bump" }], 10), [{ look: "bump", left: 0 }]);
});

// --- the cloth -----------------------------------------------------------------------------------

/** A flat cloth of so many stitches a row, as the server sends it. */
function sent(rows: number, wide: number): ArrayBuffer {
  const n = rows * wide;
  const at = new Float32Array(n * 3);
  const along = new Float32Array(n * 3);
  const across = new Float32Array(n * 3);
  const out = new Float32Array(n * 3);
  const rowOf = new Uint32Array(n);
  const span = new Uint32Array(n * 2);
  for (let k = 0; k < n; k++) {
    at.set([(k % wide) * 5, Math.floor(k / wide) * 4, 0], k * 3);
    along.set([0, 4, 0], k * 3);
    across.set([5, 0, 0], k * 3);
    out.set([0, 0, 1], k * 3);
    rowOf[k] = Math.floor(k / wide);
    span.set([k * 3, k * 3 + 2], k * 2);
  }
  const parts = { at, along, across, out, shape: new Uint8Array(n), colour: new Uint8Array(n), row: rowOf, span };
  const arrays: { name: string; dtype: string; shape: number[]; offset: number }[] = [];
  let offset = 0;
  for (const [name, array] of Object.entries(parts)) {
    const dtype = array instanceof Float32Array ? "f32" : array instanceof Uint8Array ? "u8" : "u32";
    const shape = array.length === n ? [n] : [n, array.length / n];
    arrays.push({ name, dtype, shape, offset });
    offset += Math.ceil(array.byteLength / 8) * 8;
  }
  const header = new TextEncoder().encode(JSON.stringify({ version: 3, n, colours: ["#aabbcc"], arrays }));
  const base = Math.ceil((4 + header.length) / 8) * 8;
  const bytes = new ArrayBuffer(base + offset);
  new DataView(bytes).setUint32(0, header.length, true);
  new Uint8Array(bytes).set(header, 4);
  Object.values(parts).forEach((array, k) => new Uint8Array(bytes).set(new Uint8Array(array.buffer), base + (arrays[k]?.offset ?? 0)));
  return bytes;
}

test("a cloth is read as it was sent", () => {
  const cloth = decode(sent(3, 4));
  assert.equal(cloth.n, 12);
  assert.deepEqual([...cloth.at.subarray(15, 18)], [5, 4, 0]);
  assert.deepEqual([...cloth.span.subarray(2, 4)], [3, 5]);
  assert.equal(decode(sent(0, 4)).n, 0);
});

test("words light the stitches worked from them, and no others", () => {
  const { span } = decode(sent(1, 5));
  assert.deepEqual(worked(span, 3, 8), [1, 2]);
  assert.deepEqual(worked(span, 2, 3), []);
  assert.deepEqual(worked(span, 4, 4), [1]);
  assert.deepEqual(worked(new Uint32Array(0), 0, 9), []);
});

test("the stitch under the hand is found, and the nearer of two", () => {
  const cloth = decode(sent(3, 4));
  // Looking straight down the z axis: x and y of the cloth are those of the screen, in a square of 20 mm.
  const look = [1 / 10, 0, 0, 0, 0, 1 / 10, 0, 0, 0, 0, -1 / 100, -1 / 100, -0.5, -0.5, 0, 1];
  const screen = { wide: 200, high: 200 };
  const at = (x: number, y: number) => ({ x: ((x / 10 - 0.5 + 1) / 2) * 200, y: ((1 - (y / 10 - 0.5)) / 2) * 200, ...screen });
  assert.equal(picked(cloth, look, at(5, 4), 8), 5);
  assert.equal(picked(cloth, look, at(300, 4), 8), -1);
  cloth.at.set([5, 4, 3], 0); // the first stitch now lies over the sixth, nearer to the eye
  assert.equal(picked(cloth, look, at(5, 4), 8), 0);
});

test("a purl is the knit loop from behind: turned round, not turned inside out", () => {
  const cloth = decode(sent(1, 2));
  cloth.shape[1] = 1;
  const frames = new Float32Array(32);
  frame(cloth, 0, frames, 0);
  frame(cloth, 1, frames, 16);
  const turned = (k: number): number => {
    const [a, b, c] = [0, 4, 8].map((at) => [...frames.subarray(k + at, k + at + 3)]) as [number[], number[], number[]];
    const [a0 = 0, a1 = 0, a2 = 0] = a;
    const [b0 = 0, b1 = 0, b2 = 0] = b;
    const [c0 = 0, c1 = 0, c2 = 0] = c;
    return a0 * (b1 * c2 - b2 * c1) - a1 * (b0 * c2 - b2 * c0) + a2 * (b0 * c1 - b1 * c0);
  };
  assert.ok(turned(0) > 0);
  assert.ok(turned(16) > 0);
  assert.equal(frames[0], 5);
  assert.equal(frames[16], -5);
});

test("a cloth is looked at from its front, with its rows upwards", () => {
  const view = guessedView(decode(sent(3, 4)));
  assert.deepEqual(view.front.map(Math.round), [0, 0, 1]);
  assert.deepEqual(view.up.map(Math.round), [0, 1, 0]);
  assert.ok(Math.abs(aspectOf(decode(sent(3, 4))) - 0.8) < 1e-6);
});

test("loops join their neighbours, and are as finely made as they say", () => {
  for (const level of LEVELS) {
    const made = tube(level, 0.8);
    assert.equal(made.index.length / 3, triangles(level));
    assert.ok(made.index.every((corner) => corner < made.position.length / 3));
    const ring = (level.sides + 1) * 3;
    for (let k = 0; k < ring; k += 3) {
      const last = made.position.length - ring + k;
      assert.ok(Math.abs((made.position[last] as number) - (made.position[k] as number) - 1) < 1e-5);
      assert.ok(Math.abs((made.position[last + 1] as number) - (made.position[k + 1] as number)) < 1e-5);
    }
  }
});

test("the whole stays within its bound at 50,000 stitches, however it is looked at", () => {
  const any = chance(5);
  for (let n = 0; n < 300; n++) {
    const pieces = Array.from({ length: PIECES }, () => ({ stitches: 50_000 / PIECES, px: any() * 60 }));
    const levels = levelsOf(pieces);
    assert.ok(trianglesOf(pieces, levels) <= MOST_TRIANGLES);
  }
  assert.ok(PIECES <= 10);
});

test("what is looked at closely is finest, and what is out of sight is not fine", () => {
  const near = levelsOf([{ stitches: 500, px: 40 }, { stitches: 500, px: 3 }, { stitches: 500, px: 0 }]);
  assert.deepEqual(near, [3, 1, 0]);
});

test("what is filled in for a plan becomes the words of its answers", () => {
  assert.equal(gaugeWords("22", " 30 ", "4 in"), "22 sts and 30 rows to 4 in");
  assert.equal(gaugeWords("22", "", "10 cm"), "");
  assert.deepEqual(linesOf("back: 40\n\n  front: 40 "), ["back: 40", "front: 40"]);
  const body = (heading: string, words: string, usual = false) => ({ heading, name: `${heading} ${words}`, words, told: "", usual });
  const people = [body("child", "2"), body("child", "4"), body("woman", "S", true), body("woman", "M", true)];
  const named = (...names: string[]) => forWords(people, new Set(names));
  assert.equal(named("woman S", "woman M"), "");
  assert.equal(named("woman M"), "woman M");
  assert.equal(named("child 2", "child 4", "woman S"), "child, woman S");
  assert.equal(named("child 2", "child 4", "woman S", "woman M"), "child, woman");
});

test("what a proof of a plan found is told in a sentence", () => {
  const proof = { clean: false, sizes: [], ways: 3, errors: 0, warnings: 1, notes: 2 };
  assert.equal(proofWords(proof), "Knitted in 3 ways: 1 warning, 2 notes.");
  assert.equal(proofWords({ ...proof, clean: true, ways: 1 }), "Knitted in 1 way, every size and option: nothing was found.");
  assert.deepEqual([off(0), off(0.4), off(-0.4)], ["0", "+0.4", "\u22120.4"]);
});
