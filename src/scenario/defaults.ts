/**
 * What a scenario's key is worth when it is left out.
 *
 * Source of all of them: common practice, no published source, but where a line says otherwise. The ranges in which installations
 * are found stand in the comments; a verdict says whether it survives both ends of them.
 */

/** Site and period. */
export const ELEVATION_M = 0;
export const STEP_S = 60;

/** Supply. 230 V: nominal voltage of European low-voltage networks (EN 50160; from memory). */
export const GRID_PHASES = 3;
export const VOLTAGE_V = 230;
export const MAIN_FUSE_A = 35;

/** Prices. Most meters keep import and export apart as they flow; some grids settle them over 15, 30 or 60 minutes. */
export const SETTLEMENT_MIN = 0;

/** Every seed. */
export const SEED = 1;

/** PV. Temperature coefficient and losses: common practice for crystalline silicon roofs. */
export const TEMPERATURE_COEFFICIENT_PER_K = -0.0034;
export const LOSS_PERCENT = 8;
export const INVERTER_EFFICIENCY = 0.965;

/** Household. */
export const PEOPLE = 3;

/** Home battery. */
export const ROUND_TRIP_EFFICIENCY = 0.9;
export const BATTERY_START_SOC = 0.5;

/** Charger. 6 A: IEC 61851-1, the least that a charger can offer. Step found: 0.1 to 1. */
export const MIN_CURRENT_A = 6;
export const CURRENT_STEP_A = 1;

/** Vehicle. Standby found: 100 to 350 W. Lag found: 5 to 120 s, minutes when the car sleeps. Target found: 0.5 to 1. */
export const STANDBY_W = 180;
export const CONVERSION_EFFICIENCY = 0.94;
/** Consumption at -6.7 °C: measured 1.25 on fast trips, 1.4 on highways, 2 in town with a resistive heater (anl2013cold); a mix. */
export const COLD_FACTOR = 1.5;
export const START_LAG_S = 60;
export const START_SOC = 0.5;
export const TARGET_SOC = 0.8;

/** Control. Ranges found: see the comment beside each. */
export const SURPLUS_SHARE = 1;
/** 10 to 60. */
export const SMOOTHING_S = 30;
/** 0 to 200. */
export const RESERVE_W = 50;
/** 60 to 300. */
export const START_DELAY_S = 180;
/** 60 to 600. */
export const STOP_DELAY_S = 180;
/** 60 to 900. */
export const SWITCH_UP_DELAY_S = 600;
/** 60 to 600. */
export const SWITCH_DOWN_DELAY_S = 180;
/** 10 to 300. */
export const SWITCH_PAUSE_S = 60;
/** 60 to 900. */
export const RESTART_PAUSE_S = 300;

/** Air where a scenario gives no weather, °C. */
export const AIR_WITHOUT_WEATHER_C = 10;
