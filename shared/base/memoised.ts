// What is worked out once for each key and then known.

/** A map, or a weak map that forgets with its keys. */
interface Known<K, V> {
  get(key: K): V | undefined;
  has(key: K): boolean;
  set(key: K, value: V): unknown;
}

/** What is known under the key, or else what `make` gives, known from then on; undefined is an answer like any other. */
export function memoised<K, V>(known: Known<K, V>, key: K, make: () => V): V {
  const before = known.get(key);
  // A key that is there has a value of the map's type.
  if (before !== undefined || known.has(key)) return before as V;
  const made = make();
  known.set(key, made);
  return made;
}
