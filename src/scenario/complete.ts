import {
  type Checked,
  failed,
  type Issue,
  passed,
  S_PER_MIN,
  type TimeGrid,
  W_PER_KW,
  WH_PER_KWH,
  type Zone,
} from '../base/index.ts';
import type { Holiday } from '../house/index.ts';
import type { Exceptions, WeeklyTrip } from '../vehicle/index.ts';
import { byPhases } from './by-phases.ts';
import { AIR_WITHOUT_WEATHER_C } from './defaults.ts';
import { filesOf, fileUnreadable } from './files.ts';
import { type CsvSource, readHouseholdCsv, readMeterCsv, readPvCsv, readStaysCsv, readWeatherCsv } from './measured.ts';
import { houseFromMeter } from './meter.ts';
import { gridOf } from './period.ts';
import { readEpw } from './read-epw.ts';
import { readProfileCsv } from './read-profile.ts';
import type {
  Battery,
  ChargePoint,
  CloudsSeed,
  Diverter,
  Household,
  PhaseSplit,
  Pv,
  Scenario,
  Site,
  Tariff,
  Usage,
  Weather,
} from './scenario.ts';
import { WEEKDAYS } from './schema/common.ts';
import type { ScenarioInput } from './schema.ts';
import { supplyOf } from './supply.ts';
import { tariffOf } from './tariff.ts';
import { dayMsOf, secondOfDay } from './time-text.ts';
import { climateWarnings, clockWarnings, epwPlaceWarnings, tooSunnyIssues } from './weather-checks.ts';

/**
 * The second half of the door: a checked scenario and the texts of its files become one complete Scenario in the core's units.
 *
 * @param files  text of each file of `filesOf(input)`, by its name as the scenario writes it
 * @param zone   table of `input.site.timeZone`, covering `periodMs(input)`
 */
export function completeScenario(input: ScenarioInput, files: ReadonlyMap<string, string>, zone: Zone): Checked<Scenario> {
  const gridChecked = gridOf(input, zone);
  if (!gridChecked.ok) return gridChecked;
  const door = new Door(input, files, gridChecked.value);
  const absent = filesOf(input).filter(({ file }) => !files.has(file));
  if (absent.length > 0) return failed(absent.map((request) => fileUnreadable(request, 'it was not handed in')));
  return door.complete();
}

/** What came out of a part of a scenario that was read from a file. */
interface Read {
  readonly value: unknown;
  readonly issues: readonly Issue[];
  readonly warnings: readonly Issue[];
}

/**
 * Parts read from files, by the texts handed in. The variants of a study share their files, and a year of minutes takes a second to
 * read; nothing is kept once the texts are forgotten.
 */
const READ = new WeakMap<ReadonlyMap<string, string>, Map<string, Read>>();

/** Gathers the sections with all that is wrong or worth knowing in any of them. */
class Door {
  private readonly issues: Issue[] = [];
  private readonly warnings: Issue[] = [];
  private readonly input: ScenarioInput;
  private readonly files: ReadonlyMap<string, string>;
  private readonly grid: TimeGrid;
  private readonly site: Site;

  constructor(input: ScenarioInput, files: ReadonlyMap<string, string>, grid: TimeGrid) {
    this.input = input;
    this.files = files;
    this.grid = grid;
    const { latitude, longitude, elevationM } = input.site;
    this.site = { latitudeDeg: latitude, longitudeDeg: longitude, elevationM };
  }

  complete(): Checked<Scenario> {
    const { input, grid } = this;
    // Whether a climate is possible at all takes a year of sun to tell, file or not.
    const weather = this.once([input.weather], () => this.weather(), true);
    const pv = this.once([input.pv], () => this.pv());
    const household = this.once([input.household, input.pv], () => this.household(pv));
    const chargePoints = input.chargePoints.map((point, i) => this.once([point, i], () => this.chargePoint(i)));
    const supply = this.take(supplyOf(input.grid));
    const tariff = this.once([input.tariff], () => this.tariff());
    const refused = this.issues.length > 0 || supply === null;
    if (refused || weather === null || pv === null || household === null || !chargePoints.every((point) => point !== null))
      return failed(this.issues);
    const sections = {
      supply,
      tariff,
      weather,
      pv,
      household,
      battery: this.battery(),
      diverter: this.diverter(),
      chargePoints,
    };
    return passed(
      { name: input.name, site: this.site, zone: grid.zone, grid, ...sections, control: input.control },
      this.warnings,
    );
  }

  /** A part that rests on a file, or is costly, as it came out the last time if nothing that it is read from has changed since. */
  private once<T>(sections: readonly unknown[], make: () => T, isCostly = false): T {
    const { site, period, grid } = this.input;
    const key = JSON.stringify([site, period, grid.phases, sections]);
    if (!isCostly && !key.includes('"file":')) return make();
    const known = READ.get(this.files) ?? new Map<string, Read>();
    READ.set(this.files, known);
    let read = known.get(key);
    if (read === undefined) {
      const [issues, warnings] = [this.issues.length, this.warnings.length];
      const value = make();
      read = { value, issues: this.issues.splice(issues), warnings: this.warnings.splice(warnings) };
      known.set(key, read);
    }
    this.issues.push(...read.issues);
    this.warnings.push(...read.warnings);
    return read.value as T;
  }

  /** The value of a part that passed, or null with its issues kept. */
  private take<T>(checked: Checked<T>): T | null {
    if (checked.ok) {
      this.warnings.push(...checked.warnings);
      return checked.value;
    }
    this.issues.push(...checked.issues);
    return null;
  }

  private csv(
    path: readonly (string | number)[],
    section: { file: string; clock?: string; shiftMin?: number; maxGapMin?: number },
  ): CsvSource {
    const { file, clock = 'offset', shiftMin = 0, maxGapMin = 0 } = section;
    return { text: this.files.get(file) ?? '', file, path, clock, shiftMin, maxGapMin };
  }

  /** Null where there is none, or where it is wrong. */
  private tariff(): Tariff | null {
    const { tariff } = this.input;
    return tariff === undefined ? null : this.take(tariffOf(tariff, this.grid, (path, section) => this.csv(path, section)));
  }

  private weather(): Weather | null {
    const { weather } = this.input;
    if (weather === undefined) return { kind: 'none', airC: AIR_WITHOUT_WEATHER_C };
    if (weather.source === 'synthetic') {
      const { seed, climate, monthlyGhiKWhM2 = [], monthlyTempC = [] } = weather;
      this.issues.push(...tooSunnyIssues(monthlyGhiKWhM2, climate, this.site));
      if (climate !== undefined) this.warnings.push(...climateWarnings(climate, this.site));
      return {
        kind: 'synthetic',
        seed,
        monthlyGhiWhPerM2: monthlyGhiKWhM2.map((sum) => sum * WH_PER_KWH),
        monthlyAirC: monthlyTempC,
      };
    }
    const path = ['weather', 'file'];
    if (weather.source === 'csv') {
      const series = this.take(readWeatherCsv(this.csv(path, weather), this.grid));
      if (series === null) return null;
      this.warnings.push(...clockWarnings(series, weather.shiftMin, this.site));
      return { kind: 'measured', source: 'csv', series, cloudsSeed: cloudsSeedOf(weather) };
    }
    const epw = this.take(readEpw(this.files.get(weather.file) ?? '', weather.file, path, weather.shiftMin, this.grid));
    if (epw === null) return null;
    this.warnings.push(...epwPlaceWarnings(epw.place, this.site, this.grid, weather.file));
    this.warnings.push(...clockWarnings(epw.series, weather.shiftMin, this.site));
    return { kind: 'measured', source: 'epw', series: epw.series, cloudsSeed: cloudsSeedOf(weather) };
  }

  private pv(): Pv | null {
    const { pv } = this.input;
    const phases = pv.phases ?? this.allPhases();
    if (pv.source === 'csv') {
      const series = this.take(readPvCsv(this.csv(['pv', 'file'], pv), pv.factor, this.grid));
      return series === null ? null : { kind: 'measured', series, phases };
    }
    const arrays = pv.arrays.map(({ name, kWp, lossPercent, horizonDeg, monthlyLossPercent, ...rest }, i) => ({
      ...rest,
      name: name ?? `array ${i + 1}`,
      peakW: kWp * W_PER_KW,
      lossShare: lossPercent / 100,
      horizonDeg: horizonDeg ?? [0],
      monthlyLossPercent: monthlyLossPercent ?? [],
    }));
    const peakW = arrays.reduce((sum, array) => sum + array.peakW, 0);
    const inverter = { ratedW: pv.inverter.ratedW ?? peakW, efficiencyShare: pv.inverter.efficiency };
    return { kind: 'arrays', arrays, inverter, phases };
  }

  private allPhases(): readonly number[] {
    return this.input.grid.phases === 1 ? [1] : [1, 2, 3];
  }

  private battery(): Battery | null {
    const { battery } = this.input;
    if (battery === undefined) return null;
    const { capacityKWh, roundTripEfficiency, priority, phases, ...rest } = battery;
    return {
      ...rest,
      capacityWh: capacityKWh * WH_PER_KWH,
      roundTripShare: roundTripEfficiency,
      phases: phases ?? this.allPhases(),
      priority: typeof priority === 'string' ? { kind: priority } : { kind: 'until', untilSoc: priority.batteryUntilSoc },
    };
  }

  private diverter(): Diverter | null {
    const { diverter } = this.input.household;
    if (diverter === undefined) return null;
    return { maxW: diverter.maxW, dailyWh: diverter.dailyKWh * WH_PER_KWH, priority: diverter.priority };
  }

  /** @param pv  null where it is wrong itself */
  private household(pv: Pv | null): Household | null {
    const { household } = this.input;
    const phaseSplit = splitOf(household.phaseSplit, this.input.grid.phases);
    if (household.source === 'synthetic') return syntheticOf(household, phaseSplit);
    const source = this.csv(['household', 'file'], household);
    if (household.source === 'profile') {
      const profile = this.take(readProfileCsv(source));
      const { file, annualKWh, dynamic, daysOff } = household;
      const annualWh = annualKWh * WH_PER_KWH;
      return profile && { kind: 'profile', file, profile, annualWh, dynamic, daysOff: datesOf(daysOff), phaseSplit };
    }
    const spikesSeed = household.minutes === 'spikes' ? household.seed : null;
    if (household.source === 'csv') {
      const measured = this.take(readHouseholdCsv(source, this.grid));
      if (measured?.kind !== 'measured') return measured && { ...measured, spikesSeed };
      return { ...measured, from: 'csv', phaseSplit, spikesSeed };
    }
    const meter = this.take(readMeterCsv(source, this.grid));
    if (meter === null || pv?.kind !== 'measured') return null;
    const series = this.take(houseFromMeter(meter, pv.series, this.grid));
    return series && { kind: 'measured', from: 'meter', series, phaseSplit, spikesSeed };
  }

  private chargePoint(i: number): ChargePoint | null {
    const point = this.input.chargePoints[i];
    if (point === undefined) return null;
    const usage = this.usage(point.usage, ['chargePoints', i, 'usage', 'file']);
    if (usage === null) return null;
    const wiring = point.charger.wiring ?? this.allPhases();
    const charger = { ...point.charger, wiring, wiringAsBuilt: point.charger.wiringAsBuilt ?? wiring };
    const vehicle = vehicleOf(point.vehicle);
    const believed = point.believes?.minCurrentA;
    const believes = {
      phases: point.believes?.phases ?? vehicle.phases,
      minCurrentA: believed === undefined ? vehicle.minCurrentA : byPhases(believed),
    };
    const { floorKm, departureKm } = point.usage;
    return { name: point.name ?? `charge point ${i + 1}`, charger, vehicle, believes, needs: { floorKm, departureKm }, usage };
  }

  private usage(usage: ScenarioInput['chargePoints'][number]['usage'], path: readonly (string | number)[]): Usage | null {
    if (usage.source === 'always') return { kind: 'always' };
    if (usage.source === 'csv') {
      const stays = this.take(readStaysCsv(this.csv(path, usage), this.grid));
      return stays === null ? null : { kind: 'stays', stays };
    }
    const trips = usage.trips.map(({ days, leave, return: back, km, jitterMin }): WeeklyTrip => {
      const weekdays = [...new Set(days)].map((day) => WEEKDAYS.indexOf(day)).sort((a, b) => a - b);
      return { weekdays, leaveS: secondOfDay(leave), returnS: secondOfDay(back), km, jitterS: jitterMin * S_PER_MIN };
    });
    const { seed, plugInBelowSoc } = usage;
    return { kind: 'weekly', seed, trips, exceptions: exceptionsOf(usage), plugInBelowSoc };
  }
}

type SyntheticInput = Extract<ScenarioInput['household'], { source: 'synthetic' }>;

function syntheticOf(household: SyntheticInput, phaseSplit: PhaseSplit): Household {
  const { annualKWh, people, seed, hotWaterKWh, heatPumpKWh, daysOff, holidays } = household;
  return {
    kind: 'synthetic',
    annualWh: annualKWh * WH_PER_KWH,
    people,
    seed,
    phaseSplit,
    hotWaterWh: hotWaterKWh * WH_PER_KWH,
    heatPumpWh: heatPumpKWh * WH_PER_KWH,
    daysOff: datesOf(daysOff),
    holidays: holidays.map(stretchOf),
  };
}

function exceptionsOf(usage: Extract<ScenarioInput['chargePoints'][number]['usage'], { source: 'weekly' }>): Exceptions {
  return {
    longTrips: usage.longTrips ?? null,
    daysOff: datesOf(usage.daysOff),
    holidays: usage.holidays.map((holiday) => ({ ...stretchOf(holiday), km: holiday.km })),
  };
}

/** Dates that the cross checks have found in the calendar. */
const datesOf = (days: readonly string[]): number[] => days.map((day) => dayMsOf(day) ?? Number.NaN);
const stretchOf = ({ from, to }: { from: string; to: string }): Holiday => ({
  firstMs: dayMsOf(from) ?? Number.NaN,
  lastMs: dayMsOf(to) ?? Number.NaN,
});

function vehicleOf(vehicle: ScenarioInput['chargePoints'][number]['vehicle']): ChargePoint['vehicle'] {
  const { phases, maxCurrentA, minCurrentA, standbyW, startLagS, startSoc, targetSoc } = vehicle;
  return {
    batteryWh: vehicle.batteryKWh * WH_PER_KWH,
    phases,
    maxCurrentA,
    minCurrentA: byPhases(minCurrentA),
    standbyW,
    conversionShare: vehicle.conversionEfficiency,
    startLagS,
    whPerKm: (vehicle.kWhPer100km * WH_PER_KWH) / 100,
    coldFactor: vehicle.coldFactor,
    preheatWh: vehicle.preheatKWh * WH_PER_KWH,
    taperFromSoc: vehicle.taperFromSoc ?? 1,
    startSoc,
    targetSoc,
    givesUpAfter: vehicle.givesUpAfter ?? null,
  };
}

const cloudsSeedOf = ({ minutes, seed }: { minutes: 'clouds' | 'flat'; seed: number }): CloudsSeed =>
  minutes === 'clouds' ? seed : null;

/** Shares brought to a sum of exactly 1; thirds, or all on phase 1 of a one-phase grid, where none are written. */
function splitOf(written: readonly number[] | undefined, gridPhases: 1 | 3): PhaseSplit {
  if (gridPhases === 1) return [1, 0, 0];
  const [a = 1, b = 1, c = 1] = written ?? [];
  const sum = a + b + c;
  return [a / sum, b / sum, c / sum];
}
