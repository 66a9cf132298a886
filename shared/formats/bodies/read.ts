// Body measurements that a person supplies as a table: CSV with a size in each row or in each column, or JSON. The unit is
// said in the table or everything is millimetres; it is never guessed from the numbers.
import * as z from 'zod';
import { fail, ok, type Result } from '../../base/result.ts';
import { schemaSentence } from '../../base/schemaSentence.ts';
import { type LengthUnit, MM_PER } from '../../base/units.ts';
import { isKnownMeasure, normalMeasure } from '../../pattern/bodyMeasures.ts';
import type { Body } from '../../pattern/model.ts';

const tableJson = z.object({
  unit: z.enum(['mm', 'cm', 'in']),
  bodies: z.record(z.string().min(1), z.record(z.string().min(1), z.number().positive())),
});

/** No girth or height of a body is smaller or larger; beyond it the unit is wrong. */
const BODY_RANGE_MM = { from: 20, to: 3000 } as const;
/** A bust, waist, hip or head smaller than this is in another unit. */
const LEAST_GIRTH_MM = 250;
const LARGE_GIRTHS: readonly string[] = ['bust', 'waist', 'hip', 'head', 'shoulders'];

/** @param name of the file, for sentences; JSON when the text begins with a brace */
export function readBodyTable(name: string, text: string): Result<readonly Body[]> {
  const read = text.trimStart().startsWith('{') ? readJson(name, text) : readCsv(name, text);
  if (!read.ok) return read;
  for (const body of read.value) {
    const trouble = troubleOf(body);
    if (trouble !== null) return fail('not-a-body', `${name}: ${trouble}`);
  }
  return read.value.length === 0
    ? fail('no-bodies', `${name} holds no measurements; give it a row for each size and a column for each measure.`)
    : read;
}

/** What cannot be a measure of a body, as a sentence; null when all can. */
export function troubleOf({ name, measuresMm }: Body): string | null {
  for (const [measure, mm] of Object.entries(measuresMm)) {
    const least = LARGE_GIRTHS.includes(measure) ? LEAST_GIRTH_MM : BODY_RANGE_MM.from;
    if (!(mm >= least) || mm > BODY_RANGE_MM.to)
      return `"${measure}" of "${name}" would be ${Math.round(10 * mm) / 10} mm; say the unit, such as "size (cm)" in a table or 92cm for one measure.`;
  }
  return null;
}

function readJson(name: string, text: string): Result<readonly Body[]> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return fail('bad-json', `${name} is no JSON: ${error instanceof Error ? error.message : 'it ends too early'}.`);
  }
  const parsed = tableJson.safeParse(value);
  if (!parsed.success) {
    return fail('bad-table', `${name}: ${schemaSentence(parsed.error.issues[0]!, value)}.`);
  }
  const { unit, bodies } = parsed.data;
  return ok(
    Object.entries(bodies).map(([body, measures]) => ({
      name: body,
      measuresMm: Object.fromEntries(
        Object.entries(measures).map(([measure, amount]) => [normalMeasure(measure), amount * MM_PER[unit]]),
      ),
    })),
  );
}

interface Cells {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

function readCsv(name: string, text: string): Result<readonly Body[]> {
  const { head, rows } = cellsOf(text);
  const [corner = ''] = head;
  const tableUnit = unitIn(corner);
  if (tableUnit === null) return unknownUnit(name, corner);
  const labels = head.slice(1);
  const across = labels.filter((label) => isKnownMeasure(plainMeasure(label))).length;
  const down = rows.filter(([label = '']) => isKnownMeasure(plainMeasure(label))).length;
  if (across === 0 && down === 0) {
    return fail(
      'no-measures',
      `${name}: neither its first row nor its first column names a measure such as bust, waist or hip.`,
    );
  }
  // Measures across and a size in each row, or the other way round.
  const names = across >= down ? rows.map(([label = '']) => label.trim()) : labels;
  const measures = across >= down ? labels : rows.map(([label = '']) => label);
  const cellAt = (body: number, measure: number) =>
    (across >= down ? rows[body]?.[measure + 1] : rows[measure]?.[body + 1])?.trim() ?? '';
  const bodies: Body[] = [];
  for (const [i, bodyName] of names.entries()) {
    if (bodyName === '') continue;
    const measuresMm: Record<string, number> = {};
    for (const [k, label] of measures.entries()) {
      const cell = cellAt(i, k);
      const unit = unitIn(label);
      if (unit === null) return unknownUnit(name, label);
      if (cell === '') continue;
      const amount = numberIn(cell);
      if (amount === null)
        return fail(
          'not-a-number',
          `${name}: "${cell}" for ${label} of ${bodyName} is no number; write 88.5 or 34 1/2.`,
        );
      measuresMm[plainMeasure(label)] = amount * MM_PER[unit ?? tableUnit ?? 'mm'];
    }
    bodies.push({ name: bodyName, measuresMm });
  }
  return ok(bodies);
}

function unknownUnit(name: string, label: string): Result<never> {
  return fail('unknown-unit', `${name}: the unit in "${label}" is none of mm, cm, in.`);
}

function cellsOf(text: string): Cells {
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .filter((line) => line.trim() !== '');
  const separator = [';', '\t', ','].find((mark) => (lines[0] ?? '').includes(mark)) ?? ',';
  const split = (line: string) => line.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'));
  const [head = '', ...rest] = lines;
  return { head: split(head), rows: rest.map(split) };
}

/** "bust (cm)" is in centimetres; undefined without a unit, null for one that is not known. */
function unitIn(label: string): LengthUnit | undefined | null {
  const unit = /[([]\s*([^)\]]*?)\s*[)\]]\s*$/.exec(label)?.[1]?.toLowerCase();
  if (unit === undefined) return undefined;
  return unit in MM_PER ? (unit as LengthUnit) : null;
}

function plainMeasure(label: string): string {
  return normalMeasure(label.replace(/[([].*$/, ''));
}

/** "88", "88.5", "88,5", "34 1/2", "1/2". */
function numberIn(text: string): number | null {
  const match = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+)\s+)?(\d+)\/([1-9]\d*))$/.exec(text);
  if (match === null) return null;
  const [, plain, whole, over, under] = match;
  return plain === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(plain.replace(',', '.'));
}
