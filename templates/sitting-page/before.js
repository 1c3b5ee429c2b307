// Before the tasks: code, age, form, consents, case history, and what is needed in the room.
function beforeScreen() {
  screens.show("before", () => [
    heading(words.before),
    identitySection(),
    consentSection(),
    historySection(),
    roomSection(),
    el("div.actions", {}, button("Begin with the tasks", giveScreen, { kind: "primary" })),
  ]);
}

function identitySection() {
  return el("section", { "aria-labelledby": "who-title" },
    el("h2", { id: "who-title" }, "Who, when, how old"),
    codeField("case", "Case code", "Links to the name on a slip that is kept elsewhere."),
    codeField("rater", "Examiner’s code", "Such as SLP-02."),
    seenField(),
    protocol.shortForm === null ? null : formField(),
    ageField(),
    protocol.correctedUntil === null ? null : earlyBirthFields());
}

function formField() {
  return radios("form", [
    { value: "full", text: `Full form${protocol.sitting ? `, ${protocol.sitting}` : ""}` },
    { value: "short", text: `Short form, about ${protocol.shortForm} min` },
  ], "Form", { look: "row", clear: "never" });
}

// A later part is a day of its own; the first decides the age.
function seenField() {
  const box = el("div.seen");
  sheet.bind("parts", () => {
    const parts = sheet.get("parts") ?? [];
    box.replaceChildren(...parts.map((part, i) => {
      const input = el("input", { type: "date", value: part.seen, onchange: () => {
        if (input.value) {
          sheet.set("parts", parts.map((p, j) => (j === i ? { seen: input.value } : p)));
        }
      } });
      return field(parts.length > 1 ? `Day of part ${i + 1}` : "Day seen", input);
    }), parts.at(-1)?.seen < today() && valuesUnder("answers").length > 0
      ? el("div.actions", {}, button("Go on today, as a further part", addPart))
      : "");
  });
  return box;
}

function addPart() {
  const base = Object.fromEntries(finished.map((kind) => [kind, fromPairs(valuesUnder(kind))]));
  sheet.setAll([
    ["parts", [...sheet.get("parts"), { seen: today() }]],
    ["bases", [...(sheet.get("bases") ?? []), base]],
  ]);
}

function ageField() {
  const input = el("input", { type: "text", autocomplete: "off", inputmode: "text", oninput: () => take() });
  const error = el("p.error", { role: "alert" });
  const take = () => {
    const months = monthsOf(input.value);
    error.textContent = input.value.trim() === "" || months !== null ? ageRemark(months) : "Write years;months, such as 4;3, or whole months, such as 51.";
    if (input.value.trim() === "" || months !== null) {
      sheet.type("age-months", months === null ? "" : String(months));
    }
  };
  sheet.bind("age-months", () => {
    const value = sheet.get("age-months");
    if (String(monthsOf(input.value) ?? "") !== (value ?? "")) {
      input.value = value === null ? "" : ageWords(Number(value));
      error.textContent = value === null ? "" : ageRemark(Number(value));
    }
  });
  const born = el("input", { type: "date", max: today(), autocomplete: "off", onchange: () => {
    if (born.value) {
      takeBirth(born.value);
      born.value = "";
      announce(`Age ${ageWords(Number(sheet.get("age-months")))}. The day of birth is not kept.`);
    }
  } });
  return el("div", {},
    field("Age in years;months", input, `For ages ${protocol.ages.words}.`), error,
    field("Or work it out from the day of birth", born, "The day of birth is used once and kept nowhere."));
}

function ageRemark(months) {
  return months === null || (months >= protocol.ages.from && months <= protocol.ages.to) ? "" : `Outside the ages of this protocol, ${protocol.ages.words}: there are no bands then.`;
}

function monthsOf(typed) {
  const age = /^\s*(\d{1,2})\s*;\s*(\d{1,2})\s*$/.exec(typed);
  if (age !== null) {
    return Number(age[2]) < 12 ? Number(age[1]) * 12 + Number(age[2]) : null;
  }
  return /^\s*\d{1,3}\s*$/.test(typed) ? Number(typed) : null;
}

function takeBirth(born) {
  const seen = sheet.get("parts")[0].seen;
  const months = monthsBetween(born, seen);
  const weeks = Number(sheet.get("gestation-weeks") ?? 40);
  const pairs = [["age-months", String(Math.max(0, months))]];
  if (protocol.correctedUntil !== null && weeks < 37 && months < protocol.correctedUntil) {
    const due = new Date(`${born}T12:00:00Z`);
    due.setUTCDate(due.getUTCDate() + 7 * (40 - weeks));
    pairs.push(["corrected-age-months", String(Math.max(0, monthsBetween(due.toISOString().slice(0, 10), seen)))]);
  }
  sheet.setAll(pairs);
}

function earlyBirthFields() {
  const whole = (path, label, hint) => {
    const input = el("input", { type: "text", inputmode: "numeric", autocomplete: "off", oninput: () => {
      if (/^\d{0,3}$/.test(input.value.trim())) {
        sheet.type(path, input.value.trim());
      }
    } });
    sheet.bind(path, () => {
      input.value = sheet.get(path) ?? "";
    });
    return field(label, input, hint);
  };
  return el("div", {},
    whole("gestation-weeks", "Weeks of pregnancy at birth", "Only for a child born before term; enter it before the day of birth."),
    whole("corrected-age-months", "Corrected age in months", "Counted from the day the child was due."));
}

function consentSection() {
  const given = protocol.consents.length > 0
    ? protocol.consents.map((c) => el("div.asked", {}, said("p.hint", c.text), yesNo(`consents.${c.name}`, c.title)))
    : [el("p", {}, "Examination, mouth contact, recording, pilot data: ask for each by itself, on the consent page.")];
  return el("section", { "aria-labelledby": "consent-title" }, el("h2", { id: "consent-title" }, "Consents"), given);
}

function historySection() {
  if (protocol.history.length === 0) {
    return null;
  }
  return el("section", { "aria-labelledby": "history-title" }, el("h2", { id: "history-title" }, "Case history"),
    protocol.history.map((question) => {
      const path = `history.${question.name}`;
      const asked = question.yesNo
        ? yesNo(path, question.text)
        : textField(path, question.text, { long: true, hint: null });
      return el("div.asked", {}, asked, question.gates.map((gate) => gateLine(path, gate)));
    }),
    el("p.hint", {}, words.noName));
}

// What an answer closes, stronger once it does.
function gateLine(path, gate) {
  const line = said("p.gate", gate.words);
  sheet.bind(path, () => {
    line.classList.toggle("closes", sheet.get(path) === (gate.onYes ? "yes" : "no"));
  });
  return line;
}

function roomSection() {
  const things = protocol.materials.map(([text, amount]) => said("li", amount ? `${text}, ${amount}` : text));
  const cautions = protocol.cautions.map(([text, covers]) => el("li", {}, said("span", text), covers ? el("span.hint", {}, ` (${covers})`) : null));
  return el("section", { "aria-labelledby": "room-title" }, el("h2", { id: "room-title" }, "In the room"),
    things.length > 0 ? el("details", {}, el("summary", {}, "Have ready"), el("ul", {}, things)) : null,
    cautions.length > 0 ? el("ul", {}, cautions) : null);
}
