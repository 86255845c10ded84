import type { ComponentChildren } from 'preact';
import { type Path, valueAt, withValue } from '../draft.ts';
import { withBattery } from '../engine/battery.ts';
import { usePage } from '../parts/context.ts';
import { NumberField, PickField, SelectField, TextField } from '../parts/fields.tsx';
import { KINDS, kindOf, PLACES, placeOf, pointsOf, WEEKS, weekOf, withKind, withPlace, withPoint, withWeek } from '../presets.ts';

/** Everything that can be set about the household, section by section. */
export function HouseholdPanel({ files }: { readonly files: ComponentChildren }) {
  const { words } = usePage().speech;
  return (
    <div class="household">
      <Section title={words.household.roof} open>
        <Roof />
      </Section>
      <Section title={words.household.house} open>
        <House />
      </Section>
      <Section title={words.household.charger} open>
        <EachPoint>{(point) => <Charger point={point} />}</EachPoint>
        <MorePoints />
        <Connection />
      </Section>
      <Section title={words.household.car} open>
        <EachPoint>{(point) => <Car point={point} />}</EachPoint>
      </Section>
      <Section title={words.household.money}>
        <Prices />
      </Section>
      <Section title={words.household.place}>
        <Place />
      </Section>
      {files}
    </div>
  );
}

function Section({ title, open = false, children }: { title: string; open?: boolean; children: ComponentChildren }) {
  return (
    <details class="section" open={open}>
      <summary>
        <h3>{title}</h3>
      </summary>
      {children}
    </details>
  );
}

function Place() {
  const { chosen, change, speech } = usePage();
  const { words } = speech;
  const place = placeOf(chosen.draft);
  const isMade = valueAt(chosen.draft, ['weather', 'source']) === 'synthetic';
  const places = PLACES.map((key) => ({ key, label: words.climates[key] })).sort((a, b) =>
    a.label.localeCompare(b.label, speech.language),
  );
  const own = { key: 'own', label: isMade ? words.fields.climateOwn : words.fields.climateMeasured };
  return (
    <>
      <TextField path={['name']} label={words.fields.name} />
      <SelectField
        path={['weather', 'climate']}
        label={words.fields.climate}
        about={words.sources.climate}
        choices={place === null ? [own, ...places] : places}
        value={place ?? 'own'}
        onChoice={(key) => key !== 'own' && change((draft) => withPlace(draft, key))}
      />
      <NumberField path={['site', 'latitude']} label={words.fields.latitude} unit="° N" />
      <NumberField path={['site', 'longitude']} label={words.fields.longitude} unit="° E" />
      <TextField path={['site', 'timeZone']} label={words.fields.timeZone} />
      <TextField path={['period', 'start']} label={words.fields.start} />
    </>
  );
}

function Measured({ path }: { path: Path }) {
  const { chosen, speech } = usePage();
  return <p class="hint">{speech.words.fields.measured(String(valueAt(chosen.draft, [...path, 'file']) ?? ''))}</p>;
}

function Roof() {
  const { chosen, set, speech } = usePage();
  const { words } = speech;
  if (valueAt(chosen.draft, ['pv', 'source']) === 'csv') return <Measured path={['pv']} />;
  const arrays = valueAt(chosen.draft, ['pv', 'arrays']);
  const planes = Array.isArray(arrays) ? arrays.length : 1;
  return (
    <>
      {Array.from({ length: planes }, (_, i) => (
        <Plane i={i} many={planes > 1} key={i} />
      ))}
      {planes === 1 ? (
        <button type="button" class="quiet" onClick={() => set(['pv', 'arrays', 1], { kWp: 3, tiltDeg: 15, azimuthDeg: 270 })}>
          {words.fields.addPlane}
        </button>
      ) : null}
      <NumberField
        path={['pv', 'inverter', 'ratedW']}
        label={words.fields.inverter}
        unit="kW"
        times={0.001}
        empty="= kWp"
        about={words.sources.practice('= kWp')}
      />
    </>
  );
}

function Plane({ i, many }: { i: number; many: boolean }) {
  const { chosen, set, speech } = usePage();
  const { words } = speech;
  const at = (key: string): Path => ['pv', 'arrays', i, key];
  const azimuth = valueAt(chosen.draft, at('azimuthDeg'));
  const tilt = valueAt(chosen.draft, at('tiltDeg'));
  const looks = typeof azimuth === 'number' ? (words.directions[Math.round(azimuth / 45) % 8] ?? '') : '';
  return (
    <fieldset class="part">
      <legend class={many ? '' : 'sr'}>{words.fields.plane(i + 1)}</legend>
      <NumberField path={at('kWp')} label={words.fields.kWp} unit="kWp" slider={{ min: 1, max: 30, step: 0.1 }} />
      <div class="facing">
        <div>
          <NumberField
            path={at('azimuthDeg')}
            label={`${words.fields.azimuth}: ${looks}`}
            unit="°"
            slider={{ min: 0, max: 360, step: 5 }}
          />
          <NumberField path={at('tiltDeg')} label={words.fields.tilt} unit="°" slider={{ min: 0, max: 90, step: 1 }} />
        </div>
        <Facing azimuthDeg={Number(azimuth)} tiltDeg={Number(tilt)} />
      </div>
      <NumberField path={at('lossPercent')} label={words.fields.loss} unit="%" about={words.sources.practice('8 %')} />
      {many ? (
        <button type="button" class="quiet" onClick={() => set(['pv', 'arrays', i], undefined)}>
          {words.fields.removePlane}
        </button>
      ) : null}
    </fieldset>
  );
}

/** The plane seen from above: its upper edge, and how far it reaches out; steeper planes look shorter. */
function Facing({ azimuthDeg, tiltDeg }: { azimuthDeg: number; tiltDeg: number }) {
  const reach = 30 * Math.cos((Math.min(90, Math.max(0, tiltDeg || 0)) * Math.PI) / 180) + 3;
  return (
    <svg class="from-above" viewBox="-50 -50 100 100" aria-hidden="true">
      <circle r="44" />
      {['N', 'E', 'S', 'W'].map((name, i) => (
        <line key={name} x1="0" y1="-44" x2="0" y2="-38" transform={`rotate(${i * 90})`} />
      ))}
      <text y="-28">N</text>
      <g transform={`rotate(${azimuthDeg || 0})`}>
        <rect x="-17" y={-reach} width="34" height={reach} />
        <line class="ridge" x1="-19" y1="0" x2="19" y2="0" />
      </g>
    </svg>
  );
}

function House() {
  const { chosen, input, change, set, speech } = usePage();
  const { words } = speech;
  const source = valueAt(chosen.draft, ['household', 'source']);
  const hasBattery = valueAt(chosen.draft, ['battery']) !== undefined;
  const priority = input?.battery?.priority;
  return (
    <>
      {source === 'synthetic' || source === undefined ? (
        <>
          <NumberField path={['household', 'people']} label={words.fields.people} unit="" about={words.sources.practice('3')} />
          <NumberField
            path={['household', 'annualKWh']}
            label={words.fields.annual}
            unit="kWh/a"
            slider={{ min: 1000, max: 12000, step: 100 }}
          />
        </>
      ) : (
        <Measured path={['household']} />
      )}
      <NumberField
        path={['battery', 'capacityKWh']}
        label={words.fields.battery}
        unit="kWh"
        empty={words.fields.none}
        slider={{ min: 0, max: 20, step: 0.5 }}
        onValue={(kWh) => {
          if (typeof kWh === 'number' || kWh === undefined) change((draft) => withBattery(draft, kWh ?? 0));
          else set(['battery', 'capacityKWh'], kWh);
        }}
      />
      {hasBattery ? (
        <>
          <PickField
            path={['battery', 'priority']}
            label={words.fields.priority}
            choices={(['battery', 'car'] as const).map((key) => ({ key, label: words.fields.priorities[key] }))}
            value={typeof priority === 'string' ? priority : ''}
            onChoice={(key) => set(['battery', 'priority'], key)}
          />
          <label class="check">
            <input
              type="checkbox"
              checked={valueAt(chosen.draft, ['battery', 'dischargeToCar']) === true}
              onChange={({ currentTarget }) => set(['battery', 'dischargeToCar'], currentTarget.checked)}
            />
            {words.fields.dischargeToCar}
          </label>
        </>
      ) : null}
    </>
  );
}

/** The same for every charge point, told apart where there are several. */
function EachPoint({ children }: { children: (point: number) => ComponentChildren }) {
  const { chosen, speech } = usePage();
  const count = pointsOf(chosen.draft);
  if (count <= 1) return <>{children(0)}</>;
  return (
    <>
      {Array.from({ length: count }, (_, i) => (
        <fieldset class="part" key={i}>
          <legend>
            {[speech.words.fields.point(i + 1), valueAt(chosen.draft, ['chargePoints', i, 'name'])]
              .filter((part) => part !== undefined)
              .join(': ')}
          </legend>
          {children(i)}
        </fieldset>
      ))}
    </>
  );
}

/** A second charge point, and the last one taken away again. */
function MorePoints() {
  const { chosen, change, set, speech } = usePage();
  const { words } = speech;
  const count = pointsOf(chosen.draft);
  return (
    <>
      {count > 1 ? (
        <>
          <button type="button" class="quiet" onClick={() => set(['chargePoints', count - 1], undefined)}>
            {words.fields.removePoint(count)}
          </button>
          <p class="hint">{words.household.more}</p>
        </>
      ) : (
        <button type="button" class="quiet" onClick={() => change(withPoint)}>
          {words.fields.addPoint}
        </button>
      )}
    </>
  );
}

function Charger({ point }: { point: number }) {
  const { chosen, set, speech } = usePage();
  const { words } = speech;
  const at = (key: string): Path => ['chargePoints', point, 'charger', key];
  return (
    <>
      <PickField
        path={at('phases')}
        label={words.fields.phases}
        choices={([1, 3, 'switchable'] as const).map((key) => ({ key: String(key), label: words.fields.charger[key] }))}
        value={String(valueAt(chosen.draft, at('phases')))}
        onChoice={(key) => set(at('phases'), key === 'switchable' ? key : Number(key))}
      />
      <NumberField path={at('maxCurrentA')} label={words.fields.chargerA} unit="A" slider={{ min: 6, max: 32, step: 1 }} />
    </>
  );
}

function Connection() {
  const { words } = usePage().speech;
  return (
    <>
      <NumberField path={['grid', 'mainFuseA']} label={words.fields.fuse} unit="A" about={words.sources.practice('35 A')} />
      <NumberField
        path={['grid', 'exportLimitW']}
        label={words.fields.exportLimit}
        unit="kW"
        times={0.001}
        empty={words.fields.none}
      />
    </>
  );
}

function Car({ point }: { point: number }) {
  const { chosen, change, speech } = usePage();
  const { words } = speech;
  const { draft } = chosen;
  const car = (key: string): Path => ['chargePoints', point, 'vehicle', key];
  const usage = (key: string): Path => ['chargePoints', point, 'usage', key];
  const kind = kindOf(draft, point);
  const source = valueAt(draft, usage('source'));
  const week = source === 'always' ? 'always' : (weekOf(draft, point) ?? 'own');
  const kinds = KINDS.map((key) => ({ key, label: words.kinds[key] }));
  const weeks = [...WEEKS.map((key) => ({ key, label: words.habits[key] })), { key: 'always', label: words.fields.habitAlways }];
  const whole = typeof valueAt(draft, car('minCurrentA')) !== 'object';
  return (
    <>
      <SelectField
        path={car('kind')}
        label={words.fields.vehicle}
        about={words.sources.kind}
        choices={kind === null ? [{ key: 'own', label: words.fields.vehicleOwn }, ...kinds] : kinds}
        value={kind ?? 'own'}
        onChoice={(key) => key !== 'own' && change((now) => withKind(now, point, key))}
      />
      <NumberField path={car('batteryKWh')} label={words.fields.carKWh} unit="kWh" />
      {whole ? (
        <NumberField path={car('minCurrentA')} label={words.fields.carMinA} unit="A" about={words.sources.standard('6 A')} />
      ) : null}
      <NumberField path={car('kWhPer100km')} label={words.fields.carUse} unit="kWh/100 km" />
      <NumberField
        path={car('targetSoc')}
        label={words.fields.target}
        unit="%"
        times={100}
        slider={{ min: 50, max: 100, step: 5 }}
        about={words.sources.practiceRange('80 %', '50…100 %')}
      />
      {source === 'csv' ? (
        <Measured path={['chargePoints', point, 'usage']} />
      ) : (
        <SelectField
          path={usage('habit')}
          label={words.fields.habit}
          about={words.sources.week}
          choices={week === 'own' ? [{ key: 'own', label: words.fields.habitOwn }, ...weeks] : weeks}
          value={week}
          onChoice={(key) => key !== 'own' && change((now) => withWeek(now, point, key))}
        />
      )}
      <NumberField path={usage('floorKm')} label={words.fields.floorKm} unit="km" about={words.sources.practice('0 km')} />
      <NumberField
        path={usage('departureKm')}
        label={words.fields.departureKm}
        unit="km"
        about={words.sources.practice('0 km')}
      />
    </>
  );
}

function Prices() {
  const { chosen, speech, change } = usePage();
  const { words } = speech;
  const currency = String(valueAt(chosen.draft, ['tariff', 'currency']) ?? 'EUR');
  const isFlat = (key: string): boolean => typeof valueAt(chosen.draft, ['tariff', key]) !== 'object';
  const price = (key: string, label: string) =>
    isFlat(key) ? (
      <NumberField
        path={['tariff', key]}
        label={label}
        unit={currency}
        about={words.sources.price}
        onValue={(value) =>
          change((draft) => {
            const isNone = valueAt(draft, ['tariff']) === undefined;
            return withValue(isNone ? withValue(draft, ['tariff', 'currency'], 'EUR') : draft, ['tariff', key], value);
          })
        }
      />
    ) : null;
  return (
    <>
      {price('importPerKWh', words.fields.importPrice)}
      {price('exportPerKWh', words.fields.exportPrice)}
      {price('publicPerKWh', words.fields.publicPrice)}
    </>
  );
}
