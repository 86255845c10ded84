import { type Progress, progress } from './progress.ts';
import type { Terminal } from './terminal.ts';

/** Tells how far many variants are, how fast they go and how long they will take. */
export interface StudyProgress {
  at(done: number, of: number): Promise<void>;
  end(): void;
}

/** Variants between two looks at the bar. */
const PER_LOOK = 4;

/** A bar for variants; every lot of them begins a new one. */
export function studyProgress(terminal: Terminal, what: string): StudyProgress {
  let bar: Progress | null = null;
  let of = 0;
  let startedMs = 0;
  const end = (): void => {
    bar?.end();
    bar = null;
  };
  return {
    at: async (done, total) => {
      if (bar === null || total !== of) {
        end();
        [bar, of, startedMs] = [progress(terminal, total), total, performance.now()];
      }
      if (done === total) {
        end();
        return;
      }
      if (done % PER_LOOK !== 0) return;
      const perS = (1000 * done) / (performance.now() - startedMs);
      await bar.at(done, `${what}, ${perS.toFixed(1)} a second, ${timeLeft((total - done) / perS)} left`);
    },
    end,
  };
}

/** A time that is left, for people. */
function timeLeft(leftS: number): string {
  if (leftS < 90) return `${Math.ceil(leftS)} s`;
  return leftS < 5400 ? `${Math.round(leftS / 60)} min` : `${(leftS / 3600).toFixed(1)} h`;
}
