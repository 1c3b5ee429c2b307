// The protocol and where things stand in it.
const protocol = JSON.parse(byId("protocol").textContent);
for (const task of protocol.tasks) {
  // Texts that many tasks share stand once in a pool.
  task.front = task.front.map((n) => protocol.pool[n]);
  task.back = task.back.map((n) => protocol.pool[n]);
  task.ticks = task.ticks.map((n) => ({ name: protocol.pool[n][0], text: protocol.pool[n][1] }));
  task.help = task.help.map((n) => ({ value: protocol.pool[n][0], label: protocol.pool[n][1] }));
}
const scoring = globalThis.emittedScoring;
const codeWords = new Map(protocol.codes.map((c) => [c.code, c.words]));
const taskOf = new Map(protocol.tasks.map((t) => [t.name, t]));
const sectionOf = new Map(protocol.sections.map((s) => [s.name, s]));

function partKey(task, variant) {
  return variant.name === "" ? task.name : `${task.name}.${variant.name}`;
}

function answerKey(task, response, variant, trial) {
  const side = variant.name === "" ? "" : `.${variant.name}`;
  const turn = task.trials > 1 ? `.trial-${trial}` : "";
  return `${task.name}.${response.name}${side}${turn}`;
}

function resultKey(task, response, variant) {
  return variant.name === "" ? `${task.name}.${response.name}` : `${task.name}.${response.name}.${variant.name}`;
}

function observationKey(task, tick, variant) {
  return variant.name === "" ? `${task.name}.${tick.name}` : `${task.name}.${tick.name}.${variant.name}`;
}

// Every answer a record can hold, in giving order; sides as the task gives them don't matter here.
const slots = protocol.tasks.flatMap((task) =>
  task.variants.flatMap((variant) =>
    Array.from({ length: task.trials }, (_, i) => i + 1).flatMap((trial) =>
      task.responses.map((response) => ({
        key: answerKey(task, response, variant, trial),
        task,
        response,
        variant,
        trial,
      })),
    ),
  ),
);
const slotOf = new Map(slots.map((s) => [s.key, s]));
const slotsOfTask = new Map(protocol.tasks.map((t) => [t.name, slots.filter((s) => s.task === t)]));

const observationKeys = new Set(
  protocol.tasks.flatMap((t) => t.variants.flatMap((v) => t.ticks.map((tick) => observationKey(t, tick, v)))),
);

function isNumber(response) {
  return response.low !== undefined;
}

// What an answer may be, in the order of the page, each with what stands on it.
function choicesOf(response) {
  return response.scale
    ? protocol.scales[response.scale].map((l) => ({ value: l.points, mark: l.points, text: l.text, example: l.example }))
    : response.options.map((o) => ({ value: o.name, mark: null, text: o.text }));
}

function isOnForm(task, form) {
  return form !== "short" || task.short;
}

function ageWords(months) {
  return `${Math.floor(months / 12)};${months % 12}`;
}
