// Runs a batch of records through emitted code and says all it came to, one entry a record.
import * as scoring from "./scoring.mjs";

export function run(batch) {
  return JSON.stringify(JSON.parse(batch).map(runOne));
}

function runOne({ fields, record }) {
  return {
    lines: scoring.scoreFields(fields).map(plain),
    read: scoring.readRecord(record).fields.map(plain),
    outputs: outputsOf(scoring.score(record)),
  };
}

// JSON would turn what is no number into null and -0 into 0.
function plain(value) {
  return Object.is(value, -0) ? "-0" : Number.isSafeInteger(value) ? value : String(value);
}

function outputsOf(result) {
  const outputs = [];
  for (const [name, value] of Object.entries(result.scores)) {
    for (const part of ["state", "low", "high", "unit", "step"]) {
      outputs.push([`score ${name} ${part}`, value[part] === null ? "none" : String(value[part])]);
    }
  }
  for (const [name, band] of Object.entries(result.bands)) {
    outputs.push([`band ${name}`, String(band)]);
  }
  for (const [name, decision] of Object.entries(result.actions)) {
    outputs.push([`action ${name}`, String(decision)]);
  }
  outputs.push(["headline", result.headline === null ? "none" : String(result.headline)]);
  result.reasons.forEach((reason, i) => outputs.push([`reason ${i + 1}`, String(reason)]));
  result.errors.forEach((error, i) => outputs.push([`error ${i + 1}`, String(error)]));
  return outputs;
}
