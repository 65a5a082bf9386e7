// Help for one who is lost: where she is, what a wrong count means, and a text for her teacher.
//
// In: what follow.js lends: the size that is shown, a way to go to a row, a voice. Everything said of a row is read
// from its words in the list; what is true of it stands in the tables of the page. Nothing is sent anywhere.
const helpFor = (page) => {
  const { byId, button } = page;
  const MOST_SHOWN = 6;
  const MOST_TOLD = 3;
  const MARKER = 99;
  const WORDS = {
    otherwise: "If something else looks wrong, send the text below to your teacher.",
    unknown:
      "This page does not know what leads to that here. Count once more, in tens;" +
      " if it stays so, send the text below to your teacher.",
  };
  let table = null;
  let rowAt = new Map();
  let wrong = null;

  const many = (n, one, more = one + "s") => `${n} ${n === 1 ? one : more}`;
  const stitches = (n) => many(n, "stitch", "stitches");
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

  function made(tag, text = "", className = "") {
    const element = document.createElement(tag);
    element.textContent = text;
    if (className) element.className = className;
    return element;
  }

  /** What a row is called: "Row 5 of Wings, time 2 of 3". */
  function named(step) {
    const row = page.row(step);
    if (!row) return "the end";
    const { label, part, time } = row;
    return [part ? `${label} of ${part}` : label, time].filter(Boolean).join(", ");
  }

  // --- what she says ------------------------------------------------------------------------

  /** Labels of the questions, in the order of how quickly they are looked at. */
  function ask() {
    const asked = [...table.questions].sort((a, b) => a.effort - b.effort).map(questionBox);
    const pieces = table.pieces.filter((piece) => piece.name);
    byId("where_asks").replaceChildren(...asked);
    byId("where_piece").replaceChildren(...(pieces.length > 1 ? [pieceBox(pieces)] : []));
  }

  /** In mid-row other things are asked than when a row is done. */
  function showMidRow() {
    byId("where_asks").hidden = inMidRow();
    byId("where_mid").hidden = !inMidRow();
  }

  const inMidRow = () => document.querySelector("input[name=_where_at]:checked")?.value === "mid";

  function pieceBox(pieces) {
    const box = made("div", "", "ask");
    const label = made("label", "Which piece are you knitting?");
    label.htmlFor = "_fact_piece";
    const select = document.createElement("select");
    select.id = "_fact_piece";
    select.append(new Option("I don’t know", ""), ...pieces.map((piece) => new Option(piece.name, piece.name)));
    box.append(label, select);
    return box;
  }

  function questionBox(question) {
    const grouped = question.kind === "side" || question.kind === "pair";
    const box = made(grouped ? "fieldset" : "div", "", "ask");
    box.dataset.question = question.name;
    const commas = question.kind === "counts" ? " With commas between: 8, 24, 8." : "";
    const how = made("p", question.how + commas, "how");
    how.id = `_how_${question.name}`;
    const wrongWords = made("p", "", "wrong");
    wrongWords.id = `_bad_${question.name}`;
    const title = made(grouped ? "legend" : "label", question.asks);
    box.append(title, how);
    if (question.kind === "side") {
      const line = made("p", "", "sides");
      for (const [value, words] of [["RS", "Right side (RS)"], ["WS", "Wrong side (WS)"], ["", "I don’t know"]]) {
        const label = document.createElement("label");
        const radio = document.createElement("input");
        Object.assign(radio, { type: "radio", name: "_fact_side", value, defaultChecked: !value, checked: !value });
        label.append(radio, words);
        line.append(label);
      }
      box.append(line);
      return box;
    }
    if (question.kind === "word") {
      const select = document.createElement("select");
      select.id = title.htmlFor = `_fact_${question.name}`;
      select.setAttribute("aria-describedby", how.id);
      select.append(new Option("I don’t know", ""), ...question.words.map((word) => new Option(capital(word), word)));
      box.append(select);
      return box;
    }
    const line = made("p", "", "numbers");
    question.facts.forEach((fact, n) => {
      const input = document.createElement("input");
      const inputMode = ["counts", "column"].includes(question.kind) ? "text" : "numeric";
      Object.assign(input, { type: "text", id: `_fact_${fact}`, inputMode });
      input.autocomplete = "off";
      input.setAttribute("aria-describedby", `${how.id} ${wrongWords.id}`);
      if (grouped) {
        const label = made("label", question.parts[n]);
        label.htmlFor = input.id;
        line.append(label, input);
      } else {
        title.htmlFor = input.id;
        line.append(input);
      }
    });
    box.append(line, wrongWords);
    return box;
  }

  const whole = (text) => (/^\d{1,5}$/.test(text) ? Number(text) : null);

  /** The facts of the form; what is no number is said beside its question and left out. */
  function facts() {
    const known = {};
    let clear = true;
    const piece = document.getElementById("_fact_piece")?.value;
    if (piece) known.piece = piece;
    if (inMidRow()) return needles(known);
    for (const question of table.questions) {
      if (question.kind === "side") {
        const side = document.querySelector("input[name=_fact_side]:checked")?.value;
        if (side) known.side = side;
        continue;
      }
      if (question.kind === "word") {
        const word = document.getElementById(`_fact_${question.name}`).value;
        if (word) known[question.name] = word;
        continue;
      }
      let bad = false;
      for (const fact of question.facts) {
        const input = document.getElementById(`_fact_${fact}`);
        const text = input.value.trim();
        const parts = question.kind === "counts" ? text.split(/[\s,]+/).filter(Boolean) : [text];
        const none = question.kind === "column" && text.toLowerCase() === "none";
        const numbers = none ? ["none"] : parts.map(whole);
        const notOne = text !== "" && (!numbers.length || numbers.includes(null));
        input.setAttribute("aria-invalid", String(notOne));
        bad ||= notOne;
        if (text && !notOne) known[fact] = question.kind === "counts" ? numbers.join(",") : numbers[0];
      }
      const or = question.kind === "column" ? ", or none," : ",";
      const words = bad ? `Write a number in figures${or} or leave it empty.` : "";
      document.getElementById(`_bad_${question.name}`).textContent = words;
      clear &&= !bad;
    }
    return { known, clear };
  }

  /** What she says lies on each needle. */
  function needles(known) {
    let clear = true;
    for (const fact of ["on_left", "on_right"]) {
      const input = byId(`where_${fact}`);
      const text = input.value.trim();
      const number = whole(text);
      input.setAttribute("aria-invalid", String(text !== "" && number === null));
      if (number !== null) known[fact] = number;
      else clear &&= text === "";
    }
    byId("where_mid_bad").textContent = clear ? "" : "Write a number in figures, or leave it empty.";
    for (const [fact, name] of [["side", "_where_mid_side"], ["yarn_on", "_where_yarn_on"]]) {
      const said = document.querySelector(`input[name=${name}]:checked`)?.value;
      if (said) known[fact] = said;
    }
    return { known, clear };
  }

  /** A fact as she would say it. */
  function told(fact, said) {
    const rows = () => (said === 0 ? "in the row just worked" : `${many(said, "row")} ago`);
    if (fact === "sts") return `${stitches(said)} on the needle`;
    if (fact === "side") return `${said === "RS" ? "right" : "wrong"} side facing`;
    if (fact === "waiting") return `${stitches(said)} beyond the last turning place`;
    if (fact === "gaps") return many(said, "turning place");
    if (fact === "intervals") return `${said.replace(/,/g, ", ")} from turning place to turning place`;
    if (fact === "part_rows") return `${many(said, "row")} in this part`;
    if (fact === "between") return `${said.replace(/,/g, ", ")} from marker to marker`;
    if (fact === "since_stripe") return `the last new colour ${said === 0 ? "begun in the row just worked" : `begun ${rows()}`}`;
    if (fact === "yarn") return `the yarn ${{ "no edge": "at no edge", middle: "in the middle" }[said] ?? `at the ${said}`}`;
    if (fact === "column") {
      const { stitch } = table.questions.find((question) => question.name === fact);
      const count = said === "none" ? "no mark" : `${stitches(said)} above the last mark`;
      return `${count} in the column of stitch ${stitch}`;
    }
    const [what, which] = fact.split("_");
    if (what === "since") return `the last ${which} ${rows()}`;
    return `${many(said, what.replace(/s$/, ""))} up the ${which} edge`;
  }

  const together = (words) =>
    words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;

  // --- where am I? --------------------------------------------------------------------------

  function rowItem([p, at]) {
    const piece = table.pieces[p];
    const item = document.createElement("li");
    const words = made("p");
    const name = made("bdi", named(piece.steps[at]));
    words.append(name, `: done, with ${stitches(page.row(piece.steps[at]).after)} on the needle.`);
    const next = page.row(piece.nexts[at]);
    item.append(words);
    if (next) {
      const go = button("", () => page.go(piece.nexts[at]));
      go.append("Go to the next: ", made("bdi", named(piece.nexts[at])));
      item.append(go);
    } else item.append(made("p", "That is the last one."));
    return item;
  }

  function rowList(title, rows) {
    const parts = [];
    if (title) parts.push(made("h3", title));
    const list = document.createElement("ul");
    list.setAttribute("role", "list");
    list.append(...rows.slice(0, MOST_SHOWN).map(rowItem));
    parts.push(list);
    const more = rows.length - MOST_SHOWN;
    if (more > 0) parts.push(made("p", `And ${many(more, "more row")}. Another answer leaves fewer.`));
    return parts;
  }

  /** Rows in which she may be in the middle: how far, and a button to the row. */
  function midItem([p, at, worked]) {
    const step = table.pieces[p].steps[at];
    const item = document.createElement("li");
    const words = made("p");
    const rest = `: ${stitches(worked)} on the right needle, and the rest of the row still to be worked.`;
    words.append(made("bdi", named(step)), rest);
    const go = button("", () => page.go(step));
    go.append("Go to this row: ", made("bdi", named(step)));
    item.append(words, go);
    return item;
  }

  function answerMidRow(known, clear) {
    markNext(null);
    writeLetter(known);
    const lists = [];
    let words = clear ? "Count the stitches on each needle; the rows that fit are named here." : "";
    if ("on_left" in known || "on_right" in known) {
      const { rows } = whereAmI(table, known);
      if (!rows.length) {
        words = "No row has so many on the needles at any stitch, if all is right. Count each needle again, in tens.";
      } else {
        const turn = "Your work is turned round: turn it, so that the stitch with the yarn is on the right needle. ";
        const held = known.yarn_on === "left" ? turn : "";
        words = held + (rows.length === 1 ? `One row fits: ${nameOf(rows[0])}.` : `${rows.length} rows fit.`);
        const list = document.createElement("ul");
        list.setAttribute("role", "list");
        list.append(...rows.slice(0, MOST_SHOWN).map(midItem));
        lists.push(list);
        const more = rows.length - MOST_SHOWN;
        const ask = "side" in known ? "" : " The side that faces leaves fewer.";
        if (more > 0) {
          const then = `${ask} Or work to the end of the row as you think it goes, and answer then.`;
          lists.push(made("p", `And ${many(more, "more row")}.${then}`));
        }
      }
    }
    byId("where_said").textContent = words;
    byId("where_rows").replaceChildren(...lists);
  }

  const nameOf = ([p, at]) => named(table.pieces[p].steps[at]);

  function answer() {
    showMidRow();
    const { known, clear } = facts();
    if (inMidRow()) return answerMidRow(known, clear);
    const names = Object.keys(known).filter((name) => name !== "piece");
    const found = whereAmI(table, known);
    const { rows, one, two, clash, next } = found;
    const lists = [];
    let words = "";
    markNext(null);
    if (!names.length && known.piece === undefined) {
      words = clear ? "Answer what you can; the row is named here." : "";
    } else if (rows.length) {
      const counted = "sts" in known;
      if (rows.length === 1) words = `One row fits${counted ? ", if you counted right" : ""}: ${nameOf(rows[0])}, just done.`;
      else if (next) words = `${rows.length} rows fit. Look at this next: ${next.asks}`;
      else {
        words =
          `${rows.length} rows fit, and nothing that can be asked here tells them apart.` +
          " Remember which you did last, or ask your teacher.";
      }
      lists.push(...rowList(counted && one.length ? "If you counted right" : "", rows));
      if (counted && one.length) lists.push(...rowList("If you are one stitch off", one));
      markNext(next);
    } else if (one.length || two.length) {
      const close = one.length ? one : two;
      const off = `If you are ${one.length ? "one stitch" : "two stitches"} off`;
      const fit = close.length === 1 ? "one row fits" : `${close.length} rows fit`;
      const none = together(names.map((name) => told(name, known[name])));
      words = `No row has ${none}. ${off}, ${fit}. Count again in tens.`;
      lists.push(...rowList(off, close));
    } else {
      const said = clash.names.map((name) => told(name, known[name]));
      const can = clash.nearest.length ? ` ${capital(clash.nearest.join(" or "))} can.` : "";
      words =
        said.length === 1
          ? `This cannot be if all is right: ${said[0]}.${can} Count again in tens.`
          : `These cannot all be true: ${together(said)}. Count again in tens.`;
      lists.push(made("p", "If they are true all the same, open “Something is wrong” below."));
    }
    byId("where_said").textContent = words;
    byId("where_rows").replaceChildren(...lists);
    return writeLetter(known);
  }

  /** The question to look at next is marked, so that it is found at a glance. */
  function markNext(question) {
    for (const box of byId("where_asks").children) {
      box.classList.toggle("next", Boolean(question) && box.dataset.question === question.name);
    }
  }

  // --- something is wrong -------------------------------------------------------------------

  /** The row just done, of the piece of the row that is shown: [piece, index]; index -1 for its beginning. */
  function lastDone(finished) {
    const here = rowAt.get(page.at());
    return here && [here[0], finished ? here[1] : here[1] - 1];
  }

  /** A sentence of the table, put together. */
  const said = (n) => (n < 0 ? "" : table.said[n].map((part) => table.words[part]).join(""));

  function trouble([did, row, , sign, down, cure], share, piece, at, first) {
    const item = document.createElement("li");
    const likely = share >= 0.6 ? "Most likely" : first ? "Perhaps" : "Or";
    const head = made("p");
    const where = made("bdi", row < 0 ? "the cast-on" : named(piece.steps[row]));
    head.append(made("strong", `${likely}: `), `${said(did)}, in `, where, ".");
    item.append(head);
    if (sign >= 0) {
      const place = down > 0 ? `${many(down, "row")} below the row just worked` : "in the row just worked";
      item.append(made("p", `You would see ${said(sign)}, ${place}.`));
    }
    if (cure < 0) item.append(made("p", "No cure is known to be safe here. Ask your teacher."));
    else {
      const [what, shows, then, done] = table.cures[cure];
      const doThis = made("p");
      doThis.append(made("strong", "Do this: "), said(what));
      const next = done < 0 ? piece.steps[0] : piece.nexts[done];
      const end = made("p", "", "then");
      if (done > at) {
        end.append("After ", made("bdi", named(piece.steps[done])), ` you have ${stitches(then)}, as you should`);
      } else end.append(`Then you have ${stitches(then)}`);
      if (done <= at && page.row(next)) end.append(", and go on with ", made("bdi", named(next)));
      end.append(`. What shows: ${(said(shows) || "Nothing.").replace(/^./, (letter) => letter.toLowerCase())}`);
      item.append(doThis, end);
    }
    return item;
  }

  // What tells them apart: whatever looks odd, and the quick looks on which they differ.

  const MISSED = 0.03; // so often something is overlooked, or a word is the wrong one
  let met = null;

  /** The questions on which these troubles differ: [fact, asks, how, answers]; no answers for a number. */
  function apart(likely) {
    const out = [];
    const signs = [...new Set(likely.map((one) => one[3]))];
    if (signs.length > 1) {
      const answers = [...signs.filter((n) => n >= 0).map((n) => [n, said(n)]), [-1, "Nothing of these"]];
      out.push(["odd", "What do you see?", "Look along the last rows, from the needle down.", answers]);
    }
    table.also.forEach(({ fact, asks, how, words }, k) => {
      const values = new Set(likely.map((one) => table.looks[one[6]][k]).filter((n) => n >= 0));
      if (values.size > 1) out.push([fact, asks, how, words.map((word, n) => [n, word])]);
    });
    return out;
  }

  function ask_apart(likely) {
    const boxes = apart(likely).map(([fact, asks, how, answers]) => {
      const box = made("div", "", "ask");
      const label = made("label", asks);
      const note = made("p", how, "how");
      const answer = document.createElement(answers.length ? "select" : "input");
      label.htmlFor = answer.id = `_also_${fact}`;
      note.id = `_also_how_${fact}`;
      answer.setAttribute("aria-describedby", note.id);
      answer.dataset.fact = fact;
      const options = answers.map(([n, word]) => new Option(capital(word), n));
      if (answers.length) answer.append(new Option("I don’t know", ""), ...options);
      else Object.assign(answer, { type: "text", inputMode: "numeric", autocomplete: "off" });
      const line = made("p", "", "numbers");
      line.append(answer);
      box.append(label, note, line);
      return box;
    });
    byId("wrong_also").hidden = !boxes.length;
    byId("wrong_asks").replaceChildren(...boxes);
  }

  /** What she says of them, by fact: a number, or the place of a word. */
  function looked() {
    const out = {};
    for (const answer of byId("wrong_asks").querySelectorAll("[data-fact]")) {
      const text = answer.value.trim();
      const number = answer.dataset.fact === "odd" && text === "-1" ? -1 : whole(text);
      if (text !== "" && number !== null) out[answer.dataset.fact] = number;
    }
    return out;
  }

  /** The likeliest first, each with its share, when these facts are weighed. */
  function weighed(likely, known) {
    const weights = likely.map((one) => {
      let weight = Math.max(one[2], 0.5);
      for (const [fact, told] of Object.entries(known)) {
        const k = table.also.findIndex((also) => also.fact === fact);
        const seen = fact === "odd" ? one[3] : table.looks[one[6]][k];
        if (fact === "odd" || seen >= 0) weight *= seen === told ? 1 - MISSED : MISSED;
      }
      return weight;
    });
    const whole_ = weights.reduce((a, b) => a + b, 0);
    const kept = Object.keys(known).length ? 1 : likely.reduce((a, one) => a + one[2], 0) / 100;
    return likely
      .map((one, n) => [one, (weights[n] / whole_) * Math.min(kept, 1)])
      .sort((a, b) => b[1] - a[1])
      .slice(0, MOST_TOLD);
  }

  function tell() {
    const { likely, piece, at, sts } = met;
    const known = looked();
    const list = weighed(likely, known).map(([one, share], n) => trouble(one, share, piece, at, n === 0));
    if (sts !== null) lostPlace(sts, list);
    byId("wrong_list").replaceChildren(...list);
    for (const { fact, words } of [{ fact: "odd", words: [] }, ...table.also]) {
      delete wrong[fact];
      if (fact in known && fact !== "odd") wrong[fact] = words.length ? words[known[fact]] : known[fact];
    }
    writeLetter(facts().known);
  }

  function diagnose() {
    const finished = document.querySelector("input[name=_wrong_at]:checked")?.value !== "stuck";
    const box = finished ? byId("wrong_sts") : byId("wrong_off");
    const count = whole(box.value.trim());
    const short = document.querySelector("input[name=_wrong_how]:checked")?.value === "short";
    const last = lastDone(finished);
    const list = [];
    let words = "";
    wrong = met = null;
    ask_apart([]);
    box.setAttribute("aria-invalid", String(count === null));
    byId("wrong_bad").textContent = count === null ? "Write how many stitches, in figures." : "";
    if (count !== null && last) {
      const [p, at] = last;
      const piece = table.pieces[p];
      const right = page.row(page.at()).after;
      wrong = { piece: piece.name, row: at + 1, ...(finished ? { sts: count } : { off: short ? -count : count }) };
      const rows = (finished ? piece.counts : piece.off)[at] ?? {};
      const likely = finished ? rows[count] : (rows[short ? -count : count] ?? (count ? rows[MARKER] : undefined));
      if (finished && count === right) {
        words = `${stitches(count)} is what this row should leave. ${WORDS.otherwise}`;
      } else if (!finished && count === 0) words = "Nothing left over and nothing short: the row came out.";
      else if (likely) {
        words = finished
          ? `${stitches(count)} instead of ${right}. Count once more, in tens. If it stays so:`
          : `${stitches(count)} ${short ? "short" : "left over"}. Count the row before once more, in tens. If it stays so:`;
        met = { likely, piece, at, sts: finished && count !== right ? count : null };
        ask_apart(likely);
      } else words = WORDS.unknown;
      if (!met && finished && count !== right) lostPlace(count, list);
    }
    byId("wrong_said").textContent = words;
    byId("wrong_list").replaceChildren(...list);
    if (met) tell();
    else writeLetter(facts().known);
    return count !== null || box.focus();
  }

  /** Rows where her count is right: then only the place is lost. */
  function lostPlace(sts, list) {
    const rows = "sts" in table.pieces[0].columns ? whereAmI(table, { sts }).rows : [];
    if (!rows.length) return;
    const item = document.createElement("li");
    const few = rows.slice(0, 3).map(([p, at]) => named(table.pieces[p].steps[at]));
    if (rows.length > 3) few.push(`${many(rows.length - 3, "other row")}`);
    const words = `Or nothing is wrong, and only the place is lost: ${stitches(sts)} is right after ${together(few)}.`;
    item.append(made("p", `${words} “Where am I?” above finds it.`));
    list.push(item);
  }

  function showWrong() {
    const here = rowAt.get(page.at());
    byId("wrong_form").hidden = !here;
    byId("wrong_row").replaceChildren();
    byId("wrong_said").textContent = "";
    byId("wrong_list").replaceChildren();
    wrong = met = null;
    ask_apart([]);
    if (here) {
      const leaves = stitches(page.row(page.at()).after);
      byId("wrong_row").append("The row that is shown above: ", made("bdi", named(page.at())), `. It should leave ${leaves}.`);
    } else byId("wrong_row").textContent = "Go to a row that is knitted: what can go wrong in it is told here.";
    showStuck();
  }

  function showStuck() {
    const stuck = document.querySelector("input[name=_wrong_at]:checked")?.value === "stuck";
    byId("wrong_done").hidden = stuck;
    byId("wrong_stuck").hidden = !stuck;
    byId("wrong_bad").textContent = "";
  }

  // --- to the teacher -----------------------------------------------------------------------

  function writeLetter(known = {}) {
    const all = { ...known, ...wrong };
    const lines = Object.entries(all)
      .filter(([name, value]) => name in table.names && value !== "")
      .map(([name, value]) => `${table.names[name]}: ${upAColumn(name)}${String(value).replace(/,/g, ", ")}`);
    byId("letter").value = `${table.letter}${lines.join("\n")}${lines.length ? "\n" : ""}`;
    byId("letter").rows = byId("letter").value.split("\n").length + 1;
  }

  /** The stitch goes with the count up its column. */
  function upAColumn(name) {
    return name === "column" ? `${table.questions.find((question) => question.name === name).stitch}, ` : "";
  }

  async function copy() {
    byId("letter").select();
    try {
      await navigator.clipboard.writeText(byId("letter").value);
      byId("letter_copy").textContent = "Copied";
      page.say("Copied.");
    } catch {
      byId("letter").focus();
      page.say("The text is chosen. Copy it with the menu or the keys of your device.");
    }
  }

  // --- hands --------------------------------------------------------------------------------

  byId("where_form").addEventListener("change", answer);
  byId("where_form").addEventListener("submit", (event) => {
    event.preventDefault();
    answer();
  });
  byId("where_clear").addEventListener("click", () => {
    byId("where_form").reset();
    answer();
  });
  byId("wrong_form").addEventListener("submit", (event) => {
    event.preventDefault();
    diagnose();
  });
  byId("wrong_form").addEventListener("change", showStuck);
  byId("wrong_also").addEventListener("change", () => met && tell());
  byId("wrong_also").addEventListener("submit", (event) => {
    event.preventDefault();
    if (met) tell();
  });
  byId("letter_copy").addEventListener("click", copy);

  return {
    /** Another size is shown: its tables are read. */
    choose(data) {
      table = data ? JSON.parse(data) : null;
      byId("lost").hidden = !table;
      if (!table) return;
      rowAt = new Map(table.pieces.flatMap((piece, p) => piece.steps.map((step, at) => [step, [p, at]])));
      ask();
      answer();
    },
    /** Another row is shown. */
    show() {
      if (!table) return;
      showWrong();
      writeLetter(facts().known);
    },
  };
};
