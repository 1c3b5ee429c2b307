// The end: what is still open, the reasons for it, and the record as a file. Nothing has to be filled in.
function endScreen() {
  screens.show("end", () => [
    heading(words.end),
    openSection(),
    missingSection(),
    overrideSection(),
    el("div.actions", {}, button("Back to the tasks", giveScreen), button(words.export, exportScreen), button("Show the scores", resultScreen, { kind: "primary" })),
    el("p.hint", {}, "Scores are for afterwards, without the child in the room."),
  ]);
}

function openSection() {
  const section = el("section", { "aria-labelledby": "open-title" });
  const show = () => {
    const open = openSlots();
    const tasks = [...new Set(open.map((s) => s.task))];
    section.replaceChildren(el("h2", { id: "open-title" }, "Still open"), ...(open.length === 0
      ? [el("p", {}, "Every answer that is needed is there.")]
      : [
          el("p", {}, "An answer left blank is neither zero nor untried. Say why, or leave it for another day."),
          markAll(open, show),
          el("ul.open-tasks", {}, tasks.map((task) => openTask(task, open, show))),
        ]));
  };
  show();
  return section;
}

function markAll(open, show) {
  const select = codeSelect("All of these");
  return el("div.mark-all", {}, field("All of these were", select),
    button("Mark them", () => {
      if (select.value !== "") {
        sheet.setAll(open.map((s) => [`answers.${s.key}`, select.value]));
        show();
        announce(`${open.length} answers marked “${codeWords.get(select.value)}”.`);
      }
    }));
}

function codeSelect(label, act = () => {}) {
  const select = el("select", { "aria-label": label, onchange: () => act(select.value) },
    el("option", { value: "" }, "choose…"),
    protocol.codes.map((c) => el("option", { value: c.code }, `${c.letter} ${c.words}`)));
  return select;
}

function openTask(task, open, show) {
  const own = open.filter((s) => s.task === task);
  const index = tasksOfForm().indexOf(task);
  const mark = codeSelect(`${task.title}: not tried because`, (code) => {
    if (code !== "") {
      sheet.setAll(own.map((s) => [`answers.${s.key}`, code]));
      show();
    }
  });
  return el("li", {},
    el("button.link", { type: "button", onclick: () => { giving.task = index; giveScreen(); } }, said("span", task.title)),
    el("span.hint", {}, own.length === 1 ? " 1 answer " : ` ${own.length} answers `), mark);
}

// What a record needs besides answers.
function missingProblems() {
  const problems = [];
  const age = sheet.get("age-months");
  if (!isCode(sheet.get("case") ?? "")) {
    problems.push("The case code is missing.");
  }
  if (age === null) {
    problems.push("The age is missing.");
  }
  for (const question of protocol.history.filter((q) => q.needed && sheet.get(`history.${q.name}`) === null)) {
    problems.push(`“${question.text}” has no answer: it decides which tasks may be given.`);
  }
  for (const slot of protocol.help.filter((s) => !s.isRung)) {
    const task = taskOf.get(slot.task);
    const part = { name: slot.variant };
    if (sheet.get(`help.${partKey(task, part)}`) !== null && sheet.get(`help.${resultKey(task, { name: slot.response }, part)}`) === null) {
      problems.push(`${task.title}: help was given, but not what came of it.`);
    }
  }
  return problems;
}

function missingSection() {
  const problems = missingProblems();
  return problems.length === 0
    ? null
    : el("section", { "aria-labelledby": "missing-title" }, el("h2", { id: "missing-title" }, "Missing for a whole record"),
        el("ul", {}, problems.map((p) => said("li", p))), button(words.before, beforeScreen));
}

// A clinician may decide otherwise than the rules; the reason and the role stand beside it.
function overrideSection() {
  const value = (key) => sheet.get("override")?.[key] ?? "";
  const take = () => {
    const next = { action: action.value, reason: reason.value.trim(), role: role.value.trim() };
    sheet.setAll([["override", next.action && next.reason && next.role ? next : null]], { joins: sheet.log.lastIs("override") });
  };
  const action = el("select", { onchange: take }, el("option", { value: "" }, "no"), protocol.actions.map((a) => said("option", a.title, { value: a.name, selected: a.name === value("action") })));
  const reason = el("textarea", { rows: 2, maxlength: 2000, oninput: take }, value("reason"));
  const role = el("input", { type: "text", maxlength: 100, value: value("role"), oninput: take });
  return protocol.actions.length === 0 ? null : el("details", {}, el("summary", {}, "Decide otherwise than the rules"),
    field("Action decided on", action), field("Reason", reason, words.noName), field("Role of who decides", role, "Such as speech-language pathologist. All three are needed."));
}

function exportScreen() {
  const wipe = el("input", { type: "checkbox", id: "wipe", checked: true });
  const times = el("input", { type: "checkbox", id: "times-kept", checked: sheet.get("times-kept") !== "no", onchange: () => sheet.set("times-kept", times.checked ? null : "no") });
  const problems = [...missingProblems(), ...(openSlots().length > 0 ? [`${openSlots().length} answers are still open.`] : [])];
  screens.show("export", () => [
    heading(words.export),
    problems.length === 0 ? null : el("div.warning", {}, el("p", {}, "The record can be written now and gone on with later; it can be scored once these are settled:"), el("ul", {}, problems.slice(0, 8).map((p) => said("li", p)))),
    el("p", {}, "The file holds the record: codes, answers, observations, notes. Keep it where your clinic keeps records."),
    el("label.choice", {}, times, el("span.text", {}, "Say how many seconds each task stood open (leave out where answers were copied from paper)")),
    saving.store === null ? null : el("label.choice", {}, wipe, el("span.text", {}, "Wipe this sitting from this device afterwards")),
    el("div.actions", {},
      button("Write the record (YAML)", () => exportRecord("yaml", wipe.checked), { kind: "primary" }),
      button("Write the record (JSON)", () => exportRecord("json", wipe.checked))),
    el("div", { id: "exported", role: "status" }),
  ]);
}

function download(kind) {
  const text = kind === "json" ? recordJson() : recordYaml({ code: sheet.head.code, entries: sheet.log.next });
  const name = `${sheet.get("case") ?? sheet.head.code}.${kind}`;
  const url = URL.createObjectURL(new Blob([text], { type: kind === "json" ? "application/json" : "application/yaml" }));
  const link = el("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
  return name;
}

async function exportRecord(kind, wipes) {
  const name = download(kind);
  const isWiped = wipes && saving.store !== null;
  if (isWiped) {
    await wipeSitting();
  }
  byId("exported").replaceChildren(
    el("p", {}, el("b", {}, `Written as ${name}.`), isWiped ? " The sitting is wiped from this device; as long as this page stays open it can be put back." : ""),
    el("div.actions", {}, isWiped ? button("Put it back on this device", putBack) : null, button("Write it again", () => download(kind)), button(words.start, startScreen)));
}

async function wipeSitting() {
  try {
    await saving.store.wipe(sheet.head.code);
    saving.isPaused = true;
  } catch {
    saving.tell("failed");
  }
  showState();
}

async function putBack() {
  saving.isPaused = false;
  await saving.store.putHead(sheet.head);
  sheet.log.entries.forEach((entry) => saving.add(sheet.head.code, entry));
  byId("exported").replaceChildren(el("p", {}, "The sitting is kept on this device again."));
}
