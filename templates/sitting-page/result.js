// The scores, worked out by the emitted JavaScript. Numbers are written from its whole numbers, digit for digit.
function resultScreen() {
  const record = scoringRecord();
  const result = scoring.score(record);
  screens.show("result", () => [
    heading(words.scores),
    el("p.keep-in-mind", {}, el("b", {}, "A screen makes no diagnosis: it says who needs a closer look."), " Local rules and the judgement of the licensed clinician come first."),
    ...(result.errors.length > 0 ? notScored(result.errors) : scored(record)),
    el("div.actions", {}, button("Back", endScreen), button(words.print, () => window.print()), button(words.export, exportScreen)),
  ]);
}

// What is open is told by task; the scoring's own words only where they say something else.
function notScored(errors) {
  const open = openSlots();
  const tasks = [...new Set(open.map((s) => s.task))];
  const missing = missingProblems();
  const told = [...open.map((s) => `${s.key}:`), ...(missing.length > 0 ? ["ageMonths:", "history"] : [])];
  const others = errors.filter((e) => !told.some((start) => e.startsWith(start)));
  return [
    el("p", {}, "Nothing is scored yet."),
    open.length === 0 ? null : el("p", {}, open.length === 1 ? "1 answer is still open: " : `${open.length} answers are still open: `,
      said("span", `${tasks.map((t) => t.title).join("; ")}.`), ` Give them, or say under “${words.end}” why not.`),
    el("ul.errors", {}, [...missing, ...others.slice(0, 40)].map((e) => said("li", e)), others.length > 40 ? el("li", {}, `and ${others.length - 40} more`) : null),
  ];
}

function scored(record) {
  const lines = scoring.scoreFields(scoring.readRecord(record).fields);
  const isShort = record.form === "short";
  const isUnfit = record.ageMonths < protocol.ages.from || record.ageMonths > protocol.ages.to;
  const bands = new Map(protocol.bands.filter((b) => b.short === isShort).map((b) => [b.of, b]));
  const shown = protocol.outcomes.filter((o) => isShown(o, bands.get(o.name), lines, isShort));
  const left = protocol.outcomes.filter((o) => !shown.includes(o));
  return [
    isUnfit ? el("p.warning", {}, `The age lies outside this protocol’s ages, ${protocol.ages.words}: there are no bands.`) : null,
    actionSection(lines),
    outcomeSection("Scores", shown.filter((o) => o.isScore), bands, lines),
    outcomeSection("Measures", shown.filter((o) => !o.isScore), bands, lines),
    left.length === 0 ? null : el("p.hint", {}, isShort ? "Not part of the short form, or not applicable: " : "Not applicable: ", said("span", `${left.map((o) => o.title).join(", ")}.`)),
    keepInMind([...bands.values()].some((b) => b.provisional)),
  ];
}

function isShown(outcome, band, lines, isShort) {
  if (lines[outcome.state] === 1) {
    return false;
  }
  const kept = outcome.reads.map((key) => keptOf.get(key)).filter(Boolean);
  return !(isShort && band === undefined && kept.length > 0 && kept.every(([, line]) => lines[line] === 1));
}

const keptOf = new Map(protocol.kept.map((k) => [k[0], k]));

function actionSection(lines) {
  const headline = protocol.headline < 0 ? undefined : protocol.actions[lines[protocol.headline]];
  const decision = (a) => (lines[a.applies] === 1 ? "applies" : lines[a.appliesNot] === 1 ? "does not apply" : "undecided");
  const override = sheet.get("override");
  const other = override === null ? undefined : protocol.actions.find((a) => a.name === override.action);
  return el("section", { "aria-labelledby": "actions-title" }, el("h2", { id: "actions-title" }, "What is next"),
    headline ? el("p.headline", { "data-headline": headline.name }, said("b", headline.title), headline.urgency ? said("span", `, ${headline.urgency}`) : "") : null,
    undecidedAbove(headline, lines),
    other ? el("p", {}, "Decided otherwise: ", said("b", other.title), " — ", said("span", override.reason), " (", said("span", override.role), ")") : null,
    el("ul", {}, protocol.actions.map((a) => el("li", { "data-action": a.name, "data-decision": decision(a) }, said("span", a.title), `: ${decision(a)}.`))));
}

// Actions that are more severe than the headline and may still turn out to apply.
function undecidedAbove(headline, lines) {
  const above = protocol.actions
    .slice(0, headline === undefined ? undefined : protocol.actions.indexOf(headline))
    .filter((a) => lines[a.applies] !== 1 && lines[a.appliesNot] !== 1);
  return above.length === 0 ? null : el("p", {}, "More severe and still undecided: ", said("b", above.map((a) => a.title).join("; ")), ".");
}

function outcomeSection(title, outcomes, bands, lines) {
  if (outcomes.length === 0) {
    return null;
  }
  const id = newId("outcomes");
  return el("section", { "aria-labelledby": id }, el("h2", { id }, title),
    el("dl.outcomes", {}, outcomes.map((o) => outcomeRow(o, bands.get(o.name), lines))));
}

function outcomeRow(outcome, band, lines) {
  const state = lines[outcome.state];
  const low = state === 0 ? exact(lines[outcome.low], lines[outcome.lowBy], outcome.scale) : null;
  const high = state === 0 ? exact(lines[outcome.high], lines[outcome.highBy], outcome.scale) : null;
  const unit = outcome.unit ? ` ${outcome.unit}` : "";
  const value = state !== 0 ? `no value, ${protocol.states[state]}` : low === high ? `${low}${unit}` : `between ${low} and ${high}${unit}`;
  const missing = outcome.reads.map((key) => keptOf.get(key)).filter((k) => k !== undefined && lines[k[1]] >= 2)
    .map(([, line, title, side]) => `${title}${side ? `, ${side}` : ""}: ${protocol.states[lines[line]]}`);
  return el("div.outcome", {
    "data-outcome": outcome.name, "data-state": String(state), "data-low": low, "data-high": high,
    "data-band": band === undefined ? null : bandName(band, lines),
  },
    said("dt", outcome.title),
    el("dd", {}, el("span.value", {}, value), band === undefined ? null : bandWords(band, lines),
      weakerSide(outcome, lines),
      outcome.table ? el("span.hint", {}, " Looked up for ", said("span", outcome.table[0]), outcome.table[1] === "provisional" ? ", provisional." : ".") : null,
      outcome.timing ? el("span.hint", {}, ` Timed by hand, give or take ${outcome.timing.replace("within ", "")}.`) : null,
      missing.length === 0 ? null : said("span.hint", ` Not tried: ${missing.join("; ")}.`)));
}

const noBand = ["undecided", "not applicable", "blocked", "no-band"];

function bandName(band, lines) {
  return [...band.names, ...noBand][lines[band.line]];
}

// A band, always with what it rests on; provisional is said wherever one appears.
function bandWords(band, lines) {
  const index = lines[band.line];
  const text = index < band.texts.length ? said("span", band.texts[index]) : el("span", {}, ["undecided", "not applicable", "no band, the value is blocked", "no band at this age"][index - band.texts.length]);
  const basis = band.provisional ? el("b.provisional", {}, "provisional cut-offs") : el("span.hint", {}, `cut-offs: ${band.basis}${band.children ? `, n ${band.children}` : ""}`);
  return el("span.band", {}, text, " · ", basis);
}

function weakerSide(outcome, lines) {
  if (outcome.weaker === null || outcome.weaker === undefined) {
    return null;
  }
  const words = ["Neither side is the weaker one.", "The child’s left is the weaker side.", "The child’s right is the weaker side.", "Undecided which side is the weaker one.", ""][lines[outcome.weaker]];
  return el("span.hint", {}, ` ${words}`);
}

function keepInMind(isProvisional) {
  return el("section", { "aria-labelledby": "mind-title" }, el("h2", { id: "mind-title" }, "Please keep in mind"),
    el("ul", {},
      el("li", {}, careText("screen-limits")),
      isProvisional ? el("li", {}, "Provisional cut-offs do not rest on enough children yet: take their bands as a first guess.") : null,
      el("li", {}, careText("nonspeech-limits")),
      el("li", {}, careText("refer-today"))));
}

// A fraction as it is written: a decimal where its digits end, else one number over another.
function exact(number, by, [above, below]) {
  let top = BigInt(number) * BigInt(above);
  let bottom = BigInt(by ?? 1) * BigInt(below);
  const common = divisor(top < 0n ? -top : top, bottom);
  top /= common;
  bottom /= common;
  let rest = bottom;
  let places = 0;
  let scaled = top;
  while (rest !== 1n && places < 30) {
    if (rest % 10n !== 0n && rest % 2n !== 0n && rest % 5n !== 0n) {
      return `${top}/${bottom}`;
    }
    scaled *= 10n;
    places += 1;
    const shared = divisor(scaled < 0n ? -scaled : scaled, rest);
    scaled /= shared;
    rest /= shared;
  }
  const digits = String(scaled < 0n ? -scaled : scaled).padStart(places + 1, "0");
  const sign = scaled < 0n ? "-" : "";
  return places === 0 ? `${sign}${digits}` : `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

function divisor(a, b) {
  return b === 0n ? (a === 0n ? 1n : a) : divisor(b, a % b);
}
