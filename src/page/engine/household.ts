import {
  type Checked,
  checkScenario,
  completeScenario,
  failed,
  filesOf,
  fileUnreadable,
  type HouseLoad,
  type house,
  houseLoad,
  type Issue,
  type KeepPresence,
  modulesOf,
  type Prices,
  type Profiles,
  passed,
  periodMs,
  pricesOf,
  roofW,
  type Scenario,
  type ScenarioInput,
  type Stages,
  skyInStages,
  skyOver,
  sunOver,
  timeZoneUnknown,
  yieldsUnder,
} from '../../index.ts';
import { zoneOfPlatform } from '../../report/browser.ts';
import type { Draft } from '../draft.ts';
import { Kept } from './kept.ts';
import type { DataFile } from './protocol.ts';

type Yield = ReturnType<typeof yieldsUnder>[number];
type Sky = ReturnType<typeof skyOver>;

/** A draft that came through the door. */
export interface Entered {
  /** Files as they were when it came through: work that goes on while others are dropped is work on these. */
  readonly filesVersion: number;
  /** The draft as text, and those files: two with the same key are the same household. */
  readonly key: string;
  readonly input: ScenarioInput;
  readonly scenario: Scenario;
  readonly warnings: readonly Issue[];
}

/**
 * Takes drafts through the door and makes their profiles, each part only when something that decides it has changed: a touch of
 * the charger leaves sun, roof and house as they are.
 */
export class Households {
  private files: ReadonlyMap<string, string> = new Map();
  private filesVersion = 0;
  private readonly entered: Kept<Checked<Entered>>;
  private readonly zones = new Kept<ReturnType<typeof zoneOfPlatform>>(4);
  private readonly suns = new Kept<ReturnType<typeof sunOver>>(1);
  private readonly skies: Kept<Sky>;
  private readonly years: number;
  private readonly yields: Kept<Yield | null>;
  private readonly roofs: Kept<Float64Array>;
  private readonly houses: Kept<HouseLoad>;
  /** What is spread over a house in a calendar year: a period touches one, or two. */
  private readonly sheets = new Kept<house.Sheet>(2, ({ valuesW }) => {
    this.room.sheet = valuesW;
  });
  /** What fell out of these is written over by the next: fresh memory costs a browser more than the sums that fill it. */
  private readonly room: {
    yield?: Yield | undefined;
    roof?: Float64Array | undefined;
    house?: HouseLoad | undefined;
    sheet?: Float64Array | undefined;
  } = {};
  private readonly prices = new Kept<Prices>(2);
  /** Of as many cars as a household may have, as they are and as they were. */
  private readonly presences = new Kept<ReturnType<Parameters<KeepPresence>[1]>>(12);
  /** The air that the cars drive in; the rest of a sky takes five times the room, and is made again where what its planes yield is not kept. */
  private readonly airs: Kept<Float64Array | null>;

  /**
   * @param years    weather years whose roofs are kept
   * @param isShown  whether a run that is still looked at has this profile
   */
  constructor(years: number, isShown: (profile: Float64Array) => boolean) {
    this.entered = new Kept(years + 4);
    this.years = years;
    // A sky holds thirty megabytes, a house seventeen. Of many years each has its own once, and none is looked at again.
    const atOnce = years > 1 ? 1 : 2;
    this.skies = new Kept(atOnce);
    this.yields = new Kept(years, (plane) => {
      this.room.yield = plane ?? undefined;
    });
    this.roofs = new Kept(years + 1, (roof) => {
      if (!isShown(roof)) this.room.roof = roof;
    });
    this.houses = new Kept(atOnce, (house) => {
      if (!isShown(house.loadW)) this.room.house = house;
    });
    this.airs = new Kept(years + 1);
  }

  takeFiles(files: readonly DataFile[]): void {
    // A map of its own each time: what was read from a file is kept by the map that it came in, and a mended file has the name of the old one.
    this.files = new Map([...this.files, ...files.map(({ name, text }) => [name, text] as const)]);
    this.filesVersion++;
    this.entered.clear();
  }

  enter(draft: Draft): Checked<Entered> {
    const key = `${this.filesVersion} ${JSON.stringify(draft)}`;
    return this.entered.get(key, () => this.throughTheDoor(draft, key));
  }

  private throughTheDoor(draft: Draft, key: string): Checked<Entered> {
    const checked = checkScenario(draft);
    if (!checked.ok) return checked;
    const input = checked.value;
    const missing = filesOf(input).filter(({ file }) => !this.files.has(file));
    const issues = missing.map((request) => fileUnreadable(request, 'it has not been dropped on this page'));
    const { fromMs, toMs } = periodMs(input);
    const zone = this.zones.get(`${input.site.timeZone} ${fromMs} ${toMs}`, () =>
      zoneOfPlatform(input.site.timeZone, fromMs, toMs),
    );
    if (zone === null) issues.push(timeZoneUnknown(input));
    if (zone === null || issues.length > 0) return failed(issues);
    const whole = completeScenario(input, this.files, zone);
    if (!whole.ok) return whole;
    const warnings = [...checked.warnings, ...whole.warnings];
    return passed({ filesVersion: this.filesVersion, key, input, scenario: whole.value, warnings });
  }

  profiles(entered: Entered): Profiles & { readonly airC: Float64Array | null } {
    return { pvW: this.roofOf(entered), ...this.houseOf(entered), airC: this.airOf(entered) };
  }

  /** Makes what a household lacks of its profiles, in stages. */
  *prepare(entered: Entered): Stages<void> {
    const { scenario } = entered;
    const keys = keysOf(entered);
    const isLit = this.roofs.has(keys.roof) || keys.yields.every((key) => this.yields.has(key));
    if (!this.skies.has(keys.sky) && !(isLit && this.airs.has(keys.sky))) {
      const sky = yield* skyInStages(scenario, () => this.sunOf(scenario));
      this.skies.get(keys.sky, () => sky);
      yield;
      if (!isLit) sky?.glow();
    }
    yield;
    this.roofOf(entered);
    this.airOf(entered);
    yield;
    this.houseOf(entered);
    yield;
  }

  private roofOf(entered: Entered): Float64Array {
    const { roof } = keysOf(entered);
    return this.roofs.get(roof, () => roofW(entered.scenario, this.yieldsOf(entered), this.take('roof')));
  }

  private airOf(entered: Entered): Float64Array | null {
    const { sky } = keysOf(entered);
    return this.airs.get(sky, () => this.skyOf(entered.scenario, sky)?.weather.airC ?? null);
  }

  private houseOf(entered: Entered): HouseLoad {
    const { house } = keysOf(entered);
    return this.houses.get(house, () =>
      houseLoad(entered.scenario, this.take('house'), (key, make) => this.sheets.get(key, () => make(this.take('sheet')))),
    );
  }

  /** When the cars of a household are there, each car worked out anew only when it, its usage, the period or the air is another. */
  presencesOf(entered: Entered): KeepPresence {
    const { sky } = keysOf(entered);
    const { chargePoints } = entered.input;
    return (point, make) => {
      const { usage, vehicle } = chargePoints[point] ?? {};
      return this.presences.get(`${sky} ${JSON.stringify([usage, vehicle])}`, make);
    };
  }

  pricesOf({ input, scenario, filesVersion }: Entered): Prices | null {
    const { tariff } = scenario;
    const key = `${filesVersion} ${JSON.stringify([input.site, input.period, input.tariff])}`;
    return tariff === null ? null : this.prices.get(key, () => pricesOf(tariff, scenario.grid));
  }

  /** Room to write in, handed out once. */
  private take<Name extends keyof Households['room']>(name: Name): Households['room'][Name] {
    const room = this.room[name];
    this.room[name] = undefined;
    return room;
  }

  private skyOf(scenario: Scenario, key: string): Sky {
    return this.skies.get(key, () => skyOver(scenario, () => this.sunOf(scenario)));
  }

  private sunOf(scenario: Scenario): ReturnType<typeof sunOver> {
    const { latitudeDeg, longitudeDeg, elevationM } = scenario.site;
    const { startMs, steps, stepS } = scenario.grid;
    const key = [latitudeDeg, longitudeDeg, elevationM, startMs, steps, stepS].join(' ');
    return this.suns.get(key, () => sunOver(scenario));
  }

  private yieldsOf(entered: Entered): ReturnType<typeof yieldsUnder> {
    const { scenario } = entered;
    const { sky, yields } = keysOf(entered);
    // Of a roof with some planes as they are and as they were, of one with one or two in all years: what falls out belongs to neither.
    this.yields.keep(yields.length * (yields.length > 2 ? 2 : this.years + 1));
    return yieldsUnder(
      () => this.skyOf(scenario, sky),
      scenario,
      (array, make) => this.yields.get(yields[array] ?? '', () => make(this.take('yield'))),
    );
  }
}

/** What decides each part of a household's profiles. */
function keysOf({ input, filesVersion }: Entered) {
  const { site, period, weather, pv, household, grid } = input;
  const when = `${filesVersion} ${JSON.stringify([site, period, grid.phases])}`;
  const sky = `${when} ${JSON.stringify(weather)}`;
  const planes = pv.source === 'arrays' ? pv.arrays.map(modulesOf) : [];
  return {
    sky,
    roof: `${sky} ${JSON.stringify(pv)}`,
    yields: planes.map((plane) => `${sky} ${JSON.stringify(plane)}`),
    house: `${when} ${JSON.stringify(household)}`,
  };
}
