// A filled paper sheet is entered twice, the second time without sight of the first; then the differences are settled.
function secondScreen() {
  screens.show("second", () => [
    heading(words.second),
    el("p", {}, "Enter a paper sheet once under Tasks. Then let it be entered a second time here, by somebody else where possible; the first entry stays out of sight. What differs is listed below and settled from the paper."),
    el("div.actions", {},
      button(valuesUnder("second.answers").length > 0 ? "Go on with the second entry" : "Begin the second entry", beginSecond, { kind: "primary" }),
      button("Back to the tasks", giveScreen)),
    differenceSection(),
  ]);
}

function beginSecond() {
  prefix = "second.";
  giving.task = 0;
  giveScreen();
}

function endSecond() {
  prefix = "";
  secondScreen();
}

// Keys where the two entries differ; one that the second entry lacks is a difference too.
function differences() {
  return ["answers", "observations", "help"].flatMap((kind) => {
    const first = new Map(valuesUnder(kind));
    const second = new Map(valuesUnder(`second.${kind}`));
    return [...new Set([...first.keys(), ...second.keys()])]
      .filter((key) => (first.get(key) ?? null) !== (second.get(key) ?? null))
      .map((key) => ({ kind, key, first: first.get(key) ?? null, second: second.get(key) ?? null }));
  });
}

function differenceSection() {
  const section = el("section", { "aria-labelledby": "differences-title" });
  const show = () => {
    const found = valuesUnder("second.answers").length === 0 ? [] : differences();
    section.replaceChildren(
      el("h2", { id: "differences-title" }, "Differences"),
      el("p", { role: "status" }, valuesUnder("second.answers").length === 0 ? "There is no second entry yet." : found.length === 0 ? "Both entries agree." : `${found.length} to settle.`),
      el("ul.differences", {}, found.map((d) => differenceItem(d, show))));
  };
  show();
  return section;
}

function differenceItem({ kind, key, first, second }, show) {
  const settle = (value) => {
    sheet.setAll([[`${kind}.${key}`, value], [`second.${kind}.${key}`, value]]);
    show();
  };
  const take = (label, value) => button(`${label}: ${wordsOfValue(value)}`, () => settle(value), { "aria-label": `${label}: ${wordsOfValue(value)}, for ${wordsOfPath(`${kind}.${key}`)}` });
  return el("li", { "data-difference": key }, said("span", wordsOfPath(`${kind}.${key}`)), take("First", first), take("Second", second));
}
