// Counts, times and quantities: typed, stepped, tapped or timed. Only a number within its hard bounds and on its step is kept.
function numberField(path, response, label, spoken) {
  const hint = el("p.hint", { id: newId("hint") }, `${response.low} to ${response.high}${response.unit ? ` ${response.unit}` : ""}`);
  const error = el("p.error", { id: newId("error"), role: "alert" });
  const input = el("input.number", {
    type: "text",
    inputmode: response.step[1] === "1" ? "numeric" : "decimal",
    autocomplete: "off",
    "aria-label": spoken,
    "aria-describedby": `${hint.id} ${error.id}`,
    oninput: () => take(input.value),
  });
  const take = (typed) => {
    const text = typed.trim().replace(",", ".");
    const problem = text === "" ? null : problemWith(text, response);
    error.textContent = problem ?? "";
    input.toggleAttribute("aria-invalid", problem !== null);
    if (problem === null) {
      sheet.type(path, text === "" ? "" : canonical(text));
    }
  };
  const remark = el("p.hint.warn", { role: "status" });
  sheet.bind(path, () => {
    const value = sheet.get(path);
    const shown = value === null || codeWords.has(value) ? "" : value;
    if (canonical(input.value.trim().replace(",", ".")) !== shown) {
      input.value = shown;
      error.textContent = "";
      input.removeAttribute("aria-invalid");
    }
    remark.textContent = isImplausible(value, response)
      ? `Unusual: below ${response.plausible[0]} or above ${response.plausible[1]}. Look again; it is kept as it is.`
      : "";
  });
  const step = (by) => {
    const now = sheet.get(path);
    const from = now === null || codeWords.has(now) ? null : now;
    const next = from === null ? (by > 0 ? plus(response.low, response, 1) : response.low) : plus(from, response, by);
    if (problemWith(next, response) === null) {
      sheet.set(path, next);
    }
  };
  const row = el(
    "div.stepper",
    {},
    button("−", () => step(-1), { kind: "step", "aria-label": `One less: ${spoken}` }),
    input,
    button("+", () => step(1), { kind: "step", "aria-label": `One more: ${spoken}` }),
    response.unit ? el("span.unit", {}, response.unit) : null,
  );
  return el("div.number-field", { role: "group", "aria-label": spoken }, el("p.label", {}, label), row, hint, error, remark);
}

function problemWith(text, response) {
  if (!/^\d+(\.\d+)?$|^-\d+(\.\d+)?$/.test(text)) {
    return "Write a number.";
  }
  const value = Number(text);
  if (value < toNumber(response.low) || value > toNumber(response.high)) {
    return `Only ${response.low} to ${response.high} can be recorded.`;
  }
  const steps = Math.round((value * Number(response.step[1])) / Number(response.step[0]));
  return (steps * Number(response.step[0])) / Number(response.step[1]) === value
    ? null
    : `Write it in steps of ${stepWords(response)}.`;
}

function stepWords(response) {
  return response.step[1] === "1" ? response.step[0] : String(Number(response.step[0]) / Number(response.step[1]));
}

// A bound may be a fraction.
function toNumber(text) {
  const [above, below] = text.split("/");
  return Number(above) / Number(below ?? 1);
}

function canonical(text) {
  return text === "" || !Number.isFinite(Number(text)) ? text : String(Number(text));
}

function plus(value, response, by) {
  const steps = Math.round((toNumber(value) * Number(response.step[1])) / Number(response.step[0])) + by;
  return String((steps * Number(response.step[0])) / Number(response.step[1]));
}

// To the nearest step, half a step upwards.
function onStep(value, response) {
  const steps = Math.floor((value * Number(response.step[1])) / Number(response.step[0]) + 0.5);
  return String((steps * Number(response.step[0])) / Number(response.step[1]));
}

function isImplausible(value, response) {
  if (!response.plausible || value === null || codeWords.has(value)) {
    return false;
  }
  return Number(value) < toNumber(response.plausible[0]) || Number(value) > toNumber(response.plausible[1]);
}
