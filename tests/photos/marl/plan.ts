// The plan that the demo ships: the "Marl" dress without shapes, as a class would share it. Names, cut list, edges with their
// rough lengths, seams and wanted ease; written to assets/demo/marl-plan.json.
import { documentFromModel } from '../../../shared/formats/set/convert.ts';
import type {
  CutEntry,
  EdgeSpan,
  PatternSet,
  Piece,
  PieceKind,
  PlannedNotch,
  Seam,
} from '../../../shared/pattern/model.ts';
import { pathLength } from '../cubics.ts';
import { cuttingLine } from './cutLine.ts';
import { MARL, type MarlPiece, marlPieces } from './draft.ts';

interface Naming {
  readonly name: string;
  readonly kind: PieceKind;
  readonly cut: readonly CutEntry[];
}

function cut(material: CutEntry['material'], count: number, how: 'fold' | 'pair' | 'alike'): CutEntry {
  return { material, count, onFold: how === 'fold', mirrored: how === 'pair', allowanceMm: null };
}

const NAMES: Readonly<Record<string, Naming>> = {
  'front-bodice': { name: 'Front bodice', kind: 'front bodice', cut: [cut('shell', 1, 'fold')] },
  'back-bodice': { name: 'Back bodice', kind: 'back bodice', cut: [cut('shell', 2, 'pair')] },
  sleeve: { name: 'Sleeve', kind: 'sleeve', cut: [cut('shell', 2, 'pair')] },
  'front-neckband': {
    name: 'Front neckband',
    kind: 'neckband',
    cut: [cut('shell', 1, 'fold'), cut('facing', 1, 'fold')],
  },
  'back-neckband': {
    name: 'Back neckband',
    kind: 'neckband',
    cut: [cut('shell', 2, 'pair'), cut('facing', 2, 'pair')],
  },
  'sleeve-band': { name: 'Sleeve band', kind: 'cuff', cut: [cut('shell', 2, 'alike'), cut('facing', 2, 'alike')] },
  'front-skirt': { name: 'Front skirt', kind: 'front skirt', cut: [cut('shell', 1, 'fold')] },
  'back-skirt': { name: 'Back skirt', kind: 'back skirt', cut: [cut('shell', 2, 'pair')] },
  'pocket-bag': { name: 'Pocket bag', kind: 'pocket', cut: [cut('shell', 4, 'pair')] },
};

/** What is told in the class of a length: to the half centimetre. */
const ROUGH_MM = 5;

export function edgeId(label: string): string {
  return label.replaceAll(' ', '-');
}

/** The plan as the set file's document. */
export function planText(): string {
  return `${JSON.stringify(documentFromModel(marlPlan()), null, 2)}\n`;
}

export function marlPlan(): PatternSet {
  const pieces = marlPieces('as designed').map(planPiece);
  return {
    format: 'notchwise-set/1',
    name: 'Marl M',
    displayUnits: 'mm',
    preset: { tolerance: 'home', cloth: 'woven' },
    sizes: ['S', 'M', 'L'],
    baseSize: 'M',
    pieces,
    seams: SEAMS,
    expectedPieces: pieces.map(({ name, kind, cut: entries }) => ({ name, kind, cut: entries })),
    bodies: [{ name: 'M', measuresMm: { bust: 920, waist: 760 } }],
    shots: [],
    history: [],
  };
}

function planPiece(piece: MarlPiece): Piece {
  const naming = NAMES[piece.id]!;
  const cutting = cuttingLine(piece.ring);
  return {
    id: piece.id,
    ...naming,
    grainIntent: 'straight',
    nap: 'none',
    shapes: {},
    origin: { source: 'plan', detail: '' },
    plan: {
      tracedLine: 'cutting',
      edges: piece.ring.map((edge, i) => ({
        id: edgeId(edge.label),
        label: edge.label,
        role: edge.role,
        allowanceMm: edge.allowanceMm,
        aboutMm: Math.round(pathLength(cutting[i]!) / ROUGH_MM) * ROUGH_MM,
      })),
      notches: piece.notches.map((notch, i) => plannedNotch(piece, notch, i)),
    },
  };
}

function plannedNotch(piece: MarlPiece, notch: MarlPiece['notches'][number], index: number): PlannedNotch {
  const edge = piece.ring.find((candidate) => candidate.label === notch.edge)!;
  return {
    id: `${edgeId(notch.edge)}-${index + 1}`,
    edge: edgeId(notch.edge),
    aboutRatio: Math.round((100 * notch.atMm) / pathLength(edge.seam)) / 100,
    purpose: notch.purpose,
    mate: mateOf(piece, notch),
  };
}

/** The cap's top meets the shoulder seam, a pocket notch the end of the pocket; pleats and the zip's end meet nothing. */
function mateOf(piece: MarlPiece, notch: MarlPiece['notches'][number]): PlannedNotch['mate'] {
  if (notch.purpose !== 'match') return { kind: 'none' };
  const isCapTop = piece.id === 'sleeve' && notch.atMm === MARL.capBackLow + MARL.capBackHigh;
  return { kind: isCapTop || notch.edge === 'side' ? 'seam-end' : 'unknown' };
}

function along(piece: string, label: string): EdgeSpan {
  return { piece, edge: edgeId(label), reversed: false, stretch: null };
}

function against(piece: string, label: string): EdgeSpan {
  return { ...along(piece, label), reversed: true };
}

function seam(name: string, first: readonly EdgeSpan[], second: readonly EdgeSpan[], more: Partial<Seam> = {}): Seam {
  return {
    id: name.replaceAll(' ', '-'),
    name,
    sides: [first, second],
    join: 'even',
    wantedEaseMm: null,
    wantedSectionsMm: null,
    overlapMm: 0,
    status: 'confirmed',
    ...more,
  };
}

const POCKET_FRONT = { fromMm: MARL.pocketFrom, toMm: MARL.pocketFrom + MARL.pocketOpening };
const POCKET_BACK = { fromMm: MARL.skirtSide - POCKET_FRONT.toMm, toMm: MARL.skirtSide - POCKET_FRONT.fromMm };

const SEAMS: readonly Seam[] = [
  seam('shoulder', [along('front-bodice', 'shoulder')], [against('back-bodice', 'shoulder')], {
    join: 'eased',
    wantedEaseMm: 4,
  }),
  seam('front neck', [along('front-bodice', 'neck')], [against('front-neckband', 'outer')]),
  seam('back neck', [along('back-bodice', 'neck')], [against('back-neckband', 'outer')]),
  seam('neckband shoulder', [along('front-neckband', 'shoulder')], [against('back-neckband', 'shoulder')]),
  seam('side', [along('front-bodice', 'side')], [against('back-bodice', 'side')]),
  seam('sleeve cap', [along('back-bodice', 'armhole'), along('front-bodice', 'armhole')], [along('sleeve', 'cap')], {
    join: 'eased',
    wantedEaseMm: 28,
    wantedSectionsMm: [0, 16, 12, 0],
  }),
  seam('sleeve underarm', [along('sleeve', 'underarm front')], [against('sleeve', 'underarm back')]),
  seam('sleeve band', [along('sleeve-band', 'top')], [along('sleeve', 'hem')], { join: 'pleated' }),
  seam('band ends', [along('sleeve-band', 'end front')], [against('sleeve-band', 'end back')]),
  seam('front waist', [against('front-bodice', 'waist')], [along('front-skirt', 'waist')], { join: 'pleated' }),
  seam('back waist', [along('back-bodice', 'waist')], [against('back-skirt', 'waist')]),
  seam('skirt side', [along('front-skirt', 'side')], [against('back-skirt', 'side')]),
  seam('centre back', [along('back-skirt', 'centre back')], [along('back-skirt', 'centre back')]),
  seam(
    'pocket front',
    [{ ...along('front-skirt', 'side'), stretch: POCKET_FRONT }],
    [against('pocket-bag', 'opening')],
  ),
  seam('pocket back', [{ ...along('back-skirt', 'side'), stretch: POCKET_BACK }], [along('pocket-bag', 'opening')]),
  seam('pocket bag', [along('pocket-bag', 'bag')], [along('pocket-bag', 'bag')]),
];
