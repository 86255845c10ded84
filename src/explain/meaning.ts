import { isoLocal, S_PER_MIN, stepStartMs, W_PER_KW, WH_PER_KWH } from '../base/index.ts';
import type { PhaseRules, PointRules } from '../charging/index.ts';
import type { ChargePoint, Control, Household, Scenario, Usage } from '../scenario/index.ts';
import { type Plan, planOf } from '../simulate/index.ts';
import { amps, compass, kw, lasting, listed, phasesInWords, plain } from './words.ts';

/**
 * What a scenario means, in sentences: the household, the thresholds in kW, and what can never happen in it.
 *
 * Every number is computed by the code that the run uses. Good for reading a scenario back to its author before anything is run.
 */
export function meaningOf(scenario: Scenario): string[] {
  const plan = planOf(scenario);
  return [
    whereAndWhen(scenario),
    roof(scenario),
    house(scenario.household),
    connection(scenario),
    ...plan.points.flatMap(({ rules }, i) => pointMeaning(scenario.chargePoints[i], rules, scenario)),
    ...neverOf(scenario, plan),
  ];
}

function whereAndWhen({ site, grid, zone }: Scenario): string {
  const north = `${plain(Math.abs(site.latitudeDeg), 2)}° ${site.latitudeDeg < 0 ? 'S' : 'N'}`;
  const east = `${plain(Math.abs(site.longitudeDeg), 2)}° ${site.longitudeDeg < 0 ? 'W' : 'E'}`;
  const first = isoLocal(zone, stepStartMs(grid, 0)).slice(0, 10);
  const days = grid.dayMs.length;
  return `Place and time: ${north}, ${east}, ${zone.name}; ${days} ${days === 1 ? 'day' : 'days'} from ${first} in steps of ${grid.stepS} s.`;
}

function roof({ pv }: Scenario): string {
  const on = `on building ${pv.phases.length === 1 ? 'phase' : 'phases'} ${listed(pv.phases.map(String))}`;
  if (pv.kind === 'measured') return `Roof: measured in ${pv.series.file}, ${on}.`;
  const planes = pv.arrays.map(
    (a) => `${plain(a.peakW / W_PER_KW, 2)} kWp to the ${compass(a.azimuthDeg)} at ${plain(a.tiltDeg, 0)}°`,
  );
  return `Roof: ${listed(planes)}; inverter ${plain(pv.inverter.ratedW / W_PER_KW, 2)} kW ${on}.`;
}

function house(household: Household): string {
  if (household.kind === 'profile') {
    const yearKWh = plain(household.annualWh / WH_PER_KWH, 0);
    return `House: ${yearKWh} kWh a year by the standard profile in ${household.file}: the mean of many homes, without the spikes of one.`;
  }
  if (household.kind !== 'synthetic') return measuredHouse(household);
  const { annualWh, people, hotWaterWh, heatPumpWh } = household;
  const kWh = (wh: number): string => `${plain(wh / WH_PER_KWH, 0)} kWh`;
  const water = hotWaterWh > 0 ? [`${kWh(hotWaterWh)} for hot water`] : [];
  const pump = heatPumpWh > 0 ? [`${kWh(heatPumpWh)} for the heat pump`] : [];
  const more = [...water, ...pump].length > 0 ? `; on top of it ${listed([...water, ...pump])}` : '';
  return `House: ${kWh(annualWh)} a year without the car, ${people} ${people === 1 ? 'person' : 'people'}${more}; by the minute it is invented.`;
}

function measuredHouse(household: Extract<Household, { readonly series: unknown }>): string {
  const { file, intervalS } = household.series;
  const balanced =
    household.kind === 'measured' && household.from === 'meter' ? `what balances the meter in ${file}` : `measured in ${file}`;
  const spikes =
    household.spikesSeed !== null && intervalS > 300
      ? `, every ${lasting(intervalS)}; its spikes by the minute are invented`
      : '';
  return `House: ${balanced}${spikes}.`;
}

const connection = ({ supply }: Scenario): string =>
  `Connection: ${phasesInWords(supply.phases)} at ${plain(supply.voltageV, 0)} V, main fuse ${amps(supply.mainFuseA)} per phase.`;

function pointMeaning(point: ChargePoint | undefined, rules: PointRules, scenario: Scenario): string[] {
  if (point === undefined) return [];
  const at = `At ${point.name}: `;
  const ways = rules.switches ? [rules.least, rules.most] : [rules.least];
  const takes = ways.map(
    (way) => `${kw(way.minW)} (${amps(way.minA)}) to ${kw(way.wPerA * way.maxA)} (${amps(way.maxA)}) on ${phasesInWords(way.n)}`,
  );
  return [
    `${at}the car takes ${listed(takes)}; below ${amps(rules.least.minA)} it takes nothing at all.`,
    ...gap(at, rules),
    at + follows(rules, scenario.control),
    at + habits(point.usage),
  ];
}

/** Surplus that is too much for the fewer phases and too little for the more. */
function gap(at: string, { least, most, switches }: PointRules): string[] {
  const fullW = least.wPerA * least.maxA;
  if (!switches || fullW >= most.minW) return [];
  return [
    `${at}between ${kw(fullW)} and ${kw(most.minW)} the rest of the surplus goes to the grid: ${phasesInWords(least.n)} full, ${phasesInWords(most.n)} out of reach.`,
  ];
}

function follows(rules: PointRules, control: Control): string {
  if (rules.atOnce) return 'charging starts as soon as the car is plugged in, sun or not.';
  const onLeast = rules.switches ? ` on ${phasesInWords(rules.least.n)}` : '';
  const start = `starts${onLeast} when the surplus has stood at ${threshold(rules.least, control)} for ${lasting(control.startDelayS)}`;
  const up = rules.switches
    ? `, goes to ${phasesInWords(rules.most.n)} at ${threshold(rules.most, control)} for ${lasting(control.switchUpDelayS)}`
    : '';
  const stop = `, and stalls when it has been missing for ${lasting(control.stopDelayS)}.`;
  return start + up + stop;
}

/** A threshold as the meter shows it: what surplus must cover, with the reserve on top. */
function threshold(way: PhaseRules, control: Control): string {
  const held = control.reserveW > 0 ? ` (${kw(way.thresholdW + control.reserveW)} of export with the reserve)` : '';
  const share = way.thresholdW < way.minW ? `, ${plain((100 * way.thresholdW) / way.minW, 0)} % of ${kw(way.minW)}` : '';
  return `${kw(way.thresholdW)}${held}${share}`;
}

function habits(usage: Usage): string {
  switch (usage.kind) {
    case 'always':
      return 'the car is plugged in throughout and never driven.';
    case 'stays':
      return `${usage.stays.length} stays from a file, ${plain(
        usage.stays.reduce((sum, stay) => sum + stay.km, 0),
        0,
      )} km.`;
    case 'weekly':
      return `plugged in but for ${listed(usage.trips.map(trip))}; ${plain(kmPerWeek(usage.trips), 0)} km a week, about ${plain(kmPerYear(usage), 0)} km a year${exceptions(usage)}.`;
  }
}

type Weekly = Extract<Usage, { kind: 'weekly' }>;

/** Days off and holidays are not taken off: they are few, and the sentence says "about". */
const kmPerYear = ({ trips, exceptions: { longTrips } }: Weekly): number =>
  kmPerWeek(trips) * WEEKS_PER_YEAR + (longTrips === null ? 0 : 12 * longTrips.perMonth * longTrips.km);

/** What breaks the week, in words. */
function exceptions({ exceptions: { longTrips, daysOff, holidays }, plugInBelowSoc }: Weekly): string {
  const long =
    longTrips === null ? [] : [`longer trips of ${plain(longTrips.km, 0)} km (${plain(longTrips.perMonth, 2)} a month)`];
  const off = daysOff.length === 0 ? [] : [`${daysOff.length} ${daysOff.length === 1 ? 'day' : 'days'} off`];
  const away = holidays.length === 0 ? [] : [`${holidays.length} ${holidays.length === 1 ? 'holiday' : 'holidays'}`];
  const said = [...long, ...off, ...away];
  const plugged = plugInBelowSoc < 1 ? `; plugged in only below ${plain(100 * plugInBelowSoc, 0)} %` : '';
  return (said.length === 0 ? '' : `, with ${listed(said)}`) + plugged;
}

type WeeklyTrip = Weekly['trips'][number];

const WEEKS_PER_YEAR = 365.25 / 7;
const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];

const kmPerWeek = (trips: readonly WeeklyTrip[]): number =>
  trips.reduce((sum, { km, weekdays }) => sum + km * weekdays.length, 0);

const trip = ({ weekdays, leaveS, returnS, km }: WeeklyTrip): string =>
  `${weekdays.map((day) => WEEKDAYS[day]).join(' ')} ${clock(leaveS)} to ${clock(returnS)} (${plain(km, 0)} km)`;

function clock(secondOfDay: number): string {
  const minutes = Math.floor(secondOfDay / S_PER_MIN) % (24 * 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/** What can never happen in this household, whatever the weather. */
function neverOf(scenario: Scenario, plan: Plan): string[] {
  const highestW = highestPvW(scenario);
  const reserveW = scenario.control.reserveW;
  return plan.points.flatMap(({ rules }, i) => {
    if (rules.atOnce) return [];
    const at = `At ${scenario.chargePoints[i]?.name ?? ''}: `;
    const said: string[] = [];
    const reach = `the roof gives at most ${kw(highestW)}`;
    if (highestW < rules.least.thresholdW + reserveW) {
      said.push(
        `${at}surplus charging can never start: ${reach}, and ${kw(rules.least.thresholdW + reserveW)} are needed even with an idle house.`,
      );
    } else if (rules.switches && highestW < rules.most.thresholdW + reserveW) {
      said.push(
        `${at}it can never go to ${phasesInWords(rules.most.n)} for surplus: ${reach}, and ${kw(rules.most.thresholdW + reserveW)} are needed even with an idle house.`,
      );
    }
    if (rules.least.thresholdW === 0) said.push(`${at}a share of 0 asks for no sun at all: charging starts day and night.`);
    return [...said, ...fuseNever(at, rules, plan)];
  });
}

function fuseNever(at: string, { least, most, switches }: PointRules, { mainFuseA }: Plan): string[] {
  if (mainFuseA < least.minA)
    return [`${at}the main fuse of ${amps(mainFuseA)} is below the ${amps(least.minA)} that the car needs: it can never charge.`];
  const way = switches ? most : least;
  if (mainFuseA >= way.maxA) return [];
  return [
    `${at}the main fuse of ${amps(mainFuseA)} holds it to ${amps(mainFuseA)} at best; the car could take ${amps(way.maxA)}.`,
  ];
}

/** The most that the roof can ever give, W. */
function highestPvW({ pv }: Scenario): number {
  if (pv.kind === 'arrays') return pv.inverter.ratedW;
  return pv.series.columns.pvW.reduce((highest, w) => Math.max(highest, w), 0);
}
