// Keeps entries one after the other, and says at once when it can't.
const saving = {
  store: null,
  trouble: null,
  queue: [],
  isBusy: false,
  // Wiped after an export: nothing is written again unless it is put back.
  isPaused: false,
  listeners: new Set(),

  async open() {
    const found = await Store.open();
    this.store = typeof found === "string" ? null : found;
    this.tell(typeof found === "string" ? found : null);
  },

  get isIdle() {
    return this.queue.length === 0 && !this.isBusy;
  },

  tell(trouble) {
    this.trouble = trouble;
    this.listeners.forEach((listener) => listener());
  },

  add(code, entry) {
    if (this.store !== null && !this.isPaused && this.trouble !== "conflict") {
      this.queue.push({ code, entry });
      this.run();
    }
  },

  async run() {
    if (this.isBusy) {
      return;
    }
    this.isBusy = true;
    while (this.queue.length > 0) {
      const { code, entry } = this.queue[0];
      try {
        await this.store.addEntry(code, entry);
        this.queue.shift();
      } catch (error) {
        this.isBusy = false;
        this.tell(troubleOf(error));
        return;
      }
    }
    this.isBusy = false;
    this.tell(null);
  },
};

function troubleOf(error) {
  return { ConstraintError: "conflict", QuotaExceededError: "full" }[error?.name] ?? "failed";
}
