// The vocabulary of edges and kinds: one spelling for each edge name, and the families of pieces that seams are found by.
import type { Piece, PieceKind } from './model.ts';

/** Edge names in one spelling; anything else stays as the person typed it, in lower case. */
const SYNONYMS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    'side seam': 'side',
    sideseam: 'side',
    outseam: 'side',
    outside: 'side',
    'outside leg': 'side',
    'shoulder seam': 'shoulder',
    neckline: 'neck',
    'neck edge': 'neck',
    armscye: 'armhole',
    'arm hole': 'armhole',
    armholes: 'armhole',
    'sleeve cap': 'cap',
    'sleeve head': 'cap',
    head: 'cap',
    crown: 'cap',
    'front cap': 'cap front',
    'back cap': 'cap back',
    'sleeve seam': 'underarm',
    'underarm seam': 'underarm',
    'front underarm': 'underarm front',
    'back underarm': 'underarm back',
    waistline: 'waist',
    'waist seam': 'waist',
    hemline: 'hem',
    cf: 'centre front',
    'center front': 'centre front',
    cb: 'centre back',
    'center back': 'centre back',
    fold: 'fold',
    'inside leg': 'inseam',
    'inside leg seam': 'inseam',
    'crotch seam': 'rise',
    crotch: 'rise',
    'crotch curve': 'rise',
    'front rise': 'rise',
    'back rise': 'rise',
    'front princess': 'princess front',
    'back princess': 'princess back',
    'princess seam': 'princess',
    'princess line': 'princess',
    'side front': 'princess front',
    'side back': 'princess back',
    'under cap': 'cap',
    undercap: 'cap',
    'top cap': 'cap',
    bottom: 'hem',
    'bottom edge': 'hem',
    wrist: 'hem',
    'wrist edge': 'hem',
    'cuff edge': 'hem',
    'sleeve hem': 'hem',
    'raglan seam': 'raglan',
    'raglan line': 'raglan',
    'front raglan': 'raglan front',
    'back raglan': 'raglan back',
    'hind arm': 'hindarm',
    'fore arm': 'forearm',
  }),
);

/** "Side seam " and "side" are the same edge. */
export function normalLabel(label: string): string {
  const plain = PLAIN.test(label)
    ? label
    : label.trim().toLowerCase().replaceAll(/[_-]+/g, ' ').replaceAll(/\s+/g, ' ');
  return SYNONYMS.get(plain) ?? plain;
}

/** Most labels are spelt so: nothing is to be changed in them. */
const PLAIN = /^[a-z]+(?: [a-z]+)*$/;

/** Names that seams are found by. */
const KNOWN: readonly string[] = [
  'shoulder',
  'neck',
  'armhole',
  'side',
  'waist',
  'hem',
  'fold',
  'centre front',
  'centre back',
  'cap',
  'cap front',
  'cap back',
  'underarm',
  'underarm front',
  'underarm back',
  'inseam',
  'rise',
  'princess',
  'princess front',
  'princess back',
  'hindarm',
  'forearm',
  'raglan',
  'raglan front',
  'raglan back',
];

/** A side panel has two: one toward the front, one toward the back. */
export function isPrincess(label: string): boolean {
  return label === 'princess' || label === 'princess front' || label === 'princess back';
}

/** True for a name of the trade; "e3" or "upper left" tells nothing about what the edge is sewn to. */
export function isKnownLabel(label: string): boolean {
  return KNOWN.includes(normalLabel(label));
}

/** True for the name of an edge that lies on the middle of the body, or of one that is left open: "CB zip", "back opening". */
export function isCentreName(label: string): boolean {
  return CENTRE_NAME.test(normalLabel(label));
}

/** What opens a pocket or lets the hand through is left open, but no garment is closed there. */
const CENTRE_NAME =
  /^(centre|cf|cb|zip|placket|opening)\b|^(?!.*\b(pocket|hand|arm)\b).*\b(zip|placket|(front|back) opening)$/;

const BODICE: readonly PieceKind[] = ['front bodice', 'back bodice', 'side panel', 'yoke'];
const SLEEVE: readonly PieceKind[] = ['sleeve', 'top sleeve', 'under sleeve'];
const COLLAR: readonly PieceKind[] = ['collar', 'stand', 'neckband'];
const BAND: readonly PieceKind[] = ['neckband', 'cuff', 'waistband'];
const SKIRT: readonly PieceKind[] = ['front skirt', 'back skirt'];
const TROUSER: readonly PieceKind[] = ['trouser front', 'trouser back'];

export const isBodice = (kind: PieceKind): boolean => BODICE.includes(kind);
export const isSleeve = (kind: PieceKind): boolean => SLEEVE.includes(kind);
export const isCollar = (kind: PieceKind): boolean => COLLAR.includes(kind);
export const isBand = (kind: PieceKind): boolean => BAND.includes(kind);
export const isSkirt = (kind: PieceKind): boolean => SKIRT.includes(kind);
export const isTrouser = (kind: PieceKind): boolean => TROUSER.includes(kind);

const FRONT: readonly PieceKind[] = ['front bodice', 'front skirt', 'trouser front'];
const BACK: readonly PieceKind[] = ['back bodice', 'back skirt', 'trouser back'];

/** Front or back of the body, from the kind and, where the kind leaves it open, from the name. */
export function bodySide(piece: Pick<Piece, 'kind' | 'name'>): 'front' | 'back' | null {
  if (FRONT.includes(piece.kind)) return 'front';
  if (BACK.includes(piece.kind)) return 'back';
  const name = piece.name.toLowerCase();
  if (/\bfront\b/.test(name)) return 'front';
  if (/\bback\b/.test(name)) return 'back';
  return null;
}

/** Names of edges that join the parts of a garment; what is left of a piece in two layers is finished by the other layer. */
const PANEL_EDGES: readonly string[] = KNOWN.filter((name) => !['neck', 'armhole', 'hem'].includes(name));

/** An edge that a second layer or a facing finishes: neck, armhole, hem, or one that is no seam of the trade by its name. */
export function isFinishedEdge(label: string): boolean {
  return !PANEL_EDGES.includes(normalLabel(label));
}

/** Pieces whose outer edges are finished, faced, bound or placed and so need no partner. */
export function mayHaveFreeEdges(kind: PieceKind): boolean {
  return kind === 'facing' || kind === 'pocket' || kind === 'other';
}
