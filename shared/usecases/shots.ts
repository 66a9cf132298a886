// The photos of a set: what is kept of each, how they are numbered, and which make room when a photo is read again.
import type { PatternSet, Shape, Shot, ShotPicture, ShotQuality } from '../pattern/model.ts';
import type { PhotoQuality } from '../vision/plane/photoQuality.ts';
import type { CapturedPhoto } from './captured.ts';

const SHOT_SOURCE = 'shot:';

/** Shots are numbered on, never anew: pieces and pictures name them. */
export function nextShotNumber({ shots }: PatternSet): number {
  return Math.max(0, ...shots.map(({ id }) => Number(/^shot-(\d+)$/.exec(id)?.[1] ?? 0))) + 1;
}

export function shotId(number: number): string {
  return `shot-${number}`;
}

export function shotOf(
  { file, plane, quality, warnings }: CapturedPhoto,
  id: string,
  pictures: ReadonlyMap<string, ShotPicture>,
): Shot {
  const picture = pictures.get(file);
  return {
    id,
    file,
    mmPerPixel: plane.mmPerPixel,
    tiltDeg: plane.tiltDeg,
    cards: plane.cards.map(({ id: card, residualPx }) => ({ id: card, residualPx })),
    warnings: warnings.map(({ code, message }) => ({ code, message })),
    ...(picture && { picture }),
    quality: shotQuality(quality),
  };
}

/** Three digits are more than a sigma has; hundredths of a millimetre more than the map needs. */
export function shotQuality({ map, advice }: PhotoQuality): ShotQuality {
  return {
    columns: map.columns,
    rows: map.rows,
    sigmaRatios: map.sigmaRatios.map((ratio) => (Number.isFinite(ratio) ? Number(ratio.toPrecision(3)) : null)),
    cornersMm: map.cornersMm.map((corner) => corner && [rounded(corner[0]), rounded(corner[1])]),
    advice: advice.map(({ code, message }) => ({ code, message })),
  };
}

function rounded(mm: number): number {
  return Math.round(mm * 100) / 100;
}

/** The name under which a shape's accuracy speaks of the shots that it was read from. */
export function shotSource(shots: readonly string[]): string {
  return `${SHOT_SOURCE}${shots.join('+')}`;
}

/** The shots that a shape was read from, the first of them the one it is placed in; none for a shape from elsewhere. */
export function shotsOfShape({ placement, accuracy }: Shape): readonly string[] {
  const named = accuracy.scaleSources
    .filter(({ id }) => id.startsWith(SHOT_SOURCE))
    .flatMap(({ id }) => id.slice(SHOT_SOURCE.length).split('+'));
  return [...new Set([...(placement === undefined ? [] : [placement.shot]), ...named])];
}

/** The shots without earlier ones of photos that were read again, as far as no piece needs them. */
export function withoutReplaced({ shots, pieces }: PatternSet, before: readonly Shot[]): readonly Shot[] {
  const shapes = pieces.flatMap((piece) => [...Object.values(piece.shapes), ...Object.values(piece.before ?? {})]);
  const needed = new Set(shapes.flatMap(shotsOfShape));
  const isReadAgain = ({ file }: Shot): boolean =>
    shots.some((other) => other.file === file && !before.includes(other));
  return shots.filter((shot) => !before.includes(shot) || !isReadAgain(shot) || needed.has(shot.id));
}
