// What the person reads when the plane cannot be solved, or can be with a doubt. One plain sentence or two: what was
// wrong, what to do.
import { type Failure, fail, type Result, type Warning } from '../../base/result.ts';

const oneDecimal = (value: number): string => value.toFixed(1);
const percent = (ratio: number): string => `${(Math.abs(ratio) * 100).toFixed(1)} %`;
const named = (ids: readonly string[]): string =>
  ids.length === 1 ? `card ${ids[0]}` : `cards ${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export const planeFailure = {
  noCard: (): Result<never, Failure> =>
    fail(
      'no-card',
      'No reference card was found in the photo, so nothing in it has a scale. Lay at least two printed cards beside the piece and photograph again.',
    ),
  onlyMirrored: (ids: readonly string[]): Result<never, Failure> =>
    fail(
      'card-mirrored',
      `${sentence(named(ids))} can only be seen mirrored. Photograph the table itself, not its reflection, and do not mirror the picture afterwards.`,
    ),
  degenerate: (ids: readonly string[]): Result<never, Failure> =>
    fail(
      'card-unreadable',
      `Too little of ${named(ids)} can be seen to measure with. Uncover the whole card, or move closer, and photograph again.`,
    ),
  printScale: (xRatio: number, yRatio: number): Result<never, Failure> =>
    fail(
      'print-scale-implausible',
      `The typed print scale (${xRatio} by ${yRatio}) is more than 5 % from true size. Measure both check rulers again, or print the cards again at 100 %.`,
    ),
  notSolved: (): Result<never, Failure> =>
    fail(
      'plane-unsolved',
      'The cards in the photo do not fit together on one flat table. Check that they all lie flat on the same table and photograph again.',
    ),
} as const;

export const planeWarning = {
  mirrored: (ids: readonly string[]): Warning => ({
    code: 'card-mirrored',
    message: `${sentence(named(ids))} can only be seen mirrored and was left out.`,
  }),
  degenerate: (ids: readonly string[]): Warning => ({
    code: 'card-unreadable',
    message: `Too little of ${named(ids)} can be seen; it was left out.`,
  }),
  scaleDiffers: (id: string, ratio: number): Warning => ({
    code: 'card-scale-differs',
    message: `Card ${id} is ${percent(ratio)} ${ratio > 0 ? 'larger' : 'smaller'} than the others and was left out. Use cards from one print only.`,
  }),
  scalesDisagree: (ids: readonly string[], ratio: number): Warning => ({
    code: 'card-scale-differs',
    message: `${sentence(named(ids))} differ in size by about ${percent(ratio)}; which one is right cannot be told. Use cards from one print and photograph again.`,
  }),
  printAspect: (ratio: number): Warning => ({
    code: 'print-scale-doubtful',
    message: `The cards are ${percent(ratio)} ${ratio > 0 ? 'longer' : 'shorter'} along x, against y, than the print scale says, so lengths are that much unsure. Measure both check rulers again, and type in both.`,
  }),
  bent: (id: string, bowMm: number): Warning => ({
    code: 'card-bent',
    message: `Card ${id} does not lie flat (about ${oneDecimal(bowMm)} mm). Flatten it and photograph again.`,
  }),
  unsteady: (id: string, residualPx: number): Warning => ({
    code: 'card-bent',
    message: `Card ${id} does not fit a flat card (${oneDecimal(residualPx)} pixels off): it is bent, raised or torn. Flatten it and photograph again.`,
  }),
  oneCard: (): Warning => ({
    code: 'one-card-rough',
    message:
      'Only one small card was found: lengths away from it are rough. Lay two to four cards around the piece for a good measurement.',
  }),
  printUnchecked: (): Warning => ({
    code: 'print-unchecked',
    message:
      'The size of the printed cards was not checked. Measure the two check rulers on the page once and type in what you read.',
  }),
  printScaleUnusual: (xRatio: number, yRatio: number): Warning => ({
    code: 'print-scale-unusual',
    message: `The typed print scale (${xRatio} by ${yRatio}) is unusual for a page printed at 100 %. Measure both check rulers once more.`,
  }),
  profileDisagrees: (): Warning => ({
    code: 'profile-disagrees',
    message: 'The stored lens of this phone does not fit this photo and was not used.',
  }),
  tapedDisagrees: (typedMm: number, seenMm: number): Warning => ({
    code: 'taped-distance-disagrees',
    message: `The taped distance of ${oneDecimal(typedMm)} mm does not fit the photo (${oneDecimal(seenMm)} mm) and was not used. Measure it once more.`,
  }),
  tiltUnclear: (): Warning => ({
    code: 'tilt-unclear',
    message:
      'Two tilts of the camera explain the cards nearly as well, so lengths are less sure. Add a card, or photograph from closer to straight above.',
  }),
} as const;
