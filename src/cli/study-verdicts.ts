import {
  parseWant,
  type SizeAnswer,
  sizeRanges,
  studyPhases,
  studyShare,
  studySize,
  studyYears,
  WANTED_OUTPUTS,
  type Want,
} from '../index.ts';
import { phasesReport, shareReport, sizeReport, yearsReport } from '../report/index.ts';
import type { ExitCode } from './exit-codes.ts';
import { InputProblem } from './problem.ts';
import type { YearsOptions } from './study-options.ts';
import type { Terminal } from './terminal.ts';
import { giveVerdict } from './verdict.ts';

/** `sixamp hours --years`: what to expect of the months over years in which weather and habits differ. */
export function hoursOverYears(file: string, options: YearsOptions, terminal: Terminal): Promise<ExitCode> {
  return giveVerdict(file, 'weather years', options, terminal, async ({ scenario, input, months, currency }, ask) => {
    const answer = await studyYears(input, options.years, months, ask);
    return yearsReport(answer, scenario.name, currency);
  });
}

/** Options of `sixamp phases`. */
export interface PhasesOptions extends YearsOptions {
  /** From 1, as people count. */
  readonly point: number;
}

/** `sixamp phases`: one phase, three phases, or switchable. */
export function phases(file: string, options: PhasesOptions, terminal: Terminal): Promise<ExitCode> {
  return giveVerdict(file, 'connections', options, terminal, async ({ scenario, input, currency }, ask) => {
    const count = scenario.chargePoints.length;
    if (options.point > count) throw noSuchPoint(options.point, count);
    const choice = { years: options.years, point: options.point - 1 };
    return phasesReport(await studyPhases(input, scenario.supply, choice, ask), scenario.name, currency);
  });
}

const noSuchPoint = (point: number, count: number): InputProblem =>
  new InputProblem('--point', {
    code: 'no-such-charge-point',
    found: String(point),
    problem: `The scenario has ${count} charge ${count === 1 ? 'point' : 'points'}.`,
    allowed: `1 to ${count}`,
    fix: 'write one of them',
  });

/** `sixamp share`: which surplus share to set. */
export function share(file: string, options: YearsOptions, terminal: Terminal): Promise<ExitCode> {
  return giveVerdict(file, 'settings', options, terminal, async ({ scenario, input, months, currency }, ask) => {
    const answer = await studyShare(input, { years: options.years, months }, ask);
    return shareReport(answer, scenario, currency);
  });
}

/** Options of `sixamp size`. */
export interface SizeOptions extends YearsOptions {
  readonly want: string;
  readonly in: string;
  readonly by?: string;
}

/** `sixamp size`: the smallest roof, battery or minimum that reaches a wish. */
export function size(file: string, options: SizeOptions, terminal: Terminal): Promise<ExitCode> {
  const want = wantOf(options.want);
  const certainty = oneOf('--in', options.in, ['usual', 'nine-of-ten'] as const);
  const by = options.by === undefined ? null : oneOf('--by', options.by, ['roof', 'battery', 'minimum'] as const);
  return giveVerdict(file, 'sizes', options, terminal, async ({ scenario, input, currency }, ask) => {
    if (want.output === 'cost' && currency === null) throw noTariff();
    const { years } = options;
    const answers: SizeAnswer[] = [];
    for (const range of sizeRanges(input))
      if (by === null || range.dimension === by) answers.push(await studySize(input, range, { want, certainty, years }, ask));
    if (answers.length === 0) throw notSized();
    return sizeReport(answers, { want, wish: options.want, certainty, years }, scenario.name, currency);
  });
}

function wantOf(text: string): Want {
  const want = parseWant(text);
  if (want !== null) return want;
  throw new InputProblem('--want', {
    code: 'want-unknown',
    found: text,
    problem: 'This is no wish that a size can be found for. (Hours are not: they flatter slow charging.)',
    allowed: `${WANTED_OUTPUTS.join(', ')}, then >= or <=, then a number`,
    fix: 'write, for example, "solarFraction >= 0.6"',
  });
}

function oneOf<const T extends string>(option: string, text: string, words: readonly T[]): T {
  const found = words.find((word) => word === text);
  if (found !== undefined) return found;
  const allowed = words.join(', ');
  throw new InputProblem(option, {
    code: 'option-unknown',
    found: text,
    problem: 'This is none of the words allowed.',
    allowed,
    fix: 'write one of them',
  });
}

const noTariff = (): InputProblem =>
  new InputProblem('--want', {
    code: 'tariff-missing',
    found: 'cost',
    problem: 'The scenario has no prices, so nothing is known of cost.',
    allowed: 'a scenario with a tariff',
    fix: 'add the section tariff',
  });

const notSized = (): InputProblem =>
  new InputProblem('--by', {
    code: 'roof-measured',
    found: 'roof',
    problem: 'The roof of this scenario is measured, so its size can not be varied in kWp.',
    allowed: 'battery, minimum',
    fix: 'write pv.source: arrays, or ask for another size',
  });
