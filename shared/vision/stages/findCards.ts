// First stage: which reference cards are in the photo, and where exactly their saddle corners are.
import { type PhotoPointPx, type Point, photoPx } from '../../base/points.ts';
import type { Warning } from '../../base/result.ts';
import { CUT_CORNERS_UPRIGHT, cardMmFromUpright, cardName, cardPlace, SQUARE_MM } from '../cards/cardLayout.ts';
import { codeCandidates } from '../cards/codeCandidates.ts';
import { CHEQUER_LIMITS, CODE_LIMITS, ENOUGH_CARDS, SEARCH_LONG_SIDES_PX } from '../cards/findLimits.ts';
import type { FoundCard } from '../cards/foundCard.ts';
import { growChequer, type Saddle } from '../cards/growChequer.ts';
import { readCode, type SeenCode } from '../cards/readCode.ts';
import { type SmoothLattice, smoothLattice } from '../cards/smoothLattice.ts';
import type { GrayImage, Photo } from '../image.ts';
import { mapByHomography } from '../plane/homography.ts';
import type { StageContext } from '../stageContext.ts';

export interface FindCardsOptions {
  /** Search at full size even when enough cards were found in the reduced photo. */
  readonly search: 'quick' | 'thorough';
}

export interface CardsInPhoto {
  readonly cards: readonly FoundCard[];
  readonly warnings: readonly Warning[];
  /** Cards seen in a mirror; they are never measured. */
  readonly mirrored: number;
}

/** Finds every card whose code can be read and of whose chequer enough can be measured. Never throws on a picture. */
export function findCards(photo: Photo, options: FindCardsOptions, ctx: StageContext): CardsInPhoto {
  const { gray } = photo;
  const longSidePx = Math.max(gray.widthPx, gray.heightPx);
  const { fine, coarse } = SEARCH_LONG_SIDES_PX;
  const seen = new SeenCards(gray);
  seen.search(Math.min(longSidePx, fine), ctx);
  if (longSidePx > coarse) seen.search(coarse, ctx);
  const wantsMore = options.search === 'thorough' || seen.measuredCount < ENOUGH_CARDS;
  if (longSidePx > fine && wantsMore) seen.search(longSidePx, ctx);
  return seen.result();
}

type Lattice = SmoothLattice<Saddle>;

interface Sighting {
  readonly code: SeenCode;
  /** Missing when too little of the chequer could be measured. */
  readonly lattice: Lattice | undefined;
}

/** Collects what the searches at several scales see, each card once. Lives for one photo. */
class SeenCards {
  readonly #gray: GrayImage;
  readonly #sightings: Sighting[] = [];

  constructor(gray: GrayImage) {
    this.#gray = gray;
  }

  get measuredCount(): number {
    return this.#sightings.filter((s) => s.lattice !== undefined && !s.code.mirrored).length;
  }

  search(longSidePx: number, ctx: StageContext): void {
    for (const quad of codeCandidates(this.#gray, longSidePx, ctx.cv)) {
      if (this.#sightings.some((s) => s.lattice !== undefined && isInside(middleOf(quad), s.code.corners))) continue;
      const code = readCode(this.#gray, quad);
      if (code === undefined) continue;
      const lattice = measuredLattice(growChequer(this.#gray, code));
      const earlier = this.#sightings.findIndex((s) => isInside(middleOf(quad), s.code.corners));
      if (earlier < 0) this.#sightings.push({ code, lattice });
      else if (lattice !== undefined || code.wrongBits < this.#sightings[earlier]!.code.wrongBits) {
        this.#sightings[earlier] = { code, lattice };
      }
    }
  }

  result(): CardsInPhoto {
    const cards: FoundCard[] = [];
    const warnings: Warning[] = [];
    let mirrored = 0;
    for (const { code, lattice } of this.#sightings) {
      const name = cardName(code.id);
      const isCertain = lattice !== undefined || code.wrongBits <= CODE_LIMITS.certainWrongBits;
      if (!isCertain) continue;
      if (code.mirrored) {
        mirrored++;
        warnings.push(mirroredCard(name));
      } else if (lattice === undefined) {
        warnings.push(unmeasurableCard(name));
      } else {
        if (cards.some((card) => card.id === name)) warnings.push(repeatedCard(name));
        if (isBent(lattice)) warnings.push(bentCard(name));
        cards.push(foundCard(code.id, lattice));
      }
    }
    return { cards: cards.sort((a, b) => (a.id < b.id ? -1 : 1)), warnings, mirrored };
  }
}

function measuredLattice(saddles: readonly Saddle[]): Lattice | undefined {
  if (!isEnough(saddles)) return undefined;
  const lattice = smoothLattice(saddles);
  return lattice !== undefined && isEnough(lattice.kept) ? lattice : undefined;
}

function isEnough(saddles: readonly Saddle[]): boolean {
  if (saddles.length < CHEQUER_LIMITS.minSaddles) return false;
  const columns = saddles.map((s) => s.column);
  const rows = saddles.map((s) => s.row);
  const span = (places: readonly number[]) => Math.max(...places) - Math.min(...places) + 1;
  return span(columns) >= CHEQUER_LIMITS.minSpan && span(rows) >= CHEQUER_LIMITS.minSpan;
}

function foundCard(id: number, lattice: Lattice): FoundCard {
  const place = cardPlace(id);
  const inPhoto = ([x, y]: Point): PhotoPointPx => photoPx(...mapByHomography(lattice.photoFromUpright, x, y));
  return {
    id: cardName(id),
    onPageMm: place.onPageMm,
    page: place.set,
    corners: lattice.kept.map(({ upright, photo }) => ({
      cardMm: cardMmFromUpright(id, upright),
      photo: photoPx(photo[0], photo[1]),
    })),
    cutOutline: CUT_CORNERS_UPRIGHT.map(inPhoto),
    homographyResidualPx: lattice.homographyResidualPx,
    cornerSigmaPx: lattice.pointSigmaPx,
  };
}

function isBent({ kept, photoFromUpright, homographyResidualPx }: Lattice): boolean {
  const [x, y] = kept[0]!.upright;
  const [ax, ay] = mapByHomography(photoFromUpright, x, y);
  const [bx, by] = mapByHomography(photoFromUpright, x + SQUARE_MM, y);
  const limit = Math.max(CHEQUER_LIMITS.bentFloorPx, CHEQUER_LIMITS.bentRatio * Math.hypot(bx - ax, by - ay));
  return homographyResidualPx > limit;
}

function middleOf(quad: readonly Point[]): Point {
  return [quad.reduce((sum, p) => sum + p[0] / quad.length, 0), quad.reduce((sum, p) => sum + p[1] / quad.length, 0)];
}

/** Whether a point is inside a convex polygon, whichever way it runs. */
function isInside([x, y]: Point, polygon: readonly Point[]): boolean {
  const sides = polygon.map(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length]!;
    return Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));
  });
  return sides.every((side) => side >= 0) || sides.every((side) => side <= 0);
}

function mirroredCard(name: string): Warning {
  return {
    code: 'card-mirrored',
    message: `Card ${name} is seen in a mirror, so it was not used. Switch off mirroring in the camera, or lay the card with its print up.`,
  };
}

function unmeasurableCard(name: string): Warning {
  return {
    code: 'card-unmeasurable',
    message: `Card ${name} is in the photo, but too little of its chequer can be seen sharply, so it was not used. Uncover it, move glare off it, or go nearer.`,
  };
}

function repeatedCard(name: string): Warning {
  return {
    code: 'card-repeated',
    message: `Card ${name} lies in the photo more than once. Print each page as a set of its own, so that every card has its own number.`,
  };
}

function bentCard(name: string): Warning {
  return {
    code: 'card-bent',
    message: `Card ${name} does not look flat in the photo. Press it flat on the table and take the photo again.`,
  };
}
