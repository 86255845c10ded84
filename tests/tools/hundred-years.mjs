// A hundred years by the minute in one process, each with its own weather and habits: what the process holds after some of them.
// Run by tests/property/hundred-years.test.ts with `node --expose-gc`, on the bundle; prints one JSON object.
import { readFileSync } from 'node:fs';
import { completeScenario, fixedZone, makeProfiles, readScenario, simulate } from '../../dist/index.js';

const YEARS = 100;
const MB = 1e6;
const text = readFileSync(new URL('../../scenarios/hillside-house.yaml', import.meta.url), 'utf8');
const zone = fixedZone('Etc/UTC', 0);

/** One year through the whole core; kilowatt-hours from the roof into the car. */
function year(number) {
  const own = text
    .replace('start: 2025-01-01', `start: ${1950 + number}-01-01`)
    .replace(/^( *)seed: \d+$/gm, `$1seed: ${number}`);
  const { checked } = readScenario(own, 'year.yaml');
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const complete = completeScenario(checked.value, new Map(), zone);
  if (!complete.ok) throw new Error(JSON.stringify(complete.issues));
  const { ledger } = simulate(complete.value, makeProfiles(complete.value));
  return ledger.total.points.reduce((sum, { carPvWh }) => sum + carPvWh / 1000, 0);
}

/** What is held when all that nobody needs any more is gone. */
function held() {
  globalThis.gc();
  const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
  return { heapMB: heapUsed / MB, arraysMB: arrayBuffers / MB, rssMB: rss / MB };
}

const kWh = [];
const after = {};
for (let number = 1; number <= YEARS; number++) {
  kWh.push(year(number));
  if (number === 20 || number === YEARS) after[number] = held();
}
console.log(JSON.stringify({ kWh, after20: after[20], after100: after[YEARS], cpuS: process.cpuUsage().user / 1e6 }));
