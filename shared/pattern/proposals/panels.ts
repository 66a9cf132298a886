// Seams between the panels of a garment: shoulders, sides, princess lines, yokes, sleeves in every cut.
import {
  bodySide,
  isBodice,
  isCollar,
  isKnownLabel,
  isPrincess,
  isSkirt,
  isSleeve,
  isTrouser,
  mayHaveFreeEdges,
} from '../kinds.ts';
import type { JoinKind, Piece, PieceKind, SeamSide } from '../model.ts';
import { type Ends, type NamedEdge, namesBeside, spanBetween, wholeEdge } from '../orientSpan.ts';
import {
  hasMouths,
  isFrontAndBack,
  isInBothLayers,
  isKind,
  isNear,
  joinFor,
  labelsOf,
  lengthOf,
  nearestInLength,
  type SeamBook,
  toward,
  writtenLabel,
} from './book.ts';

const SHOULDER_ENDS: Ends = { start: ['neck', 'collar'], end: ['armhole'] };
const SIDE_ENDS: Ends = { start: ['armhole', 'shoulder', 'waist top'], end: ['hem', 'waist'] };
/** A side of a skirt or trouser hangs from the waist and ends at the hem; a bodice side ends at the waist. */
const HANGING_ENDS: Ends = { start: ['waist'], end: ['hem'] };
const UNDERARM_ENDS: Ends = { start: ['cap', 'cap front', 'cap back', 'raglan front', 'raglan back'], end: ['hem'] };
const RAGLAN_ENDS: Ends = { start: ['neck'], end: ['side', 'underarm', 'underarm front', 'underarm back'] };
const YOKE_ENDS: Ends = { start: ['fold', 'centre back', 'opening'], end: ['armhole', 'side'] };
const FROM_UNDERARM: Ends = { start: ['side'], end: ['shoulder'] };
const TO_UNDERARM: Ends = { start: ['shoulder'], end: ['side'] };
/** A panel between two others has neither a side nor a shoulder. */
const FROM_PRINCESS: Ends = { start: ['princess', 'princess front'], end: FROM_UNDERARM.end };
const TO_PRINCESS: Ends = { start: TO_UNDERARM.start, end: ['princess', 'princess back'] };
const UNDER_PANEL: Ends = { start: ['princess back'], end: ['princess front'] };
const CAP_ENDS: Ends = { start: ['underarm', 'underarm front', 'side', 'forearm'], end: ['shoulder', 'underarm back'] };
const UNDER_CAP_ENDS: Ends = { start: ['hindarm'], end: ['forearm'] };

const FAMILIES: readonly ((kind: PieceKind) => boolean)[] = [
  isBodice,
  isSkirt,
  isTrouser,
  isCollar,
  (kind) => kind === 'facing',
];

/** Nobody eases in a fifth of an armhole: such a cap is a puff, gathered over its top. Common practice, no source. */
const CAP_GATHERED_FROM = 1.2;

export function proposeShoulders(book: SeamBook): void {
  proposePairs(book, 'shoulder', 'shoulder', SHOULDER_ENDS, 'eased');
}

/** Sides, front to back; below a yoke of a skirt or of trousers together with it. */
export function proposeSides(book: SeamBook): void {
  for (const yoke of book.free((e) => e.label === 'side' && isLowerYoke(book, e.piece))) sideWithYoke(book, yoke);
  proposePairs(book, 'side', 'side', SIDE_ENDS, 'even');
  // A sleeve cut in one with the body goes on under the arm into the side.
  proposePairs(book, 'underarm', 'underarm', SIDE_ENDS, 'even');
}

export function proposeInseams(book: SeamBook): void {
  proposePairs(book, 'inseam', 'inseam', { start: ['rise'], end: ['hem'] }, 'even');
}

/** Front to back edges of one name, within bodice, skirt, trouser, collar and facing each. */
function proposePairs(book: SeamBook, name: string, label: string, ends: Ends, join: JoinKind): void {
  for (const family of FAMILIES) {
    const free = book.free((e) => e.label === label && family(e.piece.kind) && !isCutAway(e) && !isBib(e));
    const isFirst = (e: NamedEdge) => bodySide(e.piece) === 'front';
    const isSecond = (e: NamedEdge) => bodySide(e.piece) === 'back';
    for (const [a, b] of byHand(free.filter(isFirst), free.filter(isSecond))) {
      if (book.layer === 'lining' && isInBothLayers(a.piece) && isInBothLayers(b.piece)) continue;
      const way = isSkirt(a.piece.kind) || isTrouser(a.piece.kind) ? hanging(ends) : ends;
      book.joinTwo(nameFor(name, a.piece), a, b, way, join);
    }
    // Without another back, the twin of a front is its back.
    for (const edge of free.some(isSecond) ? [] : free.filter(({ piece }) => isFrontAndBack(piece))) {
      const side: SeamSide = [wholeEdge(edge, 'forward')];
      book.propose(nameFor(name, edge.piece), side, side, join);
    }
  }
}

/** A side or a waist that ends at a slant pocket is completed by the piece under it; how far it lies under, only the maker knows. */
export function isCutAway(e: NamedEdge): boolean {
  const hangs = isTrouser(e.piece.kind) || isSkirt(e.piece.kind);
  return hangs && namesBeside(e).some((name) => /\bpocket\b/.test(name));
}

/** A bib hangs free: its sides are finished, not sewn to another. */
function isBib({ piece }: NamedEdge): boolean {
  return /\bbib\b/i.test(piece.name);
}

/** Left and right fronts of a wrap differ: each is sewn to its own half of what is cut alike for both. */
function byHand(first: readonly NamedEdge[], second: readonly NamedEdge[]): [NamedEdge, NamedEdge][] {
  const hands = [...new Set([...first, ...second].flatMap(({ piece }) => handOf(piece) ?? []))];
  if (hands.length === 0) return nearestInLength(first, second);
  return hands.flatMap((hand) => {
    const on = (e: NamedEdge) => handOf(e.piece) === hand || handOf(e.piece) === null;
    return nearestInLength(first.filter(on), second.filter(on));
  });
}

/** The side of the body of a piece that is cut once for it, by its name. */
export function handOf(piece: Piece): 'left' | 'right' | null {
  if (!isSingle(piece)) return null;
  const name = piece.name.toLowerCase();
  if (/\bleft\b/.test(name)) return 'left';
  return /\bright\b/.test(name) ? 'right' : null;
}

/** Panels to the side panel beside them, which names the edge of each or leaves it to names and lengths. */
export function proposePrincess(book: SeamBook): void {
  for (const end of ['front', 'back'] as const) {
    const onPanel = (e: NamedEdge) => e.label === `princess ${end}` || e.label === 'princess';
    const isSide = (e: NamedEdge) => e.piece.kind === 'side panel';
    const isHere = (e: NamedEdge) => bodySide(e.piece) === null || bodySide(e.piece) === end;
    const panels = book.free(
      (e) => isPrincess(e.label) && isBodice(e.piece.kind) && !isSide(e) && bodySide(e.piece) === end,
    );
    const named = book.free((e) => isSide(e) && isHere(e) && e.label === `princess ${end}`);
    const sides = named.length > 0 ? named : book.free((e) => isSide(e) && isHere(e) && onPanel(e));
    for (const [a, b] of nearestInLength(panels, sides)) book.joinTwo('princess', a, b, SIDE_ENDS, 'eased');
  }
}

/** A yoke takes the place of the upper back: shoulder to the front's, lower edge to the top of the back below it. */
export function proposeYokes(book: SeamBook): void {
  const isYoke = isKind('yoke');
  const shoulders = book.free((e) => e.label === 'shoulder' && isBodice(e.piece.kind) && !isYoke(e));
  const yokeShoulders = book.free((e) => e.label === 'shoulder' && isYoke(e));
  for (const [a, b] of nearestInLength(shoulders, yokeShoulders))
    book.joinTwo('yoke shoulder', a, b, SHOULDER_ENDS, 'even');
  const called = (e: NamedEdge, names: readonly string[]) => names.includes(writtenLabel(e));
  const isBelow = (e: NamedEdge) =>
    !isYoke(e) && (isBodice(e.piece.kind) || isTrouser(e.piece.kind) || isSkirt(e.piece.kind));
  const isUpper = (e: NamedEdge) => isBelow(e) && called(e, ['top', 'upper', 'yoke']);
  const lower = book.free((e) => isYoke(e) && called(e, ['lower', 'hem', 'yoke', 'back']));
  joinYoke(
    book,
    lower,
    book.free((e) => isUpper(e) && bodySide(e.piece) !== 'front'),
  );
  // Brought forward over the shoulder, it is sewn to the front in place of the shoulder.
  const front = book.free((e) => isYoke(e) && called(e, ['front', 'yoke front', 'front yoke', 'yoke']));
  joinYoke(
    book,
    front,
    book.free((e) => isUpper(e) && bodySide(e.piece) === 'front'),
  );
}

function joinYoke(book: SeamBook, onYoke: readonly NamedEdge[], below: readonly NamedEdge[]): void {
  for (const [a, b] of nearestInLength(onYoke, below)) {
    const isBack = bodySide(b.piece) !== 'front';
    const pleated = hasMouths([{ named: b }]) ? 'pleated' : 'even';
    if (isBack) book.propose('yoke', [toward(a, YOKE_ENDS)], [toward(b, YOKE_ENDS)], pleated);
    else book.joinTwo('yoke front', a, b, SHOULDER_ENDS, pleated);
  }
}

/** A yoke without neck, shoulder and armhole belongs to a skirt or to trousers. */
export function isLowerYoke(book: SeamBook, piece: Piece): boolean {
  return piece.kind === 'yoke' && !labelsOf(book, piece).some((label) => UPPER_BODY.includes(label));
}

const UPPER_BODY: readonly string[] = ['neck', 'shoulder', 'armhole'];

function sideWithYoke(book: SeamBook, yoke: NamedEdge): void {
  const isHanging = (e: NamedEdge) => e.label === 'side' && (isTrouser(e.piece.kind) || isSkirt(e.piece.kind));
  const below = book.free((e) => isHanging(e) && bodySide(e.piece) === bodySide(yoke.piece))[0];
  const other = book.free((e) => isHanging(e) && bodySide(e.piece) !== bodySide(yoke.piece) && !isCutAway(e))[0];
  if (below === undefined || other === undefined || !isNear(lengthOf(yoke) + lengthOf(below), lengthOf(other))) return;
  const down: Ends = { start: ['waist'], end: ['hem', 'lower', 'yoke'] };
  const first: SeamSide = [toward(other, HANGING_ENDS)];
  const second: SeamSide = [toward(yoke, down), toward(below, { start: ['yoke', 'waist'], end: ['hem'] })];
  book.propose(nameFor('side', other.piece), first, second, 'even');
}

/** The sleeve closed under the arm, and the two seams of a two-piece sleeve. */
export function proposeSleeveSeams(book: SeamBook): void {
  for (const piece of book.set.pieces.filter((p) => p.kind === 'sleeve')) {
    const under = book.free((e) => e.piece === piece && e.label.startsWith('underarm'));
    const front = under.find((e) => e.label === 'underarm front') ?? under[0];
    const back = under.find((e) => e !== front);
    if (front !== undefined && back !== undefined) book.joinTwo('sleeve underarm', front, back, UNDERARM_ENDS, 'even');
  }
  for (const label of ['hindarm', 'forearm']) {
    const free = book.free((e) => e.label === label);
    const top = free.filter(isKind('top sleeve'));
    const under = free.filter(isKind('under sleeve'));
    // The side that may be fuller comes second: the top sleeve behind, the under sleeve in front.
    const [first, second] = label === 'hindarm' ? [under, top] : [top, under];
    for (const [a, b] of nearestInLength(first, second))
      book.joinTwo(label, a, b, UNDERARM_ENDS, label === 'hindarm' ? 'eased' : 'stretched');
  }
}

/** Raglan lines of front and back, each to its own edge of the sleeve. */
export function proposeRaglans(book: SeamBook): void {
  for (const end of ['front', 'back'] as const) {
    const isRaglan = (e: NamedEdge) => e.label.startsWith('raglan');
    const body = book.free((e) => isRaglan(e) && isBodice(e.piece.kind) && bodySide(e.piece) === end);
    const sleeve = book.free((e) => isRaglan(e) && isSleeve(e.piece.kind));
    const named = sleeve.filter((e) => e.label === `raglan ${end}`);
    for (const [a, b] of nearestInLength(body, named.length > 0 ? named : sleeve))
      book.joinTwo(`raglan ${end}`, a, b, RAGLAN_ENDS, 'even');
  }
}

/** Cap to armhole, from the front underarm over the shoulder to the back underarm; once for each side that differs. */
export function proposeArmholes(book: SeamBook): void {
  const armholes = book.free((e) => e.label === 'armhole' && isBodice(e.piece.kind));
  const caps = book.free((e) => e.label.startsWith('cap') && isSleeve(e.piece.kind));
  const hands = [...new Set(armholes.flatMap(({ piece }) => handOf(piece) ?? []))];
  for (const hand of hands.length === 0 ? [null] : hands) {
    const here = armholes.filter(({ piece }) => hand === null || handOf(piece) === null || handOf(piece) === hand);
    joinArmhole(book, hand === null ? 'armhole' : `${hand} armhole`, here, caps);
  }
}

function joinArmhole(book: SeamBook, name: string, armholes: readonly NamedEdge[], caps: readonly NamedEdge[]): void {
  const under = armholes.filter((e) => e.piece.kind === 'side panel' && bodySide(e.piece) === null);
  const around = armholes.filter((e) => !under.includes(e));
  const front = outward(around.filter((e) => bodySide(e.piece) !== 'back'));
  const back = outward(around.filter((e) => bodySide(e.piece) === 'back')).toReversed();
  if (front.length === 0 || back.length === 0 || caps.length === 0) return;
  const body = [
    ...front.map((e) => spanBetween(e, FROM_UNDERARM) ?? toward(e, FROM_PRINCESS)),
    ...back.map((e) => spanBetween(e, TO_UNDERARM) ?? toward(e, TO_PRINCESS)),
    ...under.map((e) => toward(e, UNDER_PANEL)),
  ];
  const cap = chainOrder(caps).map((e) => toward(e, e.piece.kind === 'under sleeve' ? UNDER_CAP_ENDS : CAP_ENDS));
  const sum = (edges: readonly NamedEdge[]) => edges.reduce((mm, e) => mm + lengthOf(e), 0);
  const isPuffed = sum(caps) >= CAP_GATHERED_FROM * sum(armholes);
  const join = joinFor(sum(armholes), sum(caps), isPuffed ? 'gathered' : 'eased');
  if (join !== null) book.propose(name, body, book.bestChain(body, cap, armholes[0]!.size), join);
}

/** From the underarm to the shoulder: what has the side first, what has the shoulder last. */
function outward(edges: readonly NamedEdge[]): readonly NamedEdge[] {
  const rank = (e: NamedEdge) => {
    const beside = namesBeside(e);
    return (beside.includes('side') ? -1 : 0) + (beside.includes('shoulder') ? 1 : 0);
  };
  return edges.toSorted((a, b) => rank(a) - rank(b));
}

/** Front cap before back cap, top sleeve before under sleeve. */
function chainOrder(caps: readonly NamedEdge[]): readonly NamedEdge[] {
  const rank = (e: NamedEdge) => (e.label === 'cap back' || e.piece.kind === 'under sleeve' ? 1 : 0);
  return caps.toSorted((a, b) => rank(a) - rank(b));
}

/** Centre seams and rises are sewn to their own mirror image. */
export function proposeMirrors(book: SeamBook): void {
  const free = book.free((e) => (e.label.startsWith('centre') || e.label === 'rise') && !isSingle(e.piece));
  for (const edge of free) {
    if (book.layer === 'lining' && isInBothLayers(edge.piece)) continue;
    const side: SeamSide = [wholeEdge(edge, 'forward')];
    book.propose(`${edge.piece.name} ${edge.label}`, side, side, 'even');
  }
}

function hanging(ends: Ends): Ends {
  return ends === SIDE_ENDS ? HANGING_ENDS : ends;
}

function nameFor(name: string, piece: Piece): string {
  if (isBodice(piece.kind)) {
    const hand = handOf(piece);
    const plain = name === 'side' ? 'bodice side' : name;
    return hand === null ? plain : `${hand} ${plain}`;
  }
  if (isSkirt(piece.kind)) return `skirt ${name}`;
  if (isTrouser(piece.kind)) return name === 'inseam' ? name : `trouser ${name}`;
  return `${piece.kind} ${name}`;
}

/** Cut once and not on the fold: it has no mirror image to be sewn to. */
function isSingle(piece: Piece): boolean {
  return piece.cut.length > 0 && piece.cut.every((entry) => entry.count === 1 && !entry.onFold);
}

/** Says where an edge lies on its own piece, not what it is sewn to. */
const PLACE_ONLY =
  /^(|top|bottom|left|right|upper|lower|end|ends|edge|long|join|inner|outer|side|sides|face|front|back|free)( edge| end)?$|\b(inner|inside|outer|free|finished|cut|long|short) (edge|end)|\bopening\b/;

/** An edge is drawn as long as the one it is sewn to, apart from what is eased in. Common practice, no source. */
const ONE_NAME_RATIO = 1.15;

/** Two edges, and no more, that somebody has given the same name of their own are sewn to each other: "yoke seam", "overarm". */
export function proposeOneName(book: SeamBook): void {
  const free = book.free((e) => !isKnownLabel(writtenLabel(e)) && !PLACE_ONLY.test(writtenLabel(e)));
  const names = [...new Set(free.map(writtenLabel))];
  for (const name of names) {
    const all = book.edges.filter((e) => writtenLabel(e) === name);
    const [a, b, more] = all;
    if (a === undefined || b === undefined || more !== undefined || a.piece === b.piece) continue;
    if (!free.includes(a) || !free.includes(b)) continue;
    if ([a, b].every(({ piece }) => mayHaveFreeEdges(piece.kind))) continue;
    const [pair] = nearestInLength([a], [b], ONE_NAME_RATIO);
    if (pair !== undefined)
      book.joinTwo(name, ...pair, SIDE_ENDS, hasMouths(pair.map((named) => ({ named }))) ? 'pleated' : 'even');
  }
}
