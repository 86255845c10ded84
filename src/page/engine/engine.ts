import { wordsOf } from '../../index.ts';
import { type Draft, withValue } from '../draft.ts';
import { dayAnswer } from './day.ts';
import type { Entered } from './household.ts';
import type { Ask, CurvePoint, Tell } from './protocol.ts';
import { Runs } from './runs.ts';
import {
  batteriesOf,
  curveOf,
  outputOf,
  rehearsalsOf,
  roofsOf,
  SHARES,
  variantsOf,
  yearAnswer,
  yearsFor,
  yearsOf,
} from './tasks.ts';

/** What the engine needs of the thread that it runs in. */
export interface Thread {
  tell(told: Tell): void;
  /** Lets messages in that have come meanwhile. */
  pause(): Promise<void>;
  nowMs(): number;
}

/** What is answered first. What takes long comes last, and gives way in between. */
const ORDER: readonly Ask['kind'][] = ['rest', 'files', 'answer', 'day', 'choice', 'output', 'beside', 'years', 'curve', 'sizes'];

/**
 * Answers asks one after the other, the most urgent first. A later ask of the same kind takes the place of an earlier one, so that a
 * slider that is being dragged is answered where it is, not where it was.
 */
export class Engine {
  private readonly waiting = new Map<Ask['kind'], Ask>();
  private readonly outputs: Ask[] = [];
  private busy = false;
  private isRehearsed = false;
  private readonly runs: Runs;
  private readonly thread: Thread;

  /** @param years  weather years that are kept at hand: whoever answers for one year alone uses its memory again the sooner */
  constructor(thread: Thread, years: number) {
    this.thread = thread;
    this.runs = new Runs(years);
  }

  ask(ask: Ask): void {
    if (ask.kind === 'output') this.outputs.push(ask);
    // Files add up; everything else is replaced by what is asked later.
    else if (ask.kind === 'files') this.runs.takeFiles(ask.files);
    else this.waiting.set(ask.kind, ask);
    if (!this.busy) void this.work();
  }

  private async work(): Promise<void> {
    this.busy = true;
    for (let next = this.next(); next !== undefined; next = this.next()) {
      try {
        await this.answer(next);
      } catch (error) {
        this.thread.tell({
          kind: 'failed',
          message: error instanceof Error ? `${error.message}\n${error.stack}` : String(error),
        });
      }
      await this.thread.pause();
    }
    this.busy = false;
  }

  private next(): Ask | undefined {
    for (const kind of ORDER) {
      if (kind === 'output' && this.outputs.length > 0) return this.outputs.shift();
      const ask = this.waiting.get(kind);
      if (ask === undefined) continue;
      this.waiting.delete(kind);
      return ask;
    }
    return undefined;
  }

  private async answer(ask: Ask): Promise<void> {
    if (ask.kind === 'rest' || ask.kind === 'files') return;
    const begunMs = this.thread.nowMs();
    const entered = this.runs.households.enter(ask.draft);
    if (!entered.ok) {
      if (ask.kind === 'answer') this.thread.tell({ kind: 'refused', id: ask.id, issues: entered.issues });
      return;
    }
    await this.answerFor(ask, entered.value, () => this.thread.nowMs() - begunMs);
  }

  private async answerFor(ask: Exclude<Ask, { kind: 'rest' | 'files' }>, entered: Entered, tookMs: () => number): Promise<void> {
    const { thread, runs } = this;
    const { id } = ask;
    switch (ask.kind) {
      case 'answer':
        return thread.tell({ kind: 'answer', id, answer: yearAnswer(entered, runs, tookMs) });
      case 'beside': {
        const atOnce = runs.atOnce(entered);
        await thread.pause();
        if (this.waiting.has('answer')) return;
        thread.tell({ kind: 'beside', id, atOnce, withoutCars: runs.withoutCars(entered) });
        return this.rehearse(ask.draft);
      }
      case 'day': {
        const dayOf = (household: Entered, which: 'own' | 'before') => {
          const { charts } = wordsOf(ask.language);
          const names = household.input.chargePoints.map(({ name }, i) => name ?? charts.car(i + 1));
          return dayAnswer(runs.of(household, which), names, ask.day, ask.language);
        };
        const day = dayOf(entered, 'own');
        const before = ask.before === null ? null : runs.households.enter(ask.before);
        const past = before?.ok ? dayOf(before.value, 'before') : null;
        return day === null ? undefined : thread.tell({ kind: 'day', id, day, before: past });
      }
      case 'choice':
        return thread.tell({ kind: 'choice', id, variants: variantsOf(ask.draft, runs) });
      case 'output': {
        const bytes = new Blob(outputOf(ask.name, entered, runs, ask.version));
        return thread.tell({ kind: 'output', id, name: ask.name, bytes });
      }
      case 'years':
        await this.little(ask.kind, yearsOf(ask.draft, entered.input, runs), (years) =>
          thread.tell({ kind: 'years', id, years, of: yearsFor(entered.input) }),
        );
        return;
      case 'curve': {
        const minimum = await this.points(ask.kind, this.shares(ask.draft, 'minimum'));
        const proportional = minimum && (await this.points(ask.kind, this.shares(ask.draft, 'proportional')));
        return proportional ? thread.tell({ kind: 'curve', id, minimum, proportional }) : undefined;
      }
      case 'sizes': {
        const roof = await this.points(ask.kind, roofsOf(ask.draft, entered.input, runs));
        const battery = roof && (await this.points(ask.kind, batteriesOf(ask.draft, runs)));
        return battery ? thread.tell({ kind: 'sizes', id, roof, battery }) : undefined;
      }
    }
  }

  /**
   * Runs a few changed households for nothing, once: a browser makes quick what has run some times, and would else do so at the first
   * touches. The household as it is comes last, so that its parts are at hand.
   */
  private async rehearse(draft: Draft): Promise<void> {
    if (this.isRehearsed) return;
    for (const changed of [...rehearsalsOf(draft), draft]) {
      await this.thread.pause();
      if (this.waiting.size > 0) return;
      const entered = this.runs.households.enter(changed);
      if (entered.ok) this.runs.passBy(entered.value);
    }
    this.isRehearsed = true;
  }

  private shares(draft: Draft, topUp: string): Generator<CurvePoint> {
    return curveOf(withValue(draft, ['control', 'topUp'], topUp), ['control', 'surplusShare'], SHARES, this.runs);
  }

  /** All points of a curve, or null if something newer came in between. */
  private async points(kind: Ask['kind'], curve: Generator<CurvePoint>): Promise<CurvePoint[] | null> {
    const points: CurvePoint[] = [];
    return (await this.little(kind, curve, (point) => points.push(point))) ? points : null;
  }

  /** Works something long off a little at a time. @returns whether it came to its end: something newer of its kind, or a rest, ends it */
  private async little<T>(kind: Ask['kind'], parts: Generator<T | undefined>, take: (part: T) => void): Promise<boolean> {
    for (const part of parts) {
      // Between two stages of a part there is nothing to take yet.
      if (part !== undefined) take(part);
      await this.thread.pause();
      if (this.waiting.has(kind) || this.waiting.has('rest')) return false;
    }
    return true;
  }
}
