import { type Catalogue, EN } from '../explain/index.ts';
import type { ChargePoint, Household, Scenario } from '../scenario/index.ts';

/** What a run takes for granted, a sentence each: where its profiles come from, how finely it steps, what it leaves out. */
export function assumptionsOf(scenario: Scenario, { assumptions }: Catalogue = EN): string[] {
  return [
    assumptions.steps(scenario.grid.stepS),
    weatherSentence(scenario, assumptions),
    householdSentence(scenario.household, assumptions),
    ...scenario.chargePoints.flatMap((point) => usageSentence(point, assumptions)),
    assumptions.km,
    assumptions.notModelled,
    assumptions.estimates,
  ];
}

type Words = Catalogue['assumptions'];

function weatherSentence({ pv, weather, grid }: Scenario, words: Words): string {
  if (pv.kind === 'measured') return words.pvMeasured;
  switch (weather.kind) {
    case 'synthetic':
      return words.weatherInvented(weather.seed);
    case 'measured':
      return words.weatherMeasured(coarseMin(weather.series.intervalS, grid.stepS), weather.cloudsSeed);
    case 'none':
      return words.noWeather;
  }
}

/** Means over longer intervals than this hide clouds and spikes, s. */
const COARSE_S = 300;

/** An interval in minutes where it hides something, else null. */
const coarseMin = (intervalS: number, stepS = 0): number | null =>
  intervalS > COARSE_S && intervalS > stepS ? intervalS / 60 : null;

function householdSentence(household: Household, words: Words): string {
  switch (household.kind) {
    case 'synthetic':
      return words.houseInvented(household.seed, household.heatPumpWh > 0);
    case 'profile':
      return words.houseProfile;
    default: {
      const { intervalS } = household.series;
      return words.houseMeasured(coarseMin(intervalS), household.spikesSeed);
    }
  }
}

function usageSentence(point: ChargePoint, words: Words): string[] {
  if (point.usage.kind === 'always') return [words.always(point)];
  return point.usage.kind === 'weekly' ? [words.weekly(point)] : [];
}
