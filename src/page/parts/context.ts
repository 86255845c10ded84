import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Issue, ScenarioInput } from '../../index.ts';
import type { Draft, Path, Plain } from '../draft.ts';
import type { Chosen, Found } from '../state.ts';
import { SPEECH, type Speech } from '../words/index.ts';

/** What every part of the page may look at, and the few ways in which it may change something. */
export interface PageContext {
  /** As it is when it is looked at: what has been touched since the last drawing is in it. */
  readonly chosen: Chosen;
  readonly found: Found;
  readonly speech: Speech;
  /** The draft with its defaults, as last accepted by the door. */
  readonly input: ScenarioInput | null;
  readonly issues: readonly Issue[];
  /** Counts every change of light and dark, so that charts follow. */
  readonly lightings: number;
  set(path: Path, value: Plain | undefined): void;
  /** Changes the draft as it is by then. */
  change(by: (draft: Draft) => Draft): void;
  choose(change: Partial<Chosen>): void;
}

const Page = createContext<PageContext | null>(null);
export const PageProvider = Page.Provider;

export function usePage(): PageContext {
  const page = useContext(Page);
  if (page === null) throw new Error('used outside the page');
  return page;
}

/** Words and forms alone. */
export const useSpeech = (): Speech => useContext(Page)?.speech ?? SPEECH.en;
