import type { ConflictWords } from '../conflicts.ts';
import { DE_FORM } from './de-form.ts';

const { amps, kw, plain, counts } = DE_FORM;

const onPhases = (n: number): string => (n === 1 ? 'einer Phase' : `${counts[n] ?? n} Phasen`);

const otherwise = (alone: boolean): string => (alone ? '' : ', solange kein anderes Auto auf den übrigen Phasen lädt');

const neverOn = (n: number, never: boolean): string => (never ? 'es kann nicht laden' : `auf ${onPhases(n)} kann es nicht laden`);

const SEES = 'Wenn sie weiß, was das Dach geben könnte: seesCurtailedPv: true schreiben.';

function helped({ byBattery, byNeeds, byOtherCar }: { byBattery: boolean; byNeeds: boolean; byOtherCar: boolean }): string {
  const ways = [
    byBattery ? 'der Hausspeicher nimmt den Rest' : '',
    byNeeds ? 'das Auto muss ohnehin laden' : '',
    byOtherCar ? 'ein Auto weiter unten in der Liste lädt' : '',
  ].filter((way) => way !== '');
  return ways.length === 0 ? '' : `, außer ${ways.join(' oder ')}`;
}

/** German: what gets in the way of what. */
export const DE_CONFLICTS: ConflictWords = {
  'imbalance-holds': ({ n, limitA, endsAtA, couldA, alone }) =>
    `Laden auf ${onPhases(n)} endet bei ${amps(endsAtA)}, wegen der Schieflastgrenze von ${amps(limitA)}${otherwise(alone)}; Lader und Auto könnten ${amps(couldA)}.`,
  'imbalance-forbids': ({ n, limitA, minA, alone }) =>
    `auf ${onPhases(n)} braucht das Auto ${amps(minA)}, und die Schieflastgrenze von ${amps(limitA)} lässt sie nicht zu${otherwise(alone)}.`,
  'imbalance-not-given': ({ country, countryCode, limitA }) =>
    `Es ist keine Schieflastgrenze angegeben; in diesem Land (${country}) gibt es eine, soweit bekannt ${amps(limitA)}: grid.country: ${countryCode} schreiben, oder imbalanceLimitA nach Auskunft des Netzbetreibers.`,
  'minimum-above-fuse': ({ n, minA, fuseA, never }) =>
    `das Auto braucht ${amps(minA)} auf ${onPhases(n)}, und die Hauptsicherung trägt ${amps(fuseA)}: ${neverOn(n, never)}.`,
  'minimum-above-contract': ({ n, minW, contractW, never }) =>
    `das Auto braucht ${kw(minW)} auf ${onPhases(n)}, und vereinbart sind ${kw(contractW)}: ${neverOn(n, never)}.`,
  'minimum-above-dimming': ({ n, minW, toW, never }) =>
    `das Auto braucht ${kw(minW)} auf ${onPhases(n)}, und der Netzbetreiber begrenzt auf ${kw(toW)}: in diesen Stunden gilt, ${neverOn(n, never)}.`,
  'departure-above-target': ({ askedKm, targetKm }) =>
    `bei der Abfahrt sind ${plain(askedKm, 0)} km verlangt, und das Laden endet bei ${plain(targetKm, 0)} km: targetSoc erhöhen oder weniger verlangen.`,
  'departure-out-of-reach': ({ missed, departures, firstAt, askedKm, firstHasKm }) =>
    `${missed} von ${departures} Abfahrten können keine ${plain(askedKm, 0)} km in der Batterie haben, auch nicht mit vollem Strom ab dem Anstecken; die erste, am ${firstAt}, hätte ${plain(firstHasKm, 0)} km.`,
  'share-starts-always': ({ powerW, atFull }) =>
    `ein Überschussanteil von 0 wartet auf keine Sonne: geladen wird Tag und Nacht, mit ${kw(powerW)}${atFull ? ', dem vollen Strom' : ''}.`,
  'export-limit-hides-start': ({ exportLimitW, neededW, ...by }) =>
    `Überschussladen kann ${by.byBattery || by.byNeeds || by.byOtherCar ? 'nicht von selbst' : 'nie'} beginnen, hinter der Einspeisegrenze von ${kw(exportLimitW)}: die Steuerung sieht nicht mehr als das und braucht ${kw(neededW)}${helped(by)}. ${SEES}`,
  'export-limit-hides-phases': ({ n, exportLimitW, seenW, neededW }) =>
    `für Überschuss kann es nie auf ${onPhases(n)} gehen: hinter der Einspeisegrenze von ${kw(exportLimitW)} sieht die Steuerung beim Laden höchstens ${kw(seenW)} und braucht ${kw(neededW)}. ${SEES}`,
};
