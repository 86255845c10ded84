import { possiblePhases } from '../charging/index.ts';
import type { ByPhases, ChargePoint, Charger, Scenario } from '../scenario/index.ts';
import type { Plan } from '../simulate/index.ts';
import { at } from './available.ts';

/** Everything that a household is tried with. Charged at once comes first: it is what everyone compares with. */
export const VARIANTS = [
  'at-once',
  'surplus',
  'share-80',
  'share-50',
  'share-25',
  'one-phase',
  'three-phases',
  'switchable',
  'six-amps',
  'plugged-in',
  'no-delays',
  'car-first',
  'more-roof',
  'step-fine',
  'step-coarse',
] as const;
/** One of them. */
export type VariantName = (typeof VARIANTS)[number];

/** A household with one thing changed. Weather and house stay as they are; PV is the same times `pvFactor`. */
export interface ChangedHousehold {
  readonly name: VariantName;
  readonly scenario: Scenario;
  readonly pvFactor: number;
  /** What the change does beyond the scenario: to the stays. */
  readonly onPlan: (plan: Plan) => Plan;
}

/** By how much the roof grows in `more-roof`, W. */
export const MORE_ROOF_W = 2000;

/** All variants that change anything in a household, in the order above. */
export const variantsOf = (scenario: Scenario): ChangedHousehold[] =>
  VARIANTS.map((name) => variantOf(name, scenario)).filter((variant) => variant !== null);

/** One variant, or null where it changes nothing or can not be. */
export function variantOf(name: VariantName, scenario: Scenario): ChangedHousehold | null {
  const whole = (changed: Scenario | null): ChangedHousehold | null =>
    changed === null || !canCharge(changed) ? null : { name, scenario: changed, pvFactor: 1, onPlan: (plan) => plan };
  switch (name) {
    case 'plugged-in':
      return scenario.chargePoints.every(({ usage }) => usage.kind === 'always')
        ? null
        : { name, scenario: alwaysPluggingIn(scenario), pvFactor: 1, onPlan: pluggedInThroughout };
    case 'more-roof':
      return moreRoof(scenario);
    default:
      return whole(CHANGES[name](scenario));
  }
}

/** The door refuses a charger and a car that can not charge together. */
const canCharge = ({ chargePoints }: Scenario): boolean =>
  chargePoints.every(({ charger, vehicle, believes }) => possiblePhases(charger, { ...vehicle, ...believes }).length > 0);

type Presence = Plan['points'][number]['presence'];
type Change = (scenario: Scenario) => Scenario | null;

const CHANGES: Record<Exclude<VariantName, 'plugged-in' | 'more-roof'>, Change> = {
  'at-once': (scenario) => withControl(scenario, { strategy: 'at-once' }),
  surplus: (scenario) => withControl(scenario, { strategy: 'surplus' }),
  'share-80': (scenario) => withShare(scenario, 0.8),
  'share-50': (scenario) => withShare(scenario, 0.5),
  'share-25': (scenario) => withShare(scenario, 0.25),
  'one-phase': (scenario) => withPhases(scenario, 1),
  'three-phases': (scenario) => withPhases(scenario, 3),
  switchable: (scenario) => withPhases(scenario, 'switchable'),
  'six-amps': sixAmps,
  'no-delays': (scenario) => withControl(scenario, NO_DELAYS),
  'car-first': carFirst,
  'step-fine': (scenario) => withCurrentStep(scenario, 0.1),
  'step-coarse': (scenario) => withCurrentStep(scenario, 1),
};

const NO_DELAYS = {
  startDelayS: 0,
  stopDelayS: 0,
  switchUpDelayS: 0,
  switchDownDelayS: 0,
  switchPauseS: 0,
  restartPauseS: 0,
};

function withControl(scenario: Scenario, control: Partial<Scenario['control']>): Scenario | null {
  const isSame = Object.entries(control).every(([key, value]) => scenario.control[key as keyof Scenario['control']] === value);
  return isSame ? null : { ...scenario, control: { ...scenario.control, ...control } };
}

/** A share means nothing to a charger that never waits. */
const withShare = (scenario: Scenario, surplusShare: number): Scenario | null =>
  scenario.control.strategy === 'at-once' ? null : withControl(scenario, { surplusShare });

/** Every charge point changed that a change applies to; null where it applies to none. */
function withPoints(scenario: Scenario, change: (point: ChargePoint) => ChargePoint | null): Scenario | null {
  const changed = scenario.chargePoints.map(change);
  if (changed.every((point) => point === null)) return null;
  return { ...scenario, chargePoints: scenario.chargePoints.map((point, i) => changed[i] ?? point) };
}

const withCharger = (point: ChargePoint, charger: Partial<Charger>): ChargePoint => ({
  ...point,
  charger: { ...point.charger, ...charger },
});

/** Other phases: only where the building has them on the terminals, and where the car can draw on more than one. */
function withPhases(scenario: Scenario, phases: Charger['phases']): Scenario | null {
  return withPoints(scenario, (point) => {
    const { charger } = point;
    if (charger.phases === phases) return null;
    if (phases === 1) return charger.wiring.length > 0 && point.vehicle.phases > 1 ? withCharger(point, { phases }) : null;
    if (scenario.supply.phases < 3 || point.vehicle.phases === 1) return null;
    const wired = charger.wiring.length === 3 ? {} : threeWires(charger);
    return withCharger(point, { phases, ...wired });
  });
}

/** A charger that had one conductor gets the other two in turn. */
function threeWires({ wiring }: Charger): Pick<Charger, 'wiring' | 'wiringAsBuilt'> {
  const first = wiring[0] ?? 1;
  const turned = [first, (first % 3) + 1, ((first + 1) % 3) + 1];
  return { wiring: turned, wiringAsBuilt: turned };
}

/** A car, and a charger, that start at the six amperes that every car could by the standard. */
function sixAmps(scenario: Scenario): Scenario | null {
  const six: ByPhases = [6, 6, 6];
  return withPoints(scenario, (point) => {
    const { charger, vehicle, believes } = point;
    if (charger.minCurrentA <= 6 && [...vehicle.minCurrentA, ...believes.minCurrentA].every((a) => a <= 6)) return null;
    return {
      ...withCharger(point, { minCurrentA: 6 }),
      vehicle: { ...vehicle, minCurrentA: six },
      believes: { ...believes, minCurrentA: six },
    };
  });
}

function carFirst(scenario: Scenario): Scenario | null {
  const { battery } = scenario;
  return battery === null || battery.priority.kind === 'car'
    ? null
    : { ...scenario, battery: { ...battery, priority: { kind: 'car' } } };
}

const withCurrentStep = (scenario: Scenario, currentStepA: number): Scenario | null =>
  withPoints(scenario, (point) => (point.charger.currentStepA === currentStepA ? null : withCharger(point, { currentStepA })));

/** A roof larger in all its planes, with an inverter to match: its power is that of the roof there is, times a factor. */
function moreRoof(scenario: Scenario): ChangedHousehold | null {
  const { pv } = scenario;
  if (pv.kind === 'measured') return null;
  const peakW = pv.arrays.reduce((sum, array) => sum + array.peakW, 0);
  const pvFactor = (peakW + MORE_ROOF_W) / peakW;
  const arrays = pv.arrays.map((array) => ({ ...array, peakW: array.peakW * pvFactor }));
  const inverter = { ...pv.inverter, ratedW: pv.inverter.ratedW * pvFactor };
  return { name: 'more-roof', scenario: { ...scenario, pv: { ...pv, arrays, inverter } }, pvFactor, onPlan: (plan) => plan };
}

/** Nobody leaves the cable on its hook. */
const alwaysPluggingIn = (scenario: Scenario): Scenario => ({
  ...scenario,
  chargePoints: scenario.chargePoints.map((point) =>
    point.usage.kind === 'weekly' ? { ...point, usage: { ...point.usage, plugInBelowSoc: 1 } } : point,
  ),
});

/** The same trips, each over in no time, so that the car stands at home whenever the sun shines. */
function pluggedInThroughout(plan: Plan): Plan {
  const points = plan.points.map((point) => {
    const { stayStart, stayEnd } = point.presence;
    const ends = stayEnd.map((end, i) => (i + 1 < stayStart.length ? at(stayStart, i + 1) : Math.max(end, plan.grid.steps)));
    return { ...point, presence: fromTheStart({ ...point.presence, stayEnd: ends }, plan.grid.stepS) };
  });
  return { ...plan, points };
}

/** Before the first arrival the car was at home too. */
function fromTheStart(presence: Presence, stepS: number): Presence {
  const first = at(presence.stayStart, 0);
  if (presence.stayStart.length === 0 || first === 0) return presence;
  const longer = (values: ArrayLike<number>, value: number): number[] => [value, ...Array.from(values)];
  return {
    ...presence,
    stayStart: Int32Array.from(longer(presence.stayStart, 0)),
    stayEnd: Int32Array.from(longer(presence.stayEnd, first)),
    km: Float64Array.from(longer(presence.km, 0)),
    whPerKm: Float64Array.from(longer(presence.whPerKm, 0)),
    departS: Float64Array.from(longer(presence.departS, first * stepS)),
  };
}
