import type { SingleBar } from 'cli-progress';
import type { Terminal } from './terminal.ts';

/** Nothing is shown for what is over within this time, ms. */
const QUIET_MS = 1000;

/** Tells a person how far a long piece of work is. */
export interface Progress {
  /** So many parts are done, and this is what comes next. */
  at(done: number, next: string): Promise<void>;
  /** Clears the bar. */
  end(): void;
}

/**
 * A bar on the error stream for work of so many parts. Quiet where nobody looks (a pipe, a file) and for work that takes less
 * than a second.
 */
export function progress(terminal: Terminal, total: number): Progress {
  if (!terminal.err.isTTY) return { at: async () => {}, end: () => {} };
  const startedMs = performance.now();
  let bar: SingleBar | null = null;
  const at = async (done: number, next: string): Promise<void> => {
    if (bar === null && performance.now() - startedMs >= QUIET_MS) bar = await openBar(terminal, total);
    bar?.update(done, { next });
    // Drawing waits for a turn of the event loop.
    await new Promise((resolve) => setImmediate(resolve));
  };
  return { at, end: () => bar?.stop() };
}

async function openBar(terminal: Terminal, total: number): Promise<SingleBar> {
  const { default: cliProgress } = await import('cli-progress');
  const bar = new cliProgress.SingleBar({
    format: '{bar} {percentage} %  {next}',
    barsize: 24,
    barCompleteChar: '#',
    barIncompleteChar: '.',
    stream: terminal.err,
    clearOnComplete: true,
    // A command that is stopped in the middle leaves no hidden cursor behind, and our own handler does the stopping.
    hideCursor: false,
    gracefulExit: false,
  });
  bar.start(total, 0, { next: '' });
  return bar;
}
