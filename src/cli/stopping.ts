/** What a command that is stopped in the middle does and says, and work that a stop must not cut in two. */

const onStop = new Set<() => string | null>();
let undisturbedNow = 0;
let waiting: (() => void) | null = null;

/**
 * While a command does something that can be stopped: what then is to be done at once, and what the user should know.
 *
 * @returns a function that ends this
 */
export function whenStopped(action: () => string | null): () => void {
  onStop.add(action);
  return () => void onStop.delete(action);
}

/** Work of a few milliseconds (files put in their places) that a stop waits for. */
export async function undisturbed<T>(work: () => Promise<T>): Promise<T> {
  undisturbedNow++;
  try {
    return await work();
  } finally {
    undisturbedNow--;
    if (undisturbedNow === 0) waiting?.();
  }
}

/** Does all that is to be done when the command is stopped, as soon as it may be, and then ends it. */
export function stopSoon(end: (told: readonly string[]) => void): void {
  const stop = (): void => end([...onStop].map((action) => action()).filter((text) => text !== null));
  if (undisturbedNow === 0) stop();
  else waiting = stop;
}
