/** What a charger can do. */
export interface ChargerFacts {
  readonly phases: 1 | 3 | 'switchable';
  readonly minCurrentA: number;
  readonly maxCurrentA: number;
  /** Fineness with which it sets its current, A. */
  readonly currentStepA: number;
}

/** What of a car matters to the law: the phases it draws on, and the currents it accepts per phase. */
export interface VehicleFacts {
  readonly phases: 1 | 2 | 3;
  readonly maxCurrentA: number;
  /** On one, two and three phases. */
  readonly minCurrentA: readonly [number, number, number];
}

/** The settings of the control law; delays in seconds. */
export interface ControlSettings {
  readonly strategy: 'surplus' | 'at-once';
  /** Part of the start threshold that surplus must cover, 0 … 1. */
  readonly surplusShare: number;
  readonly topUp: 'minimum' | 'proportional';
  readonly startDelayS: number;
  readonly stopDelayS: number;
  readonly switchUpDelayS: number;
  readonly switchDownDelayS: number;
  readonly switchPauseS: number;
  readonly restartPauseS: number;
}
