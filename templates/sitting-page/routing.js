// Which tasks are given, by the lines of the emitted scoring itself: start points, skips, stops, and the case history's gates.
const routing = { why: new Map() };

function followRouting() {
  if (protocol.giving.length === 0) {
    return;
  }
  const lines = scoring.scoreFields(scoring.readRecord(scoringRecord()).fields);
  routing.why = new Map(
    protocol.giving.map((g) => [g.variant === "" ? g.task : `${g.task}.${g.variant}`, lines[g.why]]),
  );
}

// Zero where the part is given, else the number of the reason.
function whyNotGiven(task, variant) {
  return routing.why.get(partKey(task, variant)) ?? 0;
}

function isGiven(task, variant) {
  return isOnForm(task, sheet.get("form")) && whyNotGiven(task, variant) === 0;
}

// How it stands with a trial, from the one before: due, may (that one was untried), needless, unclear.
function needOf(slot) {
  const rule = slot.task.further;
  if (slot.trial === 1 || !rule) {
    return "due";
  }
  const before = { ...slot, trial: slot.trial - 1 };
  const need = needOf(before);
  if (need === "needless") {
    return need;
  }
  const response = slot.task.responses.find((r) => r.name === rule.response);
  const value = sheet.get(at("answers", answerKey(slot.task, response, slot.variant, slot.trial - 1)));
  if (value === null) {
    return need === "may" ? "may" : "unclear";
  }
  if (codeWords.has(value)) {
    return "may";
  }
  return Number(value) < Number(rule.below) ? "due" : "needless";
}

// Answers a record still needs, in giving order.
function openSlots() {
  const form = sheet.get("form");
  return slots.filter(
    (s) =>
      isOnForm(s.task, form) &&
      sheet.get(`answers.${s.key}`) === null &&
      whyNotGiven(s.task, s.variant) === 0 &&
      needOf(s) === "due",
  );
}
