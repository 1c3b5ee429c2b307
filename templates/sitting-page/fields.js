// Controls for one value each. They show what the sheet holds, also after undo, and write what is entered.
let prefix = "";

// The path of a value; a second entry from paper stands apart from the first.
function at(kind, key) {
  return `${prefix}${kind}.${key}`;
}

// One of several, and a button that takes the choice away again.
function radios(path, choices, label, props = {}) {
  const name = newId("radio");
  const group = el(`fieldset.choices.${props.look ?? "stacked"}`, {}, el(`legend${props.quiet ? ".quiet" : ""}`, {}, label));
  const inputs = choices.map((choice) => {
    const input = el("input", {
      type: "radio",
      name,
      value: choice.value,
      onchange: () => sheet.set(path, choice.value),
    });
    const mark = choice.mark === null || choice.mark === undefined ? null : el("span.mark", {}, choice.mark);
    const example = choice.example ? said("span.example", `For example: ${choice.example}`) : null;
    group.append(el("label.choice", {}, input, mark, el("span.text", {}, said("span", choice.text), example)));
    return input;
  });
  sheet.bind(path, () => {
    const value = sheet.get(path);
    inputs.forEach((input) => {
      input.checked = input.value === value;
    });
  });
  if (props.clear !== "elsewhere" && props.clear !== "never") {
    group.append(clearButton(path, choices, props.spoken ?? label));
  }
  return group;
}

// Keeps its place while there is nothing to clear, so that nothing moves under a finger.
function clearButton(path, choices, spoken) {
  const clear = button(words.clear, () => sheet.set(path, null), { kind: "clear", "aria-label": `${words.clear}: ${spoken}` });
  sheet.bind(path, () => {
    clear.classList.toggle("idle", !choices.some((choice) => choice.value === sheet.get(path)));
  });
  return clear;
}

function yesNo(path, label, more = {}) {
  return radios(path, [
    { value: "yes", text: words.yes },
    { value: "no", text: words.no },
  ], label, { look: "row", ...more });
}

// Why an answer wasn't tried, beside the answer itself: both are the same value, so one replaces the other.
function notTried(path, spoken) {
  const select = el(
    "select.not-tried",
    {
      "aria-label": `${words.notTried}: ${spoken}`,
      onchange: () => sheet.set(path, select.value === "" ? null : select.value),
    },
    el("option", { value: "" }, `${words.notTried}…`),
    protocol.codes.map((c) => el("option", { value: c.code }, `${c.letter} ${c.words}`)),
  );
  sheet.bind(path, () => {
    const value = sheet.get(path);
    select.value = codeWords.has(value) ? value : "";
    select.classList.toggle("chosen", select.value !== "");
  });
  return select;
}

function textField(path, label, props = {}) {
  const { long = false, hint = words.noName, ...rest } = props;
  const input = el(long ? "textarea" : "input", {
    ...(long ? { rows: 2 } : { type: "text" }),
    autocomplete: "off",
    spellcheck: "true",
    maxlength: 2000,
    ...rest,
    oninput: () => {
      sheet.type(path, input.value);
      nameHint.hidden = !looksLikeName(input.value);
    },
  });
  const nameHint = el("p.hint.warn", { hidden: true }, "This looks like a way to find a person. A record holds no names, numbers or addresses of people.");
  sheet.bind(path, () => {
    const value = sheet.get(path) ?? "";
    if (input.value !== value) {
      input.value = value;
    }
    nameHint.hidden = !looksLikeName(value);
  });
  const whole = field(label, input, hint);
  whole.append(nameHint);
  return whole;
}

// Mail addresses, telephone numbers, and words that announce a name. No more than a reminder.
function looksLikeName(text) {
  return /\S@\S|\b\d[\d ()/-]{6,}\d\b|\b(called|named|name is|mr|mrs|ms|dr)\b\.?\s+\p{Lu}/u.test(text);
}

function codeField(path, label, hint) {
  const error = el("p.error", { id: newId("error"), hidden: true }, "A code has at most 20 letters, digits and hyphens, at least one of them a digit, such as C-014. No names.");
  const input = el("input", {
    type: "text",
    maxlength: 20,
    autocomplete: "off",
    spellcheck: "false",
    autocapitalize: "characters",
    oninput: () => {
      const text = input.value.trim();
      const isWrong = text !== "" && !isCode(text);
      error.hidden = !isWrong;
      input.toggleAttribute("aria-invalid", isWrong);
      if (!isWrong) {
        sheet.type(path, text);
      }
    },
  });
  sheet.bind(path, () => {
    const value = sheet.get(path) ?? "";
    if (input.value.trim() !== value) {
      input.value = value;
      error.hidden = true;
    }
  });
  const whole = field(label, input, hint);
  input.setAttribute("aria-describedby", `${input.getAttribute("aria-describedby") ?? ""} ${error.id}`.trim());
  whole.append(error);
  return whole;
}

function isCode(text) {
  return /^(?=.*[0-9])[A-Za-z0-9][A-Za-z0-9-]{0,19}$/.test(text);
}
