import {
  AREAS_MM2,
  type Cable,
  cableLossW,
  DROP_LIMIT_PERCENT,
  LIGHTING_LIMIT_PERCENT,
  longestRunM,
  voltageDropPercent,
  voltageDropV,
} from './cable.ts';

/** A cross-section with what it means for the same circuit. */
export interface AreaRow {
  readonly areaMm2: number;
  readonly dropV: number;
  readonly dropPercent: number;
  readonly lossW: number;
  readonly longestRunM: number;
}

/** What can be said about a cable, for people and machines. */
export interface CableAnswer {
  readonly cable: Cable;
  readonly limitPercent: number;
  readonly dropV: number;
  readonly dropPercent: number;
  readonly withinLimit: boolean;
  readonly lossW: number;
  /** Loss as part of what the car gets at most, percent. */
  readonly lossPercent: number;
  /** By voltage drop alone. */
  readonly longestRunM: number;
  /** The same circuit with each cross-section that is made. */
  readonly byArea: readonly AreaRow[];
}

/** The limits that the standard recommends, percent: from the network, and for lighting. */
export const CABLE_LIMITS_PERCENT = { whole: DROP_LIMIT_PERCENT.value, lighting: LIGHTING_LIMIT_PERCENT.value } as const;

/** Voltage drop, loss and longest run of a cable, beside other cross-sections. */
export function cableAnswer(cable: Cable, limitPercent: number): CableAnswer {
  const dropPercent = voltageDropPercent(cable);
  const lossW = cableLossW(cable);
  return {
    cable,
    limitPercent,
    dropV: voltageDropV(cable),
    dropPercent,
    withinLimit: dropPercent <= limitPercent + 1e-9,
    lossW,
    lossPercent: (100 * lossW) / (cable.phases * cable.voltageV * cable.currentA),
    longestRunM: longestRunM(cable, limitPercent),
    byArea: AREAS_MM2.map((areaMm2) => {
      const other = { ...cable, areaMm2 };
      return {
        areaMm2,
        dropV: voltageDropV(other),
        dropPercent: voltageDropPercent(other),
        lossW: cableLossW(other),
        longestRunM: longestRunM(other, limitPercent),
      };
    }),
  };
}
