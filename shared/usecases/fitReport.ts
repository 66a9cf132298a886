// The table of fit: what the finished garment measures, what the body measures, the ease between them and what is usual, level
// by level; what the checks say of it; and which size to start from.
import { fail, ok, type Result } from '../base/result.ts';
import { contextOf } from '../checks/context.ts';
import { hipDepthMm, problemWords } from '../checks/parts/bodyFits.ts';
import type { FindingJson } from '../checks/toFindingsJson.ts';
import { type Words, wordsIn } from '../checks/words.ts';
import { knownBody, sizeFor } from '../fit/bodies.ts';
import { type FinishedMeasures, finishedMeasures } from '../fit/finished.ts';
import { FINISHED_MEASURES, type FinishedNote, type MeasuredLine, type MeasureId } from '../fit/finishedMeasure.ts';
import { garmentIn } from '../fit/garment.ts';
import { adviseSize, type RegionAdvice, type SizeAdvice } from '../fit/sizeAdvice.ts';
import { type EaseLeast, easeClassOf, easeOnMm, WEARING_EASE } from '../limits/wearingEase.ts';
import type { Body, FitClass, PatternSet, Size } from '../pattern/model.ts';
import { noBody } from './bodies.ts';
import { verify } from './verify.ts';

export interface FitLine {
  readonly measure: MeasureId;
  /** In the round where it is a girth; null when it could not be taken. */
  readonly finished: { readonly valueMm: number; readonly sigmaMm: number } | null;
  /** What the pieces show, where they show half. */
  readonly halfMm: number | null;
  /** An opening undone. */
  readonly passesMm: number | null;
  readonly bodyMeasure: string;
  readonly bodyMm: number | null;
  /** Finished (undone, for an opening) less body. */
  readonly easeMm: number | null;
  /** Usual at least; null where only the body counts. */
  readonly leastEaseMm: number | null;
  readonly fitClass: FitClass | null;
  readonly notes: readonly FinishedNote[];
  readonly lines: readonly MeasuredLine[];
  /** Why it could not be taken, as a sentence. */
  readonly problem: string | null;
}

export interface FitReport {
  readonly format: 'notchwise-fit/1';
  readonly set: string;
  readonly size: Size;
  readonly body: Body | null;
  readonly lines: readonly FitLine[];
  readonly findings: readonly FindingJson[];
  readonly advice: (SizeAdvice & { readonly sentence: string }) | null;
}

export interface FitRequest {
  /** A body of the set by name, or one that is not in it; null = the first person, else the body of the size. */
  readonly body: string | Body | null;
  readonly size: Size | null;
}

const FIT_RULES: readonly string[] = [
  'ease-short',
  'head-opening',
  'hand-opening',
  'goes-on',
  'length-short',
  'fabric-narrow',
];

export function fitReport(set: PatternSet, request: FitRequest): Result<FitReport> {
  const context = contextOf(set);
  if (context.sizes.length === 0) return fail('no-shapes', 'No piece of this set was traced yet; trace it first.');
  const found = bodyFor(set, request);
  if (!found.ok) return found;
  const body = found.value;
  const { size } = request;
  if (size !== null && !context.sizes.includes(size)) return notTraced(size, context.sizes);
  const judged = size ?? (body === null ? baseOrFirst(set, context.sizes) : sizeFor(set, body, context.sizes));
  if (judged === null) return notTraced(body?.size ?? body?.name ?? '', context.sizes);
  const finished = new Map(
    context.sizes.map((one) => [
      one,
      finishedMeasures(
        garmentIn(set, one, {
          measuring: context.measuring,
          hipDepthMm: hipDepthMm(body ?? NOBODY),
          walks: context.walks().filter((walk) => walk.size === one),
        }),
      ),
    ]),
  );
  const only = { ...set, bodies: body === null ? [] : [{ ...body, size: judged }] };
  const advice = body === null ? null : adviseSize(set, body, finished);
  return ok({
    format: 'notchwise-fit/1',
    set: set.name,
    size: judged,
    body,
    lines: linesFor(set, body, finished.get(judged)!),
    findings: verify(only).findings.findings.filter(
      ({ rule, verdict, subjects }) =>
        FIT_RULES.includes(rule) &&
        verdict !== 'not-applicable' &&
        subjects.every((subject) => subject.size === undefined || subject.size === judged),
    ),
    advice: advice === null ? null : { ...advice, sentence: adviceSentence(advice, wordsIn(set.displayUnits)) },
  });
}

const NOBODY: Body = { name: '', measuresMm: {} };

function bodyFor(set: PatternSet, { body, size }: FitRequest): Result<Body | null> {
  if (body !== null && typeof body !== 'string') return ok(knownBody(body));
  if (body !== null) {
    const found = set.bodies.find(({ name }) => name === body);
    return found === undefined ? noBody(set, body) : ok(knownBody(found));
  }
  const person = set.bodies.find(({ name }) => !set.sizes.includes(name));
  const own = set.bodies.find(({ name }) => name === (size ?? set.baseSize)) ?? set.bodies[0];
  const chosen = person ?? own;
  return ok(chosen === undefined ? null : knownBody(chosen));
}

function baseOrFirst(set: PatternSet, traced: readonly Size[]): Size {
  return traced.includes(set.baseSize) ? set.baseSize : traced[0]!;
}

function notTraced(size: Size, traced: readonly Size[]): Result<never> {
  return fail('not-traced', `Size "${size}" was not traced; the set has ${traced.join(', ')}.`);
}

function linesFor(set: PatternSet, body: Body | null, finished: FinishedMeasures): readonly FitLine[] {
  return FINISHED_MEASURES.flatMap(({ id, body: bodyMeasure }): FitLine[] => {
    const taken = finished[id];
    if (!taken.ok && taken.error.kind === 'no-piece') return [];
    const bodyMm = body?.measuresMm[bodyMeasure] ?? null;
    const blank = { measure: id, bodyMeasure, bodyMm, leastEaseMm: leastEase(set, id, bodyMm) };
    if (!taken.ok) {
      return [
        {
          ...blank,
          finished: null,
          halfMm: null,
          passesMm: null,
          easeMm: null,
          fitClass: null,
          notes: [],
          lines: [],
          problem: `It could not be taken: ${problemWords(taken.error)}.`,
        },
      ];
    }
    const { length, isHalved, opening, notes, lines } = taken.value;
    const passesMm = opening === null ? null : opening.passes.valueMm;
    const easeMm = bodyMm === null ? null : (passesMm ?? length.valueMm) - bodyMm;
    const hasClass = id === 'bust' && easeMm !== null && set.preset.cloth !== 'knit';
    return [
      {
        ...blank,
        finished: { valueMm: length.valueMm, sigmaMm: length.sigmaMm },
        halfMm: isHalved ? length.valueMm / 2 : null,
        passesMm,
        easeMm,
        fitClass: hasClass ? easeClassOf(easeMm) : null,
        notes,
        lines,
        problem: null,
      },
    ];
  });
}

function leastEase({ preset }: PatternSet, id: MeasureId, bodyMm: number | null): number | null {
  // Only some of the measures are levels of ease.
  const rows: Readonly<Partial<Record<MeasureId, EaseLeast>>> = WEARING_EASE[preset.cloth];
  const row = rows[id];
  return row === undefined || bodyMm === null ? null : easeOnMm(row.clearFrom, bodyMm);
}

function adviceSentence({ regions, start, differing }: SizeAdvice, say: Words): string {
  const first = regions.find(({ size }) => size === start)!;
  const all = regions.map(regionWords).join(', ');
  const beyond = regions.filter((one) => one.beyond !== null);
  const outside = beyond
    .map(({ region, bodyMm, beyond: how }) => ` The ${region} of ${say.length(bodyMm)} is ${how}.`)
    .join('');
  if (differing.length === 0) return `Start from size ${start} (${all}).${outside}`;
  const others = differing.map(({ region, size }) => `size ${size} at the ${region}`).join(' and ');
  return `By region: ${all}. Start from size ${start}, which suits the ${first.region}, and run over to ${others}.${outside}`;
}

function regionWords({ region, size }: RegionAdvice): string {
  return `${region} ${size}`;
}
