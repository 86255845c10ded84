import type { PointTally } from '../../simulate/index.ts';
import type { Catalogue } from './catalogue.ts';
import { DE_FORM as f } from './de-form.ts';
import { isWholeYear } from './form.ts';

type ReportPart = Pick<Catalogue, 'answer' | 'money' | 'charts' | 'table' | 'report'>;

const km = (distance: number): string => `${f.fixed(distance, 0)} km`;
const kWh = (energyWh: number): string => `${f.brief(energyWh / 1000)} kWh`;

function counts({ starts, stalls, switches }: PointTally): string {
  return f.listed([
    f.counted(starts, 'Start', 'Starts'),
    f.counted(stalls, 'Abbruch', 'Abbrüchen'),
    ...(switches > 0 ? [f.counted(switches, 'Phasenwechsel', 'Phasenwechseln')] : []),
  ]);
}

/** German: the answer, charts, tables, the report. */
export const DE_REPORT: ReportPart = {
  answer: {
    nothing: (period) => `${period}: Es wurde nichts geladen.`,
    roof: (period, sums, solarShare) =>
      `${period}: Das Dach bringt ${kWh(sums.carPvWh)} ins Auto, ${f.percent(solarShare)} von allem, was es lädt, ` +
      `genug für ${km(sums.pvKm)}, in ${f.brief(sums.solarChargingH)} Solarladestunden.`,
    interruptions: (sums) => {
      const battery = sums.carBatteryWh > 0 ? `, der Hausspeicher ${kWh(sums.carBatteryWh)}` : '';
      return `Geladen wird ${f.brief(sums.chargingH)} Stunden lang, mit ${counts(sums)}; das Netz gibt ${kWh(sums.carGridWh)} dazu${battery}.`;
    },
    atOnce: (sums) =>
      `Bei jeder Rückkehr sofort geladen: ${kWh(sums.carPvWh)} aus PV, ${km(sums.pvKm)}, ` +
      `${f.brief(sums.solarChargingH)} Solarladestunden, und ${kWh(sums.carGridWh)} aus dem Netz.`,
    missed: (sums) =>
      `Achtung: Für ${f.fixed(sums.missedKm, 0)} von ${km(sums.drivenKm)} war die Batterie leer; sie mussten anderswo geladen werden.`,
    period: (from, to) => {
      if (isWholeYear(from, to)) return String(from.year);
      return f.date(from) === f.date(to) ? f.date(from) : `${f.date(from)} bis ${f.date(to)}`;
    },
  },
  money: {
    total: ({ currency, run, atOnce, withoutCars }) =>
      `Geld: ${f.fixed(run.totalCost, 0)} ${currency} für Bezug und Laden unterwegs abzüglich Einspeisung; ` +
      `${f.fixed(atOnce.totalCost, 0)} sofort geladen, ${f.fixed(withoutCars.totalCost, 0)} ohne Auto.`,
    per100Km: (cost, atOnce, currency) =>
      `Das Auto kostet ${f.fixed(cost, 2)} ${currency} je 100 km; ${f.fixed(atOnce, 2)} sofort geladen.`,
    publicUnknown: (energyWh) =>
      `Nicht gezählt: ${kWh(energyWh)} anderswo geladen (tariff.publicPerKWh angeben), daher keine Kosten je 100 km.`,
    publicKnown: (cost, energyWh, currency) =>
      `Davon ${f.fixed(cost, 0)} ${currency} für ${kWh(energyWh)}, anderswo geladen, so viel die Straße brauchte.`,
    stored: (behindWh) =>
      `Am Ende sind im Auto ${kWh(Math.abs(behindWh))} ${behindWh > 0 ? 'weniger' : 'mehr'}, als wenn sofort geladen würde.`,
  },
  charts: {
    pv: 'PV',
    house: 'Haus',
    carFrom: { pv: 'Auto aus PV', battery: 'Auto aus dem Hausspeicher', grid: 'Auto aus dem Netz' },
    from: { pv: 'aus PV', battery: 'aus dem Hausspeicher', grid: 'aus dem Netz' },
    ifAtOnce: (source) => `${source}, sofort geladen`,
    power: 'Leistung, kW',
    localTime: (zone) => `Ortszeit, ${zone}`,
    state: 'Zustand',
    threshold: (thresholdW, phases) =>
      `${f.plain(thresholdW / 1000, 2)} kW Überschuss für ${f.counted(phases, 'Phase', 'Phasen')}`,
    daySums: (sums) =>
      `${f.fixed(sums.carPvWh / 1000, 1)} von ${f.fixed(sums.carWh / 1000, 1)} kWh ins Auto aus PV, ` +
      `${km(sums.pvKm)}, ${f.fixed(sums.solarChargingH, 1)} Solarladestunden; ` +
      `Starts ${sums.starts}, Abbrüche ${sums.stalls}, Phasenwechsel ${sums.switches}`,
    monthSums: (label, sums, solarShare) => {
      const missed = sums.missedKm < 0.5 ? '' : `; ${f.fixed(sums.missedKm, 0)} von ${km(sums.drivenKm)} anderswo geladen`;
      return (
        `${label}: ${kWh(sums.carPvWh)} aus PV (${f.percent(solarShare)} von allem), ` +
        `${km(sums.pvKm)}, ${f.brief(sums.solarChargingH)} Solarladestunden${missed}`
      );
    },
    monthAxis: 'Monat, und die Kilometer, die seine PV-Energie gibt (volle Farbe)',
    energyAxis: 'Energie ins Auto, kWh im Monat',
    atOnceDays: 'Dieselben Tage sofort geladen (blasse Balken)',
    car: (number) => `Auto ${number}`,
  },
  table: {
    month: 'Monat',
    sum: 'Summe',
    own: 'ins Auto',
    beside: 'dieselben Tage sofort geladen',
    pv: 'PV kWh',
    grid: 'Netz kWh',
    battery: 'Sp. kWh',
    km: 'PV km',
    hours: 'Sonne h',
    starts: 'Starts',
    stalls: 'Abbr.',
  },
  report: {
    cautionsHeading: 'Vorweg',
    cautions: [
      'Das sind Schätzungen für das unten genannte Wetter und die Gewohnheiten, kein Versprechen.',
      'Elektrische Arbeiten sind Sache von Fachleuten; örtliche Vorschriften und die des Netzbetreibers gehen vor.',
    ],
    title: (name, period) => `${name}: Solarladen ${period}`,
    household: 'Der Haushalt',
    answer: 'Die Antwort',
    figures: { kwh: 'vom Dach ins Auto', km: 'damit gefahren', hours: 'Solarladestunden' },
    months: 'Monat für Monat',
    monthsChart: 'Energie ins Auto nach Monat und Herkunft, daneben (blass) dieselben Monate sofort geladen',
    monthsCaption: 'Energie ins Auto, nach Monaten',
    atOncePv: 'PV kWh, sofort geladen',
    atOnceGrid: 'Netz kWh, sofort geladen',
    chain: 'Wo die Stunden blieben',
    chainIntro:
      'Von den Stunden, in denen das Dach liefert, bis zu den Solarladestunden: Jede Minute fällt in eine Zeile, und jede kursive Zeile wird abgezogen. Stunden mit halber PV zählen halb.',
    chainCaption: (point) => `Wo Stunden und PV-Energie blieben${point === null ? '' : `: ${point}`}`,
    days: 'Drei Tage, erzählt',
    daysIntro:
      'Von allen Tagen, an denen das Dach etwas ins Auto brachte, sind neun von zehn besser als der schlechte und einer von zehn besser als der gute.',
    dayKinds: { good: 'Ein guter Tag', usual: 'Ein gewöhnlicher Tag', poor: 'Ein schlechter Tag' },
    dayChart: (day) => `PV, Haus und Auto am ${day}, darunter der Zustand des Ladepunkts`,
    dayTable: (day) => `${day}, Stundenmittel in kW`,
    hour: 'Stunde',
    timeHead: 'Zeit',
    happened: 'was geschah, und warum',
    whatIf: 'Was es geändert hätte',
    whatIfCaption: (period) => `${period}, mit einer Änderung`,
    assumptions: 'Was dabei vorausgesetzt ist',
    sources: 'Woher die Verfahren stammen',
    showTable: 'die Zahlen hinter diesem Bild',
    rank: 'Rang',
    cost: (currency) => `Kosten, ${currency}`,
    costRank: 'Rang nach Kosten, das Auto am Ende gleich voll',
    madeBy: (version) =>
      `Erstellt mit Sixamp ${version}. Stunden schmeicheln dem langsamen Laden, darum ordnet hier nichts nach ihnen.`,
  },
};
