// Words and drawing for places along a walked seam: which pieces, which section, what to highlight. Shared by the seam
// rules; judges nothing.

import type { Point } from '../../base/points.ts';
import { placeAtLength } from '../../geometry/arcLength.ts';
import { neighbours, seamEdge } from '../../pattern/seamline.ts';
import { openMm, type SideNotch, spanAt, type WalkedSide } from '../../pattern/spans.ts';
import type { Anchor, SeamWalk, Section } from '../../pattern/walk.ts';
import type { Overlay, Subject } from '../finding.ts';

/** The seam in this size and every edge on both of its sides. */
export function seamSubjects(walk: SeamWalk): Subject[] {
  const { seam, size } = walk;
  const subjects: Subject[] = [{ seam: seam.id, size }];
  for (const { spans } of walk.sides) {
    for (const { piece, span } of spans) subjects.push({ piece: piece.id, edge: span.edge, size });
  }
  return subjects;
}

/** "front bodice and back bodice": the pieces of one side in the order of the walk. */
export function sideName(side: WalkedSide): string {
  const names = [...new Set(side.spans.map(({ piece }) => piece.name))];
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** Where a section lies, in words that a person at the table can follow. */
export function sectionName(walk: SeamWalk, index: number): string {
  const { length } = walk.sections;
  if (length === 1) return 'the whole seam';
  const section = walk.sections[index]!;
  const piece = pieceAlong(walk, section.from, section.to);
  return `from ${anchorName(walk, section.from, 'start')} to ${anchorName(walk, section.to, 'end')}${piece}`;
}

function pieceAlong(walk: SeamWalk, from: Anchor, to: Anchor): string {
  const middle = (from.atMm[0] + to.atMm[0]) / 2;
  return walk.sides[0].spans.length > 1 ? ` (${spanAt(walk.sides[0], middle).piece.name})` : '';
}

function anchorName(walk: SeamWalk, anchor: Anchor, end: 'start' | 'end'): string {
  switch (anchor.kind) {
    case 'start':
    case 'end':
      return `the ${end} of the seam`;
    case 'joint':
      return 'the joint between the pieces';
    case 'notch': {
      const notches = walk.anchors.filter((other) => other.kind === 'notch');
      return notches.length === 1 ? 'the notch' : `notch ${notches.indexOf(anchor) + 1}`;
    }
  }
}

/** The pieces of one side that a section runs along. */
export function spanNames(walk: SeamWalk, which: 0 | 1, section: Section): string {
  const middle = (section.from.atMm[which] + section.to.atMm[which]) / 2;
  return spanAt(walk.sides[which], middle).piece.name;
}

/** Both sides of a stretch, drawn on their pieces. */
export function stretchOverlay(walk: SeamWalk, from: Anchor, to: Anchor): Overlay[] {
  return ([0, 1] as const).flatMap((which) => sideOverlay(walk.sides[which], from.atMm[which], to.atMm[which]));
}

function sideOverlay(side: WalkedSide, fromMm: number, toMm: number): Overlay[] {
  return side.spans.flatMap((walked): Overlay[] => {
    const from = Math.max(fromMm, walked.startsAtMm);
    const to = Math.min(toMm, walked.startsAtMm + walked.length.valueMm);
    if (to <= from) return [];
    const ends = [openMm(walked, from), openMm(walked, to)].sort((a, b) => a - b);
    return [{ kind: 'edge', piece: walked.piece.id, edge: walked.span.edge, fromMm: ends[0]!, toMm: ends[1]! }];
  });
}

export function notchOverlay(notch: SideNotch): Overlay[] {
  const at = notchPoint(notch);
  return at === null ? [] : [{ kind: 'point', piece: notch.piece.id, at, label: 'notch' }];
}

function notchPoint({ shape, notch }: SideNotch): Point | null {
  const seam = seamEdge(shape, notch.edge);
  return seam === undefined ? null : placeAtLength(seam.path, notch.atMm);
}

export function notchSubject(notch: SideNotch, size: string): Subject {
  return { piece: notch.piece.id, edge: notch.notch.edge, notch: notch.notch.id, size };
}

/** The name of the edge that a side runs into at one of its ends; null when that edge has none. */
export function endLabel(side: WalkedSide, end: 'start' | 'end'): string | null {
  const walked = end === 'start' ? side.spans[0]! : side.spans.at(-1)!;
  const { before, after } = neighbours(walked.shape, walked.seam.index);
  const label = (walked.span.reversed === (end === 'start') ? after : before).edge.label.trim();
  return label === '' ? null : label;
}
