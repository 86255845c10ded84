import { setMaxListeners } from 'node:events';
import { availableParallelism } from 'node:os';
import { extname } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Worker } from 'node:worker_threads';
import { Tinypool } from 'tinypool';
import {
  type Ask,
  type HousePart,
  issueText,
  partKeys,
  type SkyPart,
  type StudyBase,
  type Task,
  type TaskResult,
  variantInput,
} from '../index.ts';
import { PartStore, type Taken } from './part-store.ts';
import { MachineFailure } from './problem.ts';
import type { Done, Job } from './study-worker.ts';

/** Works through variants on worker threads. */
export interface Engine {
  readonly workers: number;
  /** Runs tasks in whatever order suits; each result is told as it comes. */
  run(tasks: readonly Task[], onResult: (result: TaskResult) => void | Promise<void>): Promise<void>;
  close(): Promise<void>;
}

/** A worker that runs from source needs the loader as the main thread has it. */
const fromSource = (): string[] => [
  '--import',
  `data:text/javascript,import { register } from "${import.meta.resolve('tsx/esm/api')}"; register();`,
];

/** Tasks given to the pool ahead of its work, for each worker: enough to never let it wait, few enough to hold little in memory. */
const AHEAD_PER_WORKER = 6;

/**
 * A pool of workers for the variants of one scenario.
 *
 * @param workers  how many; the machine's cores where it is left out
 */
export function openEngine(base: StudyBase, workers = availableParallelism()): Engine {
  const extension = extname(fileURLToPath(import.meta.url));
  const watch = watchWorkers();
  const pool = new Tinypool({
    // From source as from the bundle: parts of the bundle lie one folder beside the command's.
    filename: new URL(`../cli/study-worker${extension}`, import.meta.url).href,
    minThreads: workers,
    maxThreads: workers,
    workerData: base,
    ...(extension === '.ts' ? { execArgv: fromSource() } : {}),
  });
  const work = async <T>(job: Job): Promise<T> => {
    const done = await watch.orLost(pool.run(job, { signal: watch.signal }) as Promise<Done<T>>);
    if ('problem' in done) throw new Error(done.problem);
    return done.value;
  };
  const skies = new PartStore<SkyPart>(workers + 1, (variant) => work({ kind: 'sky', variant }));
  const houses = new PartStore<HousePart>(workers + 2, (variant) => work({ kind: 'house', variant }));

  const ranks = new Ranks();

  const perform = async (task: Task, sky: Taken<SkyPart>, house: Taken<HousePart>): Promise<TaskResult> => {
    try {
      return await work<TaskResult>({ kind: 'task', task, sky: await sky.part, house: await house.part });
    } catch (error) {
      if (error instanceof MachineFailure) throw error;
      return { index: task.index, problem: error instanceof Error ? error.message : String(error) };
    } finally {
      sky.giveBack();
      house.giveBack();
    }
  };

  return {
    workers,
    run: async (tasks, onResult) => {
      const { planned, refused } = inOrderOfWork(base, tasks, ranks);
      for (const result of refused) await onResult(result);
      const running = new Set<Promise<void>>();
      for (const { task, ...needs } of planned) {
        if (running.size >= AHEAD_PER_WORKER * workers) await Promise.race(running);
        // One after the other, sky before house: so nobody waits for what waits for him.
        const sky = await skies.take(needs.sky, task.variant);
        const house = await houses.take(needs.house, task.variant);
        const done: Promise<void> = perform(task, sky, house)
          .then(onResult)
          .finally(() => running.delete(done));
        running.add(done);
      }
      await Promise.all(running);
    },
    close: () => {
      watch.end();
      return pool.destroy();
    },
  };
}

/** What whoever lost a worker can do. */
const AGAIN = 'run it again, with fewer --workers if memory is short; a study goes on where it stopped';

/**
 * Watches the workers that are started from now on. The pool waits for ever for one that has ended; and when one dies for want of
 * memory, what it worked on must not look like a variant that cannot be.
 */
function watchWorkers() {
  const lost = new AbortController();
  // Every job in work listens.
  setMaxListeners(0, lost.signal);
  const onExit = (code: number): void =>
    lost.abort(new MachineFailure(`a worker ended before its work was done (code ${code}).`, AGAIN));
  const onWorker = (worker: Worker): void => void worker.once('exit', onExit);
  process.on('worker', onWorker);
  return {
    signal: lost.signal,
    /** What the pool gives back; or why it can not. */
    orLost: async <T>(work: Promise<T>): Promise<T> => {
      try {
        return await work;
      } catch (error) {
        if (lost.signal.aborted) throw lost.signal.reason;
        throw new MachineFailure(`a worker failed: ${error instanceof Error ? error.message : String(error)}.`, AGAIN);
      }
    },
    end: (): void => void process.off('worker', onWorker),
  };
}

/** Asks an engine, and keeps the results in the order of the variants. */
export const askEngine =
  (engine: Engine, onResult: (done: number, of: number) => void | Promise<void> = () => {}): Ask =>
  async (variants, wanted) => {
    const results: TaskResult[] = new Array(variants.length);
    let done = 0;
    await engine.run(
      variants.map((variant, index) => ({ index, variant, ...wanted })),
      async (result) => {
        results[result.index] = result;
        await onResult(++done, variants.length);
      },
    );
    return results;
  };

interface Planned {
  readonly task: Task;
  /** Short names of the parts that it needs. */
  readonly sky: string;
  readonly house: string;
}

/**
 * Tasks in the order in which they share most: under one sky, in one house, on one roof. What does not pass the first half of the door
 * is answered here.
 */
function inOrderOfWork(base: StudyBase, tasks: readonly Task[], ranks: Ranks): { planned: Planned[]; refused: TaskResult[] } {
  const ranked: (Planned & { rank: readonly number[] })[] = [];
  const refused: TaskResult[] = [];
  for (const task of tasks) {
    const input = variantInput(base, task.variant);
    if (!input.ok) {
      refused.push({ index: task.index, problem: input.issues.map(issueText).join(' ') });
      continue;
    }
    const { sky, house, roof, family } = partKeys(input.value);
    const rank = [ranks.of(sky), ranks.of(house), ranks.of(roof), ranks.of(family), task.index];
    ranked.push({ task, sky: ranks.one(sky), house: ranks.one(house), rank });
  }
  ranked.sort((a, b) => compared(a.rank, b.rank));
  return { planned: ranked, refused };
}

/** Texts by the order in which they were met; equal ones are kept once. */
class Ranks {
  private readonly known = new Map<string, number>();
  of(text: string): number {
    const rank = this.known.get(text) ?? this.known.size;
    this.known.set(text, rank);
    return rank;
  }
  /** A short name for a text. */
  one(text: string): string {
    return String(this.of(text));
  }
}

function compared(a: readonly number[], b: readonly number[]): number {
  const i = a.findIndex((rank, at) => rank !== b[at]);
  return i < 0 ? 0 : (a[i] ?? 0) - (b[i] ?? 0);
}
