// What the capture reads from photos: pieces with outlines, edges and marks, before they become a pattern set.
// Everything in table millimetres, y down, as seen from above (never mirrored).
import type { TablePointMm } from '../base/points.ts';

/** A stretch of the outline between two corners. */
export interface TracedEdge {
  readonly id: string;
  /** 3n+1 control points of a G1 cubic path; the first and last are the corners. */
  readonly curve: readonly TablePointMm[];
  readonly lengthMm: number;
  /** Standard uncertainty of lengthMm, everything included (card size, camera, outline). */
  readonly sigmaMm: number;
  /** The part of sigmaMm that this edge does not share with others of the same shot. */
  readonly localSigmaMm: number;
}

/** An outline stretch that was bridged or badly seen, by points along the dense outline. */
export interface UnsureStretch {
  readonly fromIndex: number;
  readonly toIndex: number;
  readonly reason: 'weak-edge' | 'covered' | 'shadow' | 'gap';
}

export type TracedMark =
  | {
      readonly kind: 'notch';
      readonly at: TablePointMm;
      readonly count: 1 | 2 | 3;
      readonly shape: 'snip' | 'triangle-out' | 'triangle-in' | 'tick';
      readonly confidence: number;
    }
  | {
      readonly kind: 'grainline';
      readonly from: TablePointMm;
      readonly to: TablePointMm;
      readonly heads: 0 | 1 | 2;
      readonly confidence: number;
    }
  | {
      readonly kind: 'dart';
      readonly legs: readonly [TablePointMm, TablePointMm];
      readonly apex: TablePointMm;
      readonly confidence: number;
    }
  | { readonly kind: 'fold'; readonly from: TablePointMm; readonly to: TablePointMm; readonly confidence: number }
  /** The middle line between the two lengthen/shorten lines, or the single one. */
  | {
      readonly kind: 'lengthen-shorten';
      readonly from: TablePointMm;
      readonly to: TablePointMm;
      readonly confidence: number;
    }
  | { readonly kind: 'hole'; readonly at: TablePointMm; readonly confidence: number };

export interface TracedPiece {
  readonly id: string;
  /** File names of the photos it was read from. */
  readonly photos: readonly string[];
  readonly line: 'paper-edge' | 'drawn-line';
  /** Closed outline, clockwise as seen on the screen (y down), last point not repeated; chords deviate < 0.02 mm. */
  readonly outline: readonly TablePointMm[];
  readonly edges: readonly TracedEdge[];
  readonly marks: readonly TracedMark[];
  readonly unsure: readonly UnsureStretch[];
  /** Standard uncertainty of one outline point across the outline, millimetres. */
  readonly pointSigmaMm: number;
  /** Relative standard uncertainty of scale that all pieces of this shot share. */
  readonly scaleSigmaRatio: number;
}
