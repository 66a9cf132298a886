// The cap of a sleeve redrawn to wanted lengths, part by part between its marks. Over the top the one highest point moves;
// at the underarm both lowest points slide along the underarm seams by the same amount, so that these stay equal and the
// sleeve keeps its width.
import type { Point } from '../../base/points.ts';
import { fail, ok, type Result } from '../../base/result.ts';
import { pathLengthMm, pointAtLength } from '../../geometry/arcLength.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { add, leftNormal, scale, sub, unit } from '../../geometry/vector.ts';
import { capSections } from '../../pattern/capSections.ts';
import type { Edge, EdgeSpan, PatternSet, Shape } from '../../pattern/model.ts';
import { insetMm, seamEdge } from '../../pattern/seamline.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import type { ChangedShape } from '../record.ts';
import { displacePath, type Station } from './blend.ts';
import { redrawCapInParts } from './capParts.ts';
import { beside, edgeOf, ledTo, sewnMm } from './corners.ts';
import { type End, pointAtEnd, slideEnd, withEnd } from './ends.ts';
import { betweenPlaces, type Carry, type Change, fromEnd, fromStart, type Reshaped, reshape } from './reshape.ts';
import { SOLVED_MM, solveAll } from './solve.ts';

/** How much longer each section of the cap becomes, in the order of the walk. */
export type SectionChanges = readonly number[];

/** Every shape of the sleeve with its cap redrawn in the size of the walk. */
export function redrawCap(set: PatternSet, walk: SeamWalk, changesMm: SectionChanges): Result<readonly ChangedShape[]> {
  const spans = walk.seam.sides[walk.sorted.fuller];
  const [span] = spans;
  if (span === undefined || spans.length !== 1 || span.stretch !== null) return redrawCapInParts(walk, changesMm);
  const piece = set.pieces.find(({ id }) => id === span.piece);
  const shape = piece?.shapes[walk.size];
  if (piece === undefined || shape === undefined)
    return fail('no-cap', 'The cap cannot be redrawn: its sleeve was not traced in this size.');
  const plan = planOf(walk, changesMm);
  const reshaped = redrawn(shape, span, plan);
  if (reshaped.ok) return ok([{ piece: piece.id, size: walk.size, ...reshaped.value }]);
  // A cap with neither scoop nor crown (a strip set in like one) has no underarm to slide and no top to raise.
  const asStrip = redrawCapInParts(walk, changesMm);
  return asStrip.ok ? asStrip : reshaped;
}

/** Along the cap from the seam's start: places of the marks now and wanted, which of them is the top. */
interface CapPlan {
  readonly wasMm: readonly number[];
  readonly nowMm: readonly number[];
  readonly top: number;
  /** Changes of length at the underarm and over the top, for the first half and the second. */
  readonly low: readonly [number, number];
  readonly over: readonly [number, number];
}

function planOf(walk: SeamWalk, changesMm: SectionChanges): CapPlan {
  const cap = walk.sorted.fuller;
  const wasMm = walk.anchors.map((anchor) => anchor.atMm[cap]);
  const nowMm = wasMm.map((at, i) => at + changesMm.slice(0, i).reduce((sum, mm) => sum + mm, 0));
  const parts = capSections(walk);
  const half = (i: number) => parts[i]?.half ?? (i < walk.sections.length / 2 ? 'first' : 'second');
  const sumOf = (part: 'underarm' | 'over', which: 'first' | 'second') =>
    changesMm.reduce((sum, mm, i) => sum + ((parts[i]?.part ?? 'underarm') === part && half(i) === which ? mm : 0), 0);
  const top = walk.sections.filter((_, i) => half(i) === 'first').length;
  return {
    wasMm,
    nowMm,
    top,
    low: [sumOf('underarm', 'first'), sumOf('underarm', 'second')],
    over: [sumOf('over', 'first'), sumOf('over', 'second')],
  };
}

function redrawn(shape: Shape, span: EdgeSpan, plan: CapPlan): Result<Reshaped> {
  const lengthMm = sewnMm(shape, span.edge);
  const topMm = plan.wasMm[plan.top] ?? lengthMm / 2;
  // What one half gains and the other loses is only a matter of where the mark of the shoulder lies.
  const shiftMm = oppositePart(plan.over);
  const over = [plan.over[0] - shiftMm, plan.over[1] + shiftMm] as const;
  let now: Reshaped = { shape, carry: (_, atMm) => atMm };
  let place = topMm;
  if (isReal(plan.low)) {
    const lowered = movedUnderarm(now.shape, span, place, plan.low);
    if (lowered === null) return tooMuch();
    now = chained(now, lowered);
    place += plan.low[0];
  }
  if (isReal(over)) {
    const raised = movedTop(now.shape, span, place, over);
    if (raised === null) return tooMuch();
    now = chained(now, raised);
  }
  return ok(withMarks(shape, now, span, plan));
}

function isReal(pair: readonly [number, number]): boolean {
  return pair.some((mm) => Math.abs(mm) > SOLVED_MM);
}

/** The part of two changes in which they are opposite, with the sign of the first. */
function oppositePart([a, b]: readonly [number, number]): number {
  return a * b < 0 ? Math.sign(a) * Math.min(Math.abs(a), Math.abs(b)) : 0;
}

function tooMuch(): Result<never> {
  return fail('no-room', 'The cap cannot be redrawn by that much; take less.');
}

function chained(first: Reshaped, then: Reshaped): Reshaped {
  return { shape: then.shape, carry: (edge, atMm) => then.carry(edge, first.carry(edge, atMm)) };
}

/** Seam places along the walk, as places from the edge's start. */
function fromEdgeStart(shape: Shape, { edge, reversed }: EdgeSpan, alongMm: number): number {
  return reversed ? sewnMm(shape, edge) - alongMm : alongMm;
}

/** The place on the traced cap that lies at a place of its seamline. */
function tracedMm(shape: Shape, span: EdgeSpan, alongMm: number): number {
  const seam = seamEdge(shape, span.edge)!;
  const point = pointAtLength(seam.path, fromEdgeStart(shape, span, alongMm)).point;
  return nearestOnPath(seam.edge.curve, point).atMm;
}

/** Halves of the cap on the seamline before and after a place of the traced line, from the seam's start. */
function halvesMm(shape: Shape, span: EdgeSpan, top: Point): readonly [number, number] {
  const seam = seamEdge(shape, span.edge)!;
  const atMm = nearestOnPath(seam.path, top).atMm;
  return span.reversed ? [seam.lengthMm - atMm, atMm] : [atMm, seam.lengthMm - atMm];
}

/** The highest point moved so that the halves grow by the two amounts. */
function movedTop(shape: Shape, span: EdgeSpan, topMm: number, byMm: readonly [number, number]): Reshaped | null {
  const edge = edgeOf(shape, span.edge);
  const totalMm = pathLengthMm(edge.curve);
  const ratio = tracedMm(shape, span, topMm) / totalMm;
  const { point, tangent } = pointAtLength(edge.curve, ratio * totalMm);
  const up = leftNormal(tangent);
  const inset = insetMm(shape, edge);
  const side = Math.sign(nearestSide(shape, span, point, up));
  const was = halvesMm(shape, span, add(point, scale(up, side * inset)));
  const build = (along: number, high: number): { readonly reshaped: Reshaped; readonly seamTop: Point } => {
    const move = add(scale(tangent, along), scale(up, high));
    const stations: readonly Station[] = [
      { atRatio: 0, moveMm: [0, 0] },
      { atRatio: ratio, moveMm: move },
      { atRatio: 1, moveMm: [0, 0] },
    ];
    const { path } = displacePath(edge.curve, { how: 'smooth', stations });
    const change: Change = { curve: path, carry: fromStart };
    return {
      reshaped: reshape(shape, new Map([[edge.id, change]])),
      seamTop: add(add(point, move), scale(up, side * inset)),
    };
  };
  const found = solveAll(
    ([x, y]) => {
      const { reshaped, seamTop } = build(x!, y!);
      const is = halvesMm(reshaped.shape, span, seamTop);
      return [is[0] - was[0] - byMm[0], is[1] - was[1] - byMm[1]];
    },
    [0, 0],
  );
  return found === null ? null : build(found[0]!, found[1]!).reshaped;
}

/** On which side of the traced line the seamline runs, along the given normal. */
function nearestSide(shape: Shape, span: EdgeSpan, point: Point, normal: Point): number {
  const seam = seamEdge(shape, span.edge)!;
  const away = sub(nearestOnPath(seam.path, point).point, point);
  return away[0] * normal[0] + away[1] * normal[1];
}

/** Both underarm points moved: down their seams by one amount, and along the sleeve's width by another, the same way. */
function movedUnderarm(shape: Shape, span: EdgeSpan, topMm: number, byMm: readonly [number, number]): Reshaped | null {
  const cap = edgeOf(shape, span.edge);
  const totalMm = pathLengthMm(cap.curve);
  const ratio = tracedMm(shape, span, topMm) / totalMm;
  const before = beside(shape, cap.id, 'start');
  const after = beside(shape, cap.id, 'end');
  const across = unit(sub(pointAtEnd(cap.curve, 'end'), pointAtEnd(cap.curve, 'start')));
  const top = pointAtLength(seamEdge(shape, cap.id)!.path, fromEdgeStart(shape, span, topMm)).point;
  const was = halvesMm(shape, span, top);
  const lowMm = [sewnMm(shape, before.id), sewnMm(shape, after.id)] as const;
  const build = (slideMm: readonly [number, number], acrossMm: number): Reshaped => {
    const aside = scale(across, acrossMm);
    const start = add(pointAtEnd(slideEnd(before.curve, 'end', slideMm[0]), 'end'), aside);
    const end = add(pointAtEnd(slideEnd(after.curve, 'start', slideMm[1]), 'start'), aside);
    const stations: readonly Station[] = [
      { atRatio: 0, moveMm: sub(start, pointAtEnd(cap.curve, 'start')) },
      { atRatio: ratio, moveMm: [0, 0] },
      { atRatio: 1, moveMm: sub(end, pointAtEnd(cap.curve, 'end')) },
    ];
    const moved = displacePath(cap.curve, { how: 'smooth', stations }).path;
    const led = (edge: Edge, at: End, target: Point): Change => {
      const change = ledTo(edge, at, target);
      return { ...change, curve: withEnd(change.curve, at, target) };
    };
    return reshape(
      shape,
      new Map([
        [cap.id, { curve: withEnd(withEnd(moved, 'start', start), 'end', end), carry: fromStart }],
        [before.id, led(before, 'end', start)],
        [after.id, led(after, 'start', end)],
      ]),
    );
  };
  const wanted = span.reversed ? [byMm[1], byMm[0]] : byMm;
  const wasEdge = span.reversed ? [was[1], was[0]] : was;
  const found = solveAll(
    ([x, y, z]) => {
      const next = build([x!, y!], z!).shape;
      const halves = halvesMm(next, { ...span, reversed: false }, top);
      const shorter = [lowMm[0] - sewnMm(next, before.id), lowMm[1] - sewnMm(next, after.id)] as const;
      return [halves[0]! - wasEdge[0]! - wanted[0]!, halves[1]! - wasEdge[1]! - wanted[1]!, shorter[0] - shorter[1]];
    },
    [mean(wanted), mean(wanted), 0],
  );
  return found === null ? null : build([found[0]!, found[1]!], found[2]!);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Marks put where the sections have their wanted lengths. */
function withMarks(shape: Shape, now: Reshaped, span: EdgeSpan, plan: CapPlan): Reshaped {
  const wasMm = plan.wasMm.map((at) => fromEdgeStart(shape, span, at));
  const nowMm = plan.nowMm.map((at) => fromEdgeStart(now.shape, span, at));
  const places: Carry = span.reversed
    ? betweenPlaces(wasMm.toReversed(), nowMm.toReversed())
    : betweenPlaces(wasMm, nowMm);
  const carries = new Map<string, Carry>([[span.edge, places]]);
  const edges = [beside(shape, span.edge, 'start').id, beside(shape, span.edge, 'end').id];
  carries.set(edges[0]!, fromStart).set(edges[1]!, fromEnd);
  const changes = new Map<string, Change>(
    shape.ring.flatMap((edge): [string, Change][] => {
      const curve = edgeOf(now.shape, edge.id).curve;
      if (curve === edge.curve && edge.id !== span.edge) return [];
      return [[edge.id, { curve, carry: carries.get(edge.id) ?? fromStart }]];
    }),
  );
  return reshape(shape, changes);
}
