// Parts of what is drawn of a take, asked of the server as they are seen; those that were looked at last are kept.

const AGAIN = 2000; // milliseconds until what could not be had is asked for again

export class Tiles {
  constructor(most, changed) {
    this.most = most;
    this.changed = changed; // called when one has come
    this.kept = new Map();
  }

  // The tile of a name, asked for if it is not here; null until it is.
  get(name, ask) {
    const found = this.kept.get(name);
    if (found === undefined) this.have(name, ask);
    else if (found) {
      this.kept.delete(name); // those that are looked at stay longest
      this.kept.set(name, found);
    }
    return found ?? null;
  }

  // The tile of a name if it is here.
  found(name) {
    return this.kept.get(name) ?? null;
  }

  *all() {
    for (const tile of this.kept.values()) if (tile) yield tile;
  }

  async have(name, ask) {
    this.kept.set(name, null);
    try {
      this.kept.set(name, await ask());
    } catch {
      setTimeout(() => this.kept.delete(name), AGAIN);
      return;
    }
    for (const [old, tile] of this.kept) {
      if (this.kept.size <= this.most) break;
      if (tile) this.kept.delete(old);
    }
    this.changed();
  }
}
