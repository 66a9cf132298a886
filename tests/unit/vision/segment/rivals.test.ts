// Rivalry of two looks at the photo, on made-up blocks and outlines: what is right follows from where the paper is said to lie.
import { describe, expect, it } from 'vitest';
import { tableMm } from '../../../../shared/base/points.ts';
import { COVERED, type CoarseOutline, DOUBTED, SEEN } from '../../../../shared/vision/outline/coarseOutline.ts';
import {
  type Area,
  confirmed,
  parted,
  sameLine,
  shareGround,
  takesOver,
} from '../../../../shared/vision/segment/rivals.ts';

/** Blocks of a rectangle. */
function area(x0: number, y0: number, width: number, height: number): Area {
  return { mask: new Uint8Array(width * height).fill(1), box: { x0, y0, width, height } };
}
const always = (): boolean => true;
const never = (): boolean => false;

describe('takesOver', () => {
  it('does not join two papers that are proven each', () => {
    expect(takesOver(area(0, 0, 50, 20), [area(0, 0, 22, 20), area(28, 0, 22, 20)], always)).toBe(false);
    expect(takesOver(area(0, 0, 50, 20), [area(0, 0, 22, 20), area(28, 0, 22, 20)], never)).toBe(true);
  });

  it('makes a piece whole that a line of light cut in two: there is no table between its halves', () => {
    expect(takesOver(area(0, 0, 50, 20), [area(0, 0, 24, 20), area(25, 0, 25, 20)], always)).toBe(true);
    // two papers that all but touch with a corner
    expect(takesOver(area(0, 0, 50, 40), [area(0, 0, 25, 20), area(25, 20, 25, 20)], always)).toBe(false);
  });

  it('makes a piece whole that light cut off, but lets a proven piece stand against a part of it', () => {
    expect(takesOver(area(0, 0, 50, 20), [area(0, 0, 30, 20)], always)).toBe(true);
    expect(takesOver(area(0, 0, 30, 20), [area(0, 0, 50, 20)], always)).toBe(false);
  });

  it('takes a reflection off a piece whose rim proves nothing', () => {
    expect(takesOver(area(0, 0, 30, 20), [area(0, 0, 40, 20)], never)).toBe(true);
  });

  it('leaves alone what is the same but for a thing that lies over the edge, and what is the very same', () => {
    expect(takesOver(area(0, 0, 50, 20), [area(0, 0, 47, 20)], always)).toBe(false);
    expect(takesOver(area(0, 0, 50, 50), [area(0, 0, 50, 49)], never)).toBe(false);
  });

  it('counts as rivals what shares ground, not neighbours', () => {
    expect(shareGround(area(0, 0, 30, 20), area(30, 0, 30, 20))).toBe(false);
    expect(shareGround(area(0, 0, 30, 20), area(20, 0, 30, 20))).toBe(true);
  });
});

describe('confirmed', () => {
  const square = (sideMm: number, stateOf: (x: number, y: number) => number = () => SEEN): CoarseOutline => {
    const along = Array.from({ length: 100 }, (_, i) => i);
    const ring = [
      ...along.map((t) => [t, 0] as const),
      ...along.map((t) => [sideMm, t] as const),
      ...along.map((t) => [sideMm - (t * sideMm) / 100, 100] as const),
      ...along.map((t) => [0, 100 - t] as const),
    ];
    return {
      polygon: ring.map(([x, y]) => tableMm(Math.min(x, sideMm), y)),
      state: Uint8Array.from(ring, ([x, y]) => stateOf(x, y)),
    };
  };

  it('doubts the side that the other drew elsewhere, and no other', () => {
    const { polygon, state } = confirmed(square(100), [square(80).polygon]);
    polygon.forEach(([x, y], i) => {
      if (x === 100) expect(state[i], `at ${x}, ${y}`).toBe(DOUBTED);
      if (x < 80) expect(state[i], `at ${x}, ${y}`).toBe(SEEN);
    });
  });

  it('doubts everything when nobody else drew it, but leaves what is bridged as it is', () => {
    const { state } = confirmed(
      square(100, (x) => (x === 100 ? COVERED : SEEN)),
      [],
    );
    expect(new Set(state)).toEqual(new Set([COVERED, DOUBTED]));
  });

  it('lets a notch pass', () => {
    const notched = square(100);
    const polygon = notched.polygon.map((p) => (p[1] === 0 && p[0] > 40 && p[0] < 50 ? tableMm(p[0], 4) : p));
    expect(sameLine({ ...notched, polygon }, notched.polygon)).toBe(true);
    expect(sameLine(notched, square(90).polygon)).toBe(false);
  });
});

describe('parted', () => {
  /** Points a millimetre apart round a rectangle. */
  const ring = (x0: number, y0: number, x1: number, y1: number): CoarseOutline => {
    const polygon = [
      ...Array.from({ length: x1 - x0 }, (_, i) => tableMm(x0 + i, y0)),
      ...Array.from({ length: y1 - y0 }, (_, i) => tableMm(x1, y0 + i)),
      ...Array.from({ length: x1 - x0 }, (_, i) => tableMm(x1 - i, y1)),
      ...Array.from({ length: y1 - y0 }, (_, i) => tableMm(x0, y1 - i)),
    ];
    return { polygon, state: new Uint8Array(polygon.length).fill(SEEN) };
  };

  it('doubts the side along which another piece lies against it, and no other', () => {
    const { polygon, state } = parted(ring(0, 0, 100, 80), [ring(102, 0, 200, 80).polygon]);
    polygon.forEach(([x, y], i) => {
      if (x === 100) expect(state[i]).toBe(DOUBTED);
      else if (x < 90 || (y > 10 && y < 70)) expect(state[i]).toBe(SEEN);
    });
  });

  it('leaves pieces alone that have table between them, or meet in a corner only', () => {
    const apart = parted(ring(0, 0, 100, 80), [ring(110, 0, 200, 80).polygon]);
    expect(apart.state.every((state) => state === SEEN)).toBe(true);
    const corner = parted(ring(0, 0, 100, 80), [ring(102, 82, 200, 160).polygon]);
    expect(corner.state.every((state) => state === SEEN)).toBe(true);
  });
});
