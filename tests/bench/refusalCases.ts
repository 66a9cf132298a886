// Photos that cannot carry an answer, or only a doubtful one: each must be refused or come with the warning that says why.
// A print that is off along both axes alike, and was typed as true, cannot be told by any photo and is not among them.
import sharp from 'sharp';
import { decodePhoto } from '../../main/imaging/decodePhoto.ts';
import { openCv } from '../../main/imaging/loadCv.ts';
import { capturePhoto } from '../../shared/usecases/capture.ts';
import type { CaptureOptions } from '../../shared/usecases/captured.ts';
import { seededRandom } from '../photos/random.ts';
import type { PaperItem, Scene } from '../photos/scene.ts';
import { benchScene } from '../photos/scenes.ts';
import { CHECKED_PRINT, photoOf, realisticCards } from './captureCases.ts';

export const REFUSAL_CASES = [
  'no card in the photo',
  'the only card half covered',
  'the photo mirrored',
  'one card of four mirrored',
  'one card of four bent by more than 1 mm',
  'one card of four from a print 1 % larger',
  'a print 1 % longer along x than typed',
  'a print scale typed 1 % off',
  'a print 1 % too large that nobody measured',
] as const;
export type RefusalCase = (typeof REFUSAL_CASES)[number];

export interface RefusalResult {
  readonly name: RefusalCase;
  readonly isSaid: boolean;
  /** What was said: the codes of the refusal or the warnings. */
  readonly said: readonly string[];
}

interface Trial {
  readonly scene: Scene;
  readonly options: CaptureOptions;
  readonly flop: boolean;
  /** Any of these is an answer. */
  readonly expected: readonly string[];
}

/** A hundredth off. */
const OFF_RATIO = 1.01;
const BENT_MM = [1.05, 2.5] as const;

export async function runRefusal(name: RefusalCase, seed: number, megapixels: number): Promise<RefusalResult> {
  const trial = trialOf(name, seed, megapixels);
  const taken = await photoOf(trial.scene);
  const bytes = trial.flop ? await sharp(taken).keepExif().flop().jpeg({ quality: 92 }).toBuffer() : taken;
  const decoded = await decodePhoto(`${trial.scene.name}.jpg`, bytes);
  if (!decoded.ok) throw new Error(decoded.error.sentence);
  const read = capturePhoto(decoded.value.photo, trial.options, { cv: openCv(), report: () => {} });
  const said = read.ok ? read.value.captured.warnings.map(({ code }) => code) : [read.error.code];
  return { name, said, isSaid: said.some((code) => trial.expected.includes(code)) };
}

function trialOf(name: RefusalCase, seed: number, megapixels: number): Trial {
  const base = benchScene(name === 'the only card half covered' ? 'one-card' : 'plain', seed + 700, megapixels).scene;
  const items = realisticCards(base.items, base.seed);
  const random = seededRandom(seed * 101 + REFUSAL_CASES.indexOf(name));
  const trial = (changed: readonly PaperItem[], expected: readonly string[], more: Partial<Trial> = {}): Trial => ({
    scene: { ...base, name: `refuse-${REFUSAL_CASES.indexOf(name) + 1}-${seed}`, items: changed },
    options: CHECKED_PRINT,
    flop: false,
    expected,
    ...more,
  });
  const cards = items.filter(isCard);
  const chosen = random.pick(cards).id;
  const withOne = (change: (card: PaperItem) => PaperItem) =>
    items.map((item) => (item.id === chosen ? change(item) : item));
  switch (name) {
    case 'no card in the photo':
      return trial(
        items.filter((item) => !isCard(item)),
        ['no-card'],
      );
    case 'the only card half covered':
      return trial([...items, coverOf(cards[0]!)], ['no-card', 'card-unreadable', 'card-unmeasurable']);
    case 'the photo mirrored':
      return trial(items, ['card-mirrored'], { flop: true });
    case 'one card of four mirrored':
      return trial(withOne(mirrored), ['card-mirrored']);
    case 'one card of four bent by more than 1 mm':
      return trial(
        withOne((card) => ({
          ...card,
          curl: {
            sagittaMm: random.between(...BENT_MM),
            axisDeg: random.between(0, 180),
            form: random.pick(['edges-up', 'middle-up'] as const),
          },
        })),
        ['card-bent'],
      );
    case 'one card of four from a print 1 % larger':
      return trial(
        withOne((card) => larger(card, OFF_RATIO, OFF_RATIO)),
        ['card-scale-differs'],
      );
    case 'a print 1 % longer along x than typed':
      return trial(
        items.map((item) => (isCard(item) ? larger(item, OFF_RATIO, 1) : item)),
        ['print-scale-doubtful'],
      );
    case 'a print scale typed 1 % off':
      return trial(items, ['print-scale-unusual'], {
        options: { ...CHECKED_PRINT, printScale: { x: OFF_RATIO, y: OFF_RATIO } },
      });
    case 'a print 1 % too large that nobody measured':
      return trial(
        items.map((item) => (isCard(item) ? larger(item, OFF_RATIO, OFF_RATIO) : item)),
        ['print-unchecked'],
        { options: { ...CHECKED_PRINT, printScale: null } },
      );
  }
}

function isCard({ id }: PaperItem): boolean {
  return /^N\d\d$/.test(id);
}

function larger(card: PaperItem, x: number, y: number): PaperItem {
  return { ...card, printScale: [card.printScale[0] * x, card.printScale[1] * y] };
}

/** Printed the wrong way round, as on the back of thin paper held to a window. */
function mirrored(card: PaperItem): PaperItem {
  const flip = ([x, y]: readonly [number, number]): [number, number] => [-x, y];
  return {
    ...card,
    ink: card.ink.map((ink) =>
      ink.kind === 'fill'
        ? { ...ink, rings: ink.rings.map((ring) => ring.map(flip)) }
        : { ...ink, line: ink.line.map(flip) },
    ),
  };
}

/** A sheet of paper over the left two thirds of a card, code and chequer alike. */
function coverOf(card: PaperItem): PaperItem {
  const [left, right] = [Math.min(...card.outline.map(([x]) => x)), Math.max(...card.outline.map(([x]) => x))];
  const [top, bottom] = [Math.min(...card.outline.map(([, y]) => y)), Math.max(...card.outline.map(([, y]) => y))];
  const middle = left + (2 * (right - left)) / 3;
  return {
    ...card,
    id: 'cover',
    outline: [
      [left - 10, top - 10],
      [middle, top - 10],
      [middle, bottom + 10],
      [left - 10, bottom + 10],
    ],
    ink: [],
    baseMm: card.baseMm + card.thicknessMm + (card.curl?.sagittaMm ?? 0),
    curl: null,
    printScale: [1, 1],
  };
}
