/** Keeps the last few things made, by a key that says what they were made from. */
export class Kept<T> {
  private readonly things = new Map<string, T>();
  private readonly most: number;

  constructor(most: number) {
    this.most = most;
  }

  /** The thing of a key, made if it is not kept. */
  get(key: string, make: () => T): T {
    const found = this.things.get(key);
    const thing = found === undefined ? make() : found;
    this.things.delete(key);
    this.things.set(key, thing);
    const [oldest] = this.things.keys();
    if (this.things.size > this.most && oldest !== undefined) this.things.delete(oldest);
    return thing;
  }

  clear(): void {
    this.things.clear();
  }
}
