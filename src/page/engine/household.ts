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
  lightsUnder,
  type Prices,
  type Profiles,
  passed,
  periodMs,
  pricesOf,
  roofW,
  type Scenario,
  type ScenarioInput,
  skyOver,
  sunOver,
  timeZoneUnknown,
} from '../../index.ts';
import { zoneOfPlatform } from '../../report/browser.ts';
import type { Draft } from '../draft.ts';
import { Kept } from './kept.ts';
import type { DataFile } from './protocol.ts';

type Light = ReturnType<typeof lightsUnder>[number];
type Sky = ReturnType<typeof skyOver>;

/** Planes whose light is kept: that of one in ten years, or those of a roof with some arrays, as they are and as they were. */
export const LIGHTS = 12;

/** A draft that came through the door. */
export interface Entered {
  /** The draft as text: two drafts with the same key are the same household. */
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
  private readonly skies = new Kept<Sky>(2);
  private readonly lights: Kept<Light | null>;
  private readonly roofs: Kept<Float64Array>;
  private readonly houses: Kept<HouseLoad>;
  /** What is spread over a house in a calendar year: a period touches one, or two. */
  private readonly sheets = new Kept<house.Sheet>(2, ({ valuesW }) => {
    this.room.sheet = valuesW;
  });
  /** What fell out of these is written over by the next: fresh memory costs a browser more than the sums that fill it. */
  private readonly room: {
    light?: Light | undefined;
    roof?: Float64Array | undefined;
    house?: HouseLoad | undefined;
    sheet?: Float64Array | undefined;
  } = {};
  private readonly prices = new Kept<Prices>(2);
  /** The air that the cars drive in; the rest of a sky takes five times the room, and is made again where its light is not kept. */
  private readonly airs: Kept<Float64Array | null>;

  /**
   * @param years    weather years whose roofs are kept
   * @param isShown  whether a run that is still looked at has this profile
   */
  constructor(years: number, isShown: (profile: Float64Array) => boolean) {
    this.entered = new Kept(years + 4);
    this.lights = new Kept(LIGHTS, (light) => {
      this.room.light = light ?? undefined;
    });
    this.roofs = new Kept(years + 1, (roof) => {
      if (!isShown(roof)) this.room.roof = roof;
    });
    this.houses = new Kept(2, (house) => {
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
    const key = JSON.stringify(draft);
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
    return passed({ key, input, scenario: whole.value, warnings });
  }

  profiles({ input, scenario }: Entered): Profiles & { readonly airC: Float64Array | null } {
    const { site, period, weather, pv, household, grid } = input;
    const when = `${this.filesVersion} ${JSON.stringify([site, period, grid.phases])}`;
    const sky = `${when} ${JSON.stringify(weather)}`;
    const roofKey = `${sky} ${JSON.stringify(pv)}`;
    const pvW = this.roofs.get(roofKey, () => roofW(scenario, this.lightsOf(scenario, input, sky), this.take('roof')));
    const airC = this.airs.get(sky, () => this.skyOf(scenario, sky)?.weather.airC ?? null);
    const house = this.houses.get(`${when} ${JSON.stringify(household)}`, () =>
      houseLoad(scenario, this.take('house'), (key, make) => this.sheets.get(key, () => make(this.take('sheet')))),
    );
    return { pvW, ...house, airC };
  }

  pricesOf({ input, scenario }: Entered): Prices | null {
    const { tariff } = scenario;
    const key = `${this.filesVersion} ${JSON.stringify([input.site, input.period, input.tariff])}`;
    return tariff === null ? null : this.prices.get(key, () => pricesOf(tariff, scenario.grid));
  }

  /** Room to write in, handed out once. */
  private take<Name extends keyof Households['room']>(name: Name): Households['room'][Name] {
    const room = this.room[name];
    this.room[name] = undefined;
    return room;
  }

  private skyOf(scenario: Scenario, key: string): Sky {
    const { latitudeDeg, longitudeDeg, elevationM } = scenario.site;
    const { startMs, steps, stepS } = scenario.grid;
    const sun = [latitudeDeg, longitudeDeg, elevationM, startMs, steps, stepS].join(' ');
    return this.skies.get(key, () => skyOver(scenario, () => this.suns.get(sun, () => sunOver(scenario))));
  }

  private lightsOf(scenario: Scenario, { pv }: ScenarioInput, sky: string): ReturnType<typeof lightsUnder> {
    // Light on a plane does not depend on how large the plane is, nor on the other planes.
    const planes = pv.source === 'arrays' ? pv.arrays.map(({ kWp: _, name: __, ...plane }) => JSON.stringify(plane)) : [];
    // Taken beforehand: what falls out meanwhile may be the light on another plane of this very roof.
    let room = this.take('light');
    const made = (make: (room?: Light) => Light | null): Light | null => {
      const used = room;
      room = undefined;
      return make(used);
    };
    return lightsUnder(
      () => this.skyOf(scenario, sky),
      scenario,
      (array, make) => this.lights.get(`${sky} ${planes[array]}`, () => made(make)),
    );
  }
}
