// The record as a file: the keys of its answers are full names, its values numbers, names of options, or codes.
const finished = ["answers", "help", "observations", "notes"];

function valuesUnder(kind) {
  const start = `${kind}.`;
  return [...sheet.log.values]
    .filter(([path]) => path.startsWith(start))
    .map(([path, value]) => [path.slice(start.length), value]);
}

// In the protocol's order, whatever the order of giving was.
function ordered(kind) {
  const order = orderOf(kind);
  return valuesUnder(kind).sort((a, b) => (order.get(a[0]) ?? 1e9) - (order.get(b[0]) ?? 1e9));
}

const orders = new Map();

function orderOf(kind) {
  if (!orders.has(kind)) {
    const parts = protocol.tasks.flatMap((t) => t.variants.map((v) => partKey(t, v)));
    const keys = {
      answers: () => slots.map((s) => s.key),
      observations: () => [...observationKeys],
      consents: () => protocol.consents.map((c) => c.name),
      history: () => protocol.history.map((q) => q.name),
      help: () => parts,
      notes: () => parts,
      "task-seconds": () => protocol.tasks.map((t) => t.name),
    }[kind]();
    orders.set(kind, new Map(keys.map((key, i) => [key, i])));
  }
  return orders.get(kind);
}

function hasText(value) {
  return typeof value === "string" && value.trim() !== "";
}

// A plain object in the order in which a record is written.
function recordOf() {
  const parts = partsOfRecord();
  const record = {
    protocol: protocol.name,
    edition: protocol.edition,
    fingerprints: protocol.fingerprints,
    case: sheet.get("case"),
  };
  for (const key of ["age-months", "gestation-weeks", "corrected-age-months"]) {
    if (sheet.get(key) !== null) {
      record[key] = Number(sheet.get(key));
    }
  }
  record.parts = parts.list;
  record.form = sheet.get("form");
  record.rater = raterOf();
  record["agreed-from"] = sheet.get("agreed-from") ?? undefined;
  record.consents = fromPairs(ordered("consents"));
  record.history = fromPairs(ordered("history").filter(([, v]) => hasText(v)));
  Object.assign(record, parts.first);
  record.events = eventsOf();
  record["task-seconds"] = sheet.get("times-kept") === "no" ? undefined : fromPairs(taskSeconds());
  record.overrides = sheet.get("override") === null ? undefined : [sheet.get("override")];
  record.corrections = [...(sheet.get("corrections") ?? []), ...parts.corrections];
  return withoutEmpty(record);
}

function raterOf() {
  const rest = sheet.get("rater-more");
  const code = sheet.get("rater");
  return rest === null || code === null ? code : { code, ...rest };
}

function taskSeconds() {
  const order = orderOf("task-seconds");
  return taskTime.seconds(sheet.log.entries, valuesUnder("task-seconds")).sort((a, b) => order.get(a[0]) - order.get(b[0]));
}

function fromPairs(pairs) {
  return Object.fromEntries(pairs);
}

function withoutEmpty(record) {
  const order = ["protocol", "edition", "fingerprints", "case", "age-months", "gestation-weeks", "corrected-age-months", "parts",
    "form", "rater", "agreed-from", "consents", "history", "answers", "help", "observations", "events", "notes", "task-seconds", "overrides", "corrections"];
  return Object.fromEntries(
    order
      .map((key) => [key, record[key]])
      .filter(([, v]) => v !== null && v !== undefined && !(typeof v === "object" && Object.keys(v).length === 0)),
  );
}

// What stood when a later part began is the earlier part's. What a later part finished stands under it; what it changed of an
// answer is a correction of the earlier one.
function partsOfRecord() {
  const days = sheet.get("parts") ?? [];
  const bases = sheet.get("bases") ?? [];
  const list = days.map((d) => ({ seen: d.seen }));
  const first = {};
  const corrections = [];
  for (const kind of finished) {
    const now = fromPairs(ordered(kind).filter(([, v]) => kind !== "notes" || hasText(v)));
    const stages = [...bases.map((b) => b[kind] ?? {}), now];
    for (const [stage, values] of stages.entries()) {
      for (const [key, value] of Object.entries(values)) {
        place({ kind, key, value, stage, before: stages.slice(0, stage), list, first, corrections });
      }
    }
  }
  return { list, first, corrections };
}

function place({ kind, key, value, stage, before, list, first, corrections }) {
  const earlier = before.map((b) => b[key]).findLast((v) => v !== undefined);
  if (earlier === value) {
    return;
  }
  if (earlier === undefined || (kind === "answers" && codeWords.has(earlier))) {
    const target = stage === 0 ? (first[kind] ??= {}) : (list[stage][kind] ??= {});
    target[key] = value;
  } else if (kind === "answers" || kind === "observations") {
    corrections.push({
      who: sheet.get("rater") ?? "R1",
      when: list[stage].seen,
      why: sheet.get(`why.${key}`) ?? "entered anew in a later part",
      old: earlier,
      new: value,
      key,
    });
  }
}

function eventsOf() {
  const declared = new Map(protocol.events.map((e) => [e.name, e]));
  return (sheet.get("events") ?? [])
    .filter((event) => hasText(event.what))
    .map((event) => {
      const stops = declared.get(event.what)?.stops;
      const told = (text) => (hasText(text) ? text : stops ? "not written down" : undefined);
      const whole = {
        what: event.what,
        task: event.task ?? undefined,
        "given-before": event["given-before"] ?? undefined,
        touched: told(event.touched),
        recovered: told(event.recovered),
        done: told(event.done),
      };
      return Object.fromEntries(Object.entries(whole).filter(([, v]) => v !== undefined));
    });
}

// What the emitted scoring takes: numbers as numbers, help in its own answers where it has a cost.
function scoringRecord() {
  const answers = {};
  for (const [key, value] of valuesUnder("answers")) {
    const slot = slotOf.get(key);
    answers[key] = codeWords.has(value) || slot === undefined || slot.response.options ? value : Number(value);
  }
  addHelp(answers);
  const gates = new Set(protocol.history.filter((q) => q.yesNo).map((q) => q.name));
  const age = sheet.get("corrected-age-months") ?? sheet.get("age-months");
  return {
    ageMonths: age === null ? undefined : Number(age),
    form: sheet.get("form"),
    answers,
    observations: fromPairs(valuesUnder("observations")),
    history: fromPairs(valuesUnder("history").filter(([key]) => gates.has(key))),
  };
}

function addHelp(answers) {
  for (const slot of protocol.help) {
    const task = taskOf.get(slot.task);
    if (!isOnForm(task, sheet.get("form"))) {
      continue;
    }
    const rung = sheet.get(`help.${partKey(task, { name: slot.variant })}`);
    if (slot.isRung) {
      answers[slot.key] = (slot.options.find((o) => o.text === rung) ?? slot.options.at(-1)).name;
    } else if (rung !== null) {
      const came = sheet.get(`help.${resultKey(task, { name: slot.response }, { name: slot.variant })}`);
      answers[slot.key] = came === null ? undefined : Number(came);
    }
  }
}

function recordJson() {
  return `${JSON.stringify(recordOf(), null, 2)}\n`;
}

// Lines that no record holds, for people: taps and sleeps as comments, so that the raw measurements leave with the record.
function recordYaml(sitting) {
  const lines = [
    `# ${plainText(protocol.title).replace(/\s+/g, " ")}, written by its sitting page. Codes only, no names.`,
    `# Sitting ${sitting.code}, ${sitting.entries} entries. The file ends with the line: ${endLine}`,
  ];
  writeMap(lines, recordOf(), "");
  lines.push(...rawLines().map((line) => `# ${line}`), endLine);
  return `${lines.join("\n")}\n`;
}

const endLine = "# End of the record.";

function rawLines() {
  const taps = valuesUnder("taps").map(
    ([key, times]) => `taps of ${key}, milliseconds after the first: ${times.map((t) => (t.afterPause ? "(pause) " : "") + t.ms).join(" ")}`,
  );
  const clocks = valuesUnder("clock").map(
    ([key, run]) => `timed ${key}: ${Math.round(run.ms)} ms${run.slept > 0 ? `, of which the device slept ${Math.round(run.slept)} ms` : ""}`,
  );
  return [...taps, ...clocks];
}

function writeMap(lines, map, indent) {
  for (const [key, value] of Object.entries(map)) {
    if (Array.isArray(value)) {
      lines.push(`${indent}${key}:`);
      value.forEach((item) => writeItem(lines, item, `${indent}  `));
    } else if (typeof value === "object") {
      lines.push(`${indent}${key}:`);
      writeMap(lines, value, `${indent}  `);
    } else {
      lines.push(`${indent}${key}: ${scalar(value)}`);
    }
  }
}

function writeItem(lines, item, indent) {
  const inner = [];
  writeMap(inner, item, `${indent}  `);
  inner[0] = `${indent}- ${inner[0].trimStart()}`;
  lines.push(...inner);
}

// Numbers, words and days as they are; every other text in quotes.
function scalar(value) {
  const text = String(value);
  return /^(\d+(\.\d+)?|[a-z]+(-[a-z]+)*|\d{4}-\d{2}-\d{2})$/.test(text) && !/^0\d/.test(text) && text !== "null"
    ? text
    : quoted(text);
}

function quoted(text) {
  return `"${plainText(text)
    .replace(/[\\"]/g, "\\$&")
    .replace(/\n/g, "\\n")
    .replace(/\t/g, "\\t")
    .replace(/[\u2028\u2029\ufeff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`)}"`;
}

// Without what no record can hold: controls, half characters, and the mark of a lost one.
function plainText(text) {
  return text
    .replace(/\r\n?/g, "\n")
    .toWellFormed()
    .replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\ufffd-\uffff]/g, "");
}
