// The control law of design.md a second time: slow, plain, written from the text alone, with no import from the project.
// It is the independent check of the fast code, so nothing here is clever. Comments name the rule they follow;
// "Choice:" marks a place where the text left one.

export interface PlainCase {
  stepS: number;
  voltageV: number;
  buildingPhases: 1 | 3;
  mainFuseA: number;
  imbalanceLimitA: number | null;
  exportLimitW: number | null;
  metering: 'net' | 'per-phase';
  contractW: number | null;
  /** Per step: the operator's limit in force, or null. */
  dimmedToW: (number | null)[];
  pvW: number[];
  /** PV feeds these building phases evenly. */
  pvPhases: number[];
  /** Per building phase. */
  houseW: [number[], number[], number[]];
  battery: PlainBattery | null;
  control: PlainControl;
  points: PlainPoint[];
}

interface PlainBattery {
  capacityWh: number;
  maxChargeW: number;
  maxDischargeW: number;
  roundTripEfficiency: number;
  startSoc: number;
  phases: number[];
  priority: 'battery' | 'car' | { batteryUntilSoc: number };
  dischargeToCar: boolean;
}

interface PlainControl {
  strategy: 'surplus' | 'at-once';
  surplusShare: number;
  topUp: 'minimum' | 'proportional';
  smoothingS: number;
  reserveW: number;
  seesCurtailedPv: boolean;
  startDelayS: number;
  stopDelayS: number;
  switchUpDelayS: number;
  switchDownDelayS: number;
  switchPauseS: number;
  restartPauseS: number;
}

interface PlainPoint {
  charger: {
    phases: 1 | 3 | 'switchable';
    minCurrentA: number;
    maxCurrentA: number;
    currentStepA: number;
    wiring: number[];
    wiringAsBuilt: number[];
    checksPhases: boolean;
  };
  vehicle: {
    phases: 1 | 2 | 3;
    maxCurrentA: number;
    minCurrentA: [number, number, number];
    capacityWh: number;
    startSoc: number;
    targetSoc: number;
    standbyW: number;
    conversionEfficiency: number;
    startLagS: number;
    whPerKm: number;
    givesUpAfter: number | null;
  };
  believes: { phases: 1 | 2 | 3; minCurrentA: [number, number, number] };
  /** Plugged in from..to-1; km driven before; departure in s from the start of the run (Infinity: unknown). */
  stays: { from: number; to: number; km: number; departS: number }[];
  floorKm: number;
  departureKm: number;
}

interface PlainPointStep {
  state: string;
  phases: number;
  currentA: number;
  powerW: number;
  pvW: number;
  batteryW: number;
  gridW: number;
  soc: number;
}

export interface PlainStep {
  surplusW: number;
  /** Positive when charging. */
  batteryW: number;
  batterySoc: number;
  importW: number;
  exportW: number;
  curtailedW: number;
  /** Signed, import positive. */
  lineA: [number, number, number];
  points: PlainPointStep[];
}

// ---------------------------------------------------------------------------------------------- small helpers

function at<T>(list: readonly T[], index: number): T {
  const value = list[index];
  if (value === undefined) throw new Error(`plain-law: nothing at index ${index}`);
  return value;
}

function sum(values: number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** "F ≥ T means F ≥ T − 1e-6 W, and F < T is exactly its opposite." */
function reaches(powerW: number, thresholdW: number): boolean {
  return powerW >= thresholdW - 1e-6;
}

/** Delays are whole steps: N(D) = floor(D/Δt + 1/2). */
function wholeSteps(c: PlainCase, delayS: number): number {
  return Math.floor(delayS / c.stepS + 1 / 2);
}

function stepHours(c: PlainCase): number {
  return c.stepS / 3600;
}

/** Choice: rounding down forgives a billionth of a current step, so that 0.3 A in steps of 0.1 A is three steps. */
function roundedDown(currentA: number, currentStepA: number): number {
  return Math.floor(currentA / currentStepA + 1e-9) * currentStepA;
}

/** What a power spread evenly over some phases puts on one building phase. */
function partOnPhase(powerW: number, phases: number[], phase: number): number {
  return (powerW * phases.filter((used) => used === phase).length) / phases.length;
}

function buildingPhases(c: PlainCase): number[] {
  return c.buildingPhases === 1 ? [1] : [1, 2, 3];
}

function pvOnPhase(c: PlainCase, k: number, phase: number): number {
  return partOnPhase(at(c.pvW, k), c.pvPhases, phase);
}

function houseOnPhase(c: PlainCase, k: number, phase: number): number {
  return at(at(c.houseW, phase - 1), k);
}

function houseOnAllPhases(c: PlainCase, k: number): number {
  return sum(buildingPhases(c).map((phase) => houseOnPhase(c, k, phase)));
}

// ---------------------------------------------------------------------------------------------- phases and thresholds

/** Imin(n): the largest of 6 A, the charger's and the (believed) vehicle's minimum on n phases. */
function leastCurrentA(point: PlainPoint, n: number): number {
  return Math.max(6, point.charger.minCurrentA, at(point.believes.minCurrentA, n - 1));
}

/** The highest current of charger and vehicle, rounded down to currentStepA. */
function highestCurrentA(point: PlainPoint): number {
  return roundedDown(Math.min(point.charger.maxCurrentA, point.vehicle.maxCurrentA), point.charger.currentStepA);
}

/** Every n that charger and (believed) vehicle can do together. */
function possiblePhases(point: PlainPoint): number[] {
  const contactor = point.charger.phases === 'switchable' ? [1, 3] : [point.charger.phases];
  const result = contactor
    .map((live) => Math.min(live, point.believes.phases))
    .filter((n) => highestCurrentA(point) >= leastCurrentA(point, n));
  if (result.length === 0) throw new Error('plain-law: charger and vehicle cannot charge together');
  return result;
}

function leastPhases(point: PlainPoint): number {
  return Math.min(...possiblePhases(point));
}

function mostPhases(point: PlainPoint): number {
  return Math.max(...possiblePhases(point));
}

/** `live` for a believed n: the contactor's, one live phase where one is enough. */
function livePhases(point: PlainPoint, n: number): number {
  if (point.charger.phases !== 'switchable') return point.charger.phases;
  return n === 1 ? 1 : 3;
}

/** The n on which the car really draws: min(live, vehicle.phases) with its own phases. */
function ownPhases(point: PlainPoint, n: number): number {
  return Math.min(livePhases(point, n), point.vehicle.phases);
}

/** Rule 3: T(n). */
function thresholdW(c: PlainCase, point: PlainPoint, n: number): number {
  const minimumW = n * c.voltageV * leastCurrentA(point, n);
  const neverScaled = c.control.topUp === 'minimum' && n === mostPhases(point) && n > leastPhases(point);
  return neverScaled ? minimumW : c.control.surplusShare * minimumW;
}

// ---------------------------------------------------------------------------------------------- rule 1: measure

/** The home battery's room on the AC side in this step, up to some state of charge. */
function batteryRoomW(c: PlainCase, battery: PlainBattery, storedWh: number, untilSoc: number): number {
  const oneWay = Math.sqrt(battery.roundTripEfficiency);
  const missingWh = Math.max(0, untilSoc * battery.capacityWh - storedWh);
  return missingWh / oneWay / stepHours(c);
}

/** What the home battery can give on the AC side in this step. */
function batteryAvailableW(c: PlainCase, battery: PlainBattery, storedWh: number): number {
  const oneWay = Math.sqrt(battery.roundTripEfficiency);
  return Math.min(battery.maxDischargeW, (storedWh * oneWay) / stepHours(c));
}

/** Rule 1: batteryFirst. */
function batteryFirstW(c: PlainCase, k: number, storedWh: number): number {
  const battery = c.battery;
  if (battery === null || battery.priority === 'car') return 0;
  const untilSoc = battery.priority === 'battery' ? 1 : battery.priority.batteryUntilSoc;
  const overW = Math.max(0, at(c.pvW, k) - houseOnAllPhases(c, k));
  return Math.min(battery.maxChargeW, batteryRoomW(c, battery, storedWh, untilSoc), overW);
}

/** What rule 1 needs from the step before. */
interface StepBefore {
  carsW: number;
  batteryBeyondFirstW: number;
}

/** Rule 1, net metering: what the controller can see of the surplus. */
function seenSurplusW(c: PlainCase, surplusW: number, before: StepBefore): number {
  if (c.exportLimitW === null || c.control.seesCurtailedPv) return surplusW;
  return Math.min(surplusW, c.exportLimitW + before.carsW + before.batteryBeyondFirstW);
}

/** Rule 1: f. Before the first step f is seen_0. */
function smoothed(c: PlainCase, before: number | null, seenW: number): number {
  if (before === null || c.control.smoothingS === 0) return seenW;
  return before + (1 - Math.exp(-c.stepS / c.control.smoothingS)) * (seenW - before);
}

/** What an earlier charge point draws in this step: real mean power and current, on the phases of its `wiring`. */
interface EarlierDraw {
  powerW: number;
  currentA: number;
  phases: number[];
}

/** What the house measures in a step, before any car: one f in net metering, one per building phase otherwise. */
interface Measured {
  surplusW: number;
  batteryFirstW: number;
  f: number[];
}

function measure(c: PlainCase, k: number, storedWh: number, fBefore: number[] | null, before: StepBefore): Measured {
  const firstW = batteryFirstW(c, k, storedWh);
  if (c.metering === 'net') {
    const surplusW = at(c.pvW, k) - houseOnAllPhases(c, k) - firstW;
    const f = smoothed(c, fBefore === null ? null : at(fBefore, 0), seenSurplusW(c, surplusW, before));
    return { surplusW, batteryFirstW: firstW, f: [f] };
  }
  // Per-phase metering: seesCurtailedPv is taken as true, so seen is the surplus of the phase.
  const surplusOfPhases = buildingPhases(c).map((phase) => {
    const batteryPartW = c.battery === null ? 0 : partOnPhase(firstW, c.battery.phases, phase);
    return pvOnPhase(c, k, phase) - houseOnPhase(c, k, phase) - batteryPartW;
  });
  const f = surplusOfPhases.map((surplusW, i) => smoothed(c, fBefore === null ? null : at(fBefore, i), surplusW));
  return { surplusW: sum(surplusOfPhases), batteryFirstW: firstW, f };
}

/** Rule 1: F, for n phases of this point, less what the earlier charge points draw. */
function surplusForW(c: PlainCase, point: PlainPoint, measured: Measured, earlier: EarlierDraw[], n: number): number {
  if (c.metering === 'net') {
    const overReserveW = Math.max(0, at(measured.f, 0) - c.control.reserveW);
    return Math.max(0, overReserveW - sum(earlier.map((draw) => draw.powerW)));
  }
  // F for n phases is n times the least of theirs; the reserve in thirds. Choice: in thirds on one phase too.
  const ofPhases = point.charger.wiring.slice(0, n).map((phase) => {
    const drawnW = sum(earlier.filter((draw) => draw.phases.includes(phase)).map((draw) => draw.currentA * c.voltageV));
    return Math.max(0, at(measured.f, phase - 1) - c.control.reserveW / 3 - drawnW);
  });
  return n * Math.min(...ofPhases);
}

// ---------------------------------------------------------------------------------------------- rule 2: ceiling

type LimitName = 'held-fuse' | 'held-imbalance' | 'held-contract' | 'held-dimmed';

interface Ceiling {
  currentA: number;
  /** The limit that names a hold. */
  binds: LimitName;
}

function earlierCurrentA(earlier: EarlierDraw[], phase: number): number {
  return sum(earlier.filter((draw) => draw.phases.includes(phase)).map((draw) => draw.currentA));
}

function fuseHeadroomA(c: PlainCase, k: number, used: number[], earlier: EarlierDraw[]): number {
  const onPhases = used.map((phase) => {
    const houseA = Math.max(0, houseOnPhase(c, k, phase) - pvOnPhase(c, k, phase)) / c.voltageV;
    return c.mainFuseA - houseA - earlierCurrentA(earlier, phase);
  });
  return Math.min(...onPhases);
}

function imbalanceHeadroomA(c: PlainCase, used: number[], earlier: EarlierDraw[]): number {
  const unused = buildingPhases(c).filter((phase) => !used.includes(phase));
  if (c.imbalanceLimitA === null || c.buildingPhases === 1 || unused.length === 0) return Infinity;
  // Adding I to the used phases must keep largest less smallest within the limit. Choice: only the part of that
  // condition that bounds I from above, (largest used + I) − smallest unused ≤ limit, is a headroom.
  const largestUsedA = Math.max(...used.map((phase) => earlierCurrentA(earlier, phase)));
  const smallestUnusedA = Math.min(...unused.map((phase) => earlierCurrentA(earlier, phase)));
  return c.imbalanceLimitA + smallestUnusedA - largestUsedA;
}

/** Rule 2: Imax(n) and the limit that binds. */
function ceiling(c: PlainCase, k: number, point: PlainPoint, earlier: EarlierDraw[], n: number): Ceiling {
  const used = point.charger.wiring.slice(0, n);
  const earlierW = sum(earlier.map((draw) => draw.powerW));
  const houseLessPvW = Math.max(0, houseOnAllPhases(c, k) - at(c.pvW, k));
  const toW = at(c.dimmedToW, k);
  const limits: { name: LimitName; currentA: number }[] = [
    { name: 'held-fuse', currentA: fuseHeadroomA(c, k, used, earlier) },
    { name: 'held-imbalance', currentA: imbalanceHeadroomA(c, used, earlier) },
    {
      name: 'held-contract',
      currentA: c.contractW === null ? Infinity : (c.contractW - houseLessPvW - earlierW) / (n * c.voltageV),
    },
    { name: 'held-dimmed', currentA: toW === null ? Infinity : (toW - earlierW) / (n * c.voltageV) },
  ];
  // "That order when equal". Choice: compared before rounding down, equal within 1e-9 A.
  let least = at(limits, 0);
  for (const limit of limits) {
    if (limit.currentA < least.currentA - 1e-9) least = limit;
  }
  const leastA = Math.min(point.charger.maxCurrentA, point.vehicle.maxCurrentA, least.currentA);
  return { currentA: roundedDown(leastA, point.charger.currentStepA), binds: least.name };
}

// ---------------------------------------------------------------------------------------------- a point's memory

type Doing = 'away' | 'waiting' | 'waking' | 'charging' | 'switching';

/** For how many steps in a row, this one included, each condition has been true since the doing began. */
interface Counts {
  startOnLeast: number;
  startOnMost: number;
  stop: number;
  switchUp: number;
  switchDown: number;
}

interface Memory {
  storedWh: number;
  stay: number;
  doing: Doing;
  /** Believed n while waking or charging; the n that a pause leads to. */
  n: number;
  counts: Counts;
  restLeft: number;
  lagLeft: number;
  pauseLeft: number;
  /** Rule 11: the energy that ends it, or null while it does not last. */
  mustUntilWh: number | null;
  interruptions: number;
  gaveUp: boolean;
  flowedBefore: boolean;
  drewOnForeignPhase: boolean;
}

function freshCounts(): Counts {
  return { startOnLeast: 0, startOnMost: 0, stop: 0, switchUp: 0, switchDown: 0 };
}

/** "Unplugging clears everything, rest included." */
function cleared(storedWh: number, stay: number): Memory {
  return {
    storedWh,
    stay,
    doing: stay === -1 ? 'away' : 'waiting',
    n: 0,
    counts: freshCounts(),
    restLeft: 0,
    lagLeft: 0,
    pauseLeft: 0,
    mustUntilWh: null,
    interruptions: 0,
    gaveUp: false,
    flowedBefore: false,
    drewOnForeignPhase: false,
  };
}

function counted(before: number, isTrue: boolean): number {
  return isTrue ? before + 1 : 0;
}

/** "c for D": true in this step and in each of the N(D) steps just before it. */
function lasted(c: PlainCase, count: number, delayS: number): boolean {
  return count >= wholeSteps(c, delayS) + 1;
}

// ---------------------------------------------------------------------------------------------- the rules of one step

/** What one point's rules look at in one step. */
interface View {
  c: PlainCase;
  point: PlainPoint;
  nLeast: number;
  nMost: number;
  F: (n: number) => number;
  T: (n: number) => number;
  Imin: (n: number) => number;
  Imax: (n: number) => Ceiling;
  /** The name of the step while rule 11 lasts (or `at-once`), else null. */
  urgent: 'must' | 'at-once' | null;
}

/** The outcome of the rules: the step's name and the current offered (0: nothing is drawn). */
interface Order {
  name: string;
  offeredA: number;
}

function nothing(name: string): Order {
  return { name, offeredA: 0 };
}

function allowed(v: View, n: number): boolean {
  return v.Imax(n).currentA >= v.Imin(n) - 1e-9;
}

/** Rules 4 to 11, walked in order within the step. */
function obey(v: View, m: Memory): Order {
  if (m.doing === 'waiting') {
    const stillWaiting = v.urgent === null ? rule4Waiting(v, m) : rule11Waiting(v, m);
    if (stillWaiting !== null) return stillWaiting;
  }
  if (m.doing === 'switching') {
    if (m.pauseLeft > 0) {
      m.pauseLeft -= 1;
      return nothing('switching');
    }
    beginWaking(v, m, m.n); // a pause that is over goes on to rule 5 in this step
  }
  if (m.doing === 'waking') {
    if (m.lagLeft > 0) {
      m.lagLeft -= 1;
      return nothing('waking'); // rule 5
    }
    m.doing = 'charging';
    m.counts = freshCounts();
  }
  return charging(v, m);
}

function charging(v: View, m: Memory): Order {
  if (m.drewOnForeignPhase) return checkedPhasesBreakOff(v, m);
  if (!allowed(v, m.n)) return rule6Hold(v, m);
  if (v.urgent !== null) {
    // Rule 11: no rules 7 to 9, whose counts start afresh when it ends.
    m.counts = freshCounts();
    // "A change to more phases pauses at once."
    if (m.n < v.nMost && allowed(v, v.nMost)) return switchTo(v, m, v.nMost);
    return { name: v.urgent, offeredA: v.Imax(m.n).currentA };
  }
  countWhileCharging(v, m);
  return rule7Stall(v, m) ?? rule8SwitchUp(v, m) ?? rule9SwitchDown(v, m) ?? rule10Current(v, m);
}

/** The start conditions of rule 4 ripen in every step of waiting, the first (a stall or hold) included. */
function countWhileWaiting(v: View, m: Memory): void {
  m.counts.startOnLeast = counted(m.counts.startOnLeast, reaches(v.F(v.nLeast), v.T(v.nLeast)));
  m.counts.startOnMost = counted(m.counts.startOnMost, reaches(v.F(v.nMost), v.T(v.nMost)));
}

function countWhileCharging(v: View, m: Memory): void {
  m.counts.stop = counted(m.counts.stop, !reaches(v.F(v.nLeast), v.T(v.nLeast)));
  m.counts.switchUp = counted(m.counts.switchUp, reaches(v.F(v.nMost), v.T(v.nMost)));
  m.counts.switchDown = counted(m.counts.switchDown, !reaches(v.F(v.nMost), v.T(v.nMost)));
}

/** Rule 4. Null: charging starts in this step. */
function rule4Waiting(v: View, m: Memory): Order | null {
  const control = v.c.control;
  countWhileWaiting(v, m);
  if (m.restLeft > 0) {
    m.restLeft -= 1;
    return nothing('resting'); // whatever F is
  }
  if (!lasted(v.c, m.counts.startOnLeast, control.startDelayS)) {
    return nothing(reaches(v.F(v.nLeast), v.T(v.nLeast)) ? 'proving' : 'short');
  }
  if (lasted(v.c, m.counts.startOnMost, control.startDelayS) && allowed(v, v.nMost)) {
    beginWaking(v, m, v.nMost);
    return null;
  }
  if (allowed(v, v.nLeast)) {
    beginWaking(v, m, v.nLeast);
    return null;
  }
  return nothing(v.Imax(v.nLeast).binds); // only the current is missing: a hold, and the count goes on; no rest
}

/** Rule 11 while waiting: no start delay, no rest. Null: charging starts in this step. */
function rule11Waiting(v: View, m: Memory): Order | null {
  countWhileWaiting(v, m);
  if (m.restLeft > 0) m.restLeft -= 1;
  const n = allowed(v, v.nMost) ? v.nMost : v.nLeast;
  if (!allowed(v, n)) return nothing(v.Imax(n).binds);
  beginWaking(v, m, n);
  return null;
}

/** Rule 5: the first steps after a start or on the new phases. */
function beginWaking(v: View, m: Memory, n: number): void {
  m.doing = 'waking';
  m.n = n;
  m.counts = freshCounts();
  m.lagLeft = wholeSteps(v.c, v.point.vehicle.startLagS);
}

/** This step is the first of a new waiting: its counts begin in it, and it is the first step of the rest. */
function beginWaitingWithRest(v: View, m: Memory): void {
  m.doing = 'waiting';
  m.n = 0;
  m.counts = freshCounts();
  countWhileWaiting(v, m);
  m.restLeft = Math.max(0, wholeSteps(v.c, v.c.control.restartPauseS) - 1);
}

function restOrShort(v: View): string {
  return wholeSteps(v.c, v.c.control.restartPauseS) === 0 ? 'short' : 'resting';
}

/** A charger that checks phases breaks off after a step with current on a phase it does not know. */
function checkedPhasesBreakOff(v: View, m: Memory): Order {
  beginWaitingWithRest(v, m);
  return nothing(restOrShort(v));
}

function rule6Hold(v: View, m: Memory): Order {
  const name = v.Imax(m.n).binds;
  beginWaitingWithRest(v, m);
  return nothing(name);
}

function rule7Stall(v: View, m: Memory): Order | null {
  if (!lasted(v.c, m.counts.stop, v.c.control.stopDelayS)) return null;
  beginWaitingWithRest(v, m);
  return nothing(restOrShort(v));
}

function rule8SwitchUp(v: View, m: Memory): Order | null {
  if (m.n !== v.nLeast || v.nLeast === v.nMost) return null;
  if (!lasted(v.c, m.counts.switchUp, v.c.control.switchUpDelayS)) return null;
  if (!allowed(v, v.nMost)) return null;
  return switchTo(v, m, v.nMost);
}

function rule9SwitchDown(v: View, m: Memory): Order | null {
  if (m.n !== v.nMost || v.nLeast === v.nMost) return null;
  if (!lasted(v.c, m.counts.switchDown, v.c.control.switchDownDelayS)) return null;
  if (!reaches(v.F(v.nLeast), v.T(v.nLeast)) || !allowed(v, v.nLeast)) return null;
  return switchTo(v, m, v.nLeast);
}

/** Nothing is drawn for max(1, N(switchPauseS)) steps, this one the first. */
function switchTo(v: View, m: Memory, n: number): Order {
  m.doing = 'switching';
  m.n = n;
  m.counts = freshCounts();
  m.pauseLeft = Math.max(1, wholeSteps(v.c, v.c.control.switchPauseS)) - 1;
  return nothing('switching');
}

function rule10Current(v: View, m: Memory): Order {
  const { topUp, surplusShare } = v.c.control;
  const wattsPerAmpere = m.n * v.c.voltageV;
  const surplusW = v.F(m.n);
  const minA = v.Imin(m.n);
  const maxA = v.Imax(m.n).currentA;
  let aimW: number;
  if (topUp === 'minimum') aimW = Math.max(surplusW, wattsPerAmpere * minA);
  else aimW = surplusShare === 0 ? Infinity : surplusW / surplusShare;
  const roundedA = aimW === Infinity ? Infinity : roundedDown(aimW / wattsPerAmpere, v.point.charger.currentStepA);
  const currentA = Math.min(Math.max(roundedA, minA), maxA);
  const powerW = wattsPerAmpere * currentA;
  // Choice: "exceeds" forgives the same 1e-6 W as F ≥ T does.
  const aimExceedsCeiling = aimW > wattsPerAmpere * maxA + 1e-6;
  const covered = reaches(surplusW, powerW); // P ≤ F
  let name: string;
  if (!reaches(surplusW, v.T(m.n))) name = 'bridging';
  else if (aimExceedsCeiling && covered) name = 'ceiling';
  else if (!covered) name = 'topped';
  else name = 'surplus';
  return { name, offeredA: currentA };
}

// ---------------------------------------------------------------------------------------------- rule 11: when it lasts

/** DC power = max(0, Pac − standbyW) · conversionEfficiency. */
function dcW(point: PlainPoint, acW: number): number {
  return Math.max(0, acW - point.vehicle.standbyW) * point.vehicle.conversionEfficiency;
}

function targetWh(point: PlainPoint): number {
  return point.vehicle.targetSoc * point.vehicle.capacityWh;
}

/** The energy for some km, never above targetSoc. */
function energyForKmWh(point: PlainPoint, km: number): number {
  return Math.min(km * point.vehicle.whPerKm, targetWh(point));
}

/** The time rule: is the departure so near that charging must begin? */
function departurePresses(c: PlainCase, k: number, point: PlainPoint, m: Memory): boolean {
  const missingWh = energyForKmWh(point, point.departureKm) - m.storedWh;
  const departS = at(point.stays, m.stay).departS;
  if (missingWh <= 0 || departS === Infinity) return false;
  const acW = mostPhases(point) * c.voltageV * highestCurrentA(point);
  const neededS = (missingWh / dcW(point, acW)) * 3600;
  // Choice: the factor 1.1 is on the charging time only; lag and pause are added to it.
  return departS - k * c.stepS <= 1.1 * neededS + point.vehicle.startLagS + c.control.switchPauseS;
}

/** Rule 11 begins, takes in a higher target, or ends, at the start of the step. */
function decideMust(c: PlainCase, k: number, point: PlainPoint, m: Memory): void {
  const floorWh = energyForKmWh(point, point.floorKm);
  const triggered: number[] = [];
  if (m.storedWh < floorWh) triggered.push(floorWh);
  if (departurePresses(c, k, point, m)) triggered.push(energyForKmWh(point, point.departureKm));
  if (m.mustUntilWh !== null) triggered.push(m.mustUntilWh);
  if (triggered.length === 0) return;
  const untilWh = Math.max(...triggered);
  m.mustUntilWh = m.storedWh >= untilWh ? null : untilWh;
}

// ---------------------------------------------------------------------------------------------- one point in one step

/** Stays: the trip's energy is taken off on arrival; a trip that the battery cannot cover leaves 0. */
function arriveOrLeave(k: number, point: PlainPoint, before: Memory): Memory {
  let storedWh = before.storedWh;
  point.stays.forEach((stay) => {
    if (stay.from === k) storedWh = Math.max(0, storedWh - stay.km * point.vehicle.whPerKm);
  });
  const stay = point.stays.findIndex(({ from, to }) => from <= k && k < to);
  if (stay !== before.stay) return cleared(storedWh, stay); // a departure that meets an arrival clears everything too
  return { ...before, storedWh };
}

/** Rule 12, at the start of a step. */
function isFull(point: PlainPoint, m: Memory): boolean {
  return m.storedWh >= targetWh(point) - 1e-9;
}

interface Draw {
  name: string;
  /** The car's own n while power flows, else 0. */
  phases: number;
  /** Means over the step. */
  currentA: number;
  powerW: number;
  /** What the step adds to the car's battery. */
  gainWh: number;
}

function noDraw(name: string): Draw {
  return { name, phases: 0, currentA: 0, powerW: 0, gainWh: 0 };
}

/** What the car makes of the offer: its own n, its own minimum, and only the part of the step that it needs. */
function drawOf(c: PlainCase, point: PlainPoint, m: Memory, order: Order): Draw {
  if (order.offeredA === 0) return noDraw(order.name);
  const phases = ownPhases(point, m.n);
  // Choice: a refusing car's current is reported as 0, as its phases are.
  if (order.offeredA < at(point.vehicle.minCurrentA, phases - 1) - 1e-9) return noDraw('refusing');
  const currentA = Math.min(order.offeredA, point.vehicle.maxCurrentA);
  const powerW = phases * c.voltageV * currentA;
  const wholeStepWh = dcW(point, powerW) * stepHours(c);
  const missingWh = targetWh(point) - m.storedWh;
  const part = wholeStepWh > missingWh ? missingWh / wholeStepWh : 1; // rule 12
  return {
    name: order.name,
    phases,
    currentA: currentA * part,
    powerW: powerW * part,
    gainWh: Math.min(wholeStepWh, missingWh),
  };
}

/** All rules for one plugged-in or absent point; changes its memory. */
function stepOfPoint(c: PlainCase, k: number, point: PlainPoint, m: Memory, measured: Measured, earlier: EarlierDraw[]): Draw {
  if (m.doing === 'away') return noDraw('away');
  if (isFull(point, m)) return noDraw('full'); // whatever else
  if (m.gaveUp) return noDraw('gave-up');

  decideMust(c, k, point, m);
  let urgent: View['urgent'] = m.mustUntilWh === null ? null : 'must';
  if (c.control.strategy === 'at-once') urgent = 'at-once';
  const view: View = {
    c,
    point,
    nLeast: leastPhases(point),
    nMost: mostPhases(point),
    F: (n) => surplusForW(c, point, measured, earlier, n),
    T: (n) => thresholdW(c, point, n),
    Imin: (n) => leastCurrentA(point, n),
    Imax: (n) => ceiling(c, k, point, earlier, n),
    urgent,
  };
  const order = obey(view, m);
  const draw = drawOf(c, point, m, order);

  rememberForeignPhase(point, m, draw);
  countInterruption(point, m, draw);
  m.storedWh += draw.gainWh;
  return draw;
}

/** Did current flow on a building phase that is not among wiring[0 … n−1] of the believed n? */
function rememberForeignPhase(point: PlainPoint, m: Memory, draw: Draw): void {
  const expected = point.charger.wiring.slice(0, m.n);
  const real = point.charger.wiringAsBuilt.slice(0, draw.phases);
  m.drewOnForeignPhase = point.charger.checksPhases && real.some((phase) => !expected.includes(phase));
}

/** givesUpAfter: power that flowed in the step before has ended, the car being plugged in and not full. */
function countInterruption(point: PlainPoint, m: Memory, draw: Draw): void {
  const flows = draw.powerW > 0;
  if (m.flowedBefore && !flows) {
    m.interruptions += 1;
    const limit = point.vehicle.givesUpAfter;
    if (limit !== null && m.interruptions >= limit) {
      m.gaveUp = true; // named so from the next step on
      m.doing = 'waiting';
      m.counts = freshCounts();
    }
  }
  m.flowedBefore = flows;
}

// ---------------------------------------------------------------------------------------------- energy in the step

interface Split {
  pvW: number;
  batteryW: number;
  gridW: number;
}

interface Ledger {
  chargeW: number;
  dischargeW: number;
  importW: number;
  exportW: number;
  curtailedW: number;
  cars: Split[];
}

/** Net metering: PV serves the house, the cars in list order, the battery, then export; the rest is curtailed. */
function netLedger(c: PlainCase, k: number, storedWh: number, draws: Draw[]): Ledger {
  const houseW = houseOnAllPhases(c, k);
  const pvW = at(c.pvW, k);
  let pvLeftW = Math.max(0, pvW - houseW);
  const houseDeficitW = Math.max(0, houseW - pvW);

  const pvIntoCars = draws.map((draw) => {
    const partW = Math.min(draw.powerW, pvLeftW);
    pvLeftW -= partW;
    return partW;
  });

  const room = c.battery === null ? 0 : batteryRoomW(c, c.battery, storedWh, 1);
  const chargeW = c.battery === null ? 0 : Math.min(pvLeftW, c.battery.maxChargeW, room);
  pvLeftW -= chargeW;
  const exportW = Math.min(pvLeftW, c.exportLimitW ?? Infinity);
  const curtailedW = pvLeftW - exportW;

  // The battery covers the house deficit, and the cars' only if dischargeToCar.
  let batteryLeftW = c.battery === null ? 0 : batteryAvailableW(c, c.battery, storedWh);
  const batteryIntoHouseW = Math.min(houseDeficitW, batteryLeftW);
  batteryLeftW -= batteryIntoHouseW;
  const batteryIntoCars = draws.map((draw, i) => {
    if (c.battery === null || !c.battery.dischargeToCar) return 0;
    const partW = Math.min(draw.powerW - at(pvIntoCars, i), batteryLeftW);
    batteryLeftW -= partW;
    return partW;
  });

  const cars = draws.map((draw, i) => {
    const fromPvW = at(pvIntoCars, i);
    const fromBatteryW = at(batteryIntoCars, i);
    return { pvW: fromPvW, batteryW: fromBatteryW, gridW: draw.powerW - fromPvW - fromBatteryW };
  });
  return {
    chargeW,
    dischargeW: batteryIntoHouseW + sum(batteryIntoCars),
    importW: houseDeficitW - batteryIntoHouseW + sum(cars.map((car) => car.gridW)),
    exportW,
    curtailedW,
    cars,
  };
}

/** A car's real power on a building phase: own n, conductors as built. */
function carOnPhase(point: PlainPoint, draw: Draw, phase: number): number {
  if (draw.phases === 0) return 0;
  return partOnPhase(draw.powerW, point.charger.wiringAsBuilt.slice(0, draw.phases), phase);
}

/** Per-phase metering: the battery follows the sum; import, export and the cars' parts are reckoned phase by phase. */
function perPhaseLedger(c: PlainCase, k: number, storedWh: number, draws: Draw[]): Ledger {
  const phases = buildingPhases(c);
  const battery = c.battery;
  const pvW = at(c.pvW, k);
  const houseW = houseOnAllPhases(c, k);
  const carsW = sum(draws.map((draw) => draw.powerW));
  const overW = pvW - houseW - carsW;

  let chargeW = 0;
  let dischargeW = 0;
  if (battery !== null && overW > 0) {
    chargeW = Math.min(overW, battery.maxChargeW, batteryRoomW(c, battery, storedWh, 1));
  }
  if (battery !== null && overW < 0) {
    const houseNeedW = Math.max(0, houseW - pvW);
    const needW = battery.dischargeToCar ? -overW : Math.min(houseNeedW, -overW);
    dischargeW = Math.min(needW, batteryAvailableW(c, battery, storedWh));
  }

  let importW = 0;
  let wouldExportW = 0;
  const cars: Split[] = draws.map(() => ({ pvW: 0, batteryW: 0, gridW: 0 }));
  for (const phase of phases) {
    const pvOnW = pvOnPhase(c, k, phase);
    const houseOnW = houseOnPhase(c, k, phase);
    const carsOnW = draws.map((draw, i) => carOnPhase(at(c.points, i), draw, phase));
    const chargeOnW = battery === null ? 0 : partOnPhase(chargeW, battery.phases, phase);
    const dischargeOnW = battery === null ? 0 : partOnPhase(dischargeW, battery.phases, phase);

    const gridOnW = houseOnW + sum(carsOnW) + chargeOnW - dischargeOnW - pvOnW;
    importW += Math.max(0, gridOnW);
    wouldExportW += Math.max(0, -gridOnW);

    let pvLeftW = Math.max(0, pvOnW - houseOnW);
    const houseDeficitW = Math.max(0, houseOnW - pvOnW);
    let batteryLeftW = battery?.dischargeToCar ? Math.max(0, dischargeOnW - houseDeficitW) : 0;
    cars.forEach((car, i) => {
      const carOnW = at(carsOnW, i);
      const fromPvW = Math.min(carOnW, pvLeftW);
      pvLeftW -= fromPvW;
      const fromBatteryW = Math.min(carOnW - fromPvW, batteryLeftW);
      batteryLeftW -= fromBatteryW;
      car.pvW += fromPvW;
      car.batteryW += fromBatteryW;
      car.gridW += carOnW - fromPvW - fromBatteryW;
    });
  }
  const exportW = Math.min(wouldExportW, c.exportLimitW ?? Infinity);
  return { chargeW, dischargeW, importW, exportW, curtailedW: wouldExportW - exportW, cars };
}

/** Signed line currents at the meter. Choice: what is curtailed is missing evenly on the PV's phases. */
function lineCurrents(c: PlainCase, k: number, ledger: Ledger, draws: Draw[]): [number, number, number] {
  const onPhase = (phase: number): number => {
    if (!buildingPhases(c).includes(phase)) return 0;
    const houseW = houseOnPhase(c, k, phase);
    const carsW = sum(draws.map((draw, i) => carOnPhase(at(c.points, i), draw, phase)));
    const batteryW = c.battery === null ? 0 : partOnPhase(ledger.chargeW - ledger.dischargeW, c.battery.phases, phase);
    const pvW = pvOnPhase(c, k, phase) - partOnPhase(ledger.curtailedW, c.pvPhases, phase);
    return (houseW + carsW + batteryW - pvW) / c.voltageV;
  };
  return [onPhase(1), onPhase(2), onPhase(3)];
}

/** Round-trip efficiency is its square root each way; power is AC. */
function batteryAfterWh(c: PlainCase, storedWh: number, ledger: Ledger): number {
  if (c.battery === null) return 0;
  const oneWay = Math.sqrt(c.battery.roundTripEfficiency);
  const afterWh = storedWh + (ledger.chargeW * oneWay - ledger.dischargeW / oneWay) * stepHours(c);
  return Math.min(c.battery.capacityWh, Math.max(0, afterWh));
}

// ---------------------------------------------------------------------------------------------- the run

export function plainRun(c: PlainCase): PlainStep[] {
  const steps: PlainStep[] = [];
  let memories = c.points.map((point) => cleared(point.vehicle.startSoc * point.vehicle.capacityWh, -1));
  let batteryWh = c.battery === null ? 0 : c.battery.startSoc * c.battery.capacityWh;
  let f: number[] | null = null;
  let before: StepBefore = { carsW: 0, batteryBeyondFirstW: 0 };

  for (let k = 0; k < c.pvW.length; k += 1) {
    memories = memories.map((memory, i) => arriveOrLeave(k, at(c.points, i), memory));
    const measured = measure(c, k, batteryWh, f, before);
    f = measured.f;

    const earlier: EarlierDraw[] = [];
    const draws: Draw[] = [];
    c.points.forEach((point, i) => {
      const draw = stepOfPoint(c, k, point, at(memories, i), measured, earlier);
      draws.push(draw);
      // The law steers by `wiring`.
      const phases = point.charger.wiring.slice(0, draw.phases);
      earlier.push({ powerW: draw.powerW, currentA: draw.currentA, phases });
    });

    const reckon = c.metering === 'net' ? netLedger : perPhaseLedger;
    const ledger = reckon(c, k, batteryWh, draws);
    batteryWh = batteryAfterWh(c, batteryWh, ledger);
    before = {
      carsW: sum(draws.map((draw) => draw.powerW)),
      // Choice: beyond the batteryFirst of that same step.
      batteryBeyondFirstW: Math.max(0, ledger.chargeW - measured.batteryFirstW),
    };

    steps.push({
      surplusW: measured.surplusW,
      batteryW: ledger.chargeW - ledger.dischargeW,
      batterySoc: c.battery === null ? 0 : batteryWh / c.battery.capacityWh,
      importW: ledger.importW,
      exportW: ledger.exportW,
      curtailedW: ledger.curtailedW,
      lineA: lineCurrents(c, k, ledger, draws),
      points: draws.map((draw, i) => ({
        state: draw.name,
        phases: draw.phases,
        currentA: draw.currentA,
        powerW: draw.powerW,
        ...at(ledger.cars, i),
        soc: at(memories, i).storedWh / at(c.points, i).vehicle.capacityWh,
      })),
    });
  }
  return steps;
}
