// One touch stops everything that is still open; what happened is told afterwards, and may open some of it again.
function stopButton() {
  const press = el("button.stop", { type: "button", id: "stop", "aria-label": words.stopSpoken }, words.stop);
  onPress(press, stopForWelfare);
  return press;
}

function stopForWelfare() {
  const task = tasksOfForm()[giving.task];
  const open = openSlots().map((s) => s.key);
  sheet.setAll([
    ...open.map((key) => [`answers.${key}`, "stopped"]),
    ["stop", { task: task.name, open, given: tasksGiven(), event: null }],
  ]);
  stopDialog();
}

function tasksGiven() {
  return protocol.tasks
    .filter((t) => slotsOfTask.get(t.name).some((s) => sheet.get(`answers.${s.key}`) !== null))
    .map((t) => t.name);
}

// Any order is allowed: tasks that stand after the one it happened at, would have been stopped, and were given before it.
function givenBefore(stop, kind) {
  const number = taskOf.get(stop.task).number;
  const names = stop.given.filter((name) => taskOf.get(name).number > number && covers(kind.stops, taskOf.get(name)));
  return names.length === 0 ? undefined : names.join(", ");
}

function stopKinds() {
  return protocol.events.length > 0
    ? protocol.events.filter((e) => e.stops !== "").map((e) => ({ ...e, label: e.text }))
    : [
        { name: "welfare stop", stops: "mouth", stopsWords: "the remaining tasks that touch the mouth" },
        { name: "welfare stop", stops: "touch", stopsWords: "the remaining tasks that touch face or mouth" },
        { name: "welfare stop", stops: "sitting", stopsWords: "all remaining tasks" },
      ].map((kind) => ({ ...kind, label: `A stop for ${kind.stopsWords}.` }));
}

function covers(stops, task) {
  return stops === "sitting" || (stops === "touch" ? task.contact !== "" : task.contact === "mouth");
}

// Answers that this kind doesn't stop are open again; those it does stay stopped.
function chooseKind(kind) {
  const stop = sheet.get("stop");
  const events = sheet.get("events") ?? [];
  const index = stop.event ?? events.length;
  const event = { ...(events[index] ?? {}), what: kind.name, task: stop.task, "given-before": givenBefore(stop, kind) };
  sheet.setAll([
    ...stop.open.map((key) => [`answers.${key}`, covers(kind.stops, slotOf.get(key).task) ? "stopped" : null]),
    ["events", [...events.slice(0, index), event, ...events.slice(index + 1)]],
    ["stop", { ...stop, event: index, stops: kind.stops }],
  ]);
}

function tellEvent(key, text) {
  const stop = sheet.get("stop");
  const events = sheet.get("events") ?? [];
  if (stop.event !== null) {
    sheet.setAll([["events", events.map((e, i) => (i === stop.event ? { ...e, [key]: text } : e))]], { joins: sheet.log.lastIs("events") });
  }
}

function stopDialog() {
  const task = taskOf.get(sheet.get("stop").task);
  const name = newId("kind");
  const kinds = stopKinds().map((kind) => {
    const input = el("input", { type: "radio", name, onchange: () => { chooseKind(kind); told.hidden = false; } });
    return el("label.choice", {}, input, el("span.text", {}, said("span", kind.label), el("span.hint", {}, ` Stops ${kind.stopsWords}.`)));
  });
  const told = el("fieldset.told", { hidden: true }, el("legend", {}, "Write down"),
    [["touched", "What touched, and where"], ["recovered", "How the child recovered, and after how long"], ["done", "What you did then"]].map(([key, label]) => {
      const input = el("textarea", { rows: 2, maxlength: 2000, autocomplete: "off", oninput: () => tellEvent(key, input.value) });
      return field(label, input);
    }),
    el("p.hint", {}, words.noName));
  const dialog = el("dialog.stopped", { "aria-labelledby": "stopped-title" },
    el("h1", { id: "stopped-title", tabindex: "-1" }, "Stopped"),
    el("p", {}, "Everything still open is marked “stopped for welfare”. It says nothing about what the child can do."),
    el("p.care-line", {}, careText("stop-signs"), " ", careText("rest-breath")),
    el("p.care-line", {}, careText("refer-today")),
    stopWhen(task),
    el("fieldset.choices.stacked", {}, el("legend", {}, "What happened at ", said("span", task.title), "?"), kinds,
      el("p.hint", {}, "Choose later or not at all: everything stays stopped.")),
    told,
    el("div.actions", {},
      button("Go on with what is not stopped", () => dialog.close(), { kind: "primary" }),
      button("End the sitting", () => { dialog.close(); endScreen(); }),
      button("Pressed by mistake: take it back", () => { takeStopBack(); dialog.close(); })));
  dialog.addEventListener("close", () => {
    dialog.remove();
    if (screens.current === "give") {
      showTask();
    }
  });
  document.body.append(dialog);
  dialog.showModal();
  dialog.querySelector("h1").focus();
}

function stopWhen(task) {
  const start = task.back.findIndex(([kind, , text]) => kind === "heading" && text === "Stop when");
  if (start < 0) {
    return null;
  }
  const rest = task.back.slice(start + 1);
  const end = rest.findIndex(([kind]) => kind !== "item");
  return el("div", {}, el("h2", {}, "This task’s own rule: stop when"), el("ul", {}, rest.slice(0, end < 0 ? undefined : end).map(([, , text]) => said("li", text))));
}

// Everything this stop wrote goes, also where other changes came in between.
function takeStopBack() {
  const stop = sheet.get("stop");
  const events = sheet.get("events") ?? [];
  sheet.setAll([
    ...stop.open.filter((key) => sheet.get(`answers.${key}`) === "stopped").map((key) => [`answers.${key}`, null]),
    ["events", stop.event === null ? events : events.filter((_, i) => i !== stop.event)],
    ["stop", null],
  ]);
}
