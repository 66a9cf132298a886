// The bodies and the cloth of a set, changed by the person: typed in, taken from a table that they supply, or from a published
// one. Every change gives a new set and is recorded in its history.
import { fail, ok, type Result } from '../base/result.ts';
import { MM_PER } from '../base/units.ts';
import { wordsIn } from '../checks/words.ts';
import { readBodyTable, troubleOf } from '../formats/bodies/read.ts';
import { BODY_TABLES, type BodyTable } from '../limits/bodyTables.ts';
import { BODY_MEASURES, isKnownMeasure, normalMeasure, normalMeasures } from '../pattern/bodyMeasures.ts';
import type { Body, FitClass, HistoryStep, PatternSet, Size } from '../pattern/model.ts';

export interface BodyChange {
  readonly name: string;
  /** Millimetres by name; null takes a measure away. What is not named stays. */
  readonly measuresMm: Readonly<Record<string, number | null>>;
  /** Null = not said any more; undefined = as it was. */
  readonly size?: Size | null;
  readonly wanted?: FitClass | null;
}

/** Adds a body or changes some of its measures. */
export function setBody(set: PatternSet, change: BodyChange): Result<PatternSet> {
  const name = change.name.trim();
  if (name === '') return fail('no-name', 'A body needs a name; the name of a size means the body of that size.');
  const named = Object.entries(change.measuresMm).map(([measure, mm]) => [normalMeasure(measure), mm] as const);
  const unknown = named.find(([measure]) => !isKnownMeasure(measure));
  if (unknown !== undefined) return unknownMeasure(unknown[0]);
  const { size } = change;
  if (size !== undefined && size !== null && !set.sizes.includes(size)) {
    return fail('no-size', `The set has no size "${size}"; its sizes are ${set.sizes.join(', ')}.`);
  }
  const before = set.bodies.find((body) => body.name === name);
  const measuresMm = { ...normalMeasures(before?.measuresMm ?? {}) };
  for (const [measure, mm] of named) {
    if (mm === null) delete measuresMm[measure];
    else measuresMm[measure] = mm;
  }
  const nowSize = size === undefined ? before?.size : (size ?? undefined);
  const nowWanted = change.wanted === undefined ? before?.wanted : (change.wanted ?? undefined);
  const body: Body = {
    name,
    measuresMm,
    ...(nowSize === undefined ? {} : { size: nowSize }),
    ...(nowWanted === undefined ? {} : { wanted: nowWanted }),
  };
  const trouble = troubleOf(body);
  if (trouble !== null) return fail('not-a-body', trouble);
  const say = wordsIn(set.displayUnits);
  const told = [
    ...named.map(([measure, mm]) => (mm === null ? `${measure} taken away` : `${measure} ${say.length(mm)}`)),
    ...(size === undefined ? [] : [size === null ? 'no size' : `size ${size}`]),
    ...(change.wanted === undefined ? [] : [change.wanted === null ? 'no wish' : `to fit ${change.wanted}`]),
  ];
  return ok(
    recorded(withBodies(set, [body]), {
      what: 'body:set',
      params: {
        name,
        ...Object.fromEntries(named.map(([measure, mm]) => [measure, mm ?? ''])),
        ...(size === undefined ? {} : { size: size ?? '' }),
        ...(change.wanted === undefined ? {} : { wanted: change.wanted ?? '' }),
      },
      sentence: `Body "${name}": ${told.length === 0 ? 'added' : told.join(', ')}.`,
    }),
  );
}

export function removeBody(set: PatternSet, name: string): Result<PatternSet> {
  if (!set.bodies.some((body) => body.name === name)) return noBody(set, name);
  return ok(
    recorded(
      { ...set, bodies: set.bodies.filter((body) => body.name !== name) },
      { what: 'body:remove', params: { name }, sentence: `Body "${name}" was removed.` },
    ),
  );
}

export interface ImportedBodies {
  readonly set: PatternSet;
  readonly sentence: string;
}

/** Bodies from a table that the person supplies; one of the same name is replaced. */
export function importBodies(set: PatternSet, file: string, text: string): Result<ImportedBodies> {
  const read = readBodyTable(file, text);
  return read.ok ? ok(tookOver(set, read.value, file, 'supplied by the person')) : read;
}

/** Bodies of a published table, under the names of the table's sizes or of the set's own sizes. */
export function usePublishedTable(
  set: PatternSet,
  tableId: string,
  /** Which column of the table stands for which size of the set; null = columns named as the set's sizes. */
  columns: Readonly<Record<Size, string>> | null,
): Result<ImportedBodies> {
  const table = publishedTable(tableId);
  if (!table.ok) return table;
  const { title, source, sizes } = table.value;
  const wanted = columns ?? Object.fromEntries(set.sizes.filter((size) => sizes.includes(size)).map((s) => [s, s]));
  const bodies: Body[] = [];
  for (const [size, column] of Object.entries(wanted)) {
    if (!set.sizes.includes(size)) {
      return fail('no-size', `The set has no size "${size}"; its sizes are ${set.sizes.join(', ')}.`);
    }
    const body = bodyOfTable(table.value, column);
    if (!body.ok) return body;
    bodies.push({ ...body.value, name: size });
  }
  if (bodies.length === 0) {
    return fail(
      'no-size',
      `No size of the set (${set.sizes.join(', ')}) is named as one of ${title} (${sizes.join(', ')}); say which is which.`,
    );
  }
  return ok(tookOver(set, bodies, title, source));
}

export function publishedTable(id: string): Result<BodyTable> {
  const table = BODY_TABLES.find((one) => one.id === id);
  if (table !== undefined) return ok(table);
  return fail(
    'no-table',
    `There is no published table "${id}"; possible are ${BODY_TABLES.map((one) => one.id).join(', ')}.`,
  );
}

/** One column of a published table as a body. */
export function bodyOfTable({ title, unit, sizes, measures }: BodyTable, column: string): Result<Body> {
  const index = sizes.indexOf(column);
  if (index < 0) return fail('no-size', `${title} has no size "${column}"; its sizes are ${sizes.join(', ')}.`);
  const measuresMm = Object.fromEntries(
    Object.entries(measures).map(([name, values]) => [normalMeasure(name), values[index]! * MM_PER[unit]]),
  );
  return ok({ name: column, measuresMm });
}

/** How wide the cloth is between the selvages; null = not said. */
export function setFabric(set: PatternSet, widthMm: number | null): Result<PatternSet> {
  const { fabric: _, ...rest } = set;
  if (widthMm === null) {
    return ok(
      recorded(rest, {
        what: 'fabric:width',
        params: { widthMm: '' },
        sentence: 'The width of the cloth is not said.',
      }),
    );
  }
  if (!(widthMm >= LEAST_FABRIC_MM)) {
    return fail(
      'not-a-width',
      `Cloth of ${widthMm} mm is too narrow to cut from; give its width, such as 1400 or 140cm.`,
    );
  }
  const said = wordsIn(set.displayUnits).length(widthMm);
  return ok(
    recorded(
      { ...rest, fabric: { widthMm } },
      { what: 'fabric:width', params: { widthMm }, sentence: `The cloth is ${said} wide.` },
    ),
  );
}

/** Ribbons are not cloth to cut pieces from; a width below this was typed in another unit. */
const LEAST_FABRIC_MM = 200;

export function noBody(set: PatternSet, name: string): Result<never> {
  const known = set.bodies.map((body) => `"${body.name}"`).join(', ');
  return fail('no-body', `The set has no body "${name}"; ${known === '' ? 'it has none' : `it has ${known}`}.`);
}

function unknownMeasure(name: string): Result<never> {
  return fail(
    'unknown-measure',
    `"${name}" is no measure that something is compared with; known are ${BODY_MEASURES.map((one) => one.name).join(', ')}.`,
  );
}

function tookOver(set: PatternSet, bodies: readonly Body[], title: string, source: string): ImportedBodies {
  const names = bodies.map(({ name }) => name);
  const sentence = `${names.length} ${names.length === 1 ? 'body' : 'bodies'} from ${title}: ${names.join(', ')}.`;
  const step = { what: 'body:table', params: { table: title, source, names: names.join(',') }, sentence };
  return { set: recorded(withBodies(set, bodies), step), sentence };
}

/** Bodies replaced by name, new ones at the end. */
function withBodies(set: PatternSet, bodies: readonly Body[]): PatternSet {
  const byName = new Map(set.bodies.map((body) => [body.name, body]));
  for (const body of bodies) byName.set(body.name, body);
  return { ...set, bodies: [...byName.values()] };
}

function recorded(set: PatternSet, step: HistoryStep): PatternSet {
  return { ...set, history: [...set.history, step] };
}
