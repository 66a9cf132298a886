// After the line of a shape has changed: notches and pleats stay where they lie on the paper, dart legs stay on the line.
import { pointAtLength } from '../../../shared/geometry/arcLength.ts';
import { nearestOnPath } from '../../../shared/geometry/nearest.ts';
import type { Edge, Shape } from '../../../shared/pattern/model.ts';
import { type SeamEdge, seamlineOf } from '../../../shared/pattern/seamline.ts';

/** `before` with another ring. */
export function withRing(before: Shape, ring: readonly Edge[]): Shape {
  return settleMarks(before, { ...before, ring });
}

/** `bare` with the marks of `before`; those on edges whose seamline moved are measured again from where they lay. */
export function settleMarks(before: Shape, bare: Shape): Shape {
  const { ring } = bare;
  const was = seamlineOf(before).byId;
  const is = seamlineOf(bare).byId;
  const again = (edge: string, atMm: number): number => {
    const [from, to] = [was.get(edge), is.get(edge)];
    return from === undefined || to === undefined || sameLine(from, to) ? atMm : placeOn(from, to, atMm);
  };
  return {
    ...bare,
    notches: before.notches.map((notch) => ({ ...notch, atMm: again(notch.edge, notch.atMm) })),
    pleats: before.pleats.map((pleat) => ({
      ...pleat,
      fromMm: again(pleat.edge, pleat.fromMm),
      toMm: again(pleat.edge, pleat.toMm),
    })),
    darts: before.darts.map((dart) => {
      const curve = ring.find((edge) => edge.id === dart.edge)?.curve;
      const old = before.ring.find((edge) => edge.id === dart.edge)?.curve;
      if (curve === undefined || curve === old) return dart;
      return { ...dart, legs: [nearestOnPath(curve, dart.legs[0]).point, nearestOnPath(curve, dart.legs[1]).point] };
    }),
  };
}

function placeOn(from: SeamEdge, to: SeamEdge, atMm: number): number {
  return nearestOnPath(to.path, pointAtLength(from.path, atMm).point).atMm;
}

function sameLine(a: SeamEdge, b: SeamEdge): boolean {
  if (a.path === b.path) return true;
  return (
    a.path.length === b.path.length &&
    a.path.every((point, i) => point[0] === b.path[i]![0] && point[1] === b.path[i]![1])
  );
}
