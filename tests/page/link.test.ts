import { expect, test } from 'vitest';
import { hashOf, type Linked, linkedIn } from '../../src/page/link.ts';
import { FIRST_DRAFT } from '../../src/page/start.ts';

const LINKED: Linked = { draft: FIRST_DRAFT, view: 'setting', day: 120, language: 'de' };

test('what an address holds comes back as it was, in less than a thousand letters', async () => {
  const hash = await hashOf(LINKED);
  expect(hash).toMatch(/^#h=[\w-]+$/);
  expect(hash.length).toBeLessThan(1000);
  expect(await linkedIn(hash)).toEqual(LINKED);
});

test('a hash that was cut, made up or empty is nothing', async () => {
  const hash = await hashOf(LINKED);
  for (const broken of ['', '#answer', '#h=', '#h=!!!', hash.slice(0, 50), `${hash.slice(0, 60)}AAAA`]) {
    expect(await linkedIn(broken), broken).toBeNull();
  }
});

test('unknown views, days and languages fall back', async () => {
  const odd = { draft: {}, view: 'other', day: 1.5, language: 'xx' } as unknown as Linked;
  expect(await linkedIn(await hashOf(odd))).toEqual({ draft: {}, view: 'promise', day: -1, language: 'en' });
});
