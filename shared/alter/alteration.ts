// What an alteration is: a named change with amounts, which redraws its own edges in every traced size, and what then has to
// follow. One driver reads the amounts, records the step and names the followers, so that each alteration is only geometry.
import { fail, ok, type Result } from '../base/result.ts';
import { type LeftBehind, leftBehind } from '../pattern/followers.ts';
import type { PatternSet, Size } from '../pattern/model.ts';
import type { Grasp } from './grasp.ts';
import { sewnMm } from './kernel/corners.ts';
import { EVERYWHERE, type Scope } from './kernel/find.ts';
import { type ParamSpec, type Params, readParams, type Values } from './params.ts';
import { type ChangedShape, withChanges } from './record.ts';
import { changeWords, edgeWords } from './words.ts';

export interface Alteration {
  readonly id: string;
  readonly title: string;
  /** What it does and to which edges. */
  readonly sentence: string;
  /** The first amount is the one that "by" means. */
  readonly params: readonly ParamSpec[];
  /** The step as the history tells it. */
  readonly describe: (values: Values, set: PatternSet) => string;
  /** Every shape that changes; a failure when the set has nothing that the alteration fits. */
  readonly redraw: (set: PatternSet, values: Values, scope: Scope) => Result<readonly ChangedShape[]>;
  /** Where a hand takes hold of it, as far as what was given says; none where the set has nothing that it fits. */
  readonly grasps: (set: PatternSet, given: Params, scope: Scope) => readonly Grasp[];
}

/** Change of the sewn length of one edge. */
export interface EdgeChange {
  readonly piece: string;
  readonly edge: string;
  readonly size: Size;
  readonly byMm: number;
}

/** A seam whose other side must follow, with the sentence that says so. */
export interface Follower extends LeftBehind {
  readonly sentence: string;
}

export interface Altered {
  readonly set: PatternSet;
  readonly changed: readonly EdgeChange[];
  readonly followers: readonly Follower[];
}

/**
 * Changes below this need no following: a photo measures no finer, and the mitre of a cutting line moves by as much when a
 * neighbouring edge turns.
 */
const FOLLOW_FROM_MM = 0.2;
/** Changes below this are not told. */
const TELL_FROM_MM = 0.05;

/** The altered set, what changed by how much, and which seams must follow. The given set is left as it was. */
export function alter(
  set: PatternSet,
  alteration: Alteration,
  given: Params,
  scope: Scope = EVERYWHERE,
): Result<Altered> {
  const values = readParams(alteration.params, given);
  if (!values.ok) return values;
  if (isNothing(alteration.params, values.value))
    return fail('no-change', 'By nothing, nothing changes; give an amount other than 0.');
  const stray = strayScope(set, scope);
  if (stray !== null) return fail('not-in-set', stray);
  const changes = alteration.redraw(set, values.value, scope);
  if (!changes.ok) return changes;
  const step = {
    what: `alter:${alteration.id}`,
    params: {
      ...values.value.all,
      ...(scope.pieces === null ? {} : { pieces: scope.pieces.join(',') }),
      ...(scope.sizes === null ? {} : { sizes: scope.sizes.join(',') }),
    },
    sentence: alteration.describe(values.value, set),
  };
  const after = withChanges(set, changes.value, step);
  return ok({ set: after, changed: edgeChanges(set, after), followers: followersOf(set, after) });
}

/** Every length that an alteration asks for is a change: when all are 0 there is none. */
function isNothing(specs: readonly ParamSpec[], values: Values): boolean {
  const lengths = specs.filter(({ unit }) => unit === 'mm');
  return lengths.length > 0 && lengths.every(({ name }) => values.amount(name) === 0);
}

/** Seams of which one side no longer fits the other as it did. */
export function followersOf(before: PatternSet, after: PatternSet): readonly Follower[] {
  return leftBehind(before, after, FOLLOW_FROM_MM).map((left) => ({
    ...left,
    sentence: followerSentence(after, left),
  }));
}

/** Every edge whose sewn length differs between two states of a set. */
export function edgeChanges(before: PatternSet, after: PatternSet): readonly EdgeChange[] {
  return after.pieces.flatMap((piece) => {
    const was = before.pieces.find(({ id }) => id === piece.id);
    if (was === undefined || was.shapes === piece.shapes) return [];
    return Object.entries(piece.shapes).flatMap(([size, shape]) => {
      const old = was.shapes[size];
      if (old === undefined || old === shape) return [];
      return shape.ring.flatMap((edge): EdgeChange[] => {
        if (!old.ring.some(({ id }) => id === edge.id)) return [];
        const byMm = sewnMm(shape, edge.id) - sewnMm(old, edge.id);
        return Math.abs(byMm) < TELL_FROM_MM ? [] : [{ piece: piece.id, edge: edge.id, size, byMm }];
      });
    });
  });
}

function followerSentence(set: PatternSet, left: LeftBehind): string {
  const edges = left.seam.sides[left.follower].map((span) => edgeWords(set, span.piece, span.edge, left.size));
  const who = `${edges.join(' with ')} in size ${left.size}`;
  const where = `to meet the other side of the seam "${left.seam.name}"`;
  if (Math.abs(left.missingMm) > FOLLOW_FROM_MM)
    return `${who} must become ${changeWords(set, left.missingMm)} ${where}.`;
  return `The marks along ${who} must move ${where}: its length is right, but not the parts between the marks.`;
}

function strayScope(set: PatternSet, { pieces, sizes }: Scope): string | null {
  const piece = pieces?.find((id) => !set.pieces.some((candidate) => candidate.id === id));
  if (piece !== undefined)
    return `The set has no piece "${piece}"; it has ${set.pieces.map(({ id }) => id).join(', ')}.`;
  const size = sizes?.find((name) => !set.pieces.some((candidate) => candidate.shapes[name] !== undefined));
  if (size !== undefined) return `Nothing was traced in size "${size}"; choose a size that the set has.`;
  return null;
}

/** What an alteration says when the set has nothing for it. */
export function nothingToAlter(what: string): Result<never> {
  return fail('nothing-to-alter', `The set has no ${what}; name the edges of its pieces, or choose other pieces.`);
}

/** All changes, or the first failure. */
export function allOf(results: readonly Result<ChangedShape>[]): Result<readonly ChangedShape[]> {
  const failed = results.find((result) => !result.ok);
  if (failed !== undefined && !failed.ok) return failed;
  return ok(results.flatMap((result) => (result.ok ? [result.value] : [])));
}
