import {
  accountOf,
  chainOf,
  type Explained,
  explained,
  type Language,
  type Run,
  rowsOfChain,
  sumOfChains,
  wordsOf,
} from '../../index.ts';
import { clockTime } from '../../report/browser.ts';

/** A day told: a sentence for whatever is worth one, each with the time at which it begins, and where the hours went. */
export interface Told {
  readonly sentences: readonly { readonly at: string; readonly text: string }[];
  readonly chain: readonly ChainLine[];
}

/** A row on the way from daylight down to solar charging hours. `less` rows are taken off. */
export interface ChainLine {
  readonly label: string;
  readonly less: boolean;
  readonly hours: number;
  readonly energyWh: number;
}

/** What an account of any day needs of a whole run is made once a run. */
const ready = new WeakMap<Run, Explained>();

function readyFor(run: Run): Explained {
  const made = ready.get(run) ?? explained(run);
  ready.set(run, made);
  return made;
}

/** The account of a day, in the reader's language; where there are several charge points each sentence says whose it is. */
export function tellDay(run: Run, names: readonly string[], day: number, language: Language): Told {
  const from = run.grid.dayStart[day] ?? 0;
  const to = run.grid.dayStart[day + 1] ?? 0;
  const words = wordsOf(language);
  const whole = readyFor(run);
  const who = (point: number): string => (names.length > 1 ? `${names[point]}: ` : '');
  const sentences = accountOf(whole, from, to, words).map((line) => ({
    at: clockTime(line.from),
    text: who(line.point) + line.text,
  }));
  const chains = whole.surplus.map((surplus, point) => chainOf(run, point, surplus, from, to));
  const chain = rowsOfChain(sumOfChains(chains)).map(({ name, ...row }) => ({ label: words.chain.rows[name], ...row }));
  return { sentences, chain };
}
