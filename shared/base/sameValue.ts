// Whether two pieces of plain data say the same, and a newer one rebuilt from the objects of an older one wherever they do.
// What is worked out once for each object stays known when data comes back as a copy: read again, or sent between processes.

/**
 * Equal in every value, and shared in the same places: two objects that are one object on one side are one on the other.
 * Functions are the same only when they are one function. Knows plain objects, arrays and maps.
 */
export function isSame(a: unknown, b: unknown): boolean {
  return hasSameParts(a, b) || (isObject(a) && isObject(b) && alike(a, b, new Map(), new Map()));
}

/** One and the same value, or lists or plain objects whose every part is: quick to tell. */
export function hasSameParts(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (!isObject(a) || !isObject(b)) return false;
  if (Array.isArray(a)) return Array.isArray(b) && a.length === b.length && a.every((x, i) => Object.is(x, b[i]));
  if (!bothPlain(a, b)) return false;
  let parts = 0;
  for (const key in a) {
    if (!Object.is(a[key], b[key])) return false;
    parts++;
  }
  for (const key in b) {
    if (!(key in a)) return false;
    parts--;
  }
  return parts === 0;
}

function alike(a: unknown, b: unknown, ofA: Map<object, object>, ofB: Map<object, object>): boolean {
  if (!isObject(a) || !isObject(b)) return Object.is(a, b);
  const partner = ofA.get(a);
  if (partner !== undefined || ofB.has(b)) return partner === b;
  ofA.set(a, b);
  ofB.set(b, a);
  if (a === b) return true;
  if (Array.isArray(a)) {
    return Array.isArray(b) && a.length === b.length && a.every((x, i) => alike(x, b[i], ofA, ofB));
  }
  if (a instanceof Map) {
    if (!(b instanceof Map) || a.size !== b.size) return false;
    for (const [key, x] of a) if (!b.has(key) || !alike(x, b.get(key), ofA, ofB)) return false;
    return true;
  }
  if (!bothPlain(a, b)) return false;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length) return false;
  return keys.every((key) => Object.hasOwn(b, key) && alike(a[key], b[key], ofA, ofB));
}

/**
 * `after` in every value, built from the objects of `before` where nothing changed; `before` itself when all is the same.
 * For data that JSON can carry. Things with an `id` are looked for by it, so that one more at the front changes no other.
 */
export function keepSame<T>(before: unknown, after: T): T {
  if (Object.is(before, after) || !isObject(before) || !isObject(after)) return after;
  if (Array.isArray(after)) {
    // A list of the same type: every entry is the newer one or equal to it.
    return (Array.isArray(before) ? keepList(before, after) : after) as T;
  }
  if (!bothPlain(before, after)) return after;
  const entries = Object.entries(after).map(([key, x]) => [key, keepSame(before[key], x)] as const);
  const unchanged =
    entries.length === Object.keys(before).length &&
    entries.every(([key, x]) => Object.hasOwn(before, key) && Object.is(x, before[key]));
  return (unchanged ? before : Object.fromEntries(entries)) as T;
}

function keepList(before: readonly unknown[], after: readonly unknown[]): readonly unknown[] {
  const byId = hasId(after[0]) ? new Map(before.map((x) => [hasId(x) ? x.id : x, x])) : null;
  const kept = after.map((x, i) => keepSame((hasId(x) ? byId?.get(x.id) : undefined) ?? before[i], x));
  return before.length === kept.length && kept.every((x, i) => Object.is(x, before[i])) ? before : kept;
}

function hasId(x: unknown): x is { readonly id: unknown } {
  return isObject(x) && 'id' in x;
}

function isObject(x: unknown): x is Readonly<Record<string, unknown>> {
  return typeof x === 'object' && x !== null;
}

function bothPlain(a: object, b: object): boolean {
  const prototype = Object.getPrototypeOf(a);
  return prototype === Object.getPrototypeOf(b) && (prototype === Object.prototype || prototype === null);
}
