// The log: everything that was entered, undone and redone, in the order in which it happened.
function logScreen() {
  const most = 500;
  const entries = sheet.log.entries.toReversed();
  screens.show("log", () => [
    heading(words.log),
    el("p", {}, "The newest first. Nothing is ever taken out; what was undone stays here too."),
    el("ol.log", { reversed: true, start: String(entries.length) }, entries.slice(0, most).map((entry) => el("li", {}, el("time", {}, timeOfDay(entry.at)), " ", said("span", wordsOfEntry(entry))))),
    entries.length > most ? el("p.hint", {}, `${entries.length - most} earlier entries are not shown.`) : null,
    el("div.actions", {}, button("Back to the tasks", giveScreen)),
  ]);
}

function wordsOfEntry(entry) {
  switch (entry.kind) {
    case "change":
      return wordsOfSets(entry.sets);
    case "undo":
      return `undone: ${wordsOfNumbers(entry.of)}`;
    case "redo":
      return `redone: ${wordsOfNumbers(entry.of)}`;
    case "gap":
      return `nothing was entered from ${timeOfDay(entry.from)} to ${timeOfDay(entry.to)}: the page was closed`;
    case "import":
      return "taken in from a record file";
    default:
      return entry.kind;
  }
}

function wordsOfNumbers(numbers) {
  return wordsOfSets(numbers.flatMap((n) => sheet.log.entries[n].sets).slice(-1));
}

function wordsOfSets(sets) {
  const [first] = sets;
  const more = sets.length > 1 ? ` and ${sets.length - 1} more` : "";
  return `${wordsOfPath(first.path)}: ${wordsOfValue(first.from)} → ${wordsOfValue(first.to)}${more}`;
}

function wordsOfPath(path) {
  const [kind, ...rest] = path.split(".");
  if (kind === "second") {
    return `second entry, ${wordsOfPath(rest.join("."))}`;
  }
  const task = taskOf.get(rest[0]);
  return task === undefined ? path : `${task.title}, ${[kind === "answers" ? "" : kind, ...rest.slice(1)].filter((t) => t !== "").join(" ")}`;
}

function wordsOfValue(value) {
  if (value === null || value === undefined) {
    return "nothing";
  }
  return typeof value === "string" ? codeWords.get(value) ?? value : Array.isArray(value) ? `${value.length}` : "set";
}
