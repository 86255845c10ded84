import type { InEveryLanguage } from './language.ts';

/** On everything that comes out of this folder. */
export const NOT_A_RELEASE: InEveryLanguage<readonly string[]> = {
  en: [
    'Records what was entered. Not a test, not a release.',
    'No vehicle is connected until a licensed electrician has tested the station and remedied defects.',
  ],
  de: [
    'Gibt wieder, was eingetragen wurde. Keine Prüfung, keine Freigabe.',
    'Kein Fahrzeug wird angeschlossen, bevor eine befugte Elektrofachkraft die Ladestation geprüft hat und Mängel behoben sind.',
  ],
};

/** Beside every verdict on the order of conductors. */
export const WIRING_CAUTION: InEveryLanguage<readonly string[]> = {
  en: [
    'Says nothing about neutral, protective conductor or tests.',
    'Before anyone opens the station or the distribution board: isolate, lock, prove dead. After any change: retest.',
  ],
  de: [
    'Sagt nichts über Neutralleiter, Schutzleiter und Prüfungen.',
    'Bevor jemand Ladestation oder Verteiler öffnet: freischalten, gegen Wiedereinschalten sichern, Spannungsfreiheit feststellen. Nach jeder Änderung: neu prüfen.',
  ],
};

/** Beside every sum about a cable. */
export const CABLE_CAUTION: InEveryLanguage<readonly string[]> = {
  en: [
    'Voltage drop and loss only. Says nothing about ampacity, protection against overload and fault, or loop impedance: the electrician who is responsible sizes the circuit.',
  ],
  de: [
    'Nur Spannungsfall und Verluste. Sagt nichts über Strombelastbarkeit, Schutz bei Überlast und Fehler oder Schleifenimpedanz: den Stromkreis bemisst die verantwortliche Elektrofachkraft.',
  ],
};

/** Heading of the cautions. */
export const CAUTIONS_HEADING: InEveryLanguage = { en: 'Cautions', de: 'Hinweise zur Sicherheit' };
