import { W_PER_KW, WH_PER_KWH } from '../../base/index.ts';
import type { PhaseRules } from '../../charging/index.ts';
import type { Control, Scenario } from '../../scenario/index.ts';
import type { Catalogue, WeeklyUsage } from './catalogue.ts';
import { clockOfDay } from './clock-of-day.ts';
import { DE_FORM as f } from './de-form.ts';

type MeaningPart = Pick<Catalogue, 'meaning' | 'assumptions'>;

const onBuilding = (phases: readonly number[]): string => `an Gebäudephase ${f.listed(phases.map(String))}`;
const kWhWhole = (wh: number): string => `${f.plain(wh / WH_PER_KWH, 0)} kWh`;
const kW = (w: number): string => f.plain(w / W_PER_KW, 2);
const onPhases = (n: number): string => (n === 1 ? 'einer Phase' : `${f.counts[n]} Phasen`);

/** A threshold as the meter shows it: what surplus must cover, with the reserve on top. */
function threshold(way: PhaseRules, control: Control): string {
  const held = control.reserveW > 0 ? ` (mit Reserve ${f.kw(way.thresholdW + control.reserveW)} Einspeisung)` : '';
  const share = way.thresholdW < way.minW ? `, ${f.percent(way.thresholdW / way.minW)} von ${f.kw(way.minW)}` : '';
  return `${f.kw(way.thresholdW)}${held}${share}`;
}

const trip = ({ weekdays, leaveS, returnS, km }: WeeklyUsage['trips'][number]): string =>
  `${weekdays.map((day) => f.shortWeekdays[day]).join(' ')} ${clockOfDay(leaveS)} bis ${clockOfDay(returnS)} (${f.plain(km, 0)} km)`;

/** What breaks the week, in words. */
function exceptions({ exceptions: { longTrips, daysOff, holidays }, plugInBelowSoc }: WeeklyUsage): string {
  const said = [
    ...(longTrips === null
      ? []
      : [`längeren Fahrten von ${f.plain(longTrips.km, 0)} km (${f.plain(longTrips.perMonth, 2)} im Monat)`]),
    ...(daysOff.length === 0 ? [] : [f.counted(daysOff.length, 'freiem Tag', 'freien Tagen')]),
    ...(holidays.length === 0 ? [] : [f.counted(holidays.length, 'Urlaub', 'Urlauben')]),
  ];
  const plugged = plugInBelowSoc < 1 ? `; angesteckt nur unter ${f.percent(plugInBelowSoc)}` : '';
  return (said.length === 0 ? '' : `, mit ${f.listed(said)}`) + plugged;
}

function battery({ capacityWh, maxChargeW, maxDischargeW, priority, dischargeToCar }: NonNullable<Scenario['battery']>): string {
  const first = {
    battery: 'er nimmt Überschuss vor dem Auto',
    car: 'das Auto nimmt Überschuss vor ihm',
    until: `bis ${f.percent(priority.kind === 'until' ? priority.untilSoc : 0)} nimmt er Überschuss vor dem Auto`,
  }[priority.kind];
  const gives = dischargeToCar ? 'er speist auch das Auto' : 'er speist das Auto nicht';
  return `Hausspeicher: ${kW(capacityWh)} kWh, ${kW(maxChargeW)} kW hinein, ${kW(maxDischargeW)} kW heraus; ${first}, und ${gives}.`;
}

function limits(supply: Scenario['supply']): string {
  const said = [
    ...(supply.imbalanceLimitA === null ? [] : [`höchstens ${f.amps(supply.imbalanceLimitA)} Schieflast`]),
    ...(supply.exportLimitW === null ? [] : [`höchstens ${kW(supply.exportLimitW)} kW Einspeisung`]),
    ...(supply.contractW === null ? [] : [`${kW(supply.contractW)} kW Bezug vereinbart`]),
    ...(supply.dimming === null ? [] : [`Lader zeitweise auf ${kW(supply.dimming.toW)} kW begrenzt`]),
    ...(supply.metering === 'net' ? [] : ['der Zähler zählt jede Phase für sich']),
  ];
  return said.length === 0 ? '' : `; ${f.listed(said)}`;
}

/** German: what a scenario means, and what a run takes for granted. */
export const DE_MEANING: MeaningPart = {
  meaning: {
    place: ({ site, grid, zone }, first) => {
      const north = `${f.plain(Math.abs(site.latitudeDeg), 2)}° ${site.latitudeDeg < 0 ? 'S' : 'N'}`;
      const east = `${f.plain(Math.abs(site.longitudeDeg), 2)}° ${site.longitudeDeg < 0 ? 'W' : 'O'}`;
      const days = f.counted(grid.dayMs.length, 'Tag', 'Tage');
      return `Ort und Zeit: ${north}, ${east}, ${zone.name}; ${days} ab ${f.date(first)} in Schritten von ${f.plain(grid.stepS, 0)} s.`;
    },
    roof: ({ arrays, inverter, phases }) => {
      const planes = arrays.map((a) => `${kW(a.peakW)} kWp nach ${f.towards(a.azimuthDeg)}, ${f.plain(a.tiltDeg, 0)}° geneigt`);
      return `Dach: ${f.listed(planes)}; Wechselrichter ${kW(inverter.ratedW)} kW ${onBuilding(phases)}.`;
    },
    roofMeasured: (file, phases) => `Dach: gemessen in ${file}, ${onBuilding(phases)}.`,
    houseProfile: ({ annualWh, file }) =>
      `Haus: ${kWhWhole(annualWh)} im Jahr nach dem Standardprofil in ${file}: das Mittel vieler Häuser, ohne die Spitzen eines einzelnen.`,
    houseSynthetic: ({ annualWh, people, hotWaterWh, heatPumpWh }) => {
      const more = [
        ...(hotWaterWh > 0 ? [`${kWhWhole(hotWaterWh)} für Warmwasser`] : []),
        ...(heatPumpWh > 0 ? [`${kWhWhole(heatPumpWh)} für die Wärmepumpe`] : []),
      ];
      const onTop = more.length > 0 ? `; dazu ${f.listed(more)}` : '';
      return `Haus: ${kWhWhole(annualWh)} im Jahr ohne das Auto, ${f.counted(people, 'Person', 'Personen')}${onTop}; die Minuten sind erfunden.`;
    },
    houseMeasured: (file, isMeter, spikesEveryS) => {
      const spikes = spikesEveryS === null ? '' : `, alle ${f.lasting(spikesEveryS)}; die Spitzen in den Minuten sind erfunden`;
      return `Haus: ${isMeter ? `was den Zähler in ${file} ausgleicht` : `gemessen in ${file}`}${spikes}.`;
    },
    battery,
    diverter: ({ maxW, dailyWh, priority }) =>
      `Heizstab: bis ${kW(maxW)} kW Überschuss, ${kWhWhole(dailyWh)} am Tag, ${priority === 'car' ? 'nach' : 'vor'} dem Auto.`,
    connection: (supply) =>
      `Anschluss: ${f.onPhases(supply.phases)} mit ${f.plain(supply.voltageV, 0)} V, Hauptsicherung ${f.amps(supply.mainFuseA)} je Phase${limits(supply)}.`,
    at: (name) => `Bei ${name}: `,
    takes: ({ least, most, switches }) => {
      const ways = (switches ? [least, most] : [least]).map(
        (way) =>
          `auf ${onPhases(way.n)} ${f.kw(way.minW)} (${f.amps(way.minA)}) bis ${f.kw(way.wPerA * way.maxA)} (${f.amps(way.maxA)})`,
      );
      return `Das Auto nimmt ${f.listed(ways)}; unter ${f.amps(least.minA)} nimmt es gar nichts.`;
    },
    gap: ({ least, most }) =>
      `Zwischen ${f.kw(least.wPerA * least.maxA)} und ${f.kw(most.minW)} geht der Rest des Überschusses ins Netz: Auf ${onPhases(least.n)} ist das Auto ausgelastet, für ${f.onPhases(most.n)} reicht es nicht.`,
    atOnce: 'Das Laden beginnt, sobald das Auto angesteckt ist, ob Sonne oder nicht.',
    follows: ({ least, most, switches }, control) => {
      const onLeast = switches ? ` auf ${onPhases(least.n)}` : '';
      const start = `Das Laden beginnt${onLeast}, wenn der Überschuss ${f.lasting(control.startDelayS)} lang ${threshold(least, control)} erreicht`;
      const up = switches
        ? `, geht auf ${f.onPhases(most.n)}, wenn er ${f.lasting(control.switchUpDelayS)} lang ${threshold(most, control)} erreicht`
        : '';
      return `${start}${up}, und bricht ab, wenn er ${f.lasting(control.stopDelayS)} lang fehlt.`;
    },
    always: 'Das Auto ist immer angesteckt und fährt nie.',
    stays: ({ stays }) =>
      `${f.counted(stays.length, 'Aufenthalt', 'Aufenthalte')} aus einer Datei, ${f.plain(
        stays.reduce((sum, stay) => sum + stay.km, 0),
        0,
      )} km.`,
    weekly: (usage, kmPerWeek, kmPerYear) =>
      `Angesteckt außer ${f.listed(usage.trips.map(trip))}; ${f.plain(kmPerWeek, 0)} km in der Woche, etwa ${f.plain(kmPerYear, 0)} km im Jahr${exceptions(usage)}.`,
    neverStarts: (highestW, neededW) =>
      `Überschussladen kann nie beginnen: Das Dach liefert höchstens ${f.kw(highestW)}, und selbst wenn das Haus nichts nimmt, braucht es ${f.kw(neededW)}.`,
    neverMorePhases: (highestW, neededW, n) =>
      `Es kann für Überschuss nie auf ${f.onPhases(n)} gehen: Das Dach liefert höchstens ${f.kw(highestW)}, und selbst wenn das Haus nichts nimmt, braucht es ${f.kw(neededW)}.`,
    fuseHolds: (fuseA, maxA) =>
      `Die Hauptsicherung mit ${f.amps(fuseA)} erlaubt bestenfalls ${f.amps(fuseA)}; das Auto könnte ${f.amps(maxA)} nehmen.`,
  },
  assumptions: {
    steps: (stepS) => `Leistung und Strom sind Mittelwerte über Schritte von ${f.plain(stepS, 3)} s.`,
    pvMeasured: 'Die PV-Leistung ist gemessen.',
    weatherInvented: (seed) =>
      `Die PV-Leistung kommt aus erfundenem Wetter (Startzahl ${seed}), das die Monatssummen des Szenarios einhält.`,
    weatherMeasured: (everyMin, cloudsSeed) => {
      if (everyMin === null) return 'Die PV-Leistung ist aus der Strahlung in der Wetterdatei berechnet.';
      const means = `Die PV-Leistung ist aus der Strahlung in der Wetterdatei berechnet, Mitteln über ${f.plain(everyMin, 1)} Minuten`;
      return cloudsSeed === null
        ? `${means}, die so gehalten werden: Wolken, die darin vorüberziehen, fehlen.`
        : `${means}; die Wolken in ihren Minuten sind erfunden (Startzahl ${cloudsSeed}) und halten die Mittel ein.`;
    },
    noWeather: 'Es gibt kein Wetter.',
    houseInvented: (seed, hasHeatPump) =>
      `Die Last des Hauses ist erfunden (Startzahl ${seed}) und hält ihre Jahresenergie ein${hasHeatPump ? '; die Wärmepumpe folgt der Jahreszeit, nicht den Tagen dieses Wetters' : ''}.`,
    houseProfile:
      'Die Last des Hauses ist ein Standardprofil, das Mittel vieler Häuser: Ohne Spitzen sieht der Überschuss ruhiger aus, als er ist.',
    houseMeasured: (everyMin, spikesSeed) => {
      if (everyMin === null) return 'Die Last des Hauses ist gemessen.';
      const held = `in Mitteln über ${f.plain(everyMin, 1)} Minuten`;
      return spikesSeed === null
        ? `Die Last des Hauses ist gemessen ${held}, die so gehalten werden.`
        : `Die Last des Hauses ist gemessen ${held}; die Minuten darin sind erfunden (Startzahl ${spikesSeed}) und halten ihre Energie ein.`;
    },
    always: ({ name }) => `Bei ${name} ist das Auto immer angesteckt und fährt nie.`,
    weekly: ({ name }) => `Bei ${name} kommen die Fahrten jede Woche wieder, vom Zufall verschoben (mit fester Startzahl).`,
    km: 'Kilometer aus PV sind die PV-Energie, die in der Batterie ankam, geteilt durch den Verbrauch des Autos.',
    notModelled:
      'Nicht nachgebildet: Spannungsanhebung und -abfall, Blindleistung, Neutralleiterstrom und Oberschwingungen, der Messverzug innerhalb eines Schritts.',
    estimates: 'Ergebnisse sind Schätzungen für ein Wetterjahr, kein Versprechen für ein anderes.',
  },
};
