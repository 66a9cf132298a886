// Every correction by hand goes through here: it is made by the same kernel that makes it again on the next trace
// (shared/pattern/repairs.ts), and kept with the shape. Pushing one corner or mark again and again is one correction.
import type { Point } from '../../../shared/base/points.ts';
import type { Result } from '../../../shared/base/result.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import type { Dart, Notch, Repair, RepairDeed, RepairMark, Shape } from '../../../shared/pattern/model.ts';
import { freeRepairId, notchPlace, placeOfMark, withRepair } from '../../../shared/pattern/repairs.ts';

/** The same place: what rounding leaves. */
const SAME_PLACE_MM = 1e-6;

/** The shape with the correction made and kept; the shape itself when it finds no place. */
export function repaired(shape: Shape, deed: RepairDeed): Shape {
  const made = tryRepair(shape, deed);
  return made.ok ? made.value : shape;
}

export function tryRepair(shape: Shape, deed: RepairDeed): Result<Shape> {
  const made = withRepair(shape, freeRepairId(shape), deed);
  return made.ok ? { ok: true, value: { ...made.value, repairs: joinedLast(made.value.repairs ?? []) } } : made;
}

/** The last two corrections as one when the second only goes on with the first. */
function joinedLast(repairs: readonly Repair[]): readonly Repair[] {
  const [before, last] = repairs.slice(-2);
  if (before === undefined || last === undefined || before.setAside) return repairs;
  const joined = goingOn(before, last);
  return joined === null ? repairs : [...repairs.slice(0, -2), joined];
}

function goingOn(before: Repair, last: Repair): Repair | null {
  if (before.kind === 'corner-moved' && last.kind === 'corner-moved') {
    return isSame(before.to, last.from) ? { ...before, to: last.to } : null;
  }
  if (last.kind !== 'mark-moved' || (before.kind !== 'mark-moved' && before.kind !== 'mark-added')) return null;
  const isSameMark = before.mark.kind === last.mark.kind && isSame(placeOfMark(before.mark), last.from);
  return isSameMark ? { ...before, mark: last.mark } : null;
}

function isSame(a: Point, b: Point): boolean {
  return distance(a, b) <= SAME_PLACE_MM;
}

/** A notch as its place on the traced line names it. */
export function notchMark(shape: Shape, notch: Notch): Extract<RepairMark, { kind: 'notch' }> {
  const curve = shape.ring.find(({ id }) => id === notch.edge)?.curve;
  const at = notchPlace(shape, notch);
  return { kind: 'notch', at: curve === undefined ? at : nearestOnPath(curve, at).point, count: notch.count };
}

export function dartMark({ legs, apex }: Dart): Extract<RepairMark, { kind: 'dart' }> {
  return { kind: 'dart', legs, apex };
}

/** `after` is `before` with one notch changed by hand; kept as what was done to it. */
export function withNotchKept(before: Shape, after: Shape, id: string): Shape {
  const was = before.notches.find((notch) => notch.id === id);
  const is = after.notches.find((notch) => notch.id === id);
  if (was === undefined || is === undefined || was === is) return after;
  const isInPlace = was.edge === is.edge && was.atMm === is.atMm && was.count === is.count;
  if (isInPlace) return after; // what it is for is no matter of places
  return kept(before, after, { kind: 'mark-moved', from: notchMark(before, was).at, mark: notchMark(after, is) });
}

/**
 * `after` is `before` after a change of its marks, kept as this correction. The kernel finds marks by their places; the shape
 * stays the very one that the person made. What the kernel would refuse cannot be made again and is not kept.
 */
export function kept(before: Shape, after: Shape, deed: RepairDeed): Shape {
  const made = tryRepair(before, deed);
  return made.ok ? { ...after, repairs: made.value.repairs ?? [] } : after;
}

/** A correction that found no place is not tried any more. */
export function forgetRepair(shape: Shape, id: string): Shape {
  return { ...shape, repairs: (shape.repairs ?? []).filter((repair) => repair.id !== id) };
}
