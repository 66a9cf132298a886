// What may mend a cap: ease spread over the top, the whole cap redrawn to its wanted ease, or a notch of the sleeve moved.
import type { CheckContext } from '../../checks/context.ts';
import { walkOf } from '../../checks/findingPlace.ts';
import type { FindingJson } from '../../checks/toFindingsJson.ts';
import { expanded } from '../../checks/verdict.ts';
import { capSections } from '../../pattern/capSections.ts';
import type { SeamWalk } from '../../pattern/walk.ts';
import { type Candidate, INSIDE_MM, type Propose } from './candidate.ts';
import { moved } from './notchProposals.ts';

/** The nearest ease that is clearly within the limit, or what the plan wants. */
export const forCapEase: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  const { measured, limit } = finding;
  if (walk === null || measured === undefined || limit === undefined) return [];
  const roomMm = expanded(measured.sigma) + INSIDE_MM;
  const nearestMm = measured.value < limit.value ? limit.value + roomMm : limit.value - roomMm;
  const goalMm = walk.seam.wantedEaseMm ?? nearestMm;
  return [spread(walk, goalMm - measured.value, context), redrawn(walk, goalMm, context)];
};

/** Sections that are off: the sleeve's notch is wrong, or the cap is. */
export const forCapSpread: Propose = (finding, context) => {
  const walk = walkOf(finding, context);
  if (walk === null) return [];
  const sections = capSections(walk);
  const sleeve = walk.sorted.fuller;
  const limitMm = context.limits.seam.valueMm;
  const moves = sections
    .filter((s) => s.part === 'underarm' && Math.abs(s.easeMm) > limitMm)
    .flatMap((s): Candidate[] => {
      const isFirst = s.index === 0;
      const { pair } = isFirst ? s.section.to : s.section.from;
      const notch = sleeve === 0 ? pair?.first : pair?.second;
      if (notch?.kind !== 'notch') return [];
      return [moved(walk, sleeve, notch.notch, isFirst ? -s.easeMm : s.easeMm, context, 'choice')];
    });
  const easeMm = sections.reduce((sum, s) => sum + s.easeMm, 0);
  return [...moves, redrawn(walk, walk.seam.wantedEaseMm ?? easeMm, context)];
};

/** A cap that one size left out of the grade: the ease that the seam has in the others. */
export function gradedCap(finding: FindingJson, walk: SeamWalk, context: CheckContext): readonly Candidate[] {
  const sign = walk.sorted.fuller === 1 ? 1 : -1;
  const departureMm = finding.measured?.value ?? 0;
  const easeMm = sign * (walk.difference.valueMm - departureMm);
  return [redrawn(walk, walk.seam.wantedEaseMm ?? easeMm, context)];
}

/** A little more behind than in front, as drafts do: 5 parts to 4. Common practice, no source. */
const BACK_SHARE = 5 / 9;

function spread(walk: SeamWalk, changeMm: number, { say }: CheckContext): Candidate {
  const backMm = changeMm * BACK_SHARE;
  const frontMm = changeMm - backMm;
  const halves = `${say.length(Math.abs(frontMm))} front, ${say.length(Math.abs(backMm))} back`;
  return {
    id: 'spread-cap',
    params: { frontMm, backMm, seam: walk.seam.id, size: walk.size },
    grade: 'choice',
    sentence:
      changeMm > 0
        ? `Spread the cap by ${say.length(changeMm)}: ${halves}.`
        : `Take ${say.length(-changeMm)} out of the cap: ${halves}.`,
    way: 'spread',
  };
}

function redrawn(walk: SeamWalk, easeMm: number, { say }: CheckContext): Candidate {
  return {
    id: 'even-cap',
    params: { easeMm, seam: walk.seam.id, size: walk.size },
    grade: 'choice',
    sentence: `Redraw the cap in size ${walk.size} to ${say.length(easeMm)} of ease over the top and none below the notches.`,
    way: 'redraw',
  };
}
