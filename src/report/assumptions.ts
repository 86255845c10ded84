import type { Scenario } from '../scenario/index.ts';
import { shortNumber } from './numbers.ts';

/** What every run leaves out. */
const NOT_MODELLED =
  'Not modelled: voltage rise and sag, reactive power, neutral current and harmonics, the measuring lag inside one step.';

/** What a run takes for granted, a sentence each: where its profiles come from, how finely it steps, what it leaves out. */
export function assumptionsOf(scenario: Scenario): string[] {
  return [
    `Power and current are means over steps of ${shortNumber(scenario.grid.stepS, 3)} s.`,
    weatherSentence(scenario),
    householdSentence(scenario),
    ...scenario.chargePoints.flatMap((point) => usageSentence(point.name, point.usage.kind)),
    'Kilometres on PV are the PV energy that reached the battery, divided by the consumption of the car.',
    NOT_MODELLED,
    'Results are estimates for one year of weather, no promise for another.',
  ];
}

function weatherSentence({ pv, weather }: Scenario): string {
  if (pv.kind === 'measured') return 'PV power is measured.';
  switch (weather.kind) {
    case 'synthetic':
      return `PV power comes from invented weather (seed ${weather.seed}) that keeps to the monthly sums of the scenario.`;
    case 'measured':
      return 'PV power is computed from the irradiance in the weather file.';
    case 'none':
      return 'There is no weather.';
  }
}

function householdSentence({ household }: Scenario): string {
  switch (household.kind) {
    case 'synthetic':
      return `The load of the house is invented (seed ${household.seed}) and keeps to its annual energy${household.heatPumpWh > 0 ? '; its heat pump follows the season, not the days of this weather' : ''}.`;
    case 'profile':
      return 'The load of the house is a standard profile, the mean of many homes: without spikes, surplus looks steadier than it is.';
    default:
      return `The load of the house is measured${spikesClause(household)}.`;
  }
}

function spikesClause({ spikesSeed, series }: { spikesSeed: number | null; series: { readonly intervalS: number } }): string {
  if (series.intervalS <= 300) return '';
  const held = `in means over ${shortNumber(series.intervalS / 60, 1)} minutes`;
  return spikesSeed === null
    ? ` ${held}, which are held`
    : ` ${held}; the minutes in them are invented (seed ${spikesSeed}) and keep their energy`;
}

function usageSentence(name: string, kind: 'always' | 'weekly' | 'stays'): string[] {
  if (kind === 'always') return [`At ${name} the car is plugged in throughout and never driven.`];
  if (kind === 'weekly') return [`At ${name} trips come back every week, moved by a seeded chance.`];
  return [];
}
