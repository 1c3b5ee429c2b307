// The first screen: what is kept here, a new sitting, and a record file to open.
async function startScreen() {
  sheet.close();
  const heads = await keptHeads();
  screens.show("start", () => [
    heading(words.start),
    el("div.actions", {}, button(words.newSitting, beginSitting, { kind: "primary" }), openFileField()),
    el("section", { "aria-labelledby": "kept-title" }, el("h2", { id: "kept-title" }, words.onThisDevice), keptList(heads)),
    el("p.privacy", {}, words.privacy),
  ]);
  showTrouble();
}

async function keptHeads() {
  if (saving.store === null) {
    return [];
  }
  try {
    const heads = await saving.store.heads();
    return heads.filter((h) => h.protocol === protocol.name).sort((a, b) => b.began - a.began);
  } catch {
    saving.tell("failed");
    return [];
  }
}

function keptList(heads) {
  if (heads.length === 0) {
    return el("p", {}, words.noneKept);
  }
  return el("ul.kept", {}, heads.map((head) => {
    const isOurs = head.fingerprints.form === protocol.fingerprints.form && head.fingerprints.administration === protocol.fingerprints.administration;
    const open = isOurs
      ? button(words.resume, () => resumeSitting(head), { "aria-label": `${words.resume}: ${head.code}`, kind: "primary" })
      : el("p.hint", {}, "Taken with another edition. Open the page of that edition to go on.");
    const remove = button(words.delete, () => confirmDelete(head), { "aria-label": `${words.delete}: ${head.code}` });
    return el("li", {}, el("span", {}, el("b", {}, head.code), ` ${new Date(head.began).toLocaleDateString()} ${timeOfDay(head.began)}`), open, remove);
  }));
}

async function beginSitting() {
  await sheet.begin();
  beforeScreen();
}

async function resumeSitting(head) {
  await sheet.resume(head);
  const gap = sheet.log.entries.at(-1);
  beforeOrGive();
  announce(`Nothing was entered from ${timeOfDay(gap.from)} to ${timeOfDay(gap.to)}. The gap is marked in the log.`);
}

function beforeOrGive() {
  return valuesUnder("answers").length > 0 ? giveScreen() : beforeScreen();
}

function confirmDelete(head) {
  confirmWith(`Delete the sitting ${head.code} from this device? It can’t be brought back.`, words.delete, async () => {
    await saving.store.wipe(head.code);
    startScreen();
  });
}

function openFileField() {
  const input = el("input", {
    type: "file",
    id: "record-file",
    accept: ".yaml,.yml,.json,application/json",
    onchange: async () => {
      const file = input.files[0];
      if (file) {
        await openRecord(await file.text());
        input.value = "";
      }
    },
  });
  return el("div.field.file", {}, el("label", { for: "record-file" }, words.openRecord), input, el("div", { id: "file-problems", role: "alert" }));
}

async function openRecord(text) {
  const taken = takeIn(text);
  if (taken.problems.length > 0) {
    showProblems("The file was not opened.", taken.problems);
    return;
  }
  const kept = (await keptHeads()).find((h) => h.code === taken.marks.code);
  if (kept !== undefined) {
    await openKeptInstead(kept, taken.marks);
    return;
  }
  await sheet.begin(taken.pairs);
  beforeScreen();
}

// The same sitting is still kept here: going on there loses nothing, and a second copy would.
async function openKeptInstead(kept, marks) {
  const count = await saving.store.count(kept.code);
  showProblems("The file was not opened a second time.", [
    count > marks.entries
      ? `It is an older copy of the sitting ${kept.code}, which is kept here and has come further. Go on with that one; delete it first if this file should take its place.`
      : `It is the sitting ${kept.code}, which is kept here already. Go on with that one.`,
  ]);
}

function showProblems(title, problems) {
  const most = 12;
  const more = problems.length > most ? [el("li", {}, `and ${problems.length - most} more`)] : [];
  byId("file-problems").replaceChildren(el("p", {}, el("b", {}, title)), el("ul", {}, problems.slice(0, most).map((p) => el("li", {}, p)), more));
}

// Asks once more before something can't be taken back.
function confirmWith(question, yes, act) {
  const dialog = el("dialog.ask", { "aria-label": question },
    el("p", {}, question),
    el("div.actions", {}, button(yes, () => { dialog.close(); act(); }, { kind: "primary" }), button("Cancel", () => dialog.close())));
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}
