// The parts of a cap: below the notches (underarm) and over the top. Which sections of a walked cap seam are which.
import type { SeamWalk, Section } from './walk.ts';

export interface CapSection {
  readonly index: number;
  readonly section: Section;
  readonly part: 'underarm' | 'over';
  readonly half: 'first' | 'second';
  /** Cap less armhole. */
  readonly easeMm: number;
  readonly sigmaMm: number;
}

/**
 * Sections of a cap seam, or none when no notch divides it. The outermost sections are the underarm when a notch (not the
 * shoulder seam) ends them; `half` counts from the seam's start to the cap top and from there on.
 */
export function capSections(walk: SeamWalk): readonly CapSection[] {
  const { sections } = walk;
  if (sections.length < 2) return [];
  const sign = walk.sorted.fuller === 1 ? 1 : -1;
  const top = topIndex(walk);
  const last = sections.length - 1;
  return sections.map((section, index): CapSection => {
    const isFirst = index === 0 && section.to.kind === 'notch';
    const isLast = index === last && section.from.kind === 'notch';
    return {
      index,
      section,
      part: isFirst || isLast ? 'underarm' : 'over',
      half: index < top ? 'first' : 'second',
      easeMm: sign * section.difference.valueMm,
      sigmaMm: section.difference.sigmaMm,
    };
  });
}

/** The number of sections before the cap top: the joint nearest to the middle, or else half of the sections. */
function topIndex(walk: SeamWalk): number {
  const middleMm = walk.sides[0].total.valueMm / 2;
  const joints = walk.anchors
    .map((anchor, index) => ({ index, anchor }))
    .filter(({ anchor }) => anchor.kind === 'joint')
    .sort((a, b) => Math.abs(a.anchor.atMm[0] - middleMm) - Math.abs(b.anchor.atMm[0] - middleMm));
  return joints[0]?.index ?? Math.ceil(walk.sections.length / 2);
}
