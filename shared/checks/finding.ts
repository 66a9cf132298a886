// What a check says: verdict, gravity, numbers, words and the drawing on the piece. Plain data.
import type { Point } from '../base/points.ts';

export type Verdict = 'clear' | 'fault' | 'unsure' | 'not-applicable';
export type Gravity = 'stop' | 'mend' | 'look' | 'note';

/** What a finding is about; every field that is known is filled. */
export interface Subject {
  readonly piece?: string;
  readonly edge?: string;
  readonly seam?: string;
  readonly notch?: string;
  readonly dart?: string;
  readonly size?: string;
}

export interface MeasuredValue {
  readonly value: number;
  /** Standard uncertainty in the same unit. */
  readonly sigma: number;
  readonly unit: 'mm' | 'deg' | 'count' | 'ratio';
}

export interface StatedLimit {
  readonly value: number;
  readonly unit: MeasuredValue['unit'];
  /** Where the limit comes from, in words. */
  readonly source: string;
}

/** Drawn over the piece (piece millimetres) by the report and the window. */
export type Overlay =
  | {
      readonly kind: 'edge';
      readonly piece: string;
      readonly edge: string;
      readonly fromMm?: number;
      readonly toMm?: number;
    }
  | { readonly kind: 'point'; readonly piece: string; readonly at: Point; readonly label?: string }
  | {
      readonly kind: 'segment';
      readonly piece: string;
      readonly from: Point;
      readonly to: Point;
      readonly label?: string;
    };

/** What would mend it, in words; with an action where it can apply itself (shared/usecases/remedies fills those in). */
export interface Remedy {
  readonly grade: 'safe' | 'choice';
  readonly sentence: string;
  /** Id of a remedy of shared/alter with its amounts; it was tried on a copy and mends. */
  readonly action?: { readonly id: string; readonly params: Readonly<Record<string, string | number>> };
}

export interface Finding {
  readonly rule: string;
  readonly verdict: Verdict;
  readonly gravity: Gravity;
  readonly subjects: readonly Subject[];
  readonly measured?: MeasuredValue;
  readonly limit?: StatedLimit;
  /** One plain sentence: what is wrong, by how much, with what uncertainty, what the limit is. */
  readonly sentence: string;
  /** Teaching text: why it matters at the machine. */
  readonly why: string;
  readonly overlay: readonly Overlay[];
  readonly remedies: readonly Remedy[];
  /** Findings with the same cause, nested under it. */
  readonly consequences: readonly Finding[];
}
