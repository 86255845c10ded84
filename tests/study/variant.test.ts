import { expect, test } from 'vitest';
import { AS_WRITTEN, OUTPUT_NAMES, variantInput } from '../../src/study/index.ts';
import { bed, HOUSE } from './bed.ts';

const { base, ask } = bed();

test('variantInput: year y adds y to every seed, people p add 1000 p to those of the people', () => {
  const found = variantInput(base, { keys: {}, year: 3, people: 2 });
  if (!found.ok) throw new Error('refused');
  expect(found.value.weather).toMatchObject({ seed: 4 });
  expect(found.value.household).toMatchObject({ seed: 2004 });
  expect(found.value.chargePoints[0]?.usage).toMatchObject({ seed: 2004 });
});

test('variantInput: values go in by key path and are checked like any others', () => {
  const refused = variantInput(base, { ...AS_WRITTEN, keys: { 'control.surplusShare': 70 } });
  expect(refused.ok ? [] : refused.issues.map(({ code }) => code)).toEqual(['value-too-large']);
  const nowhere = variantInput(base, { ...AS_WRITTEN, keys: { 'pv.arrays[4].kWp': 3 } });
  expect(nowhere.ok ? [] : nowhere.issues.map(({ code }) => code)).toEqual(['study-key-unknown']);
});

test('every output has a number, or null where the scenario lacks what it needs', async () => {
  const names = OUTPUT_NAMES.flatMap((name) => [name, `atOnce.${name}`]);
  const [result] = await ask([AS_WRITTEN], { outputs: names, monthly: ['cost', 'pvKWh'] });
  if (result === undefined || 'problem' in result) throw new Error(JSON.stringify(result));
  expect(Object.keys(result.values)).toEqual(expect.arrayContaining(names));
  for (const [name, value] of Object.entries(result.values))
    if (!name.endsWith('batteryCycles')) expect(value, name).toEqual(expect.any(Number));
  // Months add up to the whole.
  for (const name of ['cost', 'pvKWh']) {
    const sum = (result.months[name] ?? []).reduce<number>((total, value) => total + (value ?? 0), 0);
    expect(sum).toBeCloseTo(result.values[name] ?? 0, 6);
  }
});

test('without a tariff money is null, and nothing else is', async () => {
  const bare = bed(HOUSE.replace(/^tariff.*\n/m, ''));
  const [result] = await bare.ask([AS_WRITTEN], { outputs: ['cost', 'carCost', 'costPer100Km', 'pvKWh'], monthly: ['cost'] });
  expect(result).toMatchObject({ values: { cost: null, carCost: null, costPer100Km: null, pvKWh: expect.any(Number) } });
});

test('a variant that fails is reported and takes no other along', async () => {
  const keys = { 'pv.arrays[0].kWp': -1 };
  const results = await ask([AS_WRITTEN, { ...AS_WRITTEN, keys }, AS_WRITTEN], { outputs: ['pvKWh'], monthly: [] });
  expect(results[1]).toEqual({ index: 1, problem: expect.stringContaining('pv.arrays.0.kWp = -1') });
  expect(results[0]).toEqual({ ...results[2], index: 0 });
});

test('results do not depend on what ran before', async () => {
  const variants = [0.4, 1, 0.7].flatMap((share) =>
    [0, 1].map((year) => ({ keys: { 'control.surplusShare': share }, year, people: 0 })),
  );
  const wanted = { outputs: ['cost', 'pvKWh', 'carCost', 'atOnce.cost'], monthly: [] };
  const forward = await ask(variants, wanted);
  const backward = await bed().ask([...variants].reverse(), wanted);
  const bare = (results: typeof forward) => results.map((result) => ({ ...result, index: 0 }));
  expect(bare(forward)).toEqual(bare([...backward].reverse()));
});
