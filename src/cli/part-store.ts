import type { Variant } from '../index.ts';

/** A part in use: whoever took it gives it back. */
export interface Taken<T> {
  readonly part: Promise<T>;
  giveBack(): void;
}

interface Entry<T> {
  readonly part: Promise<T>;
  users: number;
}

/**
 * Parts that variants share, made when they are first asked for. A few are kept at a time: the longest unused one makes room, and
 * where all are in use the next one has to wait. So memory does not grow with the number of variants.
 */
export class PartStore<T> {
  private readonly entries = new Map<string, Entry<T>>();
  private readonly waiting: (() => void)[] = [];
  private readonly room: number;
  private readonly make: (variant: Variant) => Promise<T>;

  constructor(room: number, make: (variant: Variant) => Promise<T>) {
    this.room = room;
    this.make = make;
  }

  /** The part of a key, made from any variant that has this key. To be called by one caller at a time. */
  async take(key: string, variant: Variant): Promise<Taken<T>> {
    let entry = this.entries.get(key);
    if (entry === undefined) {
      while (!this.makeRoom()) await new Promise<void>((resolve) => this.waiting.push(resolve));
      entry = { part: this.make(variant), users: 0 };
      // Whoever uses the part hears of its failure; without users nobody need.
      entry.part.catch(() => {});
    }
    // Put at the end: what was used last is dropped last.
    this.entries.delete(key);
    this.entries.set(key, entry);
    entry.users++;
    return { part: entry.part, giveBack: () => this.giveBack(entry) };
  }

  private giveBack(entry: Entry<T>): void {
    entry.users--;
    this.waiting.shift()?.();
  }

  private makeRoom(): boolean {
    if (this.entries.size < this.room) return true;
    for (const [key, { users }] of this.entries) {
      if (users > 0) continue;
      this.entries.delete(key);
      return true;
    }
    return false;
  }
}
