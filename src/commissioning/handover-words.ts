import type { InEveryLanguage } from './language.ts';

/** Kinds of days that a customer knows. */
export type DayKind = 'sunny' | 'mixed' | 'dark';

/** What a kind of day is like in a run, for sentences. Texts are numbers with units, in the reader's form. */
export interface DayFacts {
  readonly date: string;
  readonly roof: string;
  readonly intoCar: string;
  readonly km: string;
  /** First start of the day, empty where there was none. */
  readonly firstStart: string;
  readonly starts: string;
  readonly hours: string;
}

/** All words of the hand-over sheet in one language. */
export interface HandoverWords {
  readonly title: (name: string) => string;
  readonly cautions: readonly string[];
  readonly system: string;
  readonly thresholds: string;
  readonly thresholdsHead: readonly [point: string, phases: string, least: string, start: string, most: string];
  readonly thresholdsCaption: string;
  readonly thresholdsNote: (startDelay: string, stopDelay: string) => string;
  readonly atOnce: string;
  readonly phases: (n: number) => string;
  readonly wiring: string;
  readonly wiringHead: readonly [point: string, terminal: string, planned: string, found: string];
  readonly wiringCaption: string;
  readonly wiringNoLog: string;
  readonly wiringFound: Readonly<Record<'one-of' | 'never-drew' | 'not-seen' | 'not-told', string>>;
  readonly wiringOneOf: (phases: string) => string;
  readonly wiringVerdict: Readonly<Record<'as-expected' | 'not-as-expected' | 'cannot-tell', string>>;
  readonly transformerReversed: (phases: string) => string;
  readonly see: string;
  readonly days: Readonly<Record<DayKind, string>>;
  readonly dayMeaning: Readonly<Record<DayKind, string>>;
  readonly day: (facts: DayFacts) => string;
  readonly dayNothing: (facts: DayFacts) => string;
  readonly monthsCaption: string;
  readonly monthsHead: readonly [month: string, sunny: string, mixed: string, dark: string];
  readonly monthCell: (days: number, kWhADay: string) => string;
  readonly noDays: string;
  readonly bestMonths: (months: string) => string;
  readonly seldomMonths: (months: string) => string;
  readonly honest: string;
  readonly trouble: string;
  readonly troubleSteps: (threshold: string, delay: string, pause: string) => readonly string[];
  readonly never: string;
  readonly neverList: readonly string[];
  readonly record: string;
  readonly duties: string;
  readonly dutiesHead: readonly [duty: string, applies: string, source: string, stand: string, check: string];
  readonly dutiesCaption: (country: string) => string;
  readonly applies: Readonly<Record<'yes' | 'no' | 'unknown', string>>;
  readonly checkLocally: string;
  readonly noDuties: string;
  readonly noCountry: string;
  readonly signatures: readonly [date: string, electrician: string, customer: string];
}

/** Words of the hand-over sheet. */
export const HANDOVER_WORDS: InEveryLanguage<HandoverWords> = {
  en: {
    title: (name) => `Hand-over: charging from the sun, ${name}`,
    cautions: [
      'What this sheet says of sun and hours is computed for an invented or past course of the weather. It is no promise.',
    ],
    system: 'What was installed',
    thresholds: 'When charging starts',
    thresholdsHead: ['Charge point', 'Phases', 'Least charging power', 'Starts at an export of', 'Highest power'],
    thresholdsCaption: 'Below its least power a car draws nothing at all',
    thresholdsNote: (startDelay, stopDelay) =>
      `The export must have stood for ${startDelay} before charging starts, and be missing for ${stopDelay} before it stops. Both are wanted: they keep the car from going on and off with every cloud.`,
    atOnce: 'This station charges as soon as a car is plugged in, sun or not.',
    phases: (n) => (n === 1 ? 'one' : n === 2 ? 'two' : 'three'),
    wiring: 'Phases and conductors',
    wiringHead: ['Charge point', 'Terminal', 'Building phase, planned', 'Found in the log'],
    wiringCaption: 'Which phase of the building is on which terminal of the station',
    wiringNoLog: 'no log was given',
    wiringFound: {
      'one-of': '',
      'never-drew': 'carried no current',
      'not-seen': 'does not show at the meter',
      'not-told': 'not told',
    },
    wiringOneOf: (phases) => `one of ${phases}`,
    wiringVerdict: {
      'as-expected': 'The log shows the order as planned.',
      'not-as-expected': 'The log does not show the order as planned: have it looked at before the station is used.',
      'cannot-tell': 'The log cannot tell the whole order.',
    },
    transformerReversed: (phases) => `The meter counts backwards on phase ${phases}.`,
    see: 'What you will see',
    days: { sunny: 'A sunny day', mixed: 'A mixed day', dark: 'A dark day' },
    dayMeaning: {
      sunny: 'the roof gives three quarters or more of the best day of the month',
      mixed: 'between a third and three quarters',
      dark: 'less than a third',
    },
    day: ({ date, roof, intoCar, km, firstStart, starts, hours }) =>
      `For example ${date}: the roof gives ${roof}; charging starts for the first time at ${firstStart} (starts that day: ${starts}) and puts ${intoCar} of sun into the car (${km}) in ${hours} of charging from the sun.`,
    dayNothing: ({ date, roof }) => `For example ${date}: the roof gives ${roof}; nothing of it reaches the car.`,
    monthsCaption: 'Days of each kind in a month, and what they put into the car a day',
    monthsHead: ['Month', 'Sunny', 'Mixed', 'Dark'],
    monthCell: (days, kWhADay) => `${days} ${days === 1 ? 'day' : 'days'}, ${kWhADay} a day`,
    noDays: 'none',
    bestMonths: (months) => `Most of it comes in ${months}.`,
    seldomMonths: (months) =>
      `In ${months} hardly any charging from the sun is to be expected: charge from the grid when you need the car.`,
    honest:
      'Whether the car is at home while the sun shines counts as much as the weather; this is reckoned with the habits given for this household.',
    trouble: 'When it does not start',
    troubleSteps: (threshold, delay, pause) => [
      'Is the plug fully in at both ends, and does the car show that it is connected?',
      'Is the car full, or has it a timer or a charge limit of its own? Switch these off.',
      `Does the house export at least ${threshold}, for ${delay} on end? Below that it must not start: wait for more sun, or switch off something large.`,
      `Has it just stopped? It then rests for ${pause}.`,
      'Is the car asleep? Unlock it, or unplug it and plug it in again.',
      'Does something else hold it back: an oven, a heat pump, a second car, a limit of the grid operator?',
      'Do you need the car? Charge at once, without the sun, by hand.',
      'If it still does not start, or stops at odd times: write down date and time, and call the electrician. Do not open anything.',
    ],
    never: 'No adapters, no extension leads',
    neverList: [
      'Use only the cable that belongs to the station, or one that is marked for it.',
      'No adapters between plug and socket, no extension leads, no multiple sockets, no coiled cable.',
      'Do not use a damaged plug or cable, a station that is warm or smells, or one that has been under water: switch off, and call the electrician.',
    ],
    record: 'Test record',
    duties: 'What the grid operator must know',
    dutiesHead: ['Duty', 'This house', 'Source', 'Date of the rule', 'To do'],
    dutiesCaption: (country) =>
      `Rules that could be traced for ${country}; they change, and the operator’s own conditions come first`,
    applies: { yes: 'falls under it', no: 'does not', unknown: 'to be seen' },
    checkLocally: 'check locally',
    noDuties: 'No rule could be traced for this country. Ask the grid operator before the station is used.',
    noCountry:
      'No country was given. Ask the grid operator what must be reported and what needs consent before the station is used.',
    signatures: ['Place, date', 'Licensed electrician', 'Customer: explained and received'],
  },
  de: {
    title: (name) => `Übergabe: Laden mit Sonnenstrom, ${name}`,
    cautions: [
      'Was dieses Blatt über Sonne und Stunden sagt, ist für einen erfundenen oder vergangenen Wetterverlauf gerechnet. Es ist keine Zusage.',
    ],
    system: 'Was eingebaut wurde',
    thresholds: 'Wann das Laden beginnt',
    thresholdsHead: ['Ladepunkt', 'Phasen', 'Kleinste Ladeleistung', 'Beginnt ab Einspeisung von', 'Größte Leistung'],
    thresholdsCaption: 'Unter seiner kleinsten Leistung zieht ein Auto gar nichts',
    thresholdsNote: (startDelay, stopDelay) =>
      `Die Einspeisung muss ${startDelay} lang anstehen, bevor das Laden beginnt, und ${stopDelay} lang fehlen, bevor es endet. Beides ist gewollt: sonst ginge das Auto mit jeder Wolke aus und an.`,
    atOnce: 'Diese Ladestation lädt, sobald ein Auto angesteckt ist, mit oder ohne Sonne.',
    phases: (n) => (n === 1 ? 'eine' : n === 2 ? 'zwei' : 'drei'),
    wiring: 'Phasen und Leiter',
    wiringHead: ['Ladepunkt', 'Klemme', 'Außenleiter des Hauses, geplant', 'In der Aufzeichnung gefunden'],
    wiringCaption: 'Welcher Außenleiter des Hauses an welcher Klemme der Ladestation liegt',
    wiringNoLog: 'keine Aufzeichnung angegeben',
    wiringFound: {
      'one-of': '',
      'never-drew': 'führte keinen Strom',
      'not-seen': 'am Zähler nicht zu sehen',
      'not-told': 'nicht zu sagen',
    },
    wiringOneOf: (phases) => `einer von ${phases}`,
    wiringVerdict: {
      'as-expected': 'Die Aufzeichnung zeigt die geplante Reihenfolge.',
      'not-as-expected': 'Die Aufzeichnung zeigt nicht die geplante Reihenfolge: vor der Benutzung nachsehen lassen.',
      'cannot-tell': 'Die Aufzeichnung verrät nicht die ganze Reihenfolge.',
    },
    transformerReversed: (phases) => `Der Zähler zählt auf Außenleiter ${phases} rückwärts.`,
    see: 'Was Sie sehen werden',
    days: { sunny: 'Ein sonniger Tag', mixed: 'Ein wechselhafter Tag', dark: 'Ein trüber Tag' },
    dayMeaning: {
      sunny: 'das Dach liefert mindestens drei Viertel des besten Tages im Monat',
      mixed: 'zwischen einem Drittel und drei Vierteln',
      dark: 'weniger als ein Drittel',
    },
    day: ({ date, roof, intoCar, km, firstStart, starts, hours }) =>
      `Zum Beispiel ${date}: das Dach liefert ${roof}; das Laden beginnt zum ersten Mal um ${firstStart} (Starts an diesem Tag: ${starts}) und bringt ${intoCar} Sonnenstrom ins Auto (${km}) in ${hours} Laden mit Sonnenstrom.`,
    dayNothing: ({ date, roof }) => `Zum Beispiel ${date}: das Dach liefert ${roof}; nichts davon kommt ins Auto.`,
    monthsCaption: 'Tage jeder Art im Monat, und was sie am Tag ins Auto bringen',
    monthsHead: ['Monat', 'Sonnig', 'Wechselhaft', 'Trüb'],
    monthCell: (days, kWhADay) => `${days} ${days === 1 ? 'Tag' : 'Tage'}, ${kWhADay} am Tag`,
    noDays: 'keine',
    bestMonths: (months) => `Das meiste kommt in den Monaten ${months}.`,
    seldomMonths: (months) =>
      `In den Monaten ${months} ist kaum Laden mit Sonnenstrom zu erwarten: laden Sie aus dem Netz, wenn Sie das Auto brauchen.`,
    honest:
      'Ob das Auto zu Hause steht, während die Sonne scheint, zählt so viel wie das Wetter; gerechnet ist mit den Gewohnheiten, die für diesen Haushalt angegeben wurden.',
    trouble: 'Wenn das Laden nicht beginnt',
    troubleSteps: (threshold, delay, pause) => [
      'Ist der Stecker an beiden Enden ganz eingesteckt, und zeigt das Auto an, dass es verbunden ist?',
      'Ist das Auto voll, oder hat es selbst eine Zeitschaltung oder eine Ladegrenze? Schalten Sie diese aus.',
      `Speist das Haus mindestens ${threshold} ein, und das ${delay} lang? Darunter darf das Laden nicht beginnen: auf mehr Sonne warten oder einen großen Verbraucher ausschalten.`,
      `Hat es eben erst aufgehört? Dann ruht es ${pause}.`,
      'Schläft das Auto? Aufsperren, oder ab- und wieder anstecken.',
      'Hält es etwas anderes zurück: Backrohr, Wärmepumpe, ein zweites Auto, eine Grenze des Netzbetreibers?',
      'Brauchen Sie das Auto? Laden Sie von Hand sofort, ohne Sonne.',
      'Beginnt es noch immer nicht, oder hört es zu seltsamen Zeiten auf: Datum und Uhrzeit aufschreiben und die Elektrofachkraft rufen. Nichts öffnen.',
    ],
    never: 'Keine Adapter, keine Verlängerungen',
    neverList: [
      'Nur das Kabel verwenden, das zur Ladestation gehört oder dafür gekennzeichnet ist.',
      'Keine Adapter zwischen Stecker und Dose, keine Verlängerungen, keine Mehrfachdosen, kein aufgerolltes Kabel.',
      'Keinen beschädigten Stecker, kein beschädigtes Kabel und keine Ladestation verwenden, die warm ist, riecht oder unter Wasser stand: ausschalten und die Elektrofachkraft rufen.',
    ],
    record: 'Messprotokoll',
    duties: 'Was der Netzbetreiber wissen muss',
    dutiesHead: ['Pflicht', 'Dieses Haus', 'Quelle', 'Stand der Regel', 'Zu tun'],
    dutiesCaption: (country) =>
      `Regeln, die sich für ${country} finden ließen; sie ändern sich, und die Bedingungen des Netzbetreibers gehen vor`,
    applies: { yes: 'fällt darunter', no: 'nicht', unknown: 'zu klären' },
    checkLocally: 'vor Ort prüfen',
    noDuties: 'Für dieses Land ließ sich keine Regel finden. Vor der Benutzung den Netzbetreiber fragen.',
    noCountry:
      'Es ist kein Land angegeben. Vor der Benutzung den Netzbetreiber fragen, was zu melden ist und was seine Zustimmung braucht.',
    signatures: ['Ort, Datum', 'Befugte Elektrofachkraft', 'Kundin oder Kunde: erklärt und erhalten'],
  },
};

/** Names of the countries whose rules are known. */
export const COUNTRY_NAMES: InEveryLanguage<Readonly<Record<'AT' | 'CH' | 'CZ' | 'DE' | 'GB', string>>> = {
  en: { AT: 'Austria', CH: 'Switzerland', CZ: 'Czechia', DE: 'Germany', GB: 'the United Kingdom' },
  de: { AT: 'Österreich', CH: 'die Schweiz', CZ: 'Tschechien', DE: 'Deutschland', GB: 'das Vereinigte Königreich' },
};
