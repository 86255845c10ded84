import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { LANGUAGES } from '../index.ts';
import { Client } from './client.ts';
import { pathKey, withValue } from './draft.ts';
import { readAnswer } from './engine/first-answer.ts';
import type { OutputName, Tell } from './engine/protocol.ts';
import { takeFile, textOf } from './intake.ts';
import { hashOf, type Linked, VIEWS, type View } from './link.ts';
import { type PageContext, PageProvider, usePage } from './parts/context.ts';
import { IssueText } from './parts/fields.tsx';
import { saveBlob } from './parts/save.ts';
import type { Start } from './start.ts';
import { type Chosen, type Found, NOTHING_FOUND, THEMES, type Theme } from './state.ts';
import { ChoiceView } from './views/choice.tsx';
import { DayView } from './views/day.tsx';
import { FilesPanel, Outputs } from './views/files.tsx';
import { HouseholdPanel } from './views/household.tsx';
import { PromiseView } from './views/promise.tsx';
import { SettingView } from './views/setting.tsx';
import { SPEECH } from './words/index.ts';

/** What has been chosen is drawn after so long where no answer has come yet, ms: a tenth of a second is still felt as at once. */
const LATEST_MS = 100;

interface AppProps {
  readonly source: string;
  readonly start: Start;
  readonly linked: Linked | null;
}

/** The page: what has been chosen, what the workers found, and the two drawn together. */
export function App({ source, start, linked }: AppProps) {
  const now = useMemo(() => ({ chosen: firstChosen(start, linked), isWaiting: false }), []);
  const [found, setFound] = useState<Found>(() => ({
    ...NOTHING_FOUND,
    answer: linked === null && start.answer !== null ? readAnswer(start.answer) : null,
  }));
  const [said, setSaid] = useState<readonly string[]>([]);
  const [writing, setWriting] = useState(false);
  const [lightings, setLightings] = useState(0);
  const [, countDrawing] = useState(0);
  const main = useRef<HTMLElement>(null);
  const soon = useRef<ReturnType<typeof setTimeout>>(undefined);
  const { chosen } = now;

  const draw = (): void => {
    clearTimeout(soon.current);
    countDrawing((count) => count + 1);
  };
  const hear = (told: Tell, isLatest: boolean): void => {
    if (told.kind === 'output') {
      setWriting(false);
      saveBlob(told.bytes, told.name);
      return;
    }
    if (isLatest && (told.kind === 'answer' || told.kind === 'refused')) now.isWaiting = false;
    draw();
    setFound((before) => withTold(before, told, isLatest));
    // The first answer says which day is worth looking at.
    if (told.kind === 'answer' && now.chosen.day < 0) choose({ day: told.answer.best, before: now.chosen.draft });
  };
  const client = useMemo(() => {
    const made = new Client(source, hear, window.firstWorker);
    if (start.files.length > 0) made.files(start.files);
    // Asked before anything is drawn: the answer takes longer than the drawing.
    made.household(now.chosen);
    return made;
  }, []);

  const choose = (change: Partial<Chosen>): void => {
    const next = { ...now.chosen, ...change };
    now.chosen = next;
    if (change.draft !== undefined) {
      performance.mark('touch');
      client.household(next);
      now.isWaiting = true;
      sayState();
      // What has been touched shows that by itself. The rest is drawn with the answer, which comes soon, instead of before it and with it.
      clearTimeout(soon.current);
      soon.current = setTimeout(draw, LATEST_MS);
      return;
    }
    draw();
    if (change.view !== undefined) {
      setFound((before) => ({ ...before, done: false }));
      client.view(next);
    } else if (change.day !== undefined || change.before !== undefined || change.language !== undefined) client.day(next);
  };
  /** Whether all stands there that the view shows, for whoever waits for it. It is said at once, also where nothing is drawn yet. */
  const sayState = (): void => {
    if (main.current !== null) main.current.dataset.state = found.done && !now.isWaiting ? 'settled' : 'working';
  };
  useLayoutEffect(sayState);

  // Charts are drawn in the same turn, before this: what is measured ends when everything stands there.
  useLayoutEffect(() => {
    if (found.answer === null) return;
    if (performance.getEntriesByName('touch').length > 0) performance.measure('touch to drawn', 'touch');
    else performance.measure('opened to drawn');
    performance.clearMarks('touch');
    client.drawn(now.chosen);
  }, [found.answer]);
  useLighting(chosen, () => setLightings((count) => count + 1));
  useAddress(chosen);

  const take = async (files: FileList): Promise<void> => {
    const lines: string[] = [];
    for (const file of files) lines.push(...(await takeOne(file)));
    setSaid(lines);
  };
  const takeOne = async (file: File): Promise<readonly string[]> => {
    const { words } = SPEECH[now.chosen.language];
    const text = await textOf(file).catch(() => null);
    if (text === null) return [`${words.errors.file} ${file.name}: ${words.errors.tooLarge}`];
    const taken = takeFile(file.name, text, now.chosen.draft, words);
    if (taken.kind === 'refused') return [`${words.errors.file} ${taken.said}`];
    if (taken.kind === 'data') client.files([{ name: taken.name, text: taken.text }]);
    choose({ draft: taken.draft, day: -1, before: null });
    return taken.kind === 'data' ? taken.said : [words.files.taken(file.name, words.files.as.scenario)];
  };
  useDrop((files) => void take(files));

  const speech = SPEECH[chosen.language];
  const context: PageContext = {
    get chosen() {
      return now.chosen;
    },
    found,
    speech,
    input: found.answer?.input ?? null,
    issues: found.issues,
    lightings,
    set: (path, value) => choose({ draft: withValue(now.chosen.draft, path, value) }),
    change: (by) => choose({ draft: by(now.chosen.draft) }),
    choose,
  };
  const ask = (name: OutputName): void => {
    setWriting(true);
    client.output(now.chosen, name, start.version);
  };
  return (
    <PageProvider value={context}>
      <a class="skip" href="#answer">
        {speech.words.skip}
      </a>
      <Header />
      <div class="columns">
        <HouseholdSide said={said} take={(files) => void take(files)} />
        <main id="answer" ref={main} tabIndex={-1}>
          <Problems />
          <Tabs />
          <div class={found.issues.length > 0 ? 'stale' : ''}>
            {found.answer === null && found.issues.length === 0 ? <p class="hint">{speech.words.working}</p> : null}
            <div id="view" role="tabpanel" aria-labelledby={`tab-${chosen.view}`}>
              {{ promise: <PromiseView />, choice: <ChoiceView />, setting: <SettingView /> }[chosen.view]}
            </div>
            <DayView />
            <Outputs ask={ask} busy={writing} />
          </div>
        </main>
      </div>
      <footer>
        <p>{speech.words.privacy}</p>
        <p>{speech.words.estimate}</p>
      </footer>
    </PageProvider>
  );
}

function firstChosen(start: Start, linked: Linked | null): Chosen {
  const language = navigator.language.startsWith('de') ? 'de' : 'en';
  const base: Chosen = { draft: start.draft, view: 'promise', day: -1, before: null, language, theme: 'auto' };
  return linked === null ? { ...base, day: start.answer?.best ?? -1 } : { ...base, ...linked };
}

/** What was found, with what has just been told. Long work for a household that is no longer at hand is left out. */
function withTold(found: Found, told: Tell, isLatest: boolean): Found {
  switch (told.kind) {
    case 'answer':
      return { ...found, answer: told.answer, issues: [], failure: null, done: false };
    case 'refused':
      return isLatest ? { ...found, issues: told.issues, done: true } : found;
    case 'beside':
      return { ...found, atOnce: told.atOnce, withoutCars: told.withoutCars };
    case 'day':
      return { ...found, day: told.day, dayBefore: isSameDay(told.day, told.before) ? null : told.before };
    case 'choice':
      return { ...found, variants: told.variants };
    case 'years':
      return isLatest ? { ...found, years: told.years, yearsOf: told.of, done: told.years.length === told.of } : found;
    case 'curve':
      return isLatest ? { ...found, curve: { minimum: told.minimum, proportional: told.proportional }, done: true } : found;
    case 'sizes':
      return isLatest ? { ...found, sizes: { roof: told.roof, battery: told.battery }, done: true } : found;
    case 'failed':
      return { ...found, failure: told.message };
    default:
      return found;
  }
}

/** Before and now are shown side by side only where they differ. */
function isSameDay(day: NonNullable<Found['day']>, before: Found['dayBefore']): boolean {
  if (before === null) return true;
  const same = (a: Float64Array, b: Float64Array): boolean => a.length === b.length && a.every((value, i) => value === b[i]);
  return (['pvKw', 'loadKw', 'carPvKw', 'carGridKw', 'carBatteryKw'] as const).every((key) => same(day[key], before[key]));
}

function Header() {
  const { chosen, choose, speech } = usePage();
  const { words } = speech;
  return (
    <header>
      <div class="brand">
        <h1>Sixamp</h1>
        <p>{words.tagline}</p>
      </div>
      <div class="switches">
        <label>
          <span class="sr">{words.language}</span>
          <select
            value={chosen.language}
            onChange={({ currentTarget }) =>
              choose({ language: LANGUAGES.find((known) => known === currentTarget.value) ?? 'en' })
            }
          >
            <option value="en" lang="en">
              English
            </option>
            <option value="de" lang="de">
              Deutsch
            </option>
          </select>
        </label>
        <label>
          <span class="sr">{words.theme}</span>
          <select
            value={chosen.theme}
            onChange={({ currentTarget }) => choose({ theme: THEMES.find((known) => known === currentTarget.value) ?? 'auto' })}
          >
            {THEMES.map((theme) => (
              <option key={theme} value={theme}>
                {words.themes[theme]}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          onClick={() => {
            choose({ view: 'promise' });
            // The view has to stand there before it is printed.
            setTimeout(print, 100);
          }}
        >
          {words.promise.print}
        </button>
      </div>
    </header>
  );
}

function HouseholdSide({ said, take }: { said: readonly string[]; take: (files: FileList) => void }) {
  const { words } = usePage().speech;
  const [open, setOpen] = useState(() => matchMedia('(min-width: 1000px)').matches);
  return (
    <aside aria-label={words.household.heading}>
      <details class="side" open={open} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
        <summary>
          <h2>{words.household.heading}</h2>
          <InWords />
        </summary>
        <HouseholdPanel files={<FilesPanel said={said} take={take} />} />
      </details>
    </aside>
  );
}

/** The household on a line. */
function InWords() {
  const { found, input, speech } = usePage();
  if (input === null || found.answer === null) return null;
  const { words, form } = speech;
  const point = input.chargePoints[0];
  const parts = [
    found.answer.name,
    input.pv.source === 'arrays'
      ? `${form.n(
          input.pv.arrays.reduce((sum, { kWp }) => sum + kWp, 0),
          1,
        )} kWp`
      : words.files.as.pv,
    point === undefined ? '' : `${words.fields.charger[point.charger.phases]}, ${form.n(point.charger.maxCurrentA)} A`,
    point === undefined ? '' : `${form.n(point.vehicle.batteryKWh)} kWh`,
  ];
  return <p class="in-words">{parts.filter((part) => part !== '').join(' · ')}</p>;
}

/** Everything that keeps the household from being run, and what is worth knowing about it. */
function Problems() {
  const { found, issues, speech } = usePage();
  const { words } = speech;
  const warnings = found.answer?.warnings ?? [];
  return (
    <>
      <div role="alert">
        {found.failure === null ? null : (
          <div class="problems">
            <p>{words.errors.engine}</p>
            <pre>{found.failure}</pre>
          </div>
        )}
        {issues.length === 0 ? null : (
          <div class="problems">
            <h2>{words.errors.heading}</h2>
            {issues.map((issue) => (
              <div key={`${pathKey(issue.path)} ${issue.code}`}>
                <code>{pathKey(issue.path)}</code>
                <IssueText issue={issue} />
              </div>
            ))}
            {found.answer === null ? null : <p>{words.errors.stale}</p>}
          </div>
        )}
      </div>
      {issues.length > 0 || warnings.length === 0 ? null : (
        <details class="warnings">
          <summary>
            {words.errors.warning} ({warnings.length})
          </summary>
          {warnings.map((issue) => (
            <IssueText issue={issue} key={`${pathKey(issue.path)} ${issue.code}`} />
          ))}
        </details>
      )}
    </>
  );
}

function Tabs() {
  const { chosen, choose, speech } = usePage();
  const { words } = speech;
  const move = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (step === undefined) return;
    const next = VIEWS[(VIEWS.indexOf(chosen.view) + step + VIEWS.length) % VIEWS.length] ?? 'promise';
    choose({ view: next });
    document.getElementById(`tab-${next}`)?.focus();
  };
  return (
    <div role="tablist" aria-label={words.viewsLabel} class="tabs">
      {VIEWS.map((view: View) => (
        <button
          type="button"
          role="tab"
          id={`tab-${view}`}
          key={view}
          aria-selected={view === chosen.view}
          aria-controls="view"
          tabIndex={view === chosen.view ? 0 : -1}
          onClick={() => choose({ view })}
          onKeyDown={move}
        >
          <strong>{words.views[view]}</strong>
          <span>{words.viewAbout[view]}</span>
        </button>
      ))}
    </div>
  );
}

/** Light or dark as chosen or as the device is, and light on paper; tells when it changes, since charts do not follow by themselves. */
function useLighting({ theme, language }: Chosen, changed: () => void): void {
  useLayoutEffect(() => {
    document.documentElement.lang = language;
  }, [language]);
  useLayoutEffect(() => {
    const device = matchMedia('(prefers-color-scheme: dark)');
    const light = (as: Theme): void => {
      document.documentElement.dataset.theme = as === 'auto' ? (device.matches ? 'dark' : 'light') : as;
      changed();
    };
    const follow = (): void => light(theme);
    const onPaper = (): void => light('light');
    follow();
    device.addEventListener('change', follow);
    addEventListener('beforeprint', onPaper);
    addEventListener('afterprint', follow);
    return () => {
      device.removeEventListener('change', follow);
      removeEventListener('beforeprint', onPaper);
      removeEventListener('afterprint', follow);
    };
  }, [theme]);
}

/** The address follows what is chosen, a moment later, so that a reload or a bookmark brings it back. */
function useAddress(chosen: Chosen): void {
  const isFirst = useRef(true);
  useEffect(() => {
    if (isFirst.current) {
      isFirst.current = false;
      return;
    }
    const timer = setTimeout(async () => history.replaceState(null, '', await hashOf(chosen)), 600);
    return () => clearTimeout(timer);
  }, [chosen]);
}

/** Files may be dropped anywhere. */
function useDrop(take: (files: FileList) => void): void {
  const latest = useRef(take);
  latest.current = take;
  useEffect(() => {
    const over = (event: DragEvent): void => {
      event.preventDefault();
      document.body.classList.add('dropping');
    };
    const leave = (): void => document.body.classList.remove('dropping');
    const drop = (event: DragEvent): void => {
      event.preventDefault();
      leave();
      if (event.dataTransfer !== null && event.dataTransfer.files.length > 0) latest.current(event.dataTransfer.files);
    };
    addEventListener('dragover', over);
    addEventListener('dragleave', leave);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('dragleave', leave);
      removeEventListener('drop', drop);
    };
  }, []);
}
