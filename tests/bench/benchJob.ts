// One photo, or one set of photos that belong together, to be read by a bench process: what to do and what comes back.
// Everything in both is data, so that they can be sent to another process.
import type { LongPanelWish } from '../photos/longPanel.ts';
import type { SceneCase } from '../photos/scenes.ts';
import { type CaseResult, runCase } from './captureCases.ts';
import { type LongResult, runLong, runWithProfile } from './longCases.ts';
import { type RefusalCase, type RefusalResult, runRefusal } from './refusalCases.ts';
import type { PhotoScore } from './scorePieces.ts';

export interface BenchJobs {
  readonly photo: { readonly sceneCase: SceneCase; readonly seed: number; readonly megapixels: number };
  readonly long: { readonly wish: LongPanelWish; readonly seed: number };
  readonly profiled: { readonly sceneCase: SceneCase; readonly seed: number; readonly megapixels: number };
  readonly refusal: { readonly name: RefusalCase; readonly seed: number; readonly megapixels: number };
}

export interface BenchResults {
  readonly photo: CaseResult;
  readonly long: LongResult;
  readonly profiled: PhotoScore | null;
  readonly refusal: RefusalResult;
}

export type JobKind = keyof BenchJobs;

type Doers = { readonly [Kind in JobKind]: (job: BenchJobs[Kind]) => Promise<BenchResults[Kind]> };

const doers: Doers = {
  photo: ({ sceneCase, seed, megapixels }) => runCase(sceneCase, seed, megapixels),
  long: ({ wish, seed }) => runLong(seed, wish),
  profiled: ({ sceneCase, seed, megapixels }) => runWithProfile(sceneCase, seed, megapixels),
  refusal: ({ name, seed, megapixels }) => runRefusal(name, seed, megapixels),
};

export function doJob<Kind extends JobKind>(kind: Kind, job: BenchJobs[Kind]): Promise<BenchResults[Kind]> {
  return doers[kind](job);
}
