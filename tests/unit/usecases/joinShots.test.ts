import { describe, expect, it } from 'vitest';
import type { Point } from '../../../shared/base/points.ts';
import { resamplePolyline } from '../../../shared/geometry/polygon.ts';
import { distance } from '../../../shared/geometry/vector.ts';
import type { CapturedPhoto } from '../../../shared/usecases/captured.ts';
import { combineShots } from '../../../shared/usecases/combineShots.ts';
import { CHECKED, readShot, type TablePiece, type TableShot } from '../../support/jointTable.ts';
import { type LaidCard, NO_ERRORS, PHONE, Random } from '../../support/planeScene.ts';

const CARDS: readonly LaidCard[] = [
  { id: 0, atMm: [-700, -230], turnDeg: 5 },
  { id: 1, atMm: [-690, 240], turnDeg: 185 },
  { id: 4, atMm: [-10, -235], turnDeg: -8 },
  { id: 5, atMm: [15, 235], turnDeg: 170 },
  { id: 8, atMm: [690, -230], turnDeg: 12 },
  { id: 9, atMm: [700, 225], turnDeg: -175 },
];
const LEFT = CARDS.slice(0, 4);
const RIGHT = CARDS.slice(2);

const quadrilateral = (corners: readonly Point[]): Point[] =>
  resamplePolyline([...corners, corners[0]!], 0.7).slice(0, -1);

const PANEL_CORNERS: readonly Point[] = [
  [-700, -130],
  [700, -110],
  [700, 115],
  [-700, 140],
];
const PANEL: TablePiece = {
  outline: quadrilateral(PANEL_CORNERS),
  // The second lies where both photos look.
  notches: [
    [-400, -130 + (20 * 300) / 1400],
    [0, -120],
    [420, 115 + (25 * 280) / 1400],
  ],
};

function shot(file: string, aimX: number, cards: readonly LaidCard[], tiltDeg = 9): TableShot {
  const camera = { ...PHONE, distanceMm: 800, tiltDeg, towardsDeg: aimX < 0 ? 40 : 200, rollDeg: aimX / 100 };
  return { file, aimMm: [aimX, 0], camera, cards };
}

function twoShots(seed: number): CapturedPhoto[] {
  return [
    readShot(shot('a.jpg', -350, LEFT), [PANEL], new Random(seed)),
    readShot(shot('b.jpg', 350, RIGHT), [PANEL], new Random(seed + 500)),
  ];
}

const codesOf = (capture: ReturnType<typeof combineShots>) => capture.warnings.map(({ code }) => code);
const trueLengths = PANEL_CORNERS.map((corner, i) => distance(corner, PANEL_CORNERS[(i + 1) % 4]!));

describe('two photos of one long piece', () => {
  it('become one piece of both, its lengths right within twice their sigma and its notch counted once', () => {
    let off = 0;
    let edges = 0;
    for (let seed = 1; seed <= 4; seed++) {
      const capture = combineShots(twoShots(seed));
      expect(capture.pieces).toHaveLength(1);
      const [piece] = capture.pieces;
      expect(piece!.photos).toEqual(['a.jpg', 'b.jpg']);
      expect(codesOf(capture)).not.toContain('piece-cut-off');
      expect(piece!.marks.filter(({ kind }) => kind === 'notch')).toHaveLength(3);
      expect(piece!.edges).toHaveLength(4);
      for (const edge of piece!.edges) {
        const trueMm = trueLengths.toSorted((p, q) => Math.abs(p - edge.lengthMm) - Math.abs(q - edge.lengthMm))[0]!;
        expect(Math.abs(edge.lengthMm - trueMm)).toBeLessThan(1.2);
        expect(edge.sigmaMm).toBeLessThan(1);
        edges++;
        if (Math.abs(edge.lengthMm - trueMm) > 2 * edge.sigmaMm) off++;
      }
    }
    expect(off).toBeLessThanOrEqual(0.1 * edges);
  });

  it('give a sigma that knows of both: longer edges are less sure than the same edge within one photo', () => {
    const [a] = twoShots(1);
    const capture = combineShots(twoShots(1));
    const long = Math.max(...capture.pieces[0]!.edges.map(({ sigmaMm }) => sigmaMm));
    // The checked print alone (4e-4 an axis) is unsure by half a millimetre over 1.4 m.
    expect(long).toBeGreaterThan(0.4);
    expect(long).toBeGreaterThan(a!.plane.scaleSigmaRatio * 700);
  });

  it('stay two photos when the cards were moved between them, and say so', () => {
    const moved = RIGHT.map((card, i) =>
      i === 0 ? { ...card, atMm: [card.atMm[0] + 25, card.atMm[1]] as const } : card,
    );
    const capture = combineShots([
      readShot(shot('a.jpg', -350, LEFT), [PANEL], new Random(1)),
      readShot(shot('b.jpg', 350, moved), [PANEL], new Random(2)),
    ]);
    expect(capture.pieces).toEqual([]);
    expect(codesOf(capture)).toEqual(expect.arrayContaining(['cards-moved', 'piece-cut-off']));
  });

  it('notice a card that moved by two millimetres: too little to see, too much to measure with', () => {
    const moved = RIGHT.map((card, i) =>
      i === 0 ? { ...card, atMm: [card.atMm[0] + 2, card.atMm[1] + 1] as const } : card,
    );
    const capture = combineShots([
      readShot(shot('a.jpg', -350, LEFT), [PANEL], new Random(1)),
      readShot(shot('b.jpg', 350, moved), [PANEL], new Random(2)),
    ]);
    expect(codesOf(capture)).toContain('cards-moved');
  });

  it('are joined when corners are clean to hundredths of a pixel and the paper settled a little between the photos', () => {
    const errors = { ...NO_ERRORS, cornerSigmaPx: 0.02, curlMm: 0.15 };
    const capture = combineShots([
      readShot(shot('a.jpg', -350, LEFT), [PANEL], new Random(1), CHECKED, errors),
      readShot(shot('b.jpg', 350, RIGHT), [PANEL], new Random(501), CHECKED, errors),
    ]);
    expect(codesOf(capture)).toEqual([]);
  });

  it('are joined through a single shared card only when the outlines agree', () => {
    const oneShared = [LEFT.slice(0, 3), RIGHT.filter(({ id }) => id !== 5)] as const;
    const joined = combineShots([
      readShot(shot('a.jpg', -350, oneShared[0]), [PANEL], new Random(3)),
      readShot(shot('b.jpg', 350, oneShared[1]), [PANEL], new Random(4)),
    ]);
    expect(joined.pieces).toHaveLength(1);
    const turned = oneShared[1].map((card) => (card.id === 4 ? { ...card, turnDeg: card.turnDeg + 12 } : card));
    const apart = combineShots([
      readShot(shot('a.jpg', -350, oneShared[0]), [PANEL], new Random(3)),
      readShot(shot('b.jpg', 350, turned), [PANEL], new Random(4)),
    ]);
    expect(apart.pieces).toEqual([]);
    expect(codesOf(apart)).toContain('cards-moved');
  });

  it('that share no card are not joined', () => {
    const capture = combineShots([
      readShot(shot('a.jpg', -350, LEFT.slice(0, 2)), [PANEL], new Random(5)),
      readShot(shot('b.jpg', 350, RIGHT.slice(2)), [PANEL], new Random(6)),
    ]);
    expect(capture.pieces).toEqual([]);
    expect(codesOf(capture).filter((code) => code === 'piece-cut-off')).toHaveLength(2);
  });
});

describe('three photos of one piece', () => {
  const wide: readonly LaidCard[] = [
    ...CARDS,
    { id: 12, atMm: [-330, -225], turnDeg: 3 },
    { id: 13, atMm: [-340, 230], turnDeg: 181 },
    { id: 16, atMm: [345, -230], turnDeg: -6 },
    { id: 17, atMm: [330, 235], turnDeg: 172 },
  ];
  const near = (x: number) => wide.filter(({ atMm }) => Math.abs(atMm[0] - x) < 430);

  it('join the middle one, which sees no end of it', () => {
    const capture = combineShots([
      readShot(shot('a.jpg', -430, near(-430)), [PANEL], new Random(7)),
      readShot(shot('m.jpg', 0, near(0)), [PANEL], new Random(8)),
      readShot(shot('b.jpg', 430, near(430)), [PANEL], new Random(9)),
    ]);
    expect(capture.pieces).toHaveLength(1);
    expect(capture.pieces[0]!.photos).toEqual(['a.jpg', 'm.jpg', 'b.jpg']);
  });

  it('are no piece when the last of them is missing: nothing is closed across the rim of the middle one', () => {
    const capture = combineShots([
      readShot(shot('a.jpg', -430, near(-430)), [PANEL], new Random(7)),
      readShot(shot('m.jpg', 0, near(0)), [PANEL], new Random(8)),
    ]);
    expect(capture.pieces).toEqual([]);
    expect(codesOf(capture).filter((code) => code === 'piece-cut-off')).toHaveLength(2);
  });
});

describe('a whole piece in two photos', () => {
  const small: TablePiece = {
    outline: quadrilateral([
      [-90, -80],
      [80, -90],
      [95, 100],
      [-70, 90],
    ]),
    notches: [],
  };
  const around: readonly LaidCard[] = [
    { id: 0, atMm: [-260, -200], turnDeg: 5 },
    { id: 1, atMm: [260, -190], turnDeg: 12 },
    { id: 2, atMm: [-250, 210], turnDeg: 185 },
    { id: 3, atMm: [255, 205], turnDeg: -10 },
  ];

  it('is measured from both and becomes one', () => {
    const shots = ['a.jpg', 'b.jpg'].map((file, i) =>
      readShot(shot(file, i === 0 ? -60 : 60, around), [small], new Random(20 + i)),
    );
    const capture = combineShots(shots);
    expect(capture.pieces).toHaveLength(1);
    expect(capture.pieces[0]!.photos).toEqual(['a.jpg', 'b.jpg']);
    expect(capture.pieces[0]!.pointSigmaMm).toBeLessThan(shots[0]!.outlines[0]!.pointSigmaMm);
  });

  it('and another piece laid in its place are two pieces', () => {
    const other: TablePiece = {
      outline: quadrilateral([
        [-110, -60],
        [100, -70],
        [90, 120],
        [-95, 70],
      ]),
      notches: [],
    };
    const capture = combineShots([
      readShot(shot('a.jpg', -60, around), [small], new Random(30)),
      readShot(shot('b.jpg', 60, around), [other], new Random(31)),
    ]);
    expect(capture.pieces.map(({ photos }) => photos)).toEqual([['a.jpg'], ['b.jpg']]);
    expect(capture.warnings).toEqual([]);
  });

  it('keeps the table frame of its first photo, so that its picture still lies under it', () => {
    const shots = ['a.jpg', 'b.jpg'].map((file, i) =>
      readShot(shot(file, i === 0 ? -60 : 60, around), [small], new Random(40 + i)),
    );
    const own = shots[0]!.pieces[0]!.edges.map((edge) => edge.curve[0]!);
    const joined = combineShots(shots).pieces[0]!.edges.map((edge) => edge.curve[0]!);
    for (const corner of joined) expect(Math.min(...own.map((p) => distance(p, corner)))).toBeLessThan(0.5);
  });
});

describe('a taped distance between cards of different photos', () => {
  const chequer = (id: string) => ({ cardId: id, cardMm: [5.75, 5.75] as const });

  it('makes the joined length surer', () => {
    // N00 and N08 are in no photo together; both lie as they are printed (upper cards of a page).
    const ends = [CARDS[0]!, CARDS[4]!].map(({ atMm, turnDeg }): Point => {
      const turn = (turnDeg * Math.PI) / 180;
      const [x, y] = [5.75 - 46, 5.75 - 63];
      return [atMm[0] + Math.cos(turn) * x - Math.sin(turn) * y, atMm[1] + Math.sin(turn) * x + Math.cos(turn) * y];
    });
    const lengthMm = distance(ends[0]!, ends[1]!);
    const tape = { from: chequer('N00'), to: chequer('N08'), lengthMm, sigmaMm: 0.2 };
    const read = (options: typeof CHECKED) => [
      readShot(shot('a.jpg', -350, LEFT), [PANEL], new Random(50), options),
      readShot(shot('b.jpg', 350, RIGHT), [PANEL], new Random(51), options),
    ];
    const sigmaOf = (photos: readonly CapturedPhoto[]) =>
      Math.max(...combineShots(photos).pieces[0]!.edges.map(({ sigmaMm }) => sigmaMm));
    expect(sigmaOf(read({ ...CHECKED, tapedDistances: [tape] }))).toBeLessThan(0.85 * sigmaOf(read(CHECKED)));
  });
});
