/** Keeps the last few things made, by a key that says what they were made from; what falls out may be looked at. */
export class Kept<T> {
  private readonly things = new Map<string, T>();
  private readonly most: number;
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
    const [oldest] = this.things;
    if (this.things.size > this.most && oldest !== undefined) {
      this.things.delete(oldest[0]);
      this.dropped(oldest[1]);
    }
    return thing;
  }

  clear(): void {
    this.things.clear();
  }
}
