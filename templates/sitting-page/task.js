// One task: its card above, its answers below. Sides stand as the examiner sees them.
function taskScreen(task) {
  const view = el(`article.task${task.contact ? ".touches" : ""}`, { "aria-labelledby": "task-title" });
  const section = sectionOf.get(task.section);
  view.append(
    el("h1", { id: "task-title", tabindex: "-1" }, el("span.number", {}, String(task.number)), " ", said("span", task.title)),
    el("p.where", {}, section ? said("span", section.title) : null, el(`span.contact${task.contact ? ".strong" : ""}`, {}, task.contactWords)),
  );
  if (prefix !== "") {
    view.append(el("p.warning", {}, "Second entry from the paper sheet. The first entry stays out of sight."));
  }
  if (task.contact) {
    view.append(el("p.care-line", {}, careText("agreement"), " ", careText("stop-signs")));
  }
  view.append(givingNote(task), cardFront(task));
  if (task.responses.length + task.ticks.length > 0) {
    view.append(levelsOf(task));
  }
  const parts = el(`div.parts${task.variants.length > 1 ? ".side-by-side" : ""}`);
  task.variants.forEach((variant) => parts.append(partOf(task, variant)));
  view.append(parts, notesOf(task), cardBack(task));
  return view;
}

// A duty's sentence, as it stands on the page already.
function careText(duty) {
  return said("span", document.querySelector(`[data-duty="${duty}"]`)?.textContent ?? "");
}

// Why this task isn't given, where a rule says so; it may be given all the same.
function givingNote(task) {
  const note = el("p.not-given", { role: "status", hidden: true });
  const show = () => {
    const reasons = [...new Set(task.variants.map((v) => (isOnForm(task, sheet.get("form")) ? whyNotGiven(task, v) : 1)))];
    note.textContent = reasons.filter((r) => r > 0).map((r) => notGivenWords[r]).join(" ");
    note.hidden = note.textContent === "";
  };
  screens.onRouting = show;
  show();
  return note;
}

function cardBlocks(blocks) {
  return blocks.map(([kind, mark, text]) => {
    switch (kind) {
      case "say":
        return said("p.say", text);
      case "heading":
        return said("h2.small", text);
      case "item":
        return el("p.item", {}, said("span.hang", mark), said("span", text));
      default:
        return el("p.line", {}, mark ? said("b", mark) : null, mark ? " " : null, said("span", text));
    }
  });
}

function cardFront(task) {
  return el("div.card", {}, cardBlocks(task.front));
}

function cardBack(task) {
  return el("details.back", {}, el("summary", {}, words.backOfCard), cardBlocks(task.back));
}

// The levels written out once where their numbers alone stand beside each other.
function levelsOf(task) {
  const scales = [...new Set(task.responses.map((r) => r.scale).filter(Boolean))];
  if (scales.length === 0 || task.variants.length === 1) {
    return el("span", { hidden: true });
  }
  return el("div.levels", {}, scales.map((scale) =>
    el("dl", {}, protocol.scales[scale].map((l) =>
      el("div", {}, el("dt", {}, l.points), said("dd", l.example ? `${l.text} For example: ${l.example}.` : l.text))))));
}

function partOf(task, variant) {
  const name = variant.name === "" ? task.title : `${task.title}, ${variant.label}`;
  const part = el("section.part", { "aria-label": name });
  if (variant.name !== "") {
    part.append(el("h2", {}, task.sides ? face(variant.name) : null, said("span", variant.label)));
  }
  for (let trial = 1; trial <= task.trials; trial += 1) {
    part.append(trialOf(task, variant, trial, name));
  }
  if (task.help.length > 0) {
    part.append(helpOf(task, variant, name));
  }
  if (task.ticks.length > 0) {
    part.append(ticksOf(task, variant, name));
  }
  return part;
}

// A small drawn face with a mark on the child's own side, as the examiner sees it.
function face(side) {
  const ns = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(ns, "svg");
  svg.setAttribute("viewBox", "0 0 24 24");
  svg.setAttribute("aria-hidden", "true");
  svg.setAttribute("class", "face");
  const shape = (name, values) => {
    const node = document.createElementNS(ns, name);
    Object.entries(values).forEach(([key, value]) => node.setAttribute(key, value));
    svg.append(node);
  };
  shape("ellipse", { cx: 12, cy: 12, rx: 7.6, ry: 10 });
  shape("path", { d: "M4.5 10c-2.6-.6-2.6 4.4 0 4.4M19.5 10c2.6-.6 2.6 4.4 0 4.4M8 9.6h2.2M13.8 9.6H16M12 10.6v3.6M10.2 17.8h3.6" });
  if (side === "right" || side === "left") {
    shape("circle", { cx: side === "right" ? 7.6 : 16.4, cy: 13.8, r: 2.1, class: "mark" });
  }
  return svg;
}

function trialOf(task, variant, trial, name) {
  const spoken = task.trials > 1 ? `${name}, ${words.trial.toLowerCase()} ${trial}` : name;
  const box = el("div.trial", { role: "group", "aria-label": spoken });
  if (task.trials > 1) {
    box.append(el(variant.name === "" ? "h2.small" : "h3", {}, `${words.trial} ${trial}`));
  }
  const fields = [
    ...instrumentsOf(task, variant, trial, spoken),
    ...task.responses.map((response) => responseOf({ task, response, variant }, answerKey(task, response, variant, trial), spoken)),
  ];
  box.append(...fields);
  if (trial > 1 && task.further) {
    showWhenNeeded(box, fields, task, variant, trial);
  }
  return box;
}

// Stopwatches and tap counters of a trial stand beside each other: one hand works them both.
function instrumentsOf(task, variant, trial, spoken) {
  const run = (kind, make) =>
    task.responses
      .filter((r) => r.kind === kind)
      .map((r) => make(answerKey(task, r, variant, trial), r, `${spoken}, ${r.label}`));
  const all = [...run("time", timerField), ...run("count", tapField)];
  return all.length === 0 ? [] : [el("div.instruments", {}, all)];
}

// A further trial folds away until the one before calls for it; what was entered always shows.
function showWhenNeeded(box, fields, task, variant, trial) {
  const hint = el("p.hint", {}, `Only when the trial before is below ${task.further.below}.`);
  box.append(hint);
  const slot = { task, response: task.responses[0], variant, trial };
  const own = task.responses.map((r) => at("answers", answerKey(task, r, variant, trial)));
  const show = () => {
    const isNeeded = needOf(slot) !== "needless" && needOf(slot) !== "unclear";
    const isFilled = own.some((path) => sheet.get(path) !== null);
    fields.forEach((f) => {
      f.hidden = !isNeeded && !isFilled;
    });
    hint.hidden = isNeeded;
    box.classList.toggle("needless", !isNeeded && !isFilled);
  };
  const decides = task.responses.find((r) => r.name === task.further.response);
  for (let before = 1; before < trial; before += 1) {
    sheet.bind(at("answers", answerKey(task, decides, variant, before)), show);
  }
  own.forEach((path) => sheet.bind(path, show));
}

function responseOf({ task, response, variant }, key, spoken) {
  const path = at("answers", key);
  const label = response.label || words.answer;
  const isOnlyRating = response.scale && task.responses.filter((r) => r.scale).length === 1;
  const whole = `${spoken}, ${label}`;
  const box = el("div.response", { "data-key": key });
  if (response.scale) {
    const isNarrow = task.variants.length > 1;
    const choices = choicesOf(response).map((c) => (isNarrow ? { ...c, text: c.text, example: null } : c));
    box.append(radios(path, choices, label, { look: isNarrow ? "numbers" : "stacked", quiet: isOnlyRating, clear: "elsewhere" }));
  } else if (response.kind === "direction") {
    box.append(radios(path, choicesOf(response), label, { look: "row", clear: "elsewhere" }));
  } else if (response.options) {
    box.append(radios(path, choicesOf(response), label, { look: "stacked", quiet: response.label === "", clear: "elsewhere" }));
  } else {
    box.append(numberField(path, response, label, whole));
  }
  box.append(
    el("div.beside", {}, notTried(path, whole), isNumber(response) ? null : clearButton(path, choicesOf(response), whole)),
    earlierOf(key),
  );
  return box;
}

// What an earlier part of the sitting brought: another answer now is a correction, and wants a reason.
function earlierOf(key) {
  const earlier = (sheet.get("bases") ?? []).map((b) => b.answers?.[key]).findLast((v) => v !== undefined);
  if (earlier === undefined || codeWords.has(earlier) || prefix !== "") {
    return "";
  }
  return el("div.earlier", {}, el("p.hint", {}, `From an earlier day: ${earlier}. Another answer here is a correction of it.`),
    textField(`why.${key}`, "Why it is corrected", { hint: null }));
}

function helpOf(task, variant, name) {
  const key = partKey(task, variant);
  const path = at("help", key);
  const select = el("select", { onchange: () => sheet.set(path, select.value === "" ? null : select.value) },
    el("option", { value: "" }, words.noHelp),
    task.help.map((rung) => said("option", rung.label, { value: rung.value })));
  const box = el("div.help", { role: "group", "aria-label": `${words.help}: ${name}` }, field(words.help, select));
  const came = task.responses.filter((r) => !isNumber(r)).map((response) => {
    const label = task.responses.length > 1 ? `${words.helpResult}: ${response.label}` : words.helpResult;
    const choices = choicesOf(response).map((c) => (task.variants.length > 1 || response.scale ? { ...c, example: null } : c));
    return radios(at("help", resultKey(task, response, variant)), choices, label, { look: response.scale ? "numbers" : "stacked", spoken: `${label}, ${name}` });
  });
  box.append(...came);
  sheet.bind(path, () => {
    select.value = sheet.get(path) ?? "";
    came.forEach((c) => {
      c.hidden = sheet.get(path) === null;
    });
  });
  return box;
}

function ticksOf(task, variant, name) {
  const box = el("div.ticks", { role: "group", "aria-label": `Signs: ${name}` }, el(variant.name === "" ? "h2.small" : "h3", {}, words.signs));
  task.ticks.forEach((tick) => {
    box.append(radios(at("observations", observationKey(task, tick, variant)), [
      { value: "seen", text: words.seen },
      { value: "looked", text: words.looked },
    ], tick.text, { look: "sign", spoken: `${tick.text}, ${name}` }));
  });
  return box;
}

function notesOf(task) {
  return textField(at("notes", task.name), task.note ?? words.note, { long: true });
}
