// Where is she? The rows that all the facts allow, from the table of a size; the same as `purlwright where` says.
//
// In: the table and facts: {sts: 77, side: "WS", ...}, and "piece". Out: the rows that fit, as [piece, index]; those
// that fit if the count is one out; where none fits, the facts that clash; and the question that divides them best.
const whereAmI = (() => {
  const SIDES = ["RS", "WS"];
  const OPEN = new Set(["side", "yarn", "column"]); // some rows leave them open: such a row fits whatever she says

  /** What is truly seen after a row; undefined where there is nothing to tell. */
  function seen(table, piece, at, fact) {
    const value = piece.columns[fact][at];
    if (fact === "column" && value === -2) return "none"; // the column has no mark
    if (value < 0) return undefined;
    if (fact === "side") return SIDES[value];
    if (fact === "yarn") return table.questions.find((question) => question.name === fact).words[value];
    return fact in table.several ? table.several[fact][value].join(",") || undefined : value;
  }

  function fits(table, [p, at], fact, said) {
    const value = seen(table, table.pieces[p], at, fact);
    return value === undefined ? OPEN.has(fact) : value === said;
  }

  const every = (table, piece) =>
    table.pieces.flatMap((one, p) =>
      piece === undefined || one.name === piece ? one.steps.map((_, at) => [p, at]) : [],
    );

  /** The fewest facts that no row has together: one, or a pair, or all. */
  function clashOf(table, rows, known) {
    const names = Object.keys(known);
    const none = (some) => !rows.some((row) => some.every((name) => fits(table, row, name, known[name])));
    for (const name of names) {
      if (none([name])) return { names: [name], nearest: name === "sts" ? nearest(table, rows, known.sts) : [] };
    }
    for (let a = 0; a < names.length; a += 1) {
      for (let b = a + 1; b < names.length; b += 1) {
        const pair = [names[a], names[b]];
        if (none(pair)) return { names: pair, nearest: [] };
      }
    }
    return names.length && none(names) ? { names, nearest: [] } : null;
  }

  /** The counts below and above hers that can be. */
  function nearest(table, rows, said) {
    const counts = rows.map(([p, at]) => table.pieces[p].columns.sts[at]);
    const below = counts.filter((n) => n < said);
    const above = counts.filter((n) => n > said);
    return [...(below.length ? [Math.max(...below)] : []), ...(above.length ? [Math.min(...above)] : [])];
  }

  /** The question that leaves the fewest rows for its effort. */
  function nextQuestion(table, rows, known) {
    let best = null;
    let most = 0;
    for (const question of table.questions) {
      if (question.facts.some((fact) => fact in known)) continue;
      const parts = new Map();
      for (const [p, at] of rows) {
        const answer = question.facts.map((fact) => seen(table, table.pieces[p], at, fact)).join(";");
        parts.set(answer, (parts.get(answer) ?? 0) + 1);
      }
      let bits = Math.log2(rows.length);
      for (const n of parts.values()) bits -= (n * Math.log2(n)) / rows.length;
      const worth = bits / (question.effort + 15);
      if (bits > 0.01 && worth > most + 1e-12) [most, best] = [worth, question];
    }
    return best;
  }

  /** After how many loops on the right needle a row has so many on each; undefined if it never has. */
  function midway(steps, left, right) {
    if (!steps.length) return undefined;
    let [a, b] = steps;
    const is = () => (left ?? a) === a && (right ?? b) === b;
    if (is()) return b;
    for (let k = 2; k < steps.length; k += 3) {
      for (let n = 0; n < steps[k + 2]; n += 1) {
        a += steps[k];
        b += steps[k + 1];
        if (is()) return b;
      }
    }
    return undefined;
  }

  /** Rows that have so many loops on each needle at some stitch: [piece, index, loops on the right one]. */
  function inMidRow(table, { piece, side, on_left: left, on_right: right, yarn_on: yarn }) {
    // The stitch that the yarn comes from was worked last and belongs on the right needle: else the work is held turned.
    const turned = yarn === "left";
    const facing = side && SIDES.indexOf(side) ^ Number(turned);
    const [onLeft, onRight] = turned ? [right, left] : [left, right];
    return every(table, piece).flatMap(([p, at]) => {
      const { side: sides, midway: which } = table.pieces[p];
      if (facing !== undefined && sides[at] >= 0 && sides[at] !== facing) return [];
      const worked = midway(table.midways[which[at]], onLeft, onRight);
      return worked === undefined ? [] : [[p, at, worked]];
    });
  }

  return (table, facts) => {
    if ("on_left" in facts || "on_right" in facts) {
      return { rows: inMidRow(table, facts), one: [], two: [], clash: null, next: null };
    }
    const { piece, ...said } = facts;
    const known = {}; // in the order of the table, so that of several clashes the first is told
    for (const name of Object.keys(table.pieces[0].columns)) if (name in said) known[name] = said[name];
    const all = every(table, piece);
    const names = Object.keys(known);
    const rows = all.filter((row) => names.every((name) => fits(table, row, name, known[name])));
    const near = [];
    if ("sts" in known) {
      const rest = names.filter((name) => name !== "sts");
      const others = all.filter((row) => rest.every((name) => fits(table, row, name, known[name])));
      const off = ([p, at]) => Math.abs(table.pieces[p].columns.sts[at] - known.sts);
      near.push(others.filter((row) => off(row) === 1), others.filter((row) => off(row) === 2));
    }
    return {
      rows,
      one: near[0] ?? [],
      two: near[1] ?? [],
      clash: rows.length ? null : clashOf(table, all, known),
      next: rows.length > 1 ? nextQuestion(table, rows, known) : null,
    };
  };
})();
