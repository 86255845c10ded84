import type { ComponentChildren } from 'preact';
import { useId, useMemo, useState } from 'preact/hooks';
import type { Issue } from '../../index.ts';
import { isWithin, type Path, type Plain, pathKey, valueAt } from '../draft.ts';
import { usePage, useSpeech } from './context.ts';

interface FieldProps {
  readonly path: Path;
  readonly label: string;
  /** Where the default comes from, or what the value means. */
  readonly about?: string | undefined;
}

/** What a control has to be given so that label and errors go with it. */
interface Ids {
  readonly id: string;
  readonly describedBy: string;
  readonly invalid: boolean;
}

/**
 * Label above, control, errors of the door under it, and where the default comes from behind a small button.
 *
 * @param control  drawn again only where label, errors, speech or one of `shows` has changed: a touch changes few of sixty fields
 * @param shows    all that the control shows; what it does must follow from `path` and from what the page looks like by then
 */
function useField({ path, label, about }: FieldProps, control: (ids: Ids) => ComponentChildren, shows: readonly unknown[]) {
  const { issues, speech } = usePage();
  const id = useId();
  const own = issues.filter((issue) => isWithin(issue.path, path));
  const key = pathKey(path);
  return useMemo(
    () => (
      <div class="field" id={`field-${key}`}>
        <label for={id}>{label}</label>
        {control({ id, describedBy: `${id}-errors`, invalid: own.length > 0 })}
        <div id={`${id}-errors`} class="field-errors">
          {own.map((issue) => (
            <IssueText issue={issue} key={issue.code} />
          ))}
        </div>
        {about === undefined ? null : (
          <details class="about">
            <summary>
              <span class="sr">{label}: </span>
              {speech.words.where}
            </summary>
            <p>{about}</p>
          </details>
        )}
      </div>
    ),
    [key, label, about, JSON.stringify(own), speech, ...shows],
  );
}

/** An issue in the words of the door, which speaks English. */
export function IssueText({ issue }: { readonly issue: Issue }) {
  const { words } = useSpeech();
  return (
    <p class="issue">
      <span lang="en">{issue.problem}</span>{' '}
      {issue.allowed === '' ? null : (
        <>
          {words.errors.allowed}: <span lang="en">{issue.allowed}</span>.{' '}
        </>
      )}
      {words.errors.fix}: <span lang="en">{issue.fix}</span>
    </p>
  );
}

interface NumberProps extends FieldProps {
  readonly unit: string;
  /** Shown is the value times this: 100 for percent. */
  readonly times?: number;
  readonly slider?: { readonly min: number; readonly max: number; readonly step: number };
  /** What stands there while nothing is written. */
  readonly empty?: string;
  /** Takes the place of setting the key. */
  readonly onValue?: (value: Plain | undefined) => void;
}

/** A number with its unit; a slider beside it where one helps. What is no number goes to the door as it was typed. */
export function NumberField({ path, label, unit, times = 1, slider, about, empty, onValue }: NumberProps) {
  const page = usePage();
  const { input, set, speech } = page;
  const [typed, setTyped] = useState<{ readonly text: string; readonly made: Plain | undefined } | null>(null);
  const writtenNow = (): Plain | undefined => valueAt(page.chosen.draft, path);
  const written = writtenNow();
  const value = written ?? valueAt(input as unknown as Plain, path);
  const shown = typeof value === 'number' ? trimmed(value * times) : value === undefined || value === null ? '' : String(value);
  // What is being typed stands as it is, until something else changes the value that came of it.
  const own = typed?.made === written ? typed?.text : undefined;
  const text = own ?? (speech.language === 'de' ? shown.replace('.', ',') : shown);
  const at = typeof value === 'number' ? value * times : slider?.min;
  const change = (to: string): void => {
    const next = plainOf(to, times);
    if (onValue === undefined) set(path, next);
    else onValue(next);
  };
  const type = (to: string): void => {
    change(to);
    setTyped({ text: to, made: writtenNow() });
  };
  return useField(
    { path, label, about },
    ({ id, describedBy, invalid }) => (
      <div class="number">
        <span class="with-unit">
          <input
            id={id}
            type="text"
            inputMode="decimal"
            autocomplete="off"
            placeholder={empty ?? ''}
            value={text}
            aria-invalid={invalid}
            aria-describedby={describedBy}
            onInput={(event) => type(event.currentTarget.value)}
            onBlur={() => setTyped(null)}
          />
          <span class="unit">{unit}</span>
        </span>
        {slider === undefined ? null : (
          <input
            type="range"
            aria-label={`${label}, ${unit}`}
            {...slider}
            value={at}
            onInput={(event) => change(event.currentTarget.value)}
          />
        )}
      </div>
    ),
    [text, at, unit, times, empty],
  );
}

/** At most six digits, as a person would write them. */
const trimmed = (value: number): string => String(Number(value.toPrecision(6)));

/** Empty: the key goes, and its default takes over. */
function plainOf(text: string, times: number): Plain | undefined {
  const tidy = text.trim().replace(',', '.');
  if (tidy === '') return undefined;
  const value = Number(tidy);
  return Number.isFinite(value) ? Number((value / times).toPrecision(12)) : text;
}

/** Text. */
export function TextField({ path, label, about }: FieldProps) {
  const { chosen, set } = usePage();
  const value = valueAt(chosen.draft, path);
  const text = value === undefined || value === null ? '' : String(value);
  return useField(
    { path, label, about },
    ({ id, describedBy, invalid }) => (
      <input
        id={id}
        type="text"
        autocomplete="off"
        value={text}
        aria-invalid={invalid}
        aria-describedby={describedBy}
        onInput={({ currentTarget }) => set(path, currentTarget.value === '' ? undefined : currentTarget.value)}
      />
    ),
    [text],
  );
}

/** One of a few. */
export interface Choice {
  readonly key: string;
  readonly label: string;
}

interface ChoiceProps extends FieldProps {
  readonly choices: readonly Choice[];
  readonly value: string;
  readonly onChoice: (key: string) => void;
}

/** One out of many, in a list that drops down. */
export function SelectField({ path, label, about, choices, value, onChoice }: ChoiceProps) {
  return useField(
    { path, label, about },
    ({ id, describedBy, invalid }) => (
      <select
        id={id}
        value={value}
        aria-invalid={invalid}
        aria-describedby={describedBy}
        onChange={(event) => onChoice(event.currentTarget.value)}
      >
        {choices.map(({ key, label: text }) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    ),
    [value, choices.map(({ key, label: text }) => key + text).join()],
  );
}

/** One out of two or three, side by side. */
export function PickField({ path, label, choices, value, onChoice }: ChoiceProps) {
  const name = useId();
  const { issues } = usePage();
  const own = issues.filter((issue) => isWithin(issue.path, path));
  return (
    <fieldset class="field pick" id={`field-${pathKey(path)}`}>
      <legend>{label}</legend>
      <div class="pick-row">
        {choices.map(({ key, label: text }) => (
          <label key={key} class={key === value ? 'picked' : ''}>
            <input type="radio" name={name} checked={key === value} onChange={() => onChoice(key)} />
            <span>{text}</span>
          </label>
        ))}
      </div>
      <div class="field-errors">
        {own.map((issue) => (
          <IssueText issue={issue} key={issue.code} />
        ))}
      </div>
    </fieldset>
  );
}
