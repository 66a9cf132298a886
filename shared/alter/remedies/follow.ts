// What an alteration left behind: the partner redrawn so that the seam meets again, or the alteration taken back.
import { fail, ok, type Result } from '../../base/result.ts';
import { pointAtLength } from '../../geometry/arcLength.ts';
import { nearestOnPath } from '../../geometry/nearest.ts';
import { beforeAlterations } from '../../pattern/followers.ts';
import type { PatternSet, Piece, Shape } from '../../pattern/model.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { type Follower, followersOf } from '../alteration.ts';
import { redrawFollower } from '../carryThrough.ts';
import type { Values } from '../params.ts';
import type { ChangedShape } from '../record.ts';
import { type RemedyAction, SEAM, SIZE } from '../remedy.ts';
import { seamWords } from '../words.ts';

export const followSeam: RemedyAction = {
  id: 'follow-seam',
  grade: 'choice',
  title: 'Redraw what must follow along a seam',
  params: [SEAM, SIZE],
  sentence: (values, set) =>
    `What was left behind along the seam ${seamWords(set, values.name('seam'))} redrawn to meet its partner.`,
  redraw: (set, values) => {
    const before = beforeAlterations(set);
    const open = openFollowers(before, set, values);
    if (!open.ok) return open;
    const changes: ChangedShape[] = [];
    for (const follower of open.value) {
      const redrawn = redrawFollower(before, set, follower);
      if (!redrawn.ok) return redrawn;
      changes.push(...redrawn.value.changes);
    }
    return ok(changes);
  },
};

export const takeBack: RemedyAction = {
  id: 'take-back',
  grade: 'choice',
  title: 'Take the alteration of one side of a seam back',
  params: [SEAM, SIZE],
  sentence: (values, set) =>
    `The pieces that were altered along the seam ${seamWords(set, values.name('seam'))} put back as they were.`,
  redraw: (set, values) => {
    const open = openFollowers(beforeAlterations(set), set, values);
    if (!open.ok) return open;
    return ok(open.value.flatMap((follower) => asTheyWere(set, follower)));
  },
};

function openFollowers(before: PatternSet, set: PatternSet, values: Values): Result<readonly Follower[]> {
  const size = values.name('size');
  const open = followersOf(before, set).filter(
    (follower) => follower.seam.id === values.name('seam') && (size === '' || follower.size === size),
  );
  return open.length === 0
    ? fail('nothing-left', `Nothing was left behind along the seam ${seamWords(set, values.name('seam'))}.`)
    : ok(open);
}

function asTheyWere(set: PatternSet, { seam, size, changed }: Follower): readonly ChangedShape[] {
  const ids = new Set(seam.sides[changed].map((span) => span.piece));
  return set.pieces
    .filter(({ id }) => ids.has(id))
    .flatMap((piece: Piece): ChangedShape[] => {
      const now = piece.shapes[size];
      const was = piece.before?.[size];
      if (now === undefined || was === undefined) return [];
      return [{ piece: piece.id, size, shape: was, carry: (edge, atMm) => placeOn(was, now, edge, atMm) }];
    });
}

/** The place of the earlier seamline that lies nearest to a place of the present one. */
function placeOn(was: Shape, now: Shape, edgeId: string, atMm: number): number {
  const [to, from] = [seamEdge(was, edgeId), seamEdge(now, edgeId)];
  if (to === undefined || from === undefined) return atMm;
  return nearestOnPath(to.path, pointAtLength(from.path, atMm).point).atMm;
}
