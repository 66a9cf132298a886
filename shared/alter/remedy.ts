// What mends one fault: a small change with a grade. `safe` changes no meaning; `choice` is one of several ways to mend, and
// the person chooses. Applied like an alteration: a new set, a step in the history, the old set untouched.
import { fail, ok, type Result } from '../base/result.ts';
import { edgeLabels } from '../pattern/guessEdges.ts';
import type { Edge, Notch, PatternSet, Shape } from '../pattern/model.ts';
import type { Place } from './kernel/find.ts';
import { type NameSpec, type ParamSpec, type Params, readParams, type Values } from './params.ts';
import { type ChangedShape, withChanges } from './record.ts';

export interface RemedyAction {
  readonly id: string;
  readonly grade: 'safe' | 'choice';
  readonly title: string;
  readonly params: readonly ParamSpec[];
  /** What it does with these amounts, as the history tells it. */
  readonly sentence: (values: Values, set: PatternSet) => string;
  readonly redraw: (set: PatternSet, values: Values) => Result<readonly ChangedShape[]>;
}

/** The mended set. The given set is left as it was. */
export function applyRemedy(set: PatternSet, remedy: RemedyAction, given: Params): Result<PatternSet> {
  const values = readParams(remedy.params, given);
  if (!values.ok) return values;
  const changes = remedy.redraw(set, values.value);
  if (!changes.ok) return changes;
  const step = {
    what: `remedy:${remedy.id}`,
    params: values.value.all,
    sentence: remedy.sentence(values.value, set),
  };
  return ok(withChanges(set, changes.value, step));
}

export const PIECE: NameSpec = { name: 'piece', unit: 'name', default: null, sentence: 'The piece.' };
export const EDGE: NameSpec = { name: 'edge', unit: 'name', default: null, sentence: 'The edge.' };
export const DART: NameSpec = { name: 'dart', unit: 'name', default: null, sentence: 'The dart.' };
export const NOTCH: NameSpec = { name: 'notch', unit: 'name', default: null, sentence: 'The notch.' };
export const SEAM: NameSpec = { name: 'seam', unit: 'name', default: null, sentence: 'The seam.' };
export const SIZE: NameSpec = { name: 'size', unit: 'name', default: '', sentence: 'One size only; all when empty.' };

/** The named piece in the named size, or in every size it was traced in. */
export function placesOf(set: PatternSet, values: Values): Result<readonly Place[]> {
  const piece = set.pieces.find(({ id }) => id === values.name('piece'));
  if (piece === undefined) return fail('no-piece', `The set has no piece "${values.name('piece')}".`);
  const size = values.name('size');
  const places = Object.entries(piece.shapes)
    .filter(([name]) => size === '' || name === size)
    .map(([name, shape]): Place => ({ piece, size: name, shape, labels: edgeLabels(piece, shape) }));
  if (places.length === 0)
    return fail('no-shape', `"${piece.name}" was not traced${size === '' ? '' : ` in size ${size}`}.`);
  return ok(places);
}

/** The same change in every place; the first failure ends it. */
export function everywhere(
  set: PatternSet,
  values: Values,
  redraw: (place: Place) => Result<Omit<ChangedShape, 'piece' | 'size'>>,
): Result<readonly ChangedShape[]> {
  const places = placesOf(set, values);
  if (!places.ok) return places;
  const changes: ChangedShape[] = [];
  for (const place of places.value) {
    const changed = redraw(place);
    if (!changed.ok) return changed;
    changes.push({ piece: place.piece.id, size: place.size, ...changed.value });
  }
  return ok(changes);
}

export function namedEdge({ shape, piece }: Place, id: string): Result<Edge> {
  const edge = shape.ring.find((candidate) => candidate.id === id);
  return edge === undefined ? fail('no-edge', `"${piece.name}" has no edge "${id}".`) : ok(edge);
}

/** A change that redraws nothing: places along the edges stay. */
export function marksOnly(shape: Shape): Omit<ChangedShape, 'piece' | 'size'> {
  return { shape, carry: (_, atMm) => atMm };
}

/** The shape with one notch changed; a failure when it has no such notch. */
export function withNotch(
  { shape, piece }: Place,
  id: string,
  change: (notch: Notch) => Notch,
): Result<Omit<ChangedShape, 'piece' | 'size'>> {
  if (!shape.notches.some((notch) => notch.id === id)) return fail('no-notch', `"${piece.name}" has no notch "${id}".`);
  const notches = shape.notches.map((notch) => (notch.id === id ? change(notch) : notch));
  return ok(marksOnly({ ...shape, notches }));
}
