// The sitting that is open. Values stand under paths such as answers.kiss.rate.trial-1; every change goes through here.
const typedInOneGo = 2000;

const sheet = {
  head: null,
  log: new ChangeLog(),
  bindings: new Map(),
  listeners: new Set(),

  get isOpen() {
    return this.head !== null;
  },

  get(path) {
    return this.log.values.get(path) ?? null;
  },

  // Changes one value; null takes it away.
  set(path, value) {
    this.setAll([[path, value]]);
  },

  // What is typed letter by letter: kept at each letter, undone in one go.
  type(path, value) {
    const before = this.log.entries.at(-1);
    const joins = this.log.lastIs(path) && Date.now() - before.at < typedInOneGo;
    this.setAll([[path, value === "" ? null : value]], { joins });
  },

  // Changes several values as one change.
  setAll(pairs, more = {}) {
    const sets = pairs
      .map(([path, to]) => ({ path, from: this.get(path), to }))
      .filter((s) => JSON.stringify(s.from) !== JSON.stringify(s.to));
    if (sets.length > 0) {
      this.write({ kind: "change", sets, ...more });
    }
  },

  undo() {
    if (this.log.canUndo) {
      this.write({ kind: "undo", of: this.log.lastDone });
    }
  },

  redo() {
    if (this.log.canRedo) {
      this.write({ kind: "redo", of: this.log.lastUndone });
    }
  },

  write(entry) {
    const whole = { n: this.log.next, at: Date.now(), ...entry, ...taskTime.take() };
    const paths = this.log.take(whole);
    saving.add(this.head.code, whole);
    this.changed(paths);
  },

  changed(paths) {
    new Set(paths).forEach((path) => this.bindings.get(path)?.forEach((show) => show()));
    this.listeners.forEach((listener) => listener(paths));
  },

  // Shows a value now and whenever it changes, until the screen changes.
  bind(path, show) {
    if (!this.bindings.has(path)) {
      this.bindings.set(path, new Set());
    }
    this.bindings.get(path).add(show);
    show();
  },

  async begin(values = []) {
    const code = newCode();
    this.put({
      code,
      protocol: protocol.name,
      edition: protocol.edition,
      fingerprints: protocol.fingerprints,
      began: Date.now(),
    }, []);
    if (saving.store !== null) {
      try {
        await saving.store.addHead(this.head);
      } catch (error) {
        saving.tell(troubleOf(error));
      }
    }
    const first = new Map([["case", code], ["parts", [{ seen: today() }]], ["form", protocol.form], ...values.filter(([, value]) => value !== null)]);
    this.write({ kind: "begin", sets: [...first].map(([path, to]) => ({ path, from: null, to })), isImport: values.length > 0 });
  },

  // Goes on with a sitting that is kept here, and marks how long nobody could enter anything.
  async resume(head) {
    const entries = await saving.store.entries(head.code);
    this.put(head, entries.map(({ code, ...entry }) => entry));
    const last = this.log.entries.at(-1);
    this.write({ kind: "gap", from: last?.at ?? head.began, to: Date.now() });
  },

  put(head, entries) {
    saving.queue = [];
    saving.isPaused = false;
    watches.clear();
    taskTime.forget();
    this.head = head;
    this.log = new ChangeLog();
    entries.forEach((entry) => this.log.take(entry));
  },

  // Takes in what another tab added meanwhile. True where there was something.
  async catchUp() {
    if (saving.store === null || !this.isOpen || !saving.isIdle) {
      return false;
    }
    if ((await saving.store.count(this.head.code)) <= this.log.next) {
      return false;
    }
    const entries = await saving.store.entries(this.head.code);
    this.put(this.head, entries.map(({ code, ...entry }) => entry));
    return true;
  },

  close() {
    taskTime.forget();
    this.head = null;
    this.log = new ChangeLog();
    this.bindings.clear();
  },
};
