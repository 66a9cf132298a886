// What the window asks about changes to a set: remedies of a finding, alterations by amount. Nothing is kept here; the window
// decides whether what it got was a preview.
import { ok } from '../../shared/base/result.ts';
import type { Handlers } from '../../shared/contract/contract.ts';
import { setDocument } from '../../shared/formats/set/write.ts';
import { ALL_CHANGES, type Change, changedShapes, changeSet } from '../../shared/usecases/alterSet.ts';
import { mendSet, remediesAt } from '../../shared/usecases/remedies/offers.ts';
import { modelOf } from './modelOf.ts';

type ChangeHandlers = Pick<Handlers, 'remedies.list' | 'remedies.apply' | 'changes.list' | 'changes.apply'>;

export const changeHandlers: ChangeHandlers = {
  'remedies.list': async ({ set, finding }) => {
    const read = modelOf(set);
    if (!read.ok) return read;
    const offers = remediesAt(read.value, finding).map(({ set: _, ...offer }) => ({
      ...offer,
      params: { ...offer.params },
      changed: [...offer.changed],
    }));
    return ok({ offers });
  },
  'remedies.apply': async ({ set, remedy }) => {
    const read = modelOf(set);
    if (!read.ok) return read;
    const mended = mendSet(read.value, remedy);
    if (!mended.ok) return mended;
    return ok({
      set: setDocument(mended.value),
      sentence: mended.value.history.at(-1)?.sentence ?? '',
      changed: [...changedShapes(read.value, mended.value)],
    });
  },
  'changes.list': async () =>
    ok({
      changes: ALL_CHANGES.map((change) => ({
        id: change.id,
        kind: 'grade' in change ? ('remedy' as const) : ('alteration' as const),
        title: change.title,
        sentence: 'grade' in change ? null : change.sentence,
        params: change.params.map((spec) => ({ ...spec })),
      })),
    }),
  'changes.apply': async ({ set, change, pieces, sizes, carry }) => {
    const read = modelOf(set);
    if (!read.ok) return read;
    const request = { what: change.id, params: change.params, scope: { pieces, sizes }, carry };
    const report = changeSet(read.value, request);
    if (!report.ok) return report;
    const { value } = report;
    return ok({
      set: setDocument(value.set),
      sentence: value.sentence,
      edges: [...value.changed],
      followers: value.followers.map((follower) => told(follower, null)),
      carried: [...value.carried],
      left: value.left.map(({ follower, reason }) => told(follower, reason)),
      changed: [...changedShapes(read.value, value.set)],
    });
  },
};

function told({ seam, size, follower, missingMm, sentence }: Change['followers'][number], reason: string | null) {
  return { seam: seam.id, size, side: follower, missingMm, sentence, reason };
}
