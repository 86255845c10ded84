import { render } from 'preact';
import { App } from './app.tsx';
import { LONG_WORKER } from './client.ts';
import { Engine, type Thread } from './engine/engine.ts';
import type { Ask } from './engine/protocol.ts';
import { YEARS } from './engine/tasks.ts';
import { linkedIn } from './link.ts';
import type { Start } from './start.ts';

declare global {
  interface Window {
    /** Begun by the page's opening lines, before this script is read. */
    firstWorker?: Worker;
  }
}

/** The same script runs the page and, from a copy of its text, the workers. */
if (typeof document === 'undefined') runWorker();
else void runPage(document.currentScript?.textContent ?? '');

/** What takes long is done by a worker of that name, and runs through many years. */
function runWorker(): void {
  const channel = new MessageChannel();
  let resume = (): void => {};
  channel.port1.onmessage = () => resume();
  const thread: Thread = {
    tell: (told) => postMessage(told),
    pause: () =>
      new Promise((resolve) => {
        resume = resolve;
        channel.port2.postMessage(null);
      }),
    nowMs: () => performance.now(),
  };
  const engine = new Engine(thread, self.name === LONG_WORKER ? YEARS : 1);
  addEventListener('message', ({ data }: MessageEvent<Ask>) => engine.ask(data));
}

async function runPage(source: string): Promise<void> {
  const root = document.getElementById('page');
  if (root === null) throw new Error('the page has no place for its contents');
  const written = document.getElementById('start')?.textContent ?? '';
  const start: Start = JSON.parse(written);
  const linked = await linkedIn(location.hash);
  render(<App source={source} start={start} linked={linked} />, root);
}
