// The tasks, one at a time, in giving order or in any other.
const giving = { task: 0, listIsShown: false, items: new Map() };

function giveScreen() {
  const tasks = tasksOfForm();
  giving.task = Math.min(giving.task, tasks.length - 1);
  buildList(tasks);
  showTask();
}

function tasksOfForm() {
  return protocol.tasks.filter((t) => isOnForm(t, sheet.get("form")));
}

function shownTask() {
  return tasksOfForm()[giving.task];
}

function showTask(focus = "h1") {
  const tasks = tasksOfForm();
  const task = shownTask();
  screens.show("give", () => taskScreen(task), focus);
  showFoot(tasks);
  markCurrent(task);
}

function turnTo(index) {
  const tasks = tasksOfForm();
  if (index >= tasks.length) {
    endScreen();
    return;
  }
  giving.task = Math.max(0, index);
  showTask();
  window.scrollTo(0, 0);
}

function showFoot(tasks) {
  byId("foot").replaceChildren(
    button(words.previous, () => turnTo(giving.task - 1), { id: "previous", disabled: giving.task === 0 }),
    button(words.list, toggleList, { id: "list", "aria-expanded": String(giving.listIsShown), "aria-controls": "tasks" }),
    ...(prefix === "" ? [stopButton()] : [button("Compare", endSecond, { id: "compare" })]),
    button(giving.task === tasks.length - 1 ? words.last : words.next, () => turnTo(giving.task + 1), { id: "next", kind: "primary" }),
  );
}

function toggleList() {
  giving.listIsShown = !giving.listIsShown;
  byId("tasks").hidden = !giving.listIsShown;
  showFoot(tasksOfForm());
  byId(giving.listIsShown ? "tasks" : "list").querySelector?.("[aria-current]")?.focus();
  if (!giving.listIsShown) {
    byId("list").focus();
  }
}

function buildList(tasks) {
  giving.items.clear();
  const list = byId("tasks");
  list.replaceChildren(el("h2", {}, words.allTasks));
  let section = null;
  let group = null;
  tasks.forEach((task, i) => {
    if (group === null || task.section !== section) {
      section = task.section;
      group = el("ol", { start: String(task.number) });
      list.append(sectionOf.has(section) ? said("h3", sectionOf.get(section).title) : "", group);
    }
    const state = el("span.state");
    const item = el("button.task-link", { type: "button", onclick: () => choose(i) }, el("span.number", {}, String(task.number)), said("span.title", task.title), state);
    giving.items.set(task.name, { item, state });
    group.append(el("li", {}, item));
    markState(task);
  });
}

// Where the list takes the whole width, it makes room for the task that was chosen.
function choose(index) {
  if (matchMedia("(max-width: 47.99rem)").matches) {
    giving.listIsShown = false;
  }
  turnTo(index);
}

function markState(task) {
  const entry = giving.items.get(task.name);
  if (entry === undefined) {
    return;
  }
  const own = slotsOfTask.get(task.name);
  const filled = own.filter((s) => sheet.get(at("answers", s.key)) !== null).length;
  const isOpen = own.some((s) => sheet.get(at("answers", s.key)) === null && needOf(s) === "due");
  const isOut = task.variants.every((v) => whyNotGiven(task, v) > 0);
  const state = isOut && filled === 0 ? "left out" : filled === 0 ? "" : isOpen ? words.partly : words.answered;
  entry.state.textContent = state;
  entry.item.dataset.state = state;
}

function markCurrent(task) {
  for (const [name, { item }] of giving.items) {
    if (name === task.name) {
      item.setAttribute("aria-current", "step");
      if (giving.listIsShown) {
        item.scrollIntoView({ block: "nearest" });
      }
    } else {
      item.removeAttribute("aria-current");
    }
  }
}

// After a change: the tasks it is about, and those that routing opens or closes.
let routingIsAsked = false;

function followChange(paths) {
  const names = new Set(paths.filter((p) => p.includes("answers.")).map((p) => p.split("answers.")[1].split(".")[0]));
  names.forEach((name) => taskOf.has(name) && markState(taskOf.get(name)));
  if (protocol.giving.length > 0 && !routingIsAsked) {
    routingIsAsked = true;
    setTimeout(() => {
      routingIsAsked = false;
      const before = routing.why;
      followRouting();
      protocol.giving
        .filter((g) => before.get(g.variant === "" ? g.task : `${g.task}.${g.variant}`) !== whyNotGiven(taskOf.get(g.task), { name: g.variant }))
        .forEach((g) => markState(taskOf.get(g.task)));
      screens.onRouting?.();
    }, 0);
  }
}
