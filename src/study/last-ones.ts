/** Keeps the last few things made, by what decided them, and makes the others. */
export function lastOnes<T>(count: number): (key: string, make: () => T) => T {
  const kept = new Map<string, T>();
  return (key, make) => {
    if (kept.has(key)) return kept.get(key) as T;
    const made = make();
    const oldest = kept.keys().next();
    if (kept.size >= count && !oldest.done) kept.delete(oldest.value);
    kept.set(key, made);
    return made;
  };
}
