import type { FlurryFacts } from '../account.ts';
import type { Cause, EventFacts, HeldName, StretchFacts } from '../facts.ts';
import type { Difference } from '../what-if.ts';
import type { Catalogue } from './catalogue.ts';
import { DE_FORM as f } from './de-form.ts';

type AccountPart = Pick<Catalogue, 'states' | 'events' | 'stretches' | 'flurry' | 'chain' | 'variants' | 'whatIf' | 'account'>;

const LIMIT: Record<HeldName, string> = {
  'held-fuse': 'die Hauptsicherung',
  'held-imbalance': 'die Grenze der Schieflast',
  'held-contract': 'die vereinbarte Bezugsleistung',
  'held-dimmed': 'die Leistungsgrenze des Netzbetreibers',
};

/** Surplus that is shown as none, W. */
const NOTHING_W = 5;

/** "4,2 kWh, davon 3,1 kWh vom Dach". */
function energy({ carWh, carPvWh, carBatteryWh = 0 }: { carWh: number; carPvWh: number; carBatteryWh?: number }): string {
  const battery = carBatteryWh >= 50 ? ` und ${f.kwh(carBatteryWh)} aus dem Hausspeicher` : '';
  if (carWh - carPvWh < Math.min(10, 0.02 * carWh)) return `${f.kwh(carWh)}, alles vom Dach`;
  if (carPvWh > 0 && f.kwh(carPvWh) === f.kwh(carWh)) return `${f.kwh(carWh)}, fast alles vom Dach`;
  if (carPvWh < 50) return `${f.kwh(carWh)}, davon nichts vom Dach${battery}`;
  return `${f.kwh(carWh)}, davon ${f.kwh(carPvWh)} vom Dach${battery}`;
}

const onPhases = (n: number): string => `${n === 1 ? 'einer' : f.counts[n]} ${n === 1 ? 'Phase' : 'Phasen'}`;

function at({ phases, lowestA, highestA }: StretchFacts): string {
  const range = highestA - lowestA < 0.05 ? f.amps(highestA) : `${f.plain(lowestA, 1)} bis ${f.amps(highestA)}`;
  return `auf ${onPhases(phases)} mit ${range}`;
}

/** What surplus must cover, and why so much; in the dative that follows "über". */
function needed({ thresholdW, minA, minW, share, phasesTo }: EventFacts): string {
  if (share >= 1) return `den ${f.kw(thresholdW)}, die ${f.amps(minA)} auf ${onPhases(phasesTo)} brauchen`;
  return `${f.kw(thresholdW)}, das sind ${f.percent(share)} der ${f.kw(minW)}, die ${f.amps(minA)} auf ${onPhases(phasesTo)} brauchen`;
}

function start(facts: EventFacts): string {
  const on = `beginnt auf ${onPhases(facts.phasesTo)}`;
  if (facts.drive === 'at-once') return `${on}, sofort und bei jedem Wetter.`;
  const surplus = facts.surplusW < NOTHING_W ? 'ohne Überschuss' : `bei ${f.kw(facts.surplusW)} Überschuss`;
  if (facts.drive === 'must') return `${on} ${surplus}: Das Auto muss jetzt laden.`;
  if (facts.thresholdW === 0) return `${on}: Beim Überschussanteil 0 wartet es auf keine Sonne.`;
  const since = facts.heldS > 0 ? `liegt seit ${f.clock(facts.since)} über ${needed(facts)}` : `liegt über ${needed(facts)}`;
  return `${on}: Der Überschuss ${since}.`;
}

function stall(facts: EventFacts): string {
  const lasted =
    facts.heldS > 0
      ? `liegt seit ${f.lasting(facts.heldS)} unter ${f.kw(facts.thresholdW)}`
      : `liegt unter ${f.kw(facts.thresholdW)}`;
  const now = f.kw(facts.surplusW) === f.kw(facts.thresholdW) ? '' : `, zuletzt ${f.kw(facts.surplusW)}`;
  return `bricht ab: Der Überschuss ${lasted}${now}${facts.cause === null ? '' : `; ${cause(facts.cause)}`}.`;
}

function cause({ kind, pvFromW, pvToW, houseRoseW }: Cause): string {
  const pv = `die PV fiel von ${f.kw(pvFromW)} auf ${f.kw(pvToW)}`;
  const house = `das Haus nahm ${f.kw(houseRoseW)} mehr`;
  switch (kind) {
    case 'pv':
      return pv;
    case 'house':
      return `im Haus wurde etwas eingeschaltet, das ${f.kw(houseRoseW)} mehr nahm`;
    case 'battery':
      return 'der Hausspeicher nahm ihn, denn er kommt zuerst';
    case 'earlier':
      return 'ein anderes Auto nahm ihn, denn es kommt zuerst';
    case 'hidden':
      return 'hinter der Einspeisegrenze sah ihn die Steuerung nicht mehr';
    case 'together': {
      const both = [...(pvFromW - pvToW > 10 ? [pv] : []), ...(houseRoseW > 10 ? [house] : [])];
      return both.length === 0 ? 'mehreres zugleich nahm ihn weg' : both.join(', und ');
    }
    case 'never':
      return 'er hatte auch vorher nicht gereicht';
  }
}

function switchTo(facts: EventFacts): string {
  const change = `von ${onPhases(facts.phasesFrom)} auf ${f.counts[facts.phasesTo] ?? facts.phasesTo}`;
  if (facts.phasesTo < facts.phasesFrom) {
    return `geht ${change} zurück: Der Überschuss liegt seit ${f.clock(facts.since)} unter ${f.kw(facts.thresholdW)}, trägt aber noch ${f.onPhases(facts.phasesTo)}.`;
  }
  if (facts.drive === 'must') return `geht ${change}, weil das Auto jetzt laden muss.`;
  if (facts.drive === 'at-once') return `geht ${change}, sobald es darf.`;
  const since = facts.heldS > 0 ? `liegt seit ${f.clock(facts.since)} über ${needed(facts)}` : `liegt über ${needed(facts)}`;
  return `geht ${change}: Der Überschuss ${since}.`;
}

function hold({ limit, leftA, minA, phasesFrom }: EventFacts): string {
  const why = `${LIMIT[limit ?? 'held-fuse']} lässt ${f.amps(leftA)} übrig, das Auto braucht ${f.amps(minA)}`;
  return phasesFrom > 0 ? `hört sofort auf: ${capital(why)}.` : `darf noch nicht beginnen: ${capital(why)}.`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function plugIn({ soc, km, missedKm }: EventFacts): string {
  const after = km > 0 ? ` nach ${f.fixed(km, 0)} km` : '';
  const missed = missedKm >= 0.5 ? `; für ${f.fixed(missedKm, 0)} km davon war die Batterie leer` : '';
  return `angesteckt${after} mit ${f.percent(soc)} in der Batterie${missed}.`;
}

const held = (limit: HeldName) => (facts: StretchFacts) =>
  `${LIMIT[limit]} lässt weniger als die ${f.amps(facts.minA)} übrig, die das Auto braucht.`;

function ceiling(facts: StretchFacts): string {
  const spared = facts.exportW >= 50 ? `: ${f.kw(facts.exportW)} gehen ins Netz` : '';
  const lost = facts.curtailedW >= 50 ? `, und ${f.kw(facts.curtailedW)} werden wegen der Einspeisegrenze gar nicht erzeugt` : '';
  const roof = `das Dach liefert ${f.kw(facts.pvW)}`;
  if (facts.tapers) return `${roof}, aber das Auto ist fast voll und nimmt nicht mehr als ${f.kw(facts.carW)}${spared}${lost}.`;
  if (facts.highestA < facts.mostA - 0.05)
    return `${roof}, aber der Anschluss lässt dem Auto nicht mehr als ${f.kw(facts.carW)}${spared}${lost}.`;
  return `${roof}, aber dieses Auto nimmt auf ${onPhases(facts.phases)} höchstens ${f.kw(facts.mostW)}${spared}${lost}.`;
}

const beyond = (facts: StretchFacts): string =>
  facts.surplusWh >= 50 ? `, während das Dach ${f.kwh(facts.surplusWh)} mehr liefert, als das Haus nimmt` : '';

function onAndOff(facts: FlurryFacts): string {
  const counts = [f.counted(facts.starts, 'Start', 'Starts'), f.counted(facts.stalls, 'Abbruch', 'Abbrüche')];
  if (facts.switches > 0) counts.push(f.counted(facts.switches, 'Phasenwechsel', 'Phasenwechsel'));
  return `hin und her: ${f.listed(counts)}; zusammen ${f.lasting(facts.chargingS)} Laden geben ${energy(facts)}.`;
}

function differenceText({ of, by }: Difference, currency: string): string {
  const way = by > 0 ? 'mehr' : 'weniger';
  const size = Math.abs(by);
  switch (of) {
    case 'pv':
      return `${f.kwh(size)} ${way} vom Dach`;
    case 'grid':
      return `${f.kwh(size)} ${way} aus dem Netz`;
    case 'battery':
      return `${f.kwh(size)} ${way} aus dem Hausspeicher`;
    case 'starts':
      return `${f.fixed(size, 0)} ${size === 1 ? 'Start' : 'Starts'} ${way}`;
    case 'switches':
      return `${f.fixed(size, 0)} Phasenwechsel ${way}`;
    case 'missed':
      return `${f.fixed(size, 0)} km ${way} mit leerer Batterie`;
    case 'left':
      return `am Ende ${f.kwh(size)} ${way} im Auto`;
    case 'cost':
      return `${f.fixed(size, 2)} ${currency} ${by > 0 ? 'teurer' : 'billiger'}`;
  }
}

function differences(found: readonly Difference[], currency: string): string {
  if (found.length === 0) return 'ändert nichts, was der Rede wert wäre.';
  const told = found.map((difference) => differenceText(difference, currency));
  return `${f.listed(told)}.`;
}

/** German: what happened, where the hours went, what would have changed it. */
export const DE_ACCOUNT: AccountPart = {
  states: {
    away: 'weg',
    full: 'voll',
    short: 'zu wenig Überschuss',
    proving: 'prüft, ob es bleibt',
    resting: 'ruht',
    waking: 'wacht auf',
    surplus: 'aus Überschuss',
    topped: 'vom Netz ergänzt',
    ceiling: 'so viel es nimmt',
    bridging: 'vom Netz überbrückt',
    switching: 'wechselt Phasen',
    'held-fuse': 'Sicherung hält auf',
    'held-imbalance': 'Schieflast hält auf',
    'held-contract': 'Vertrag hält auf',
    'held-dimmed': 'Netzbetreiber hält auf',
    must: 'muss laden',
    'at-once': 'sofort',
    refusing: 'Auto lehnt ab',
    'gave-up': 'Auto gab auf',
  },
  events: {
    'plug-in': plugIn,
    start,
    stall,
    switch: switchTo,
    hold,
    must: ({ need, soc }) =>
      need === 'floor'
        ? `muss jetzt laden: ${f.percent(soc)} sind weniger, als immer in der Batterie sein muss.`
        : `muss jetzt laden: Mit ${f.percent(soc)} reicht die Zeit bis zur Abfahrt gerade noch.`,
    full: ({ soc }) => `voll: Die ${f.percent(soc)}, bei denen das Laden endet, sind in der Batterie.`,
    leave: ({ soc, shortKm }) =>
      `fährt mit ${f.percent(soc)} in der Batterie ab${shortKm >= 0.5 ? `; ${f.fixed(shortKm, 0)} km fehlen auf das Gewünschte` : ''}.`,
    'break-off': () => 'schaltet ab: Auf einem Leiter fließt Strom, auf dem der Lader keinen erwartet.',
    'gave-up': () => 'das Auto gibt auf: Nach so vielen Unterbrechungen nimmt es nichts mehr, bis es neu angesteckt wird.',
  },
  stretches: {
    away: (facts) => `das Auto ist weg${beyond(facts)}.`,
    full: (facts) => `das Auto ist voll${beyond(facts)}.`,
    short: ({ thresholdW, highestSurplusW, startDelayS }) => {
      const needs = `${f.kw(thresholdW)}, die ein Start braucht`;
      if (highestSurplusW >= thresholdW) return `der Überschuss erreicht die ${needs}, aber nie ${f.lasting(startDelayS)} lang.`;
      if (highestSurplusW < NOTHING_W) return `es ist kein Überschuss da; ein Start braucht ${f.kw(thresholdW)}.`;
      const most = f.kw(highestSurplusW) === f.kw(thresholdW) ? 'wenn auch knapp' : `höchstens ${f.kw(highestSurplusW)}`;
      return `der Überschuss bleibt unter den ${needs}, ${most}.`;
    },
    proving: (facts) => `Überschuss ist da; es wartet ${f.lasting(facts.startDelayS)}, ob er bleibt.`,
    resting: (facts) => `ruht ${f.lasting(facts.restS)} nach einer Unterbrechung.`,
    waking: (facts) => `das Auto braucht ${f.lasting(facts.lagS)} zum Aufwachen.`,
    surplus: (facts) => `lädt ${at(facts)}: ${energy(facts)}.`,
    topped: (facts) => `lädt ${at(facts)}: ${energy(facts)}; das Netz gibt dazu, was an Überschuss fehlt.`,
    ceiling,
    bridging: (facts) =>
      `der Überschuss reicht nicht, und das Netz springt ein, damit das Auto ${at(facts)} weiterlädt: ${energy(facts)}.`,
    switching: (facts) => `pausiert ${f.lasting(facts.lastsS)} für den Phasenwechsel.`,
    'held-fuse': held('held-fuse'),
    'held-imbalance': held('held-imbalance'),
    'held-contract': held('held-contract'),
    'held-dimmed': held('held-dimmed'),
    must: (facts) => `lädt ${at(facts)}, ob Sonne oder nicht, weil es muss: ${energy(facts)}.`,
    'at-once': (facts) => `lädt ${at(facts)}, ob Sonne oder nicht: ${energy(facts)}.`,
    refusing: (facts) =>
      `bekommt weniger als die ${f.amps(facts.carMinA)} angeboten, unter denen dieses Auto nichts nimmt: Es fließt kein Strom.`,
    'gave-up': (facts) => `das Auto nimmt nichts mehr, bis es neu angesteckt wird${beyond(facts)}.`,
  },
  flurry: onAndOff,
  chain: {
    rows: {
      daylight: 'das Dach liefert',
      house: 'das Haus nimmt seinen Teil',
      short: 'Überschuss unter der niedrigsten Schwelle',
      away: 'Auto weg',
      full: 'Auto voll',
      delay: 'prüft, wacht auf, pausiert, ruht',
      held: 'eine Grenze hält es auf',
      refused: 'das Auto nimmt das Angebot nicht',
      charging: 'lädt bei Tageslicht',
      'grid-part': 'Teil des Netzes daran',
      'battery-part': 'Teil des Hausspeichers daran',
      'left-over': 'Überschuss, den das Auto übrig lässt',
      solar: 'Solarladestunden, PV ins Auto',
    },
    link: 'wo die Stunden blieben',
    hours: 'Stunden',
    energy: 'PV kWh',
    dark: (hours) => `Nicht dabei: ${f.fixed(hours, 1)} Stunden Laden, während das Dach nichts lieferte.`,
  },
  variants: {
    'at-once': 'sofort geladen',
    surplus: 'auf Überschuss gewartet',
    'share-80': 'Überschussanteil 0,8',
    'share-50': 'Überschussanteil 0,5',
    'share-25': 'Überschussanteil 0,25',
    'one-phase': 'ein einphasiger Lader',
    'three-phases': 'ein dreiphasiger Lader',
    switchable: 'ein Lader, der Phasen umschaltet',
    'six-amps': 'ein Auto, das mit 6 A beginnt',
    'plugged-in': 'den ganzen Tag angesteckt',
    'no-delays': 'keine Wartezeiten und Pausen',
    'car-first': 'das Auto vor dem Hausspeicher',
    'more-roof': '2 kWp mehr auf dem Dach',
    'step-fine': 'Strom in Stufen von 0,1 A',
    'step-coarse': 'Strom in Stufen von 1 A',
  },
  whatIf: {
    change: 'Änderung',
    asItIs: 'so wie es ist',
    does: 'was sie bewirkt',
    differences,
    note: (isWhole) =>
      isWhole
        ? 'Dasselbe Wetter, Haus und Fahren, noch einmal gerechnet mit einer Änderung; nach PV-Energie im Auto geordnet.'
        : 'Dasselbe Wetter, Haus und Fahren, ab diesem Morgen noch einmal gerechnet mit einer Änderung; nach PV-Energie im Auto geordnet.',
  },
  account: {
    day: (date, weekday) => `${f.weekdays[weekday] ?? ''}, ${f.date(date)}`,
    sums: (sums, solarShare) =>
      `${f.kwh(sums.carPvWh)} vom Dach ins Auto, ${f.percent(solarShare)} von allem, was es lud, genug für ${f.fixed(sums.pvKm, 0)} km, in ${f.brief(sums.solarChargingH)} Solarladestunden; ${f.listed(
        [
          f.counted(sums.starts, 'Start', 'Starts'),
          f.counted(sums.stalls, 'Abbruch', 'Abbrüche'),
          f.counted(sums.switches, 'Phasenwechsel', 'Phasenwechsel'),
        ],
      )}.`,
    nothing: 'es wurde nichts geladen.',
    roof: 'Dach',
    signs: 'Zeichen',
    chainHeading: 'Wo die Stunden blieben',
    whatIfHeading: 'Was es geändert hätte',
    dayHeading: {
      best: 'der Tag mit der meisten PV im Auto',
      worst: 'der Tag mit der wenigsten PV im Auto',
      median: 'der mittlere aller Tage mit PV im Auto',
      'most-stalls': 'der Tag mit den meisten Abbrüchen',
    },
    files: (count, folder) => `${f.counted(count, 'Datei', 'Dateien')} in ${folder}`,
  },
};
