// Stitch by stitch: the row that is shown, played on two needles, from the table of its size.
//
// In: what follow.js lends. The table has each sentence once ("words"), each stitch once ("stitches": its sentence, what it
// takes and makes, where the yarn lies), each different row once ("rows": its loops, how many lie on the other needle, the
// sentence after it, and its stitches, each with how many times), and for each step of the size which of the rows it is, or
// -1 ("of"). Loops are told by how many and a letter: "12V3b".
const playerFor = (page) => {
  const { byId } = page;
  const LOOKS = { V: "V", b: "bump", o: "over", n: "" };
  const YARN = ["back", "front", "over"];
  const find = (name) => byId("play_" + name);
  let table = null;
  let player = null;

  function loops(text) {
    const out = [];
    for (const [, many, look] of text.matchAll(/(\d*)([Vbon])/g)) {
      for (let n = 0; n < Number(many || 1); n += 1) out.push(LOOKS[look]);
    }
    return out;
  }

  function row(number) {
    const [left, behind, after, line] = table.rows[number];
    const beats = [];
    for (let k = 0; k < line.length; k += 2) {
      const [words, takes, makes, yarn] = table.stitches[line[k]];
      const beat = { words: table.words[words], takes, makes: loops(makes), yarn: YARN[yarn] };
      for (let n = 0; n < line[k + 1]; n += 1) beats.push(beat);
    }
    return { left: loops(left), behind, after: table.words[after], beats };
  }

  function show() {
    if (!table) return;
    const number = table.of[page.at() - 1] ?? -1;
    find("stage").hidden = number < 0;
    find("none").hidden = number >= 0;
    find("row").textContent = page.row(page.at()) ? page.row(page.at()).label : "";
    player.stop();
    if (number >= 0 && byId("play").open) player.load(row(number));
  }

  byId("play").addEventListener("toggle", show);
  find("stage").addEventListener("keydown", (event) => {
    if (player.key(event)) event.stopPropagation(); // the same keys look at other rows elsewhere
  });

  return {
    /** Another size is shown. */
    choose(data) {
      table = data ? JSON.parse(data) : null;
      byId("play").hidden = !table;
      player ??= needlePlayer(find, table ? table.hands : undefined);
    },
    show,
  };
};
