import type { InEveryLanguage } from './language.ts';
import type { PilotState } from './pilot-levels.ts';
import type { Cause, LineVerdict, Quantity } from './pilot-lines.ts';
import type { SafetyLine } from './pilot-record.ts';

/** All words of a test record in one language. */
export interface PilotWords {
  readonly title: string;
  readonly noOverall: string;
  readonly facts: Readonly<Record<'station' | 'place' | 'date' | 'testedBy' | 'instrument' | 'setCurrentA', string>>;
  readonly head: readonly [line: string, measured: string, published: string, verdict: string];
  readonly safetyHead: readonly [line: string, stated: string];
  readonly pilotTable: string;
  readonly proximityTable: string;
  readonly safetyTable: string;
  readonly states: Readonly<Record<PilotState, string>>;
  readonly quantities: Readonly<Record<Quantity, string>>;
  readonly verdicts: Readonly<Record<LineVerdict, string>>;
  readonly contactor: Readonly<Record<'open' | 'closed', string>>;
  readonly causes: Readonly<Record<Cause, string>>;
  readonly causesHeading: string;
  readonly safety: Readonly<Record<SafetyLine, string>>;
  readonly stated: string;
  readonly offers: (currentA: string) => string;
  readonly offer: Readonly<Record<'digital' | 'steady' | 'none', string>>;
  readonly proximity: string;
  readonly proximityCode: (cableA: string) => string;
  readonly noCode: string;
  readonly cable: (cableA: string) => string;
  readonly anyCode: string;
  readonly remarks: string;
  readonly signatures: readonly [place: string, name: string];
  /** Published values that rest on memory only. */
  readonly fromMemory: readonly string[];
  readonly finePrint: (fromMemory: string) => string;
  readonly seen: string;
}

/** Words of a test record. */
export const PILOT_WORDS: InEveryLanguage<PilotWords> = {
  en: {
    title: 'Pilot signal: record of measurements',
    noOverall: 'Each line is held against the published level. There is no overall result.',
    facts: {
      station: 'Station',
      place: 'Place',
      date: 'Date',
      testedBy: 'Measured by',
      instrument: 'Instrument, number',
      setCurrentA: 'Current the station was set to (A)',
    },
    head: ['Line', 'Measured', 'Published', 'Against it'],
    safetyHead: ['Line', 'As stated by the electrician'],
    pilotTable: 'Pilot signal at the station',
    proximityTable: 'Cable coding',
    safetyTable: 'Safety lines, recorded as stated, not judged',
    states: {
      A: 'A, nothing plugged in',
      B: 'B, vehicle plugged in',
      C: 'C, vehicle ready',
      D: 'D, ready, ventilation asked for',
      E: 'E, pilot shorted to protective conductor',
      F: 'F, station not available',
    },
    quantities: {
      voltageV: 'level (V)',
      lowV: 'lower level (V)',
      dutyPercent: 'duty cycle (%)',
      frequencyHz: 'frequency (Hz)',
      contactor: 'contactor',
    },
    verdicts: { within: 'within', outside: 'outside', 'not-measured': 'not measured', 'not-judged': 'recorded' },
    contactor: { open: 'open', closed: 'closed' },
    causesHeading: 'What a line that is outside usually means',
    causes: {
      'idle-high': 'Level too high with nothing plugged in: the station’s own supply, or the instrument’s reference point.',
      'idle-low':
        'Level too low with nothing plugged in: something loads the pilot conductor (moisture, damaged cable), or the station’s source resistor.',
      'loop-open':
        'Level too high with a vehicle plugged in: the vehicle’s resistor is not seen. Pilot contact, protective conductor, or the plug not fully home.',
      'loop-leaks':
        'Level too low with a vehicle plugged in: an extra load on the pilot conductor (moisture, damaged cable), or a tester left in a ready state.',
      'ready-not-seen':
        'Level too high in the ready state: the second resistor is not switched in, or a contact in the pilot circuit has resistance.',
      'resistors-low':
        'Level too low in the ready state: wrong resistor, moisture, or a pilot conductor near a short to the protective conductor.',
      diode:
        'Lower level not at −12 V: diode in the vehicle or tester missing, shorted or reversed, or the station’s negative supply.',
      'fault-level':
        'Level not as it should be in this state: the station’s fault handling, or the instrument’s reference point.',
      generator: 'Frequency off: the station’s generator.',
      setting:
        'Duty cycle does not fit the current that the station was set to: setting, load control, or a limit from cable coding.',
      'no-offer': 'A duty cycle at which a vehicle must not charge: setting, load control, or the station in fault.',
      welded: 'Contactor closed where it should be open: stop, isolate. Welded contact or faulty control.',
      'does-not-close':
        'Contactor stays open though the vehicle is ready: locking of the plug, a protective device, load control, or the control of the station.',
      'cable-code':
        'Resistor does not fit what is written on the cable: wrong or damaged cable, or a corroded contact. Take it out of use.',
    },
    safety: {
      protectiveConductor: 'Continuity of the protective conductor',
      residualCurrentDevice: 'Residual-current device: test',
      insulation: 'Insulation resistance',
      phaseSequence: 'Phase sequence',
      earthing: 'Earthing',
      brokenNeutral: 'Protection against a broken neutral',
    },
    stated: 'as stated',
    offers: (currentA) => `offers ${currentA} A per phase`,
    offer: {
      digital: 'agreed on by data',
      steady: 'no square wave',
      none: 'charging not allowed',
    },
    proximity: 'Resistor, proximity contact to protective conductor (Ω)',
    proximityCode: (cableA) => `stands for a ${cableA} A cable`,
    noCode: 'stands for no cable',
    cable: (cableA) => `cable marked ${cableA} A`,
    anyCode: 'one of the coded ranges',
    remarks: 'Remarks',
    signatures: ['Place, date', 'Name and signature of the licensed electrician'],
    fromMemory: [
      'tolerance of the levels A, E and F',
      'tolerance of the lower level',
      'tolerances of duty cycle and frequency',
      'ranges of the resistors, and 1500 Ω for 13 A',
    ],
    finePrint: (fromMemory) =>
      `Published levels: IEC 61851-1 Annex A and B, read in texts that cite it, not in the standard itself. From memory, not verified: ${fromMemory}. Current from the duty cycle: 0.6 A per percent from 10 to 85 %, 2.5 A per percent above 64 from there to 96 %.`,
    seen: 'Seen',
  },
  de: {
    title: 'Pilotsignal: Messprotokoll',
    noOverall: 'Jede Zeile wird am veröffentlichten Pegel gemessen. Ein Gesamtergebnis gibt es nicht.',
    facts: {
      station: 'Ladestation',
      place: 'Ort',
      date: 'Datum',
      testedBy: 'Gemessen von',
      instrument: 'Messgerät, Nummer',
      setCurrentA: 'Eingestellter Strom der Ladestation (A)',
    },
    head: ['Zeile', 'Gemessen', 'Veröffentlicht', 'Vergleich'],
    safetyHead: ['Zeile', 'Angabe der Elektrofachkraft'],
    pilotTable: 'Pilotsignal an der Ladestation',
    proximityTable: 'Kodierung des Kabels',
    safetyTable: 'Sicherheit: wiedergegeben wie angegeben, nicht bewertet',
    states: {
      A: 'A, nichts angesteckt',
      B: 'B, Fahrzeug angesteckt',
      C: 'C, Fahrzeug bereit',
      D: 'D, bereit, Lüftung verlangt',
      E: 'E, Pilotleiter gegen Schutzleiter kurzgeschlossen',
      F: 'F, Ladestation nicht verfügbar',
    },
    quantities: {
      voltageV: 'Pegel (V)',
      lowV: 'unterer Pegel (V)',
      dutyPercent: 'Tastgrad (%)',
      frequencyHz: 'Frequenz (Hz)',
      contactor: 'Schütz',
    },
    verdicts: { within: 'innerhalb', outside: 'außerhalb', 'not-measured': 'nicht gemessen', 'not-judged': 'aufgezeichnet' },
    contactor: { open: 'offen', closed: 'geschlossen' },
    causesHeading: 'Was eine Zeile außerhalb meist bedeutet',
    causes: {
      'idle-high': 'Pegel zu hoch, obwohl nichts angesteckt ist: Versorgung der Ladestation oder Bezugspunkt des Messgeräts.',
      'idle-low':
        'Pegel zu niedrig, obwohl nichts angesteckt ist: etwas belastet den Pilotleiter (Feuchte, beschädigtes Kabel), oder der Vorwiderstand der Ladestation.',
      'loop-open':
        'Pegel zu hoch bei angestecktem Fahrzeug: der Widerstand des Fahrzeugs wird nicht gesehen. Pilotkontakt, Schutzleiter oder Stecker nicht ganz eingesteckt.',
      'loop-leaks':
        'Pegel zu niedrig bei angestecktem Fahrzeug: zusätzliche Last am Pilotleiter (Feuchte, beschädigtes Kabel), oder ein Prüfadapter in Stellung „bereit“.',
      'ready-not-seen':
        'Pegel zu hoch im Zustand „bereit“: der zweite Widerstand wird nicht zugeschaltet, oder ein Übergangswiderstand im Pilotkreis.',
      'resistors-low':
        'Pegel zu niedrig im Zustand „bereit“: falscher Widerstand, Feuchte, oder Pilotleiter nahe am Schluss zum Schutzleiter.',
      diode:
        'Unterer Pegel nicht bei −12 V: Diode im Fahrzeug oder Prüfadapter fehlt, ist durchlegiert oder verpolt, oder die negative Versorgung der Ladestation.',
      'fault-level':
        'Pegel in diesem Zustand nicht wie vorgesehen: Fehlerbehandlung der Ladestation oder Bezugspunkt des Messgeräts.',
      generator: 'Frequenz weicht ab: Generator der Ladestation.',
      setting:
        'Tastgrad passt nicht zum eingestellten Strom: Einstellung, Lastmanagement oder eine Grenze durch die Kabelkodierung.',
      'no-offer':
        'Tastgrad, bei dem ein Fahrzeug nicht laden darf: Einstellung, Lastmanagement oder Ladestation im Fehlerzustand.',
      welded:
        'Schütz geschlossen, wo er offen sein müsste: anhalten, freischalten. Verschweißter Kontakt oder fehlerhafte Steuerung.',
      'does-not-close':
        'Schütz bleibt offen, obwohl das Fahrzeug bereit ist: Verriegelung des Steckers, ein Schutzgerät, Lastmanagement oder die Steuerung der Ladestation.',
      'cable-code':
        'Widerstand passt nicht zur Aufschrift des Kabels: falsches oder beschädigtes Kabel oder korrodierter Kontakt. Außer Betrieb nehmen.',
    },
    safety: {
      protectiveConductor: 'Durchgängigkeit des Schutzleiters',
      residualCurrentDevice: 'Fehlerstrom-Schutzeinrichtung: Prüfung',
      insulation: 'Isolationswiderstand',
      phaseSequence: 'Drehfeld',
      earthing: 'Erdung',
      brokenNeutral: 'Schutz bei Neutralleiterbruch',
    },
    stated: 'wie angegeben',
    offers: (currentA) => `bietet ${currentA} A je Außenleiter an`,
    offer: {
      digital: 'wird über Daten vereinbart',
      steady: 'kein Rechtecksignal',
      none: 'Laden nicht erlaubt',
    },
    proximity: 'Widerstand, Proximity-Kontakt gegen Schutzleiter (Ω)',
    proximityCode: (cableA) => `steht für ein Kabel mit ${cableA} A`,
    noCode: 'steht für kein Kabel',
    cable: (cableA) => `Kabel mit Aufschrift ${cableA} A`,
    anyCode: 'einer der kodierten Bereiche',
    remarks: 'Bemerkungen',
    signatures: ['Ort, Datum', 'Name und Unterschrift der befugten Elektrofachkraft'],
    fromMemory: [
      'Toleranz der Pegel A, E und F',
      'Toleranz des unteren Pegels',
      'Toleranzen von Tastgrad und Frequenz',
      'Bereiche der Widerstände und 1500 Ω für 13 A',
    ],
    finePrint: (fromMemory) =>
      `Veröffentlichte Pegel: IEC 61851-1 Anhang A und B, gelesen in Texten, die sie anführen, nicht in der Norm selbst. Aus dem Gedächtnis, nicht überprüft: ${fromMemory}. Strom aus dem Tastgrad: 0,6 A je Prozent von 10 bis 85 %, darüber bis 96 % 2,5 A je Prozent über 64.`,
    seen: 'Beobachtet',
  },
};
