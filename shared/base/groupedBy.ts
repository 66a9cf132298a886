// Items put together by what they have in common.

/**
 * @param keysOf the keys under which an item is found; one that has several is in several groups
 * @returns groups in the order in which their keys first appear, items in their own order
 */
export function groupedBy<T, K>(items: Iterable<T>, keysOf: (item: T) => Iterable<K>): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    for (const key of new Set(keysOf(item))) {
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [item]);
      else group.push(item);
    }
  }
  return groups;
}
