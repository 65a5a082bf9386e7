"use strict";
// Two needles, and a row played on them stitch by stitch: which loops leave the left one, which come onto the right one.
//
// In: `find`, which gives the elements of a stage by their names, and later a row: {left, behind, beats, after}, each beat
// {words, takes, makes, yarn}. A page for the left hand lends the words for its needles, and is drawn mirrored. Nothing
// is fetched, and no markup is ever made from words.
const needlePlayer = (find, hands = { near: "left", far: "right" }) => {
  const svg = find("needles").querySelector("svg");
  const narrow = window.matchMedia("(max-width: 36em)").matches; // fewer loops, so that they can be seen
  const SHOWN = narrow ? 6 : 11;
  const WIDE = narrow ? 460 : 720;
  const HIGH = 230;
  const MIDDLE = WIDE / 2;
  const NEEDLE = 96;
  const APART = 26;
  const QUICK_MS = 900;
  const SLOW_MS = 2400;
  let row = null;
  let done = 0;
  let clock = 0;
  let since = 0;
  svg.setAttribute("viewBox", `0 0 ${WIDE} ${HIGH}`);
  svg.classList.toggle("mirrored", hands.near === "right");

  /** The needles after so many stitches: what is on them, and the last stitch. */
  function needles() {
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
    const made = document.createElementNS(svg.namespaceURI, name);
    for (const [key, value] of Object.entries(values)) made.setAttribute(key, String(value));
    parent.append(made);
    return made;
  }

  function loop(x, look, kind, parent) {
    const y = NEEDLE;
    const up = `C${x - 9} ${y + 22} ${x - 12} ${y - 16} ${x} ${y - 16}`;
    const down = `C${x + 12} ${y - 16} ${x + 9} ${y + 22} ${x + 9} ${y + 46}`;
    const sign = (d) => shape("path", { class: "sign", d }, parent);
    shape("path", { class: kind, d: `M${x - 9} ${y + 46}${up}${down}` }, parent);
    if (look === "V") sign(`M${x - 8} ${y + 56}L${x} ${y + 72}L${x + 8} ${y + 56}`);
    if (look === "bump") sign(`M${x - 9} ${y + 66}Q${x} ${y + 50} ${x + 9} ${y + 66}`);
    if (look === "over") shape("circle", { class: "sign", cx: x, cy: y + 63, r: 7 }, parent);
  }

  function draw() {
    const { left, right, last } = needles();
    svg.replaceChildren();
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
    const loops = (n) => `${n} ${n === 1 ? "loop" : "loops"}`;
    find("needles").setAttribute(
      "aria-label",
      `${loops(left.length)} on the ${hands.near} needle, ${loops(right.length)} on the ${hands.far} needle`,
    );
    const yarn = !last ? "" : last.yarn === "back" ? ", yarn at the back" : ", yarn in front";
    const lie = `${left.length} on the ${hands.near} needle, ${right.length} on the ${hands.far} needle`;
    find("counts").textContent = lie + yarn;
    find("step").textContent = last
      ? `${done} of ${row.beats.length}. ${last.words}${done === row.beats.length ? ` ${row.after}` : ""}`
      : `Before the row: ${loops(left.length)} on the ${hands.near} needle.`;
  }

  // --- playing -------------------------------------------------------------------------------

  function show(number) {
    if (!row) return;
    done = Math.max(0, Math.min(row.beats.length, number));
    draw();
  }

  function stop() {
    cancelAnimationFrame(clock);
    clock = since = 0;
    find("play").textContent = "Play";
  }

  function tick(now) {
    since ||= now;
    clock = requestAnimationFrame(tick);
    if (now - since < (find("slow").checked ? SLOW_MS : QUICK_MS)) return;
    since = now;
    if (done < row.beats.length) show(done + 1);
    else if (find("loop").checked) show(0);
    else stop();
  }

  function play() {
    if (clock) {
      stop();
      return;
    }
    if (done === row.beats.length) show(0);
    find("play").textContent = "Stop";
    clock = requestAnimationFrame(tick);
  }

  function move(by) {
    stop();
    show(done + by);
  }

  find("play").addEventListener("click", play);
  find("one_on").addEventListener("click", () => move(1));
  find("one_back").addEventListener("click", () => move(-1));
  find("first").addEventListener("click", () => move(-done));

  return {
    /** Another row is to be played; it stands at its beginning. */
    load(next) {
      stop();
      row = next;
      show(0);
    },
    stop,
    /** A key on the stage: true if it was one of ours. */
    key(event) {
      if (!row || event.altKey || event.ctrlKey || event.metaKey) return false;
      const by = { ArrowRight: 1, ArrowLeft: -1, Home: -done }[event.key];
      if (by === undefined) return false;
      event.preventDefault();
      move(by);
      return true;
    },
  };
};
