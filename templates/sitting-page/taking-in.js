// A record file comes in: to go on with, or beside what is here. Whatever is wrong is told, and then nothing is taken in.
function takeIn(text) {
  const marks = marksOf(text);
  if (marks.isCut) {
    return { problems: [`The file is not whole: its last line should be “${endLine}”. It was cut off when it was copied; take the whole file.`] };
  }
  let map;
  try {
    map = readRecordText(text);
  } catch (error) {
    if (error instanceof UnreadableError) {
      return { problems: [error.message] };
    }
    throw error;
  }
  if (!(map instanceof Map)) {
    return { problems: ["This file holds no record."] };
  }
  const problems = identityProblems(map);
  const pairs = problems.length === 0 ? pairsOf(map, problems) : [];
  return { problems, pairs, marks };
}

// What the page's own comments say: which sitting it was, how far it had come, and whether the end is there.
function marksOf(text) {
  const sitting = /^# Sitting (\S+), (\d+) entries\. The file ends with the line: /m.exec(text);
  return {
    code: sitting?.[1] ?? null,
    entries: sitting === null ? 0 : Number(sitting[2]),
    isCut: sitting !== null && text.trimEnd().split("\n").at(-1).trim() !== endLine,
  };
}

function identityProblems(map) {
  const name = map.get("protocol");
  if (name !== protocol.name) {
    return [
      name === undefined
        ? "This file names no protocol, so it is no record."
        : `This record is of the protocol “${name}”, not of ${protocol.name}. Open it with the page of its own protocol.`,
    ];
  }
  const prints = map.get("fingerprints");
  const problems = [];
  if (prints instanceof Map) {
    for (const [key, words] of [["form", "the words, demonstrations, materials or levels differ"], ["administration", "the order, trials, help or stops differ"]]) {
      if ((prints.get(key) ?? "").toLowerCase() !== protocol.fingerprints[key]) {
        problems.push(`The record was taken with another ${key}: ${words}. Open it with the page it was taken with.`);
      }
    }
  } else if (map.get("edition") !== protocol.edition) {
    problems.push(`The record is of edition “${map.get("edition")}”, this page of edition ${protocol.edition}, and it carries no fingerprints.`);
  }
  return problems;
}

// Paths and values for the sheet. What no record of this protocol can hold is a problem.
function pairsOf(map, problems) {
  const pairs = [];
  const known = new Set(["protocol", "edition", "fingerprints", "case", "age-months", "born", "gestation-weeks", "corrected-age-months",
    "parts", "form", "rater", "agreed-from", "consents", "history", "answers", "help", "observations", "events", "notes", "task-seconds", "overrides", "corrections"]);
  for (const key of map.keys()) {
    if (!known.has(key)) {
      problems.push(`A record has no “${key}”. Names and addresses of people don’t belong into one.`);
    }
  }
  for (const key of ["case", "age-months", "gestation-weeks", "corrected-age-months"]) {
    if (typeof map.get(key) === "string" && map.get(key) !== "") {
      pairs.push([key, map.get(key)]);
    }
  }
  takeRater(map.get("rater"), pairs);
  pairs.push(["form", map.get("form") === "short" ? "short" : "full"]);
  takeParts(map, pairs, problems);
  takeBorn(map, pairs);
  takeTexts(map, "consents", new Set(protocol.consents.map((c) => c.name)), pairs, problems);
  takeTexts(map, "task-seconds", new Set(protocol.tasks.map((t) => t.name)), pairs, problems);
  takeTexts(map, "history", new Set(protocol.history.map((q) => q.name)), pairs, problems);
  for (const [path, key] of [["events", "events"], ["corrections", "corrections"], ["agreed-from", "agreed-from"]]) {
    if (Array.isArray(map.get(key))) {
      pairs.push([path, map.get(key).map((item) => Object.fromEntries(item))]);
    }
  }
  const override = map.get("overrides")?.[0];
  if (override instanceof Map) {
    pairs.push(["override", Object.fromEntries(override)]);
  }
  return pairs;
}

function takeRater(rater, pairs) {
  if (rater instanceof Map) {
    const { code, ...rest } = Object.fromEntries(rater);
    pairs.push(["rater", code ?? null], ["rater-more", rest]);
  } else if (rater) {
    pairs.push(["rater", rater]);
  }
}

// No day of birth is kept: only the age it gives.
function takeBorn(map, pairs) {
  const seen = map.get("parts")?.[0]?.get?.("seen");
  if (map.get("born") && seen) {
    pairs.push(["age-months", String(monthsBetween(map.get("born"), seen))]);
  }
}

// Later parts lay what they finished over the earlier ones; what stood before is kept as their base.
function takeParts(map, pairs, problems) {
  const parts = Array.isArray(map.get("parts")) ? map.get("parts") : [];
  const now = Object.fromEntries(finished.map((kind) => [kind, {}]));
  const bases = [];
  [map, ...parts.slice(1)].forEach((part, i) => {
    if (i > 0) {
      bases.push(structuredClone(now));
    }
    for (const kind of finished) {
      for (const [key, value] of part.get(kind) instanceof Map ? part.get(kind) : []) {
        const text = checked(kind, key, value, problems);
        if (text !== null) {
          now[kind][key] = text;
        }
      }
    }
  });
  pairs.push(["parts", parts.length > 0 ? parts.map((p) => ({ seen: p.get("seen") })) : [{ seen: today() }]]);
  pairs.push(["bases", bases.length > 0 ? bases : null]);
  for (const kind of finished) {
    pairs.push(...Object.entries(now[kind]).map(([key, value]) => [`${kind}.${key}`, value]));
  }
}

// The value as the sheet holds it; null, with a problem told, where it can't be.
function checked(kind, key, value, problems) {
  if (typeof value !== "string") {
    problems.push(`${key}: give one value.`);
    return null;
  }
  if (value === "") {
    return null;
  }
  const problem = { answers: answerProblem, observations: observationProblem, help: helpProblem, notes: noteProblem }[kind](key, value);
  if (problem !== null) {
    problems.push(`${key}: ${problem}`);
    return null;
  }
  const slot = kind === "answers" ? slotOf.get(key) : null;
  return slot && !slot.response.options && !codeWords.has(value) ? canonical(value) : value;
}

function answerProblem(key, value) {
  const slot = slotOf.get(key);
  if (slot === undefined) {
    return "this protocol has no such answer.";
  }
  if (codeWords.has(value)) {
    return null;
  }
  if (isNumber(slot.response)) {
    return problemWith(value, slot.response);
  }
  const isOne = choicesOf(slot.response).some((c) => c.value === value || (slot.response.scale && Number(c.value) === Number(value)));
  return isOne ? null : `“${value}” is none of ${choicesOf(slot.response).map((c) => c.value).join(", ")}.`;
}

function observationProblem(key, value) {
  if (!observationKeys.has(key)) {
    return "this protocol has no such observation.";
  }
  return value === "seen" || value === "looked" ? null : "write seen or looked.";
}

function helpProblem(key) {
  return protocol.tasks.some((t) => key === t.name || key.startsWith(`${t.name}.`)) ? null : "this protocol has no such task.";
}

function noteProblem(key) {
  return helpProblem(key);
}

function takeTexts(map, kind, known, pairs, problems) {
  const given = map.get(kind);
  if (given instanceof Map) {
    for (const [key, value] of given) {
      if (known.has(key)) {
        pairs.push([`${kind}.${key}`, value === "" ? null : value]);
      } else {
        problems.push(`${key}: this protocol has no such line under ${kind}.`);
      }
    }
  }
}

// Whole months from one day to another, as ages are counted.
function monthsBetween(from, to) {
  const [y1, m1, d1] = from.split("-").map(Number);
  const [y2, m2, d2] = to.split("-").map(Number);
  return (y2 - y1) * 12 + (m2 - m1) - (d2 < d1 ? 1 : 0);
}
