// The capture against its aims, on photos of the simulated camera (never used to set a number in the program).
import type { LongPanelWish } from '../photos/longPanel.ts';
import type { SceneCase } from '../photos/scenes.ts';
import { type BenchProcesses, startBenchProcesses } from './benchProcesses.ts';
import type { CaseResult } from './captureCases.ts';
import { realLensRows } from './realLenses.ts';
import { REFUSAL_CASES, type RefusalResult } from './refusalCases.ts';
import type { PhotoScore } from './scorePieces.ts';
import { silentFaults } from './silentlyWrong.ts';
import { speedBench } from './speedBench.ts';
import { printTable, share } from './statistics.ts';
import {
  coverageTargets,
  type Judged,
  judgedRows,
  lengthTargets,
  markTargets,
  outlineTargets,
  pieceTargets,
  silentTargets,
} from './targets.ts';

const MEGAPIXELS = 12;
/** Whether a doubt is told does not hang on the last pixel. */
const REFUSAL_MEGAPIXELS = 6;

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
const MARKS: readonly SceneCase[] = ['on-fold', 'crossed-marks', 'darts'];
const DRAWN: readonly SceneCase[] = ['drawn', 'drawn-dashed'];
const HARD: readonly SceneCase[] = ['hard-shadow', 'white-on-white', 'kraft-on-wood', 'tracing-paper', 'tilted'];
/** Where a wrong outline looks like a right one; hard-shadow has its shadow along an edge. */
const MISLEADING: readonly SceneCase[] = ['glare', 'faint-kraft'];

/** Too long for one photo; joined through the cards that both photos show. */
const PANEL = { lengthMm: 1100, photos: 2, megapixels: MEGAPIXELS } as const;
const LONGEST = { lengthMm: 1400, photos: 2, megapixels: MEGAPIXELS } as const;

export async function captureBench(seeds: readonly number[], poolPhotos?: number): Promise<void> {
  const processes = startBenchProcesses();
  const read = await readAll(processes, seeds).finally(processes.close);
  const { four, marks, drawn, two, one, page, hard, misleading, panels, longest, profiledOne, profiledPage, refusals } =
    read;
  const all = [...four, ...marks, ...drawn, ...two, ...one, ...page, ...hard, ...misleading];
  const kraftAndShadow = hard.filter(({ name }) => /^(kraft-on-wood|hard-shadow)-/.test(name));
  const judged: Judged[] = [
    ...lengthTargets('four cards', scores(four), 0.4),
    ...outlineTargets('four cards', scores(four), 0.25),
    ...lengthTargets('drawn', scores(drawn), 0.4),
    ...outlineTargets('drawn', scores(drawn), 0.25),
    ...lengthTargets('two cards', scores(two), 0.5),
    ...outlineTargets('two cards', scores(two), null),
    ...lengthTargets('hard cases', scores(hard), 0.4),
    ...outlineTargets('hard cases', scores(hard), 0.25),
    ...lengthTargets(
      'panel of 1.1 m over two photos',
      panels.map(({ score }) => score),
      0.5,
    ),
    ...lengthTargets('whole page', scores(page), 2),
    ...lengthTargets('whole page with a phone profile', profiledPage, 0.8),
    calledRough(one),
    ...lengthTargets('one card with a phone profile', profiledOne, 2.5e-3, true),
    ...lengthTargets(
      'piece of 1.4 m over two photos',
      longest.map(({ score }) => score),
      1.2,
    ),
    ...coverageTargets([
      ...scores(all),
      ...profiledOne,
      ...profiledPage,
      ...[...panels, ...longest].map(({ score }) => score),
    ]),
    ...pieceTargets(scores(all)),
    // a place in a photo with a single card is as rough as its plane
    ...markTargets(scores([...four, ...marks, ...drawn, ...two, ...hard])),
    ...refusalTargets(refusals),
    ...lensTargets(),
    ...silentTargets(
      'glare, faint kraft, kraft on wood, a shadow along an edge',
      judgeable([...misleading, ...kraftAndShadow]),
    ),
    ...silentTargets('all photos of two or more cards', judgeable(all.filter((result) => !one.includes(result)))),
  ];
  printTable(`Capture, ${all.length} photos of ${MEGAPIXELS} MP`, [...judgedRows(judged)]);
  for (const { name, said } of refusals.filter(({ isSaid }) => !isSaid))
    console.log(`not told: ${name} (said: ${said.join(', ') || 'nothing'})`);
  for (const result of [...misleading, ...hard]) for (const line of silentLines(result)) console.log(line);
  for (const { name, failure } of all) if (failure !== null) console.log(`${name}: ${failure}`);
  await speedBench(poolPhotos);
}

/** Every photo that the table speaks of. All jobs wait in one line, so that no core is idle before the last of them. */
async function readAll({ doAll }: BenchProcesses, seeds: readonly number[]) {
  const each = <T>(kinds: readonly T[]) => kinds.flatMap((kind) => seeds.map((seed) => ({ kind, seed })));
  const photos = (cases: readonly SceneCase[]) =>
    doAll(
      'photo',
      each(cases).map(({ kind, seed }) => ({ sceneCase: kind, seed, megapixels: MEGAPIXELS })),
    );
  const long = (wish: LongPanelWish) =>
    doAll(
      'long',
      seeds.map((seed) => ({ wish, seed })),
    );
  // a photo that taught nothing is left out
  const profiled = async (sceneCase: SceneCase) =>
    (
      await doAll(
        'profiled',
        seeds.map((seed) => ({ sceneCase, seed, megapixels: MEGAPIXELS })),
      )
    ).filter((score) => score !== null);
  const [four, marks, drawn, two, one, page, hard, misleading, panels, longest, profiledOne, profiledPage, refusals] =
    await Promise.all([
      photos(FOUR_CARDS),
      photos(MARKS),
      photos(DRAWN),
      photos(['two-cards']),
      photos(['one-card']),
      photos(['whole-page']),
      photos(HARD),
      photos(MISLEADING),
      long(PANEL),
      long(LONGEST),
      profiled('one-card'),
      profiled('whole-page'),
      doAll(
        'refusal',
        each(REFUSAL_CASES).map(({ kind, seed }) => ({ name: kind, seed, megapixels: REFUSAL_MEGAPIXELS })),
      ),
    ]);
  return { four, marks, drawn, two, one, page, hard, misleading, panels, longest, profiledOne, profiledPage, refusals };
}

function refusalTargets(results: readonly RefusalResult[]): Judged[] {
  return REFUSAL_CASES.map((name): Judged => {
    const flags = results.filter((result) => result.name === name).map(({ isSaid }) => isSaid);
    return {
      what: `refused or warned: ${name} (${flags.length})`,
      value: share(flags),
      target: 1,
      bound: 'least',
      unit: '',
    };
  });
}

/** A photo with a single card is measured, and its lengths are called rough. */
function calledRough(results: readonly CaseResult[]): Judged {
  const flags = results.map(({ warnings, failure }) => failure !== null || warnings.includes('one-card-rough'));
  return { what: `one card: called rough (${flags.length})`, value: share(flags), target: 1, bound: 'least', unit: '' };
}

function lensTargets(): Judged[] {
  const rows = realLensRows();
  const worst = Math.max(...rows.map(({ ratio }) => ratio));
  const least = Math.min(...rows.map(({ coverage }) => coverage));
  return [
    {
      what: `real lenses: worst of ${rows.length} layouts ÷ reference`,
      value: worst,
      target: 1.1,
      bound: 'most',
      unit: '',
    },
    { what: 'real lenses: least within 2σ', value: least, target: 0.9, bound: 'least', unit: '' },
  ];
}

function judgeable(results: readonly CaseResult[]): { score: PhotoScore; warnings: readonly string[] }[] {
  return results.map(({ score, missed, warnings }) => ({ score: score ?? missed, warnings }));
}

/** What exactly was silently wrong in one photo. */
function silentLines({ name, score, warnings }: CaseResult): string[] {
  if (score === null) return [];
  const { outlines, lengths, piecesInvented } = score;
  return silentFaults({ outlines, lengths, invented: piecesInvented, warnings }).map(
    ({ kind, offMm }) =>
      `silently wrong: ${name}: ${kind}${kind === 'piece' ? ' invented' : ` off by ${offMm.toFixed(1)} mm`}`,
  );
}

/** A photo that was refused counts as one whose pieces were not found. */
function scores(results: readonly CaseResult[]): PhotoScore[] {
  return results.map(({ score, missed }) => score ?? missed);
}
