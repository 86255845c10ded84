import { workerData } from 'node:worker_threads';
import {
  type HousePart,
  type SkyPart,
  type StudyBase,
  type Task,
  type TaskResult,
  type Variant,
  VariantRunner,
} from '../index.ts';
import { platformZones } from './zones.ts';

/** What a worker is asked for: a part that variants share, or a task with the parts that are its own. */
export type Job =
  | { readonly kind: 'sky'; readonly variant: Variant }
  | { readonly kind: 'house'; readonly variant: Variant }
  | { readonly kind: 'task'; readonly task: Task; readonly sky: SkyPart; readonly house: HousePart };

// The pool hands data of its own in before ours.
const [, base] = workerData as [unknown, StudyBase];
const runner = new VariantRunner(base, platformZones());

/** What came of a job. A variant that can not be is no failure of the worker: it is told apart from one. */
export type Done<T> = { readonly value: T } | { readonly problem: string };

/** Does one job; the pool calls it. */
export default function work(job: Job): Done<SkyPart | HousePart | TaskResult> {
  try {
    return { value: perform(job) };
  } catch (error) {
    return { problem: error instanceof Error ? error.message : String(error) };
  }
}

function perform(job: Job): SkyPart | HousePart | TaskResult {
  switch (job.kind) {
    case 'sky':
      return runner.sky(job.variant);
    case 'house':
      return runner.house(job.variant);
    case 'task':
      return runner.run(job.task, job.sky, job.house);
  }
}
