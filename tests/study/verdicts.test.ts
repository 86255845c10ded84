import { describe, expect, test } from 'vitest';
import {
  excludedSentence,
  findFlips,
  mileageTimes,
  parseWant,
  phaseOptions,
  phasesSentences,
  reaches,
  roofTimes,
  settingKeys,
  shareSentences,
  sizeRanges,
  sizeSentences,
  studyPhases,
  studyShare,
  studySize,
  studyYears,
  unfitForVerdict,
  unpricedSentences,
  valuesOf,
  yearsOf,
  yearsSentences,
} from '../../src/study/index.ts';
import { bed, HOUSE, SUPPLY } from './bed.ts';

const MONTHS = [4, 5];

describe('years', () => {
  test('weather and habits differ, and the sentences say what is reached how often', async () => {
    const { input, ask } = bed();
    const answer = await studyYears(input, 10, MONTHS, ask);
    expect(new Set(answer.each.map(({ pvKWh }) => pvKWh)).size).toBe(10);
    expect(answer.total.pvKWh.inNineOfTen).toBeLessThan(answer.total.pvKWh.usual);
    const reached = answer.each.filter(({ pvKWh }) => (pvKWh ?? 0) >= answer.total.pvKWh.inNineOfTen).length;
    expect(reached).toBe(9);
    expect(yearsSentences(answer, 'EUR').join(' ')).toMatch(/usual year.*nine years of ten.*one of ten.*100 km cost EUR/);
  });
});

describe('size', () => {
  const wish = parseWant('pvKWh >= 170');
  if (wish === null) throw new Error('no wish');

  test.each(['roof', 'battery', 'minimum'] as const)(
    '%s: what the search finds is what a brute-force grid finds',
    async (dimension) => {
      const { input, ask } = bed();
      const range = sizeRanges(input).find((one) => one.dimension === dimension);
      if (range === undefined) throw new Error('no range');
      // A coarser grid keeps the brute force short.
      const coarse =
        dimension === 'roof' ? { ...range, from: 1, to: 12, step: 0.5 } : dimension === 'battery' ? { ...range, to: 6 } : range;
      const answer = await studySize(input, coarse, { want: wish, certainty: 'usual', years: 3 }, ask);
      const count = Math.round((coarse.to - coarse.from) / coarse.step);
      const sizes = Array.from({ length: count + 1 }, (_, i) => coarse.from + i * coarse.step);
      const holding: number[] = [];
      for (const size of sizes) {
        const results = await ask(yearsOf(3, coarse.keysAt(size)), { outputs: ['pvKWh'], monthly: [] });
        const values = results.map((result) => valuesOf(result).pvKWh ?? 0).sort((a, b) => a - b);
        if (reaches(values[1] ?? 0, wish)) holding.push(size);
      }
      const best = dimension === 'minimum' ? Math.max(...holding) : Math.min(...holding);
      expect(answer.found?.size ?? Infinity).toBe(holding.length === 0 ? Infinity : best);
      if (answer.found !== null && answer.neighbour !== null) {
        expect(answer.neighbour.holds).toBe(false);
        expect(Math.abs(answer.neighbour.size - answer.found.size)).toBeCloseTo(coarse.step, 9);
      }
      expect(sizeSentences(answer, wish, 'usual', null).join(' ')).toMatch(/holds|end of the range|comes closest/);
    },
  );

  test('nothing in range: says so, and what comes closest', async () => {
    const { input, ask } = bed();
    const [range] = sizeRanges(input);
    const want = parseWant('solarFraction >= 1.5');
    if (range === undefined || want === null) throw new Error('no wish');
    const answer = await studySize(input, { ...range, to: 7, step: 1 }, { want, certainty: 'nine-of-ten', years: 1 }, ask);
    expect(answer.found).toBeNull();
    expect(answer.closest.value).toBe(Math.max(...answer.seen.map(({ value }) => value)));
    expect(sizeSentences(answer, want, 'nine-of-ten', null)[0]).toMatch(/^No roof .* comes closest/);
  });

  test('hours are no wish', () => {
    expect(parseWant('solarChargingH >= 900')).toBeNull();
    expect(parseWant('solarFraction > 0.6')).toBeNull();
  });
});

describe('share', () => {
  test('the best share for the money and for PV is the best of a fine sweep', async () => {
    const { input, ask } = bed();
    const answer = await studyShare(input, { years: 1, months: MONTHS }, ask);
    const settings = (['minimum', 'proportional'] as const).flatMap((topUp) =>
      Array.from({ length: 101 }, (_, i) => ({ topUp, share: i / 100 })),
    );
    const swept = await ask(
      settings.map((setting) => ({ keys: settingKeys(setting), year: 0, people: 0 })),
      {
        outputs: ['cost', 'solarFraction'],
        monthly: [],
      },
    );
    const money = answer.aims.find(({ aim }) => aim === 'money');
    const pv = answer.aims.find(({ aim }) => aim === 'pv');
    const costs = swept.map((result) => valuesOf(result).cost ?? 0);
    const fractions = swept.map((result) => valuesOf(result).solarFraction ?? 0);
    const span = Math.max(...costs) - Math.min(...costs);
    // A jagged curve of forty days may hide a lower point between the steps of the search, but not by much.
    expect(money?.best.means.cost ?? Infinity).toBeLessThanOrEqual(Math.min(...costs) + 0.01 * span);
    expect(pv?.best.means.solarFraction ?? 0).toBeGreaterThanOrEqual(Math.max(...fractions) - 0.005);
    const km = answer.aims.find(({ aim }) => aim === 'km');
    const never = answer.points.find(({ share, topUp }) => share === 0 && topUp === 'minimum');
    expect((km?.best.means.missedKm ?? Infinity) - (never?.means.missedKm ?? 0)).toBeLessThan(
      0.01 * (km?.best.means.drivenKm ?? 0),
    );
    expect(shareSentences(answer, 'EUR').join(' ')).toMatch(/For the money.*For the PV fraction.*Never to be short/);
    // Summer and winter halves add up to the year.
    for (const { means, summerCost, winterCost } of answer.points)
      expect((summerCost ?? 0) + (winterCost ?? 0)).toBeCloseTo(means.cost ?? 0, 6);
  });
});

test('a tariff without a price for charging elsewhere is told, one with it is not', () => {
  const tariff = { currency: 'EUR', settlementS: 0, importPrice: FLAT, exportPrice: FLAT };
  expect(unpricedSentences({ ...tariff, publicPerKWh: null })).toHaveLength(1);
  expect(unpricedSentences({ ...tariff, publicPerKWh: 0.5 })).toEqual([]);
  expect(unpricedSentences(null)).toEqual([]);
});

const FLAT = { kind: 'flat', perKWh: 0.3 } as const;

describe('never to be short', () => {
  // A small roof, a small battery, and nothing kept in it: whoever waits for the sun alone comes up short.
  const WANTING = HOUSE.replace('kWp: 6', 'kWp: 2.5')
    .replace('batteryKWh: 40', 'batteryKWh: 20')
    .replace('floorKm: 20', 'floorKm: 0');

  test('the surest share misses fewest of all, with the most PV among those; a good one that misses more says so', async () => {
    const { input, ask } = bed(WANTING);
    const answer = await studyShare(input, { years: 1, months: MONTHS }, ask);
    const missed = answer.points.map(({ means }) => means.missedKm ?? Infinity);
    const fewest = Math.min(...missed);
    expect(Math.max(...missed)).toBeGreaterThan(fewest + 100);
    expect(answer.surest.means.missedKm).toBeLessThan(fewest + 0.5);
    const asSure = answer.points.filter(({ means }) => (means.missedKm ?? Infinity) < fewest + 0.5);
    expect(answer.surest.means.solarFraction).toBe(Math.max(...asSure.map(({ means }) => means.solarFraction ?? 0)));
    const found = answer.aims.find(({ aim }) => aim === 'km')?.best;
    const sentence = shareSentences(answer, 'EUR').find((text) => text.startsWith('Never to be short'));
    expect(sentence?.includes('the fewest')).toBe((found?.means.missedKm ?? 0) > fewest + 0.5);
  });
});

describe('phases', () => {
  test('what the limits exclude is left out, with the reason', () => {
    const { input } = bed(HOUSE.replace('maxCurrentA: 16, kWhPer', 'maxCurrentA: 32, kWhPer'));
    const ids = (supply: object) => phaseOptions(input, { ...SUPPLY, ...supply }, 0).options.map(({ id }) => id);
    expect(ids({})).toEqual(['one-16', 'one-32', 'three-16', 'three-32', 'switchable-16', 'switchable-32']);
    expect(ids({ mainFuseA: 25 })).toEqual(['one-16', 'three-16', 'switchable-16']);
    expect(ids({ imbalanceLimitA: 20 })).toEqual(['one-16', 'three-16', 'three-32', 'switchable-16', 'switchable-32']);
    expect(ids({ phases: 1 })).toEqual(['one-16', 'one-32']);
    expect(excludedSentence(phaseOptions(input, { ...SUPPLY, imbalanceLimitA: 20 }, 0).excluded)[0]).toContain('differ by 20 A');
  });

  test('the verdict is the cheapest, or the simplest within the tie, and it flips where it says', async () => {
    const { input, ask } = bed();
    const choice = { years: 1, point: 0 };
    const answer = await studyPhases(input, SUPPLY, choice, ask);
    const { choices, winner, tieBelow, by } = answer.ranking;
    expect(by).toBe('cost');
    const costs = choices.map(({ means }) => means.cost ?? 0);
    expect(winner.means.cost ?? Infinity).toBeLessThan(Math.min(...costs) + tieBelow);
    expect(answer.trials.map(({ trial }) => trial)).toEqual(['slow', 'quick', 'other-people']);
    const flips = [
      ...[answer.roof?.below, answer.roof?.above].map((flip) => ({ flip, keys: roofTimes })),
      ...[answer.mileage?.below, answer.mileage?.above].map((flip) => ({ flip, keys: mileageTimes })),
    ].filter(({ flip }) => flip !== null && flip !== undefined);
    expect(flips.length).toBeGreaterThan(0);
    for (const { flip, keys } of flips) {
      if (flip === null || flip === undefined) continue;
      const winnerAt = async (factor: number): Promise<string> => {
        // The whole study again, from a scenario that is written with this roof or mileage.
        const there = bed();
        const varied = Object.entries(keys(input, factor) ?? {});
        const again = await studyPhases(input, SUPPLY, choice, (variants, wanted) =>
          there.ask(
            variants.map((one) => ({ ...one, keys: { ...Object.fromEntries(varied), ...one.keys } })),
            wanted,
          ),
        );
        return again.ranking.winner.option.id;
      };
      expect(await winnerAt(flip.factor)).toBe(flip.answer);
      expect(await winnerAt(flip.holdsAt)).toBe(winner.option.id);
    }
    const options = new Map(choices.map(({ option }) => [option.id, option]));
    const said = phasesSentences(answer, 'EUR', (id) => options.get(id) ?? winner.option).join(' ');
    expect(said).toMatch(/Verdict: .* Because .*/);
    expect(said).not.toContain('solar charging hours');
  });
});

describe('what a published study would show', () => {
  test('the solar fraction rises with the roof and falls with the mileage', async () => {
    const { input, ask } = bed();
    const wanted = { outputs: ['solarFraction'], monthly: [] };
    const fractions = async (keys: (factor: number) => object): Promise<number[]> => {
      const results = await ask(
        [0.5, 1, 2].flatMap((factor) => yearsOf(3, keys(factor) as Record<string, never>)),
        wanted,
      );
      const values = results.map((result) => valuesOf(result).solarFraction ?? 0);
      return [0, 3, 6].map((from) => values.slice(from, from + 3).reduce((sum, value) => sum + value, 0));
    };
    const [small = 0, today = 0, large = 0] = await fractions((factor) => roofTimes(input, factor));
    expect(small).toBeLessThan(today);
    expect(today).toBeLessThan(large);
    const [little = 0, same = 0, much = 0] = await fractions((factor) => mileageTimes(input, factor) ?? {});
    expect(little).toBeGreaterThan(same);
    expect(same).toBeGreaterThan(much);
  });
});

test('findFlips: finds a step in the answer on either side, to two percent', async () => {
  const answers = async (factors: readonly number[]) => factors.map((factor) => (factor < 0.7 ? 'a' : factor < 1.9 ? 'b' : 'c'));
  const { below, above } = await findFlips(answers, 'b');
  expect(below?.answer).toBe('a');
  expect(above?.answer).toBe('c');
  expect((below?.holdsAt ?? 0) / (below?.factor ?? 1)).toBeLessThan(1.02);
  expect(below?.factor).toBeLessThan(0.7);
  expect(below?.holdsAt).toBeGreaterThanOrEqual(0.7);
  expect(above?.factor).toBeGreaterThanOrEqual(1.9);
});

test('steps over a minute carry no verdict', () => {
  expect(unfitForVerdict(bed().input).map(({ code }) => code)).toEqual(['step-too-long-for-verdict']);
  expect(unfitForVerdict(bed(HOUSE.replace('stepS: 300', 'stepS: 60')).input)).toEqual([]);
});
