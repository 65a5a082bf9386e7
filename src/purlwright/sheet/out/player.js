// The player of the lesson page: reads each row's list, and lends it to the needles.
(() => {
  const byId = (name) => document.getElementById("_" + name);
  const stage = byId("stage");
  const which = byId("which");
  const looks = (words) => (words ? words.split(" ").map((look) => (look === "-" ? "" : look)) : []);

  const rows = [...document.querySelectorAll(".played")].map((element) => {
    const beats = [];
    for (const line of element.querySelectorAll("li")) {
      const beat = {
        words: line.dataset.words,
        takes: Number(line.dataset.takes),
        makes: looks(line.dataset.makes),
        yarn: line.dataset.yarn,
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

  const player = needlePlayer(byId);
  rows.forEach((row, n) => {
    const option = document.createElement("option");
    option.value = String(n);
    option.textContent = row.name;
    which.append(option);
  });
  which.addEventListener("change", () => player.load(rows[Number(which.value)]));
  stage.addEventListener("keydown", (event) => {
    if (event.target !== which) player.key(event);
  });
  if (rows.length) {
    stage.hidden = false;
    player.load(rows[0]);
  }
})();
