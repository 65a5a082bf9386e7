// The follow-along page: shows one row of the list at a time and keeps the place.
//
// The rows are read from the list that stands in the page; nothing is fetched and no markup is ever made from words.
// A place is which row is shown and which rows are ticked, written "45.1-44". It is kept on the device, in the
// address and in a line to copy: "place=45.1-44.KEYROWS.SUM", where KEY names pattern and size, ROWS its rows, and
// SUM notices a letter that was lost on the way.
(() => {
  const byId = (name) => document.getElementById("_" + name);
  const root = document.documentElement;
  const main = document.querySelector("main");
  const UNDO_KEPT = 40;
  const WORDS = {
    kept:
      "Your place is kept on this device, in this browser. A file that was opened from a mail may be forgotten" +
      " when it is closed; then the line below brings you back.",
    notKept:
      "This device does not keep your place for this page." +
      " Before you close it, copy the line under “Keep your place” or make a bookmark.",
    changedSince:
      "This pattern has changed since you were last here. Your ticks are kept; check that the row is the right one.",
    doesNotFit:
      "What this device has kept for this pattern does not fit its rows, so you begin at the first one." +
      " If you have your line, paste it under “Keep your place”.",
    otherVersion: "This place is from another version of the pattern. Check that the row is the right one.",
  };

  // --- the device ---------------------------------------------------------------------------

  let storing = true;
  const device = {
    read(name) {
      try {
        return JSON.parse(localStorage.getItem("purlwright:" + name));
      } catch {
        return null;
      }
    },
    write(name, value) {
      try {
        localStorage.setItem("purlwright:" + name, JSON.stringify(value));
        storing = true;
      } catch {
        storing = false;
      }
    },
  };

  // --- places -------------------------------------------------------------------------------

  /** A few letters that change when any letter of the text does. */
  function sum(text) {
    let h = 0x811c9dc5;
    for (const letter of text) h = Math.imul(h ^ letter.codePointAt(0), 0x01000193) >>> 0;
    return h.toString(36).padStart(7, "0").slice(-4);
  }

  /** Ticked rows as stretches: 1-44,50. */
  function stretches(ticked) {
    const out = [];
    for (const row of [...ticked].sort((a, b) => a - b)) {
      const last = out[out.length - 1];
      if (last && last[1] === row - 1) last[1] = row;
      else out.push([row, row]);
    }
    return out.map(([a, b]) => (a === b ? String(a) : `${a}-${b}`)).join(",");
  }

  const placeOf = (size) => `${size.at}.${stretches(size.ticked)}`;

  /** Reads "45.1-44" for a size; null if it has no such rows. */
  function readPlace(text, size) {
    const found = /^(\d{1,6})\.((?:\d{1,6}(?:-\d{1,6})?(?:,(?!$)|$))*)$/.exec(String(text));
    if (!found) return null;
    const count = size.rows.length;
    const at = Number(found[1]);
    const ticked = new Set();
    for (const piece of found[2] ? found[2].split(",") : []) {
      const [from, to = from] = piece.split("-").map(Number);
      if (from < 1 || to < from || to > count) return null;
      for (let row = from; row <= to; row += 1) ticked.add(row);
    }
    return at >= 1 && at <= count + 1 ? { at, ticked } : null;
  }

  function lineOf(size) {
    const place = `${placeOf(size)}.${size.key}${size.rowsSum}`;
    return `place=${place}.${sum(place)}`;
  }

  /** What a pasted line or an address says: a size and a place in it, or in words why it says nothing. */
  function readLine(text) {
    const close = String(text).replace(/\s+/g, "").toLowerCase();
    const found = /place=([\d.,-]+)\.([a-z2-7]{6})([a-z2-7]{4})\.([0-9a-z]{4})/.exec(close);
    if (!close.includes("place=")) {
      return { wrong: "There is no place in this line. One ends in “place=” and figures and letters." };
    }
    if (!found || sum(`${found[1]}.${found[2]}${found[3]}`) !== found[4]) {
      return { wrong: "A letter or a figure of this line is missing or changed. Copy the whole line again." };
    }
    const size = sizes.find((one) => one.key === found[2]);
    if (!size) {
      return { wrong: "This line belongs to another pattern or to a size that is not on this page." };
    }
    const place = readPlace(found[1], size);
    if (!place) {
      const count = size.rows.length;
      const rows = `rows that are not here: here are ${count}`;
      return { wrong: `This line is from another version of the pattern and has ${rows}.` };
    }
    return { size, place, changed: found[3] !== size.rowsSum };
  }

  // --- sizes and their rows -----------------------------------------------------------------

  const sizes = [...document.querySelectorAll(".size")].map((list) => {
    const rows = [...list.querySelectorAll("li")];
    for (const row of rows) {
      const mark = document.createElement("span");
      mark.className = "mark";
      mark.hidden = true;
      const seen = document.createElement("span");
      seen.setAttribute("aria-hidden", "true");
      seen.textContent = "✓";
      const heard = document.createElement("span");
      heard.className = "unseen";
      heard.textContent = "ticked";
      mark.append(seen, heard);
      row.prepend(mark);
    }
    const { key, rows: rowsSum, name } = list.dataset;
    const parts = [...list.querySelectorAll("ol")].map((part) => {
      const first = rows.indexOf(part.firstElementChild) + 1;
      return { name: part.dataset.part, first, last: first + part.children.length - 1 };
    });
    const marked = { ticked: new Set(), at: 1 };
    return { list, rows, parts, key, rowsSum, name, at: 1, ticked: new Set(), undo: [], marked };
  });
  let size = null;

  const named = (one) => (one.name ? `${main.dataset.title}, ${one.name}` : main.dataset.title);
  const textOf = (row, what) => (row.querySelector(what)?.textContent ?? "").trim();
  const partOf = (at) => size.parts.find((part) => part.first <= at && at <= part.last);

  /** The first row not ticked, from a row on and then from the start; one past the last if all are ticked. */
  function nextOpen(from, ticked = size.ticked) {
    const count = size.rows.length;
    for (let k = 0; k < count; k += 1) {
      const row = ((from - 1 + k) % count) + 1;
      if (!ticked.has(row)) return row;
    }
    return count + 1;
  }

  /** The rows that one line asks for, "Knit 6 rows.", and that are not ticked; none for a row of its own. */
  function openRun(at) {
    const run = size.rows[at - 1]?.dataset.run;
    const rows = run ? size.rows.map((row, k) => (row.dataset.run === run ? k + 1 : 0)) : [];
    return rows.filter((row) => row && !size.ticked.has(row));
  }

  // --- keeping ------------------------------------------------------------------------------

  function keep() {
    device.write("place:" + size.key, { place: placeOf(size), rows: size.rowsSum, undo: size.undo });
    setAddress();
    showKept();
  }

  function setAddress() {
    try {
      history.replaceState(null, "", "#" + lineOf(size));
    } catch {
      // An address that may not be changed: the line to copy is still there.
    }
  }

  /** Fetches what the device has for a size. True if it had something. */
  function fetchKept(one) {
    const kept = device.read("place:" + one.key);
    const place = kept && readPlace(kept.place, one);
    if (place) {
      Object.assign(one, place);
      const undo = Array.isArray(kept.undo) ? kept.undo : [];
      one.undo = undo.filter((text) => readPlace(text, one)).slice(-UNDO_KEPT);
      if (kept.rows !== one.rowsSum) tell(WORDS.changedSince);
    } else if (kept) tell(WORDS.doesNotFit);
    return Boolean(place);
  }

  /** Every change goes through here, so that each can be undone. */
  function change(at, ticked) {
    size.undo = [...size.undo, placeOf(size)].slice(-UNDO_KEPT);
    size.at = at;
    size.ticked = ticked;
    keep();
    show();
  }

  function undo() {
    const last = size.undo.pop();
    const place = last === undefined ? null : readPlace(last, size);
    if (!place) return say("There is nothing to undo.");
    Object.assign(size, place);
    keep();
    return show("Undone. ");
  }

  // --- showing ------------------------------------------------------------------------------

  const say = (text) => {
    byId("say").textContent = text;
  };

  function tell(text, choices = []) {
    byId("message").hidden = false;
    byId("message_words").textContent = text;
    const close = { name: choices.length ? "Stay here" : "Close", act() {} };
    const buttons = [...choices, close].map(({ name, act }) =>
      button(name, () => {
        byId("message").hidden = true;
        act();
        (size ? byId("card") : byId("choose")).focus();
      }),
    );
    byId("message_choices").replaceChildren(...buttons);
    say(text);
  }

  function button(text, act, className = "") {
    const made = document.createElement("button");
    made.type = "button";
    made.className = className;
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  /** The words of a part of a row in the list, put into the card as they stand there. */
  function put(name, row, what) {
    const from = row?.querySelector(what);
    byId(name).hidden = !from || !from.textContent.trim();
    byId(name).replaceChildren(...(from ? [...from.childNodes].map((node) => node.cloneNode(true)) : []));
  }

  function show(before = "") {
    const { rows, ticked, at } = size;
    const row = rows[at - 1];
    const count = rows.length;
    byId("part").textContent = row ? (partOf(at)?.name ?? "") : "";
    const time = row ? textOf(row, ".time") : "";
    byId("time").textContent = time;
    put("row", row, ".go");
    if (row) {
      const side = row.querySelector(".side");
      if (side) byId("row").append(" ", side.cloneNode(true));
    } else {
      byId("row").hidden = false;
      byId("row").textContent = "All rows are ticked";
    }
    put("words", row, ".words");
    if (!row) {
      byId("words").hidden = false;
      byId("words").textContent = "The pattern sheet says what comes after the last row.";
    }
    put("after", row, ".after");
    put("look", row, ".look");
    put("note", row, ".note");

    const run = openRun(at);
    byId("run").hidden = run.length < 2;
    byId("tick_run").textContent = run.length === 2 ? "Tick both of these rows" : `Tick all ${run.length} of these rows`;
    const open = row ? rows.slice(0, at - 1).filter((_, k) => !ticked.has(k + 1)).length : 0;
    byId("behind").hidden = !open;
    byId("behind_words").textContent =
      open === 1 ? "One row before this one is not ticked." : `${open} rows before this one are not ticked.`;
    byId("ticked").hidden = !row || !ticked.has(at);
    byId("done_words").textContent = !row ? "Finished" : ticked.has(at) ? "Go on" : "Done";
    byId("done").setAttribute("aria-disabled", String(!row));
    byId("undo").setAttribute("aria-disabled", String(!size.undo.length));
    byId("back").setAttribute("aria-disabled", String(at <= 1));
    byId("on").setAttribute("aria-disabled", String(at >= count));
    byId("progress").max = count;
    byId("progress").value = ticked.size;
    byId("progress_words").textContent = told(size);
    markList();
    if (byId("elsewhere").open) showParts();
    help.show();
    player.show();
    byId("line").value = `${named(size)}: ${row ? `step ${at} of ${count}` : "all ticked"}. ${lineOf(size)}`;
    const card = byId("card");
    if (card.getBoundingClientRect().top < 0) card.scrollIntoView({ block: "start" });
    say(before + (row ? heard(row, at, time) : `All ${count} rows are ticked.`));
  }

  /** Marks in the list what is ticked and which row is shown; touches only what has changed. */
  function markList() {
    const { rows, ticked, at, marked } = size;
    const mark = (row, on) => {
      rows[row - 1].classList.toggle("ticked", on);
      rows[row - 1].querySelector(".mark").hidden = !on;
    };
    for (const row of marked.ticked) if (!ticked.has(row)) mark(row, false);
    for (const row of ticked) if (!marked.ticked.has(row)) mark(row, true);
    rows[marked.at - 1]?.removeAttribute("aria-current");
    rows[at - 1]?.setAttribute("aria-current", "step");
    size.marked = { ticked, at };
  }

  function showParts() {
    byId("parts").replaceChildren(...size.parts.filter((part) => part.name).map(partButton));
  }

  /** Where a place is, in words. */
  function told({ at, ticked }) {
    const count = size.rows.length;
    return at > count ? `${ticked.size} of ${count} ticked` : `Step ${at} of ${count}, ${ticked.size} ticked`;
  }

  function partButton(part) {
    const item = document.createElement("li");
    const count = part.last - part.first + 1;
    let done = 0;
    let open = 0;
    for (let row = part.first; row <= part.last; row += 1) {
      if (size.ticked.has(row)) done += 1;
      else if (!open) open = row;
    }
    const made = button("", () => go(open || part.first));
    const name = document.createElement("bdi");
    name.textContent = part.name;
    const ticks = document.createElement("span");
    ticks.textContent = ` ${done} of ${count} ticked`;
    made.append(name, ticks);
    item.append(made);
    return item;
  }

  /** A row as it is read aloud: which, which side, what to do, what to have. */
  function heard(row, at, time) {
    const words = textOf(row, root.dataset.words === "full" ? ".full" : ".short");
    const pieces = [
      textOf(row, ".label"),
      textOf(row, ".side .unseen"),
      time,
      words,
      textOf(row, ".after"),
      textOf(row, ".look"),
      textOf(row, ".note"),
      `Step ${at}`,
    ];
    return pieces.filter(Boolean).map((piece) => piece.replace(/[.\s]+$/, "")).join(". ") + ".";
  }

  function showKept() {
    byId("kept").textContent = storing ? WORDS.kept : WORDS.notKept;
    byId("keep").classList.toggle("lost", !storing);
    if (!storing && !byId("keep").dataset.told) {
      byId("keep").dataset.told = "yes";
      byId("keep").open = true;
      tell(byId("kept").textContent);
    }
  }

  // --- moving -------------------------------------------------------------------------------

  /** Shows a row; nothing is ticked. */
  function go(at) {
    change(at, size.ticked);
    byId("card").focus();
    byId("card").scrollIntoView({ block: "start" });
  }

  function look(by) {
    const at = size.at + by;
    if (at >= 1 && at <= size.rows.length) change(at, size.ticked);
  }

  /** Ticks this row, or all that are left of those its line asks for, and goes on to the next. */
  function done(rows = [size.at]) {
    if (size.at > size.rows.length) return;
    const ticked = new Set([...size.ticked, ...rows]);
    change(nextOpen(size.at, ticked), ticked);
  }

  function choose(one, { had = fetchKept(one) } = {}) {
    size = one;
    device.write("size:" + main.dataset.pattern, one.key);
    for (const other of sizes) other.list.hidden = other !== one;
    byId("choose").hidden = true;
    byId("card").hidden = false;
    byId("more").hidden = false;
    byId("help").hidden = false;
    byId("all").hidden = false;
    byId("size_name").textContent = one.name;
    byId("size_line").hidden = !one.name;
    byId("change").hidden = sizes.length < 2;
    byId("last").textContent = String(one.rows.length);
    setAddress();
    showKept();
    const table = (of) => one.list.querySelector(`script[data-of='${of}']`)?.textContent;
    help.choose(table("help"));
    player.choose(table("played"));
    show();
    return had;
  }

  function ask() {
    size = null;
    byId("size_line").hidden = true;
    byId("card").hidden = true;
    byId("more").hidden = true;
    byId("help").hidden = true;
    byId("all").hidden = true;
    byId("choose").hidden = false;
    for (const one of sizes) one.list.hidden = false; // on paper, all of them
    byId("sizes").replaceChildren(
      ...sizes.map((one) => {
        const item = document.createElement("li");
        item.append(button(one.name, () => (choose(one), byId("card").focus())));
        return item;
      }),
    );
  }

  /** Goes to the place of a pasted line or of an address that was typed. The place that was there can be had back. */
  function goTo({ size: one, place, changed }) {
    if (size !== one) choose(one);
    change(place.at, place.ticked);
    if (changed) tell(WORDS.otherVersion);
  }

  // --- lost ---------------------------------------------------------------------------------

  const lent = {
    byId,
    button,
    say,
    go,
    at: () => size.at,
    /** What is said of a row by its step; null past the last. */
    row(step) {
      const row = size.rows[step - 1];
      if (!row) return null;
      const after = Number(row.querySelector(".after strong")?.textContent ?? 0);
      return { label: textOf(row, ".label"), part: partOf(step)?.name ?? "", time: textOf(row, ".time"), after };
    },
  };
  const help = helpFor(lent);
  const player = playerFor(lent);

  // --- how it looks -------------------------------------------------------------------------

  const looks = { full: false, large: false, paper: "", ...device.read("looks") };

  function dress() {
    root.dataset.words = looks.full ? "full" : "short";
    root.dataset.type = looks.large ? "large" : "plain";
    if (looks.paper === "light" || looks.paper === "dark") root.dataset.paper = looks.paper;
    else delete root.dataset.paper;
  }

  function fitLooks() {
    byId("full").checked = Boolean(looks.full);
    byId("large").checked = Boolean(looks.large);
    for (const choice of document.querySelectorAll("input[name=paper]")) {
      choice.checked = choice.value === (looks.paper || "");
    }
    byId("looks").addEventListener("change", () => {
      looks.full = byId("full").checked;
      looks.large = byId("large").checked;
      looks.paper = document.querySelector("input[name=paper]:checked")?.value ?? "";
      device.write("looks", looks);
      dress();
    });
    dress();
  }

  let awake = null;
  async function stayAwake() {
    try {
      if (byId("wake").checked && !awake && document.visibilityState === "visible") {
        awake = await navigator.wakeLock.request("screen");
        awake.addEventListener("release", () => {
          awake = null;
        });
      } else if (!byId("wake").checked && awake) await awake.release();
    } catch {
      byId("wake").checked = false;
      say("This device does not let the page keep the screen on.");
    }
  }

  // --- hands --------------------------------------------------------------------------------

  function onKey(event) {
    if (!size || event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    const onCard = byId("card").contains(event.target);
    if (!onCard && event.target !== document.body) return;
    const pressing = event.target.closest("button, a, input");
    const act = {
      ArrowRight: () => look(1),
      ArrowLeft: () => look(-1),
      Enter: pressing ? null : () => done(),
      " ": pressing || !onCard ? null : () => done(),
      Backspace: onCard ? undo : null,
    }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }

  function listen() {
    document.addEventListener("keydown", onKey);
    byId("done").addEventListener("click", () => done());
    byId("tick_run").addEventListener("click", () => {
      done(openRun(size.at));
      byId("card").focus();
    });
    byId("undo").addEventListener("click", undo);
    byId("back").addEventListener("click", () => look(-1));
    byId("on").addEventListener("click", () => look(1));
    byId("change").addEventListener("click", () => (ask(), byId("choose").focus()));
    byId("skip").addEventListener("click", (event) => {
      event.preventDefault();
      (size ? byId("card") : byId("choose")).focus();
    });
    byId("tick_behind").addEventListener("click", () => {
      const ticked = new Set(size.ticked);
      for (let row = 1; row < size.at; row += 1) ticked.add(row);
      change(size.at, ticked);
      byId("card").focus();
    });
    byId("first_open").addEventListener("click", () => go(nextOpen(1)));
    byId("again").addEventListener("click", () => {
      change(size.at, new Set([...size.ticked].filter((row) => row < size.at)));
      byId("card").focus();
    });
    byId("elsewhere").addEventListener("toggle", () => size && showParts());
    byId("goto").addEventListener("submit", (event) => {
      event.preventDefault();
      const text = byId("number").value.trim();
      const at = /^\d+$/.test(text) ? Number(text) : 0;
      const wrong = at < 1 || at > size.rows.length;
      byId("goto_wrong").textContent = wrong ? `Type a number from 1 to ${size.rows.length}.` : "";
      byId("number").setAttribute("aria-invalid", String(wrong));
      if (!wrong) go(at);
    });
    byId("all").addEventListener("click", (event) => {
      const link = event.target.closest("a.go");
      if (!link) return;
      event.preventDefault();
      go(size.rows.indexOf(link.closest("li")) + 1);
    });
    byId("copy").addEventListener("click", async () => {
      byId("line").select();
      try {
        await navigator.clipboard.writeText(byId("line").value);
        say("Copied.");
        byId("copy").textContent = "Copied";
      } catch {
        byId("line").focus();
        say("The line is chosen. Copy it with the menu or the keys of your device.");
      }
    });
    byId("paste").addEventListener("submit", (event) => {
      event.preventDefault();
      const line = readLine(byId("pasted").value);
      byId("paste_wrong").textContent = line.wrong ? `${line.wrong} Your place is as it was.` : "";
      byId("pasted").setAttribute("aria-invalid", String(Boolean(line.wrong)));
      if (line.wrong) return;
      byId("pasted").value = "";
      goTo(line);
      byId("card").focus();
    });
    byId("wake").addEventListener("change", stayAwake);
    document.addEventListener("visibilitychange", stayAwake);
    window.addEventListener("hashchange", () => {
      if (!location.hash.includes("place=") || (size && location.hash === "#" + lineOf(size))) return;
      const line = readLine(address());
      if (line.wrong) {
        if (size) setAddress();
        tell(`The address was not understood. ${line.wrong} Your place is as it was.`);
      } else goTo(line);
    });
    // Another window of this page: its ticks count here too.
    window.addEventListener("storage", (event) => {
      if (size && event.key === "purlwright:place:" + size.key && fetchKept(size)) {
        setAddress();
        show();
      }
    });
  }

  function address() {
    try {
      return decodeURIComponent(location.hash);
    } catch {
      return location.hash;
    }
  }

  /** Where to begin: the place in the address, else the one on the device, else a question or the first row. */
  function begin() {
    const asked = location.hash.includes("place=") ? readLine(address()) : null;
    const last = device.read("size:" + main.dataset.pattern);
    const one = asked?.size ?? sizes.find((each) => each.key === last) ?? (sizes.length === 1 ? sizes[0] : null);
    if (!one) ask();
    else {
      const had = choose(one);
      if (asked?.place && !had) {
        size.undo = [];
        goTo(asked);
      } else if (asked?.place && `${asked.place.at}.${stretches(asked.place.ticked)}` !== placeOf(size)) {
        const both = `Address: ${told(asked.place)}. Device: ${told(size)}; this one is shown.`;
        tell(`The address has another place than this device. ${both}`, [
          { name: "Go to the one in the address", act: () => goTo(asked) },
        ]);
      }
    }
    if (asked?.wrong) tell(`The place in the address was not understood. ${asked.wrong}`);
  }

  fitLooks();
  listen();
  begin();
  // Only now, when all went well: else the list stays as it is, open and readable.
  root.classList.add("alive");
  byId("app").hidden = false;
  byId("paper").hidden = false;
  byId("all").open = false;
  byId("wake_line").hidden = !("wakeLock" in navigator);
})();
