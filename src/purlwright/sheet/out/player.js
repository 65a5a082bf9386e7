"use strict";
// The player of the lesson page: reads a row's list and shows, stitch by stitch, which loops leave the left needle and
// which come onto the right one. Nothing is fetched, and no markup is ever made from words.
(() => {
  const byId = (name) => document.getElementById("_" + name);
  const stage = byId("stage");
  const which = byId("which");
  const NS = "http://www.w3.org/2000/svg";
  const SHOWN = 11;
  const WIDE = 720;
  const HIGH = 230;
  const MIDDLE = WIDE / 2;
  const NEEDLE = 96;
  const APART = 26;
  const QUICK_MS = 900;
  const SLOW_MS = 2400;

  // --- the rows ------------------------------------------------------------------------------

  const looks = (words) => (words ? words.split(" ").map((look) => (look === "-" ? "" : look)) : []);

  const rows = [...document.querySelectorAll(".played")].map((element) => {
    const beats = [];
    for (const line of element.querySelectorAll("li")) {
      const beat = {
        words: line.dataset.words,
        takes: Number(line.dataset.takes),
        makes: looks(line.dataset.makes),
        yarn: line.dataset.yarn,
        does: line.dataset.does,
      };
      for (let n = 0; n < Number(line.dataset.times); n += 1) beats.push(beat);
    }
    return {
      name: element.dataset.name,
      after: element.dataset.after,
      left: looks(element.dataset.left),
      behind: Number(element.dataset.behind),
      beats,
    };
  });

  /** The needles after so many stitches: what is on them, and the last stitch. */
  function needles(row, done) {
    const left = [...row.left];
    const right = Array.from({ length: row.behind }, () => ({ look: "", fresh: false }));
    let last = null;
    for (let n = 0; n < done; n += 1) {
      last = row.beats[n];
      left.splice(0, last.takes);
      for (const loop of right) loop.fresh = false;
      for (const look of last.makes) right.push({ look, fresh: n === done - 1 });
    }
    return { left, right, last };
  }

  // --- drawing -------------------------------------------------------------------------------

  function shape(name, values, parent) {
    const made = document.createElementNS(NS, name);
    for (const [key, value] of Object.entries(values)) made.setAttribute(key, String(value));
    parent.append(made);
    return made;
  }

  function loop(x, look, kind, parent) {
    const y = NEEDLE;
    shape("path", { class: kind, d: `M${x - 9} ${y + 46}C${x - 9} ${y + 22} ${x - 12} ${y - 16} ${x} ${y - 16}C${x + 12} ${y - 16} ${x + 9} ${y + 22} ${x + 9} ${y + 46}` }, parent);
    if (look === "V") shape("path", { class: "sign", d: `M${x - 8} ${y + 56}L${x} ${y + 72}L${x + 8} ${y + 56}` }, parent);
    if (look === "bump") shape("path", { class: "sign", d: `M${x - 9} ${y + 66}Q${x} ${y + 50} ${x + 9} ${y + 66}` }, parent);
    if (look === "over") shape("circle", { class: "sign", cx: x, cy: y + 63, r: 7 }, parent);
  }

  function draw(row, done) {
    const { left, right, last } = needles(row, done);
    const svg = document.createElementNS(NS, "svg");
    svg.setAttribute("viewBox", `0 0 ${WIDE} ${HIGH}`);
    svg.setAttribute("aria-hidden", "true");
    svg.setAttribute("focusable", "false");
    shape("line", { class: "needle", x1: 8, y1: NEEDLE, x2: MIDDLE - 22, y2: NEEDLE }, svg);
    shape("line", { class: "needle", x1: MIDDLE + 22, y1: NEEDLE, x2: WIDE - 8, y2: NEEDLE }, svg);
    left.slice(0, SHOWN).forEach((look, n) => loop(MIDDLE - 44 - n * APART, look, n ? "loop" : "loop next", svg));
    const shown = right.slice(-SHOWN).reverse();
    shown.forEach((one, n) => loop(MIDDLE + 44 + n * APART, one.look, one.fresh ? "loop new" : "loop", svg));
    if (shown.length) {
      const front = last ? last.yarn !== "back" : false;
      const x = MIDDLE + 44;
      const path = front
        ? `M${x - 9} ${NEEDLE + 46}C${x - 34} ${NEEDLE + 80} ${x - 40} ${NEEDLE + 100} ${x - 60} ${HIGH - 34}`
        : `M${x - 9} ${NEEDLE + 46}C${x - 50} ${NEEDLE - 20} ${x - 30} 50 ${x - 70} 22`;
      shape("path", { class: front ? "yarn" : "yarn back", d: path }, svg);
    }
    byId("needles").replaceChildren(svg);
    byId("needles").setAttribute("aria-label", `${left.length} loops on the left needle, ${right.length} on the right needle`);
    const yarn = !last ? "" : last.yarn === "back" ? ", yarn at the back" : ", yarn in front";
    byId("counts").textContent = `${left.length} on the left needle, ${right.length} on the right needle${yarn}`;
    byId("step").textContent = last
      ? `${done} of ${row.beats.length}. ${last.words}${done === row.beats.length ? ` ${row.after}` : ""}`
      : `Before the row: ${left.length} loops on the left needle.`;
  }

  // --- playing -------------------------------------------------------------------------------

  let at = 0;
  let done = 0;
  let timer = 0;

  function show(number) {
    const row = rows[at];
    done = Math.max(0, Math.min(row.beats.length, number));
    draw(row, done);
  }

  function stop() {
    clearTimeout(timer);
    timer = 0;
    byId("play").textContent = "Play";
  }

  function tick() {
    const row = rows[at];
    if (done < row.beats.length) show(done + 1);
    else if (byId("loop").checked) show(0);
    else {
      stop();
      return;
    }
    timer = setTimeout(tick, byId("slow").checked ? SLOW_MS : QUICK_MS);
  }

  function play() {
    if (timer) {
      stop();
      return;
    }
    if (done === rows[at].beats.length) show(0);
    byId("play").textContent = "Stop";
    timer = setTimeout(tick, 60);
  }

  function move(by) {
    stop();
    show(done + by);
  }

  rows.forEach((row, n) => {
    const option = document.createElement("option");
    option.value = String(n);
    option.textContent = row.name;
    which.append(option);
  });
  which.addEventListener("change", () => {
    stop();
    at = Number(which.value);
    show(0);
  });
  byId("play").addEventListener("click", play);
  byId("one_on").addEventListener("click", () => move(1));
  byId("one_back").addEventListener("click", () => move(-1));
  byId("first").addEventListener("click", () => move(-done));
  stage.addEventListener("keydown", (event) => {
    if (event.target === which || event.altKey || event.ctrlKey || event.metaKey) return;
    const by = { ArrowRight: 1, ArrowLeft: -1, Home: -done }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    move(by);
  });
  if (rows.length) {
    stage.hidden = false;
    show(0);
  }
})();
