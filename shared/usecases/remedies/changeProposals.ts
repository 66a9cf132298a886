// What may mend a change that was not carried through: its partner follows, or the change is taken back.
import { walkOf } from '../../checks/findingPlace.ts';
import { type Candidate, type Propose, sizeNameOf } from './candidate.ts';

export const forLeftBehind: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  if (walk === null) return [];
  const params = { seam: walk.seam.id, size: sizeNameOf(finding) };
  const offer = (id: string, sentence: string): Candidate => ({ id, params, grade: 'choice', sentence, way: id });
  const follow =
    walk.sorted.sort === 'cap'
      ? `Redraw the cap to meet the armhole in size ${walk.size}.`
      : `Redraw what was left behind along the seam ${walk.seam.name} in size ${walk.size}.`;
  return [
    offer('follow-seam', follow),
    offer('take-back', `Take the alteration along the seam ${walk.seam.name} back in size ${walk.size}.`),
  ];
};
