import { S_PER_H, S_PER_MIN, W_PER_KW, WH_PER_KWH } from '../base/index.ts';
import { type Catalogue, EN } from '../explain/index.ts';
import type { Figures, MoneyBeside, PerDay, PointFigures, Run } from '../simulate/index.ts';
import { brief, grouped } from './numbers.ts';

/**
 * The figures of a run as lines for a terminal.
 *
 * @param pointNames  one name per charge point
 */
export function figuresText(figures: Figures, run: Run, pointNames: readonly string[]): string[] {
  return [
    fuseLine(figures, run),
    `Phases: the cars can draw ${grouped(figures.ratedVA / W_PER_KW, 1)} kVA together and put the phases ${grouped(figures.imbalanceA, 1)} A apart at worst.`,
    ...figures.points.flatMap((point, i) => pointLines(point, pointNames[i] ?? `car ${i + 1}`)),
    ...(figures.batteryCycles === null ? [] : [`Home battery: ${brief(figures.batteryCycles)} full cycles.`]),
    ...(figures.rescuedWh > 0
      ? [`Behind the export limit: ${kWh(figures.rescuedWh)} kWh in the cars would have been cut off.`]
      : []),
  ];
}

function fuseLine({ peakImportA, nearFuseH, overFuseH }: Figures, { plan }: Run): string {
  const peaks = peakImportA.map((currentA) => grouped(currentA, 1)).join(', ');
  const powers = peakImportA.map((currentA) => grouped((currentA * plan.voltageV) / W_PER_KW, 1)).join(', ');
  const on = peakImportA.length === 1 ? '' : ' on phases 1, 2, 3';
  const over = overFuseH === 0 ? 'never above it' : `${brief((overFuseH * S_PER_H) / S_PER_MIN)} min above it`;
  const near = nearFuseH === 0 ? 'never at nine tenths of it' : `${brief(nearFuseH)} h at nine tenths of it or more, ${over}`;
  return `Main fuse ${grouped(plan.mainFuseA, 0)} A: ${near}; most import ${peaks} A (${powers} kW)${on}.`;
}

function pointLines(point: PointFigures, name: string): string[] {
  const lines = [
    `${name}: ${perDay(point.startsPerDay, 'starts')}; the contactor closes ${perDay(point.closingsPerDay, 'times')}.`,
  ];
  if (point.breakOffs > 0)
    lines.push(`${name}: broke off ${times(point.breakOffs)}, with current on a phase where none was expected.`);
  if (point.departures > 0) lines.push(`${name}: ${departuresText(point)}`);
  return lines;
}

const perDay = ({ mean, p95, worst }: PerDay, what: string): string =>
  `${grouped(mean, 1)} ${what} a day (${p95} or fewer on 95 % of days, ${worst} on the worst)`;
const times = (count: number): string => (count === 1 ? 'once' : `${grouped(count, 0)} times`);

function departuresText({ departures, missedDepartures }: PointFigures): string {
  if (missedDepartures.length === 0) return `all ${grouped(departures, 0)} departures had the range that was asked for.`;
  const worstKm = Math.max(...missedDepartures.map(({ shortKm }) => shortKm));
  const missed = grouped(missedDepartures.length, 0);
  return `${missed} of ${grouped(departures, 0)} departures lacked some of the range that was asked for, the worst ${brief(worstKm)} km.`;
}

/** The money of a run in sentences. */
export function moneyText(money: MoneyBeside, { money: words }: Catalogue = EN): string[] {
  const { run, currency } = money;
  const lines = [words.total(money)];
  if (money.per100Km !== null && money.atOncePer100Km !== null)
    lines.push(words.per100Km(money.per100Km, money.atOncePer100Km, currency));
  if (run.publicCost === null) lines.push(words.publicUnknown(run.publicWh));
  else if (run.publicWh > 0) lines.push(words.publicKnown(run.publicCost, run.publicWh, currency));
  const behindWh = money.atOnceStoredChangeWh - money.storedChangeWh;
  if (Math.abs(behindWh) >= TOLD_WH) lines.push(words.stored(behindWh));
  return lines;
}

/** A smaller difference in what the car holds at the end is not worth a line, Wh. */
const TOLD_WH = 5000;

const kWh = (energyWh: number): string => brief(energyWh / WH_PER_KWH);
