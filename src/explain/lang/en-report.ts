import type { PointTally } from '../../simulate/index.ts';
import type { Catalogue } from './catalogue.ts';
import { EN_FORM as f } from './en-form.ts';
import { isWholeYear } from './form.ts';

type ReportPart = Pick<Catalogue, 'answer' | 'money' | 'charts' | 'table' | 'report'>;

const km = (distance: number): string => `${f.fixed(distance, 0)} km`;
const kWh = (energyWh: number): string => `${f.brief(energyWh / 1000)} kWh`;

function counts({ starts, stalls, switches }: PointTally): string {
  return f.listed([
    f.counted(starts, 'start', 'starts'),
    f.counted(stalls, 'stall', 'stalls'),
    ...(switches > 0 ? [f.counted(switches, 'phase switch', 'phase switches')] : []),
  ]);
}

/** English: the answer, charts, tables, the report. */
export const EN_REPORT: ReportPart = {
  answer: {
    nothing: (period) => `${period}: nothing was charged.`,
    roof: (period, sums, solarShare) =>
      `${period}: the roof puts ${kWh(sums.carPvWh)} into the car, ${f.percent(solarShare)} of all it charges, ` +
      `enough for ${km(sums.pvKm)}, in ${f.brief(sums.solarChargingH)} solar charging hours.`,
    interruptions: (sums) => {
      const battery = sums.carBatteryWh > 0 ? `, the home battery ${kWh(sums.carBatteryWh)}` : '';
      return `Charging draws power for ${f.brief(sums.chargingH)} hours, with ${counts(sums)}; the grid adds ${kWh(sums.carGridWh)}${battery}.`;
    },
    atOnce: (sums) =>
      `Charged at once on every return: ${kWh(sums.carPvWh)} from PV, ${km(sums.pvKm)}, ` +
      `${f.brief(sums.solarChargingH)} solar charging hours, and ${kWh(sums.carGridWh)} from the grid.`,
    missed: (sums) =>
      `Mind: ${f.fixed(sums.missedKm, 0)} of ${km(sums.drivenKm)} found the battery empty and had to be charged elsewhere.`,
    period: (from, to) => {
      if (isWholeYear(from, to)) return String(from.year);
      return f.date(from) === f.date(to) ? f.date(from) : `${f.date(from)} to ${f.date(to)}`;
    },
  },
  money: {
    total: ({ currency, run, atOnce, withoutCars }) =>
      `Money: ${f.fixed(run.totalCost, 0)} ${currency} for import and public charging less export; ` +
      `${f.fixed(atOnce.totalCost, 0)} charged at once, ${f.fixed(withoutCars.totalCost, 0)} without a car.`,
    per100Km: (cost, atOnce, currency) =>
      `The car costs ${f.fixed(cost, 2)} ${currency} per 100 km; ${f.fixed(atOnce, 2)} charged at once.`,
    publicUnknown: (energyWh) =>
      `Not counted: ${kWh(energyWh)} charged elsewhere (write tariff.publicPerKWh), so no cost per 100 km.`,
    publicKnown: (cost, energyWh, currency) =>
      `Of it ${f.fixed(cost, 0)} ${currency} for ${kWh(energyWh)} charged elsewhere, as much as the road took.`,
    stored: (behindWh) =>
      `At the end the car holds ${kWh(Math.abs(behindWh))} ${behindWh > 0 ? 'less' : 'more'} than charged at once.`,
  },
  charts: {
    pv: 'PV',
    house: 'house',
    carFrom: { pv: 'car from PV', battery: 'car from the home battery', grid: 'car from the grid' },
    from: { pv: 'from PV', battery: 'from the home battery', grid: 'from the grid' },
    ifAtOnce: (source) => `${source}, if charged at once`,
    power: 'power, kW',
    localTime: (zone) => `local time, ${zone}`,
    state: 'state',
    threshold: (thresholdW, phases) =>
      `surplus of ${f.plain(thresholdW / 1000, 2)} kW starts ${f.counted(phases, 'phase', 'phases')}`,
    daySums: (sums) =>
      `${f.fixed(sums.carPvWh / 1000, 1)} of ${f.fixed(sums.carWh / 1000, 1)} kWh into the car from PV, ` +
      `${km(sums.pvKm)}, ${f.fixed(sums.solarChargingH, 1)} solar charging hours; ` +
      `starts ${sums.starts}, stalls ${sums.stalls}, phase switches ${sums.switches}`,
    monthSums: (label, sums, solarShare) => {
      const missed = sums.missedKm < 0.5 ? '' : `; ${f.fixed(sums.missedKm, 0)} of ${km(sums.drivenKm)} charged elsewhere`;
      return (
        `${label}: ${kWh(sums.carPvWh)} from PV (${f.percent(solarShare)} of all), ` +
        `${km(sums.pvKm)}, ${f.brief(sums.solarChargingH)} solar charging hours${missed}`
      );
    },
    monthAxis: 'month, and the kilometres that its PV energy gives (full colour)',
    energyAxis: 'energy into the car, kWh a month',
    atOnceDays: 'The same days charged at once (pale bars)',
    car: (number) => `car ${number}`,
  },
  table: {
    month: 'month',
    sum: 'sum',
    own: 'into the car',
    beside: 'the same days charged at once',
    pv: 'PV kWh',
    grid: 'grid kWh',
    battery: 'batt. kWh',
    km: 'PV km',
    hours: 'solar h',
    starts: 'starts',
    stalls: 'stalls',
  },
  report: {
    cautionsHeading: 'Before anything else',
    cautions: [
      'These are estimates for the weather and habits named below, no promise.',
      'Electrical work is for licensed people; local rules and those of the grid operator come first.',
    ],
    title: (name, period) => `${name}: solar charging ${period}`,
    household: 'The household',
    answer: 'The answer',
    figures: { kwh: 'from the roof into the car', km: 'driven on it', hours: 'solar charging hours' },
    months: 'Month by month',
    monthsChart: 'Energy into the car by month and source, beside the same months charged at once (pale)',
    monthsCaption: 'Energy into the car, by month',
    atOncePv: 'PV kWh, charged at once',
    atOnceGrid: 'grid kWh, charged at once',
    chain: 'Where the hours went',
    chainIntro:
      'From the hours in which the roof gives power down to the solar charging hours: every minute falls into one row, and each row in italics is taken off. Hours at half PV count half.',
    chainCaption: (point) => `Where the hours and the PV energy went${point === null ? '' : `: ${point}`}`,
    days: 'Three days, told',
    daysIntro:
      'Of all days on which the roof put anything into the car, nine in ten are better than the poor one, and one in ten is better than the good one.',
    dayKinds: { good: 'A good day', usual: 'A usual day', poor: 'A poor day' },
    dayChart: (day) => `PV, house and car on ${day}, with the state of the charge point below`,
    dayTable: (day) => `${day}, means of each hour in kW`,
    hour: 'hour',
    timeHead: 'time',
    happened: 'what happened, and why',
    whatIf: 'What would have changed it',
    whatIfCaption: (period) => `${period}, with one thing changed`,
    assumptions: 'What this takes for granted',
    sources: 'Where the methods come from',
    showTable: 'the numbers behind this picture',
    rank: 'rank',
    cost: (currency) => `cost, ${currency}`,
    costRank: 'rank by cost, the car as full at the end',
    madeBy: (version) => `Made by Sixamp ${version}. Hours flatter slow charging, so nothing here is ranked by them.`,
  },
};
