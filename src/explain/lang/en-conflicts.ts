import type { ConflictWords } from '../conflicts.ts';
import { EN_FORM } from './en-form.ts';

const { amps, kw, plain, onPhases } = EN_FORM;

const otherwise = (alone: boolean): string => (alone ? '' : ' while no other car draws on the other phases');

const neverOn = (n: number, never: boolean): string => (never ? 'it cannot charge' : `it cannot charge on ${onPhases(n)}`);

function helped({ byBattery, byNeeds, byOtherCar }: { byBattery: boolean; byNeeds: boolean; byOtherCar: boolean }): string {
  const ways = [
    byBattery ? 'the home battery takes the rest' : '',
    byNeeds ? 'the car must charge anyway' : '',
    byOtherCar ? 'a car further down the list draws' : '',
  ].filter((way) => way !== '');
  return ways.length === 0 ? '' : `, unless ${ways.join(' or ')}`;
}

/** English: what gets in the way of what. */
export const EN_CONFLICTS: ConflictWords = {
  'imbalance-holds': ({ n, limitA, endsAtA, couldA, alone }) =>
    `charging on ${onPhases(n)} ends at ${amps(endsAtA)} under the imbalance limit of ${amps(limitA)}${otherwise(alone)}; charger and car could take ${amps(couldA)}.`,
  'imbalance-forbids': ({ n, limitA, minA, alone }) =>
    `on ${onPhases(n)} the car needs ${amps(minA)}, and the imbalance limit of ${amps(limitA)} does not allow them${otherwise(alone)}.`,
  'imbalance-not-given': ({ country, countryCode, limitA }) =>
    `No imbalance limit is given, and in ${country} there is one, of ${amps(limitA)} as far as is known: write grid.country: ${countryCode}, or imbalanceLimitA as the grid operator says.`,
  'minimum-above-fuse': ({ n, minA, fuseA, never }) =>
    `the car needs ${amps(minA)} on ${onPhases(n)}, and the main fuse carries ${amps(fuseA)}: ${neverOn(n, never)}.`,
  'minimum-above-contract': ({ n, minW, contractW, never }) =>
    `the car needs ${kw(minW)} on ${onPhases(n)}, and the contract allows ${kw(contractW)}: ${neverOn(n, never)}.`,
  'minimum-above-dimming': ({ n, minW, toW, never }) =>
    `the car needs ${kw(minW)} on ${onPhases(n)}, and the operator dims to ${kw(toW)}: in those hours ${neverOn(n, never)}.`,
  'departure-above-target': ({ askedKm, targetKm }) =>
    `${plain(askedKm, 0)} km are asked for at departure, and charging ends at ${plain(targetKm, 0)} km: raise targetSoc or ask for less.`,
  'departure-out-of-reach': ({ missed, departures, firstAt, askedKm, firstHasKm }) =>
    `${missed} of ${departures} departures cannot have ${plain(askedKm, 0)} km in the battery, even at full current from the moment the car is plugged in; the first, on ${firstAt}, would have ${plain(firstHasKm, 0)} km.`,
  'share-starts-always': ({ powerW, atFull }) =>
    `a surplus share of 0 waits for no sun: charging starts day and night, at ${kw(powerW)}${atFull ? ', the full current' : ''}.`,
  'export-limit-hides-start': ({ exportLimitW, neededW, ...by }) =>
    `surplus charging ${by.byBattery || by.byNeeds || by.byOtherCar ? 'cannot start by itself' : 'can never start'} behind the export limit of ${kw(exportLimitW)}: the controller sees no more than that and needs ${kw(neededW)}${helped(by)}. Write seesCurtailedPv: true if it knows what the roof could give.`,
  'export-limit-hides-phases': ({ n, exportLimitW, seenW, neededW }) =>
    `it can never go to ${onPhases(n)} for surplus: behind the export limit of ${kw(exportLimitW)} the controller sees at most ${kw(seenW)} while the car charges, and needs ${kw(neededW)}. Write seesCurtailedPv: true if it knows what the roof could give.`,
};
