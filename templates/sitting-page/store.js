// What is kept on this device: a head for each sitting, and its entries, each under the sitting's code and its own number. An
// entry is only ever added: two tabs that add the same number can't both succeed, so neither overwrites the other.
const storeName = "protocolkit-sittings";

class Store {
  #db;

  constructor(db) {
    this.#db = db;
  }

  // A store, or the reason why there is none: absent or forbidden.
  static open() {
    return new Promise((resolve) => {
      let asked;
      try {
        if (!globalThis.indexedDB) {
          resolve("absent");
          return;
        }
        asked = indexedDB.open(storeName, 1);
      } catch {
        resolve("forbidden");
        return;
      }
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore("heads", { keyPath: "code" });
        asked.result.createObjectStore("entries", { keyPath: ["code", "n"] });
      };
      asked.onsuccess = () => {
        asked.result.onversionchange = () => asked.result.close();
        resolve(new Store(asked.result));
      };
      asked.onerror = () => resolve("forbidden");
      asked.onblocked = () => resolve("forbidden");
    });
  }

  heads() {
    return this.#ask("heads", "readonly", (heads) => heads.getAll());
  }

  entries(code) {
    return this.#ask("entries", "readonly", (entries) => entries.getAll(rangeOf(code)));
  }

  count(code) {
    return this.#ask("entries", "readonly", (entries) => entries.count(rangeOf(code)));
  }

  addHead(head) {
    return this.#ask("heads", "readwrite", (heads) => heads.add(head));
  }

  putHead(head) {
    return this.#ask("heads", "readwrite", (heads) => heads.put(head));
  }

  addEntry(code, entry) {
    return this.#ask("entries", "readwrite", (entries) => entries.add({ code, ...entry }));
  }

  async wipe(code) {
    await this.#ask("entries", "readwrite", (entries) => entries.delete(rangeOf(code)));
    await this.#ask("heads", "readwrite", (heads) => heads.delete(code));
  }

  // Resolves once the transaction is complete, not merely once the request is.
  #ask(name, mode, act) {
    return new Promise((resolve, reject) => {
      let request;
      try {
        const transaction = this.#db.transaction(name, mode);
        request = act(transaction.objectStore(name));
        transaction.oncomplete = () => resolve(request.result);
        transaction.onabort = () => reject(transaction.error ?? request.error ?? new Error("not kept"));
        transaction.onerror = () => reject(transaction.error ?? request.error ?? new Error("not kept"));
      } catch (error) {
        reject(error);
      }
    });
  }
}

function rangeOf(code) {
  return IDBKeyRange.bound([code, 0], [code, Number.MAX_SAFE_INTEGER]);
}

// Letters and digits that can't be mistaken for one another; about 33 bits of chance.
function newCode() {
  const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ";
  const digits = "23456789";
  const picks = crypto.getRandomValues(new Uint32Array(8));
  const pick = (from, i) => from[picks[i] % from.length];
  return `${pick(letters, 0)}${pick(letters, 1)}${pick(digits, 2)}${pick(digits, 3)}-${pick(letters, 4)}${pick(digits, 5)}${pick(letters, 6)}${pick(digits, 7)}`;
}
