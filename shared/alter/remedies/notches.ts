// Notches moved, counted anew, and added where the partner of a lone notch belongs.
import { fail, ok, type Result } from '../../base/result.ts';
import type { Notch, PatternSet } from '../../pattern/model.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { openMm, spanAt } from '../../pattern/spans.ts';
import { type SeamWalk, walkSeam } from '../../pattern/walk.ts';
import { EXACT } from '../kernel/corners.ts';
import type { ChangedShape } from '../record.ts';
import { everywhere, marksOnly, NOTCH, PIECE, placesOf, type RemedyAction, SEAM, SIZE, withNotch } from '../remedy.ts';
import { capital, lengthWords, notchWords, seamWords } from '../words.ts';

export const moveNotch: RemedyAction = {
  id: 'move-notch',
  grade: 'safe',
  title: 'Move a notch',
  params: [
    {
      name: 'byMm',
      unit: 'mm',
      default: null,
      min: -500,
      max: 500,
      sentence: 'How far along the seamline; positive toward the end of the edge.',
    },
    PIECE,
    NOTCH,
    SIZE,
  ],
  sentence: (values, set) =>
    `${capital(notchWords(set, values.name('piece'), values.name('notch')))} moved by ${lengthWords(set, values.amount('byMm'))}.`,
  redraw: (set, values) =>
    everywhere(set, values, (place) => {
      const notch = place.shape.notches.find(({ id }) => id === values.name('notch'));
      const seam = notch === undefined ? undefined : seamEdge(place.shape, notch.edge);
      const atMm = (notch?.atMm ?? 0) + values.amount('byMm');
      if (seam !== undefined && (atMm < 0 || atMm > seam.lengthMm))
        return fail(
          'off-edge',
          `That would move the notch off its edge, which is ${lengthWords(set, seam.lengthMm)} long.`,
        );
      return withNotch(place, values.name('notch'), (was) => ({ ...was, atMm }));
    }),
};

export const setNotchCount: RemedyAction = {
  id: 'notch-count',
  grade: 'safe',
  title: 'Make a notch single, double or triple',
  params: [
    { name: 'count', unit: 'count', default: null, min: 1, max: 3, sentence: 'How many snips.' },
    PIECE,
    NOTCH,
    SIZE,
  ],
  sentence: (values, set) =>
    `${capital(notchWords(set, values.name('piece'), values.name('notch')))} made ${COUNT_WORDS[values.amount('count') - 1]}.`,
  redraw: (set, values) =>
    everywhere(set, values, (place) =>
      withNotch(place, values.name('notch'), (was) => ({ ...was, count: COUNTS[values.amount('count') - 1]! })),
    ),
};

const COUNTS = [1, 2, 3] as const;
const COUNT_WORDS = ['single', 'double', 'triple'] as const;

/** The notch lies on `piece`; its partner is added on the other side of the seam, as far from the nearest mark that both share. */
export const addPartnerNotch: RemedyAction = {
  id: 'add-notch',
  grade: 'choice',
  title: 'Add the missing partner of a notch',
  params: [SEAM, PIECE, NOTCH, SIZE],
  sentence: (values, set) =>
    `A partner added for ${notchWords(set, values.name('piece'), values.name('notch'))} in the seam ${seamWords(set, values.name('seam'))}.`,
  redraw: (set, values) => {
    const places = placesOf(set, values);
    if (!places.ok) return places;
    const changes: ChangedShape[] = [];
    for (const { size } of places.value) {
      const added = partnerIn(set, values.name('seam'), values.name('notch'), values.name('piece'), size);
      if (!added.ok) return added;
      changes.push(added.value);
    }
    return ok(changes);
  },
};

function partnerIn(
  set: PatternSet,
  seamId: string,
  notchId: string,
  pieceId: string,
  size: string,
): Result<ChangedShape> {
  const seam = set.seams.find(({ id }) => id === seamId);
  const walk = seam === undefined ? null : walkSeam(set, seam, size, EXACT);
  if (walk === null || !walk.ok) return fail('no-seam', `The seam "${seamId}" cannot be walked in size ${size}.`);
  const at = placeOf(walk.value, pieceId, notchId);
  if (at === null) return fail('no-notch', `Notch "${notchId}" does not lie on the seam "${seamId}".`);
  const other = at.side === 0 ? 1 : 0;
  const otherMm = partnerMm(walk.value, at.side, at.atMm);
  const walked = spanAt(walk.value.sides[other], otherMm);
  const { shape, piece } = walked;
  const id = freeId(shape.notches, `${walked.span.edge}-${notchId}`);
  const notch: Notch = {
    id,
    edge: walked.span.edge,
    atMm: openMm(walked, otherMm),
    count: at.notch.count,
    purpose: 'match',
    mate: { kind: 'notch', piece: pieceId, notch: notchId },
  };
  return ok({ piece: piece.id, size, ...marksOnly({ ...shape, notches: [...shape.notches, notch] }) });
}

function placeOf(
  walk: SeamWalk,
  pieceId: string,
  notchId: string,
): { readonly side: 0 | 1; readonly atMm: number; readonly notch: Notch } | null {
  for (const side of [0, 1] as const) {
    const found = walk.sides[side].notches.find((n) => n.piece.id === pieceId && n.notch.id === notchId);
    if (found !== undefined) return { side, atMm: found.atMm, notch: found.notch };
  }
  return null;
}

/** As far from the nearest of the marks that meet (or of the seam's ends) as on this side. */
function partnerMm(walk: SeamWalk, side: 0 | 1, atMm: number): number {
  const other = side === 0 ? 1 : 0;
  const anchor = walk.anchors.reduce((near, candidate) =>
    Math.abs(candidate.atMm[side] - atMm) < Math.abs(near.atMm[side] - atMm) ? candidate : near,
  );
  const mm = anchor.atMm[other] + atMm - anchor.atMm[side];
  return Math.min(walk.sides[other].total.valueMm, Math.max(0, mm));
}

function freeId(notches: readonly Notch[], wanted: string): string {
  let id = wanted;
  for (let copy = 2; notches.some((notch) => notch.id === id); copy++) id = `${wanted}-${copy}`;
  return id;
}
