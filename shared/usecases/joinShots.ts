// Photos that show one table become one: planes solved together, pieces that run out of one photo completed from the next,
// pieces seen twice measured from both. Works on what was read from each photo; the photos themselves are not needed again,
// because every outline point remembers its place in its photo through the plane it was read with.
import { type TablePointMm, tableMm } from '../base/points.ts';
import type { Warning } from '../base/result.ts';
import { segmentIndex } from '../geometry/segmentIndex.ts';
import { type Affine, apply, invert } from '../geometry/transform.ts';
import { mergeMarks, movedMark } from '../vision/marks/mergeMarks.ts';
import {
  type MergedOutline,
  measuredRuns,
  mergeOutlines,
  type OutlinePart,
  samePiece,
} from '../vision/outline/mergeOutlines.ts';
import { photoFromTableVia, tableFromPhotoVia } from '../vision/plane/cameraModel.ts';
import { type JointErrors, jointErrors, jointLengthSigmaMm, type Witnesses } from '../vision/plane/jointLength.ts';
import { errorModes, FLAT_PAPER, lengthSigmaRatioAt } from '../vision/plane/lengthUncertainty.ts';
import { photoQuality } from '../vision/plane/photoQuality.ts';
import { photoFromTable } from '../vision/plane/planeSolution.ts';
import { type JoinedShots, solvePlanes } from '../vision/stages/solvePlanes.ts';
import type { TracedMark, TracedPiece } from '../vision/traced.ts';
import { planeSigmaMm } from './capture.ts';
import type { CapturedPhoto, SeenOutline } from './captured.ts';
import { pieceFromOutline } from './pieceFromOutline.ts';

/** The photos as they are after joining: each keeps its own table frame, a piece stands with the first photo that shows it. */
export interface JoinedCapture {
  readonly photos: readonly CapturedPhoto[];
  /** Files of the photos that were joined, group by group. */
  readonly groups: readonly (readonly string[])[];
  readonly warnings: readonly Warning[];
}

const JOIN = {
  /** Points nearer to a photo's rim than this are not expected in it. */
  rimMm: 20,
  /** The plane's part in how sure a place is: its relative uncertainty over this length. */
  overMm: 100,
  /** A fitted edge runs this near to the points that it was fitted to. */
  fittedMm: 10,
} as const;

export function joinShots(photos: readonly CapturedPhoto[]): JoinedCapture {
  const { groups, apart } = solvePlanes(
    photos.map(({ plane, evidence, outlines }) => ({
      solution: plane,
      evidence,
      outlines: outlines.flatMap((outline) =>
        measuredRuns(outline).lines.map(({ points }) => points as readonly TablePointMm[]),
      ),
    })),
  );
  const after = photos.map((photo): Draft => ({ photo, leftOver: partsOf(photo).length }));
  for (const group of groups) joinGroup(photos, group, after);
  const warnings: Warning[] = [];
  for (const { a, b, why } of apart) {
    if (after[a]!.leftOver === 0 || after[b]!.leftOver === 0) continue; // nothing there waited to be joined
    warnings.push(
      why === 'moved' ? cardsMoved(photos[a]!.file, photos[b]!.file) : joinUnproven(photos[a]!.file, photos[b]!.file),
    );
  }
  return {
    photos: after.map(settledPhoto),
    groups: groups.map(({ members }) => members.map((index) => photos[index]!.file)),
    warnings,
  };
}

/** Every photo by itself, as when each shows a table of its own. */
export function withoutJoining(photos: readonly CapturedPhoto[]): JoinedCapture {
  const after = photos.map((photo) => settledPhoto({ photo, leftOver: partsOf(photo).length }));
  return { photos: after, groups: [], warnings: [] };
}

function settledPhoto({ photo, leftOver }: Draft): CapturedPhoto {
  return { ...photo, warnings: [...photo.warnings, ...Array.from({ length: leftOver }, () => CUT_OFF)] };
}

/** A photo on its way through joining, with the pieces that still run out of it. */
interface Draft {
  photo: CapturedPhoto;
  leftOver: number;
}

function partsOf(photo: CapturedPhoto): readonly SeenOutline[] {
  return photo.outlines.filter(({ atRim }) => atRim.length > 0);
}

const CUT_OFF: Warning = {
  code: 'piece-cut-off',
  message:
    'A piece of paper runs out of the photo. Photograph it again with the whole piece in the picture, or take another photo of the rest without moving piece or cards: two cards must be in both.',
};

const cardsMoved = (a: string, b: string): Warning => ({
  code: 'cards-moved',
  message: `${a} and ${b} show the same cards in different places, so they were not joined. Leave piece and cards as they lie while you photograph one long piece.`,
});

const joinUnproven = (a: string, b: string): Warning => ({
  code: 'join-unproven',
  message: `${a} and ${b} share only one card and no stretch of outline, so they were not joined. Let both photos show the same two cards.`,
});

/** One outline of the group in the group's frame. */
interface Part extends OutlinePart {
  readonly seen: SeenOutline;
  readonly marks: readonly TracedMark[];
  /** Index of its whole piece in its photo; -1 for a part. */
  readonly piece: number;
}

function joinGroup(photos: readonly CapturedPhoto[], group: JoinedShots, after: readonly Draft[]): void {
  const errors = jointErrors(group.readings, FLAT_PAPER);
  const parts = group.members.flatMap((index, member) => partsIn(photos[index]!, group, member));
  const sees = (shot: number, at: TablePointMm): boolean => isWellIn(group, shot, at);
  group.members.forEach((index, member) => {
    const plane = group.solutions[member]!;
    const draft = after[index]!;
    const printChecked = photos[index]!.evidence.scale.checked;
    draft.photo = { ...draft.photo, plane, quality: photoQuality(plane, printChecked), pieces: [] };
    const settled = new Set(plane.warnings);
    const before = photos[index]!.plane.warnings;
    draft.photo = {
      ...draft.photo,
      warnings: draft.photo.warnings.filter((w) => !before.includes(w) || settled.has(w)),
    };
  });
  const give = (member: number, piece: TracedPiece): void => {
    const draft = after[group.members[member]!]!;
    draft.photo = { ...draft.photo, pieces: [...draft.photo.pieces, piece] };
  };
  for (const cluster of clustersOf(parts, sees)) {
    const merged = cluster.length > 1 ? mergeOutlines(cluster) : null;
    if (merged !== null && !merged.open) {
      const member = Math.min(...cluster.map(({ shot }) => shot));
      give(member, mergedPiece(photos, group, errors, cluster, merged, member));
      for (const { shot, piece } of cluster) if (piece < 0) after[group.members[shot]!]!.leftOver--;
      continue;
    }
    for (const part of cluster) if (part.piece >= 0) give(part.shot, singlePiece(photos, group, part));
  }
}

function partsIn(photo: CapturedPhoto, group: JoinedShots, member: number): Part[] {
  const camera = group.readings.cameras[member]!;
  const toGroup = (at: TablePointMm): TablePointMm => tableFromPhotoVia(camera, photoFromTable(photo.plane, at), 0);
  const modes = errorModes(group.solutions[member]!, FLAT_PAPER);
  return photo.outlines.map((seen, i): Part => {
    const rough = new Map<string, number>();
    const sigmaMm = (at: TablePointMm): number => {
      // The plane's part changes slowly; it is asked once for each patch of the table.
      const patch = `${Math.round(at[0] / JOIN.overMm)} ${Math.round(at[1] / JOIN.overMm)}`;
      let ratio = rough.get(patch);
      if (ratio === undefined) {
        ratio = lengthSigmaRatioAt(modes, photoFromTableVia(camera, at, 0));
        rough.set(patch, ratio);
      }
      return Math.hypot(seen.pointSigmaMm, ratio * JOIN.overMm);
    };
    return {
      seen,
      shot: member,
      points: seen.points.map(toGroup),
      atRim: seen.atRim,
      unsure: seen.unsure,
      pointSigmaMm: seen.pointSigmaMm,
      sigmaMm,
      marks: seen.marks.map((mark) => movedMark(mark, toGroup)),
      piece: seen.atRim.length > 0 ? -1 : i,
    };
  });
}

function isWellIn({ readings, solutions }: JoinedShots, shot: number, at: TablePointMm): boolean {
  const camera = readings.cameras[shot]!;
  const reachPx = JOIN.rimMm / solutions[shot]!.mmPerPixel;
  const [x, y] = photoFromTableVia(camera, at, 0);
  return x > reachPx && y > reachPx && x < camera.widthPx - reachPx && y < camera.heightPx - reachPx;
}

/** Parts that show one piece. */
function clustersOf(parts: readonly Part[], sees: (shot: number, at: TablePointMm) => boolean): Part[][] {
  const group = parts.map((_, i) => i);
  const rootOf = (i: number): number => (group[i] === i ? i : rootOf(group[i]!));
  for (let i = 0; i < parts.length; i++)
    for (let j = i + 1; j < parts.length; j++) {
      const [a, b] = [parts[i]!, parts[j]!];
      if (a.shot === b.shot || a.seen.line !== b.seen.line || rootOf(i) === rootOf(j)) continue;
      if (samePiece(a, b, sees)) group[rootOf(j)] = rootOf(i);
    }
  return parts.flatMap((_, root) => (rootOf(root) === root ? [parts.filter((__, i) => rootOf(i) === root)] : []));
}

/** A piece that only one photo shows whole, measured with the better plane, in that photo's frame. */
function singlePiece(photos: readonly CapturedPhoto[], group: JoinedShots, part: Part): TracedPiece {
  const photo = photos[group.members[part.shot]!]!;
  const solution = group.solutions[part.shot]!;
  const errors = errorModes(solution, FLAT_PAPER);
  const toOwn = moveBy(invert(group.groupFromOwn[part.shot]!));
  return pieceFromOutline(
    { ...part.seen, points: part.points.map(toOwn) },
    {
      id: photo.pieces[part.piece]!.id,
      photos: [photo.file],
      scaleSigmaRatio: errors.scaleSigmaRatio,
      planeSigmaMm: (path) => planeSigmaMm(solution, errors, path),
      marks: () => part.marks.map((mark) => movedMark(mark, toOwn)),
    },
  );
}

function mergedPiece(
  photos: readonly CapturedPhoto[],
  group: JoinedShots,
  errors: JointErrors,
  cluster: readonly Part[],
  merged: MergedOutline,
  member: number,
): TracedPiece {
  const members = [...new Set(cluster.map(({ shot }) => shot))].toSorted((a, b) => a - b);
  const witnesses = witnessesBy(group, merged);
  const toOwn = moveBy(invert(group.groupFromOwn[member]!));
  const piece = pieceFromOutline(
    { line: cluster[0]!.seen.line, ...merged },
    {
      id: 'p1',
      photos: members.map((shot) => photos[group.members[shot]!]!.file),
      scaleSigmaRatio: errors.scaleSigmaRatio,
      planeSigmaMm: (path) => jointLengthSigmaMm(errors, path.map(witnesses)),
      marks: () => mergeMarks(cluster.map(({ marks }) => marks)),
    },
  );
  return {
    ...piece,
    outline: piece.outline.map(toOwn),
    edges: piece.edges.map((edge) => ({ ...edge, curve: edge.curve.map(toOwn) })),
    marks: piece.marks.map((mark) => movedMark(mark, toOwn)),
  };
}

/** Which photos saw a point of a merged outline, and where. */
function witnessesBy({ readings }: JoinedShots, { points, shares }: MergedOutline): (at: TablePointMm) => Witnesses {
  const index = segmentIndex([{ points, closed: true }]);
  return (at) => {
    const near = index.nearest(at, JOIN.fittedMm);
    return shares[near?.segment ?? 0]!.map(({ shot, weight }) => ({
      shot,
      weight,
      photo: photoFromTableVia(readings.cameras[shot]!, at, 0),
    }));
  };
}

function moveBy(map: Affine): (at: TablePointMm) => TablePointMm {
  return (at) => {
    const [x, y] = apply(map, at);
    return tableMm(x, y);
  };
}
