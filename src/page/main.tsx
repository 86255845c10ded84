import { render } from 'preact';
import { App } from './app.tsx';
import { Engine } from './engine/engine.ts';
import type { Ask } from './engine/protocol.ts';
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

function runWorker(): void {
  const channel = new MessageChannel();
  let resume = (): void => {};
  channel.port1.onmessage = () => resume();
  const engine = new Engine({
    tell: (told) => postMessage(told),
    pause: () =>
      new Promise((resolve) => {
        resume = resolve;
        channel.port2.postMessage(null);
      }),
    nowMs: () => performance.now(),
  });
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
