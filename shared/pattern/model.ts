// The pattern set: plain readonly data that survives JSON, structuredClone and twenty years.
// Millimetres everywhere, x right, y down; angles in degrees. Behaviour lives in the functions beside this file.
import type { Point } from '../base/points.ts';

export type Size = string;

/** What the set is sewn from or how: chooses the ease ranges. `shirt` is a flat-set low cap in woven cloth. */
export const CLOTHS = ['woven', 'knit', 'tailored', 'shirt'] as const;
export type Cloth = (typeof CLOTHS)[number];

export interface PatternSet {
  readonly format: 'notchwise-set/1';
  readonly name: string;
  readonly displayUnits: 'mm' | 'cm' | 'in';
  /** Which limits judge this set; tables in shared/limits. */
  readonly preset: { readonly tolerance: 'home' | 'studio'; readonly cloth: Cloth };
  readonly sizes: readonly Size[];
  readonly baseSize: Size;
  readonly pieces: readonly Piece[];
  readonly seams: readonly Seam[];
  /** The cutting list: what the set should hold. */
  readonly expectedPieces: readonly ExpectedPiece[];
  readonly bodies: readonly Body[];
  /** The cloth it is to be cut from: usable width between the selvages. Absent = not said. */
  readonly fabric?: { readonly widthMm: number };
  readonly shots: readonly Shot[];
  readonly history: readonly HistoryStep[];
}

export const PIECE_KINDS = [
  'front bodice',
  'back bodice',
  'side panel',
  'sleeve',
  'top sleeve',
  'under sleeve',
  'collar',
  'stand',
  'neckband',
  'cuff',
  'front skirt',
  'back skirt',
  'trouser front',
  'trouser back',
  'facing',
  'waistband',
  'pocket',
  'yoke',
  'other',
] as const;
export type PieceKind = (typeof PIECE_KINDS)[number];

/** One line of a piece's cut list: "shell 2, mirrored". */
export interface CutEntry {
  readonly material: 'shell' | 'lining' | 'facing' | 'interfacing';
  /** Pieces cut in all (a pair is 2). A piece cut on the fold counts 1. */
  readonly count: number;
  readonly onFold: boolean;
  /** Cut as left and right (a mirrored pair). */
  readonly mirrored: boolean;
  /** Overrides the edges' allowance for this material; null = as drawn. */
  readonly allowanceMm: number | null;
}

export interface Piece {
  readonly id: string;
  readonly name: string;
  readonly kind: PieceKind;
  readonly cut: readonly CutEntry[];
  readonly grainIntent: 'straight' | 'cross' | 'bias';
  readonly nap: 'none' | 'one-way';
  /** One shape for each size that was traced. */
  readonly shapes: Readonly<Record<Size, Shape>>;
  readonly origin: { readonly source: 'photo' | 'import' | 'drafted' | 'plan'; readonly detail: string };
  /** What is known of the piece before it is traced: enough to recognise it and to name what was read. */
  readonly plan?: PiecePlan;
  /**
   * Shapes as they were before they were altered or traced again, by size; absent where nothing has changed. What was not
   * carried through to the pieces sewn to this one is found by comparing with them.
   */
  readonly before?: Readonly<Record<Size, Shape>>;
}

/** A piece as a plan describes it; lengths and places are rough, the photo measures them. */
export interface PiecePlan {
  readonly tracedLine: Shape['tracedLine'];
  /** In order around the piece, clockwise as seen; at least two. */
  readonly edges: readonly PlannedEdge[];
  readonly notches: readonly PlannedNotch[];
}

export interface PlannedEdge {
  readonly id: string;
  readonly label: string;
  readonly role: EdgeRole;
  readonly allowanceMm: number;
  /** Rough length of the traced line, darts and pleats open. */
  readonly aboutMm: number;
}

/** What a notch near this place is for. Two neighbours with purpose `pleat` are a pleat when both were read. */
export interface PlannedNotch {
  readonly id: string;
  readonly edge: string;
  /** Rough place along the edge, 0 at its start, 1 at its end. */
  readonly aboutRatio: number;
  readonly purpose: NotchPurpose;
  readonly mate: NotchMate;
}

export interface ExpectedPiece {
  readonly name: string;
  readonly kind: PieceKind;
  readonly cut: readonly CutEntry[];
}

export interface Shape {
  /** Edges in order around the piece, clockwise as seen on the screen; each starts where the one before ends. */
  readonly ring: readonly Edge[];
  /** Which line was traced: the cutting line (allowances outside the seam) or the seamline itself. */
  readonly tracedLine: 'cutting' | 'seam';
  readonly notches: readonly Notch[];
  readonly darts: readonly Dart[];
  readonly pleats: readonly Pleat[];
  readonly grainline: Grainline | null;
  readonly marks: readonly OtherMark[];
  readonly accuracy: Accuracy;
  /** Where the shape lay when its photo was taken; absent when it came from no photo. */
  readonly placement?: Placement;
  /** Stretches of the traced line that no photo showed well; absent = none. Named by places (unsureSpans.ts). */
  readonly unsure?: readonly UnsureLine[];
  /** Corrections by hand in the order in which they were made: made again when the piece is traced anew (repairs.ts). */
  readonly repairs?: readonly Repair[];
}

/** Why the line may be wrong there: hardly visible, something lay over it, in shadow, or bridged without anything seen. */
export const UNSURE_REASONS = ['weak-edge', 'covered', 'shadow', 'gap'] as const;
export type UnsureReason = (typeof UNSURE_REASONS)[number];

/** Points along the line as it was traced there, at least two; a place that the line has left is no longer unsure. */
export interface UnsureLine {
  readonly reason: UnsureReason;
  readonly points: readonly Point[];
}

/** One correction by hand. Points are in the shape's own frame, where the thing lay before the correction. */
export type Repair = RepairDeed & {
  readonly id: string;
  /** True when it found no place in the last trace: kept for the person to look at, not applied. */
  readonly setAside: boolean;
};

export type RepairDeed =
  | { readonly kind: 'corner-moved'; readonly from: Point; readonly to: Point }
  /** The outline from one place to another of the same edge, clockwise: 3n+1 control points that start and end there. */
  | { readonly kind: 'stretch-redrawn'; readonly curve: readonly Point[] }
  | { readonly kind: 'edge-split'; readonly at: Point }
  /** The corner at which two edges met that are one. */
  | { readonly kind: 'edges-joined'; readonly at: Point }
  | { readonly kind: 'mark-added'; readonly mark: RepairMark }
  /** The mark that lay at `from` has these places now and stays the mark that it was. */
  | { readonly kind: 'mark-moved'; readonly from: Point; readonly mark: RepairMark }
  /** The place of a notch, hole or button, the apex of a dart, the middle of a line. */
  | { readonly kind: 'mark-removed'; readonly mark: RepairMark['kind']; readonly at: Point };

/** A mark by its places alone; a notch lies on the traced line. */
export type RepairMark =
  | { readonly kind: 'notch'; readonly at: Point; readonly count: 1 | 2 | 3 }
  | { readonly kind: 'dart'; readonly legs: readonly [Point, Point]; readonly apex: Point }
  | { readonly kind: 'grainline'; readonly from: Point; readonly to: Point; readonly heads: 0 | 1 | 2 }
  | { readonly kind: 'hole' | 'button'; readonly at: Point }
  | { readonly kind: 'buttonhole' | 'lengthen-shorten' | 'placement'; readonly from: Point; readonly to: Point };

/** A piece point p lies on the table of the shot at originMm + p turned by turnDeg (clockwise as seen, y down). */
export interface Placement {
  readonly shot: string;
  readonly originMm: Point;
  readonly turnDeg: number;
}

export type EdgeRole = 'seam' | 'fold' | 'hem' | 'opening';

export interface Edge {
  readonly id: string;
  /** What the person calls it: "side", "armhole". */
  readonly label: string;
  readonly role: EdgeRole;
  /** 3n+1 control points of a cubic path on the traced line. */
  readonly curve: readonly Point[];
  readonly allowanceMm: number;
  /** True when nobody has said so yet: a curved comparison on an assumed allowance is unsure. */
  readonly allowanceAssumed: boolean;
  /** Own standard uncertainty of the traced length, without the shared scale; null = from the shape's accuracy. */
  readonly sigmaMm: number | null;
}

export type NotchPurpose = 'match' | 'dart' | 'pleat' | 'hem-turn' | 'opening-stop' | 'allowance';

/** What a notch meets: a notch of another piece, or a place that needs no notch. */
export type NotchMate =
  | { readonly kind: 'notch'; readonly piece: string; readonly notch: string }
  | { readonly kind: 'seam-end' }
  | { readonly kind: 'dart-leg' }
  | { readonly kind: 'centre-or-fold' }
  | { readonly kind: 'none' }
  /** Not said: the checks look for the partner along the seam. */
  | { readonly kind: 'unknown' };

export interface Notch {
  readonly id: string;
  readonly edge: string;
  /** Millimetres along the edge's seamline, from the edge's start, darts and pleats open. */
  readonly atMm: number;
  readonly count: 1 | 2 | 3;
  readonly purpose: NotchPurpose;
  readonly mate: NotchMate;
}

/** A dart that opens on an edge. The mouth on the seamline is where the legs (or their extension) cross it. */
export interface Dart {
  readonly id: string;
  readonly edge: string;
  /** Where the legs meet the traced line, in the order of the edge. */
  readonly legs: readonly [Point, Point];
  readonly apex: Point;
  /** Toward which end of the edge the intake is pressed; null = not said. */
  readonly foldTo: 'start' | 'end' | null;
}

/** A pleat or tuck that opens on an edge: closed before measuring. Millimetres along the seamline. */
export interface Pleat {
  readonly id: string;
  readonly edge: string;
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Grainline {
  readonly from: Point;
  readonly to: Point;
  readonly heads: 0 | 1 | 2;
}

export type OtherMark =
  | { readonly kind: 'hole' | 'button'; readonly id: string; readonly at: Point }
  | {
      readonly kind: 'buttonhole' | 'lengthen-shorten' | 'placement';
      readonly id: string;
      readonly from: Point;
      readonly to: Point;
    };

/**
 * Where the errors of a shape's lengths come from. Sources with the same id are the same error (one print of cards, one
 * shot), so they cancel between pieces that share them.
 */
export interface Accuracy {
  readonly scaleSources: readonly { readonly id: string; readonly sigmaRatio: number }[];
  /** Standard uncertainty of one outline point or mark, millimetres, independent from place to place. */
  readonly pointSigmaMm: number;
}

export const JOIN_KINDS = [
  'even',
  'eased',
  'gathered',
  'pleated',
  'stretched',
  'bound',
  'elasticated',
  'lapped',
  'applied',
] as const;
export type JoinKind = (typeof JOIN_KINDS)[number];

/** A stretch of one edge's seamline, walked from `fromMm` to `toMm`; null = the whole edge. */
export interface EdgeSpan {
  readonly piece: string;
  readonly edge: string;
  /** Walked from the edge's end to its start. */
  readonly reversed: boolean;
  /** Limits along the seamline from the edge's start, fromMm < toMm, darts open; null = whole edge. */
  readonly stretch: { readonly fromMm: number; readonly toMm: number } | null;
}

/** A chain of spans walked in order: an armhole is [front armhole, back armhole]. */
export type SeamSide = readonly EdgeSpan[];

export interface Seam {
  readonly id: string;
  readonly name: string;
  /**
   * Both sides start at the same end of the seam. The first is what the other is fitted to (armhole, neckline, waist of the
   * bodice); the second is the one that may be fuller (cap, collar, skirt). Ease = second - first.
   */
  readonly sides: readonly [SeamSide, SeamSide];
  readonly join: JoinKind;
  /** Wanted ease (second minus first) in all, millimetres; null = by the preset's range for this kind of seam. */
  readonly wantedEaseMm: number | null;
  /** Wanted ease by section between the matched notches, from the seam's start; null = not said. */
  readonly wantedSectionsMm: readonly number[] | null;
  /**
   * Length that one side has beyond the other on purpose (waistband underlap, cuff or collar extension): that of the band
   * where exactly one side is a band, else of the second side.
   */
  readonly overlapMm: number;
  readonly status: 'proposed' | 'confirmed';
}

/** How closely a garment is to lie, by its ease at the bust. */
export const FIT_CLASSES = ['close', 'fitted', 'semi-fitted', 'loose', 'very loose'] as const;
export type FitClass = (typeof FIT_CLASSES)[number];

/**
 * A body that the garment is for; girths and lengths in millimetres by name (bodyMeasures.ts). A body that is named as one of
 * the set's sizes is the body that this size was drafted for.
 */
export interface Body {
  readonly name: string;
  readonly measuresMm: Readonly<Record<string, number>>;
  /** The size that is sewn for this body; absent = not said. */
  readonly size?: Size;
  /** How closely it is to fit; absent = as the pattern has it. */
  readonly wanted?: FitClass;
}

/** One photo taken in. */
export interface Shot {
  readonly id: string;
  readonly file: string;
  readonly mmPerPixel: number;
  readonly tiltDeg: number;
  readonly cards: readonly { readonly id: string; readonly residualPx: number }[];
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
  /** The true-scale picture kept in the set file; absent when none was kept. */
  readonly picture?: ShotPicture;
  /** Where lengths can be trusted and what would make the photo better; absent in shots of older files. */
  readonly quality?: ShotQuality;
}

/** A map over the photo, cell by cell, row by row from its top left. */
export interface ShotQuality {
  readonly columns: number;
  readonly rows: number;
  /** Relative standard uncertainty of a short length in each cell; null = no table is seen there. */
  readonly sigmaRatios: readonly (number | null)[];
  /** Table millimetres of the corners of the cells, (columns + 1) x (rows + 1); null = no table is seen there. */
  readonly cornersMm: readonly (Point | null)[];
  /** What to do to make the photo better, most worthwhile first. */
  readonly advice: readonly { readonly code: string; readonly message: string }[];
}

/** A picture of the table at true scale. */
export interface ShotPicture {
  /** File name inside `shots/` of the set file. */
  readonly file: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPixel: number;
  /** Table millimetres at the picture's top left corner. */
  readonly originMm: Point;
}

/** One recorded change: what was done, with its amounts, so that it can be repeated on another set. */
export interface HistoryStep {
  readonly what: string;
  readonly params: Readonly<Record<string, string | number | boolean>>;
  readonly sentence: string;
}
