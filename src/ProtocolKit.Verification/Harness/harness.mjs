// Runs a batch of records through emitted code and says all it came to, an entry a record. Keys of records and names of outputs
// are the same in most records: both stand once, and lists beside them. Scoring is three steps in a row, and each is run once
// for a record that reads as it should; the first of a batch, and any other, goes through score as well.
import * as scoring from "./scoring.mjs";
import { keys } from "./keys.mjs";

export function run(batch) {
  const names = [];
  const places = new Map();
  const answers = JSON.parse(batch).map((trial, i) => runOne(trial, i === 0, names, places));
  return JSON.stringify([names, answers]);
}

function runOne([fields, ageMonths, form, answers, observations, history], isFirst, names, places) {
  const record = {
    ageMonths,
    form,
    answers: named(keys.answers, answers),
    observations: named(keys.observations, observations),
    history: named(keys.history, history),
  };
  const read = scoring.readRecord(record);
  const lines = scoring.scoreFields(fields);
  const [given, found] = [texts(fields), texts(read.fields)];
  const isInSteps = !isFirst && given === found && read.errors.length === 0;
  const outputs = outputsOf(isInSteps ? scoring.resultOf(read.fields, lines) : scoring.score(record));
  const list = outputs.names.join("\n");
  if (!places.has(list)) {
    places.set(list, names.length);
    names.push(outputs.names);
  }
  return [texts(lines), found, places.get(list), ...outputs.values];
}

function named(names, values) {
  const entries = {};
  values.forEach((value, i) => {
    if (value !== null) {
      entries[names[i]] = value;
    }
  });
  return entries;
}

// Joined as they are, -0 would turn into 0 and what is no value into nothing. Functions of the language's own are asked, for
// thousands of values a record.
const isMinusZero = Object.is.bind(null, -0);

function texts(values) {
  return values.every(Number.isFinite) && !values.some(isMinusZero)
    ? values.join(",")
    : values.map((value) => (Object.is(value, -0) ? "-0" : String(value))).join(",");
}

function outputsOf(result) {
  const [names, values] = [[], []];
  const add = (name, value) => {
    names.push(name);
    values.push(value === null ? "none" : String(value));
  };
  for (const [name, value] of Object.entries(result.scores)) {
    for (const part of ["state", "low", "high", "unit", "step"]) {
      add(`score ${name} ${part}`, value[part]);
    }
  }
  for (const [name, band] of Object.entries(result.bands)) {
    add(`band ${name}`, band);
  }
  for (const [name, decision] of Object.entries(result.actions)) {
    add(`action ${name}`, decision);
  }
  add("headline", result.headline);
  result.reasons.forEach((reason, i) => add(`reason ${i + 1}`, reason));
  result.errors.forEach((error, i) => add(`error ${i + 1}`, error));
  return { names, values };
}
