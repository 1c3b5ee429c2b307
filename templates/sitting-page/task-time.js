// How long each task stood open. Milliseconds wait here for the next entry of the log, which takes them along; so nothing is
// written for turning a page, and what is lost in a crash is no more than the time since that entry.
const taskTime = {
  task: null,
  watch: null,
  waiting: new Map(),

  // The task that is open now; null where none is, or where answers are copied rather than given.
  turn(task) {
    this.settle();
    this.task = task;
  },

  // A page out of sight is no task being given, and neither is a device asleep.
  settle() {
    if (this.watch !== null && this.task !== null) {
      const passed = this.watch.elapsed() - this.watch.slept;
      this.waiting.set(this.task, (this.waiting.get(this.task) ?? 0) + passed);
    }
    this.watch = document.visibilityState === "visible" ? new Stopwatch() : null;
  },

  // What the next entry takes along; nothing where no time passed.
  take() {
    this.settle();
    const spent = [...this.waiting].map(([task, ms]) => [task, Math.round(ms)]).filter(([, ms]) => ms > 0);
    this.waiting.clear();
    return spent.length === 0 ? {} : { spent: Object.fromEntries(spent) };
  },

  forget() {
    this.turn(null);
    this.waiting.clear();
  },

  // Whole seconds by task: what a record that was taken in says, and what passed since.
  seconds(entries, before) {
    this.settle();
    const sums = new Map(before.map(([task, seconds]) => [task, Number(seconds) * 1000]));
    for (const spent of [...entries.map((entry) => entry.spent ?? {}), Object.fromEntries(this.waiting)]) {
      Object.entries(spent).forEach(([task, ms]) => sums.set(task, (sums.get(task) ?? 0) + ms));
    }
    return [...sums].map(([task, ms]) => [task, Math.min(Math.round(ms / 1000), mostTaskSeconds)]).filter(([, seconds]) => seconds > 0);
  },
};

const mostTaskSeconds = 3600;

document.addEventListener("visibilitychange", () => taskTime.settle());
