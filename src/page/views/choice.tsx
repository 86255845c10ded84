import { useMemo } from 'preact/hooks';
import { WH_PER_KWH } from '../../index.ts';
import { solarShare } from '../../report/browser.ts';
import { sizeSpec } from '../charts/curve.ts';
import { per100Km, type Sums } from '../engine/answer.ts';
import type { CurvePoint, Variant } from '../engine/protocol.ts';
import { usePage } from '../parts/context.ts';
import { IssueText } from '../parts/fields.tsx';
import { Figure } from '../parts/figure.tsx';

/** The kinds of charger side by side, and larger and smaller roofs and batteries. */
export function ChoiceView() {
  const { found, speech } = usePage();
  const { words } = speech;
  const { variants, sizes } = found;
  return (
    <section class="view choice" aria-labelledby="choice-heading">
      <h2 id="choice-heading">{words.choice.heading}</h2>
      {variants === null ? <p class="hint">{words.working}</p> : <Variants variants={variants} />}
      <h2>{words.choice.sizes}</h2>
      {sizes === null ? (
        <p class="hint">{words.working}</p>
      ) : (
        <>
          <div class="pair">
            <Sizes name="roof" points={sizes.roof} axis={words.choice.roofAxis} title={words.choice.roof} />
            <Sizes name="battery" points={sizes.battery} axis={words.choice.batteryAxis} title={words.fields.battery} />
          </div>
          <p class="hint">{words.choice.once}</p>
        </>
      )}
    </section>
  );
}

type Ran = Variant & { readonly sums: Sums };
/** Kinds that are closer than this in energy (kWh) or money are alike. */
const ALIKE = 5;

function Variants({ variants }: { variants: readonly Variant[] }) {
  const { set, found, speech, input } = usePage();
  const { words, form } = speech;
  const { choice } = words;
  const ran = variants.filter((variant): variant is Ran => variant.sums !== null);
  const most = Math.max(...ran.map(({ sums }) => sums.cars.carPvWh), 1);
  const days = found.answer?.days.length ?? 365;
  const currency = input?.tariff?.currency ?? '';
  const name = ({ charger }: Variant): string => words.fields.charger[charger];
  const phases = input?.chargePoints[0]?.charger.phases;
  const rows: { label: string; cell: (sums: Sums) => string; bar?: (sums: Sums) => number }[] = [
    {
      label: choice.energy,
      cell: ({ cars }) => `${form.n(cars.carPvWh / WH_PER_KWH)} kWh`,
      bar: ({ cars }) => cars.carPvWh / most,
    },
    { label: choice.grid, cell: ({ cars }) => `${form.n(cars.carGridWh / WH_PER_KWH)} kWh` },
    { label: choice.share, cell: ({ cars }) => form.percent(solarShare(cars)) },
    { label: choice.cost, cell: ({ money }) => (money === null ? '–' : form.money(money.totalCost, currency)) },
    {
      label: choice.per100,
      cell: (sums) => {
        const per100 = per100Km(sums, found.withoutCars);
        return per100 === null ? '–' : form.money(per100, currency, 2);
      },
    },
    { label: choice.starts, cell: ({ cars }) => form.n(cars.starts / days, 1) },
    { label: choice.switches, cell: ({ cars }) => form.n(cars.switches / days, 1) },
    { label: choice.missed, cell: ({ cars }) => form.n(cars.missedKm) },
    { label: choice.hours, cell: ({ cars }) => form.n(cars.solarChargingH) },
  ];
  return (
    <>
      <Verdict ran={ran} name={name} currency={currency} />
      {/* biome-ignore lint/a11y/useSemanticElements: a section with a name would be a landmark */}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be within reach of the keyboard */}
      <div role="group" class="scroll" tabIndex={0} aria-label={choice.heading}>
        <table class="variants">
          <thead>
            <tr>
              <td />
              {variants.map((variant) => (
                <th scope="col" key={variant.charger}>
                  {name(variant)}
                  {variant.charger === phases ? (
                    <span class="tag">{choice.current}</span>
                  ) : variant.sums === null ? null : (
                    <button
                      type="button"
                      class="quiet"
                      aria-label={`${choice.choose}: ${name(variant)}`}
                      onClick={() => set(['chargePoints', 0, 'charger', 'phases'], variant.charger)}
                    >
                      {choice.choose}
                    </button>
                  )}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ label, cell, bar }, r) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {variants.map((variant) => (
                  <td key={variant.charger}>
                    {variant.sums !== null ? cell(variant.sums) : r === 0 ? choice.refused : '–'}
                    {bar === undefined || variant.sums === null ? null : (
                      <span class="bar" style={{ width: `${Math.round(100 * bar(variant.sums))}%` }} />
                    )}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {variants.map(({ issue, charger }) => (issue === null ? null : <IssueText issue={issue} key={charger} />))}
    </>
  );
}

function Verdict({ ran, name, currency }: { ran: readonly Ran[]; name: (variant: Variant) => string; currency: string }) {
  const { words, form } = usePage().speech;
  const { choice } = words;
  const byEnergy = [...ran].sort((a, b) => b.sums.cars.carPvWh - a.sums.cars.carPvWh);
  const [best, second] = byEnergy;
  if (best === undefined || second === undefined) return null;
  const leadKWh = (best.sums.cars.carPvWh - second.sums.cars.carPvWh) / WH_PER_KWH;
  const byCost = ran.filter(({ sums }) => sums.money !== null).sort((a, b) => cost(a) - cost(b));
  const [cheap, dearer] = byCost;
  const saves = cheap === undefined || dearer === undefined ? 0 : cost(dearer) - cost(cheap);
  return (
    <div class="said" aria-live="polite">
      <p>{leadKWh < ALIKE ? choice.verdictSame : choice.verdict(name(best), form.n(leadKWh), name(second))}</p>
      {cheap === undefined || saves < ALIKE ? null : (
        <p class="usual">{choice.verdictCost(name(cheap), form.money(saves, currency))}</p>
      )}
    </div>
  );
}

const cost = ({ sums }: Ran): number => sums.money?.totalCost ?? 0;

function Sizes({ name, points, axis, title }: { name: string; points: readonly CurvePoint[]; axis: string; title: string }) {
  const { speech, input } = usePage();
  const { words, form } = speech;
  const now =
    name === 'roof'
      ? input?.pv.source === 'arrays'
        ? input.pv.arrays.reduce((sum, { kWp }) => sum + kWp, 0)
        : null
      : (input?.battery?.capacityKWh ?? 0);
  const spec = useMemo(() => sizeSpec(points, axis, now, words), [points, axis, now, words]);
  const currency = input?.tariff?.currency ?? '';
  if (points.length === 0) return null;
  return (
    <div>
      <h3>{title}</h3>
      <Figure
        label={`${title}: ${words.choice.sizeY}`}
        name={`size-${name}`}
        heightPx={220}
        spec={spec}
        look={`${speech.language} ${now} ${points.length}`}
        legend={[{ label: words.choice.sizeY, colour: 'pv', shape: 'line' }]}
        table={() => ({
          heads: [axis, words.choice.energy, words.promise.share, words.choice.sizeCost],
          rows: points.map(({ at, sums }) => [
            form.n(at, 1),
            `${form.n(sums.cars.carPvWh / WH_PER_KWH)} kWh`,
            form.percent(solarShare(sums.cars)),
            sums.money === null ? '–' : form.money(sums.money.totalCost, currency),
          ]),
        })}
      />
    </div>
  );
}
