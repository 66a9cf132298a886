// A pair for the left and the right is cut mirrored. Cut twice the same way up, an uneven piece gives two left sleeves.
import { SAME_BOTH_WAYS } from '../../limits/setLimits.ts';
import type { CutEntry, Piece, PieceKind } from '../../pattern/model.ts';
import { pointSigmaAround } from '../../pattern/pointSigma.ts';
import type { ShapeInSize } from '../context.ts';
import { unevenness } from '../parts/symmetry.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { inShapes } from '../subjects.ts';
import { judgeInterval } from '../verdict.ts';

interface Data {
  readonly piece: string;
  readonly count: number;
  readonly material: CutEntry['material'];
  readonly unevenMm: number;
  readonly sigmaMm: number;
  readonly limitMm: number;
  readonly marksAlone: number;
}

interface AlikeCut extends ShapeInSize {
  readonly entry: CutEntry;
}

export const sameSide = defineRule<AlikeCut, Data>({
  id: 'same-side',
  title: 'Two pieces for left and right are cut the same way up',
  why: 'A sleeve has a front and a back. Laid on the cloth twice the same way up it gives two left sleeves, and the mistake is found when the second one is pinned in. Cut through folded cloth, or turn the paper over for the second piece.',
  source: `Cut as left and right (clothingpatterns101.com); ${SAME_BOTH_WAYS.source}`,
  messages: {
    clear: (d) => `${d.piece}: cut ${d.count} the same way up, and it is the same turned over.`,
    twoLeft: (d, say) =>
      `${d.piece}: cut ${d.count} from ${d.material}, not mirrored, but the piece is not the same turned over${how(d, say.length)}: that gives ${d.count} for the same side.`,
    layers: (d, say) =>
      `${d.piece}: cut ${d.count} from ${d.material}, not mirrored, and the piece is not the same turned over${how(d, say.length)}. Say whether they are a left and a right.`,
    tooCoarse: (d, say) =>
      `${d.piece}: cut ${d.count} the same way up; turned over it seems to differ by ${say.uncertain(d.unevenMm, d.sigmaMm)}, too coarse to judge ${say.length(d.limitMm)}. Measure the piece again, nearer and with more cards, or mark it as mirrored.`,
    pair: (d) => `${d.piece}: cut as a mirrored pair, singly or on the fold.`,
  },
  subjects: inShapes((entry) => outerEntries(entry.piece).map((cut) => ({ ...entry, entry: cut }))),
  judge: (subject) => [judgeCut(subject)],
});

function how(d: Data, length: (mm: number) => string): string {
  if (d.unevenMm > d.limitMm) return ` (it differs by ${length(d.unevenMm)})`;
  return d.marksAlone > 0 ? ' (its notches differ)' : '';
}

/** Shell and lining have a left and a right; what is laid behind them follows. */
function outerEntries(piece: Piece): readonly CutEntry[] {
  return piece.cut.filter(({ material }) => material === 'shell' || material === 'lining');
}

function judgeCut({ piece, shape, size, entry }: AlikeCut): Outcome<Data> {
  const subjects = [{ piece: piece.id, size }];
  const limitMm = SAME_BOTH_WAYS.valueMm;
  const sigmaMm = Math.SQRT2 * pointSigmaAround(shape);
  const about = { piece: piece.name, count: entry.count, material: entry.material, sigmaMm, limitMm };
  const isAlike = entry.count > 1 && !entry.mirrored && !entry.onFold && !isCutMirroredToo(piece, entry);
  if (!isAlike) {
    return { verdict: 'not-applicable', key: 'pair', data: { ...about, unevenMm: 0, marksAlone: 0 }, subjects };
  }
  const { outlineMm, marksAlone } = unevenness(shape, limitMm);
  const rest = {
    data: { ...about, unevenMm: outlineMm, marksAlone },
    subjects,
    measured: { value: outlineMm, sigma: sigmaMm, unit: 'mm' },
    limit: { value: limitMm, unit: 'mm', source: SAME_BOTH_WAYS.source },
  } as const;
  const decision = judgeInterval(outlineMm, sigmaMm, Number.NEGATIVE_INFINITY, limitMm);
  // On a cuff or a pocket a notch can be set from either end; on a sleeve it tells the front from the back.
  const marksMatter = marksAlone > 0 && HANDED.includes(piece.kind);
  if (decision === 'clear' && !marksMatter) return { verdict: 'clear', key: 'clear', ...rest };
  if (decision === 'unsure' && marksAlone === 0)
    return { verdict: 'unsure', reason: 'too-coarse', key: 'tooCoarse', ...rest };
  if (!HANDED.includes(piece.kind)) return { verdict: 'unsure', reason: 'not-said', key: 'layers', ...rest };
  return {
    verdict: 'fault',
    gravity: 'stop',
    key: 'twoLeft',
    ...rest,
    overlay: shape.ring.slice(0, 1).map((edge) => ({ kind: 'edge', piece: piece.id, edge: edge.id }) as const),
    remedies: [
      {
        grade: 'safe',
        sentence: `Mark ${piece.name} as cut mirrored: one half of the ${entry.count} with the paper turned over.`,
      },
    ],
  };
}

/** "1 as it lies and 1 mirrored" is a pair too. */
function isCutMirroredToo(piece: Piece, { material }: CutEntry): boolean {
  return piece.cut.some((other) => other.material === material && other.mirrored);
}

/** Pieces that dress one side of the body each. Of the others two may be an outer and an inner layer. */
const HANDED: readonly PieceKind[] = [
  'front bodice',
  'back bodice',
  'side panel',
  'sleeve',
  'top sleeve',
  'under sleeve',
  'front skirt',
  'back skirt',
  'trouser front',
  'trouser back',
];
