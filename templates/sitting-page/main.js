// Puts the page together and starts it.
const screenOf = {
  start: () => leaveSecond(startScreen),
  before: () => leaveSecond(beforeScreen),
  give: giveScreen,
  end: () => leaveSecond(endScreen),
  log: logScreen,
  export: () => leaveSecond(exportScreen),
  result: resultScreen,
  second: endSecond,
};

function leaveSecond(show) {
  prefix = "";
  return show();
}

sheet.listeners.add((paths) => {
  followChange(paths);
  showState();
});
saving.listeners.add(showTrouble);

document.addEventListener("keydown", (event) => {
  const isTyping = event.target instanceof Element && event.target.matches("input[type=text], textarea");
  if ((event.ctrlKey || event.metaKey) && !isTyping && sheet.isOpen && !document.querySelector("dialog[open]")) {
    const key = event.key.toLowerCase();
    const way = key === "z" && !event.shiftKey ? "undo" : key === "y" || (key === "z" && event.shiftKey) ? "redo" : null;
    if (way !== null) {
      event.preventDefault();
      stepBack(way);
    }
  }
});

// Another tab may have gone on with this sitting while this one was out of sight.
document.addEventListener("visibilitychange", async () => {
  if (document.visibilityState === "visible" && (await sheet.catchUp())) {
    screens.again();
    announce("Taken over what another tab entered meanwhile.");
  }
});

window.addEventListener("beforeunload", (event) => {
  if (sheet.isOpen && !saving.isPaused && (saving.store === null || saving.trouble !== null || !saving.isIdle)) {
    event.preventDefault();
  }
});
window.addEventListener("beforeprint", buildPaper);

await saving.open();
await startScreen();
document.body.dataset.ready = "yes";
