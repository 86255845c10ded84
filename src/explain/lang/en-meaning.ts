import { W_PER_KW, WH_PER_KWH } from '../../base/index.ts';
import type { PhaseRules } from '../../charging/index.ts';
import type { Control, Scenario } from '../../scenario/index.ts';
import type { Catalogue, WeeklyUsage } from './catalogue.ts';
import { clockOfDay } from './clock-of-day.ts';
import { EN_FORM as f } from './en-form.ts';

type MeaningPart = Pick<Catalogue, 'meaning' | 'assumptions'>;

const onBuilding = (phases: readonly number[]): string =>
  `on building ${phases.length === 1 ? 'phase' : 'phases'} ${f.listed(phases.map(String))}`;
const kWhWhole = (wh: number): string => `${f.plain(wh / WH_PER_KWH, 0)} kWh`;
const kW = (w: number): string => f.plain(w / W_PER_KW, 2);

/** A threshold as the meter shows it: what surplus must cover, with the reserve on top. */
function threshold(way: PhaseRules, control: Control): string {
  const held = control.reserveW > 0 ? ` (${f.kw(way.thresholdW + control.reserveW)} of export with the reserve)` : '';
  const share = way.thresholdW < way.minW ? `, ${f.percent(way.thresholdW / way.minW)} of ${f.kw(way.minW)}` : '';
  return `${f.kw(way.thresholdW)}${held}${share}`;
}

const trip = ({ weekdays, leaveS, returnS, km }: WeeklyUsage['trips'][number]): string =>
  `${weekdays.map((day) => f.shortWeekdays[day]).join(' ')} ${clockOfDay(leaveS)} to ${clockOfDay(returnS)} (${f.plain(km, 0)} km)`;

/** What breaks the week, in words. */
function exceptions({ exceptions: { longTrips, daysOff, holidays }, plugInBelowSoc }: WeeklyUsage): string {
  const said = [
    ...(longTrips === null ? [] : [`longer trips of ${f.plain(longTrips.km, 0)} km (${f.plain(longTrips.perMonth, 2)} a month)`]),
    ...(daysOff.length === 0 ? [] : [f.counted(daysOff.length, 'day off', 'days off')]),
    ...(holidays.length === 0 ? [] : [f.counted(holidays.length, 'holiday', 'holidays')]),
  ];
  const plugged = plugInBelowSoc < 1 ? `; plugged in only below ${f.percent(plugInBelowSoc)}` : '';
  return (said.length === 0 ? '' : `, with ${f.listed(said)}`) + plugged;
}

function battery({ capacityWh, maxChargeW, maxDischargeW, priority, dischargeToCar }: NonNullable<Scenario['battery']>): string {
  const first = {
    battery: 'it takes surplus before the car',
    car: 'the car takes surplus before it',
    until: `it takes surplus before the car up to ${f.percent(priority.kind === 'until' ? priority.untilSoc : 0)}`,
  }[priority.kind];
  const gives = dischargeToCar ? 'it feeds the car too' : 'it is kept from the car';
  return `Home battery: ${kW(capacityWh)} kWh, ${kW(maxChargeW)} kW in, ${kW(maxDischargeW)} kW out; ${first}, and ${gives}.`;
}

function limits(supply: Scenario['supply']): string {
  const said = [
    ...(supply.imbalanceLimitA === null ? [] : [`${f.amps(supply.imbalanceLimitA)} of imbalance between the phases at most`]),
    ...(supply.exportLimitW === null ? [] : [`${kW(supply.exportLimitW)} kW of export at most`]),
    ...(supply.contractW === null ? [] : [`${kW(supply.contractW)} kW contracted`]),
    ...(supply.dimming === null ? [] : [`chargers dimmed to ${kW(supply.dimming.toW)} kW at times`]),
    ...(supply.metering === 'net' ? [] : ['the meter counts each phase for itself']),
  ];
  return said.length === 0 ? '' : `; ${f.listed(said)}`;
}

/** English: what a scenario means, and what a run takes for granted. */
export const EN_MEANING: MeaningPart = {
  meaning: {
    place: ({ site, grid, zone }, first) => {
      const north = `${f.plain(Math.abs(site.latitudeDeg), 2)}° ${site.latitudeDeg < 0 ? 'S' : 'N'}`;
      const east = `${f.plain(Math.abs(site.longitudeDeg), 2)}° ${site.longitudeDeg < 0 ? 'W' : 'E'}`;
      const days = f.counted(grid.dayMs.length, 'day', 'days');
      return `Place and time: ${north}, ${east}, ${zone.name}; ${days} from ${f.date(first)} in steps of ${f.plain(grid.stepS, 0)} s.`;
    },
    roof: ({ arrays, inverter, phases }) => {
      const planes = arrays.map((a) => `${kW(a.peakW)} kWp to the ${f.towards(a.azimuthDeg)} at ${f.plain(a.tiltDeg, 0)}°`);
      return `Roof: ${f.listed(planes)}; inverter ${kW(inverter.ratedW)} kW ${onBuilding(phases)}.`;
    },
    roofMeasured: (file, phases) => `Roof: measured in ${file}, ${onBuilding(phases)}.`,
    houseProfile: ({ annualWh, file }) =>
      `House: ${kWhWhole(annualWh)} a year by the standard profile in ${file}: the mean of many homes, without the spikes of one.`,
    houseSynthetic: ({ annualWh, people, hotWaterWh, heatPumpWh }) => {
      const more = [
        ...(hotWaterWh > 0 ? [`${kWhWhole(hotWaterWh)} for hot water`] : []),
        ...(heatPumpWh > 0 ? [`${kWhWhole(heatPumpWh)} for the heat pump`] : []),
      ];
      const onTop = more.length > 0 ? `; on top of it ${f.listed(more)}` : '';
      return `House: ${kWhWhole(annualWh)} a year without the car, ${f.counted(people, 'person', 'people')}${onTop}; by the minute it is invented.`;
    },
    houseMeasured: (file, isMeter, spikesEveryS) => {
      const spikes = spikesEveryS === null ? '' : `, every ${f.lasting(spikesEveryS)}; its spikes by the minute are invented`;
      return `House: ${isMeter ? `what balances the meter in ${file}` : `measured in ${file}`}${spikes}.`;
    },
    battery,
    diverter: ({ maxW, dailyWh, priority }) =>
      `Hot-water rod: up to ${kW(maxW)} kW of surplus, ${kWhWhole(dailyWh)} a day, ${priority === 'car' ? 'after' : 'before'} the car.`,
    connection: (supply) =>
      `Connection: ${f.onPhases(supply.phases)} at ${f.plain(supply.voltageV, 0)} V, main fuse ${f.amps(supply.mainFuseA)} per phase${limits(supply)}.`,
    at: (name) => `At ${name}: `,
    takes: ({ least, most, switches }) => {
      const ways = (switches ? [least, most] : [least]).map(
        (way) =>
          `${f.kw(way.minW)} (${f.amps(way.minA)}) to ${f.kw(way.wPerA * way.maxA)} (${f.amps(way.maxA)}) on ${f.onPhases(way.n)}`,
      );
      return `the car takes ${f.listed(ways)}; below ${f.amps(least.minA)} it takes nothing at all.`;
    },
    gap: ({ least, most }) =>
      `between ${f.kw(least.wPerA * least.maxA)} and ${f.kw(most.minW)} the rest of the surplus goes to the grid: ${f.onPhases(least.n)} full, ${f.onPhases(most.n)} out of reach.`,
    atOnce: 'charging starts as soon as the car is plugged in, sun or not.',
    follows: ({ least, most, switches }, control) => {
      const onLeast = switches ? ` on ${f.onPhases(least.n)}` : '';
      const start = `starts${onLeast} when the surplus has stood at ${threshold(least, control)} for ${f.lasting(control.startDelayS)}`;
      const up = switches
        ? `, goes to ${f.onPhases(most.n)} at ${threshold(most, control)} for ${f.lasting(control.switchUpDelayS)}`
        : '';
      return `${start}${up}, and stalls when it has been missing for ${f.lasting(control.stopDelayS)}.`;
    },
    always: 'the car is plugged in throughout and never driven.',
    stays: ({ stays }) =>
      `${f.counted(stays.length, 'stay', 'stays')} from a file, ${f.plain(
        stays.reduce((sum, stay) => sum + stay.km, 0),
        0,
      )} km.`,
    weekly: (usage, kmPerWeek, kmPerYear) =>
      `plugged in but for ${f.listed(usage.trips.map(trip))}; ${f.plain(kmPerWeek, 0)} km a week, about ${f.plain(kmPerYear, 0)} km a year${exceptions(usage)}.`,
    neverStarts: (highestW, neededW) =>
      `surplus charging can never start: the roof gives at most ${f.kw(highestW)}, and ${f.kw(neededW)} are needed even with an idle house.`,
    neverMorePhases: (highestW, neededW, n) =>
      `it can never go to ${f.onPhases(n)} for surplus: the roof gives at most ${f.kw(highestW)}, and ${f.kw(neededW)} are needed even with an idle house.`,
    fuseHolds: (fuseA, maxA) =>
      `the main fuse of ${f.amps(fuseA)} holds it to ${f.amps(fuseA)} at best; the car could take ${f.amps(maxA)}.`,
  },
  assumptions: {
    steps: (stepS) => `Power and current are means over steps of ${f.plain(stepS, 3)} s.`,
    pvMeasured: 'PV power is measured.',
    weatherInvented: (seed) =>
      `PV power comes from invented weather (seed ${seed}) that keeps to the monthly sums of the scenario.`,
    weatherMeasured: (everyMin, cloudsSeed) => {
      if (everyMin === null) return 'PV power is computed from the irradiance in the weather file.';
      const means = `PV power is computed from the irradiance in the weather file, means over ${f.plain(everyMin, 1)} minutes`;
      return cloudsSeed === null
        ? `${means}, which are held: clouds that pass within them are missing.`
        : `${means}; the clouds in their minutes are invented (seed ${cloudsSeed}) and keep the means.`;
    },
    noWeather: 'There is no weather.',
    houseInvented: (seed, hasHeatPump) =>
      `The load of the house is invented (seed ${seed}) and keeps to its annual energy${hasHeatPump ? '; its heat pump follows the season, not the days of this weather' : ''}.`,
    houseProfile:
      'The load of the house is a standard profile, the mean of many homes: without spikes, surplus looks steadier than it is.',
    houseMeasured: (everyMin, spikesSeed) => {
      if (everyMin === null) return 'The load of the house is measured.';
      const held = `in means over ${f.plain(everyMin, 1)} minutes`;
      return spikesSeed === null
        ? `The load of the house is measured ${held}, which are held.`
        : `The load of the house is measured ${held}; the minutes in them are invented (seed ${spikesSeed}) and keep their energy.`;
    },
    always: ({ name }) => `At ${name} the car is plugged in throughout and never driven.`,
    weekly: ({ name }) => `At ${name} trips come back every week, moved by a seeded chance.`,
    km: 'Kilometres on PV are the PV energy that reached the battery, divided by the consumption of the car.',
    notModelled:
      'Not modelled: voltage rise and sag, reactive power, neutral current and harmonics, the measuring lag inside one step.',
    estimates: 'Results are estimates for one year of weather, no promise for another.',
  },
};
