// What a person said about the edges and marks of a piece, carried to a new trace of it: a trace only knows places, so an
// edge keeps its name where it lies as it did.
import type { Point } from '../base/points.ts';
import { endOf, startOf } from '../geometry/cubicPath.ts';
import { type Affine, apply } from '../geometry/transform.ts';
import { distance } from '../geometry/vector.ts';
import type { Edge, Notch, Shape } from './model.ts';
import { notchPlace, REPAIR_REACH_MM, reseated } from './repairs.ts';

/** By the old edges' ids, for traces that a plan has named: what was said about an edge since is kept. */
export function keepSayings(old: Shape, traced: Shape): Shape {
  const before = new Map(old.ring.map((edge) => [edge.id, edge]));
  const ring = traced.ring.map((edge) => said(edge, before.get(edge.id), edge.id));
  const shape = reseated(traced, ring, (id) => [id]);
  const notches = new Map(old.notches.map((notch) => [notch.id, notch]));
  return { ...shape, notches: shape.notches.map((notch) => saidOfNotch(notch, notches.get(notch.id), notch.id)) };
}

/** By place, for traces without a plan: edges, notches and darts that lie where an old one lay take its name. */
export function keepNames(old: Shape, traced: Shape, newFromOld: Affine): Shape {
  const heirOf = new Map<string, Edge>();
  for (const edge of traced.ring) {
    const known = old.ring.find(
      (one) =>
        isNear(apply(newFromOld, startOf(one.curve)), startOf(edge.curve)) &&
        isNear(apply(newFromOld, endOf(one.curve)), endOf(edge.curve)),
    );
    if (known !== undefined && ![...heirOf.values()].includes(known)) heirOf.set(edge.id, known);
  }
  const taken = new Set([...heirOf.values()].map(({ id }) => id));
  const names = new Map(traced.ring.map(({ id }) => [id, heirOf.get(id)?.id ?? freeName(id, taken)]));
  const renamed: Shape = {
    ...traced,
    ring: traced.ring.map((edge) => ({ ...edge, id: names.get(edge.id)! })),
    notches: traced.notches.map((notch) => ({ ...notch, edge: names.get(notch.edge)! })),
    darts: traced.darts.map((dart) => ({ ...dart, edge: names.get(dart.edge)! })),
    pleats: traced.pleats.map((pleat) => ({ ...pleat, edge: names.get(pleat.edge)! })),
  };
  const ring = renamed.ring.map((edge, i) => said(edge, heirOf.get(traced.ring[i]!.id), edge.id));
  const shape = reseated(renamed, ring, (id) => [id]);
  const notchHeirs = pairUp(
    old.notches.map((notch) => apply(newFromOld, notchPlace(old, notch))),
    shape.notches.map((notch) => notchPlace(shape, notch)),
  );
  const dartHeirs = pairUp(
    old.darts.map(({ apex }) => apply(newFromOld, apex)),
    shape.darts.map(({ apex }) => apex),
  );
  const ids = new Set([
    ...[...notchHeirs.values()].map((i) => old.notches[i]!.id),
    ...[...dartHeirs.values()].map((i) => old.darts[i]!.id),
  ]);
  return {
    ...shape,
    notches: shape.notches.map((notch, i) => {
      const known = old.notches[notchHeirs.get(i) ?? -1];
      return saidOfNotch(notch, known, known?.id ?? freeName(notch.id, ids));
    }),
    darts: shape.darts.map((dart, i) => {
      const known = old.darts[dartHeirs.get(i) ?? -1];
      return { ...dart, id: known?.id ?? freeName(dart.id, ids), foldTo: known?.foldTo ?? dart.foldTo };
    }),
  };
}

function said(edge: Edge, known: Edge | undefined, id: string): Edge {
  if (known === undefined) return { ...edge, id };
  const { label, role, allowanceMm, allowanceAssumed } = known;
  return { ...edge, id, label, role, allowanceMm, allowanceAssumed };
}

function saidOfNotch(notch: Notch, known: Notch | undefined, id: string): Notch {
  return known === undefined ? { ...notch, id } : { ...notch, id, purpose: known.purpose, mate: known.mate };
}

function isNear(a: Point, b: Point): boolean {
  return distance(a, b) <= REPAIR_REACH_MM;
}

/** Index of the old place for each new one within reach, nearest pairs first, each used once. */
function pairUp(old: readonly Point[], fresh: readonly Point[]): ReadonlyMap<number, number> {
  const offers = fresh
    .flatMap((at, i) => old.map((was, k) => ({ i, k, awayMm: distance(at, was) })))
    .filter(({ awayMm }) => awayMm <= REPAIR_REACH_MM)
    .toSorted((a, b) => a.awayMm - b.awayMm);
  const pairs = new Map<number, number>();
  const used = new Set<number>();
  for (const { i, k } of offers) {
    if (pairs.has(i) || used.has(k)) continue;
    pairs.set(i, k);
    used.add(k);
  }
  return pairs;
}

/** The name, or the next one free; the name given is taken from then on. */
function freeName(wanted: string, taken: Set<string>): string {
  let name = wanted;
  for (let count = 2; taken.has(name); count++) name = `${wanted}-${count}`;
  taken.add(name);
  return name;
}
