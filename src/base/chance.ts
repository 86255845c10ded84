/**
 * Seeded chance: the same seed and name give the same numbers on every machine.
 *
 * Generator: sfc32 (C. Doty-Humphrey, PractRand), 128 bits of state, seeded through an FNV-1a hash of the name so that two
 * uses of one seed ("weather", "trips") do not march in step.
 */
export interface Chance {
  /** Uniform in 0 … 1 (1 excluded), 32 bits. */
  uniform(): number;
  /** Standard normal: mean 0, standard deviation 1 (Marsaglia's polar method). */
  normal(): number;
}

/**
 * A stream of seeded numbers.
 *
 * @param seed  whole number, 0 or more
 * @param name  what the stream is for; another name gives an independent stream
 * @throws RangeError  seed negative or not whole
 */
export function chance(seed: number, name: string): Chance {
  if (!Number.isInteger(seed) || seed < 0) throw new RangeError(`seed = ${seed}: must be a whole number, 0 or more`);
  // Four whole numbers of 32 bits in an array: for variables that a function keeps for itself browsers make a new object at every change.
  const state = Int32Array.of(fnv1a(name), seed, Math.floor(seed / 2 ** 32), 1);
  const next = (): number => {
    const b = state[1] ?? 0;
    const c = state[2] ?? 0;
    const counter = state[3] ?? 0;
    const t = ((((state[0] ?? 0) + b) | 0) + counter) | 0;
    state[0] = b ^ (b >>> 9);
    state[1] = c + (c << 3);
    state[2] = ((c << 21) | (c >>> 11)) + t;
    state[3] = counter + 1;
    return (t >>> 0) / 2 ** 32;
  };
  for (let i = 0; i < 20; i++) next();

  let spare = 0;
  let hasSpare = false;
  const normal = (): number => {
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    for (;;) {
      const x = 2 * next() - 1;
      const y = 2 * next() - 1;
      const r2 = x * x + y * y;
      if (r2 >= 1 || r2 === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(r2)) / r2);
      spare = y * scale;
      hasSpare = true;
      return x * scale;
    }
  };
  return { uniform: next, normal };
}

function fnv1a(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash | 0;
}
