/** Keeps the last few things made, by a key that says what they were made from; what falls out may be looked at. */
export class Kept<T> {
  private readonly things = new Map<string, T>();
  private most: number;
  private readonly dropped: (thing: T) => void;

  constructor(most: number, dropped: (thing: T) => void = () => {}) {
    this.most = most;
    this.dropped = dropped;
  }

  /** The thing of a key, made if it is not kept. */
  get(key: string, make: () => T): T {
    const found = this.things.get(key);
    const thing = found === undefined ? make() : found;
    this.things.delete(key);
    this.things.set(key, thing);
    for (const [oldKey, old] of this.things) {
      if (this.things.size <= this.most) break;
      this.things.delete(oldKey);
      this.dropped(old);
    }
    return thing;
  }

  /** Keeps so many from now on. */
  keep(most: number): void {
    this.most = most;
  }

  has(key: string): boolean {
    return this.things.has(key);
  }

  clear(): void {
    this.things.clear();
  }
}
