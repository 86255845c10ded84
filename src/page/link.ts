import type { Language } from '../index.ts';
import type { Draft } from './draft.ts';

/** Views of the page. */
export const VIEWS = ['promise', 'choice', 'setting'] as const;
export type View = (typeof VIEWS)[number];

/** What an address holds. */
export interface Linked {
  readonly draft: Draft;
  readonly view: View;
  readonly day: number;
  readonly language: Language;
}

const MARK = '#h=';

/** The part of an address behind `#` that holds a state, packed. */
export async function hashOf(linked: Linked): Promise<string> {
  const packed = await through(new Blob([JSON.stringify(linked)]), new CompressionStream('deflate-raw'));
  return MARK + base64Url(packed);
}

/** The state in an address; null where there is none that can be read. */
export async function linkedIn(hash: string): Promise<Linked | null> {
  if (!hash.startsWith(MARK)) return null;
  try {
    const bytes = fromBase64Url(hash.slice(MARK.length));
    const text = new TextDecoder().decode(await through(new Blob([bytes]), new DecompressionStream('deflate-raw')));
    return soundLinked(JSON.parse(text));
  } catch {
    return null;
  }
}

/** An address may have been cut or made up: only what has the right form is taken, and the door judges the draft itself. */
function soundLinked(read: unknown): Linked | null {
  if (typeof read !== 'object' || read === null) return null;
  const { draft, view, day, language } = read as Partial<Record<keyof Linked, unknown>>;
  if (typeof draft !== 'object' || draft === null || Array.isArray(draft)) return null;
  return {
    draft: draft as Draft,
    view: VIEWS.find((known) => known === view) ?? 'promise',
    day: typeof day === 'number' && Number.isInteger(day) ? day : -1,
    language: language === 'de' ? 'de' : 'en',
  };
}

async function through(blob: Blob, stream: CompressionStream | DecompressionStream): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await new Response(blob.stream().pipeThrough(stream)).arrayBuffer());
}

function base64Url(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0));
}
