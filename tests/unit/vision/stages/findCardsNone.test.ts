// A thousand pictures without a card: noise, weaves, chequers, writing and squares of random cells made to look like
// codes. Nothing in them may be taken for a card, not even a mirrored or covered one.
import { expect, test } from 'vitest';
import type { GrayImage } from '../../../../shared/vision/image.ts';
import { findCards } from '../../../../shared/vision/stages/findCards.ts';
import { type Random, seededRandom } from '../../../photos/random.ts';
import { testOpenCv, testStageContext } from '../../../support/openCv.ts';

const ctx = testStageContext();

type Painter = (x: number, y: number) => number;

function painted(widthPx: number, heightPx: number, paint: Painter): GrayImage {
  const data = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) data[y * widthPx + x] = Math.min(255, Math.max(0, paint(x, y)));
  }
  return { widthPx, heightPx, data };
}

/** Turned and scaled coordinates for patterns. */
function turnedGrid(random: Random, from: number, to: number): (x: number, y: number) => [number, number] {
  const pitch = random.between(from, to);
  const angle = random.between(0, Math.PI);
  const [c, s] = [Math.cos(angle) / pitch, Math.sin(angle) / pitch];
  return (x, y) => [x * c + y * s, y * c - x * s];
}

const KINDS: Readonly<Record<string, (random: Random) => Painter>> = {
  noise: (random) => () => 255 * random.uniform(),
  'dim noise': (random) => () => 90 + 12 * random.normal(),
  chequer: (random) => {
    const grid = turnedGrid(random, 6, 40);
    return (x, y) => {
      const [u, v] = grid(x, y);
      return (Math.floor(u) + Math.floor(v)) % 2 === 0 ? 40 : 210;
    };
  },
  gingham: (random) => {
    const grid = turnedGrid(random, 4, 30);
    return (x, y) => {
      const [u, v] = grid(x, y);
      return 230 - 80 * (Math.floor(u) & 1) - 80 * (Math.floor(v) & 1);
    };
  },
  'grid lines': (random) => {
    const grid = turnedGrid(random, 10, 60);
    return (x, y) => {
      const [u, v] = grid(x, y);
      return u - Math.floor(u) < 0.08 || v - Math.floor(v) < 0.08 ? 60 : 190;
    };
  },
  writing: (random) => {
    const marks = new Set<number>();
    for (let i = 0; i < 900; i++) marks.add(Math.floor(random.uniform() * 4000));
    return (x, y) => (y % 14 < 9 && marks.has(Math.floor(x / 3) + 131 * Math.floor(y / 3)) ? 50 : 220);
  },
  'squares of random cells': (random) => {
    const side = random.between(5, 11);
    const step = Math.ceil(side * 12);
    const cells = Array.from({ length: 40 * 64 }, () => random.uniform() < 0.5);
    return (x, y) => {
      const tile = Math.floor(x / step) + 7 * Math.floor(y / step);
      const [i, j] = [Math.floor((x % step) / side) - 2, Math.floor((y % step) / side) - 2];
      if (i < 0 || j < 0 || i > 7 || j > 7) return 225;
      const isBorder = i === 0 || j === 0 || i === 7 || j === 7;
      return isBorder || cells[((tile % 40) * 8 + i) * 8 + j] ? 35 : 225;
    };
  },
};

test('a thousand pictures without a card give no card', () => {
  const kinds = Object.entries(KINDS);
  const taken: string[] = [];
  for (let i = 0; i < 1000; i++) {
    const random = seededRandom(1000 + i);
    const [kind, make] = kinds[i % kinds.length]!;
    const [widthPx, heightPx] = i % 25 === 0 ? [640, 480] : [320, 240];
    const sharp = painted(widthPx, heightPx, make(random));
    const gray = i % 2 === 0 ? sharp : testOpenCv().gaussianBlur(sharp, 1);
    const rgb = { widthPx, heightPx, data: new Uint8Array(0) }; // the finder looks at grey only
    const { cards, warnings, mirrored } = findCards({ name: kind, gray, rgb, metadata: {} }, { search: 'quick' }, ctx);
    if (cards.length + warnings.length + mirrored > 0)
      taken.push(`${kind} ${i}: ${warnings.map((w) => w.code).join()}`);
  }
  expect(taken).toEqual([]);
});
