import { W_PER_KW, WH_PER_KWH } from '../base/index.ts';
import type { Figures, Money, PointTally, Tally } from '../simulate/index.ts';

/** What a variant came to, as far as outputs ask for it. */
export interface Outcome {
  readonly total: Tally;
  readonly days: number;
  figures(): Figures;
  /** Null without a tariff. */
  money(): Money | null;
  /** The same days without cars; null without a tariff. */
  bareMoney(): Money | null;
}

/** Which way an output is better, seen by whoever pays and drives. */
export type Better = 'more' | 'less' | 'neither';

/** A number that a study can ask of each variant. */
export interface Output {
  readonly unit: string;
  readonly about: string;
  readonly better: Better;
  /** Null where the scenario lacks what it needs. */
  readonly of: (outcome: Outcome) => number | null;
}

const sumOf = (key: keyof PointTally) => (total: Tally) => total.points.reduce((sum, point) => sum + point[key], 0);
const ofCars = (unit: string, about: string, better: Better, key: keyof PointTally, per = 1): Output => ({
  unit,
  about,
  better,
  of: ({ total }) => sumOf(key)(total) / per,
});
const ofHouse = (about: string, better: Better, key: Exclude<keyof Tally, 'points'>): Output => ({
  unit: 'kWh',
  about,
  better,
  of: ({ total }) => total[key] / WH_PER_KWH,
});
const ofFigures = (unit: string, about: string, better: Better, of: (figures: Figures) => number | null): Output => ({
  unit,
  about,
  better,
  of: (outcome) => of(outcome.figures()),
});
const ofMoney = (about: string, better: Better, of: (money: Money) => number | null): Output => ({
  unit: 'money',
  about,
  better,
  of: (outcome) => {
    const money = outcome.money();
    return money && of(money);
  },
});

const cars = { carWh: sumOf('carWh'), carPvWh: sumOf('carPvWh'), storedWh: sumOf('storedWh'), drivenKm: sumOf('drivenKm') };

function carCost(outcome: Outcome): number | null {
  const [withCars, without] = [outcome.money(), outcome.bareMoney()];
  return withCars && without && withCars.totalCost - without.totalCost;
}

/** Every output, by the name under which a study asks for it. Hours are here to be seen; no command ranks by them. */
export const OUTPUTS = {
  pvKWh: ofCars('kWh', 'PV into the cars', 'more', 'carPvWh', WH_PER_KWH),
  batteryKWh: ofCars('kWh', 'home battery into the cars', 'neither', 'carBatteryWh', WH_PER_KWH),
  gridKWh: ofCars('kWh', 'grid into the cars', 'less', 'carGridWh', WH_PER_KWH),
  carKWh: ofCars('kWh', 'all energy into the cars', 'neither', 'carWh', WH_PER_KWH),
  solarFraction: {
    unit: 'share of 1',
    about: 'PV into the cars by all energy into them',
    better: 'more',
    of: ({ total }) => (cars.carWh(total) > 0 ? cars.carPvWh(total) / cars.carWh(total) : 0),
  },
  kmOnPv: ofCars('km', 'kilometres that the PV in the cars gives', 'more', 'pvKm'),
  drivenKm: ofCars('km', 'kilometres driven', 'neither', 'drivenKm'),
  missedKm: ofCars('km', 'kilometres that found the battery empty', 'less', 'missedKm'),
  solarChargingH: ofCars('h', 'solar charging hours: an hour at half PV counts half', 'neither', 'solarChargingH'),
  chargingH: ofCars('h', 'hours that draw power', 'neither', 'chargingH'),
  lossesKWh: {
    unit: 'kWh',
    about: 'lost between the charger and the battery of the cars',
    better: 'less',
    of: ({ total }) => (cars.carWh(total) - cars.storedWh(total)) / WH_PER_KWH,
  },
  starts: ofCars('', 'starts', 'less', 'starts'),
  stalls: ofCars('', 'stalls', 'less', 'stalls'),
  switches: ofCars('', 'phase switches', 'less', 'switches'),
  holds: ofCars('', 'holds by a limit', 'less', 'holds'),
  breakOffs: ofCars('', 'charging broken off by the charger', 'less', 'breakOffs'),
  startsPerDay: { unit: 'a day', about: 'starts', better: 'less', of: ({ total, days }) => sumOf('starts')(total) / days },
  switchesPerDay: {
    unit: 'a day',
    about: 'phase switches',
    better: 'less',
    of: ({ total, days }) => sumOf('switches')(total) / days,
  },
  roofKWh: ofHouse('what the roof could give', 'neither', 'pvWh'),
  houseKWh: ofHouse('what the house takes', 'neither', 'loadWh'),
  importKWh: ofHouse('imported by house and cars', 'less', 'gridImportWh'),
  exportKWh: ofHouse('exported', 'neither', 'gridExportWh'),
  curtailedKWh: ofHouse('curtailed by the export limit', 'less', 'curtailedWh'),
  rescuedKWh: ofHouse('PV in the cars that would have been curtailed', 'more', 'rescuedWh'),
  batteryInKWh: ofHouse('into the home battery', 'neither', 'batteryInWh'),
  batteryOutKWh: ofHouse('out of the home battery', 'neither', 'batteryOutWh'),
  batteryCycles: ofFigures('', 'full cycles of the home battery', 'less', ({ batteryCycles }) => batteryCycles),
  peakImportA: ofFigures('A', 'highest import on any building phase', 'less', (figures) => Math.max(...figures.peakImportA)),
  peakImportL1A: ofFigures('A', 'highest import on building phase 1', 'less', ({ peakImportA }) => peakImportA[0] ?? null),
  peakImportL2A: ofFigures('A', 'highest import on building phase 2', 'less', ({ peakImportA }) => peakImportA[1] ?? null),
  peakImportL3A: ofFigures('A', 'highest import on building phase 3', 'less', ({ peakImportA }) => peakImportA[2] ?? null),
  imbalanceA: ofFigures('A', 'largest difference between phases that the cars cause', 'less', (figures) => figures.imbalanceA),
  nearFuseH: ofFigures('h', 'hours near the main fuse', 'less', (figures) => figures.nearFuseH),
  overFuseH: ofFigures('h', 'hours above the main fuse', 'less', (figures) => figures.overFuseH),
  ratedKVA: ofFigures('kVA', 'highest power of all charge points', 'neither', (figures) => figures.ratedVA / W_PER_KW),
  missedDepartures: ofFigures('', 'departures with less than was asked for', 'less', ({ points }) =>
    points.reduce((sum, point) => sum + point.missedDepartures.length, 0),
  ),
  cost: ofMoney("the household's energy: import and public charging less export", 'less', (money) => money.totalCost),
  importCost: ofMoney('import', 'less', (money) => money.importCost),
  exportRevenue: ofMoney('earned by export', 'neither', (money) => money.exportRevenue),
  publicCost: ofMoney('charging elsewhere', 'less', (money) => money.publicCost),
  carCost: { unit: 'money', about: "what the cars add to the household's cost", better: 'less', of: carCost },
  costPer100Km: {
    unit: 'money',
    about: 'what the cars add, for 100 km driven',
    better: 'less',
    of: (outcome) => {
      const [cost, km] = [carCost(outcome), cars.drivenKm(outcome.total)];
      return cost === null || km === 0 ? null : (100 * cost) / km;
    },
  },
} as const satisfies Readonly<Record<string, Output>>;

/** An output's name. */
export type OutputName = keyof typeof OUTPUTS;

/** All names, in the order in which they are shown. */
export const OUTPUT_NAMES = Object.keys(OUTPUTS) as OutputName[];

/** Names that a study may ask for: each output, and with `atOnce.` before it the same of the days charged at once. */
export function outputNamed(name: string): Output | null {
  const bare = name.startsWith(AT_ONCE) ? name.slice(AT_ONCE.length) : name;
  return Object.hasOwn(OUTPUTS, bare) ? OUTPUTS[bare as OutputName] : null;
}

/** Before the name of an output: of the same days charged at once. */
export const AT_ONCE = 'atOnce.';
