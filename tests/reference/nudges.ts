/**
 * By how much each model has to be wrong for its reference tests to notice: twice the tolerance of the test, either way.
 * `npm run nudge` (tests/tools/nudge-references.ts) puts each row's change behind the export that the tests call, and asks that every
 * test of the row fails; and that no test of this folder is without a row or without a reason in `UNMOVED`.
 * Tests that hold a value inside a range found outside have their model moved by the width of that range.
 */
import { cosDeg, degOf } from '../../src/base/index.ts';
import { TOLERANCE as T } from './tolerances.ts';

interface Modules {
  sky: typeof import('../../src/sky/index.ts');
  pv: typeof import('../../src/pv/index.ts');
  house: typeof import('../../src/house/index.ts');
  houseYear: typeof import('../../src/house/year.ts');
  vehicle: typeof import('../../src/vehicle/index.ts');
}
/** Up or down. */
type Way = 1 | -1;
// biome-ignore lint/suspicious/noExplicitAny: what a function of any kind takes and gives
type Anything = any;

/** A model that says something else, and the tests that must notice. */
export interface Nudge {
  readonly module: keyof Modules;
  readonly model: string;
  readonly by: string;
  /** Name of the test file, without its end. */
  readonly file: string;
  readonly tests: RegExp;
  readonly moved: (original: Anything, way: Way) => Anything;
}

type Change<F> = F extends (...args: infer A) => infer R ? (found: R, way: Way, args: A) => R : never;

function nudge<M extends keyof Modules, K extends keyof Modules[M] & string>(
  module: M,
  model: K,
  by: string,
  change: Change<Modules[M][K]>,
  file: string,
  tests: RegExp,
): Nudge {
  const moved = (original: Anything, way: Way) => {
    return (...args: unknown[]) => (change as Anything)(original(...args), way, args);
  };
  return { module, model, by, file, tests, moved };
}

const plus = (tolerance: number) => (found: number, way: Way) => found + way * 2 * tolerance;
const times = (share: number) => (found: number, way: Way) => found * (1 + way * 2 * share);
/** One of several results. */
const only =
  <K extends string, V>(key: K, change: (found: V, way: Way) => V) =>
  <R extends { readonly [key in K]: V }>(found: R, way: Way): R => ({ ...found, [key]: change(found[key], way) });
/** Turned by so many degrees. */
const turned = (tolerance: number) => (cosine: number, way: Way) => cosDeg(degOf(Math.acos(cosine)) + way * 2 * tolerance);
/** A time that may not be. */
const later = (seconds: number) => (atMs: number | undefined, way: Way) => atMs && atMs + way * 2000 * seconds;
const noonLater = (seconds: number) => only('noonMs', (atMs: number, way: Way) => atMs + way * 2000 * seconds);

const SKY: readonly Nudge[] = [
  nudge('sky', 'relativeAirMass', 'airMassShare', times(T.airMassShare), 'sky', /B1:|B2:/),
  nudge('sky', 'absoluteAirMass', 'absoluteAirMass', plus(T.absoluteAirMass), 'sky', /B4:/),
  nudge('sky', 'standardPressurePa', 'pressureShare', times(T.pressureShare), 'sky', /B5:/),
  nudge('sky', 'clearGhiHaurwitzWPerM2', 'clearSkyWPerM2', plus(T.clearSkyWPerM2), 'sky', /B6:/),
  nudge('sky', 'clearGhiHaurwitzWPerM2', 'haurwitzRecomputedWPerM2', plus(T.haurwitzRecomputedWPerM2), 'sky', /B7:/),
  nudge('sky', 'clearGhiHaurwitzWPerM2', 'clearDayShare', times(T.clearDayShare), 'sky', /B13, B14:/),
  ...(['ghiWPerM2', 'dniWPerM2', 'dhiWPerM2'] as const).flatMap((part) => [
    nudge('sky', 'clearSky', `clearSkyWPerM2 of ${part}`, only(part, plus(T.clearSkyWPerM2)), 'sky', /B[89]'?:/),
    nudge('sky', 'clearSky', `clearSkyRecomputedWPerM2 of ${part}`, only(part, plus(T.clearSkyRecomputedWPerM2)), 'sky', /B12:/),
  ]),
  nudge('sky', 'clearSky', 'clearDayShare of ghiWPerM2', only('ghiWPerM2', times(T.clearDayShare)), 'sky', /B13, B14:/),
  nudge('sky', 'clearSky', 'clearDayShare of dhiWPerM2', only('dhiWPerM2', times(T.clearDayShare)), 'sky', /B13, B14:/),
  nudge('sky', 'erbsDiffuseShare', 'erbsShare', plus(T.erbsShare), 'sky', /B15:/),
  nudge('sky', 'clearnessOf', 'erbsSplitShare', times(T.erbsSplitShare), 'sky', /B16:/),
  nudge('sky', 'erbsSplit', 'erbsSplitShare of dhiWPerM2', only('dhiWPerM2', times(T.erbsSplitShare)), 'sky', /B16:/),
  nudge('sky', 'erbsSplit', 'erbsSplitShare of dniWPerM2', only('dniWPerM2', times(T.erbsSplitShare)), 'sky', /B16:/),
  nudge('sky', 'erbsSplit', 'closureWPerM2', only('dhiWPerM2', plus(T.closureWPerM2)), 'sky', /B17:/),
  nudge('sky', 'beamByClosure', 'beamWPerM2', plus(T.beamWPerM2), 'sky', /B19:/),
];

/** Seen from a place; at the pole the tests read the declination, which is not what they judge. */
const awayFromPole =
  (part: 'zenithDeg' | 'azimuthDeg', tolerance: number): Change<Modules['sky']['sunAngles']> =>
  (found, way, [, latitudeDeg]) =>
    latitudeDeg === 90 ? found : { ...found, [part]: found[part] + way * 2 * tolerance };
/** A day's sum of light outside the atmosphere, moved by so many MJ/m². */
const daySum =
  (tolerance: number): Change<Modules['sky']['sunTrack']> =>
  (track, way) => {
    const dayMJ = (track.cosZenith.reduce((a, b) => a + b, 0) * 600 * 1367) / 1e6;
    return { ...track, cosZenith: track.cosZenith.map((c) => times(tolerance / dayMJ)(c, way)) };
  };
const monthSum: Change<Modules['sky']['sunTrack']> = (track, way) => ({
  ...track,
  cosZenith: track.cosZenith.map((c) => times(T.monthExtraterrestrialShare)(c, way)),
});

const SUN: readonly Nudge[] = [
  nudge('sky', 'sunAngles', 'sunZenithDeg', only('zenithDeg', plus(T.sunZenithDeg)), 'sun', /A5:|A3: declination|A34: SPA/),
  nudge('sky', 'sunAngles', 'sunAzimuthDeg', only('azimuthDeg', plus(T.sunAzimuthDeg)), 'sun', /A1: azimuth|A34: SPA/),
  nudge('sky', 'sunAngles', 'solsticeZenithDeg', only('zenithDeg', plus(T.solsticeZenithDeg)), 'sun', /A33:/),
  nudge('sky', 'sunAngles', 'sunAltitudeMeanDeg', only('zenithDeg', plus(T.sunAltitudeMeanDeg)), 'sun', /astronomy-engine/),
  nudge('sky', 'sunAngles', 'textbookDeg of zenith', awayFromPole('zenithDeg', T.textbookDeg), 'sun', /A12:|A14:/),
  nudge('sky', 'sunAngles', 'textbookDeg of azimuth', awayFromPole('azimuthDeg', T.textbookDeg), 'sun', /A12:|A14:/),
  nudge('sky', 'apparentZenithDeg', 'apparentZenithDeg', plus(T.apparentZenithDeg), 'sun', /A1: apparent|A34: SPA/),
  nudge('sky', 'apparentZenithDeg', 'refractionDeg', plus(T.refractionDeg), 'sun', /A1: apparent/),
  nudge('pv', 'cosIncidence', 'incidenceDeg', turned(T.incidenceDeg), 'sun', /A2:/),
  nudge('pv', 'cosIncidence', 'textbookIncidenceDeg', turned(T.textbookIncidenceDeg), 'sun', /A11:/),
  nudge('sky', 'sunTimes', 'noonS', noonLater(T.noonS), 'sun', /A4:/),
  nudge('sky', 'sunTimes', 'equationOfTimeMin', noonLater(60 * T.equationOfTimeMin), 'sun', /A4:|A19:/),
  nudge('sky', 'sunTimes', 'textbookMin', noonLater(60 * T.textbookMin), 'sun', /A10:/),
  nudge('sky', 'sunTimes', 'riseSetS of sunrise', only('riseMs', later(T.riseSetS)), 'sun', /A4:|A7 |A34 /),
  nudge('sky', 'sunTimes', 'riseSetS of sunset', only('setMs', later(T.riseSetS)), 'sun', /A4:|A7 |A34 /),
  nudge('sky', 'sunTimes', 'riseSetMinuteS of sunrise', only('riseMs', later(T.riseSetMinuteS)), 'sun', /A8 /),
  nudge('sky', 'sunTimes', 'riseSetMinuteS of sunset', only('setMs', later(T.riseSetMinuteS)), 'sun', /A8 /),
  nudge('sky', 'sunTimes', 'dayLengthH', only('setMs', later(3600 * T.dayLengthH)), 'sun', /A32:/),
  nudge('sky', 'sunDistanceAu', 'distanceAu', plus(T.distanceAu), 'sun', /A3: distance|A22:|A23:/),
  nudge('sky', 'extraterrestrialWPerM2', 'extraterrestrialWPerM2', plus(T.extraterrestrialWPerM2), 'sun', /A25:/),
  nudge('sky', 'extraterrestrialWPerM2', 'its Spencer row', plus(T.extraterrestrialSpencerWPerM2), 'sun', /A24:/),
  nudge('sky', 'sunTrack', 'dailyExtraterrestrialMJ', daySum(T.dailyExtraterrestrialMJ), 'sun', /A30:/),
  nudge('sky', 'sunTrack', 'dailyExtraterrestrialTableMJ', daySum(T.dailyExtraterrestrialTableMJ), 'sun', /A28:/),
  nudge('sky', 'sunTrack', 'monthExtraterrestrialShare', monthSum, 'sun', /A31:/),
];

const PLANE: readonly Nudge[] = [
  nudge('pv', 'cosIncidence', 'cosIncidence', plus(T.cosIncidence), 'pv', /C4:/),
  nudge('pv', 'cosIncidence', 'incidenceDeg', turned(T.incidenceDeg), 'pv', /C7, C8:/),
  nudge('pv', 'beamOnPlaneWPerM2', 'planeWPerM2', plus(T.planeWPerM2), 'pv', /C7, C8:|C13:/),
  nudge('pv', 'isotropicDiffuseWPerM2', 'isotropicOneWPerM2', plus(T.isotropicOneWPerM2), 'pv', /C5:/),
  nudge('pv', 'isotropicDiffuseWPerM2', 'isotropicWPerM2', plus(T.isotropicWPerM2), 'pv', /C7, C8:/),
  nudge('pv', 'isotropicDiffuseWPerM2', 'planeWPerM2', plus(T.planeWPerM2), 'pv', /C13:/),
  nudge('pv', 'groundOnPlaneWPerM2', 'groundWPerM2', plus(T.groundWPerM2), 'pv', /C6:/),
  nudge('pv', 'groundOnPlaneWPerM2', 'planeWPerM2', plus(T.planeWPerM2), 'pv', /C13:/),
  ...(['totalWPerM2', 'isotropicWPerM2', 'circumsolarWPerM2'] as const).flatMap((part) => [
    nudge('pv', 'hayDaviesDiffuse', `planeWPerM2 of ${part}`, only(part, plus(T.planeWPerM2)), 'pv', /C9:/),
    nudge('pv', 'perezDiffuse', `planeWPerM2 of ${part}`, only(part, plus(T.planeWPerM2)), 'pv', /C11:/),
  ]),
  nudge('pv', 'perezDiffuse', 'planeWPerM2 of horizonWPerM2', only('horizonWPerM2', plus(T.planeWPerM2)), 'pv', /C11:/),
  nudge('pv', 'perezDiffuse', 'planeWPerM2 of totalWPerM2', only('totalWPerM2', plus(T.planeWPerM2)), 'pv', /C13:/),
  nudge('pv', 'perezClearness', 'perezClearness', plus(T.perezClearness), 'pv', /C11:/),
  nudge('pv', 'perezF1', 'perezFactor', plus(T.perezFactor), 'pv', /C11:/),
  nudge('pv', 'perezF2', 'perezFactor', plus(T.perezFactor), 'pv', /C11:/),
  nudge('pv', 'reindlDiffuse', 'planeWPerM2', only('totalWPerM2', plus(T.planeWPerM2)), 'pv', /C10:/),
];

const BOOK: readonly Nudge[] = [
  nudge(
    'pv',
    'cosIncidence',
    'textbookRatio',
    (cosine, way, [, , zenithDeg]) => cosine + way * 2 * T.textbookRatio * cosDeg(zenithDeg),
    'pv',
    /A15:/,
  ),
  nudge('sky', 'erbsDiffuseShare', 'textbookMJ of 1.04', plus(T.textbookMJ / 1.04), 'pv', /C2, C3:/),
  ...(['beamOnPlaneWPerM2', 'groundOnPlaneWPerM2', 'isotropicDiffuseWPerM2'] as const).map((model) =>
    nudge('pv', model, 'textbookMJ', plus(T.textbookMJ), 'pv', /C2, C3:/),
  ),
  ...(['hayDaviesDiffuse', 'reindlDiffuse', 'perezDiffuse'] as const).map((model) =>
    nudge('pv', model, 'textbookMJ', only('totalWPerM2', plus(T.textbookMJ)), 'pv', /C2, C3:/),
  ),
  ...(['groundOnPlaneWPerM2', 'isotropicDiffuseWPerM2'] as const).map((model) =>
    nudge('pv', model, 'textbookMonthMJ', plus(T.textbookMonthMJ), 'pv', /C1:/),
  ),
];

const MODULE: readonly Nudge[] = [
  nudge('pv', 'passingShareAshrae', 'passingShare', plus(T.passingShare), 'pv', /C14, C15: ASHRAE at (22\.5|45|67\.5|89|90)°/),
  nudge('pv', 'passingShareAshrae', 'passingShareRecomputed', plus(T.passingShareRecomputed), 'pv', /C14, C15:/),
  nudge('pv', 'passingShare', 'passingShare', plus(T.passingShare), 'pv', /C16: physical/),
  nudge('pv', 'passingShare', 'passingShareAsPrinted', plus(T.passingShareAsPrinted), 'pv', /C16: Snell/),
  nudge('pv', 'cellTempFaimanC', 'cellC', plus(T.cellC), 'pv', /D1, D3:/),
  nudge('pv', 'cellTempFaimanC', 'roofShare', times(T.roofShare), 'pv', /roof: within/),
  nudge('pv', 'dcPowerW', 'exact', plus(T.exact), 'pv', /D6, D7:/),
  nudge('pv', 'acPowerW', 'inverterW', plus(T.inverterW), 'pv', /D8:/),
  nudge('pv', 'acPowerW', 'inverterShare', (w, way, [dcW]) => w + way * 2 * T.inverterShare * dcW, 'pv', /D9:|D10:/),
  nudge('pv', 'combinedLossPercent', 'lossPercent', plus(T.lossPercent), 'pv', /D14:/),
];

/** Of what is drawn, so many points more or less get lost; at some powers only. */
const moreLost =
  (points: number, atW: readonly number[]): Change<Modules['vehicle']['dcPowerW']> =>
  (dcW, way, [acW]) =>
    atW.includes(acW) ? dcW - (way * points * acW) / 100 : dcW;
const inTheCold =
  (much: number): Change<Modules['vehicle']['consumptionFactor']> =>
  (factor, way, [airC]) =>
    airC < 10 ? factor + way * much : factor;

const CAR: readonly Nudge[] = [
  nudge('vehicle', 'dcPowerW', 'chargingLossPercent', moreLost(2 * T.chargingLossPercent, [2300]), 'vehicle', /I1, I2, I5:/),
  nudge('vehicle', 'dcPowerW', 'the same, 11 kW', moreLost(2 * T.chargingLossPercent, [11_040]), 'vehicle', /I1, I2, I5:/),
  nudge(
    'vehicle',
    'dcPowerW',
    'chargingLossRoundedPercent',
    moreLost(2 * T.chargingLossRoundedPercent, [1380]),
    'vehicle',
    /I5:/,
  ),
  nudge('vehicle', 'dcPowerW', 'the same, 3 x 6 A', moreLost(2 * T.chargingLossRoundedPercent, [4140]), 'vehicle', /I5:/),
  nudge('vehicle', 'dcPowerW', 'range, 12.7 to 24.2 %', moreLost(24.2 - 12.7, [2300]), 'vehicle', /I1, I2: /),
  nudge(
    'vehicle',
    'dcPowerW',
    'range, 6.3 to 9.7 %',
    moreLost(9.7 - 6.3, [11_040]),
    'vehicle',
    /I1, I2: (?!small-city|early-hatchback|two-phase-compact|plug-in-hybrid)/,
  ),
  nudge('vehicle', 'consumptionFactor', 'range, 1.25 to 2', inTheCold(2 - 1.25), 'vehicle', /I12:/),
  nudge('vehicle', 'consumptionFactor', 'range, 1.2 to 1.67', inTheCold(1.67 - 1.2), 'vehicle', /I13:/),
];

type Load = Change<Modules['house']['syntheticHousehold']>;
const each =
  (change: (w: number, way: Way) => number): Load =>
  (loads, way) => {
    const one = (phase: Float64Array): Float64Array => phase.map((w) => change(w, way));
    return [one(loads[0]), one(loads[1]), one(loads[2])];
  };
const meanOf = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;
/** Points of a day's energy moved into some hours (of winter time, quarter-hours) from the others. */
const intoHours = (from: number, to: number, points: number): Load =>
  ((loads, way, [, grid]) => {
    const isIn = (k: number): boolean => {
      let day = Math.floor(k / 96);
      while ((grid.dayStart[day] ?? 0) > k) day--;
      while ((grid.dayStart[day + 1] ?? grid.steps) <= k) day++;
      const quarter = k - (grid.dayStart[day] ?? 0);
      return quarter >= from * 4 && quarter < to * 4;
    };
    const moved = (w: Float64Array): Float64Array => {
      let inside = 0;
      w.forEach((x, k) => {
        if (isIn(k)) inside += x;
      });
      const share = inside / (meanOf(w) * w.length);
      const wanted = share + (way * points) / 100;
      return w.map((x, k) => x * (isIn(k) ? wanted / share : (1 - wanted) / (1 - share)));
    };
    return [moved(loads[0]), moved(loads[1]), moved(loads[2])];
  }) satisfies Load;
/** Each phase moved by so much of its mean. */
const byMean =
  (part: (k: number, way: Way) => number): Load =>
  (loads, way) => {
    const one = (w: Float64Array): Float64Array => {
      const mean = meanOf(w);
      return w.map((x, k) => x + mean * part(k, way));
    };
    return [one(loads[0]), one(loads[1]), one(loads[2])];
  };
/** The least over the mean moved by so many points, where it is about a third. */
const NIGHT_SHARE = (2 * T.householdSharePoints) / 100;
const nightPoints = byMean((_, way) => (way * NIGHT_SHARE) / (0.67 - way * NIGHT_SHARE));
/** Every other quarter-hour higher and lower: a correlation of 0.98 becomes 0.92 and less. */
const zigzag = byMean((k, way) => (k % 2 === 0 ? 0.2 : -0.2) * way);
/** How far minutes stray from the mean of their hour, times so much. */
const stray =
  (times: (way: Way) => number) =>
  (loads: ReturnType<Modules['house']['syntheticHousehold']>, way: Way): typeof loads => {
    const one = (w: Float64Array): Float64Array => {
      const out = new Float64Array(w.length);
      for (let h = 0; h < w.length; h += 60) {
        const hour = w.subarray(h, h + 60);
        const mean = meanOf(hour);
        hour.forEach((x, i) => {
          out[h + i] = mean + times(way) * (x - mean);
        });
      }
      return out;
    };
    return [one(loads[0]), one(loads[1]), one(loads[2])];
  };

const HOUSE: readonly Nudge[] = [
  nudge('house', 'dynamicFactor', 'dynamicFactor', plus(T.dynamicFactor), 'household', /H2, H3:/),
  nudge(
    'house',
    'standardProfileW',
    'profileYearShare',
    (load, way) => load.map((w) => times(T.profileYearShare)(w, way)),
    'household',
    /H5:/,
  ),
  nudge('house', 'syntheticHousehold', 'householdCorrelation', zigzag, 'household', /: shape/),
  nudge(
    'house',
    'syntheticHousehold',
    'points of the evening',
    intoHours(17, 22, 2 * T.householdSharePoints),
    'household',
    /: shares/,
  ),
  nudge(
    'house',
    'syntheticHousehold',
    'points of sun hours',
    intoHours(9, 15, 2 * T.householdSharePoints),
    'household',
    /: shares/,
  ),
  nudge('house', 'syntheticHousehold', 'points of the night', nightPoints, 'household', /: shares/),
  nudge(
    'house',
    'syntheticHousehold',
    'householdDayShare',
    each((w, way) => times(T.householdDayShare)(w, way)),
    'household',
    /: energy of the day/,
  ),
  nudge(
    'houseYear',
    'houseYear',
    'householdYearShare',
    (year, way) => {
      const moved = (sheet: typeof year.spread): typeof sheet => ({
        ...sheet,
        valuesW: sheet.valuesW.map((w) => times(T.householdYearShare)(w, way)),
      });
      const [first, second, third] = year.appliances;
      return { ...year, appliances: [moved(first), second, third], spread: moved(year.spread) };
    },
    'household',
    /H9:/,
  ),
  // The three homes differ by up to 3.2 times, and so much beyond them is allowed on either side: 4.5 times.
  nudge(
    'house',
    'syntheticHousehold',
    'range of three homes',
    each((w, way) => w * 4.5 ** way),
    'household',
    /load duration|highest minute|three days lie/,
  ),
  // What hours hide goes with how far minutes stray from them: 8 points, moved by twice the tolerance.
  nudge(
    'house',
    'syntheticHousehold',
    'resolutionPercent',
    stray((way) => 1 + (way * 2 * T.resolutionPercent) / 8),
    'resolution',
    /H12:/,
  ),
  // Half of what holding the hours misses is allowed: none of the straying, or twice as much.
  nudge(
    'house',
    'withSpikes',
    'all that holding misses',
    stray((way) => 1 + way),
    'resolution',
    /broken up into spikes/,
  ),
];

/** Light of clouds by the minute, changed minute by minute; `mean` is that of the minute's hour. */
const light =
  (change: (w: number, mean: number, way: Way) => number): Change<Modules['sky']['spreadClouds']> =>
  (weather, way) => {
    const moved = (values: Float64Array): Float64Array =>
      values.map((w, k) => change(w, meanOf(values.subarray(k - (k % 60), k - (k % 60) + 60)), way));
    return {
      ...weather,
      ghiWPerM2: moved(weather.ghiWPerM2),
      dniWPerM2: moved(weather.dniWPerM2),
      dhiWPerM2: moved(weather.dhiWPerM2),
    };
  };

/** Every other minute brighter and darker: more spells of sun; or five minutes alike: fewer. */
const flicker: Change<Modules['sky']['spreadClouds']> = (weather, way) => {
  const moved = (values: Float64Array): Float64Array =>
    values.map((w, k) => (way === 1 ? w * (k % 2 === 0 ? 1.6 : 0.4) : meanOf(values.subarray(k - (k % 5), k - (k % 5) + 5))));
  return { ...weather, ghiWPerM2: moved(weather.ghiWPerM2), dniWPerM2: moved(weather.dniWPerM2) };
};
const share = (tolerance: number) => light((w, _, way) => times(tolerance)(w, way));

// Where a test holds a bound on one side, both ways are the same.
const CLOUDS: readonly Nudge[] = [
  nudge(
    'sky',
    'spreadClouds',
    'cloudsEnergyPercent',
    share(T.cloudsEnergyPercent / 100),
    'clouds',
    /^(?!.*month 11.* 3 phases, share 1$).*: energy within/,
  ),
  nudge(
    'sky',
    'spreadClouds',
    '3 of 7.2 kWh',
    light((w) => w * (1 - (2 * 3) / 7.2)),
    'clouds',
    /November, three phases/,
  ),
  nudge('sky', 'spreadClouds', 'ksDistance', share(T.ksDistance), 'clouds', /: distribution/),
  // Half of the ramps of November are a fifth too small.
  nudge(
    'sky',
    'spreadClouds',
    'rampShare',
    light((w, mean, way) => Math.max(0, mean + times(T.rampShare / 0.8)(w - mean, way))),
    'clouds',
    /: ramps/,
  ),
  nudge('sky', 'spreadClouds', 'spells cut up or joined', flicker, 'clouds', /as many spells/),
  nudge(
    'sky',
    'spreadClouds',
    'no two states',
    light((w, mean) => mean + 0.3 * (w - mean)),
    'clouds',
    /two humps/,
  ),
  nudge(
    'sky',
    'spreadClouds',
    'a tenth brighter',
    light((w) => 1.1 * w),
    'clouds',
    /brightest minutes/,
  ),
  nudge(
    'sky',
    'spreadClouds',
    'its means',
    light((w, _, way) => plus(1e-6)(w, way)),
    'clouds',
    /are kept/,
  ),
  nudge(
    'sky',
    'spreadClouds',
    '60 W/m²',
    light((w, _, way) => plus(60)(w, way)),
    'clouds',
    /Alamosa/,
  ),
];

export const NUDGES: readonly Nudge[] = [...SKY, ...SUN, ...PLANE, ...BOOK, ...MODULE, ...CAR, ...HOUSE, ...CLOUDS];

/** Tests that no nudge can move, and why. */
export const UNMOVED: readonly (readonly [file: string, tests: RegExp, why: string])[] = [
  ['sky', /B3:/, 'an order (one is less than the other), no value'],
  ['sun', /polar night/, 'that there is no value'],
  ['pv', /C19:/, 'a table as printed, exact to its last digit'],
  ['pv', /D2:/, 'two numbers as printed'],
  ['pv', /B18:/, 'a formula that only the test of C1 uses'],
  ['household', /H4:|H6, H7:/, 'the file of the published profile, which tests alone use'],
  ['clouds', /month 11.* 3 phases, share 1$/, 'seven kilowatt-hours and no switches, judged by a test of their own'],
  [
    'resolution',
    /H14:/,
    'holds for every series (a mean of least values is never above the least of the means): it checks the comparison',
  ],
];
