// What happened to a sitting, entry by entry. Nothing is ever taken out of it: an undone change is undone by a further entry.
// Kinds: begin { sets }, which can't be undone, change { sets: [{ path, from, to }] }, undo { of: [n…] }, redo { of: [n…] }, and remarks such as a gap.
class ChangeLog {
  entries = [];
  values = new Map();
  #done = [];
  #undone = [];

  get next() {
    return this.entries.length;
  }

  get canUndo() {
    return this.#done.length > 0;
  }

  get canRedo() {
    return this.#undone.length > 0;
  }

  // Takes an entry in and gives the paths whose values it changed.
  take(entry) {
    this.entries.push(entry);
    if (entry.kind === "begin") {
      return this.#forward([entry.n]);
    }
    if (entry.kind === "change") {
      const joins = entry.joins === true && this.#done.length > 0;
      if (joins) {
        this.#done[this.#done.length - 1].push(entry.n);
      } else {
        this.#done.push([entry.n]);
      }
      this.#undone = [];
      return this.#forward([entry.n]);
    }
    if (entry.kind === "undo") {
      this.#undone.push(this.#done.pop());
      return this.#backward(entry.of);
    }
    if (entry.kind === "redo") {
      this.#done.push(this.#undone.pop());
      return this.#forward(entry.of);
    }
    return [];
  }

  // The entries that the next undo or redo is about.
  get lastDone() {
    return this.#done.at(-1) ?? null;
  }

  get lastUndone() {
    return this.#undone.at(-1) ?? null;
  }

  // Whether the last change is of this path alone, and how old it is: what is typed in one go is undone in one go.
  lastIs(path) {
    const entry = this.entries.at(-1);
    return entry?.kind === "change" && entry.sets.length === 1 && entry.sets[0].path === path;
  }

  #forward(numbers) {
    const sets = numbers.flatMap((n) => this.entries[n].sets);
    sets.forEach((s) => this.#put(s.path, s.to));
    return sets.map((s) => s.path);
  }

  #backward(numbers) {
    const sets = numbers.flatMap((n) => this.entries[n].sets).reverse();
    sets.forEach((s) => this.#put(s.path, s.from));
    return sets.map((s) => s.path);
  }

  #put(path, value) {
    if (value === null || value === undefined) {
      this.values.delete(path);
    } else {
      this.values.set(path, value);
    }
  }
}
