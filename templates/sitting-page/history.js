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
    case "begin":
      return entry.isImport ? "begun from a record file" : "begun";
    default:
      return entry.kind;
  }
}

function wordsOfNumbers(numbers) {
  return wordsOfSets(numbers.flatMap((n) => sheet.log.entries[n].sets).slice(-1));
}

function wordsOfSets(sets) {
  const rest = sets.filter((s) => !asides.has(s.path.replace(/^second\./, "").split(".")[0]));
  const [first] = rest.length > 0 ? rest : sets;
  if (sets.some((s) => s.path === "stop" && s.to !== null && s.from === null)) {
    return `stopped for welfare at ${taskOf.get(sets.find((s) => s.path === "stop").to.task)?.title}`;
  }
  const more = rest.length > 1 ? ` and ${rest.length - 1} more` : "";
  return `${wordsOfPath(first.path)}: ${wordsOfValue(first.from)} → ${wordsOfValue(first.to)}${more}`;
}

// What only stands beside an answer.
const asides = new Set(["taps", "clock", "stop", "bases"]);

const pathWords = { case: "case code", rater: "examiner’s code", parts: "days", form: "form", events: "event", override: "decision", "age-months": "age in months", "times-kept": "seconds of each task" };

const kindWords = { answers: "", clock: "time measured, ", notes: "note", observations: "sign" };

function wordsOfPath(path) {
  const [kind, ...rest] = path.split(".");
  if (kind === "second") {
    return `second entry, ${wordsOfPath(rest.join("."))}`;
  }
  const task = taskOf.get(rest[0]);
  return task === undefined ? (pathWords[path] ?? wordsOfName(kind, rest.join("."))) : `${task.title}, ${[kindWords[kind] ?? kind, ...rest.slice(1)].filter((t) => t !== "").join(" ")}`;
}

function wordsOfValue(value) {
  if (value === null || value === undefined) {
    return "nothing";
  }
  if (typeof value === "string") {
    return codeWords.get(value) ?? value;
  }
  if (Array.isArray(value)) {
    const told = (item) => [item.what, item.seen, item.touched, item.recovered, item.done].filter((t) => t !== undefined && t !== "").join(", ");
    return value.map(told).filter((t) => t !== "").join("; ") || "nothing";
  }
  return value.ms === undefined ? "set" : `${shownTime(value.ms)} s`;
}

function wordsOfName(kind, name) {
  const question = protocol.history.find((q) => q.name === name) ?? protocol.consents.find((c) => c.name === name);
  return question === undefined ? `${kind} ${name}`.trim() : (question.title ?? question.text);
}
