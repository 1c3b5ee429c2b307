{{~ for line in title_comment ~}}
// {{ line }}
{{~ end ~}}
//
{{~ for line in identity_comment ~}}
// {{ line }}
{{~ end ~}}
//
{{~ for line in caution_comment ~}}
// {{ line }}
{{~ end ~}}
//
// Use:
//   import { score } from "./{{ file_name }}";
//   const result = score({ ageMonths: 60, form: "full", answers: { "task.response": 2 }, observations: {}{{ if history.size > 0 }}, history: { {{ history[0].text }}: "no" }{{ end }} });
// Keys of answers are task.response, then the side and the trial where there are any; a value is a number
// in its unit, an option's name, or a code such as "refused". Observations are "seen" or "looked".
{{~ if history.size > 0 ~}}
// History holds "yes" or "no" for each question of the case history that opens or closes tasks.
{{~ end ~}}
// Nothing is thrown: whatever is wrong with a record stands in result.errors, and then nothing is scored.
//
// Scoring is done on whole numbers alone. Behind each line stand its limits, proved for every possible
// record; no value on the way exceeds 2^53 - 1, so nothing is ever rounded but where a line says so.

export const about = {
  name: {{ name }},
  title: {{ title }},
  edition: {{ edition }},
  fingerprints: {
    form: {{ form }},
    administration: {{ administration }},
    interpretation: {{ interpretation }},
  },
  cautions: [
{{~ for caution in cautions ~}}
    {{ caution }},
{{~ end ~}}
  ],
};

/** Scores a record: { scores, bands, actions, headline, reasons, errors }. */
export function score(record) {
  const { fields, errors } = readRecord(record);
  return errors.length === 0
    ? resultOf(fields, scoreFields(fields))
    : { scores: {}, bands: {}, actions: {}, headline: null, reasons: [], errors };
}

/** Gives every line of the scoring program its value, from one whole number a field; true is 1. */
export function scoreFields(fields) {
{{~ for field in fields ~}}
  const {{ field.name }} = fields[{{ field.index }}];{{ if !is_compact }} // {{ field.comment }}{{ end }}
{{~ end ~}}

{{~ for line in lines ~}}
  const {{ line.name }} = {{ line.code }};{{ if !is_compact }} // {{ line.comment }}{{ end }}
{{~ end ~}}

  return [
{{~ for line in lines ~}}
    {{ line.name }}{{ if line.is_condition }} ? 1 : 0{{ end }},
{{~ end ~}}
  ];
}

/** The value of the case that holds the subject; cases are from, to, value. */
function pick(subject, ...cases) {
  for (let i = 0; i < cases.length; i += 3) {
    if (cases[i] <= subject && subject <= cases[i + 1]) {
      return cases[i + 2];
    }
  }
  return cases[cases.length - 1];
}

const states = [{{ for state in states }}{{ if !for.first }}, {{ end }}{{ state.text }}{{ end }}];

const codes = new Map([
{{~ for code in codes ~}}
  [{{ code.text }}, {{ code.number }}],
{{~ end ~}}
]);

// value, state: fields. given: the line that says whether the task is given, or -1. after, below: the trial is given where that earlier answer is below so many steps.
const answers = [
{{~ for a in answers ~}}
  { key: {{ a.key }}, value: {{ a.value_field }}, state: {{ a.state_field }}, given: {{ a.given }}, low: {{ a.low }}, onShortForm: {{ a.on_short_form }}, after: {{ a.after }}, below: {{ a.below }}, {{ if a.is_number }}from: {{ a.from }}, to: {{ a.to }}, step: [{{ a.step_above }}, {{ a.step_below }}]{{ else if a.options.size > 0 }}options: [{{ for o in a.options }}{{ if !for.first }}, {{ end }}{{ o }}{{ end }}]{{ else }}levels: [{{ for l in a.levels }}{{ if !for.first }}, {{ end }}{{ l }}{{ end }}]{{ end }} },
{{~ end ~}}
];

const answerKeys = new Set(answers.map((answer) => answer.key));

const observations = new Map([
{{~ for o in observations ~}}
  [{{ o.text }}, {{ o.number }}],
{{~ end ~}}
]);

{{~ if history.size > 0 ~}}
// Questions of the case history: the field, and whether a record must answer it.
const history = new Map([
{{~ for h in history ~}}
  [{{ h.text }}, [{{ h.number }}, {{ h.is_needed }}]],
{{~ end ~}}
]);

{{~ end ~}}
{{~ if help_keys.size > 0 ~}}
// Which help was given: left out, there was none.
const helpKeys = new Set([
{{~ for key in help_keys ~}}
  {{ key }},
{{~ end ~}}
]);

{{~ end ~}}
// The kept trial of each answer: its key and the line with its state.
const kept = new Map([
{{~ for k in kept ~}}
  [{{ k.text }}, {{ k.number }}],
{{~ end ~}}
]);

// state, low, high: lines. lowBy, highBy: lines that divide them, or -1. A value is low / lowBy × scale.
const outcomes = [
{{~ for o in outcomes ~}}
  { name: {{ o.name }}, state: {{ o.state }}, low: {{ o.low }}, high: {{ o.high }}, lowBy: {{ o.low_by }}, highBy: {{ o.high_by }}, scale: [{{ o.scale_above }}, {{ o.scale_below }}], unit: {{ o.unit }}, step: {{ o.step }}, reads: [{{ for r in o.reads }}{{ if !for.first }}, {{ end }}{{ r }}{{ end }}] },
{{~ end ~}}
];

// Bands from the worst to the best; after them undecided, not applicable, blocked, no band.
const bands = [
{{~ for b in bands ~}}
  { of: {{ b.name }}, onShortForm: {{ b.on_short_form }}, line: {{ b.line }}, names: [{{ for n in b.bands }}{{ n }}, {{ end }}"undecided", "not applicable", "blocked", "no band"] },
{{~ end ~}}
];

// From the most severe to the least; the lines that say it surely applies, and that it surely does not.
const actions = [
{{~ for a in actions ~}}
  { name: {{ a.name }}, applies: {{ a.applies }}, appliesNot: {{ a.applies_not }} },
{{~ end ~}}
];

/** Reads a record into one whole number a field: { fields, errors }. */
export function readRecord(record) {
  const errors = [];
  const fields = new Array({{ field_count }}).fill(0);
  const given = isObject(record) ? record : {};
  if (given !== record) {
    errors.push("A record is an object with ageMonths, form, answers and observations.");
  }
  readAge(given.ageMonths, fields, errors);
  readForm(given.form, fields, errors);
{{~ if history.size > 0 ~}}
  readHistory(partOf(given, "history", errors), fields, errors);
{{~ end ~}}
  readObservations(partOf(given, "observations", errors), fields, errors);
  readAnswers(partOf(given, "answers", errors), fields, errors);
  return { fields, errors };
}

function readAge(age, fields, errors) {
  if (Number.isInteger(age) && age >= {{ age_low }} && age <= {{ age_high }}) {
    fields[{{ age_field }}] = age + 0;
  } else {
    errors.push("ageMonths: give the age in completed months, a whole number from {{ age_low }} to {{ age_high }}.");
  }
}

function readForm(form, fields, errors) {
{{~ if has_short_form ~}}
  if (form === "full" || form === "short") {
    fields[{{ form_field }}] = form === "short" ? 1 : 0;
  } else {
    errors.push('form: say "full" or "short".');
  }
{{~ else ~}}
  if (form !== "full") {
    errors.push('form: this protocol has only one form; say "full".');
  }
{{~ end ~}}
}

function readAnswers(given, fields, errors) {
  const found = new Map();
  for (const answer of answers) {
{{~ if help_keys.size > 0 ~}}
    const isNoHelp = helpKeys.has(answer.key) && !isOffForm(answer, fields);
    const value = valueOf(given, answer.key) ?? (isNoHelp ? {{ no_help }} : undefined);
{{~ else ~}}
    const value = valueOf(given, answer.key);
{{~ end ~}}
    fields[answer.value] = answer.low;
    fields[answer.state] = 1;
    if (value !== undefined) {
      const problem = readAnswer(answer, value, fields);
      found.set(answer, problem === null ? "given" : "wrong");
      if (problem !== null) {
        errors.push(`${answer.key}: ${problem}`);
      }
    }
  }
{{~ if has_giving ~}}
  const missing = [];
{{~ end ~}}
  const needs = answers.map((answer) => needOf(answer, found, fields));
  answers.forEach((answer, i) => {
    if (found.get(answer) === "given" && needs[i] === "needless") {
      fields[answer.state] = 1;
      fields[answer.value] = answer.low;
    } else if (!found.has(answer) && needs[i] === "due" && !isOffForm(answer, fields)) {
{{~ if has_giving ~}}
      missing.push(answer);
{{~ else ~}}
      errors.push(noAnswer(answer));
{{~ end ~}}
    }
  });
{{~ if has_giving ~}}
  // What isn't given may be missing; where an answer is wrong, nobody can say what should be there.
  const isWrong = [...found.values()].includes("wrong");
  const lines = missing.length === 0 || isWrong ? [] : scoreFields(fields);
  for (const answer of missing) {
    if (answer.given < 0 || (!isWrong && lines[answer.given] === 1)) {
      errors.push(noAnswer(answer));
    }
  }
{{~ end ~}}
  reportUnknown(given, answerKeys, "answer", errors);
}

function noAnswer(answer) {
  return `${answer.key}: there is no answer. Give one, or say why not: ${[...codes.keys()].join(", ")}.`;
}

{{~ if history.size > 0 ~}}
function readHistory(given, fields, errors) {
  for (const [key, [field, isNeeded]] of history) {
    const value = valueOf(given, key);
    if (value === undefined ? isNeeded : value !== "yes" && value !== "no") {
      errors.push(`history, ${key}: say "yes" or "no"; it decides which tasks may be given.`);
    }
    fields[field] = value === "yes" ? 1 : 0;
  }
}

{{~ end ~}}
function isOffForm(answer, fields) {
  return fields[{{ form_field }}] === 1 && !answer.onShortForm;
}

/** How it stands with a trial, from the one before: due, may be given (that one was untried), needless, unclear. */
function needOf(answer, found, fields) {
  const before = answers[answer.after];
  if (before === undefined) {
    return "due";
  }
  const need = needOf(before, found, fields);
  if (need === "needless") {
    return need;
  }
  if (found.get(before) === "given") {
    if (fields[before.state] >= 2) {
      return "may be given";
    }
    return fields[before.value] < answer.below ? "due" : "needless";
  }
  const mayBeAbsent = need === "may be given" || isOffForm(before, fields);
  return !found.has(before) && mayBeAbsent ? "may be given" : "unclear";
}

/** Reads one answer into its fields: the problem with it, or null. */
function readAnswer(answer, value, fields) {
  const [state, steps, problem] = codes.has(value)
    ? [codes.get(value), answer.low, null]
    : [0, ...readValue(answer, value)];
  if (problem !== null) {
    return problem;
  }
  // A short record's other tasks may be left out or called not planned.
  const isOff = isOffForm(answer, fields);
  if (isOff && state !== 2) {
    return "this task is not part of the short form; leave it out.";
  }
  fields[answer.state] = isOff ? 1 : state;
  fields[answer.value] = steps;
  return null;
}

function readValue(answer, value) {
  if (answer.options) {
    return readOption(answer.options, value);
  }
  return answer.levels ? readLevel(answer.levels, value) : readNumber(answer, value);
}

function readOption(options, value) {
  const index = options.indexOf(value);
  return [index, index < 0 ? `${shown(value)} is not one of ${options.join(", ")}.` : null];
}

function readLevel(levels, value) {
  const index = levels.indexOf(value);
  return [index, index < 0 ? `${shown(value)} is not one of ${levels.join(", ")}.` : null];
}

function readNumber({ from, to, step }, value) {
  if (typeof value !== "number" || !(value >= from && value <= to)) {
    return [0, `${shown(value)} is not a number from ${from} to ${to}.`];
  }
  const steps = Math.round((value * step[1]) / step[0]);
  return (steps * step[0]) / step[1] === value
    ? [steps + 0, null]
    : [0, `${shown(value)} is not a whole number of steps of ${step[0] / step[1]}.`];
}

function readObservations(given, fields, errors) {
  for (const [key, field] of observations) {
    const value = valueOf(given, key);
    if (value !== undefined && value !== "seen" && value !== "looked") {
      errors.push(`${key}: ${shown(value)} is neither "seen" nor "looked".`);
    }
    fields[field] = value === "seen" ? 2 : value === "looked" ? 1 : 0;
  }
  reportUnknown(given, observations, "observation", errors);
}

function reportUnknown(given, known, kind, errors) {
  for (const key of Object.keys(given)) {
    if (!known.has(key)) {
      errors.push(`There is no ${kind} named ${shown(key)} in this protocol.`);
    }
  }
}

function partOf(record, part, errors) {
  const value = valueOf(record, part);
  if (value !== undefined && !isObject(value)) {
    errors.push(`${part}: give an object with a key for each.`);
  }
  return isObject(value) ? value : {};
}

function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** A blank counts as not given. */
function valueOf(given, key) {
  const value = Object.hasOwn(given, key) ? given[key] : undefined;
  return value === null || (typeof value === "string" && value.trim() === "") ? undefined : value;
}

function shown(value) {
  if (typeof value === "number") {
    return String(value);
  }
  return typeof value === "string" ? `"${value.slice(0, 60)}"` : "this";
}

/** What a record's fields and lines come to, in words and in units: scores, bands, actions, headline, reasons. */
export function resultOf(fields, lines) {
  const isShort = fields[{{ form_field }}] === 1;
  const headline = actions[lines[{{ headline_line }}]];
  return {
    scores: Object.fromEntries(outcomes.map((outcome) => [outcome.name, scoreOf(outcome, lines)])),
    bands: Object.fromEntries(
      bands
        .filter((band) => band.onShortForm === isShort)
        .map((band) => [band.of, band.names[lines[band.line]]]),
    ),
    actions: Object.fromEntries(actions.map((action) => [action.name, decisionOn(action, lines)])),
    headline: headline === undefined ? null : headline.name,
    reasons: outcomes.flatMap((outcome) => reasonsOf(outcome, lines)),
    errors: [],
  };
}

function scoreOf(outcome, lines) {
  const { unit, step } = outcome;
  const state = states[lines[outcome.state]];
  return lines[outcome.state] === 0
    ? {
        state,
        low: inUnit(lines[outcome.low], lines[outcome.lowBy], outcome.scale),
        high: inUnit(lines[outcome.high], lines[outcome.highBy], outcome.scale),
        unit,
        step,
      }
    : { state, low: null, high: null, unit, step };
}

function inUnit(number, by, scale) {
  return (number * scale[0]) / (scale[1] * (by === undefined ? 1 : by)) + 0;
}

function decisionOn(action, lines) {
  if (lines[action.applies] === 1) {
    return "applies";
  }
  return lines[action.appliesNot] === 1 ? "applies not" : "undecided";
}

/** The answers a score rests on that were not tried, with the reason of each. */
function reasonsOf(outcome, lines) {
  return outcome.reads
    .filter((key) => lines[kept.get(key)] >= 2)
    .map((key) => `${outcome.name}: ${key} ${states[lines[kept.get(key)]]}`);
}
