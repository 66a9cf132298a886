// Everything the window knows: the set with its history, what is selected, what the host is doing, what was found.
import { ALTERATIONS } from '../../shared/alter/alterations.ts';
import type { Params } from '../../shared/alter/params.ts';
import type { Point } from '../../shared/base/points.ts';
import type { FindingsJson } from '../../shared/checks/toFindingsJson.ts';
import type { CallValue } from '../../shared/contract/contract.ts';
import type { MeasuredLine } from '../../shared/fit/finishedMeasure.ts';
import type { PatternSet, Shape, Size } from '../../shared/pattern/model.ts';
import type { Rolling } from '../../shared/pattern/rollSeam.ts';
import type { Arrangement } from '../../shared/usecases/captured.ts';
import type { MarkRef } from './edits/marks.ts';
import type { History } from './history.ts';

export const AREAS = ['photos', 'pieces', 'seams', 'findings', 'sizes', 'fit', 'alter', 'archive'] as const;
export type Area = (typeof AREAS)[number];

export interface OpenSet {
  readonly handle: string;
  /** The file's name without its folder; null = never saved. */
  readonly savedAs: string | null;
  readonly unsaved: boolean;
  /** Shots whose picture the host has. */
  readonly pictures: readonly string[];
  readonly history: History<PatternSet>;
}

export interface AddedPhoto {
  readonly photo: string;
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly notes: readonly string[];
  /** Address of a small picture for the list; null until it has come. */
  readonly thumbnail: string | null;
  readonly reading: PhotoReading;
  /** What a quick look found; null until it has come. */
  readonly look: PhotoLook | null;
}

/** How far the reading of one photo is. */
export type PhotoReading =
  | { readonly state: 'waiting' | 'read' | 'cancelled' }
  | { readonly state: 'reading'; readonly progress: number; readonly sentence: string }
  | { readonly state: 'failed'; readonly sentence: string };

export type PhotoLook =
  | ({ readonly state: 'seen' } & CallValue<'photo.look'>)
  | { readonly state: 'refused'; readonly sentence: string };

/** One end of a taped distance: a card's chequer corner, or a point picked in the photo (upright pixels). */
export interface TapeEnd {
  readonly card: string | null;
  readonly atPx: Point;
}

/** A distance that the person measured. */
export interface Tape {
  readonly photo: string;
  readonly from: TapeEnd;
  readonly to: TapeEnd;
  readonly lengthMm: number;
}

/** A distance whose ends are being picked. */
export interface Taping {
  readonly photo: string;
  readonly ends: readonly TapeEnd[];
}

export interface CaptureState {
  /** Not read yet, being read, or not readable. */
  readonly photos: readonly AddedPhoto[];
  /** Photos read since the window opened: they can be read again. */
  readonly kept: readonly AddedPhoto[];
  /** One sentence for each file that could not be taken in. */
  readonly refused: readonly { readonly name: string; readonly sentence: string }[];
  readonly job: { readonly handle: string; readonly progress: number; readonly sentence: string } | null;
  /** What the last reading had to say. */
  readonly warnings: readonly string[];
  readonly line: 'centre' | 'inner' | 'outer';
  readonly outline: 'auto' | 'paper' | 'drawn';
  /** Measured ruler lengths as typed, millimetres; empty = not measured. */
  readonly rulerX: string;
  readonly rulerY: string;
  /** Whether photos that show the same cards lying unmoved are joined. */
  readonly arrangement: Arrangement;
  /** The piece that the photos show again; null = whichever they show. */
  readonly again: string | null;
  readonly tapes: readonly Tape[];
  readonly taping: Taping | null;
  /** What is known about phones; null = not asked yet. */
  readonly phones: CallValue<'phones.list'>['phones'] | null;
}

export type Shown =
  | { readonly kind: 'shot'; readonly shot: string }
  | { readonly kind: 'photo'; readonly photo: string };

export interface Selection {
  readonly piece: string | null;
  readonly edge: string | null;
  readonly mark: MarkRef | null;
  readonly seam: string | null;
  /** The side of the seam whose edges are being picked; null = not picking. */
  readonly picking: 0 | 1 | null;
  /** Place in the list of findings as shown. */
  readonly finding: string | null;
}

export type ToolId = 'correct' | 'notch' | 'dart' | 'grain' | 'redraw' | 'split';

/** Where the canvas is asked to go; a new object asks again. */
export type GoTo =
  | { readonly kind: 'all' }
  | { readonly kind: 'piece'; readonly piece: string }
  | { readonly kind: 'finding'; readonly finding: string }
  /** Where the change that is shown as a preview is seen best. */
  | { readonly kind: 'preview' }
  /** The seam that is walked. */
  | { readonly kind: 'walk' }
  /** Where the measure that is shown was taken. */
  | { readonly kind: 'measured' }
  | { readonly kind: 'seam'; readonly seam: string };

/** A set as a change would make it, shown over the set as it is. */
export interface Preview {
  readonly set: PatternSet;
  readonly sentence: string;
  /** Sides of seams that would have to follow and do not. */
  readonly left?: readonly LeftSide[];
}

export interface LeftSide {
  readonly seam: string;
  readonly size: Size;
  readonly side: 0 | 1;
  readonly missingMm: number;
}

/** The alteration that is worked out in the step Alter: by its fields, or by a handle on the canvas. */
export interface Altering {
  readonly id: string;
  /** Amounts and names as far as they were said. */
  readonly given: Params;
  /** Null = every piece that it fits. */
  readonly pieces: readonly string[] | null;
  /** Null = every size. */
  readonly sizes: readonly Size[] | null;
  /** Also redraw what must follow. */
  readonly carry: boolean;
}

/** A seam whose second side is rolled along its first. */
export interface Walking {
  readonly seam: string;
  /** How far along the first side. */
  readonly alongMm: number;
  readonly rolling: Rolling;
}

export interface Message {
  readonly id: number;
  readonly kind: 'error' | 'done';
  readonly sentence: string;
}

export interface WindowState {
  readonly area: Area;
  readonly host: { readonly canPick: boolean; readonly archiveName: string; readonly version: string } | null;
  /** True until the host has said which set is open. */
  readonly starting: boolean;
  /** What is being waited for, in words; null = nothing. */
  readonly waiting: string | null;
  readonly open: OpenSet | null;
  readonly size: Size;
  readonly selection: Selection;
  readonly hoveredSeam: string | null;
  readonly tool: ToolId;
  /** How far a pulled stretch of an edge follows, millimetres. */
  readonly reachMm: number;
  /** 0 = the photo is not shown under the piece. */
  readonly underlayPercent: number;
  /** A change in the making: shown, not yet in the history. */
  readonly draft: { readonly piece: string; readonly shape: Shape } | null;
  /** A change that is shown and not made; null = none. */
  readonly preview: Preview | null;
  readonly altering: Altering;
  /** The finished measure whose places are shown; null = none. */
  readonly measured: { readonly measure: string; readonly lines: readonly MeasuredLine[] } | null;
  /** Null = no seam is walked. */
  readonly walking: Walking | null;
  readonly shown: Shown | null;
  /** Whether the map of where lengths can be trusted lies over the picture. */
  readonly trustShown: { readonly photo: boolean; readonly shot: boolean };
  readonly capture: CaptureState;
  readonly findings: FindingsJson | null;
  readonly checking: boolean;
  readonly filter: FindingFilter;
  readonly goTo: GoTo;
  readonly messages: readonly Message[];
}

export type FindingFilter = 'to-do' | 'stop' | 'mend' | 'look' | 'unsure' | 'clear' | 'all';

export const NOTHING_SELECTED: Selection = {
  piece: null,
  edge: null,
  mark: null,
  seam: null,
  picking: null,
  finding: null,
};

export const initialState: WindowState = {
  area: 'photos',
  host: null,
  starting: true,
  waiting: null,
  open: null,
  size: 'one',
  selection: NOTHING_SELECTED,
  hoveredSeam: null,
  tool: 'correct',
  reachMm: 60,
  underlayPercent: 60,
  draft: null,
  preview: null,
  altering: { id: ALTERATIONS[0]!.id, given: {}, pieces: null, sizes: null, carry: true },
  walking: null,
  measured: null,
  shown: null,
  capture: {
    photos: [],
    kept: [],
    refused: [],
    job: null,
    warnings: [],
    line: 'centre',
    outline: 'auto',
    rulerX: '',
    rulerY: '',
    arrangement: 'one-table',
    again: null,
    tapes: [],
    taping: null,
    phones: null,
  },
  trustShown: { photo: true, shot: false },
  findings: null,
  checking: false,
  filter: 'to-do',
  goTo: { kind: 'all' },
  messages: [],
};

/** The set as it is now; null = none is open. */
export function currentSet(state: WindowState): PatternSet | null {
  return state.open?.history.present ?? null;
}

/** The shape of a piece in the size shown; a change in the making or a preview stands in its place. */
export function shapeOf(state: WindowState, pieceId: string): Shape | null {
  if (state.draft?.piece === pieceId) return state.draft.shape;
  const set = state.preview?.set ?? currentSet(state);
  return set?.pieces.find(({ id }) => id === pieceId)?.shapes[state.size] ?? null;
}
