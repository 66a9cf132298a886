// What may mend a notch: moved, counted anew, given its partner.
import type { CheckContext } from '../../checks/context.ts';
import { walkOf } from '../../checks/findingPlace.ts';
import type { FindingJson } from '../../checks/toFindingsJson.ts';
import { closuresOn } from '../../pattern/darts.ts';
import { seamEdge } from '../../pattern/seamline.ts';
import { openMm, type SideNotch } from '../../pattern/spans.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { type Candidate, nameOf, type Propose, shapeIn, sizeNameOf } from './candidate.ts';

/** Both notches of a pair may move to the other. The measured miss is second after first along the seam. */
export const forShifted: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  const shiftMm = finding.measured?.value;
  if (walk === null || shiftMm === undefined) return [];
  return finding.subjects.flatMap((subject) => {
    const found = subject.notch === undefined ? null : sideOf(walk, subject.piece!, subject.notch);
    if (found === null) return [];
    return [moved(walk, found.side, found.notch, found.side === 1 ? -shiftMm : shiftMm, context, 'choice')];
  });
};

/** The notch that stayed while its partner was graded, or the one that a size lacks. */
export const forUngraded: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  const subject = finding.subjects[1];
  if (walk === null || subject?.piece === undefined) return [];
  if (subject.notch === undefined) return partners(walk, context, subject.piece);
  const found = sideOf(walk, subject.piece, subject.notch);
  const shiftMm = finding.measured?.value;
  if (found === null || shiftMm === undefined) return [];
  return [shiftMm, -shiftMm].map((mm) => moved(walk, found.side, found.notch, mm, context, 'safe'));
};

export const forCount: Propose = (finding, context) => {
  const size = sizeNameOf(finding);
  const [a, b] = finding.subjects.filter(({ notch }) => notch !== undefined).map((s) => at(s, context, size));
  if (!a || !b) return [];
  const made = (one: typeof a, count: number): Candidate => ({
    id: 'notch-count',
    params: { count, piece: one.piece, notch: one.notch.id, size },
    grade: 'choice',
    sentence: `Make the notch of ${nameOf(context, one.piece)} ${COUNT_WORDS[count - 1]}.`,
    way: one.piece,
  });
  return [made(a, b.notch.count), made(b, a.notch.count)];
};

const COUNT_WORDS = ['single', 'double', 'triple'] as const;

/** A lone notch gets its partner, or moves to another lone one on the other side. */
export const forAlone: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  const subject = finding.subjects.find(({ notch }) => notch !== undefined);
  const found = walk === null || !subject?.notch ? null : sideOf(walk, subject.piece!, subject.notch);
  if (walk === null || found === null) return [];
  const { side, notch } = found;
  const others = walk.matched.alone[side === 0 ? 1 : 0];
  const nearest = others.toSorted((p, q) => Math.abs(p.atMm - notch.atMm) - Math.abs(q.atMm - notch.atMm))[0];
  return [
    addedFor(walk, notch, context),
    ...(nearest === undefined ? [] : [moved(walk, side, notch, nearest.atMm - notch.atMm, context, 'choice')]),
  ];
};

/** A notch beyond its edge comes back to the end; one in the mouth of a dart leaves it by the nearer leg. */
export const forAdrift: Propose = (finding, context) => {
  const size = sizeNameOf(finding);
  const [subject] = finding.subjects;
  const found = subject === undefined ? null : at(subject, context, size);
  const shape = found === null ? null : shapeIn(context, found.piece, size);
  const seam = found === null || shape === null ? undefined : seamEdge(shape, found.notch.edge);
  if (found === null || shape === null || seam === undefined) return [];
  const { atMm } = found.notch;
  const mouth = closuresOn(shape, found.notch.edge).find(({ fromMm, toMm }) => atMm > fromMm && atMm < toMm);
  const ends = mouth === undefined ? [Math.min(seam.lengthMm, Math.max(0, atMm))] : [mouth.fromMm, mouth.toMm];
  const goals = [...ends, ...facing(found.piece, found.notch.edge, size, context)];
  return goals.map(
    (goalMm): Candidate => ({
      id: 'move-notch',
      params: { byMm: goalMm - atMm, piece: found.piece, notch: found.notch.id, size },
      grade: 'choice',
      sentence: `Move the notch of ${nameOf(context, found.piece)} ${context.say.length(Math.abs(goalMm - atMm))} ${mouth === undefined ? 'back onto its edge' : 'out of the mouth of the dart'}.`,
      way: 'adrift',
    }),
  );
};

/** Places of an edge that face a lone notch of its partner, counted from either end of the seam. */
function facing(piece: string, edge: string, size: string, context: CheckContext): readonly number[] {
  return context.set.seams.flatMap((seam) => {
    const walk = context.walk(seam, size);
    if (!walk.ok) return [];
    const { sides, matched } = walk.value;
    return ([0, 1] as const).flatMap((side) => {
      const walked = sides[side].spans.find(({ span }) => span.piece === piece && span.edge === edge);
      if (walked === undefined) return [];
      const moreMm = sides[side].total.valueMm - sides[side === 0 ? 1 : 0].total.valueMm;
      const places = matched.alone[side === 0 ? 1 : 0].flatMap(({ atMm }) => [atMm, atMm + moreMm]);
      return places.map((atMm) => openMm(walked, atMm));
    });
  });
}

/** A notch moved along the seam; how far along its edge follows from the way the edge is walked. */
export function moved(
  walk: SeamWalk,
  side: 0 | 1,
  notch: SideNotch,
  alongMm: number,
  { say }: CheckContext,
  grade: Candidate['grade'],
): Candidate {
  const walked = walk.sides[side].spans.find(({ span }) => isOn(notch, span.piece, span.edge));
  const byMm = walked?.span.reversed ? -alongMm : alongMm;
  return {
    id: 'move-notch',
    params: { byMm, piece: notch.piece.id, notch: notch.notch.id, size: walk.size },
    grade,
    sentence: `Move the notch of ${notch.piece.name} ${say.length(Math.abs(alongMm))} toward the ${alongMm > 0 ? 'end' : 'start'} of the seam ${walk.seam.name}.`,
    way: `move ${notch.piece.id} ${notch.notch.id}`,
  };
}

function isOn({ piece, notch }: SideNotch, pieceId: string, edge: string): boolean {
  return piece.id === pieceId && notch.edge === edge;
}

/** Partners for every lone notch that faces the piece. */
function partners(walk: SeamWalk, context: CheckContext, piece: string): readonly Candidate[] {
  const side = walk.sides[0].spans.some(({ span }) => span.piece === piece) ? 1 : 0;
  return walk.matched.alone[side].map((notch) => addedFor(walk, notch, context));
}

function addedFor(walk: SeamWalk, notch: SideNotch, { say }: CheckContext): Candidate {
  return {
    id: 'add-notch',
    params: { seam: walk.seam.id, piece: notch.piece.id, notch: notch.notch.id, size: walk.size },
    grade: 'choice',
    sentence: `Add the partner of the notch of ${notch.piece.name} that lies ${say.length(notch.atMm)} from the start of the seam ${walk.seam.name}.`,
    way: `add ${notch.piece.id} ${notch.notch.id}`,
  };
}

function sideOf(
  walk: SeamWalk,
  piece: string,
  notch: string,
): { readonly side: 0 | 1; readonly notch: SideNotch } | null {
  for (const side of [0, 1] as const) {
    const found = walk.sides[side].notches.find((n) => n.piece.id === piece && n.notch.id === notch);
    if (found !== undefined) return { side, notch: found };
  }
  return null;
}

function at({ piece, notch }: FindingJson['subjects'][number], context: CheckContext, size: string) {
  const found = shapeIn(context, piece ?? '', size)?.notches.find(({ id }) => id === notch);
  return found === undefined || piece === undefined ? null : { piece, notch: found };
}
