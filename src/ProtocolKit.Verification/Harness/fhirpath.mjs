// Works questionnaire responses as a form filler does, with npm's fhirpath: the questionnaire's variables in their order, then
// its calculated items. A line of standard input is a list of responses; the line that answers it, a list of objects with the
// value of each variable ("%" and its name) and of each calculated item (its link id).
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { createRequire } from "node:module";

const [fhirpath, model] = modules(createRequire(process.argv[2] + "/"));
const variable = "http://hl7.org/fhir/StructureDefinition/variable";
const calculated = "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression";

const questionnaire = JSON.parse(readFileSync("questionnaire.json", "utf8"));
const variables = (questionnaire.extension ?? [])
  .filter((e) => e.url === variable)
  .map((e) => ({ name: e.valueExpression.name, run: compiled(e) }));
const items = questionnaire.item.flatMap((group) =>
  (group.item ?? []).flatMap((item) =>
    (item.extension ?? []).filter((e) => e.url === calculated).map((e) => ({ linkId: item.linkId, run: compiled(e) })),
  ),
);

function modules(require) {
  try {
    return [require("fhirpath"), require("fhirpath/fhir-context/r4")];
  } catch {
    console.error("Error: Cannot find module fhirpath");
    process.exit(1);
  }
}

function compiled(extension) {
  return fhirpath.compile(extension.valueExpression.expression, model);
}

function fill(response) {
  const values = {};
  const known = { resource: response };
  for (const { name, run } of variables) {
    known[name] = run(response, known);
    note(values, "%" + name, known[name]);
  }
  for (const { linkId, run } of items) {
    note(values, linkId, run(response, known));
  }
  return values;
}

function note(values, name, said) {
  if (said.length > 1) {
    throw new Error(`${name} has ${said.length} values`);
  }
  if (said.length === 1) {
    values[name] = said[0];
  }
}

for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(JSON.stringify(JSON.parse(line).map(fill)) + "\n");
}
