import { chargedAtOnce, columnStore, type Money, moneyOf, planOf, type Run, runPlan, withoutCars } from '../../index.ts';
import { monthsOf, sumsOf } from './answer.ts';
import { type Entered, Households } from './household.ts';
import { Kept } from './kept.ts';
import type { Beside, DataFile } from './protocol.ts';

/** A finished run in a set of columns that is used again for the next. */
class Bench {
  private readonly store = columnStore();
  private key = '';
  private kept: Run | null = null;

  shows(profile: Float64Array): boolean {
    return this.kept !== null && [this.kept.profiles.pvW, this.kept.profiles.loadW].includes(profile);
  }

  forget(): void {
    this.kept = null;
  }

  run(key: string, make: (store: ReturnType<typeof columnStore>) => Run): Run {
    if (this.kept === null || key !== this.key) {
      this.kept = make(this.store);
      this.key = key;
    }
    return this.kept;
  }
}

/** The runs that the page needs at hand: the household's own, the one before, and one after the other on a bench for the rest. */
export class Runs {
  readonly households: Households;
  private readonly own = new Bench();
  private readonly before = new Bench();
  private readonly passing = columnStore();
  private readonly besides = new Kept<Beside>(60);
  private readonly bare = new Kept<Money | null>(4);

  constructor(years: number) {
    this.households = new Households(years, (profile) => this.own.shows(profile) || this.before.shows(profile));
  }

  /** The household's own run; what it was before is kept apart, so that both can be shown. */
  of(entered: Entered, which: 'own' | 'before'): Run {
    const bench = which === 'own' ? this.own : this.before;
    return bench.run(entered.key, (store) => this.simulate(entered, entered.scenario, store));
  }

  /** Whether the sums of a household are at hand. */
  knows({ key }: Entered): boolean {
    return this.besides.has(key);
  }

  /** A run of which only the sums are wanted. */
  beside(entered: Entered): Beside {
    return this.besides.get(entered.key, () => this.sumsOf(entered, this.simulate(entered, entered.scenario, this.passing)));
  }

  /** Runs a household and keeps nothing but the parts of its profiles. */
  passBy(entered: Entered): void {
    this.simulate(entered, entered.scenario, this.passing);
  }

  /** The same days charged at once. How surplus is followed makes no difference to that, so a touch of it makes no new run. */
  atOnce(entered: Entered): Beside {
    const { control: _, ...rest } = entered.input;
    const key = `at once ${entered.filesVersion} ${JSON.stringify(rest)}`;
    return this.besides.get(key, () =>
      this.sumsOf(entered, this.simulate(entered, chargedAtOnce(entered.scenario), this.passing)),
    );
  }

  /** A run of the household changed in some way, in columns of its own. */
  aside = (entered: Entered, changed: Entered['scenario']): Run => this.simulate(entered, changed, columnStore());

  /** What the household would pay without cars. */
  withoutCars(entered: Entered): Money | null {
    const { control: _, chargePoints: __, ...rest } = entered.input;
    return this.bare.get(`${entered.filesVersion} ${JSON.stringify(rest)}`, () =>
      this.money(entered, this.simulate(entered, withoutCars(entered.scenario), this.passing)),
    );
  }

  money(entered: Entered, run: Run): Money | null {
    const { tariff } = entered.scenario;
    const prices = this.households.pricesOf(entered);
    return tariff === null || prices === null ? null : moneyOf(run, tariff, prices);
  }

  /** Takes files in; nothing that was worked out from the old ones is shown for the new. */
  takeFiles(files: readonly DataFile[]): void {
    this.households.takeFiles(files);
    this.own.forget();
    this.before.forget();
    this.besides.clear();
    this.bare.clear();
  }

  private sumsOf(entered: Entered, run: Run): Beside {
    return { total: sumsOf(run.ledger.total, this.money(entered, run)), months: monthsOf(run).map(({ sums }) => sums) };
  }

  private simulate(entered: Entered, scenario: Entered['scenario'], store: ReturnType<typeof columnStore>): Run {
    const profiles = this.households.profiles(entered);
    const plan = planOf(scenario, profiles.airC, this.households.presencesOf(entered));
    return runPlan(plan, profiles, store(plan, profiles));
  }
}
