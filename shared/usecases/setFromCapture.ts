// Puts what was traced into a set: into a plan's pieces where they are recognised, beside them where not.
import type { Warning } from '../base/result.ts';
import { dropDangling } from '../pattern/dropDangling.ts';
import { keepNames, keepSayings } from '../pattern/keepNames.ts';
import type { Accuracy, PatternSet, Piece, Repair, Seam, Shape, ShotPicture, Size } from '../pattern/model.ts';
import { alignShapes, rebaseRepairs } from '../pattern/rebaseRepairs.ts';
import { repairName } from '../pattern/repairs.ts';
import { PLANE_PRIORS } from '../vision/plane/priors.ts';
import type { TracedPiece } from '../vision/traced.ts';
import type { Capture, CaptureOptions } from './captured.ts';
import { assignPlans } from './matchPlan.ts';
import { ringOfTrace, shapeFromTrace, type TraceDefaults } from './pieceFromTrace.ts';
import { nextShotNumber, shotId, shotOf, shotSource, withoutReplaced } from './shots.ts';

export interface TakeIn {
  readonly into: PatternSet;
  readonly size: Size;
  /** Pictures kept of the shots, by photo file name. */
  readonly pictures: ReadonlyMap<string, ShotPicture>;
  /** The piece that the photos are said to show again; absent = whichever they show. */
  readonly again?: string | undefined;
  /** As the capture was told: decides how much of the scale error all shots of one print share. */
  readonly printScale: CaptureOptions['printScale'];
}

/** For pieces that no plan describes: most traced patterns have their allowance on, and 15 mm is the usual one; the
 * allowance stays marked as assumed until somebody says it. */
const UNPLANNED: TraceDefaults = { tracedLine: 'cutting', allowanceMm: 15 };

/** A set to trace into when there is no plan. */
export function emptySet(name: string): PatternSet {
  return {
    format: 'notchwise-set/1',
    name,
    displayUnits: 'mm',
    preset: { tolerance: 'home', cloth: 'woven' },
    sizes: ['one'],
    baseSize: 'one',
    pieces: [],
    seams: [],
    expectedPieces: [],
    bodies: [],
    shots: [],
    history: [],
  };
}

/** A new set with the capture in it; shapes of the same piece and size are replaced. */
export function takeIn(
  capture: Capture,
  { into, size, pictures, printScale, again: wanted }: TakeIn,
): {
  readonly set: PatternSet;
  readonly warnings: readonly Warning[];
} {
  const firstNumber = nextShotNumber(into);
  const shots = new Map(capture.photos.map((photo, index) => [photo.file, shotId(firstNumber + index)]));
  const planned = into.pieces.flatMap((piece) => (piece.plan === undefined ? [] : [{ piece, plan: piece.plan }]));
  const assigned = assignPlans(
    planned.map(({ plan }) => plan),
    capture.pieces.map(ringOfTrace),
  );
  const printSigmaRatio = printScale === null ? PLANE_PRIORS.printUncheckedRatio : PLANE_PRIORS.printCheckedRatio;
  const pieces = new Map(into.pieces.map((piece) => [piece.id, piece]));
  const warnings: Warning[] = [];
  const named = wanted === undefined ? null : tracedAgain(capture, pieces.get(wanted), size);
  if (named !== null && named.index === null) warnings.push(notSeenAgain(named.piece.name));
  capture.pieces.forEach((traced, index) => {
    const accuracy = accuracyOf(traced, capture, shots, printSigmaRatio);
    const shot = shots.get(traced.photos[0] ?? '') ?? '';
    const found = assigned.get(index);
    const isWanted = named !== null && named.index === index && named.piece.plan === undefined;
    const again = isWanted ? named.piece : found === undefined ? sameUnplanned(traced, size, pieces) : null;
    if (again !== null) {
      const fresh = shapeFromTrace(traced, accuracy, shot, null, UNPLANNED);
      pieces.set(again.id, retraced(again, size, fresh, traced, warnings));
      return;
    }
    if (found === undefined) {
      const id = freeId(traced.id, pieces);
      pieces.set(id, newPiece(id, traced, size, shapeFromTrace(traced, accuracy, shot, null, UNPLANNED)));
      if (planned.length > 0) warnings.push(strange(id, traced));
      return;
    }
    const { piece, plan } = planned[found.plan]!;
    const shape = shapeFromTrace(traced, accuracy, shot, { plan, match: found.match }, UNPLANNED);
    pieces.set(piece.id, retraced(piece, size, shape, traced, warnings));
  });
  const whole = dropDangling({
    ...into,
    sizes: into.sizes.includes(size) ? into.sizes : [...into.sizes, size],
    pieces: [...pieces.values()],
    shots: [...into.shots, ...capture.photos.map((photo) => shotOf(photo, shots.get(photo.file)!, pictures))],
  });
  return {
    set: { ...whole.set, shots: withoutReplaced(whole.set, into.shots) },
    warnings: [...warnings, ...whole.dropped.map(seamDropped)],
  };
}

/** Which traced piece is the one that was asked for: the one whose outline lies best on the known one. */
function tracedAgain(
  capture: Capture,
  piece: Piece | undefined,
  size: Size,
): { readonly piece: Piece; readonly index: number | null } | null {
  const known = piece?.shapes[size];
  if (piece === undefined || known === undefined) return null;
  const fits = capture.pieces
    .flatMap((traced, index) => {
      const aligned = alignShapes(known, bareShape(traced));
      return aligned === null ? [] : [{ index, awayMm: aligned.medianMm }];
    })
    .toSorted((a, b) => a.awayMm - b.awayMm);
  return { piece, index: fits[0]?.index ?? null };
}

/** Outline alone, to be compared. */
function bareShape(traced: TracedPiece): Shape {
  return shapeFromTrace(traced, { scaleSources: [], pointSigmaMm: 0 }, '', null, UNPLANNED);
}

function notSeenAgain(piece: string): Warning {
  return {
    code: 'piece-not-again',
    message: `None of the pieces in these photos has the outline of ${piece}, so it stays as it was; lay it face up and whole in the picture, or treat the new piece as a piece of its own.`,
  };
}

function seamDropped({ name }: Seam): Warning {
  return {
    code: 'seam-dropped',
    message: `The seam ${name} joined an edge that the new trace does not have any more and was taken out; add it again.`,
  };
}

/** A piece without a plan that was traced from the same photos before: named and corrected by hand, perhaps. */
function sameUnplanned(traced: TracedPiece, size: Size, pieces: ReadonlyMap<string, Piece>): Piece | null {
  const detail = traced.photos.join(', ');
  const shape = bareShape(traced);
  for (const piece of pieces.values()) {
    const known = piece.shapes[size];
    if (piece.plan !== undefined || piece.origin.source !== 'photo' || piece.origin.detail !== detail) continue;
    if (known !== undefined && alignShapes(known, shape) !== null) return piece;
  }
  return null;
}

/** The piece with its new shape, the corrections of the old one made again. */
function retraced(piece: Piece, size: Size, fresh: Shape, traced: TracedPiece, warnings: Warning[]): Piece {
  const known = piece.shapes[size];
  const { shape, unfit } = known === undefined ? { shape: fresh, unfit: [] } : carriedOver(piece, known, fresh);
  for (const repair of unfit) warnings.push(repairUnfit(piece.name, repairName(repair)));
  const detail = traced.photos.join(', ');
  // The same photo read again is the same piece; another photo of it shows what has become of it since.
  const isNewPhoto = known !== undefined && piece.origin.source === 'photo' && piece.origin.detail !== detail;
  const before = isNewPhoto && piece.before?.[size] === undefined ? { ...piece.before, [size]: known } : piece.before;
  return {
    ...piece,
    shapes: { ...piece.shapes, [size]: shape },
    origin: { source: 'photo', detail },
    ...(before && { before }),
  };
}

/** Corrections made again, names and allowances kept. */
function carriedOver(
  piece: Piece,
  known: Shape,
  fresh: Shape,
): { readonly shape: Shape; readonly unfit: readonly Repair[] } {
  const { shape, unfit, newFromOld } = rebaseRepairs(known, fresh);
  if (piece.plan !== undefined) return { shape: keepSayings(known, shape), unfit };
  const line = { ...shape, tracedLine: known.tracedLine };
  return { shape: newFromOld === null ? shape : keepNames(known, line, newFromOld), unfit };
}

function repairUnfit(piece: string, what: string): Warning {
  return {
    code: 'repair-unfit',
    message: `${piece}: a correction by hand (${what}) found no place in the new trace and was set aside; make it again, or delete it.`,
  };
}

/** The shot's scale error without the print's part, which all shots with the same prints share. */
function accuracyOf(
  piece: TracedPiece,
  capture: Capture,
  shots: ReadonlyMap<string, string>,
  printSigmaRatio: number,
): Accuracy {
  const photos = capture.photos.filter((photo) => piece.photos.includes(photo.file));
  const prints = [...new Set(photos.flatMap((photo) => photo.plane.cards.map((card) => card.page)))].toSorted(
    (a, b) => a - b,
  );
  const print = Math.min(printSigmaRatio, piece.scaleSigmaRatio);
  const rest = Math.sqrt(Math.max(0, piece.scaleSigmaRatio ** 2 - print ** 2));
  const seenIn = photos.flatMap((photo) => shots.get(photo.file) ?? []);
  return {
    scaleSources: [
      { id: `print:${prints.join('+')}`, sigmaRatio: print },
      { id: shotSource(seenIn), sigmaRatio: rest },
    ],
    pointSigmaMm: piece.pointSigmaMm,
  };
}

function newPiece(id: string, traced: TracedPiece, size: Size, shape: Piece['shapes'][string]): Piece {
  return {
    id,
    name: `Piece ${traced.id}`,
    kind: 'other',
    cut: [],
    grainIntent: 'straight',
    nap: 'none',
    shapes: { [size]: shape },
    origin: { source: 'photo', detail: traced.photos.join(', ') },
  };
}

function strange(id: string, traced: TracedPiece): Warning {
  return {
    code: 'piece-unplanned',
    message: `The piece "${id}" in ${traced.photos.join(', ')} fits no piece of the plan; name it, or trace it again.`,
  };
}

function freeId(wanted: string, taken: ReadonlyMap<string, unknown>): string {
  let id = wanted;
  for (let copy = 2; taken.has(id); copy++) id = `${wanted}-${copy}`;
  return id;
}
