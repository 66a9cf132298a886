// One value for the whole window, changed only by replacing it. Components read it through useStore.
import { useEffect, useState } from 'preact/hooks';

export interface Store<T> {
  readonly get: () => T;
  readonly set: (change: (state: T) => T) => void;
  readonly listen: (listener: () => void) => () => void;
}

export function makeStore<T>(initial: T): Store<T> {
  let state = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => state,
    set: (change) => {
      const next = change(state);
      if (next === state) return;
      state = next;
      for (const listener of [...listeners]) listener();
    },
    listen: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** The store's value; the component is drawn again when it changes. */
export function useStore<T>(store: Store<T>): T {
  const [value, setValue] = useState(store.get());
  useEffect(() => {
    setValue(store.get());
    return store.listen(() => setValue(store.get()));
  }, [store]);
  return value;
}
