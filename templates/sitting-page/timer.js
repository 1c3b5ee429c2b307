// Stopwatches and tap counters. Both act when pressed, and run on while another task is looked at. What was measured stays
// beside what is recorded.
const watches = new Map();

function timerField(key, response, spoken) {
  const name = at("clock", key);
  const shown = el("output.time", {}, "0.0");
  const remark = el("p.hint.warn", { role: "status" });
  const press = el("button.timer", { type: "button" });
  const show = () => {
    const watch = watches.get(name);
    shown.textContent = shownTime(watch ? watch.elapsed() : (sheet.get(name)?.ms ?? 0));
  };
  const showState = () => {
    const isRunning = watches.has(name);
    press.textContent = isRunning ? words.stopTimer : words.startTimer;
    press.setAttribute("aria-label", `${press.textContent}: ${spoken}`);
    press.classList.toggle("running", isRunning);
    if (isRunning) {
      whileShown(press, show);
    }
    show();
  };
  onPress(press, (pressedAt) => {
    const watch = watches.get(name);
    if (watch === undefined) {
      watches.set(name, new Stopwatch(pressedAt));
    } else {
      watches.delete(name);
      remark.textContent = keepTime(key, response, watch.elapsed(pressedAt), watch.slept);
    }
    showState();
  });
  sheet.bind(name, showState);
  return el("div.watch", { "data-run": key }, press, shown, remark);
}

// Keeps the time on the answer's step, and what was measured beside it. Gives what there is to say of it.
function keepTime(key, response, ms, slept) {
  const value = onStep(ms / 1000, response);
  const problem = problemWith(value, response);
  const clock = [at("clock", key), { ms, slept }];
  sheet.setAll(problem === null ? [[at("answers", key), value], clock] : [clock]);
  return [
    slept > 0 ? `The device slept ${shownTime(slept)} s of this time: judge whether it counts.` : "",
    problem === null ? "" : `${value} s was measured. ${problem}`,
  ].filter((t) => t !== "").join(" ");
}

// Looks twenty times a second for as long as the node stands on the page.
function whileShown(node, look) {
  const again = setInterval(() => {
    if (node.isConnected && node.classList.contains("running")) {
      look();
    } else if (document.contains(byId("screen"))) {
      clearInterval(again);
    }
  }, 50);
}

// Every tap is kept with its time; any one can be taken out again. The count follows the taps.
function tapField(key, response, spoken) {
  const path = at("taps", key);
  const list = el("ol.taps");
  const tally = el("output.tally", {}, "0");
  const all = el("details", { hidden: true }, el("summary", { "aria-label": `${words.taps}: ${spoken}` }, words.taps), list);
  const press = el("button.tap", { type: "button", "aria-label": `${words.tap}: ${spoken}` }, words.tap);
  const isOfIntervals = response.spans === "intervals";
  const about = el("p.hint", {}, "");
  const put = (taps) => {
    const value = String(isOfIntervals ? Math.max(0, taps.length - 1) : taps.length);
    const count = taps.length > 0 && problemWith(value, response) === null ? value : null;
    sheet.setAll([[path, taps.length === 0 ? null : taps], [at("answers", key), count]]);
  };
  onPress(press, (pressedAt) => put([...(sheet.get(path) ?? []), nextTap(path, pressedAt)]));
  sheet.bind(path, () => {
    const taps = sheet.get(path) ?? [];
    tally.textContent = String(taps.length);
    about.textContent = isOfIntervals && taps.length > 0 ? `taps, ${taps.length - 1} intervals between them` : "taps";
    all.hidden = taps.length === 0;
    list.replaceChildren(...taps.map((tap, i) => tapItem(taps, i, put)));
  });
  return el("div.tapper", { "data-run": key }, press, tally, about, all);
}

// Milliseconds after the first tap. Where the page was closed in between, nobody knows how long the pause was.
function nextTap(path, pressedAt) {
  const taps = sheet.get(path) ?? [];
  const watch = watches.get(path);
  if (taps.length > 0 && watch !== undefined) {
    return { ms: Math.round(watch.from + watch.elapsed(pressedAt)) };
  }
  const from = taps.at(-1)?.ms ?? 0;
  watches.set(path, Object.assign(new Stopwatch(pressedAt), { from }));
  return taps.length === 0 ? { ms: 0 } : { ms: from, afterPause: true };
}

function tapItem(taps, i, put) {
  const gap = i === 0 ? "first" : taps[i].afterPause ? "after a pause" : `+${((taps[i].ms - taps[i - 1].ms) / 1000).toFixed(2)} s`;
  const remove = () => put(taps.filter((_, j) => j !== i));
  return el("li", {}, el("span.gap", {}, gap), button("Remove", remove, { kind: "small", "aria-label": `Remove tap ${i + 1}, ${gap}` }));
}
