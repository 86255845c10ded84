/** Work in stages of some hundredths of a second: whoever has other things to do looks after them in between, or lets the rest be. */
export type Stages<T> = Generator<undefined, T, undefined>;

/** Works all stages off at once. @returns what comes of them */
export function finished<T>(stages: Stages<T>): T {
  for (;;) {
    const { done, value } = stages.next();
    if (done) return value;
  }
}
