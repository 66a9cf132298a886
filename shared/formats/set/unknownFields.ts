// Fields of a set document that the schema does not know. One that looks like a slip of the pen is refused, because a
// misspelt allowance would be measured as none; any other is kept, rides along in the model and is written again.
import * as z from 'zod';

export interface UnknownField {
  /** Path of the object that holds the field. */
  readonly path: readonly PropertyKey[];
  readonly key: string;
  readonly value: unknown;
  /** The known field that was probably meant; null = nothing like it. */
  readonly meant: string | null;
}

/** Every unknown field in `value`, in the order of the document. `value` must have passed `schema`. */
export function unknownFields(schema: z.core.$ZodType, value: unknown): readonly UnknownField[] {
  return walk(schema, value, []);
}

/** Puts the kept fields onto a fresh model, at the same paths. */
export function attachExtras<T>(model: T, fields: readonly UnknownField[]): T {
  for (const field of fields) {
    let target: unknown = model;
    for (const key of field.path) target = (target as Record<PropertyKey, unknown> | undefined)?.[key];
    // The model is fresh from the conversion and shared with nobody yet; readonly is for its readers.
    if (typeof target === 'object' && target !== null) (target as Record<string, unknown>)[field.key] = field.value;
  }
  return model;
}

/** Copies what `from` (a model) holds beyond `onto` (the document made from it), so that extras survive writing. */
export function carryExtras(from: unknown, onto: unknown): void {
  if (Array.isArray(from) && Array.isArray(onto)) {
    from.forEach((part, index) => {
      carryExtras(part, onto[index]);
    });
    return;
  }
  if (!isObject(from) || !isObject(onto)) return;
  for (const [key, part] of Object.entries(from)) {
    if (key in onto) carryExtras(part, onto[key]);
    else if (part !== undefined) onto[key] = part;
  }
}

function walk(schema: z.core.$ZodType, value: unknown, path: readonly PropertyKey[]): readonly UnknownField[] {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault || schema instanceof z.ZodNullable) {
    return walk(schema.unwrap(), value, path);
  }
  if (schema instanceof z.ZodArray && Array.isArray(value)) {
    return value.flatMap((part, index) => walk(schema.element, part, [...path, index]));
  }
  if (schema instanceof z.ZodTuple && Array.isArray(value)) {
    return value.flatMap((part, index) => {
      const item = schema.def.items[index];
      return item === undefined ? [] : walk(item, part, [...path, index]);
    });
  }
  if (!isObject(value)) return [];
  if (schema instanceof z.ZodRecord) {
    return Object.entries(value).flatMap(([key, part]) => walk(schema.valueType, part, [...path, key]));
  }
  if (schema instanceof z.ZodDiscriminatedUnion) {
    const option = schema.options.find((one) => z.safeParse(one, value).success);
    return option === undefined ? [] : walk(option, value, path);
  }
  if (!(schema instanceof z.ZodObject)) return [];
  const shape: Readonly<Record<string, z.core.$ZodType>> = schema.shape;
  return Object.entries(value).flatMap(([key, part]) => {
    const known = shape[key];
    return known === undefined
      ? [{ path, key, value: part, meant: likeliest(key, Object.keys(shape)) }]
      : walk(known, part, [...path, key]);
  });
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** One slip is forgiven in short words, two in long ones: "notes" must not be taken for "notches". */
const LONG_WORD_CHARS = 8;

function likeliest(key: string, known: readonly string[]): string | null {
  const slips = key.length >= LONG_WORD_CHARS ? 2 : 1;
  return known.find((name) => plain(name) === plain(key) || editDistance(name, key) <= slips) ?? null;
}

/** Case, separators and unit suffixes aside. */
function plain(name: string): string {
  return name
    .replace(/(Mm|Deg|Ratio|_mm|_deg)$/, '')
    .replace(/[_-]/g, '')
    .toLowerCase();
}

/** Levenshtein's distance, by rows. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
