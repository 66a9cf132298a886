// The capture against its aims, on photos of the simulated camera (never used to set a number in the program).
import type { SceneCase } from '../photos/scenes.ts';
import { type CaseResult, runCase } from './captureCases.ts';
import { type LongResult, runLong, runOneCardWithProfile } from './longCases.ts';
import type { PhotoScore } from './scorePieces.ts';
import { printTable } from './statistics.ts';
import { type Judged, lengthTargets, markTargets, outlineTargets, pieceTargets, verdictOf } from './targets.ts';

const MEGAPIXELS = 12;

/** Cases that the first aim speaks of: four cards, tilt to 25 degrees, any table and paper that is not marked hard. */
const FOUR_CARDS: readonly SceneCase[] = [
  'four-cards',
  'plain',
  'wood',
  'mat',
  'checked',
  'cloth',
  'dotted-paper',
  'overhead',
  'several-pieces',
];
/** What other cases lack: fold brackets, and grainlines that writing and lengthen lines cross. */
const MARKS: readonly SceneCase[] = ['on-fold', 'crossed-marks'];
const DRAWN: readonly SceneCase[] = ['drawn', 'drawn-dashed'];
const HARD: readonly SceneCase[] = ['hard-shadow', 'white-on-white', 'kraft-on-wood', 'tracing-paper', 'tilted'];

/** Too long for one photo; joined through the cards that both photos show. */
const PANEL = { lengthMm: 1100, photos: 2, megapixels: MEGAPIXELS } as const;
const LONGEST = { lengthMm: 1400, photos: 2, megapixels: MEGAPIXELS } as const;

export async function captureBench(seeds: readonly number[]): Promise<void> {
  const run = (cases: readonly SceneCase[]) => runAll(cases, seeds);
  const four = await run(FOUR_CARDS);
  const marks = await run(MARKS);
  const drawn = await run(DRAWN);
  const two = await run(['two-cards']);
  const one = await run(['one-card']);
  const hard = await run(HARD);
  const panels: LongResult[] = [];
  const longest: LongResult[] = [];
  for (const seed of seeds) {
    panels.push(await runLong(seed, PANEL));
    longest.push(await runLong(seed, LONGEST));
  }
  const all = [...four, ...marks, ...drawn, ...two, ...one, ...hard];
  const judged: Judged[] = [
    ...lengthTargets('four cards', scores(four), 0.4),
    ...outlineTargets('four cards', scores(four), 0.25),
    ...lengthTargets('drawn', scores(drawn), 0.4),
    ...outlineTargets('drawn', scores(drawn), 0.25),
    ...lengthTargets('two cards', scores(two), 0.5),
    ...lengthTargets('one card', scores(one), 2.5e-3, true),
    ...lengthTargets('one card with a phone profile', await withProfile(seeds), 2.5e-3, true),
    ...lengthTargets('hard cases', scores(hard), 0.4),
    ...outlineTargets('hard cases', scores(hard), 0.25),
    ...lengthTargets(
      'panel of 1.1 m over two photos',
      panels.map(({ score }) => score),
      0.5,
    ),
    ...lengthTargets(
      'piece of 1.4 m over two photos',
      longest.map(({ score }) => score),
      1.2,
    ),
    ...pieceTargets(scores(all)),
    // a place in a photo with a single card is as rough as its plane
    ...markTargets(scores([...four, ...marks, ...drawn, ...two, ...hard])),
  ];
  printTable(`Capture, ${all.length} photos of ${MEGAPIXELS} MP`, [
    ['what', 'measured', 'aim', 'verdict'],
    ...judged.map((j) => [
      j.what,
      `${j.value.toPrecision(3)} ${j.unit}`.trim(),
      `${j.bound === 'most' ? '≤' : '≥'} ${j.target}`,
      verdictOf(j),
    ]),
  ]);
  for (const { name, failure } of all) if (failure !== null) console.log(`${name}: ${failure}`);
}

async function runAll(cases: readonly SceneCase[], seeds: readonly number[]): Promise<CaseResult[]> {
  const results: CaseResult[] = [];
  for (const sceneCase of cases) for (const seed of seeds) results.push(await runCase(sceneCase, seed, MEGAPIXELS));
  return results;
}

async function withProfile(seeds: readonly number[]): Promise<PhotoScore[]> {
  const scores: PhotoScore[] = [];
  for (const seed of seeds) {
    const score = await runOneCardWithProfile(seed, MEGAPIXELS);
    if (score !== null) scores.push(score);
  }
  return scores;
}

/** A photo that was refused counts as one whose pieces were not found. */
function scores(results: readonly CaseResult[]): PhotoScore[] {
  return results.map(({ score, missed }) => score ?? missed);
}
