// Help for one who is lost: where she is, what a wrong count means, and a text for her teacher.
//
// In: what follow.js lends: the size that is shown, a way to go to a row, a voice. Everything said of a row is read
// from its words in the list; what is true of it stands in the tables of the page. Nothing is sent anywhere.
const helpFor = (page) => {
  const { byId, button } = page;
  const MOST_SHOWN = 6;
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
    byId("where_asks").replaceChildren(...(pieces.length > 1 ? [pieceBox(pieces)] : []), ...asked);
  }

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
    const line = made("p", "", "numbers");
    question.facts.forEach((fact, n) => {
      const input = document.createElement("input");
      Object.assign(input, { type: "text", id: `_fact_${fact}`, inputMode: question.kind === "counts" ? "text" : "numeric" });
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
    for (const question of table.questions) {
      if (question.kind === "side") {
        const side = document.querySelector("input[name=_fact_side]:checked")?.value;
        if (side) known.side = side;
        continue;
      }
      let bad = false;
      for (const fact of question.facts) {
        const input = document.getElementById(`_fact_${fact}`);
        const text = input.value.trim();
        const parts = question.kind === "counts" ? text.split(/[\s,]+/).filter(Boolean) : [text];
        const numbers = parts.map(whole);
        const notOne = text !== "" && (!numbers.length || numbers.includes(null));
        input.setAttribute("aria-invalid", String(notOne));
        bad ||= notOne;
        if (text && !notOne) known[fact] = question.kind === "counts" ? numbers.join(",") : numbers[0];
      }
      const words = bad ? "Write a number in figures, or leave it empty." : "";
      document.getElementById(`_bad_${question.name}`).textContent = words;
      clear &&= !bad;
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

  const nameOf = ([p, at]) => named(table.pieces[p].steps[at]);

  function answer() {
    const { known, clear } = facts();
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
    writeLetter(known);
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

  function trouble([did, row, percent, sign, down, what, shows, then, done], piece, at, first) {
    const item = document.createElement("li");
    const likely = percent >= 60 ? "Most likely" : first ? "Perhaps" : "Or";
    const head = made("p");
    const where = made("bdi", row < 0 ? "the cast-on" : named(piece.steps[row]));
    head.append(made("strong", `${likely}: `), `${table.words[did]}, in `, where, ".");
    item.append(head);
    if (sign >= 0) {
      const place = down > 0 ? `${many(down, "row")} below the row just worked` : "in the row just worked";
      item.append(made("p", `You would see ${table.words[sign]}, ${place}.`));
    }
    if (what === undefined) item.append(made("p", "No cure is known to be safe here. Ask your teacher."));
    else {
      const cure = made("p");
      cure.append(made("strong", "Do this: "), table.words[what]);
      const next = done < 0 ? piece.steps[0] : piece.nexts[done];
      const end = made("p", "", "then");
      if (done > at) end.append("After ", made("bdi", named(piece.steps[done])), ` you have ${stitches(then)}, as you should`);
      else end.append(`Then you have ${stitches(then)}`);
      if (done <= at && page.row(next)) end.append(", and go on with ", made("bdi", named(next)));
      end.append(`. What shows: ${(table.words[shows] ?? "Nothing.").replace(/^./, (letter) => letter.toLowerCase())}`);
      item.append(cure, end);
    }
    return item;
  }

  function diagnose() {
    const finished = document.querySelector("input[name=_wrong_at]:checked")?.value !== "stuck";
    const box = finished ? byId("wrong_sts") : byId("wrong_off");
    const said = whole(box.value.trim());
    const short = document.querySelector("input[name=_wrong_how]:checked")?.value === "short";
    const last = lastDone(finished);
    const list = [];
    let words = "";
    wrong = null;
    box.setAttribute("aria-invalid", String(said === null));
    byId("wrong_bad").textContent = said === null ? "Write how many stitches, in figures." : "";
    if (said !== null && last) {
      const [p, at] = last;
      const piece = table.pieces[p];
      const right = page.row(page.at()).after;
      wrong = { piece: piece.name, row: at + 1, ...(finished ? { sts: said } : { off: short ? -said : said }) };
      const rows = (finished ? piece.counts : piece.off)[at] ?? {};
      const likely = finished ? rows[said] : (rows[short ? -said : said] ?? (said ? rows[MARKER] : undefined));
      if (finished && said === right) {
        words = `${stitches(said)} is what this row should leave. ${WORDS.otherwise}`;
      } else if (!finished && said === 0) words = "Nothing left over and nothing short: the row came out.";
      else if (likely) {
        words = finished
          ? `${stitches(said)} instead of ${right}. Count once more, in tens. If it stays so:`
          : `${stitches(said)} ${short ? "short" : "left over"}. Count the row before once more, in tens. If it stays so:`;
        list.push(...likely.map((one, n) => trouble(one, piece, at, n === 0)));
      } else words = WORDS.unknown;
      if (finished && said !== right) lostPlace(said, list);
    }
    byId("wrong_said").textContent = words;
    byId("wrong_list").replaceChildren(...list);
    writeLetter(facts().known);
    return said !== null || box.focus();
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
    wrong = null;
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
      .map(([name, value]) => `${table.names[name]}: ${String(value).replace(/,/g, ", ")}`);
    byId("letter").value = `${table.letter}${lines.join("\n")}${lines.length ? "\n" : ""}`;
    byId("letter").rows = byId("letter").value.split("\n").length + 1;
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
