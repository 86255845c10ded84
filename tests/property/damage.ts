import fc from 'fast-check';

/** Pieces that break readers: marks of syntax, numbers beyond all, control characters, markup, paths, names that objects have. */
const NASTY = [
  '"',
  "'",
  ',',
  ';',
  ':',
  '[',
  ']]',
  '{',
  '}',
  '\t',
  '\r',
  '\n',
  '\r\n',
  '\n\n',
  '\u0000',
  '\uFEFF',
  '\u001b[2J',
  '\u202e',
  '\u2028',
  '\ud800',
  '&a ',
  '*a',
  '!!binary ',
  '<<: ',
  '? ',
  '- ',
  '---\n',
  '%TAG',
  '#',
  '|',
  '>',
  '~',
  'null',
  'NaN',
  '.nan',
  '-.inf',
  'Infinity',
  '1e308',
  '1e999',
  '-1e308',
  '-0',
  '0x10',
  '1_000',
  '99999999999999999999',
  '0.1e-400',
  '9'.repeat(500),
  '[['.repeat(70),
  'T24:00:00Z',
  '+99:99',
  '2025-02-30',
  '</script><img src=x onerror=alert(1)>',
  '__proto__',
  'constructor',
  '../../../../etc/passwd',
  '\u00e9\u{1f50c}',
] as const;

/** One way to damage a text: a place in it (as a share of its length), and what happens there. */
const blow = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  how: fc.oneof(
    fc.record({ kind: fc.constant('insert' as const), piece: fc.constantFrom(...NASTY) }),
    fc.record({ kind: fc.constant('replace' as const), piece: fc.constantFrom(...NASTY) }),
    fc.record({ kind: fc.constant('flip' as const), bit: fc.integer({ min: 0, max: 7 }) }),
    fc.record({ kind: fc.constant('drop' as const), length: fc.integer({ min: 1, max: 200 }) }),
    fc.record({ kind: fc.constant('again' as const), length: fc.integer({ min: 1, max: 200 }) }),
    fc.record({ kind: fc.constant('cut' as const) }),
  ),
});

type Blow = typeof blow extends fc.Arbitrary<infer T> ? T : never;

function struck(text: string, { at, how }: Blow): string {
  const place = Math.floor(at * text.length);
  const [before, after] = [text.slice(0, place), text.slice(place)];
  switch (how.kind) {
    case 'insert':
      return before + how.piece + after;
    case 'replace': {
      // The word at that place: a number, a key, a cell.
      const word = /^[\w.+-]*/.exec(after)?.[0] ?? '';
      return before + how.piece + after.slice(word.length);
    }
    case 'flip':
      return before + String.fromCharCode((after.charCodeAt(0) || 0) ^ (1 << how.bit)) + after.slice(1);
    case 'drop':
      return before + after.slice(how.length);
    case 'again':
      return before + after.slice(0, how.length) + after;
    case 'cut':
      return before;
  }
}

/** Texts that were sound and have taken one to five blows. */
export const damaged = (...sound: readonly string[]): fc.Arbitrary<string> =>
  fc
    .tuple(fc.constantFrom(...sound), fc.array(blow, { minLength: 1, maxLength: 5 }))
    .map(([text, blows]) => blows.reduce(struck, text));

/** Plain data of any shape in the place of one value of a section: every kind that a text can hold. */
export const anyValue = fc.jsonValue({ maxDepth: 4 });
