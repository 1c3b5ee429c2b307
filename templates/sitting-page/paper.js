// What a printer gets, at any moment: everything entered so far, task by task. Made anew before each printing.
function buildPaper() {
  const paper = byId("paper");
  if (!sheet.isOpen) {
    paper.replaceChildren(el("h1", {}, protocol.title), el("p", {}, "No sitting is open."));
    return;
  }
  const record = recordOf();
  paper.replaceChildren(
    said("h1", protocol.title),
    el("p", {}, `Edition ${protocol.edition}, case ${record.case ?? "without a code"}, ${record["age-months"] === undefined ? "age not entered" : `age ${ageWords(record["age-months"])}`}, seen ${record.parts.map((p) => p.seen).join(", ")}, ${record.form} form. Sitting ${sheet.head.code}, form ${protocol.fingerprints.form}. Printed ${today()} ${timeOfDay(Date.now())}.`),
    el("p", {}, "No name on this page. A screen makes no diagnosis."),
    ...(screens.current === "result" ? [byId("screen").cloneNode(true)].map(withoutIds) : paperTasks()),
    ...paperEvents(),
  );
}

function withoutIds(node) {
  node.removeAttribute("id");
  node.querySelectorAll("[id]").forEach((n) => n.removeAttribute("id"));
  node.querySelectorAll("button").forEach((n) => n.remove());
  return node;
}

function paperTasks() {
  return tasksOfForm().map((task) => {
    const rows = slotsOfTask.get(task.name)
      .filter((s) => sheet.get(`answers.${s.key}`) !== null || needOf(s) === "due")
      .map((s) => el("tr", {}, said("td", slotWords(s)), said("td", shownAnswer(s))));
    const signs = task.variants.flatMap((v) => task.ticks.map((t) => [t, v, sheet.get(`observations.${observationKey(task, t, v)}`)])).filter(([, , value]) => value !== null);
    const helps = task.variants.map((v) => [v, sheet.get(`help.${partKey(task, v)}`)]).filter(([, value]) => value !== null);
    const note = sheet.get(`notes.${task.name}`);
    return el("section.paper-task", {},
      el("h2", {}, `${task.number} `, said("span", task.title)),
      rows.length > 0 ? el("table", {}, el("tbody", {}, rows)) : null,
      helps.map(([v, value]) => said("p", `Help used${v.label ? `, ${v.label}` : ""}: ${value}`)),
      signs.map(([t, v, value]) => said("p", `${value === "seen" ? words.seen : words.looked}: ${t.text}${v.label ? `, ${v.label}` : ""}`)),
      note ? said("p", `${task.note ?? words.note}: ${note}`) : null);
  });
}

function slotWords(slot) {
  return [slot.variant.label, slot.task.trials > 1 ? `${words.trial} ${slot.trial}` : "", slot.response.label].filter(Boolean).join(", ") || words.answer;
}

function shownAnswer(slot) {
  const value = sheet.get(`answers.${slot.key}`);
  if (value === null) {
    return "…";
  }
  if (codeWords.has(value)) {
    return codeWords.get(value);
  }
  if (isNumber(slot.response)) {
    return slot.response.unit ? `${value} ${slot.response.unit}` : value;
  }
  const choice = choicesOf(slot.response).find((c) => c.value === value);
  return choice === undefined ? value : choice.mark === null ? choice.text : `${choice.mark}  ${choice.text}`;
}

function paperEvents() {
  const events = eventsOf();
  return events.length === 0 ? [] : [el("section", {}, el("h2", {}, "Events"), events.map((e) => said("p", Object.entries(e).map(([key, value]) => `${key}: ${value}`).join("; "))))];
}
