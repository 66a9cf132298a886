// The solver against scenes of known truth: pure geometry, no pictures. Lengths are judged, because frame and turn of the
// table are the solver's own choice.
import { describe, expect, it } from 'vitest';
import { type PhotoPointPx, photoPx } from '../../../../shared/base/points.ts';
import type { FoundCard } from '../../../../shared/vision/cards/foundCard.ts';
import type { Camera } from '../../../../shared/vision/plane/cameraModel.ts';
import { errorModes, FLAT_PAPER, lengthUncertainty } from '../../../../shared/vision/plane/lengthUncertainty.ts';
import { photoFromTable, tableFromPhoto } from '../../../../shared/vision/plane/planeSolution.ts';
import { type SolvedPlane, type SolvePlaneOptions, solvePlane } from '../../../../shared/vision/stages/solvePlane.ts';
import {
  cameraOf,
  type LaidCard,
  NO_ERRORS,
  PHONE,
  photoOf,
  Random,
  seeCards,
  seePage,
} from '../../../support/planeScene.ts';

const FOUR: readonly LaidCard[] = [
  { id: 0, atMm: [-430, -300], turnDeg: 12 },
  { id: 1, atMm: [430, -290], turnDeg: -30 },
  { id: 2, atMm: [-420, 300], turnDeg: 95 },
  { id: 3, atMm: [440, 310], turnDeg: 170 },
];
const TWO = [FOUR[0]!, FOUR[3]!];

const CHECKED: SolvePlaneOptions = {
  printScale: { xRatio: 1, yRatio: 1, checked: true },
  phoneProfile: null,
  tapedDistances: [],
};
const PHONE_DATA = { make: 'Test', model: 'Phone', focal35Mm: 26 };

function solve(camera: Camera, cards: readonly FoundCard[], options = CHECKED): SolvedPlane {
  const { widthPx, heightPx } = camera;
  const result = solvePlane({ widthPx, heightPx, metadata: PHONE_DATA }, cards, options);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

function lineOf(camera: Camera, fromMm: readonly [number, number], toMm: readonly [number, number]): PhotoPointPx[] {
  return [photoOf(camera, ...fromMm), photoOf(camera, ...toMm)];
}

function measure(solved: SolvedPlane, line: readonly PhotoPointPx[]) {
  return lengthUncertainty(errorModes(solved.solution, FLAT_PAPER), line);
}

const codesOf = (solved: SolvedPlane): string[] => solved.solution.warnings.map(({ code }) => code);
const tilted = cameraOf({ ...PHONE, tiltDeg: 20, towardsDeg: 40, rollDeg: 15 });

describe('a scene without any error', () => {
  it.each([
    ['four cards, straight above', PHONE, FOUR],
    ['four cards, tilted', { ...PHONE, tiltDeg: 24, towardsDeg: 200, rollDeg: 100 }, FOUR],
    ['two cards, tilted', { ...PHONE, tiltDeg: 20, towardsDeg: 40 }, TWO],
    ['a lens with two terms', { ...PHONE, tiltDeg: 15, lens: 'radial', lensTerms: [0.04, -0.05] }, FOUR],
  ] as const)('gives lengths back: %s', (_, setup, cards) => {
    const camera = cameraOf(setup);
    const solved = solve(camera, seeCards(camera, cards, NO_ERRORS, new Random(1)));
    const { lengthMm } = measure(solved, lineOf(camera, [-300, -50], [300, 80]));
    // What is left is the height at which the solver supposes cards to rest (below 0.1 mm at 870 mm) and its priors.
    expect(Math.abs(lengthMm - Math.hypot(600, 130))).toBeLessThan(0.15);
    expect(solved.solution.tiltDeg).toBeCloseTo(setup.tiltDeg, 0);
    expect(codesOf(solved)).toEqual([]);
  });

  it('maps photo to table and back to the same pixel', () => {
    const camera = cameraOf({ ...PHONE, tiltDeg: 20, lens: 'radial', lensTerms: [0.05, -0.08] });
    const { solution } = solve(camera, seeCards(camera, FOUR, NO_ERRORS, new Random(1)));
    for (const p of [photoPx(10, 20), photoPx(4000, 15), photoPx(2016, 3000), photoPx(1000, 1500)]) {
      const back = photoFromTable(solution, tableFromPhoto(solution, p, 2), 2);
      expect(back[0]).toBeCloseTo(p[0], 3);
      expect(back[1]).toBeCloseTo(p[1], 3);
    }
  });

  it('states the size of a pixel and does not mirror the table', () => {
    const { solution } = solve(tilted, seeCards(tilted, FOUR, NO_ERRORS, new Random(1)));
    expect(solution.mmPerPixel).toBeGreaterThan(0.25);
    expect(solution.mmPerPixel).toBeLessThan(0.4);
    const [a, b, c] = [photoPx(1000, 1000), photoPx(2000, 1000), photoPx(1000, 2000)].map((p) =>
      tableFromPhoto(solution, p),
    );
    const cross = (b![0] - a![0]) * (c![1] - a![1]) - (b![1] - a![1]) * (c![0] - a![0]);
    expect(cross).toBeGreaterThan(0);
  });
});

describe('cards that disagree', () => {
  it('names the one of four that was printed 1 % larger and measures without it', () => {
    const random = new Random(3);
    const cards = seeCards(tilted, FOUR, { ...NO_ERRORS, cornerSigmaPx: 0.15 }, random);
    // Corners of a card printed larger: nominal places are 1 % nearer together than what the photo shows.
    const larger = cards.map((card, i) =>
      i === 2 ? { ...card, corners: card.corners.map((c) => ({ ...c, cardMm: scaled(c.cardMm, 1 / 1.01) })) } : card,
    );
    const solved = solve(tilted, larger);
    expect(codesOf(solved)).toContain('card-scale-differs');
    expect(solved.solution.cards.map(({ id }) => id)).not.toContain(cards[2]!.id);
    const { lengthMm, sigmaMm } = measure(solved, lineOf(tilted, [-200, 0], [200, 0]));
    expect(Math.abs(lengthMm - 400)).toBeLessThan(3 * sigmaMm);
  });

  it('warns of two cards of different print scale without choosing between them', () => {
    const cards = seeCards(tilted, TWO, { ...NO_ERRORS, cornerSigmaPx: 0.15 }, new Random(4));
    const larger = cards.map((card, i) =>
      i === 1 ? { ...card, corners: card.corners.map((c) => ({ ...c, cardMm: scaled(c.cardMm, 1 / 1.03) })) } : card,
    );
    const solved = solve(tilted, larger);
    expect(codesOf(solved)).toContain('card-scale-differs');
    expect(solved.solution.cards).toHaveLength(2);
  });

  it('warns of a card bent by 2.5 mm and not of cards curled by 0.6 mm', () => {
    const errors = { ...NO_ERRORS, cornerSigmaPx: 0.15, printSigmaRatio: 3e-4, curlMm: 0.6 };
    const good = seeCards(tilted, FOUR, errors, new Random(5));
    expect(codesOf(solve(tilted, good))).toEqual([]);
    const strong = seeCards(tilted, [FOUR[0]!], { ...errors, leastCurlMm: 2.5, curlMm: 2.5 }, new Random(19));
    const bent = solve(tilted, [strong[0]!, ...good.slice(1)]);
    expect(codesOf(bent)).toContain('card-bent');
    expect(bent.solution.warnings.find(({ code }) => code === 'card-bent')?.message).toContain(strong[0]!.id);
  });

  it('warns of every card bent by more than a millimetre, beside others or beside one', () => {
    const errors = { ...NO_ERRORS, cornerSigmaPx: 0.03, printSigmaRatio: 3e-4, curlMm: 0.6 };
    for (const laid of [FOUR, TWO])
      for (let seed = 1; seed <= 6; seed++) {
        const good = seeCards(tilted, laid, errors, new Random(100 + seed));
        expect(codesOf(solve(tilted, good)), `${laid.length} curled cards, seed ${seed}`).toEqual([]);
        const bent = seeCards(tilted, [laid[0]!], { ...errors, leastCurlMm: 1.2, curlMm: 1.2 }, new Random(seed));
        const { solution } = solve(tilted, [bent[0]!, ...good.slice(1)]);
        const warned = solution.warnings.find(({ code }) => code === 'card-bent')?.message ?? '';
        expect(warned, `${laid.length} cards, seed ${seed}`).toContain(bent[0]!.id);
      }
  });

  it('doubts a print that is 1 % longer one way than typed, and states lengths as that much unsure', () => {
    const errors = { ...NO_ERRORS, cornerSigmaPx: 0.03, printSigmaRatio: 3e-4, curlMm: 0.4 };
    const line = lineOf(tilted, [-200, 0], [200, 0]);
    for (const laid of [FOUR, TWO])
      for (const [x, y] of [
        [1.01, 1],
        [1, 1.01],
        [0.99, 1],
      ] as const) {
        const cards = seeCards(tilted, laid, errors, new Random(31));
        const stretched = cards.map((card) => ({
          ...card,
          corners: card.corners.map((c) => ({ ...c, cardMm: [c.cardMm[0] / x, c.cardMm[1] / y] as const })),
        }));
        const solved = solve(tilted, stretched);
        expect(codesOf(solved), `${laid.length} cards, ${x} by ${y}`).toEqual(['print-scale-doubtful']);
        const { lengthMm, sigmaMm } = measure(solved, line);
        expect(Math.abs(lengthMm - 400)).toBeLessThan(2 * sigmaMm);
      }
  });

  it('leaves out single corners that do not belong', () => {
    const cards = seeCards(tilted, FOUR, { ...NO_ERRORS, cornerSigmaPx: 0.15 }, new Random(6));
    const spoiled = cards.map((card) => ({
      ...card,
      corners: card.corners.map((c, k) => (k === 7 ? { ...c, photo: photoPx(c.photo[0] + 6, c.photo[1] - 4) } : c)),
    }));
    const solved = solve(tilted, spoiled);
    expect(solved.solution.cards.every(({ cornersDropped }) => cornersDropped >= 1 && cornersDropped <= 2)).toBe(true);
    const { lengthMm, sigmaMm } = measure(solved, lineOf(tilted, [-300, 0], [300, 0]));
    expect(Math.abs(lengthMm - 600)).toBeLessThan(3 * sigmaMm);
  });
});

describe('an uncut page', () => {
  it('is recognised and solved as one, with less uncertainty than the same cards as if cut', () => {
    const errors = { ...NO_ERRORS, cornerSigmaPx: 0.15, printSigmaRatio: 3e-4, curlMm: 0.4 };
    const page = seePage(tilted, [-300, 0], 10, errors, new Random(7));
    const whole = solve(tilted, page);
    expect(whole.solution.cards.every(({ uncut }) => uncut)).toBe(true);
    const asIfCut = page.map((card, i) => ({ ...card, page: i + 1 }));
    const cut = solve(tilted, asIfCut);
    expect(cut.solution.cards.some(({ uncut }) => uncut)).toBe(false);
    const line = lineOf(tilted, [-200, 100], [300, 100]);
    expect(measure(whole, line).sigmaMm).toBeLessThan(measure(cut, line).sigmaMm);
  });

  it('is not seen in cut cards of one page that lie elsewhere', () => {
    const solved = solve(tilted, seeCards(tilted, FOUR, { ...NO_ERRORS, cornerSigmaPx: 0.15 }, new Random(8)));
    expect(solved.solution.cards.some(({ uncut }) => uncut)).toBe(false);
  });
});

describe('what the person typed', () => {
  it('corrects lengths by the print scale and refuses one that cannot be', () => {
    const cards = seeCards(tilted, FOUR, NO_ERRORS, new Random(1));
    const line = lineOf(tilted, [-250, 0], [250, 0]);
    const scale = { xRatio: 1.004, yRatio: 1.004, checked: true };
    const ratio =
      measure(solve(tilted, cards, { ...CHECKED, printScale: scale }), line).lengthMm /
      measure(solve(tilted, cards), line).lengthMm;
    expect(ratio).toBeCloseTo(1.004, 4);
    const { widthPx, heightPx } = tilted;
    const refused = solvePlane({ widthPx, heightPx, metadata: {} }, cards, {
      ...CHECKED,
      printScale: { xRatio: 0.93, yRatio: 1, checked: true },
    });
    expect(!refused.ok && refused.error.code).toBe('print-scale-implausible');
  });

  it('warns and widens when nobody checked the print', () => {
    const cards = seeCards(tilted, FOUR, NO_ERRORS, new Random(1));
    const unchecked = solve(tilted, cards, { ...CHECKED, printScale: null });
    expect(codesOf(unchecked)).toContain('print-unchecked');
    expect(unchecked.solution.scaleSigmaRatio).toBeGreaterThan(2 * solve(tilted, cards).solution.scaleSigmaRatio);
  });

  it('uses a taped distance that fits and not one that does not', () => {
    const cards = seeCards(tilted, TWO, { ...NO_ERRORS, cornerSigmaPx: 0.15 }, new Random(2));
    const [from, to] = lineOf(tilted, [-400, 280], [400, -280]);
    const line = lineOf(tilted, [-200, 100], [200, -100]);
    const taped = (lengthMm: number) => ({
      ...CHECKED,
      tapedDistances: [{ from: { photo: from! }, to: { photo: to! }, lengthMm, sigmaMm: 0.3 }],
    });
    const free = measure(solve(tilted, cards), line).sigmaMm;
    const fitting = solve(tilted, cards, taped(Math.hypot(800, 560)));
    expect(measure(fitting, line).sigmaMm).toBeLessThan(free);
    expect(codesOf(solve(tilted, cards, taped(900)))).toContain('taped-distance-disagrees');
  });
});

describe('photos that cannot be measured', () => {
  const { widthPx, heightPx } = tilted;
  const frame = { widthPx, heightPx, metadata: PHONE_DATA };

  it('refuses without any card', () => {
    const result = solvePlane(frame, [], CHECKED);
    expect(!result.ok && result.error.code).toBe('no-card');
  });

  it('refuses when every card is mirrored', () => {
    const mirrored = seeCards(tilted, TWO, NO_ERRORS, new Random(1)).map((card) => ({
      ...card,
      corners: card.corners.map((c) => ({ ...c, photo: photoPx(widthPx - 1 - c.photo[0], c.photo[1]) })),
    }));
    const result = solvePlane(frame, mirrored, CHECKED);
    expect(!result.ok && result.error.code).toBe('card-mirrored');
  });

  it('refuses when a single card shows too few corners', () => {
    const [card] = seeCards(tilted, [FOUR[0]!], NO_ERRORS, new Random(1));
    const result = solvePlane(frame, [{ ...card!, corners: card!.corners.slice(0, 6) }], CHECKED);
    expect(!result.ok && result.error.code).toBe('card-unreadable'); // six corners of one row lie on a line
  });
});

describe('one card and the phone profile', () => {
  const camera = cameraOf({ ...PHONE, tiltDeg: 12, towardsDeg: 70, lens: 'radial', lensTerms: [0.05, -0.06] });
  const noise = { ...NO_ERRORS, cornerSigmaPx: 0.15 };

  it('calls one card rough, learns from four, and then measures one card better', () => {
    const one = seeCards(camera, [FOUR[0]!], noise, new Random(9));
    const rough = solve(camera, one);
    expect(codesOf(rough)).toContain('one-card-rough');
    const { learntProfile } = solve(camera, seeCards(camera, FOUR, noise, new Random(10)));
    if (learntProfile === null) throw new Error('four cards taught nothing');
    const known = solve(camera, one, { ...CHECKED, phoneProfile: learntProfile });
    expect(codesOf(known)).not.toContain('one-card-rough');
    const line = lineOf(camera, [-250, -100], [150, 50]);
    expect(measure(known, line).sigmaMm).toBeLessThan(0.8 * measure(rough, line).sigmaMm);
  });

  it('does not use a profile that the photo contradicts', () => {
    const cards = seeCards(camera, FOUR, noise, new Random(11));
    const { learntProfile } = solve(camera, cards);
    if (learntProfile === null) throw new Error('four cards taught nothing');
    const wrong = { ...learntProfile, mean: [0.2, -0.3, 0.5] as const };
    expect(codesOf(solve(camera, cards, { ...CHECKED, phoneProfile: wrong }))).toContain('profile-disagrees');
  });
});

function scaled(p: readonly [number, number], factor: number): [number, number] {
  return [p[0] * factor, p[1] * factor];
}
