// How long the second side of a seam may be against the first, by the sort of seam, its join and the cloth: the band that
// `length-differs` judges with. Signed second less first, millimetres.

import type { RangeMm } from '../../limits/row.ts';
import { SEAM_EASE } from '../../limits/seamEase.ts';
import type { Tolerances } from '../../limits/tolerances.ts';
import type { Seam } from '../../pattern/model.ts';
import type { SeamWalk } from '../../pattern/walk.ts';

export interface Band {
  readonly fromMm: number;
  readonly toMm: number;
  /** Beyond the band up to here it is worth a look only, on either side. */
  readonly lookFromMm: number;
  readonly lookToMm: number;
  /** Even: no difference is meant. Eased: some is. */
  readonly kind: 'even' | 'eased';
  readonly source: string;
}

export interface BandedSection {
  /** Index into the walk's sections; null = the seam in all. */
  readonly section: number | null;
  readonly band: Band;
}

/** Which comparisons a seam is judged by. */
export function bandsOf(walk: SeamWalk, tolerances: Tolerances): readonly BandedSection[] {
  const even = evenBand(tolerances);
  const { sort } = walk.sorted;
  const fuller = fullerSide(walk);
  const range = rangeOf(walk);
  const wanted = wantedBand(walk, tolerances);
  if (walk.basis === 'round' || walk.seam.overlapMm !== 0) {
    return [{ section: null, band: widen(range === null ? even : eased(range, fuller, tolerances, walk), wanted) }];
  }
  if (walk.seam.wantedSectionsMm !== null && walk.seam.wantedSectionsMm.length === walk.sections.length) {
    return walk.seam.wantedSectionsMm.map((wantedMm, section) => ({ section, band: around(wantedMm, tolerances) }));
  }
  if (range === null) {
    if (wanted === null) return walk.sections.map((_, section) => ({ section, band: even }));
    return [{ section: null, band: wanted }, ...noSectionShrinks(walk, wanted, even)];
  }
  const easedBand = widen(eased(range, fuller, tolerances, walk), wanted);
  if (sort === 'collar' || sort === 'waistband') return [{ section: null, band: easedBand }];
  return walk.sections.map((_, section) => ({ section, band: mayEase(walk, section) ? easedBand : even }));
}

/** Where the sort does not say which side may be longer, the one that is not stretched is. */
function fullerSide({ seam, sorted, difference }: SeamWalk): 0 | 1 {
  if (seam.join !== 'stretched' || sorted.sort !== 'plain') return sorted.fuller;
  return difference.valueMm < 0 ? 0 : 1;
}

/** Princess seams ease between the outer notches, inseams above the last one; other eased seams all along. */
function mayEase(walk: SeamWalk, section: number): boolean {
  const last = walk.sections.length - 1;
  if (walk.sorted.sort === 'princess') return last < 2 || (section > 0 && section < last);
  if (walk.sorted.sort === 'inseam') return last === 0 || section !== hemEnd(walk, last);
  return true;
}

/** The section that lies at the hem: the last, unless the seam was laid out from the hem upwards. */
function hemEnd(walk: SeamWalk, last: number): number {
  const first = walk.sides[0].spans[0]!;
  const ring = first.shape.ring;
  const { index } = first.seam;
  const startsAt = first.span.reversed ? ring[(index + 1) % ring.length] : ring.at(index - 1);
  return startsAt?.role === 'hem' ? 0 : last;
}

function rangeOf(walk: SeamWalk): RangeMm | null {
  const { sort } = walk.sorted;
  switch (sort) {
    case 'shoulder':
    case 'princess':
    case 'inseam':
    case 'hindarm':
    case 'forearm':
    case 'facing':
    case 'collar':
    case 'waistband':
      return SEAM_EASE[sort];
    default:
      return rangeOfJoin(walk.seam);
  }
}

/** What the join says where the sort of seam says nothing; wanted ease, where it is named, says it better. */
function rangeOfJoin({ join, wantedEaseMm, wantedSectionsMm }: Seam): RangeMm | null {
  if (join === 'stretched') return SEAM_EASE.stretched;
  return join === 'eased' && wantedEaseMm === null && wantedSectionsMm === null ? SEAM_EASE.eased : null;
}

function evenBand(tolerances: Tolerances): Band {
  return around(0, tolerances);
}

function around(wantedMm: number, { seam }: Tolerances): Band {
  return {
    fromMm: wantedMm - seam.valueMm,
    toMm: wantedMm + seam.valueMm,
    lookFromMm: wantedMm - seam.valueMm,
    lookToMm: wantedMm + seam.valueMm,
    kind: wantedMm === 0 ? 'even' : 'eased',
    source: seam.source,
  };
}

/** A range is signed for its fuller side; ranges given for the round count half where the half is compared. */
function eased(range: RangeMm, fuller: 0 | 1, { seam }: Tolerances, walk: SeamWalk): Band {
  const { sort } = walk.sorted;
  const isRoundRange = sort === 'collar' || sort === 'waistband';
  const share = isRoundRange && walk.basis === 'half' ? 0.5 : 1;
  const slackMm = walk.basis === 'round' ? 2 * seam.valueMm : seam.valueMm;
  const fromMm = range.fromMm - slackMm;
  const toMm = Math.max(range.toMm * share, seam.valueMm);
  const lookToMm = Math.max(range.lookToMm * share, toMm);
  const { source } = range;
  return fuller === 1
    ? { fromMm, toMm, lookFromMm: fromMm, lookToMm, kind: 'eased', source }
    : { fromMm: -toMm, toMm: -fromMm, lookFromMm: -lookToMm, lookToMm: -fromMm, kind: 'eased', source };
}

function wantedBand(walk: SeamWalk, tolerances: Tolerances): Band | null {
  const wantedMm = walk.seam.wantedEaseMm;
  return wantedMm === null || wantedMm === 0 ? null : around(wantedMm, tolerances);
}

function widen(band: Band, wanted: Band | null): Band {
  if (wanted === null) return band;
  return {
    ...band,
    fromMm: Math.min(band.fromMm, wanted.fromMm),
    toMm: Math.max(band.toMm, wanted.toMm),
    lookFromMm: Math.min(band.lookFromMm, wanted.lookFromMm),
    lookToMm: Math.max(band.lookToMm, wanted.lookToMm),
  };
}

/** Ease wanted in all may lie in any section, but none may shrink and none may take more than all of it. */
function noSectionShrinks(walk: SeamWalk, wanted: Band, even: Band): BandedSection[] {
  if (walk.sections.length < 2) return [];
  const band: Band = {
    ...even,
    fromMm: Math.min(wanted.fromMm, even.fromMm),
    toMm: Math.max(wanted.toMm, even.toMm),
    lookFromMm: Math.min(wanted.fromMm, even.fromMm),
    lookToMm: Math.max(wanted.toMm, even.toMm),
    kind: 'eased',
  };
  return walk.sections.map((_, section) => ({ section, band }));
}
