import { expect, test } from 'vitest';
import { codesOf, scenarioOf, throughDoor } from './door.ts';

const scenario = (period: string, extra = '', site = 'latitude: 47, longitude: 15, timeZone: Europe/Vienna') => `
site: { ${site} }
period: { ${period} }
weather: { source: epw, file: year.epw${extra} }
pv: { source: arrays, arrays: [{ kWp: 5, tiltDeg: 30, azimuthDeg: 180 }] }
household: { source: synthetic, annualKWh: 3000 }
chargePoints:
  - charger: { phases: 1, maxCurrentA: 16 }
    vehicle: { batteryKWh: 58, phases: 3, maxCurrentA: 16, kWhPer100km: 17 }
    usage: { source: always }
`;

interface Hour {
  readonly month: number;
  readonly day: number;
  readonly hour: number;
}

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const HOURS: Hour[] = DAYS.flatMap((days, month) =>
  Array.from({ length: days * 24 }, (_, i) => ({ month: month + 1, day: Math.floor(i / 24) + 1, hour: (i % 24) + 1 })),
);

/** A year whose temperature tells month and day (m.dd) and whose wind tells the hour. Months come from different years. */
function epw(
  first = 'LOCATION,invented,-,-,invented,0,47.0,15.0,1.0,400.0',
  change: (hour: Hour) => Partial<{ ghi: number; wind: number }> = () => ({}),
): string {
  const rows = HOURS.map((at) => {
    const { ghi = 0, wind = at.hour } = change(at);
    return `${2000 + at.month},${at.month},${at.day},${at.hour},0,x,${(at.month + at.day / 100).toFixed(2)},1,80,96000,0,0,300,${ghi},${ghi},${ghi},0,0,0,0,200,${wind}`;
  });
  return [first, ...Array(6).fill('X'), 'DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31', ...rows, ''].join('\r\n');
}

const enter = (text: string, file: string) => throughDoor(text, 'x.yaml', () => file).checked;

function weatherOf(checked: ReturnType<typeof enter>) {
  const { weather } = scenarioOf(checked);
  if (weather.kind !== 'measured' || weather.series.windMPerS === null) throw new Error(weather.kind);
  return { ...weather.series, windMPerS: weather.series.windMPerS };
}

test('epw: hour h covers h − 1 to h of the fixed clock; summer days begin in the evening before', () => {
  const { atMs, windMPerS, airC, intervalS } = weatherOf(enter(scenario('start: 2025-06-02, days: 1'), epw()));
  expect(intervalS).toBe(3600);
  expect(atMs[0]).toBe(Date.UTC(2025, 5, 1, 22));
  // Midnight in summer is 23:00 by standard time: the 24th hour of the day before.
  expect([windMPerS[0], airC[0]]).toEqual([24, 6.01]);
  expect([windMPerS[1], airC[1]]).toEqual([1, 6.02]);
  expect(atMs.length).toBe(24);
});

test('epw: a run over New Year goes round; 29 February takes the 28th', () => {
  const turn = weatherOf(enter(scenario('start: 2024-12-31, days: 2'), epw()));
  expect([turn.airC[23], turn.airC[24]]).toEqual([12.31, 1.01]);
  const leap = weatherOf(enter(scenario('start: 2024-02-28, days: 3'), epw()));
  expect([leap.airC[0], leap.airC[24], leap.airC[48]]).toEqual([2.28, 2.28, 3.01]);
});

test('epw: a shift moves the times and still covers the period', () => {
  const { atMs, windMPerS } = weatherOf(enter(scenario('start: 2025-01-01, days: 1', ', shiftMin: 40'), epw()));
  expect(atMs[0]).toBe(Date.UTC(2024, 11, 31, 22, 40));
  expect([windMPerS[0], windMPerS[1]]).toEqual([24, 1]);
  expect((atMs[atMs.length - 1] ?? 0) + 3_600_000).toBeGreaterThanOrEqual(Date.UTC(2025, 0, 1, 23));
});

test('epw: place and zone that differ from the scenario are noted', () => {
  const codes = (first: string) => {
    const checked = enter(scenario('start: 2025-06-02, days: 1'), epw(first));
    return checked.ok ? checked.warnings.map((warning) => warning.code) : [];
  };
  expect(codes('LOCATION,invented,-,-,invented,0,47.4,15.4,1.0,400')).toEqual([]);
  expect(codes('LOCATION,invented,-,-,invented,0,47.6,15.0,1.0,400')).toEqual(['epw-elsewhere']);
  expect(codes('LOCATION,invented,-,-,invented,0,47.0,15.0,2.0,400')).toEqual(['epw-other-zone']);
});

test('epw: codes for missing values: short runs are bridged, long ones refused, a column that is missing throughout left out', () => {
  const at = ({ month, day, hour }: Hour, hours: readonly number[]) => month === 6 && day === 2 && hours.includes(hour);
  const short = enter(
    scenario('start: 2025-06-02, days: 1'),
    epw(undefined, (hour) => (at(hour, [5, 6]) ? { wind: 999 } : {})),
  );
  expect([...weatherOf(short).windMPerS.slice(4, 8)]).toEqual([4, 5, 6, 7]);
  expect(short.ok && short.warnings[0]?.code).toBe('gaps-bridged');
  expect(
    codesOf(
      enter(
        scenario('start: 2025-06-02, days: 1'),
        epw(undefined, (hour) => (at(hour, [5, 6, 7]) ? { ghi: 9999 } : {})),
      ),
    ),
  ).toEqual(['epw-gap', 'epw-gap', 'epw-gap']);
  const still = scenarioOf(
    enter(
      scenario('start: 2025-06-02, days: 1'),
      epw(undefined, () => ({ wind: 999 })),
    ),
  ).weather;
  expect(still.kind === 'measured' && still.series.windMPerS).toBeNull();
});

test('epw: damaged files are refused with their line', () => {
  const lines = epw().split('\r\n');
  const broken = (change: (lines: string[]) => void) => {
    const copy = [...lines];
    change(copy);
    return codesOf(enter(scenario('start: 2025-06-02, days: 1'), copy.join('\n')));
  };
  expect(broken((l) => l.splice(100, 1))).toEqual(['epw-hours-missing']);
  expect(broken((l) => l.splice(100, 1, l[99] ?? ''))).toEqual(['epw-hour-twice']);
  expect(broken((l) => l.splice(100, 1, '1,2,3'))).toEqual(['epw-bad-row']);
  expect(broken((l) => l.splice(100, 1, (l[100] ?? '').replace(',1.0', ',x')))).not.toEqual([]);
  expect(broken((l) => l.splice(7, 1, 'DATA PERIODS,1,4,Data,Sunday'))).toEqual(['epw-not-hourly']);
  expect(codesOf(enter(scenario('start: 2025-06-02, days: 1'), ''))).toEqual(['epw-no-location']);
});
