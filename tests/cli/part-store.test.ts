import { expect, test } from 'vitest';
import { PartStore } from '../../src/cli/part-store.ts';
import { AS_WRITTEN } from '../../src/index.ts';

/** A store whose parts are counted. */
function counted(room: number): { store: PartStore<string>; made: string[] } {
  const made: string[] = [];
  const store = new PartStore<string>(room, async ({ keys }) => {
    made.push(String(keys.name));
    return String(keys.name);
  });
  return { store, made };
}

const named = (name: string) => ({ ...AS_WRITTEN, keys: { name } });

test('a part is made once while it is kept, and made again when it had to make room', async () => {
  const { store, made } = counted(2);
  for (const name of ['a', 'a', 'b', 'a', 'c', 'a', 'b']) {
    const taken = await store.take(name, named(name));
    expect(await taken.part).toBe(name);
    taken.giveBack();
  }
  expect(made).toEqual(['a', 'b', 'c', 'b']);
});

test('where all are in use the next one waits until one is given back', async () => {
  const { store, made } = counted(1);
  const first = await store.take('a', named('a'));
  let arrived = false;
  const second = store.take('b', named('b')).then((taken) => {
    arrived = true;
    return taken;
  });
  await new Promise((resolve) => setTimeout(resolve, 5));
  expect(arrived).toBe(false);
  first.giveBack();
  expect(await (await second).part).toBe('b');
  expect(made).toEqual(['a', 'b']);
});
