import { describe, expect, test } from 'vitest';
import type { PhaseRules, PointRules } from '../../src/charging/index.ts';
import type { FlurryFacts } from '../../src/explain/account.ts';
import type { Conflict } from '../../src/explain/conflicts.ts';
import type { Cause, EventFacts, StretchFacts } from '../../src/explain/facts.ts';
import type { WeeklyUsage } from '../../src/explain/lang/catalogue.ts';
import { type Catalogue, DE, EN } from '../../src/explain/lang/index.ts';
import type { Battery, Control, Household, PvArray, Scenario, Supply } from '../../src/scenario/index.ts';
import type { MoneyBeside, PointTally } from '../../src/simulate/index.ts';

/** A start on one phase of a six-ampere car, at 11:40 after three minutes of 1450 W. */
const event = (facts: Partial<EventFacts>): EventFacts => ({
  event: 'start',
  step: 700,
  point: 0,
  since: { hour: 11, minute: 37, second: 0 },
  heldS: 180,
  surplusW: 1450,
  thresholdW: 1380,
  phasesFrom: 0,
  phasesTo: 1,
  minA: 6,
  minW: 1380,
  share: 1,
  drive: 'surplus',
  limit: null,
  leftA: 0,
  soc: 0.456,
  targetSoc: 0.8,
  km: 0,
  missedKm: 0,
  need: null,
  shortKm: 0,
  cause: null,
  ...facts,
});
const lack = (facts: Partial<EventFacts>): EventFacts =>
  event({ event: 'stall', surplusW: 450, phasesFrom: 1, phasesTo: 0, ...facts });
const cause = (kind: Cause['kind'], facts: Partial<Cause> = {}): Cause => ({
  kind,
  pvFromW: 2000,
  pvToW: 500,
  houseRoseW: 210,
  ...facts,
});

/** An hour on three phases at 6 to 16 A, 3.1 of 4.2 kWh from the roof. */
const stretch = (facts: Partial<StretchFacts>): StretchFacts => ({
  state: 'surplus',
  fromStep: 0,
  toStep: 60,
  point: 0,
  lastsS: 3600,
  pvW: 5000,
  houseW: 400,
  carW: 4200,
  exportW: 0,
  curtailedW: 0,
  highestSurplusW: 900,
  thresholdW: 1380,
  surplusWh: 0,
  carWh: 4200,
  carPvWh: 3100,
  carBatteryWh: 0,
  carGridWh: 1100,
  phases: 3,
  lowestA: 6,
  highestA: 16,
  mostW: 11_040,
  mostA: 16,
  tapers: false,
  minA: 6,
  carMinA: 10,
  soc: 0.5,
  share: 1,
  restS: 300,
  startDelayS: 180,
  lagS: 60,
  ...facts,
});
const flurry = (facts: Partial<FlurryFacts>): FlurryFacts => ({
  fromStep: 0,
  toStep: 60,
  point: 0,
  starts: 4,
  stalls: 3,
  switches: 0,
  chargingS: 1500,
  carWh: 900,
  carPvWh: 600,
  ...facts,
});

/** A year at one charge point. */
const tally = (sums: Partial<PointTally>): PointTally => ({
  carWh: 2_500_000,
  carPvWh: 1_842_400,
  carBatteryWh: 120_000,
  carGridWh: 537_600,
  storedWh: 2_300_000,
  storedPvWh: 1_700_000,
  solarChargingH: 812.4,
  chargingH: 1040,
  starts: 312,
  stalls: 120,
  switches: 45,
  holds: 0,
  breakOffs: 0,
  drivenKm: 15_650,
  pvKm: 10_000,
  missedKm: 84.2,
  publicWh: 0,
  ...sums,
});
const costs = {
  currency: 'EUR',
  run: { totalCost: 612.4 },
  atOnce: { totalCost: 1300 },
  withoutCars: { totalCost: -20.6 },
} as MoneyBeside;

const placed = (site: Partial<Scenario['site']>, days = 14): Scenario =>
  ({
    site: { latitudeDeg: 47.3, longitudeDeg: 13.256, elevationM: 500, ...site },
    zone: { name: 'Europe/Vienna', changes: [] },
    grid: { stepS: 60, dayMs: new Float64Array(days) },
  }) as unknown as Scenario;
const array = (plane: Partial<PvArray>): PvArray => ({ peakW: 8000, tiltDeg: 30, azimuthDeg: 180, ...plane }) as PvArray;
const home = (house: Partial<Extract<Household, { kind: 'synthetic' }>>) =>
  ({ kind: 'synthetic', annualWh: 3_500_000, people: 4, hotWaterWh: 0, heatPumpWh: 0, ...house }) as Extract<
    Household,
    { kind: 'synthetic' }
  >;
const battery = (changes: Partial<Battery>): Battery => ({
  capacityWh: 7680,
  maxChargeW: 3000,
  maxDischargeW: 2500,
  roundTripShare: 0.9,
  startSoc: 0.5,
  phases: [1],
  priority: { kind: 'battery' },
  dischargeToCar: false,
  ...changes,
});
const SUPPLY: Supply = {
  phases: 3,
  voltageV: 230,
  mainFuseA: 35,
  imbalanceLimitA: null,
  exportLimitW: null,
  contractW: null,
  dimming: null,
  country: null,
  metering: 'net',
};

const ONE: PhaseRules = { n: 1, live: 1, minA: 6, maxA: 16, wPerA: 230, minW: 1380, thresholdW: 1380 };
const THREE: PhaseRules = { n: 3, live: 3, minA: 6, maxA: 16, wPerA: 690, minW: 4140, thresholdW: 4140 };
const rules = (changes: Partial<PointRules>): PointRules =>
  ({ least: ONE, most: THREE, switches: false, ...changes }) as PointRules;
const control = (changes: Partial<Control>): Control =>
  ({ reserveW: 50, startDelayS: 180, stopDelayS: 240, switchUpDelayS: 600, ...changes }) as Control;
const stay = (km: number) => ({ arriveMs: 0, departMs: 1, km });
const HOLIDAY = { firstMs: 0, lastMs: 0, km: 0 };
const weekly = ({
  plugInBelowSoc = 1,
  ...exceptions
}: Partial<WeeklyUsage['exceptions']> & { plugInBelowSoc?: number }): WeeklyUsage =>
  ({
    kind: 'weekly',
    seed: 1,
    trips: [
      { weekdays: [0, 1, 4], leaveS: 27_000, returnS: 54_300, km: 60 },
      { weekdays: [6], leaveS: 36_000, returnS: 86_400, km: 120.4 },
    ],
    exceptions: { longTrips: null, daysOff: [], holidays: [], ...exceptions },
    plugInBelowSoc,
  }) as unknown as WeeklyUsage;
const hides = (by: object) =>
  ({
    code: 'export-limit-hides-start',
    point: 0,
    exportLimitW: 0,
    neededW: 1430,
    byBattery: false,
    byNeeds: false,
    byOtherCar: false,
    ...by,
  }) as Extract<Conflict, { code: 'export-limit-hides-start' }>;

/** What is said, in English and in German. */
type Said = readonly [say: (words: Catalogue) => string, english: string, german: string];

const SAID: Readonly<Record<string, readonly Said[]>> = {
  'what happened: starts': [
    [
      (words) => words.events.start(event({})),
      'starts on one phase: surplus has stood above the 1.38 kW that 6 A on one phase need since 11:37.',
      'beginnt auf einer Phase: Der Überschuss liegt seit 11:37 über den 1,38 kW, die 6 A auf einer Phase brauchen.',
    ],
    [
      (words) => words.events.start(event({ heldS: 0 })),
      'starts on one phase: surplus is above the 1.38 kW that 6 A on one phase need.',
      'beginnt auf einer Phase: Der Überschuss liegt über den 1,38 kW, die 6 A auf einer Phase brauchen.',
    ],
    [
      (words) => words.events.start(event({ thresholdW: 690, share: 0.5 })),
      'starts on one phase: surplus has stood above 0.69 kW, 50 % of the 1.38 kW that 6 A on one phase need since 11:37.',
      'beginnt auf einer Phase: Der Überschuss liegt seit 11:37 über 0,69 kW, das sind 50 % der 1,38 kW, die 6 A auf einer Phase brauchen.',
    ],
    [
      (words) => words.events.start(event({ thresholdW: 2070, share: 0.5, minW: 4140, phasesTo: 3, heldS: 0 })),
      'starts on three phases: surplus is above 2.07 kW, 50 % of the 4.14 kW that 6 A on three phases need.',
      'beginnt auf drei Phasen: Der Überschuss liegt über 2,07 kW, das sind 50 % der 4,14 kW, die 6 A auf drei Phasen brauchen.',
    ],
    [
      (words) => words.events.start(event({ drive: 'at-once' })),
      'starts on one phase at once, whatever the sun does.',
      'beginnt auf einer Phase, sofort und bei jedem Wetter.',
    ],
    [
      (words) => words.events.start(event({ drive: 'must', surplusW: 4.9 })),
      'starts on one phase without surplus: the car must charge now.',
      'beginnt auf einer Phase ohne Überschuss: Das Auto muss jetzt laden.',
    ],
    [
      (words) => words.events.start(event({ drive: 'must', surplusW: 5 })),
      'starts on one phase with a surplus of 0.01 kW: the car must charge now.',
      'beginnt auf einer Phase bei 0,01 kW Überschuss: Das Auto muss jetzt laden.',
    ],
    [
      (words) => words.events.start(event({ thresholdW: 0, share: 0 })),
      'starts on one phase: with a share of 0 it waits for no sun.',
      'beginnt auf einer Phase: Beim Überschussanteil 0 wartet es auf keine Sonne.',
    ],
  ],
  'what happened: stalls, and what took the surplus': [
    [
      (words) => words.events.stall(lack({})),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW.',
    ],
    [
      (words) => words.events.stall(lack({ heldS: 0 })),
      'stalls: surplus is below 1.38 kW and is down to 0.45 kW.',
      'bricht ab: Der Überschuss liegt unter 1,38 kW, zuletzt 0,45 kW.',
    ],
    [
      (words) => words.events.stall(lack({ surplusW: 1379.6 })),
      'stalls: surplus has been below 1.38 kW for 3 min.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('pv') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; PV fell from 2.00 kW to 0.50 kW.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; die PV fiel von 2,00 kW auf 0,50 kW.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('house') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; the house switched something on and took 0.21 kW more.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; im Haus wurde etwas eingeschaltet, das 0,21 kW mehr nahm.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('battery') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; the home battery, which comes first, took it.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; der Hausspeicher nahm ihn, denn er kommt zuerst.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('earlier') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; another car, which comes first, took it.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; ein anderes Auto nahm ihn, denn es kommt zuerst.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('hidden') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; behind the export limit the controller no longer saw it.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; hinter der Einspeisegrenze sah ihn die Steuerung nicht mehr.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('together') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; PV fell from 2.00 kW to 0.50 kW, and the house took 0.21 kW more.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; die PV fiel von 2,00 kW auf 0,50 kW, und das Haus nahm 0,21 kW mehr.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('together', { pvToW: 1990 }) })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; the house took 0.21 kW more.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; das Haus nahm 0,21 kW mehr.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('together', { houseRoseW: 10 }) })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; PV fell from 2.00 kW to 0.50 kW.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; die PV fiel von 2,00 kW auf 0,50 kW.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('together', { pvToW: 2600, houseRoseW: -300 }) })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; several things took it at once.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; mehreres zugleich nahm ihn weg.',
    ],
    [
      (words) => words.events.stall(lack({ cause: cause('never') })),
      'stalls: surplus has been below 1.38 kW for 3 min and is down to 0.45 kW; there had not been enough before either.',
      'bricht ab: Der Überschuss liegt seit 3 min unter 1,38 kW, zuletzt 0,45 kW; er hatte auch vorher nicht gereicht.',
    ],
  ],
  'what happened: phase switches': [
    [
      (words) => words.events.switch(event({ phasesFrom: 1, phasesTo: 3, thresholdW: 4140, minW: 4140 })),
      'goes from one phase to three: surplus has stood above the 4.14 kW that 6 A on three phases need since 11:37.',
      'geht von einer Phase auf drei: Der Überschuss liegt seit 11:37 über den 4,14 kW, die 6 A auf drei Phasen brauchen.',
    ],
    [
      (words) => words.events.switch(event({ phasesFrom: 1, phasesTo: 2, thresholdW: 2760, minW: 2760, heldS: 0 })),
      'goes from one phase to two: surplus is above the 2.76 kW that 6 A on two phases need.',
      'geht von einer Phase auf zwei: Der Überschuss liegt über den 2,76 kW, die 6 A auf zwei Phasen brauchen.',
    ],
    [
      (words) => words.events.switch(event({ phasesFrom: 3, phasesTo: 1, thresholdW: 4140 })),
      'goes back from three phases to one: surplus has been below 4.14 kW since 11:37, but still carries one phase.',
      'geht von drei Phasen auf eine zurück: Der Überschuss liegt seit 11:37 unter 4,14 kW, trägt aber noch eine Phase.',
    ],
    [
      (words) => words.events.switch(event({ phasesFrom: 1, phasesTo: 3, drive: 'must' })),
      'goes from one phase to three, because the car must charge now.',
      'geht von einer Phase auf drei, weil das Auto jetzt laden muss.',
    ],
    [
      (words) => words.events.switch(event({ phasesFrom: 1, phasesTo: 3, drive: 'at-once' })),
      'goes from one phase to three, as soon as it may.',
      'geht von einer Phase auf drei, sobald es darf.',
    ],
  ],
  'what happened: holds': [
    [
      (words) => words.events.hold(event({ limit: 'held-fuse', leftA: 4.25, phasesFrom: 1, phasesTo: 0 })),
      'stops at once: the main fuse leaves 4.3 A, and the car needs 6 A.',
      'hört sofort auf: Die Hauptsicherung lässt 4,3 A übrig, das Auto braucht 6 A.',
    ],
    [
      (words) => words.events.hold(event({ limit: 'held-imbalance', leftA: 3, phasesFrom: 2, phasesTo: 0 })),
      'stops at once: the limit on imbalance between the phases leaves 3 A, and the car needs 6 A.',
      'hört sofort auf: Die Grenze der Schieflast lässt 3 A übrig, das Auto braucht 6 A.',
    ],
    [
      (words) => words.events.hold(event({ limit: 'held-contract', leftA: 0, phasesTo: 0 })),
      'may not start yet: the contracted power leaves 0 A, and the car needs 6 A.',
      'darf noch nicht beginnen: Die vereinbarte Bezugsleistung lässt 0 A übrig, das Auto braucht 6 A.',
    ],
    [
      (words) => words.events.hold(event({ limit: 'held-dimmed', leftA: 5, minA: 8, phasesTo: 0 })),
      "may not start yet: the grid operator's power limit leaves 5 A, and the car needs 8 A.",
      'darf noch nicht beginnen: Die Leistungsgrenze des Netzbetreibers lässt 5 A übrig, das Auto braucht 8 A.',
    ],
  ],
  'what happened: the car': [
    [
      (words) => words.events['plug-in'](event({})),
      'plugged in with 46 % in the battery.',
      'angesteckt mit 46 % in der Batterie.',
    ],
    [
      (words) => words.events['plug-in'](event({ km: 62.4, missedKm: 0.4 })),
      'plugged in after 62 km with 46 % in the battery.',
      'angesteckt nach 62 km mit 46 % in der Batterie.',
    ],
    [
      (words) => words.events['plug-in'](event({ km: 62.4, missedKm: 0.5 })),
      'plugged in after 62 km with 46 % in the battery; for 1 km of them the battery was empty.',
      'angesteckt nach 62 km mit 46 % in der Batterie; für 1 km davon war die Batterie leer.',
    ],
    [
      (words) => words.events.must(event({ need: 'floor' })),
      'must charge now: 46 % is less than what must always be in the battery.',
      'muss jetzt laden: 46 % sind weniger, als immer in der Batterie sein muss.',
    ],
    [
      (words) => words.events.must(event({ need: 'departure' })),
      'must charge now: with 46 % the time to the departure is only just enough.',
      'muss jetzt laden: Mit 46 % reicht die Zeit bis zur Abfahrt gerade noch.',
    ],
    [
      (words) => words.events.full(event({ soc: 0.8 })),
      'full: the 80 % at which charging ends are in the battery.',
      'voll: Die 80 %, bei denen das Laden endet, sind in der Batterie.',
    ],
    [
      (words) => words.events.leave(event({ shortKm: 0.4 })),
      'leaves with 46 % in the battery.',
      'fährt mit 46 % in der Batterie ab.',
    ],
    [
      (words) => words.events.leave(event({ shortKm: 0.5 })),
      'leaves with 46 % in the battery, 1 km short of what it should have.',
      'fährt mit 46 % in der Batterie ab; 1 km fehlen auf das Gewünschte.',
    ],
    [
      (words) => words.events['break-off'](event({})),
      'breaks off: current shows on a conductor where the charger expects none.',
      'schaltet ab: Auf einem Leiter fließt Strom, auf dem der Lader keinen erwartet.',
    ],
    [
      (words) => words.events['gave-up'](event({})),
      'the car gives up: after this many interruptions it takes no more until it is plugged in anew.',
      'das Auto gibt auf: Nach so vielen Unterbrechungen nimmt es nichts mehr, bis es neu angesteckt wird.',
    ],
  ],
  'what went on: no car, or nothing to do': [
    [(words) => words.stretches.away(stretch({ surplusWh: 49 })), 'the car is away.', 'das Auto ist weg.'],
    [
      (words) => words.stretches.away(stretch({ surplusWh: 50 })),
      'the car is away, while the roof gives 0.1 kWh more than the house takes.',
      'das Auto ist weg, während das Dach 0,1 kWh mehr liefert, als das Haus nimmt.',
    ],
    [
      (words) => words.stretches.full(stretch({ surplusWh: 1234 })),
      'the car is full, while the roof gives 1.2 kWh more than the house takes.',
      'das Auto ist voll, während das Dach 1,2 kWh mehr liefert, als das Haus nimmt.',
    ],
    [
      (words) => words.stretches['gave-up'](stretch({ surplusWh: 1234 })),
      'the car takes no more until it is plugged in anew, while the roof gives 1.2 kWh more than the house takes.',
      'das Auto nimmt nichts mehr, bis es neu angesteckt wird, während das Dach 1,2 kWh mehr liefert, als das Haus nimmt.',
    ],
    [
      (words) => words.stretches['gave-up'](stretch({})),
      'the car takes no more until it is plugged in anew.',
      'das Auto nimmt nichts mehr, bis es neu angesteckt wird.',
    ],
    [
      (words) => words.stretches.short(stretch({ highestSurplusW: 4.9 })),
      'there is no surplus; a start needs 1.38 kW.',
      'es ist kein Überschuss da; ein Start braucht 1,38 kW.',
    ],
    [
      (words) => words.stretches.short(stretch({ highestSurplusW: 5 })),
      'surplus stays below the 1.38 kW that a start needs, at most 0.01 kW.',
      'der Überschuss bleibt unter den 1,38 kW, die ein Start braucht, höchstens 0,01 kW.',
    ],
    [
      (words) => words.stretches.short(stretch({ highestSurplusW: 1379.6 })),
      'surplus stays below the 1.38 kW that a start needs, if only just.',
      'der Überschuss bleibt unter den 1,38 kW, die ein Start braucht, wenn auch knapp.',
    ],
    [
      (words) => words.stretches.short(stretch({ highestSurplusW: 1380 })),
      'surplus reaches the 1.38 kW that a start needs, but never for 3 min on end.',
      'der Überschuss erreicht die 1,38 kW, die ein Start braucht, aber nie 3 min lang.',
    ],
    [
      (words) => words.stretches.proving(stretch({})),
      'surplus is there; it waits 3 min to see whether it stays.',
      'Überschuss ist da; es wartet 3 min, ob er bleibt.',
    ],
    [
      (words) => words.stretches.resting(stretch({})),
      'rests for 5 min after an interruption.',
      'ruht 5 min nach einer Unterbrechung.',
    ],
    [(words) => words.stretches.waking(stretch({})), 'the car takes 60 s to wake up.', 'das Auto braucht 60 s zum Aufwachen.'],
    [
      (words) => words.stretches.switching(stretch({ lastsS: 60 })),
      'pauses 60 s for the change of phases.',
      'pausiert 60 s für den Phasenwechsel.',
    ],
    [
      (words) => words.stretches.refusing(stretch({})),
      'is offered less than the 10 A below which this car takes nothing: no power flows.',
      'bekommt weniger als die 10 A angeboten, unter denen dieses Auto nichts nimmt: Es fließt kein Strom.',
    ],
    [
      (words) => words.stretches['held-fuse'](stretch({})),
      'the main fuse leaves less than the 6 A that the car needs.',
      'die Hauptsicherung lässt weniger als die 6 A übrig, die das Auto braucht.',
    ],
    [
      (words) => words.stretches['held-imbalance'](stretch({})),
      'the limit on imbalance between the phases leaves less than the 6 A that the car needs.',
      'die Grenze der Schieflast lässt weniger als die 6 A übrig, die das Auto braucht.',
    ],
    [
      (words) => words.stretches['held-contract'](stretch({})),
      'the contracted power leaves less than the 6 A that the car needs.',
      'die vereinbarte Bezugsleistung lässt weniger als die 6 A übrig, die das Auto braucht.',
    ],
    [
      (words) => words.stretches['held-dimmed'](stretch({ minA: 8 })),
      "the grid operator's power limit leaves less than the 8 A that the car needs.",
      'die Leistungsgrenze des Netzbetreibers lässt weniger als die 8 A übrig, die das Auto braucht.',
    ],
  ],
  'what went on: charging, and where it came from': [
    [
      (words) => words.stretches.surplus(stretch({})),
      'charges on three phases at 6 to 16 A: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ phases: 2, lowestA: 6, highestA: 6.04 })),
      'charges on two phases at 6 A: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf zwei Phasen mit 6 A: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ lowestA: 6, highestA: 6.05 })),
      'charges on three phases at 6.1 A: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf drei Phasen mit 6,1 A: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 4191 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, all from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, alles vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 4190 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, nearly all of it from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, fast alles vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carWh: 300, carPvWh: 295 })),
      'charges on three phases at 6 to 16 A: 0.3 kWh, all from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 0,3 kWh, alles vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carWh: 300, carPvWh: 294 })),
      'charges on three phases at 6 to 16 A: 0.3 kWh, nearly all of it from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 0,3 kWh, fast alles vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carWh: 60, carPvWh: 49.9 })),
      'charges on three phases at 6 to 16 A: 0.1 kWh, none from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 0,1 kWh, davon nichts vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 0 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, none from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon nichts vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 49 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, none from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon nichts vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 50 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, 0.1 kWh of it from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon 0,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carPvWh: 0, carBatteryWh: 2000 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, none from the roof and 2.0 kWh from the home battery.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon nichts vom Dach und 2,0 kWh aus dem Hausspeicher.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carBatteryWh: 49 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carBatteryWh: 50 })),
      'charges on three phases at 6 to 16 A: 4.2 kWh, 3.1 kWh of it from the roof and 0.1 kWh from the home battery.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon 3,1 kWh vom Dach und 0,1 kWh aus dem Hausspeicher.',
    ],
    [
      (words) => words.stretches.surplus(stretch({ carWh: 0, carPvWh: 0 })),
      'charges on three phases at 6 to 16 A: 0.0 kWh, none from the roof.',
      'lädt auf drei Phasen mit 6 bis 16 A: 0,0 kWh, davon nichts vom Dach.',
    ],
    [
      (words) => words.stretches.topped(stretch({})),
      'charges on three phases at 6 to 16 A: 4.2 kWh, 3.1 kWh of it from the roof; the grid adds what surplus lacks.',
      'lädt auf drei Phasen mit 6 bis 16 A: 4,2 kWh, davon 3,1 kWh vom Dach; das Netz gibt dazu, was an Überschuss fehlt.',
    ],
    [
      (words) => words.stretches.bridging(stretch({})),
      'surplus is not enough, and the grid fills in so that the car keeps charging on three phases at 6 to 16 A: 4.2 kWh, 3.1 kWh of it from the roof.',
      'der Überschuss reicht nicht, und das Netz springt ein, damit das Auto auf drei Phasen mit 6 bis 16 A weiterlädt: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches.must(stretch({ phases: 1 })),
      'charges on one phase at 6 to 16 A, sun or not, because it must: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf einer Phase mit 6 bis 16 A, ob Sonne oder nicht, weil es muss: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
    [
      (words) => words.stretches['at-once'](stretch({ phases: 1 })),
      'charges on one phase at 6 to 16 A, sun or not: 4.2 kWh, 3.1 kWh of it from the roof.',
      'lädt auf einer Phase mit 6 bis 16 A, ob Sonne oder nicht: 4,2 kWh, davon 3,1 kWh vom Dach.',
    ],
  ],
  'what went on: as much as the car takes': [
    [
      (words) => words.stretches.ceiling(stretch({})),
      'the roof gives 5.00 kW, but this car takes at most 11.04 kW on three phases.',
      'das Dach liefert 5,00 kW, aber dieses Auto nimmt auf drei Phasen höchstens 11,04 kW.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ exportW: 49 })),
      'the roof gives 5.00 kW, but this car takes at most 11.04 kW on three phases.',
      'das Dach liefert 5,00 kW, aber dieses Auto nimmt auf drei Phasen höchstens 11,04 kW.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ exportW: 50, curtailedW: 49 })),
      'the roof gives 5.00 kW, but this car takes at most 11.04 kW on three phases: 0.05 kW goes to the grid.',
      'das Dach liefert 5,00 kW, aber dieses Auto nimmt auf drei Phasen höchstens 11,04 kW: 0,05 kW gehen ins Netz.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ exportW: 1200, curtailedW: 50 })),
      'the roof gives 5.00 kW, but this car takes at most 11.04 kW on three phases: 1.20 kW goes to the grid, and 0.05 kW is not made at all, because of the export limit.',
      'das Dach liefert 5,00 kW, aber dieses Auto nimmt auf drei Phasen höchstens 11,04 kW: 1,20 kW gehen ins Netz, und 0,05 kW werden wegen der Einspeisegrenze gar nicht erzeugt.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ highestA: 15.96 })),
      'the roof gives 5.00 kW, but this car takes at most 11.04 kW on three phases.',
      'das Dach liefert 5,00 kW, aber dieses Auto nimmt auf drei Phasen höchstens 11,04 kW.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ highestA: 15.9 })),
      'the roof gives 5.00 kW, but the connection leaves the car no more than 4.20 kW.',
      'das Dach liefert 5,00 kW, aber der Anschluss lässt dem Auto nicht mehr als 4,20 kW.',
    ],
    [
      (words) => words.stretches.ceiling(stretch({ tapers: true, highestA: 8 })),
      'the roof gives 5.00 kW, but the car is nearly full and takes no more than 4.20 kW.',
      'das Dach liefert 5,00 kW, aber das Auto ist fast voll und nimmt nicht mehr als 4,20 kW.',
    ],
  ],
  'on and off': [
    [
      (words) => words.flurry(flurry({})),
      'on and off: 4 starts and 3 stalls; 25 min of charging in all give 0.9 kWh, 0.6 kWh of it from the roof.',
      'hin und her: 4 Starts und 3 Abbrüche; zusammen 25 min Laden geben 0,9 kWh, davon 0,6 kWh vom Dach.',
    ],
    [
      (words) => words.flurry(flurry({ starts: 1, stalls: 1, switches: 1 })),
      'on and off: 1 start, 1 stall and 1 phase switch; 25 min of charging in all give 0.9 kWh, 0.6 kWh of it from the roof.',
      'hin und her: 1 Start, 1 Abbruch und 1 Phasenwechsel; zusammen 25 min Laden geben 0,9 kWh, davon 0,6 kWh vom Dach.',
    ],
    [
      (words) => words.flurry(flurry({ switches: 2, chargingS: 7200 })),
      'on and off: 4 starts, 3 stalls and 2 phase switches; 2 h of charging in all give 0.9 kWh, 0.6 kWh of it from the roof.',
      'hin und her: 4 Starts, 3 Abbrüche und 2 Phasenwechsel; zusammen 2 h Laden geben 0,9 kWh, davon 0,6 kWh vom Dach.',
    ],
  ],
  'what a change does': [
    [(words) => words.whatIf.differences([], 'EUR'), 'changes nothing worth a word.', 'ändert nichts, was der Rede wert wäre.'],
    [
      (words) =>
        words.whatIf.differences(
          [
            { of: 'pv', by: 1500 },
            { of: 'grid', by: -800 },
            { of: 'battery', by: 100 },
          ],
          'EUR',
        ),
      '1.5 kWh more from the roof, 0.8 kWh less from the grid and 0.1 kWh more from the home battery.',
      '1,5 kWh mehr vom Dach, 0,8 kWh weniger aus dem Netz und 0,1 kWh mehr aus dem Hausspeicher.',
    ],
    [
      (words) =>
        words.whatIf.differences(
          [
            { of: 'starts', by: 1 },
            { of: 'switches', by: -1 },
          ],
          'EUR',
        ),
      '1 more start and 1 fewer phase switch.',
      '1 Start mehr und 1 Phasenwechsel weniger.',
    ],
    [
      (words) =>
        words.whatIf.differences(
          [
            { of: 'starts', by: -1200 },
            { of: 'switches', by: 2 },
          ],
          'EUR',
        ),
      '1,200 fewer starts and 2 more phase switches.',
      '1.200 Starts weniger und 2 Phasenwechsel mehr.',
    ],
    [
      (words) =>
        words.whatIf.differences(
          [
            { of: 'missed', by: 12 },
            { of: 'cost', by: 3.456 },
            { of: 'left', by: -500 },
          ],
          'EUR',
        ),
      '12 more km with an empty battery, 3.46 EUR dearer and 0.5 kWh less in the car at the end.',
      '12 km mehr mit leerer Batterie, 3,46 EUR teurer und am Ende 0,5 kWh weniger im Auto.',
    ],
    [
      (words) =>
        words.whatIf.differences(
          [
            { of: 'missed', by: -12 },
            { of: 'cost', by: -3.456 },
            { of: 'left', by: 500 },
          ],
          'CHF',
        ),
      '12 fewer km with an empty battery, 3.46 CHF cheaper and 0.5 kWh more in the car at the end.',
      '12 km weniger mit leerer Batterie, 3,46 CHF billiger und am Ende 0,5 kWh mehr im Auto.',
    ],
    [
      (words) => words.whatIf.note(true),
      'The same weather, house and trips, run again with one thing changed; best first by PV energy in the car.',
      'Dasselbe Wetter, Haus und Fahren, noch einmal gerechnet mit einer Änderung; nach PV-Energie im Auto geordnet.',
    ],
    [
      (words) => words.whatIf.note(false),
      'The same weather, house and trips, run again from this morning on with one thing changed; best first by PV energy in the car.',
      'Dasselbe Wetter, Haus und Fahren, ab diesem Morgen noch einmal gerechnet mit einer Änderung; nach PV-Energie im Auto geordnet.',
    ],
  ],
  'the account of a day': [
    [(words) => words.account.day({ year: 2025, month: 4, day: 2 }, 2), 'Wednesday, 2 April 2025', 'Mittwoch, 02.04.2025'],
    [
      (words) => words.account.sums(tally({}), 0.743),
      '1,842 kWh from the roof into the car, 74 % of all it charged, enough for 10,000 km, in 812 solar charging hours; 312 starts, 120 stalls and 45 phase switches.',
      '1.842 kWh vom Dach ins Auto, 74 % von allem, was es lud, genug für 10.000 km, in 812 Solarladestunden; 312 Starts, 120 Abbrüche und 45 Phasenwechsel.',
    ],
    [
      (words) => words.account.sums(tally({ starts: 1, stalls: 1, switches: 1 }), 1),
      '1,842 kWh from the roof into the car, 100 % of all it charged, enough for 10,000 km, in 812 solar charging hours; 1 start, 1 stall and 1 phase switch.',
      '1.842 kWh vom Dach ins Auto, 100 % von allem, was es lud, genug für 10.000 km, in 812 Solarladestunden; 1 Start, 1 Abbruch und 1 Phasenwechsel.',
    ],
    [(words) => words.account.files(1, 'out'), '1 file in out', '1 Datei in out'],
    [(words) => words.account.files(2, 'out'), '2 files in out', '2 Dateien in out'],
    [
      (words) => words.chain.dark(12.34),
      'Not in it: 12.3 hours of charging while the roof gave nothing.',
      'Nicht dabei: 12,3 Stunden Laden, während das Dach nichts lieferte.',
    ],
  ],
  'the answer': [
    [(words) => words.answer.nothing('2025'), '2025: nothing was charged.', '2025: Es wurde nichts geladen.'],
    [
      (words) => words.answer.roof('2025', tally({}), 0.743),
      '2025: the roof puts 1,842 kWh into the car, 74 % of all it charges, enough for 10,000 km, in 812 solar charging hours.',
      '2025: Das Dach bringt 1.842 kWh ins Auto, 74 % von allem, was es lädt, genug für 10.000 km, in 812 Solarladestunden.',
    ],
    [
      (words) => words.answer.interruptions(tally({})),
      'Charging draws power for 1,040 hours, with 312 starts, 120 stalls and 45 phase switches; the grid adds 538 kWh, the home battery 120 kWh.',
      'Geladen wird 1.040 Stunden lang, mit 312 Starts, 120 Abbrüchen und 45 Phasenwechseln; das Netz gibt 538 kWh dazu, der Hausspeicher 120 kWh.',
    ],
    [
      (words) => words.answer.interruptions(tally({ carBatteryWh: 0, switches: 0 })),
      'Charging draws power for 1,040 hours, with 312 starts and 120 stalls; the grid adds 538 kWh.',
      'Geladen wird 1.040 Stunden lang, mit 312 Starts und 120 Abbrüchen; das Netz gibt 538 kWh dazu.',
    ],
    [
      (words) => words.answer.interruptions(tally({ starts: 1, stalls: 1, switches: 1 })),
      'Charging draws power for 1,040 hours, with 1 start, 1 stall and 1 phase switch; the grid adds 538 kWh, the home battery 120 kWh.',
      'Geladen wird 1.040 Stunden lang, mit 1 Start, 1 Abbruch und 1 Phasenwechsel; das Netz gibt 538 kWh dazu, der Hausspeicher 120 kWh.',
    ],
    [
      (words) => words.answer.atOnce(tally({})),
      'Charged at once on every return: 1,842 kWh from PV, 10,000 km, 812 solar charging hours, and 538 kWh from the grid.',
      'Bei jeder Rückkehr sofort geladen: 1.842 kWh aus PV, 10.000 km, 812 Solarladestunden, und 538 kWh aus dem Netz.',
    ],
    [
      (words) => words.answer.missed(tally({})),
      'Mind: 84 of 15,650 km found the battery empty and had to be charged elsewhere.',
      'Achtung: Für 84 von 15.650 km war die Batterie leer; sie mussten anderswo geladen werden.',
    ],
    [(words) => words.answer.period({ year: 2025, month: 1, day: 1 }, { year: 2025, month: 12, day: 31 }), '2025', '2025'],
    [
      (words) => words.answer.period({ year: 2025, month: 1, day: 2 }, { year: 2025, month: 12, day: 31 }),
      '2 January 2025 to 31 December 2025',
      '02.01.2025 bis 31.12.2025',
    ],
    [
      (words) => words.answer.period({ year: 2025, month: 2, day: 1 }, { year: 2025, month: 12, day: 31 }),
      '1 February 2025 to 31 December 2025',
      '01.02.2025 bis 31.12.2025',
    ],
    [
      (words) => words.answer.period({ year: 2025, month: 1, day: 1 }, { year: 2025, month: 12, day: 30 }),
      '1 January 2025 to 30 December 2025',
      '01.01.2025 bis 30.12.2025',
    ],
    [
      (words) => words.answer.period({ year: 2025, month: 1, day: 1 }, { year: 2025, month: 10, day: 31 }),
      '1 January 2025 to 31 October 2025',
      '01.01.2025 bis 31.10.2025',
    ],
    [
      (words) => words.answer.period({ year: 2024, month: 1, day: 1 }, { year: 2025, month: 12, day: 31 }),
      '1 January 2024 to 31 December 2025',
      '01.01.2024 bis 31.12.2025',
    ],
    [
      (words) => words.answer.period({ year: 2025, month: 6, day: 21 }, { year: 2025, month: 6, day: 21 }),
      '21 June 2025',
      '21.06.2025',
    ],
  ],
  money: [
    [
      (words) => words.money.total(costs),
      'Money: 612 EUR for import and public charging less export; 1,300 charged at once, -21 without a car.',
      'Geld: 612 EUR für Bezug und Laden unterwegs abzüglich Einspeisung; 1.300 sofort geladen, -21 ohne Auto.',
    ],
    [
      (words) => words.money.per100Km(6.789, 9, 'EUR'),
      'The car costs 6.79 EUR per 100 km; 9.00 charged at once.',
      'Das Auto kostet 6,79 EUR je 100 km; 9,00 sofort geladen.',
    ],
    [
      (words) => words.money.publicUnknown(12_000),
      'Not counted: 12 kWh charged elsewhere (write tariff.publicPerKWh), so no cost per 100 km.',
      'Nicht gezählt: 12 kWh anderswo geladen (tariff.publicPerKWh angeben), daher keine Kosten je 100 km.',
    ],
    [
      (words) => words.money.publicKnown(5.5, 12_000, 'EUR'),
      'Of it 6 EUR for 12 kWh charged elsewhere, as much as the road took.',
      'Davon 6 EUR für 12 kWh, anderswo geladen, so viel die Straße brauchte.',
    ],
    [
      (words) => words.money.stored(1500),
      'At the end the car holds 1.5 kWh less than charged at once.',
      'Am Ende sind im Auto 1,5 kWh weniger, als wenn sofort geladen würde.',
    ],
    [
      (words) => words.money.stored(-1500),
      'At the end the car holds 1.5 kWh more than charged at once.',
      'Am Ende sind im Auto 1,5 kWh mehr, als wenn sofort geladen würde.',
    ],
  ],
  charts: [
    [(words) => words.charts.ifAtOnce(words.charts.from.pv), 'from PV, if charged at once', 'aus PV, sofort geladen'],
    [(words) => words.charts.localTime('Europe/Vienna'), 'local time, Europe/Vienna', 'Ortszeit, Europe/Vienna'],
    [(words) => words.charts.threshold(1380, 1), 'surplus of 1.38 kW starts 1 phase', '1,38 kW Überschuss für 1 Phase'],
    [(words) => words.charts.threshold(4140, 3), 'surplus of 4.14 kW starts 3 phases', '4,14 kW Überschuss für 3 Phasen'],
    [
      (words) => words.charts.daySums(tally({})),
      '1,842.4 of 2,500.0 kWh into the car from PV, 10,000 km, 812.4 solar charging hours; starts 312, stalls 120, phase switches 45',
      '1.842,4 von 2.500,0 kWh ins Auto aus PV, 10.000 km, 812,4 Solarladestunden; Starts 312, Abbrüche 120, Phasenwechsel 45',
    ],
    [
      (words) => words.charts.monthSums('2025-04', tally({}), 0.743),
      '2025-04: 1,842 kWh from PV (74 % of all), 10,000 km, 812 solar charging hours; 84 of 15,650 km charged elsewhere',
      '2025-04: 1.842 kWh aus PV (74 % von allem), 10.000 km, 812 Solarladestunden; 84 von 15.650 km anderswo geladen',
    ],
    [
      (words) => words.charts.monthSums('2025-04', tally({ missedKm: 0.5 }), 0.743),
      '2025-04: 1,842 kWh from PV (74 % of all), 10,000 km, 812 solar charging hours; 1 of 15,650 km charged elsewhere',
      '2025-04: 1.842 kWh aus PV (74 % von allem), 10.000 km, 812 Solarladestunden; 1 von 15.650 km anderswo geladen',
    ],
    [
      (words) => words.charts.monthSums('2025-04', tally({ missedKm: 0.4 }), 0.743),
      '2025-04: 1,842 kWh from PV (74 % of all), 10,000 km, 812 solar charging hours',
      '2025-04: 1.842 kWh aus PV (74 % von allem), 10.000 km, 812 Solarladestunden',
    ],
    [(words) => words.charts.car(2), 'car 2', 'Auto 2'],
  ],
  report: [
    [(words) => words.report.title('Hill', '2025'), 'Hill: solar charging 2025', 'Hill: Solarladen 2025'],
    [(words) => words.report.chainCaption(null), 'Where the hours and the PV energy went', 'Wo Stunden und PV-Energie blieben'],
    [
      (words) => words.report.chainCaption('garage'),
      'Where the hours and the PV energy went: garage',
      'Wo Stunden und PV-Energie blieben: garage',
    ],
    [
      (words) => words.report.dayChart('2 April 2025'),
      'PV, house and car on 2 April 2025, with the state of the charge point below',
      'PV, Haus und Auto am 2 April 2025, darunter der Zustand des Ladepunkts',
    ],
    [
      (words) => words.report.dayTable('2 April 2025'),
      '2 April 2025, means of each hour in kW',
      '2 April 2025, Stundenmittel in kW',
    ],
    [(words) => words.report.whatIfCaption('2025'), '2025, with one thing changed', '2025, mit einer Änderung'],
    [(words) => words.report.cost('EUR'), 'cost, EUR', 'Kosten, EUR'],
    [
      (words) => words.report.madeBy('1.2.3'),
      'Made by Sixamp 1.2.3. Hours flatter slow charging, so nothing here is ranked by them.',
      'Erstellt mit Sixamp 1.2.3. Stunden schmeicheln dem langsamen Laden, darum ordnet hier nichts nach ihnen.',
    ],
  ],
  'what a scenario means: place, roof, house': [
    [
      (words) => words.meaning.place(placed({}), { year: 2025, month: 3, day: 24 }),
      'Place and time: 47.3° N, 13.26° E, Europe/Vienna; 14 days from 24 March 2025 in steps of 60 s.',
      'Ort und Zeit: 47,3° N, 13,26° O, Europe/Vienna; 14 Tage ab 24.03.2025 in Schritten von 60 s.',
    ],
    [
      (words) => words.meaning.place(placed({ latitudeDeg: -33.456, longitudeDeg: -70.6 }, 1), { year: 2025, month: 3, day: 24 }),
      'Place and time: 33.46° S, 70.6° W, Europe/Vienna; 1 day from 24 March 2025 in steps of 60 s.',
      'Ort und Zeit: 33,46° S, 70,6° W, Europe/Vienna; 1 Tag ab 24.03.2025 in Schritten von 60 s.',
    ],
    [
      (words) =>
        words.meaning.roof({
          kind: 'arrays',
          arrays: [array({}), array({ peakW: 3333, tiltDeg: 90, azimuthDeg: 271 })],
          inverter: { ratedW: 9000, efficiencyShare: 0.97 },
          phases: [1, 2, 3],
        }),
      'Roof: 8 kWp to the south at 30° and 3.33 kWp to the west at 90°; inverter 9 kW on building phases 1, 2 and 3.',
      'Dach: 8 kWp nach Süden, 30° geneigt und 3,33 kWp nach Westen, 90° geneigt; Wechselrichter 9 kW an Gebäudephase 1, 2 und 3.',
    ],
    [
      (words) =>
        words.meaning.roof({
          kind: 'arrays',
          arrays: [array({})],
          inverter: { ratedW: 4600, efficiencyShare: 0.97 },
          phases: [2],
        }),
      'Roof: 8 kWp to the south at 30°; inverter 4.6 kW on building phase 2.',
      'Dach: 8 kWp nach Süden, 30° geneigt; Wechselrichter 4,6 kW an Gebäudephase 2.',
    ],
    [
      (words) => words.meaning.roofMeasured('pv.csv', [1, 2]),
      'Roof: measured in pv.csv, on building phases 1 and 2.',
      'Dach: gemessen in pv.csv, an Gebäudephase 1 und 2.',
    ],
    [
      (words) => words.meaning.houseProfile({ kind: 'profile', file: 'h0.csv', annualWh: 3_500_000 } as never),
      'House: 3,500 kWh a year by the standard profile in h0.csv: the mean of many homes, without the spikes of one.',
      'Haus: 3.500 kWh im Jahr nach dem Standardprofil in h0.csv: das Mittel vieler Häuser, ohne die Spitzen eines einzelnen.',
    ],
    [
      (words) => words.meaning.houseSynthetic(home({})),
      'House: 3,500 kWh a year without the car, 4 people; by the minute it is invented.',
      'Haus: 3.500 kWh im Jahr ohne das Auto, 4 Personen; die Minuten sind erfunden.',
    ],
    [
      (words) => words.meaning.houseSynthetic(home({ people: 1, hotWaterWh: 1_800_000 })),
      'House: 3,500 kWh a year without the car, 1 person; on top of it 1,800 kWh for hot water; by the minute it is invented.',
      'Haus: 3.500 kWh im Jahr ohne das Auto, 1 Person; dazu 1.800 kWh für Warmwasser; die Minuten sind erfunden.',
    ],
    [
      (words) => words.meaning.houseSynthetic(home({ hotWaterWh: 1_800_000, heatPumpWh: 2_600_000 })),
      'House: 3,500 kWh a year without the car, 4 people; on top of it 1,800 kWh for hot water and 2,600 kWh for the heat pump; by the minute it is invented.',
      'Haus: 3.500 kWh im Jahr ohne das Auto, 4 Personen; dazu 1.800 kWh für Warmwasser und 2.600 kWh für die Wärmepumpe; die Minuten sind erfunden.',
    ],
    [
      (words) => words.meaning.houseMeasured('load.csv', false, null),
      'House: measured in load.csv.',
      'Haus: gemessen in load.csv.',
    ],
    [
      (words) => words.meaning.houseMeasured('meter.csv', true, 900),
      'House: what balances the meter in meter.csv, every 15 min; its spikes by the minute are invented.',
      'Haus: was den Zähler in meter.csv ausgleicht, alle 15 min; die Spitzen in den Minuten sind erfunden.',
    ],
  ],
  'what a scenario means: batteries, connection': [
    [
      (words) => words.meaning.battery(battery({})),
      'Home battery: 7.68 kWh, 3 kW in, 2.5 kW out; it takes surplus before the car, and it is kept from the car.',
      'Hausspeicher: 7,68 kWh, 3 kW hinein, 2,5 kW heraus; er nimmt Überschuss vor dem Auto, und er speist das Auto nicht.',
    ],
    [
      (words) => words.meaning.battery(battery({ priority: { kind: 'car' }, dischargeToCar: true })),
      'Home battery: 7.68 kWh, 3 kW in, 2.5 kW out; the car takes surplus before it, and it feeds the car too.',
      'Hausspeicher: 7,68 kWh, 3 kW hinein, 2,5 kW heraus; das Auto nimmt Überschuss vor ihm, und er speist auch das Auto.',
    ],
    [
      (words) => words.meaning.battery(battery({ priority: { kind: 'until', untilSoc: 0.6 } })),
      'Home battery: 7.68 kWh, 3 kW in, 2.5 kW out; it takes surplus before the car up to 60 %, and it is kept from the car.',
      'Hausspeicher: 7,68 kWh, 3 kW hinein, 2,5 kW heraus; bis 60 % nimmt er Überschuss vor dem Auto, und er speist das Auto nicht.',
    ],
    [
      (words) => words.meaning.diverter({ maxW: 3000, dailyWh: 6000, priority: 'car' }),
      'Hot-water rod: up to 3 kW of surplus, 6 kWh a day, after the car.',
      'Heizstab: bis 3 kW Überschuss, 6 kWh am Tag, nach dem Auto.',
    ],
    [
      (words) => words.meaning.diverter({ maxW: 3000, dailyWh: 6000, priority: 'diverter' }),
      'Hot-water rod: up to 3 kW of surplus, 6 kWh a day, before the car.',
      'Heizstab: bis 3 kW Überschuss, 6 kWh am Tag, vor dem Auto.',
    ],
    [
      (words) => words.meaning.connection(SUPPLY),
      'Connection: three phases at 230 V, main fuse 35 A per phase.',
      'Anschluss: drei Phasen mit 230 V, Hauptsicherung 35 A je Phase.',
    ],
    [
      (words) => words.meaning.connection({ ...SUPPLY, phases: 1, metering: 'per-phase' }),
      'Connection: one phase at 230 V, main fuse 35 A per phase; the meter counts each phase for itself.',
      'Anschluss: eine Phase mit 230 V, Hauptsicherung 35 A je Phase; der Zähler zählt jede Phase für sich.',
    ],
    [
      (words) =>
        words.meaning.connection({
          ...SUPPLY,
          imbalanceLimitA: 16,
          exportLimitW: 5000,
          contractW: 4000,
          dimming: { toW: 4200, windows: [] },
        }),
      'Connection: three phases at 230 V, main fuse 35 A per phase; 16 A of imbalance between the phases at most, 5 kW of export at most, 4 kW contracted and chargers dimmed to 4.2 kW at times.',
      'Anschluss: drei Phasen mit 230 V, Hauptsicherung 35 A je Phase; höchstens 16 A Schieflast, höchstens 5 kW Einspeisung, 4 kW Bezug vereinbart und Lader zeitweise auf 4,2 kW begrenzt.',
    ],
  ],
  'what a scenario means: the charge point': [
    [(words) => words.meaning.at('garage'), 'At garage: ', 'Bei garage: '],
    [
      (words) => words.meaning.takes(rules({})),
      'the car takes 1.38 kW (6 A) to 3.68 kW (16 A) on one phase; below 6 A it takes nothing at all.',
      'Das Auto nimmt auf einer Phase 1,38 kW (6 A) bis 3,68 kW (16 A); unter 6 A nimmt es gar nichts.',
    ],
    [
      (words) => words.meaning.takes(rules({ switches: true })),
      'the car takes 1.38 kW (6 A) to 3.68 kW (16 A) on one phase and 4.14 kW (6 A) to 11.04 kW (16 A) on three phases; below 6 A it takes nothing at all.',
      'Das Auto nimmt auf einer Phase 1,38 kW (6 A) bis 3,68 kW (16 A) und auf drei Phasen 4,14 kW (6 A) bis 11,04 kW (16 A); unter 6 A nimmt es gar nichts.',
    ],
    [
      (words) => words.meaning.gap(rules({ switches: true })),
      'between 3.68 kW and 4.14 kW the rest of the surplus goes to the grid: one phase full, three phases out of reach.',
      'Zwischen 3,68 kW und 4,14 kW geht der Rest des Überschusses ins Netz: Auf einer Phase ist das Auto ausgelastet, für drei Phasen reicht es nicht.',
    ],
    [
      (words) => words.meaning.follows(rules({}), control({})),
      'starts when the surplus has stood at 1.38 kW (1.43 kW of export with the reserve) for 3 min, and stalls when it has been missing for 4 min.',
      'Das Laden beginnt, wenn der Überschuss 3 min lang 1,38 kW (mit Reserve 1,43 kW Einspeisung) erreicht, und bricht ab, wenn er 4 min lang fehlt.',
    ],
    [
      (words) => words.meaning.follows(rules({ switches: true }), control({})),
      'starts on one phase when the surplus has stood at 1.38 kW (1.43 kW of export with the reserve) for 3 min, goes to three phases at 4.14 kW (4.19 kW of export with the reserve) for 10 min, and stalls when it has been missing for 4 min.',
      'Das Laden beginnt auf einer Phase, wenn der Überschuss 3 min lang 1,38 kW (mit Reserve 1,43 kW Einspeisung) erreicht, geht auf drei Phasen, wenn er 10 min lang 4,14 kW (mit Reserve 4,19 kW Einspeisung) erreicht, und bricht ab, wenn er 4 min lang fehlt.',
    ],
    [
      (words) =>
        words.meaning.follows(
          rules({ least: { ...ONE, thresholdW: 690 } }),
          control({ reserveW: 0, startDelayS: 60, stopDelayS: 0 }),
        ),
      'starts when the surplus has stood at 0.69 kW, 50 % of 1.38 kW for 60 s, and stalls when it has been missing for 0 s.',
      'Das Laden beginnt, wenn der Überschuss 60 s lang 0,69 kW, 50 % von 1,38 kW erreicht, und bricht ab, wenn er 0 s lang fehlt.',
    ],
    [
      (words) => words.meaning.stays({ kind: 'stays', stays: [stay(12), stay(30.4)] }),
      '2 stays from a file, 42 km.',
      '2 Aufenthalte aus einer Datei, 42 km.',
    ],
    [
      (words) => words.meaning.stays({ kind: 'stays', stays: [stay(12)] }),
      '1 stay from a file, 12 km.',
      '1 Aufenthalt aus einer Datei, 12 km.',
    ],
    [
      (words) => words.meaning.weekly(weekly({}), 300, 15_653),
      'plugged in but for Mon Tue Fri 07:30 to 15:05 (60 km) and Sun 10:00 to 00:00 (120 km); 300 km a week, about 15,653 km a year.',
      'Angesteckt außer Mo Di Fr 07:30 bis 15:05 (60 km) und So 10:00 bis 00:00 (120 km); 300 km in der Woche, etwa 15.653 km im Jahr.',
    ],
    [
      (words) => words.meaning.weekly(weekly({ plugInBelowSoc: 0.6, daysOff: [0], holidays: [HOLIDAY] }), 300, 15_653),
      'plugged in but for Mon Tue Fri 07:30 to 15:05 (60 km) and Sun 10:00 to 00:00 (120 km); 300 km a week, about 15,653 km a year, with 1 day off and 1 holiday; plugged in only below 60 %.',
      'Angesteckt außer Mo Di Fr 07:30 bis 15:05 (60 km) und So 10:00 bis 00:00 (120 km); 300 km in der Woche, etwa 15.653 km im Jahr, mit 1 freiem Tag und 1 Urlaub; angesteckt nur unter 60 %.',
    ],
    [
      (words) =>
        words.meaning.weekly(
          weekly({ longTrips: { km: 220, perMonth: 1.25 }, daysOff: [0, 1], holidays: [HOLIDAY, HOLIDAY] }),
          300,
          15_653,
        ),
      'plugged in but for Mon Tue Fri 07:30 to 15:05 (60 km) and Sun 10:00 to 00:00 (120 km); 300 km a week, about 15,653 km a year, with longer trips of 220 km (1.25 a month), 2 days off and 2 holidays.',
      'Angesteckt außer Mo Di Fr 07:30 bis 15:05 (60 km) und So 10:00 bis 00:00 (120 km); 300 km in der Woche, etwa 15.653 km im Jahr, mit längeren Fahrten von 220 km (1,25 im Monat), 2 freien Tagen und 2 Urlauben.',
    ],
    [
      (words) => words.meaning.neverStarts(1200, 1430),
      'surplus charging can never start: the roof gives at most 1.20 kW, and 1.43 kW are needed even with an idle house.',
      'Überschussladen kann nie beginnen: Das Dach liefert höchstens 1,20 kW, und selbst wenn das Haus nichts nimmt, braucht es 1,43 kW.',
    ],
    [
      (words) => words.meaning.neverMorePhases(3200, 4190, 3),
      'it can never go to three phases for surplus: the roof gives at most 3.20 kW, and 4.19 kW are needed even with an idle house.',
      'Es kann für Überschuss nie auf drei Phasen gehen: Das Dach liefert höchstens 3,20 kW, und selbst wenn das Haus nichts nimmt, braucht es 4,19 kW.',
    ],
    [
      (words) => words.meaning.fuseHolds(10, 16),
      'the main fuse of 10 A holds it to 10 A at best; the car could take 16 A.',
      'Die Hauptsicherung mit 10 A erlaubt bestenfalls 10 A; das Auto könnte 16 A nehmen.',
    ],
  ],
  'what a run takes for granted': [
    [
      (words) => words.assumptions.steps(0.25),
      'Power and current are means over steps of 0.25 s.',
      'Leistung und Strom sind Mittelwerte über Schritte von 0,25 s.',
    ],
    [
      (words) => words.assumptions.weatherInvented(7),
      'PV power comes from invented weather (seed 7) that keeps to the monthly sums of the scenario.',
      'Die PV-Leistung kommt aus erfundenem Wetter (Startzahl 7), das die Monatssummen des Szenarios einhält.',
    ],
    [
      (words) => words.assumptions.weatherMeasured(null, 7),
      'PV power is computed from the irradiance in the weather file.',
      'Die PV-Leistung ist aus der Strahlung in der Wetterdatei berechnet.',
    ],
    [
      (words) => words.assumptions.weatherMeasured(60, null),
      'PV power is computed from the irradiance in the weather file, means over 60 minutes, which are held: clouds that pass within them are missing.',
      'Die PV-Leistung ist aus der Strahlung in der Wetterdatei berechnet, Mitteln über 60 Minuten, die so gehalten werden: Wolken, die darin vorüberziehen, fehlen.',
    ],
    [
      (words) => words.assumptions.weatherMeasured(60, 7),
      'PV power is computed from the irradiance in the weather file, means over 60 minutes; the clouds in their minutes are invented (seed 7) and keep the means.',
      'Die PV-Leistung ist aus der Strahlung in der Wetterdatei berechnet, Mitteln über 60 Minuten; die Wolken in ihren Minuten sind erfunden (Startzahl 7) und halten die Mittel ein.',
    ],
    [
      (words) => words.assumptions.houseInvented(7, false),
      'The load of the house is invented (seed 7) and keeps to its annual energy.',
      'Die Last des Hauses ist erfunden (Startzahl 7) und hält ihre Jahresenergie ein.',
    ],
    [
      (words) => words.assumptions.houseInvented(7, true),
      'The load of the house is invented (seed 7) and keeps to its annual energy; its heat pump follows the season, not the days of this weather.',
      'Die Last des Hauses ist erfunden (Startzahl 7) und hält ihre Jahresenergie ein; die Wärmepumpe folgt der Jahreszeit, nicht den Tagen dieses Wetters.',
    ],
    [
      (words) => words.assumptions.houseMeasured(null, 7),
      'The load of the house is measured.',
      'Die Last des Hauses ist gemessen.',
    ],
    [
      (words) => words.assumptions.houseMeasured(15, null),
      'The load of the house is measured in means over 15 minutes, which are held.',
      'Die Last des Hauses ist gemessen in Mitteln über 15 Minuten, die so gehalten werden.',
    ],
    [
      (words) => words.assumptions.houseMeasured(15, 7),
      'The load of the house is measured in means over 15 minutes; the minutes in them are invented (seed 7) and keep their energy.',
      'Die Last des Hauses ist gemessen in Mitteln über 15 Minuten; die Minuten darin sind erfunden (Startzahl 7) und halten ihre Energie ein.',
    ],
    [
      (words) => words.assumptions.always({ name: 'garage' } as never),
      'At garage the car is plugged in throughout and never driven.',
      'Bei garage ist das Auto immer angesteckt und fährt nie.',
    ],
    [
      (words) => words.assumptions.weekly({ name: 'garage' } as never),
      'At garage trips come back every week, moved by a seeded chance.',
      'Bei garage kommen die Fahrten jede Woche wieder, vom Zufall verschoben (mit fester Startzahl).',
    ],
  ],
  'what gets in the way of what': [
    [
      (words) =>
        words.conflicts['imbalance-holds']({
          code: 'imbalance-holds',
          point: 0,
          n: 1,
          limitA: 20,
          endsAtA: 20,
          couldA: 32,
          alone: true,
        }),
      'charging on one phase ends at 20 A under the imbalance limit of 20 A; charger and car could take 32 A.',
      'Laden auf einer Phase endet bei 20 A, wegen der Schieflastgrenze von 20 A; Lader und Auto könnten 32 A.',
    ],
    [
      (words) =>
        words.conflicts['imbalance-holds']({
          code: 'imbalance-holds',
          point: 0,
          n: 2,
          limitA: 10,
          endsAtA: 9,
          couldA: 15,
          alone: false,
        }),
      'charging on two phases ends at 9 A under the imbalance limit of 10 A while no other car draws on the other phases; charger and car could take 15 A.',
      'Laden auf zwei Phasen endet bei 9 A, wegen der Schieflastgrenze von 10 A, solange kein anderes Auto auf den übrigen Phasen lädt; Lader und Auto könnten 15 A.',
    ],
    [
      (words) =>
        words.conflicts['imbalance-forbids']({ code: 'imbalance-forbids', point: 0, n: 1, limitA: 9, minA: 10, alone: true }),
      'on one phase the car needs 10 A, and the imbalance limit of 9 A does not allow them.',
      'auf einer Phase braucht das Auto 10 A, und die Schieflastgrenze von 9 A lässt sie nicht zu.',
    ],
    [
      (words) =>
        words.conflicts['imbalance-forbids']({ code: 'imbalance-forbids', point: 0, n: 2, limitA: 9, minA: 10, alone: false }),
      'on two phases the car needs 10 A, and the imbalance limit of 9 A does not allow them while no other car draws on the other phases.',
      'auf zwei Phasen braucht das Auto 10 A, und die Schieflastgrenze von 9 A lässt sie nicht zu, solange kein anderes Auto auf den übrigen Phasen lädt.',
    ],
    [
      (words) =>
        words.conflicts['imbalance-not-given']({
          code: 'imbalance-not-given',
          country: 'Austria',
          countryCode: 'AT',
          limitA: 16,
        }),
      'No imbalance limit is given, and in Austria there is one, of 16 A as far as is known: write grid.country: AT, or imbalanceLimitA as the grid operator says.',
      'Es ist keine Schieflastgrenze angegeben; in diesem Land (Austria) gibt es eine, soweit bekannt 16 A: grid.country: AT schreiben, oder imbalanceLimitA nach Auskunft des Netzbetreibers.',
    ],
    [
      (words) =>
        words.conflicts['minimum-above-fuse']({ code: 'minimum-above-fuse', point: 0, n: 1, minA: 10, fuseA: 8, never: true }),
      'the car needs 10 A on one phase, and the main fuse carries 8 A: it cannot charge.',
      'das Auto braucht 10 A auf einer Phase, und die Hauptsicherung trägt 8 A: es kann nicht laden.',
    ],
    [
      (words) =>
        words.conflicts['minimum-above-fuse']({ code: 'minimum-above-fuse', point: 0, n: 3, minA: 10, fuseA: 8, never: false }),
      'the car needs 10 A on three phases, and the main fuse carries 8 A: it cannot charge on three phases.',
      'das Auto braucht 10 A auf drei Phasen, und die Hauptsicherung trägt 8 A: auf drei Phasen kann es nicht laden.',
    ],
    [
      (words) =>
        words.conflicts['minimum-above-contract']({
          code: 'minimum-above-contract',
          point: 0,
          n: 3,
          minW: 4140,
          contractW: 4000,
          never: true,
        }),
      'the car needs 4.14 kW on three phases, and the contract allows 4.00 kW: it cannot charge.',
      'das Auto braucht 4,14 kW auf drei Phasen, und vereinbart sind 4,00 kW: es kann nicht laden.',
    ],
    [
      (words) =>
        words.conflicts['minimum-above-dimming']({
          code: 'minimum-above-dimming',
          point: 0,
          n: 1,
          minW: 1380,
          toW: 1000,
          never: false,
        }),
      'the car needs 1.38 kW on one phase, and the operator dims to 1.00 kW: in those hours it cannot charge on one phase.',
      'das Auto braucht 1,38 kW auf einer Phase, und der Netzbetreiber begrenzt auf 1,00 kW: in diesen Stunden gilt, auf einer Phase kann es nicht laden.',
    ],
    [
      (words) =>
        words.conflicts['minimum-above-dimming']({
          code: 'minimum-above-dimming',
          point: 0,
          n: 3,
          minW: 4140,
          toW: 4000,
          never: true,
        }),
      'the car needs 4.14 kW on three phases, and the operator dims to 4.00 kW: in those hours it cannot charge.',
      'das Auto braucht 4,14 kW auf drei Phasen, und der Netzbetreiber begrenzt auf 4,00 kW: in diesen Stunden gilt, es kann nicht laden.',
    ],
    [
      (words) =>
        words.conflicts['departure-above-target']({ code: 'departure-above-target', point: 0, askedKm: 200, targetKm: 147.06 }),
      '200 km are asked for at departure, and charging ends at 147 km: raise targetSoc or ask for less.',
      'bei der Abfahrt sind 200 km verlangt, und das Laden endet bei 147 km: targetSoc erhöhen oder weniger verlangen.',
    ],
    [
      (words) =>
        words.conflicts['departure-out-of-reach']({
          code: 'departure-out-of-reach',
          point: 0,
          missed: 1,
          departures: 2,
          firstAt: '2025-04-02 07:15',
          askedKm: 20,
          firstHasKm: 10.8,
        }),
      '1 of 2 departures cannot have 20 km in the battery, even at full current from the moment the car is plugged in; the first, on 2025-04-02 07:15, would have 11 km.',
      '1 von 2 Abfahrten können keine 20 km in der Batterie haben, auch nicht mit vollem Strom ab dem Anstecken; die erste, am 2025-04-02 07:15, hätte 11 km.',
    ],
    [
      (words) => words.conflicts['share-starts-always']({ code: 'share-starts-always', point: 0, powerW: 1380, atFull: false }),
      'a surplus share of 0 waits for no sun: charging starts day and night, at 1.38 kW.',
      'ein Überschussanteil von 0 wartet auf keine Sonne: geladen wird Tag und Nacht, mit 1,38 kW.',
    ],
    [
      (words) => words.conflicts['share-starts-always']({ code: 'share-starts-always', point: 0, powerW: 11_040, atFull: true }),
      'a surplus share of 0 waits for no sun: charging starts day and night, at 11.04 kW, the full current.',
      'ein Überschussanteil von 0 wartet auf keine Sonne: geladen wird Tag und Nacht, mit 11,04 kW, dem vollen Strom.',
    ],
    [
      (words) => words.conflicts['export-limit-hides-start'](hides({})),
      'surplus charging can never start behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW. Write seesCurtailedPv: true if it knows what the roof could give.',
      'Überschussladen kann nie beginnen, hinter der Einspeisegrenze von 0,00 kW: die Steuerung sieht nicht mehr als das und braucht 1,43 kW. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
    [
      (words) => words.conflicts['export-limit-hides-start'](hides({ byBattery: true })),
      'surplus charging cannot start by itself behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW, unless the home battery takes the rest. Write seesCurtailedPv: true if it knows what the roof could give.',
      'Überschussladen kann nicht von selbst beginnen, hinter der Einspeisegrenze von 0,00 kW: die Steuerung sieht nicht mehr als das und braucht 1,43 kW, außer der Hausspeicher nimmt den Rest. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
    [
      (words) => words.conflicts['export-limit-hides-start'](hides({ byNeeds: true })),
      'surplus charging cannot start by itself behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW, unless the car must charge anyway. Write seesCurtailedPv: true if it knows what the roof could give.',
      'Überschussladen kann nicht von selbst beginnen, hinter der Einspeisegrenze von 0,00 kW: die Steuerung sieht nicht mehr als das und braucht 1,43 kW, außer das Auto muss ohnehin laden. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
    [
      (words) => words.conflicts['export-limit-hides-start'](hides({ byOtherCar: true, byNeeds: true })),
      'surplus charging cannot start by itself behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW, unless the car must charge anyway or a car further down the list draws. Write seesCurtailedPv: true if it knows what the roof could give.',
      'Überschussladen kann nicht von selbst beginnen, hinter der Einspeisegrenze von 0,00 kW: die Steuerung sieht nicht mehr als das und braucht 1,43 kW, außer das Auto muss ohnehin laden oder ein Auto weiter unten in der Liste lädt. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
    [
      (words) => words.conflicts['export-limit-hides-start'](hides({ byOtherCar: true })),
      'surplus charging cannot start by itself behind the export limit of 0.00 kW: the controller sees no more than that and needs 1.43 kW, unless a car further down the list draws. Write seesCurtailedPv: true if it knows what the roof could give.',
      'Überschussladen kann nicht von selbst beginnen, hinter der Einspeisegrenze von 0,00 kW: die Steuerung sieht nicht mehr als das und braucht 1,43 kW, außer ein Auto weiter unten in der Liste lädt. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
    [
      (words) =>
        words.conflicts['export-limit-hides-phases']({
          code: 'export-limit-hides-phases',
          point: 0,
          n: 3,
          exportLimitW: 509,
          seenW: 4189,
          neededW: 4190,
        }),
      'it can never go to three phases for surplus: behind the export limit of 0.51 kW the controller sees at most 4.19 kW while the car charges, and needs 4.19 kW. Write seesCurtailedPv: true if it knows what the roof could give.',
      'für Überschuss kann es nie auf drei Phasen gehen: hinter der Einspeisegrenze von 0,51 kW sieht die Steuerung beim Laden höchstens 4,19 kW und braucht 4,19 kW. Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.',
    ],
  ],
};

describe.each(Object.keys(SAID))('%s', (group) => {
  test.each(SAID[group]!)('%s', (say, english, german) => {
    expect(say(EN)).toBe(english);
    expect(say(DE)).toBe(german);
  });
});

/** Words that are the same in every sentence or table, by the place where they stand: English, German. */
const FIXED: Readonly<Record<string, readonly [english: string, german: string]>> = {
  language: ['en', 'de'],
  'form.decimal': ['.', ','],
  'form.thousands': [',', '.'],
  'form.and': ['and', 'und'],
  'form.seconds': ['s', 's'],
  'form.minutes': ['min', 'min'],
  'form.hours': ['h', 'h'],
  'form.counts.0': ['no', 'keine'],
  'form.counts.1': ['one', 'eine'],
  'form.counts.2': ['two', 'zwei'],
  'form.counts.3': ['three', 'drei'],
  'form.phase': ['phase', 'Phase'],
  'form.phases': ['phases', 'Phasen'],
  'form.compass.0': ['north', 'Norden'],
  'form.compass.1': ['north-east', 'Nordosten'],
  'form.compass.2': ['east', 'Osten'],
  'form.compass.3': ['south-east', 'Südosten'],
  'form.compass.4': ['south', 'Süden'],
  'form.compass.5': ['south-west', 'Südwesten'],
  'form.compass.6': ['west', 'Westen'],
  'form.compass.7': ['north-west', 'Nordwesten'],
  'form.weekdays.0': ['Monday', 'Montag'],
  'form.weekdays.1': ['Tuesday', 'Dienstag'],
  'form.weekdays.2': ['Wednesday', 'Mittwoch'],
  'form.weekdays.3': ['Thursday', 'Donnerstag'],
  'form.weekdays.4': ['Friday', 'Freitag'],
  'form.weekdays.5': ['Saturday', 'Samstag'],
  'form.weekdays.6': ['Sunday', 'Sonntag'],
  'form.shortWeekdays.0': ['Mon', 'Mo'],
  'form.shortWeekdays.1': ['Tue', 'Di'],
  'form.shortWeekdays.2': ['Wed', 'Mi'],
  'form.shortWeekdays.3': ['Thu', 'Do'],
  'form.shortWeekdays.4': ['Fri', 'Fr'],
  'form.shortWeekdays.5': ['Sat', 'Sa'],
  'form.shortWeekdays.6': ['Sun', 'So'],
  'form.shortMonths.0': ['Jan', 'Jan'],
  'form.shortMonths.1': ['Feb', 'Feb'],
  'form.shortMonths.2': ['Mar', 'Mär'],
  'form.shortMonths.3': ['Apr', 'Apr'],
  'form.shortMonths.4': ['May', 'Mai'],
  'form.shortMonths.5': ['Jun', 'Jun'],
  'form.shortMonths.6': ['Jul', 'Jul'],
  'form.shortMonths.7': ['Aug', 'Aug'],
  'form.shortMonths.8': ['Sep', 'Sep'],
  'form.shortMonths.9': ['Oct', 'Okt'],
  'form.shortMonths.10': ['Nov', 'Nov'],
  'form.shortMonths.11': ['Dec', 'Dez'],
  'states.away': ['away', 'weg'],
  'states.full': ['full', 'voll'],
  'states.short': ['too little surplus', 'zu wenig Überschuss'],
  'states.proving': ['making sure', 'prüft, ob es bleibt'],
  'states.resting': ['resting', 'ruht'],
  'states.waking': ['waking up', 'wacht auf'],
  'states.surplus': ['from surplus', 'aus Überschuss'],
  'states.topped': ['topped up by the grid', 'vom Netz ergänzt'],
  'states.ceiling': ['as much as it takes', 'so viel es nimmt'],
  'states.bridging': ['bridged by the grid', 'vom Netz überbrückt'],
  'states.switching': ['changing phases', 'wechselt Phasen'],
  'states.held-fuse': ['held by the fuse', 'Sicherung hält auf'],
  'states.held-imbalance': ['held by imbalance', 'Schieflast hält auf'],
  'states.held-contract': ['held by the contract', 'Vertrag hält auf'],
  'states.held-dimmed': ['held by dimming', 'Netzbetreiber hält auf'],
  'states.must': ['must charge', 'muss laden'],
  'states.at-once': ['at once', 'sofort'],
  'states.refusing': ['refused by the car', 'Auto lehnt ab'],
  'states.gave-up': ['car gave up', 'Auto gab auf'],
  'chain.rows.daylight': ['the roof gives power', 'das Dach liefert'],
  'chain.rows.house': ['the house takes its part', 'das Haus nimmt seinen Teil'],
  'chain.rows.short': ['surplus below the lowest threshold', 'Überschuss unter der niedrigsten Schwelle'],
  'chain.rows.away': ['car away', 'Auto weg'],
  'chain.rows.full': ['car full', 'Auto voll'],
  'chain.rows.delay': ['making sure, waking up, pausing, resting', 'prüft, wacht auf, pausiert, ruht'],
  'chain.rows.held': ['held by a limit', 'eine Grenze hält es auf'],
  'chain.rows.refused': ['the car takes nothing of the offer', 'das Auto nimmt das Angebot nicht'],
  'chain.rows.charging': ['charging by daylight', 'lädt bei Tageslicht'],
  'chain.rows.grid-part': ["the grid's part of it", 'Teil des Netzes daran'],
  'chain.rows.battery-part': ["the home battery's part of it", 'Teil des Hausspeichers daran'],
  'chain.rows.left-over': ['surplus that the car leaves', 'Überschuss, den das Auto übrig lässt'],
  'chain.rows.solar': ['solar charging hours, PV into the car', 'Solarladestunden, PV ins Auto'],
  'chain.link': ['where the hours went', 'wo die Stunden blieben'],
  'chain.hours': ['hours', 'Stunden'],
  'chain.energy': ['PV kWh', 'PV kWh'],
  'variants.at-once': ['charged at once', 'sofort geladen'],
  'variants.surplus': ['waiting for surplus', 'auf Überschuss gewartet'],
  'variants.share-80': ['surplus share 0.8', 'Überschussanteil 0,8'],
  'variants.share-50': ['surplus share 0.5', 'Überschussanteil 0,5'],
  'variants.share-25': ['surplus share 0.25', 'Überschussanteil 0,25'],
  'variants.one-phase': ['a one-phase charger', 'ein einphasiger Lader'],
  'variants.three-phases': ['a three-phase charger', 'ein dreiphasiger Lader'],
  'variants.switchable': ['a charger that switches phases', 'ein Lader, der Phasen umschaltet'],
  'variants.six-amps': ['a car that starts at 6 A', 'ein Auto, das mit 6 A beginnt'],
  'variants.plugged-in': ['plugged in all day', 'den ganzen Tag angesteckt'],
  'variants.no-delays': ['no delays and pauses', 'keine Wartezeiten und Pausen'],
  'variants.car-first': ['the car before the home battery', 'das Auto vor dem Hausspeicher'],
  'variants.more-roof': ['2 kWp more on the roof', '2 kWp mehr auf dem Dach'],
  'variants.step-fine': ['current in steps of 0.1 A', 'Strom in Stufen von 0,1 A'],
  'variants.step-coarse': ['current in steps of 1 A', 'Strom in Stufen von 1 A'],
  'whatIf.change': ['change', 'Änderung'],
  'whatIf.asItIs': ['as it is', 'so wie es ist'],
  'whatIf.does': ['what it does', 'was sie bewirkt'],
  'account.nothing': ['nothing was charged.', 'es wurde nichts geladen.'],
  'account.roof': ['roof', 'Dach'],
  'account.signs': ['signs', 'Zeichen'],
  'account.chainHeading': ['Where the hours went', 'Wo die Stunden blieben'],
  'account.whatIfHeading': ['What would have changed it', 'Was es geändert hätte'],
  'account.dayHeading.best': ['the day with most PV in the car', 'der Tag mit der meisten PV im Auto'],
  'account.dayHeading.worst': ['the day with least PV in the car', 'der Tag mit der wenigsten PV im Auto'],
  'account.dayHeading.median': ['the middle one of all days with PV in the car', 'der mittlere aller Tage mit PV im Auto'],
  'account.dayHeading.most-stalls': ['the day with most stalls', 'der Tag mit den meisten Abbrüchen'],
  'meaning.atOnce': [
    'charging starts as soon as the car is plugged in, sun or not.',
    'Das Laden beginnt, sobald das Auto angesteckt ist, ob Sonne oder nicht.',
  ],
  'meaning.always': ['the car is plugged in throughout and never driven.', 'Das Auto ist immer angesteckt und fährt nie.'],
  'assumptions.pvMeasured': ['PV power is measured.', 'Die PV-Leistung ist gemessen.'],
  'assumptions.noWeather': ['There is no weather.', 'Es gibt kein Wetter.'],
  'assumptions.houseProfile': [
    'The load of the house is a standard profile, the mean of many homes: without spikes, surplus looks steadier than it is.',
    'Die Last des Hauses ist ein Standardprofil, das Mittel vieler Häuser: Ohne Spitzen sieht der Überschuss ruhiger aus, als er ist.',
  ],
  'assumptions.km': [
    'Kilometres on PV are the PV energy that reached the battery, divided by the consumption of the car.',
    'Kilometer aus PV sind die PV-Energie, die in der Batterie ankam, geteilt durch den Verbrauch des Autos.',
  ],
  'assumptions.notModelled': [
    'Not modelled: voltage rise and sag, reactive power, neutral current and harmonics, the measuring lag inside one step.',
    'Nicht nachgebildet: Spannungsanhebung und -abfall, Blindleistung, Neutralleiterstrom und Oberschwingungen, der Messverzug innerhalb eines Schritts.',
  ],
  'assumptions.estimates': [
    'Results are estimates for one year of weather, no promise for another.',
    'Ergebnisse sind Schätzungen für ein Wetterjahr, kein Versprechen für ein anderes.',
  ],
  'charts.pv': ['PV', 'PV'],
  'charts.house': ['house', 'Haus'],
  'charts.carFrom.pv': ['car from PV', 'Auto aus PV'],
  'charts.carFrom.battery': ['car from the home battery', 'Auto aus dem Hausspeicher'],
  'charts.carFrom.grid': ['car from the grid', 'Auto aus dem Netz'],
  'charts.from.pv': ['from PV', 'aus PV'],
  'charts.from.battery': ['from the home battery', 'aus dem Hausspeicher'],
  'charts.from.grid': ['from the grid', 'aus dem Netz'],
  'charts.power': ['power, kW', 'Leistung, kW'],
  'charts.state': ['state', 'Zustand'],
  'charts.monthAxis': [
    'month, and the kilometres that its PV energy gives (full colour)',
    'Monat, und die Kilometer, die seine PV-Energie gibt (volle Farbe)',
  ],
  'charts.energyAxis': ['energy into the car, kWh a month', 'Energie ins Auto, kWh im Monat'],
  'charts.atOnceDays': ['The same days charged at once (pale bars)', 'Dieselben Tage sofort geladen (blasse Balken)'],
  'table.month': ['month', 'Monat'],
  'table.sum': ['sum', 'Summe'],
  'table.own': ['into the car', 'ins Auto'],
  'table.beside': ['the same days charged at once', 'dieselben Tage sofort geladen'],
  'table.pv': ['PV kWh', 'PV kWh'],
  'table.grid': ['grid kWh', 'Netz kWh'],
  'table.battery': ['batt. kWh', 'Sp. kWh'],
  'table.km': ['PV km', 'PV km'],
  'table.hours': ['solar h', 'Sonne h'],
  'table.starts': ['starts', 'Starts'],
  'table.stalls': ['stalls', 'Abbr.'],
  'report.cautionsHeading': ['Before anything else', 'Vorweg'],
  'report.cautions.0': [
    'These are estimates for the weather and habits named below, no promise.',
    'Das sind Schätzungen für das unten genannte Wetter und die Gewohnheiten, kein Versprechen.',
  ],
  'report.cautions.1': [
    'Electrical work is for licensed people; local rules and those of the grid operator come first.',
    'Elektrische Arbeiten sind Sache von Fachleuten; örtliche Vorschriften und die des Netzbetreibers gehen vor.',
  ],
  'report.household': ['The household', 'Der Haushalt'],
  'report.answer': ['The answer', 'Die Antwort'],
  'report.figures.kwh': ['from the roof into the car', 'vom Dach ins Auto'],
  'report.figures.km': ['driven on it', 'damit gefahren'],
  'report.figures.hours': ['solar charging hours', 'Solarladestunden'],
  'report.months': ['Month by month', 'Monat für Monat'],
  'report.monthsChart': [
    'Energy into the car by month and source, beside the same months charged at once (pale)',
    'Energie ins Auto nach Monat und Herkunft, daneben (blass) dieselben Monate sofort geladen',
  ],
  'report.monthsCaption': ['Energy into the car, by month', 'Energie ins Auto, nach Monaten'],
  'report.atOncePv': ['PV kWh, charged at once', 'PV kWh, sofort geladen'],
  'report.atOnceGrid': ['grid kWh, charged at once', 'Netz kWh, sofort geladen'],
  'report.chain': ['Where the hours went', 'Wo die Stunden blieben'],
  'report.chainIntro': [
    'From the hours in which the roof gives power down to the solar charging hours: every minute falls into one row, and each row in italics is taken off. Hours at half PV count half.',
    'Von den Stunden, in denen das Dach liefert, bis zu den Solarladestunden: Jede Minute fällt in eine Zeile, und jede kursive Zeile wird abgezogen. Stunden mit halber PV zählen halb.',
  ],
  'report.days': ['Three days, told', 'Drei Tage, erzählt'],
  'report.daysIntro': [
    'Of all days on which the roof put anything into the car, nine in ten are better than the poor one, and one in ten is better than the good one.',
    'Von allen Tagen, an denen das Dach etwas ins Auto brachte, sind neun von zehn besser als der schlechte und einer von zehn besser als der gute.',
  ],
  'report.dayKinds.good': ['A good day', 'Ein guter Tag'],
  'report.dayKinds.usual': ['A usual day', 'Ein gewöhnlicher Tag'],
  'report.dayKinds.poor': ['A poor day', 'Ein schlechter Tag'],
  'report.hour': ['hour', 'Stunde'],
  'report.timeHead': ['time', 'Zeit'],
  'report.happened': ['what happened, and why', 'was geschah, und warum'],
  'report.whatIf': ['What would have changed it', 'Was es geändert hätte'],
  'report.assumptions': ['What this takes for granted', 'Was dabei vorausgesetzt ist'],
  'report.sources': ['Where the methods come from', 'Woher die Verfahren stammen'],
  'report.showTable': ['the numbers behind this picture', 'die Zahlen hinter diesem Bild'],
  'report.rank': ['rank', 'Rang'],
  'report.costRank': ['rank by cost, the car as full at the end', 'Rang nach Kosten, das Auto am Ende gleich voll'],
};

/** Texts in a catalogue, with where they stand. */
function textsOf(value: unknown, path = ''): [string, string][] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => textsOf(inner, path === '' ? key : `${path}.${key}`));
}

test.each([EN, DE])('names and headings, one by one: $language', (words) => {
  const column = words.language === 'en' ? 0 : 1;
  expect(Object.fromEntries(textsOf(words))).toEqual(
    Object.fromEntries(Object.entries(FIXED).map(([path, texts]) => [path, texts[column]])),
  );
});
