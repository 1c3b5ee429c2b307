// Which screen is shown. Only one at a time is on the page; its controls are bound to the sheet for as long as it stands.
const screens = {
  current: "",
  onRouting: null,

  show(name, content, focus = "h1") {
    const isOther = this.current !== name;
    taskTime.turn(name === "give" && prefix === "" ? shownTask().name : null);
    this.current = name;
    sheet.bindings.clear();
    this.onRouting = null;
    byId("notices").querySelector(".said")?.remove();
    const nodes = [content()].flat().filter((node) => node !== null && node !== undefined);
    byId("screen").replaceChildren(...nodes);
    document.body.dataset.screen = name;
    byId("care").hidden = name !== "start" && name !== "before";
    byId("tasks").hidden = name !== "give" || !giving.listIsShown;
    byId("foot").hidden = name !== "give";
    showTools();
    showTrouble();
    if (isOther || focus !== "h1") {
      window.scrollTo(0, 0);
    }
    byId("screen").querySelector(focus)?.focus({ preventScroll: true });
  },

  // The same screen again, from the sheet as it is now.
  again() {
    screenOf[this.current]?.();
  },
};

function heading(text) {
  return el("h1", { tabindex: "-1" }, text);
}

// Undo, redo, where to go, and whether what was entered is kept.
function showTools() {
  const tools = byId("tools");
  if (!sheet.isOpen) {
    tools.replaceChildren();
    return;
  }
  const go = el("select", { "aria-label": "Go to", onchange: () => goTo(go.value) },
    [["before", words.before], ["give", words.give], ["end", words.end], ["log", words.log], ["print", words.print], ["export", words.export], ["second", words.second], ["start", words.start],
      ...(screens.current === "result" ? [["result", words.scores]] : [])].map(
      ([value, text]) => el("option", { value, selected: screens.current === value }, text)));
  tools.replaceChildren(
    el("p.code", {}, "Sitting ", el("b", {}, sheet.head.code), " ", el("span", { id: "kept" })),
    el("div.moves", {},
      button(words.undo, () => stepBack("undo"), { id: "undo" }),
      button(words.redo, () => stepBack("redo"), { id: "redo" }),
      go),
  );
  showState();
}

function stepBack(way) {
  const before = sheet.log.entries.length;
  sheet[way]();
  if (sheet.log.entries.length > before) {
    announce(`${way === "undo" ? "Undone" : "Redone"}: ${wordsOfEntry(sheet.log.entries.at(-1))}`);
  }
}

function goTo(name) {
  if (name === "print") {
    screens.again();
    window.print();
    return;
  }
  screenOf[name]();
}

function showState() {
  const kept = byId("kept");
  if (kept === null) {
    return;
  }
  byId("undo").disabled = !sheet.log.canUndo;
  byId("redo").disabled = !sheet.log.canRedo;
  kept.textContent = saving.isPaused ? words.wiped : saving.store === null || saving.trouble !== null ? words.notSaved : saving.isIdle ? words.saved : words.saving;
}

// Says at once that nothing is kept, and offers the way out.
function showTrouble() {
  const box = byId("notices");
  box.querySelector(".trouble")?.remove();
  if (saving.trouble !== null) {
    const actions = [];
    if (sheet.isOpen) {
      actions.push(button(words.exportNow, () => download("yaml")));
      if (saving.trouble === "conflict") {
        actions.push(button(words.loadOther, loadKept));
      } else if (saving.store !== null) {
        actions.push(button(words.tryAgain, () => saving.run()));
      }
    }
    box.prepend(el("div.trouble", { role: "alert" }, el("p", {}, el("b", {}, words.unsavedTitle), " ", words.unsaved[saving.trouble]), actions));
  }
  showState();
}

async function loadKept() {
  saving.queue = [];
  const entries = await saving.store.entries(sheet.head.code);
  sheet.put(sheet.head, entries.map(({ code, ...entry }) => entry));
  saving.tell(null);
  screens.again();
}
