import type { WallClock } from '../base/index.ts';
import type { EventName, StateName } from '../charging/index.ts';

/** A time of day on the wall. */
export type Clock = Pick<WallClock, 'hour' | 'minute' | 'second'>;

/** Everything that can happen to a charge point. */
export type Happening = Exclude<EventName, 'none'>;
/** The states that name a limit. */
export type HeldName = Extract<StateName, `held-${string}`>;

/** What took the surplus away before a stall; each the part that moved, W. */
export interface Cause {
  /**
   * What moved most: PV fell, the house took more, the home battery came first, an earlier charge point took it, an export limit hid
   * it. `together`: the largest alone would not have done it. `never`: there had not been enough before either.
   */
  readonly kind: 'pv' | 'house' | 'battery' | 'earlier' | 'hidden' | 'together' | 'never';
  /** PV before, and while the surplus was lacking, W. */
  readonly pvFromW: number;
  readonly pvToW: number;
  /** What the house took more than before, W. */
  readonly houseRoseW: number;
}

/** An event with the numbers that decided it, ready to be told. */
export interface EventFacts {
  readonly event: Happening;
  readonly step: number;
  readonly point: number;
  /** When the deciding condition began to hold, and for how long it had held, s. */
  readonly since: Clock;
  readonly heldS: number;
  readonly surplusW: number;
  readonly thresholdW: number;
  /** Phases before and after. */
  readonly phasesFrom: number;
  readonly phasesTo: number;
  /** Least current on the phases at hand, A, and its power, W; the part of that power that surplus must cover. */
  readonly minA: number;
  readonly minW: number;
  readonly share: number;
  /** Why it may begin: surplus, what must be in the car, or the wish to charge at once. */
  readonly drive: 'surplus' | 'must' | 'at-once';
  /** For a hold: the limit, and the current that it leaves, A. */
  readonly limit: HeldName | null;
  readonly leftA: number;
  /** State of charge, and the one at which charging ends. */
  readonly soc: number;
  readonly targetSoc: number;
  /** For a plug-in: kilometres driven, and those that the battery could not cover. */
  readonly km: number;
  readonly missedKm: number;
  /** For a must: the floor, or the next departure. For a departure: how many wanted kilometres are not in the car. */
  readonly need: 'floor' | 'departure' | null;
  readonly shortKm: number;
  readonly cause: Cause | null;
}

/** A stretch of time in one state, summed up. Powers are means over it, W; energies in Wh. */
export interface StretchFacts {
  readonly state: StateName;
  readonly fromStep: number;
  /** The step after its last. */
  readonly toStep: number;
  readonly point: number;
  readonly lastsS: number;
  readonly pvW: number;
  readonly houseW: number;
  readonly carW: number;
  readonly exportW: number;
  readonly curtailedW: number;
  /** Highest surplus that the controller saw (F), and the threshold of the fewer phases. */
  readonly highestSurplusW: number;
  readonly thresholdW: number;
  /** PV that the house did not need itself. */
  readonly surplusWh: number;
  readonly carWh: number;
  readonly carPvWh: number;
  readonly carBatteryWh: number;
  readonly carGridWh: number;
  /** Phases that carry power, lowest and highest current, A; 0 while none flows. */
  readonly phases: number;
  readonly lowestA: number;
  readonly highestA: number;
  /** Most that the car takes on these phases under the limits of charger and vehicle, W. */
  readonly mostW: number;
  readonly mostA: number;
  /** Nearly full, the car takes less of its own accord. */
  readonly tapers: boolean;
  /** Current below which the controller knows the car to take nothing, and below which it really takes nothing, A. */
  readonly minA: number;
  readonly carMinA: number;
  readonly soc: number;
  readonly share: number;
  /** How long a rest, a start delay or the car's waking takes here, s. */
  readonly restS: number;
  readonly startDelayS: number;
  readonly lagS: number;
}
