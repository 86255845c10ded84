import type { Ask, DataFile, OutputName, Tell } from './engine/protocol.ts';
import type { Chosen } from './state.ts';

/** Long work begins when nothing has been touched for so long, ms: longer than between two keys that are typed. */
const QUIET_MS = 600;

/** Name of the worker that does it. */
export const LONG_WORKER = 'years';

/** Long work of each view. */
const LONG_WORK = { promise: 'years', choice: 'sizes', setting: 'curve' } as const;

/**
 * The page's side of its two workers: one answers touches at once, the other does what takes long, and neither waits for the other.
 */
export class Client {
  private readonly front: Worker;
  private readonly url: string;
  private readonly filesSoFar: DataFile[] = [];
  private lazyBack: Worker | null = null;
  private readonly hear: (told: Tell, isLatest: boolean) => void;
  private id = 0;
  private answered = 0;
  private long: Ask | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;

  /**
   * @param source  text of the page's own script, which is the workers' too
   * @param first   a worker that was begun beside the page; left out: one is begun now
   */
  constructor(source: string, hear: (told: Tell, isLatest: boolean) => void, first?: Worker) {
    this.url = URL.createObjectURL(new Blob([source], { type: 'text/javascript' }));
    this.hear = hear;
    this.front = this.listenTo(first ?? new Worker(this.url));
  }

  /** The worker for what takes long begins with the first such work: at the opening it would only be in the way. */
  private get back(): Worker {
    if (this.lazyBack === null) {
      this.lazyBack = this.listenTo(new Worker(this.url, { name: LONG_WORKER }));
      if (this.filesSoFar.length > 0) this.send(this.lazyBack, { kind: 'files', files: this.filesSoFar });
    }
    return this.lazyBack;
  }

  private listenTo(worker: Worker): Worker {
    worker.onmessage = ({ data }: MessageEvent<Tell>) => {
      if (data.kind === 'answer') this.answered = data.id;
      this.hear(data, !('id' in data) || data.id === this.id);
      if (data.kind === 'beside' && data.id === this.id) this.afterQuiet();
    };
    worker.onerror = (event) => this.hear({ kind: 'failed', message: event.message }, true);
    return worker;
  }

  files(files: readonly DataFile[]): void {
    this.filesSoFar.push(...files);
    for (const worker of [this.front, this.lazyBack]) if (worker !== null) this.send(worker, { kind: 'files', files });
  }

  /** Asks for the answer; what is shown beside it is asked for when that has been drawn. */
  household(chosen: Chosen): void {
    this.id++;
    clearTimeout(this.timer);
    if (this.lazyBack !== null) this.send(this.lazyBack, { kind: 'rest', id: this.id, draft: chosen.draft });
    this.send(this.front, { kind: 'answer', id: this.id, draft: chosen.draft });
    this.planLong(chosen);
  }

  /** An answer stands there: now comes the rest. On a machine with one processor the drawing would have to share it. */
  drawn(chosen: Chosen): void {
    if (this.answered !== this.id) return;
    if (chosen.day >= 0) this.day(chosen);
    this.choice(chosen);
    this.send(this.front, { kind: 'beside', id: this.id, draft: chosen.draft });
  }

  /** Asks for what a view shows beside the answer. */
  view(chosen: Chosen): void {
    this.planLong(chosen);
    // While the household's own answer is still being worked out, everything else waits for it.
    if (this.answered !== this.id) return;
    this.choice(chosen);
    this.afterQuiet();
  }

  private choice({ draft, view }: Chosen): void {
    if (view === 'choice') this.send(this.front, { kind: 'choice', id: this.id, draft });
  }

  private planLong({ draft, view }: Chosen): void {
    this.long = { kind: LONG_WORK[view], id: this.id, draft };
  }

  private afterQuiet(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.long !== null && this.send(this.back, this.long), QUIET_MS);
  }

  day({ draft, before, day, language }: Chosen): void {
    this.send(this.front, { kind: 'day', id: this.id, draft, before, day, language });
  }

  output({ draft }: Chosen, name: OutputName, version: string): void {
    this.send(this.front, { kind: 'output', id: this.id, draft, name, version });
  }

  private send(worker: Worker, ask: Ask): void {
    worker.postMessage(ask);
  }
}
