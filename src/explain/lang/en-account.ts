import type { FlurryFacts } from '../account.ts';
import type { Cause, EventFacts, HeldName, StretchFacts } from '../facts.ts';
import type { Difference } from '../what-if.ts';
import type { Catalogue } from './catalogue.ts';
import { EN_FORM as f } from './en-form.ts';

type AccountPart = Pick<Catalogue, 'states' | 'events' | 'stretches' | 'flurry' | 'chain' | 'variants' | 'whatIf' | 'account'>;

const LIMIT: Record<HeldName, string> = {
  'held-fuse': 'the main fuse',
  'held-imbalance': 'the limit on imbalance between the phases',
  'held-contract': 'the contracted power',
  'held-dimmed': "the grid operator's power limit",
};

/** Surplus that is shown as none, W. */
const NOTHING_W = 5;

/** "4.2 kWh, 3.1 of it from the roof". */
function energy({ carWh, carPvWh, carBatteryWh = 0 }: { carWh: number; carPvWh: number; carBatteryWh?: number }): string {
  const battery = carBatteryWh >= 50 ? ` and ${f.kwh(carBatteryWh)} from the home battery` : '';
  if (carWh - carPvWh < Math.min(10, 0.02 * carWh)) return `${f.kwh(carWh)}, all from the roof`;
  if (carPvWh > 0 && f.kwh(carPvWh) === f.kwh(carWh)) return `${f.kwh(carWh)}, nearly all of it from the roof`;
  if (carPvWh < 50) return `${f.kwh(carWh)}, none from the roof${battery}`;
  return `${f.kwh(carWh)}, ${f.kwh(carPvWh)} of it from the roof${battery}`;
}

function at({ phases, lowestA, highestA }: StretchFacts): string {
  const range = highestA - lowestA < 0.05 ? f.amps(highestA) : `${f.plain(lowestA, 1)} to ${f.amps(highestA)}`;
  return `on ${f.onPhases(phases)} at ${range}`;
}

/** What surplus must cover, and why so much. */
function needed({ thresholdW, minA, minW, share, phasesTo }: EventFacts): string {
  if (share >= 1) return `the ${f.kw(thresholdW)} that ${f.amps(minA)} on ${f.onPhases(phasesTo)} need`;
  return `${f.kw(thresholdW)}, ${f.percent(share)} of the ${f.kw(minW)} that ${f.amps(minA)} on ${f.onPhases(phasesTo)} need`;
}

function start(facts: EventFacts): string {
  const on = `starts on ${f.onPhases(facts.phasesTo)}`;
  if (facts.drive === 'at-once') return `${on} at once, whatever the sun does.`;
  const surplus = facts.surplusW < NOTHING_W ? 'without surplus' : `with a surplus of ${f.kw(facts.surplusW)}`;
  if (facts.drive === 'must') return `${on} ${surplus}: the car must charge now.`;
  if (facts.thresholdW === 0) return `${on}: with a share of 0 it waits for no sun.`;
  const since = facts.heldS > 0 ? `has stood above ${needed(facts)} since ${f.clock(facts.since)}` : `is above ${needed(facts)}`;
  return `${on}: surplus ${since}.`;
}

function stall(facts: EventFacts): string {
  const lasted =
    facts.heldS > 0
      ? `has been below ${f.kw(facts.thresholdW)} for ${f.lasting(facts.heldS)}`
      : `is below ${f.kw(facts.thresholdW)}`;
  const now = f.kw(facts.surplusW) === f.kw(facts.thresholdW) ? '' : ` and is down to ${f.kw(facts.surplusW)}`;
  return `stalls: surplus ${lasted}${now}${facts.cause === null ? '' : `; ${cause(facts.cause)}`}.`;
}

function cause({ kind, pvFromW, pvToW, houseRoseW }: Cause): string {
  const pv = `PV fell from ${f.kw(pvFromW)} to ${f.kw(pvToW)}`;
  const house = `the house took ${f.kw(houseRoseW)} more`;
  switch (kind) {
    case 'pv':
      return pv;
    case 'house':
      return `the house switched something on and took ${f.kw(houseRoseW)} more`;
    case 'battery':
      return 'the home battery, which comes first, took it';
    case 'earlier':
      return 'another car, which comes first, took it';
    case 'hidden':
      return 'behind the export limit the controller no longer saw it';
    case 'together': {
      const both = [...(pvFromW - pvToW > 10 ? [pv] : []), ...(houseRoseW > 10 ? [house] : [])];
      return both.length === 0 ? 'several things took it at once' : both.join(', and ');
    }
    case 'never':
      return 'there had not been enough before either';
  }
}

function switchTo(facts: EventFacts): string {
  const change = `from ${f.onPhases(facts.phasesFrom)} to ${f.counts[facts.phasesTo] ?? facts.phasesTo}`;
  if (facts.phasesTo < facts.phasesFrom) {
    return `goes back ${change}: surplus has been below ${f.kw(facts.thresholdW)} since ${f.clock(facts.since)}, but still carries ${f.onPhases(facts.phasesTo)}.`;
  }
  if (facts.drive === 'must') return `goes ${change}, because the car must charge now.`;
  if (facts.drive === 'at-once') return `goes ${change}, as soon as it may.`;
  const since = facts.heldS > 0 ? `has stood above ${needed(facts)} since ${f.clock(facts.since)}` : `is above ${needed(facts)}`;
  return `goes ${change}: surplus ${since}.`;
}

function hold({ limit, leftA, minA, phasesFrom }: EventFacts): string {
  const why = `${LIMIT[limit ?? 'held-fuse']} leaves ${f.amps(leftA)}, and the car needs ${f.amps(minA)}`;
  return phasesFrom > 0 ? `stops at once: ${why}.` : `may not start yet: ${why}.`;
}

function plugIn({ soc, km, missedKm }: EventFacts): string {
  const after = km > 0 ? ` after ${f.fixed(km, 0)} km` : '';
  const missed = missedKm >= 0.5 ? `; for ${f.fixed(missedKm, 0)} km of them the battery was empty` : '';
  return `plugged in${after} with ${f.percent(soc)} in the battery${missed}.`;
}

const held = (limit: HeldName) => (facts: StretchFacts) =>
  `${LIMIT[limit]} leaves less than the ${f.amps(facts.minA)} that the car needs.`;

function ceiling(facts: StretchFacts): string {
  const spared = facts.exportW >= 50 ? `: ${f.kw(facts.exportW)} goes to the grid` : '';
  const lost = facts.curtailedW >= 50 ? `, and ${f.kw(facts.curtailedW)} is not made at all, because of the export limit` : '';
  const roof = `the roof gives ${f.kw(facts.pvW)}`;
  if (facts.tapers) return `${roof}, but the car is nearly full and takes no more than ${f.kw(facts.carW)}${spared}${lost}.`;
  if (facts.highestA < facts.mostA - 0.05)
    return `${roof}, but the connection leaves the car no more than ${f.kw(facts.carW)}${spared}${lost}.`;
  return `${roof}, but this car takes at most ${f.kw(facts.mostW)} on ${f.onPhases(facts.phases)}${spared}${lost}.`;
}

const beyond = (facts: StretchFacts): string =>
  facts.surplusWh >= 50 ? `, while the roof gives ${f.kwh(facts.surplusWh)} more than the house takes` : '';

function onAndOff(facts: FlurryFacts): string {
  const counts = [f.counted(facts.starts, 'start', 'starts'), f.counted(facts.stalls, 'stall', 'stalls')];
  if (facts.switches > 0) counts.push(f.counted(facts.switches, 'phase switch', 'phase switches'));
  return `on and off: ${f.listed(counts)}; ${f.lasting(facts.chargingS)} of charging in all give ${energy(facts)}.`;
}

function differenceText({ of, by }: Difference, currency: string): string {
  const way = by > 0 ? 'more' : 'less';
  const few = by > 0 ? 'more' : 'fewer';
  const size = Math.abs(by);
  switch (of) {
    case 'pv':
      return `${f.kwh(size)} ${way} from the roof`;
    case 'grid':
      return `${f.kwh(size)} ${way} from the grid`;
    case 'battery':
      return `${f.kwh(size)} ${way} from the home battery`;
    case 'starts':
      return `${f.fixed(size, 0)} ${few} ${size === 1 ? 'start' : 'starts'}`;
    case 'switches':
      return `${f.fixed(size, 0)} ${few} phase ${size === 1 ? 'switch' : 'switches'}`;
    case 'missed':
      return `${f.fixed(size, 0)} ${few} km with an empty battery`;
    case 'left':
      return `${f.kwh(size)} ${way} in the car at the end`;
    case 'cost':
      return `${f.fixed(size, 2)} ${currency} ${by > 0 ? 'dearer' : 'cheaper'}`;
  }
}

function differences(found: readonly Difference[], currency: string): string {
  if (found.length === 0) return 'changes nothing worth a word.';
  const told = found.map((difference) => differenceText(difference, currency));
  return `${f.listed(told)}.`;
}

/** English: what happened, where the hours went, what would have changed it. */
export const EN_ACCOUNT: AccountPart = {
  states: {
    away: 'away',
    full: 'full',
    short: 'too little surplus',
    proving: 'making sure',
    resting: 'resting',
    waking: 'waking up',
    surplus: 'from surplus',
    topped: 'topped up by the grid',
    ceiling: 'as much as it takes',
    bridging: 'bridged by the grid',
    switching: 'changing phases',
    'held-fuse': 'held by the fuse',
    'held-imbalance': 'held by imbalance',
    'held-contract': 'held by the contract',
    'held-dimmed': 'held by dimming',
    must: 'must charge',
    'at-once': 'at once',
    refusing: 'refused by the car',
    'gave-up': 'car gave up',
  },
  events: {
    'plug-in': plugIn,
    start,
    stall,
    switch: switchTo,
    hold,
    must: ({ need, soc }) =>
      need === 'floor'
        ? `must charge now: ${f.percent(soc)} is less than what must always be in the battery.`
        : `must charge now: with ${f.percent(soc)} the time to the departure is only just enough.`,
    full: ({ soc }) => `full: the ${f.percent(soc)} at which charging ends are in the battery.`,
    leave: ({ soc, shortKm }) =>
      `leaves with ${f.percent(soc)} in the battery${shortKm >= 0.5 ? `, ${f.fixed(shortKm, 0)} km short of what it should have` : ''}.`,
    'break-off': () => 'breaks off: current shows on a conductor where the charger expects none.',
    'gave-up': () => 'the car gives up: after this many interruptions it takes no more until it is plugged in anew.',
  },
  stretches: {
    away: (facts) => `the car is away${beyond(facts)}.`,
    full: (facts) => `the car is full${beyond(facts)}.`,
    short: ({ thresholdW, highestSurplusW, startDelayS }) => {
      const needs = `the ${f.kw(thresholdW)} that a start needs`;
      if (highestSurplusW >= thresholdW) return `surplus reaches ${needs}, but never for ${f.lasting(startDelayS)} on end.`;
      if (highestSurplusW < NOTHING_W) return `there is no surplus; a start needs ${f.kw(thresholdW)}.`;
      const most = f.kw(highestSurplusW) === f.kw(thresholdW) ? 'if only just' : `at most ${f.kw(highestSurplusW)}`;
      return `surplus stays below ${needs}, ${most}.`;
    },
    proving: (facts) => `surplus is there; it waits ${f.lasting(facts.startDelayS)} to see whether it stays.`,
    resting: (facts) => `rests for ${f.lasting(facts.restS)} after an interruption.`,
    waking: (facts) => `the car takes ${f.lasting(facts.lagS)} to wake up.`,
    surplus: (facts) => `charges ${at(facts)}: ${energy(facts)}.`,
    topped: (facts) => `charges ${at(facts)}: ${energy(facts)}; the grid adds what surplus lacks.`,
    ceiling,
    bridging: (facts) =>
      `surplus is not enough, and the grid fills in so that the car keeps charging ${at(facts)}: ${energy(facts)}.`,
    switching: (facts) => `pauses ${f.lasting(facts.lastsS)} for the change of phases.`,
    'held-fuse': held('held-fuse'),
    'held-imbalance': held('held-imbalance'),
    'held-contract': held('held-contract'),
    'held-dimmed': held('held-dimmed'),
    must: (facts) => `charges ${at(facts)}, sun or not, because it must: ${energy(facts)}.`,
    'at-once': (facts) => `charges ${at(facts)}, sun or not: ${energy(facts)}.`,
    refusing: (facts) => `is offered less than the ${f.amps(facts.carMinA)} below which this car takes nothing: no power flows.`,
    'gave-up': (facts) => `the car takes no more until it is plugged in anew${beyond(facts)}.`,
  },
  flurry: onAndOff,
  chain: {
    rows: {
      daylight: 'the roof gives power',
      house: 'the house takes its part',
      short: 'surplus below the lowest threshold',
      away: 'car away',
      full: 'car full',
      delay: 'making sure, waking up, pausing, resting',
      held: 'held by a limit',
      refused: 'the car takes nothing of the offer',
      charging: 'charging by daylight',
      'grid-part': "the grid's part of it",
      'battery-part': "the home battery's part of it",
      'left-over': 'surplus that the car leaves',
      solar: 'solar charging hours, PV into the car',
    },
    link: 'where the hours went',
    hours: 'hours',
    energy: 'PV kWh',
    dark: (hours) => `Not in it: ${f.fixed(hours, 1)} hours of charging while the roof gave nothing.`,
  },
  variants: {
    'at-once': 'charged at once',
    surplus: 'waiting for surplus',
    'share-80': 'surplus share 0.8',
    'share-50': 'surplus share 0.5',
    'share-25': 'surplus share 0.25',
    'one-phase': 'a one-phase charger',
    'three-phases': 'a three-phase charger',
    switchable: 'a charger that switches phases',
    'six-amps': 'a car that starts at 6 A',
    'plugged-in': 'plugged in all day',
    'no-delays': 'no delays and pauses',
    'car-first': 'the car before the home battery',
    'more-roof': '2 kWp more on the roof',
    'step-fine': 'current in steps of 0.1 A',
    'step-coarse': 'current in steps of 1 A',
  },
  whatIf: {
    change: 'change',
    asItIs: 'as it is',
    does: 'what it does',
    differences,
    note: (isWhole) =>
      isWhole
        ? 'The same weather, house and trips, run again with one thing changed; best first by PV energy in the car.'
        : 'The same weather, house and trips, run again from this morning on with one thing changed; best first by PV energy in the car.',
  },
  account: {
    day: (date, weekday) => `${f.weekdays[weekday] ?? ''}, ${f.date(date)}`,
    sums: (sums, solarShare) =>
      `${f.kwh(sums.carPvWh)} from the roof into the car, ${f.percent(solarShare)} of all it charged, enough for ${f.fixed(sums.pvKm, 0)} km, in ${f.brief(sums.solarChargingH)} solar charging hours; ${f.listed(
        [
          f.counted(sums.starts, 'start', 'starts'),
          f.counted(sums.stalls, 'stall', 'stalls'),
          f.counted(sums.switches, 'phase switch', 'phase switches'),
        ],
      )}.`,
    nothing: 'nothing was charged.',
    roof: 'roof',
    signs: 'signs',
    chainHeading: 'Where the hours went',
    whatIfHeading: 'What would have changed it',
    dayHeading: {
      best: 'the day with most PV in the car',
      worst: 'the day with least PV in the car',
      median: 'the middle one of all days with PV in the car',
      'most-stalls': 'the day with most stalls',
    },
    files: (count, folder) => `${f.counted(count, 'file', 'files')} in ${folder}`,
  },
};
